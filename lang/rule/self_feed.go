package rule

// Inverter/chargers that feed themselves.

import (
	"fmt"

	"strake/lang/circuit"
	"strake/lang/diag"
)

var feedsItself = Rule{diag.Info{Rule: "inverter-feeds-itself", Severity: diag.Fault,
	Title:  "an inverter/charger whose input hangs on what its output feeds",
	Why:    "It takes what it makes for shore power, lets it through to itself and charges its bank from its bank: the relay chatters, and the bank empties. Its input is fed from ahead of its output, from shore and generator alone.",
	Source: "common practice, in line with inverter makers' manuals",
	Bad:    fedBack("AC1"),
	Good:   fedBack("R1.out"),
}, func(p *pass) {
	usual := p.withOpen(func(it *circuit.Item) bool { return it.Facts.UsualOff || p.interlocked(it) })
	usual.Position = map[*circuit.Item]string{}
	for _, it := range p.Items {
		if it.Kind == "changeover" && it.Facts.Usually != "" {
			usual.Position[it] = it.Facts.Usually
		}
	}
	p.items(func(it *circuit.Item) {
		if it.Kind != "inverter-charger" {
			return
		}
		severity, when := p.rule.Severity, ""
		if !p.backToInput(it, usual) {
			if severity, when = diag.Advice, ", in another position than the usual one"; !p.backToInput(it, p.view) {
				p.ok(it.Ref)
				return
			}
		}
		p.failAs(severity, it.Ref, diag.Finding{Message: fmt.Sprintf("the input of %s is fed by what its own output feeds%s", called(it), when), Span: it.RefSpan, Related: p.feeders(it),
			Cure: fmt.Sprintf("feed %s.in from ahead of what %s.out feeds, or put the contact of a relay before it that opens without shore power", it.Ref, it.Ref)})
	})
}}

// backToInput tells whether what leaves an inverter/charger gets to its input, what
// batteries alone do not hold closed left open.
func (p *pass) backToInput(it *circuit.Item, view circuit.View) bool {
	view = opened(view, p.those(func(o *circuit.Item) bool {
		return o == it || o.Nature().Converts && o.Kind != "transformer" || p.parted(o, view)
	}))
	for _, t := range terminals(it) {
		if circuit.IsOutput(t.Port) && p.net.Leads(t, view, func(to circuit.Terminal) bool { return to.Item == it && circuit.IsInput(to.Port) }) {
			return true
		}
	}
	return false
}

// fedBack is a small boat with an inverter/charger whose input hangs somewhere.
func fedBack(at string) string {
	return header + `domain mains: ac 230 V, 50 Hz
run battery B1 in house at locker: agm, 12 V, 200 Ah, resistance 4 mohm, terminals 105 degC [0.1 m 50 mm2] fuse F1 at locker: class t, 125 V, breaks 20 kA, 160 A [0.1 m 50 mm2] isolator Q1 at locker: 200 A, 32 V, 1 pole, load-break [0.2 m 50 mm2] bus PB in house at locker: 250 A
run PB [link] fuse F2 at locker: class t, 125 V, breaks 20 kA, 100 A [1 m 35 mm2] INV1.dc
inverter-charger INV1 at locker: 800 VA, charge 10 A, transfer 16 A, isolated, neutral earthed when inverting
run INV1.out [0.4 m 3G2.5] rcbo R2 at locker: 6 A, 30 mA, 2 pole, type a, curve c, breaks 6 kA [1 m 3G2.5] CO1.inverter
run inlet SH1 in mains at locker: 16 A [0.4 m 3G2.5] rcbo R1 at locker: 16 A, 30 mA, 2 pole, type a, curve c, breaks 6 kA [1 m 3G2.5] CO1.shore
changeover CO1 at locker: 16 A, 230 V, 2 pole, break before make
run CO1.out [1 m 3G2.5] bus AC1 in mains at locker: 16 A
run AC1 [1 m 3G2.5] socket X1 at locker: 1 A
run ` + at + ` [1 m 3G2.5] INV1.in
earth E1 at locker
bond SH1 [1 m 6 mm2] E1
bond INV1 [1 m 16 mm2] E1
`
}
