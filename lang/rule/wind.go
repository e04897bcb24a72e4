package rule

// What turns and charges without a regulator: wind and water.

import (
	"strake/lang/circuit"
	"strake/lang/diag"
)

var sourceUnregulated = Rule{diag.Info{Rule: "source-unregulated", Severity: diag.NotVerified,
	Title:  "a wind or water generator straight on a battery",
	Why:    "It gives whatever the wind does, also into a battery that is full: the voltage rises until lead boils dry, and what else hangs on the bar gets it too. Cut off from its battery it races. A regulator lies between, or something stops or brakes it. That of a lithium bank is `charge-not-stopped`.",
	Source: "common practice",
	Bad:    windOnLead(""),
	Good:   windOnLead("relay KW1 at locker\nsignal KW1 [1 m] stops WG1\n"),
}, func(p *pass) {
	p.items(func(it *circuit.Item) {
		d := powerDomain(it)
		if it.Kind != "source" || d == nil || d.AC {
			return
		}
		switch fed := p.charged(terminals(it), false); {
		case fed == nil:
		case p.braked(it):
			p.ok(it.Ref)
		default:
			p.unverified(it.Ref, diag.Finding{Span: it.RefSpan, Items: []string{fed.Ref}, Related: p.where([]*circuit.Item{fed}),
				Missing: "what keeps " + it.Ref + " from charging " + fed.Ref + " when it is full",
				Cure:    "write the `regulator` between them, or what stops or brakes it, such as `signal KW1 [2 m] stops " + it.Ref + "`"})
		}
	})
}}

// windOnLead is a wind generator on a lead battery, with more.
func windOnLead(more string) string {
	return goodFeeder + "source WG1 in house at locker: 120 W, 10 A, short-circuit 20 A\nrun WG1 [0.1 m 6 mm2] fuse F2 at locker: class t, 125 V, breaks 20 kA, 20 A [2 m 6 mm2] fuse F3 at locker: class t, 125 V, breaks 20 kA, 20 A [0.1 m 6 mm2] Q1.out\n" + more
}
