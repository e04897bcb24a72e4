package rule

// Insulation monitors that a switch makes blind.

import (
	"fmt"
	"slices"

	"strake/lang/circuit"
	"strake/lang/diag"
)

var monitorBlind = Rule{diag.Info{Rule: "insulation-monitor-blind", Severity: diag.Fault,
	Title:  "an insulation monitor that one open switch parts from what stays live",
	Why:    "Behind the isolator or the contactor of one motor it watches only while that one is closed: with it open, the battery and all else go on without a monitor, and nobody sees that. It hangs on the bar that is live whenever anything is. The switch of the whole bank leaves nothing behind that needs a monitor.",
	Source: "IEC 61557-8 and IEC 60364-5-53 538, from memory, verify against the standard",
	Bad:    watched("Q2.out"),
	Good:   watched("PB"),
}, func(p *pass) {
	usual := p.withOpen(func(it *circuit.Item) bool { return it.Facts.UsualOff })
	for _, d := range p.Domains {
		if d.AC || !d.Insulated {
			continue
		}
		if bare, _ := p.unwatched(d); bare != nil {
			continue // told as without any
		}
		p.items(func(it *circuit.Item) {
			at := circuit.Terminal{Item: it}
			if it.Kind != "insulation-monitor" || powerDomain(it) != d || len(p.net.Cables(at)) == 0 {
				return
			}
			for _, o := range p.Items {
				if o.Facts.UsualOff && o.Status.In(p.configuration) && p.losesBy(at, map[*circuit.Item]bool{o: true}) && p.unwatchedIn(usual, d) != nil {
					p.fail(it.Ref, diag.Finding{Message: fmt.Sprintf("%s hangs behind %s, which is usually off", called(it), called(o)), Span: it.RefSpan,
						Items: []string{o.Ref}, Related: p.where([]*circuit.Item{o}), Cure: "leave it closed, or run the monitor from a bar that is live whenever anything is"})
					return
				}
				if o.Kind != "isolator" && o.Kind != "contactor" && o.Kind != "switch" || !o.Status.In(p.configuration) || !p.losesBy(at, map[*circuit.Item]bool{o: true}) {
					continue
				}
				if load := p.unwatchedIn(p.without(o), d); load != nil {
					p.fail(it.Ref, diag.Finding{Message: fmt.Sprintf("%s is blind while %s is open, and %s stays live", called(it), called(o), called(load)), Span: it.RefSpan,
						Items: []string{o.Ref}, Related: p.where([]*circuit.Item{o, load}), Cure: "run it through its fuse from the bar ahead of that switch"})
					return
				}
			}
			p.ok(it.Ref)
		})
	}
}}

// unwatchedIn is a load of a domain that a battery feeds in a view, and whose network
// no monitor hangs on then; nil where there is none.
func (p *pass) unwatchedIn(view circuit.View, d *circuit.Domain) *circuit.Item {
	for _, it := range p.Items {
		n := it.Nature()
		if !n.Load && !n.Converts || !it.Status.In(p.configuration) || it.Broken {
			continue
		}
		for _, t := range terminals(it) {
			if circuit.IsControl(t.Port) || circuit.IsOutput(t.Port) || it.PortDomain(t.Port) != d || !p.batteryAt(t, view) {
				continue
			}
			up := p.net.Origin([]circuit.Terminal{t}, view)
			if !slices.ContainsFunc(append(p.net.Reach(up, view), up...), func(r circuit.Terminal) bool { return r.Item.Kind == "insulation-monitor" }) {
				return it
			}
		}
	}
	return nil
}

// watched is an insulated boat whose monitor hangs on a terminal.
func watched(at string) string {
	return insulated + `battery B1 in house at locker: agm, 12 V, 75 Ah, resistance 6 mohm, terminals 105 degC
run B1 [0.1 m 25 mm2] fuse F1 at locker: class t, 125 V, breaks 20 kA, 80 A, 2 pole [0.1 m 25 mm2] isolator Q1 at locker: 100 A, 32 V, 2 pole, load-break [0.2 m 25 mm2] bus PB in house at locker: 100 A
run PB [2 m 25 mm2] pump P1 at locker: 60 W
run PB [0.2 m 25 mm2] isolator Q2 at locker: 100 A, 32 V, 2 pole, load-break [2 m 25 mm2] load L1 at locker: 100 W
run ` + at + ` [0.1 m 1.5 mm2] fuse F2 at locker: class t, 125 V, breaks 20 kA, 3 A, 2 pole [0.5 m 1.5 mm2] insulation-monitor IM1 at locker
`
}
