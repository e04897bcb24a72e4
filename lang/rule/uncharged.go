package rule

// Banks that nothing charges.

import (
	"fmt"
	"slices"

	"strake/lang/circuit"
	"strake/lang/diag"
)

var bankUncharged = Rule{diag.Info{Rule: "bank-not-charged", Severity: diag.Advice,
	Title:  "a battery that nothing aboard charges",
	Why:    "Other batteries of the craft are charged from ashore, by an engine or by the sun; one without a charger, a converter or a relay between goes flat one day, and nobody sees it coming. Where a bilge pump, a navigation light or what is critical hangs on it alone, that is a fault. One that is charged ashore has the inlet written through which it is.",
	Source: "common practice",
	Bad:    reserved(""),
	Good:   reserved("run PB1 [0.1 m 4 mm2] fuse F5 at locker: class t, 125 V, breaks 20 kA, 10 A [1 m 4 mm2] charger CH2 at locker: 12 V, 5 A, input 8 A, isolated, one way [1 m 4 mm2] fuse F6 at locker: class t, 125 V, breaks 20 kA, 10 A [0.1 m 4 mm2] PB2\n"),
}, func(p *pass) {
	if !slices.ContainsFunc(p.Items, gives) {
		return // a craft, or a sketch of one, without any source but its batteries
	}
	p.items(func(it *circuit.Item) {
		if !it.Nature().Stores || it.MemberOf != nil || p.mislinked(it) {
			return
		}
		from := p.net.Origin(terminals(it), p.view)
		if len(p.net.Cables(circuit.Terminal{Item: it})) == 0 {
			return // told as what is not connected
		}
		if slices.ContainsFunc(from, charges) || slices.ContainsFunc(p.net.Reach(terminals(it), p.view), func(t circuit.Terminal) bool {
			return t.Item.Kind == "inverter-charger" && t.Port == "dc" || t.Item.Kind == "converter" && t.Item.Facts.BothWays
		}) {
			p.ok(it.Ref)
			return
		}
		severity, serves := diag.Advice, ""
		for _, t := range p.net.Reach(terminals(it), p.view) {
			if o := t.Item; o.Facts.Essential() && !circuit.IsControl(t.Port) && serves == "" && p.onThisAlone(o, it) {
				severity, serves = diag.Fault, ", and "+called(o)+" hangs on it"
			}
		}
		p.failAs(severity, it.Ref, diag.Finding{Message: fmt.Sprintf("nothing charges %s%s", called(it), serves), Span: it.RefSpan,
			Cure: "write what charges it: a charger, or a converter or a charging relay from a bank that is charged"})
	})
}}

// gives tells a source that is no battery, whatever its status.
func gives(it *circuit.Item) bool {
	n := it.Nature()
	return n.Source && !n.Stores && !it.Broken
}

// charges tells the terminal of what charges a battery that it reaches.
func charges(t circuit.Terminal) bool {
	n, d := t.Item.Nature(), t.Item.PortDomain(t.Port)
	if d != nil && d.AC || circuit.IsControl(t.Port) {
		return false
	}
	return n.Source && !n.Stores || n.Converts && chargePort(t.Item, t.Port)
}

// onThisAlone tells whether an item has no feed but from one battery.
func (p *pass) onThisAlone(it, battery *circuit.Item) bool {
	for _, t := range terminals(it) {
		for _, s := range p.net.Supplies(t, p.view) {
			if s.Item != battery && s.Item.TopBank() != battery && s.Item != it {
				return false
			}
		}
	}
	return true
}

// reserved is a boat with shore power and a second battery, and what charges that.
func reserved(more string) string {
	return header + `domain mains: ac 230 V, 50 Hz
battery B1..B2 in house at locker: agm, 12 V, 75 Ah, resistance 6 mohm, charge 15 A, terminals 105 degC
run B1..B2 [0.1 m 25 mm2] fuse F1..F2 at locker: class t, 125 V, breaks 20 kA, 60 A [0.1 m 25 mm2] isolator Q1..Q2 at locker: 100 A, 32 V, 1 pole, load-break [0.2 m 25 mm2] bus PB1..PB2 in house at locker: 100 A
run inlet SH1 in mains at locker: 16 A [0.4 m 3G2.5] rcbo R1 at locker: 16 A, 30 mA, 2 pole, type a [1 m 3G2.5] charger CH1 at locker: 12 V, 8 A, isolated [1 m 4 mm2] fuse F4 at locker: class t, 125 V, breaks 20 kA, 10 A [0.1 m 4 mm2] PB1
run PB2 [0.1 m 6 mm2] fuse F3 at locker: class t, 125 V, breaks 20 kA, 15 A [2 m 6 mm2] load L1 at locker: 60 W
earth E1 at locker
bond SH1 [1 m 6 mm2] E1
` + more
}
