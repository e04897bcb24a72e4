package rule

// What a battery cannot deliver at all.

import (
	"fmt"

	"strake/lang/diag"
	"strake/lang/size"
)

var powerNotDelivered = Rule{diag.Info{Rule: "power-not-delivered", Severity: diag.Fault,
	Title:  "more power than the way from the battery delivers",
	Why:    "A constant power takes more current the lower its voltage is. Beyond a quarter of the open voltage squared over the resistance of battery and cables there is no voltage at which it runs: it shuts down, or everything on the battery does. Where what asks is critical, it is a danger.",
	Source: "power transfer, U²/4R; common practice",
	Bad:    "craft \"Small boat\" {\n    cable class 5, tinned, 105 degC, free\n}\ndomain house: dc 12 V, 10.5 V to 14.6 V\nplace locker: 40 degC\nrun battery B1 in house at locker: lfp, 12.8 V, 100 Ah, resistance 50 mohm, discharge 100 A, charge 50 A [0.1 m 35 mm2] fuse F1: class t, 125 V, breaks 20 kA, 100 A [0.1 m 35 mm2] isolator Q1: 150 A, 32 V, 1 pole, load-break [0.5 m 35 mm2] load L1 at locker: 900 W\n",
	Good:   "craft \"Small boat\" {\n    cable class 5, tinned, 105 degC, free\n}\ndomain house: dc 12 V, 10.5 V to 14.6 V\nplace locker: 40 degC\nrun battery B1 in house at locker: lfp, 12.8 V, 100 Ah, resistance 5 mohm, discharge 100 A, charge 50 A [0.1 m 35 mm2] fuse F1: class t, 125 V, breaks 20 kA, 100 A [0.1 m 35 mm2] isolator Q1: 150 A, 32 V, 1 pole, load-break [0.5 m 35 mm2] load L1 at locker: 900 W\n",
}, func(p *pass) {
	refused := size.Refused(p.System, p.plan, p.solutions)
	if len(refused) == 0 {
		p.ok("craft")
	}
	for _, s := range refused {
		for _, l := range s.Limits {
			it := l.Of.Item
			severity := p.rule.Severity
			if it.Facts.Essential() {
				severity = diag.Danger
			}
			p.failAs(severity, it.Ref, diag.Finding{Message: fmt.Sprintf("%s asks for %s (%s), and the way to it delivers %s at most", called(it), l.Asks, s.Name, l.Limit),
				Span: it.RefSpan, Cure: "fit a battery of lower resistance or more of them, thicker cable, or a smaller load"})
		}
		if len(s.Limits) == 0 && len(s.Takers) > 0 {
			it := s.Takers[0].Of.Item
			p.fail(it.Ref, diag.Finding{Message: fmt.Sprintf("%s: %s", s.Name, s.Refused), Span: it.RefSpan,
				Cure: "fit a battery of lower resistance or more of them, thicker cable, or say by conditions what never runs together"})
		}
	}
}}
