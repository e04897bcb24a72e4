package rule

// Interlocks and what enforces them.

import (
	"fmt"

	"strake/lang/circuit"
	"strake/lang/diag"
)

var interlockNotEnforced = Rule{diag.Info{Rule: "interlock-not-enforced", Severity: diag.NotVerified,
	Title:  "an interlock by something that is not wired to enforce it",
	Why:    "A relay that is only named holds nothing off. Its contact stands in the feed of one of the two or of its coil, or a signal of it reaches one of them; until that is written the interlock counts as a habit, and everything is reckoned as running together.",
	Source: "common practice",
	Bad:    interlocked(""),
	Good:   interlocked("signal KR1 [1 m] stops DB1.1.load\nsignal DB1.2 [1 m] controls KR1\n"),
}, func(p *pass) {
	for _, l := range p.Interlocks {
		if l.By == nil || l.By.Broken {
			continue
		}
		if l.Enforced {
			p.ok(l.By.Ref)
			continue
		}
		p.unverified(l.By.Ref, diag.Finding{Span: l.Span, Related: p.where([]*circuit.Item{l.By}),
			Missing: fmt.Sprintf("how %s enforces the interlock of %s with %s", l.By.Ref, names(l.First), names(l.Second)),
			Cure:    fmt.Sprintf("take the feed of one of them through a contact of %s, or write its signal, such as `signal %s [2 m] stops %s`", l.By.Ref, l.By.Ref, l.First[0].Ref)})
	}
}}

// interlocked is a board with two loads that a relay keeps apart, with more.
func interlocked(more string) string {
	return boardBoat + `    way 1 10 A "Heater" load at locker: 60 W [4 m 6 mm2]
    way 2 10 A "Blower" load at locker: 60 W [4 m 6 mm2]
}
relay KR1 at locker: 16 A, 32 V
interlock DB1.1.load never with DB1.2.load by KR1
` + more
}
