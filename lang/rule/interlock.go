package rule

// Interlocks and what enforces them.

import (
	"fmt"

	"strake/lang/circuit"
	"strake/lang/diag"
)

var interlockNotEnforced = Rule{diag.Info{Rule: "interlock-not-enforced", Severity: diag.NotVerified,
	Title:  "an interlock by something that is not wired to enforce it",
	Why:    "A relay that is only named holds nothing off, nor does the contactor of one of the two that knows nothing of the other. What enforces an interlock opens the feed or the coil of one, or a signal of it reaches it; and it is told when the other runs, by a signal of that or of what feeds it, or by its own coil. A changeover that both pass, or a controller that commands both, does as well. Until that is written the interlock counts as a habit, and everything is reckoned as running together.",
	Source: "common practice",
	Bad:    interlocked("signal KR1 [1 m] stops DB1.1.load\n"),
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
		by := l.By.Ref
		f := diag.Finding{Span: l.Span, Related: p.where([]*circuit.Item{l.By}),
			Missing: fmt.Sprintf("how %s enforces the interlock of %s with %s", by, names(l.First), names(l.Second)),
			Cure:    fmt.Sprintf("take the feed of one of them through a contact of %s, or write its signal, such as `signal %s [2 m] stops %s`; and write what tells it of the other", by, by, l.First[0].Ref)}
		on, other := l.First, l.Second
		if !p.net.ActsOn(l.By, on) {
			on, other = other, on
		}
		if p.net.ActsOn(l.By, on) {
			f.Missing = fmt.Sprintf("how %s, which acts on %s, is told when %s %s", by, names(on), names(other), verb(other, "runs"))
			f.Cure = fmt.Sprintf("write what tells it, such as `signal %s [2 m] opens %s`, or hang its coil on what feeds %s", other[0].Ref, by, other[0].Ref)
		}
		p.unverified(by, f)
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

var essentialWaits = Rule{diag.Info{Rule: "essential-waits-for-another", Severity: diag.Fault,
	Title:  "a bilge pump, light or radio that runs only with something else",
	Why:    "Water comes in and lights are due whatever else runs. What must run by itself waits for nothing; turn the interlock round, so that the other waits for it.",
	Source: "ISO 8849 and ISO 13297:2020, from memory, verify against the standard",
	Bad:    interlocked("") + "run DB1.3 [4 m 4 mm2] lamp LA1 at locker: 10 W, navigation\ninterlock LA1 only with DB1.1.load\n",
	Good:   interlocked("") + "run DB1.3 [4 m 4 mm2] lamp LA1 at locker: 10 W, navigation\n",
}, func(p *pass) {
	for _, l := range p.Interlocks {
		for _, it := range l.First {
			switch {
			case !(mustShine(it) || it.Facts.MustBeLive || it.Facts.Bilge) || !p.fed(it):
			case l.Only:
				p.fail(it.Ref, diag.Finding{Message: fmt.Sprintf("%s runs only with %s", called(it), names(l.Second)), Span: l.Span,
					Related: p.where([]*circuit.Item{it}), Cure: "take the interlock out, or turn it round"})
			default:
				p.ok(it.Ref)
			}
		}
	}
}}
