package rule

// What a battery is made of, on which its other checks hang.

import (
	"strake/lang/circuit"
	"strake/lang/diag"
)

var chemistryNotSaid = Rule{diag.Info{Rule: "chemistry-not-said", Severity: diag.NotVerified,
	Title:  "a battery of which nobody says what it is made of",
	Why:    "Vented lead needs air, lithium must not get hot, opens itself when it is full, empty or cold, and takes all that an alternator gives; what charges one ruins the other. None of that can be checked of a battery whose chemistry is not written.",
	Source: "common practice",
	Bad:    header + "run battery B1 in house at locker: 12 V, 75 Ah, resistance 6 mohm, terminals 105 degC [0.1 m 25 mm2] fuse F1 at locker: class t, 125 V, breaks 20 kA, 80 A [0.1 m 25 mm2] isolator Q1 at locker: 100 A, 32 V, 1 pole, load-break [2 m 25 mm2] pump P1 at locker: 60 W\n",
	Good:   goodFeeder,
}, func(p *pass) {
	p.items(func(it *circuit.Item) {
		if it.Kind != "battery" {
			return
		}
		if chemistry(it) != "" || it.MemberOf != nil && chemistry(it.TopBank()) != "" {
			p.ok(it.Ref)
			return
		}
		p.unverified(it.Ref, diag.Finding{Span: it.RefSpan, Missing: "the chemistry of " + it.Ref, Cure: "write `lfp`, `agm`, `gel` or `flooded` in its head; of another kind these checks know nothing"})
	})
}}
