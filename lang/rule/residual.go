package rule

// Residual current devices behind one another.

import (
	"fmt"
	"strings"

	"strake/lang/circuit"
	"strake/lang/diag"
)

var residualInSeries = Rule{diag.Info{Rule: "residual-devices-in-series", Severity: diag.Advice,
	Title:  "two residual current devices in line of which either may open",
	Why:    "Of one sensitivity and without a delay, the one near the source may open for a fault behind the other, and everything goes dark. What an inverter/charger lets through is exempt: behind it stands a source of its own. A device of type AC or A before one of type B is a fault: the direct current that the second is there for makes the first one blind.",
	Source: "IEC 60364-5-53 and IEC 60755, from memory, verify against the standard",
	Bad:    mains("rcbo R1 at locker: 16 A, 30 mA, 2 pole, type a [0.5 m 3G2.5] rcd R2 at locker: 25 A, 30 mA, 2 pole, type a"),
	Good:   mains("rcbo R1 at locker: 16 A, 30 mA, 2 pole, type a"),
}, func(p *pass) {
	var all []*circuit.Item
	p.items(func(it *circuit.Item) {
		if it.Nature().Residual {
			all = append(all, it)
		}
	})
	for _, it := range all {
		found := false
		for _, up := range all {
			if up == it {
				continue
			}
			blind := it.Facts.RCDType == "b" && (up.Facts.RCDType == "ac" || up.Facts.RCDType == "a" || up.Facts.RCDType == "f")
			alike := it.Facts.Trip.Known() && up.Facts.Trip.Known() && it.Facts.Trip.Value >= up.Facts.Trip.Value
			switch {
			case blind && p.cutsOffFrom(up, it, false):
				found = true
				p.failAs(diag.Fault, it.Ref, diag.Finding{Message: fmt.Sprintf("%s is of type B, and %s before it of type %s, which direct current makes blind", called(it), called(up), strings.ToUpper(up.Facts.RCDType)),
					Span: it.RefSpan, Related: p.where([]*circuit.Item{up}), Items: []string{up.Ref}, Cure: "fit type B before it too, or take its circuit from before the other device"})
			case alike && p.cutsOffFrom(up, it, true):
				found = true
				p.fail(it.Ref, diag.Finding{Message: fmt.Sprintf("%s of %s and %s of %s before it may open for one another", called(it), it.Facts.Trip.Value, called(up), up.Facts.Trip.Value),
					Span: it.RefSpan, Related: p.where([]*circuit.Item{up}), Items: []string{up.Ref}, Cure: "leave it if either may open; else fit a plain breaker in one of the two places, or a delayed device before"})
			}
		}
		if !found {
			p.ok(it.Ref)
		}
	}
}}

// cutsOffFrom tells whether a device, when it opens, takes some source away from
// another one behind it. Relays of inverter-chargers are open where asked.
func (p *pass) cutsOffFrom(up, it *circuit.Item, relaysOpen bool) bool {
	view, open := p.view, p.view
	view.Open, open.Open = map[*circuit.Item]bool{it: true}, map[*circuit.Item]bool{it: true, up: true}
	for _, o := range p.Items {
		if relaysOpen && o.Kind == "inverter-charger" {
			view.Open[o], open.Open[o] = true, true
		}
	}
	at := circuit.Terminal{Item: it, Port: "in"}
	return len(p.net.Supplies(at, open)) < len(p.net.Supplies(at, view))
}
