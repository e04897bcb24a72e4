package rule

import (
	"fmt"

	"strake/lang/circuit"
	"strake/lang/diag"
)

var domainNotKnown = Rule{diag.Info{Rule: "domain-not-known", Severity: diag.NotVerified,
	Title:  "a thing of which no voltage domain is known",
	Why:    "Without its domain nothing is checked of its voltage, its poles or its protection. A domain follows cables through everything that does not convert.",
	Source: "common practice",
	Bad:    header + "run battery B1 at locker: agm, 12 V, 75 Ah, resistance 6 mohm, terminals 105 degC [0.1 m 25 mm2] fuse F1 at locker: class t, 125 V, breaks 20 kA, 80 A [0.1 m 25 mm2] isolator Q1 at locker: 100 A, 32 V, 1 pole, load-break [2 m 25 mm2] pump P1 at locker: 60 W\n",
	Good:   goodFeeder,
}, func(p *pass) {
	told := map[circuit.Terminal]bool{} // one message for what hangs together
	for _, strict := range []bool{true, false} {
		p.items(func(it *circuit.Item) { // what feeds first: it is there that the domain is missing
			n := it.Nature()
			if it.MemberOf != nil || it.Kind == "earth" || strict != (n.Source || n.Converts) {
				return
			}
			for _, t := range terminals(it) {
				if told[t] || circuit.IsControl(t.Port) || it.PortDomain(t.Port) != nil || len(p.net.Cables(t)) == 0 || p.onlyArrays(t) {
					continue
				}
				for _, set := range [][]circuit.Terminal{p.net.Reach([]circuit.Terminal{t}, p.view), p.net.Origin([]circuit.Terminal{t}, p.view)} {
					for _, r := range set {
						told[r] = true
					}
				}
				p.unverified(it.Ref, diag.Finding{Span: it.RefSpan,
					Missing: fmt.Sprintf("the domain in which %s lies", t.String()), Cure: "write `in DOMAIN` on " + it.Ref + " or on something that its cables lead to"})
			}
		})
	}
}}

// onlyArrays tells the conductors between solar modules and their regulator,
// whose voltage is the array's own.
func (p *pass) onlyArrays(t circuit.Terminal) bool {
	supplies := p.net.Supplies(t, p.view)
	for _, s := range supplies {
		if s.Item.Kind != "array" {
			return false
		}
	}
	return len(supplies) > 0
}
