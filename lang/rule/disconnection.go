package rule

// Disconnection of a fault to earth where no residual current device does it.

import (
	"fmt"

	"strake/lang/circuit"
	"strake/lang/diag"
	"strake/lang/quantity"
)

var loopTooHigh = Rule{diag.Info{Rule: "loop-impedance-too-high", Severity: diag.Danger,
	Title:  "a fault to a transformer's case that nothing cuts off in time",
	Why:    "Before an isolation transformer no residual current device is asked for. Without one only the breaker cuts off a fault to its case, within 0.4 s, and only if the loop through the shore's supply and the protective conductor is low enough. A generator or an inverter never gives so much: there a residual current device must do it.",
	Source: "IEC 60364-4-41 table 41.1 and 411.4.4, from memory, verify against the standard",
	Bad:    transforming("breaker R1 at locker: 16 A, 2 pole, curve c, breaks 6 kA", "16 A, short-circuit 150 A"),
	Good:   transforming("rcbo R1 at locker: 16 A, 30 mA, 2 pole, curve d, type a, breaks 6 kA", "16 A"),
}, func(p *pass) {
	p.items(func(it *circuit.Item) {
		in := circuit.Terminal{Item: it, Port: "in"}
		d := it.PortDomain("in")
		if it.Kind != "transformer" || d == nil || !d.AC || len(p.net.Supplies(in, p.view)) == 0 {
			return
		}
		supplies := p.net.Supplies(in, p.withOpen(residual))
		if len(supplies) == 0 {
			p.ok(it.Ref) // a residual current device stands before it
			return
		}
		for _, dev := range p.lastDevices(in) {
			row := p.deviceOf[dev]
			switch {
			case row == nil || !row.Loop.Known:
				p.unverified(it.Ref, diag.Finding{Span: it.RefSpan, Items: []string{dev.Ref}, Missing: fmt.Sprintf("the loop impedance with which %s opens at once for a fault to the case of %s", dev.Ref, it.Ref),
					Cure: "put an rcbo before it"})
			case supplies[0].Item.Kind != "inlet":
				p.fail(it.Ref, diag.Finding{Message: fmt.Sprintf("a fault to the case of %s is fed by %s, which limits itself, and no residual current device stands between", called(it), called(supplies[0].Item)),
					Span: it.RefSpan, Items: []string{dev.Ref, supplies[0].Item.Ref}, Cure: "put an rcbo before it"})
			case !supplies[0].Item.Facts.ShortCircuit.Known():
				p.unverified(it.Ref, diag.Finding{Span: it.RefSpan, Items: []string{dev.Ref},
					Missing: fmt.Sprintf("the short-circuit current of %s, from which the loop follows; %s at most opens %s", supplies[0].Item.Ref, row.Loop.Value, dev.Ref), Cure: "put an rcbo before it, or measure it and write `short-circuit 500 A` on the inlet"})
			default:
				p.holdLoop(it, dev, supplies[0].Item, row.Loop.Value)
			}
		}
	})
}}

// holdLoop holds the loop from a shore inlet to a transformer's case against the
// most with which its breaker opens at once.
func (p *pass) holdLoop(it, dev, inlet *circuit.Item, most quantity.Ohm) {
	d := it.PortDomain("in")
	loop := float64(d.Nominal.Value) / float64(inlet.Facts.ShortCircuit.Least())
	for _, st := range p.net.Path(circuit.Terminal{Item: inlet}, circuit.Terminal{Item: it, Port: "in"}, p.view) {
		if st.Cable == nil || st.Cable.Link {
			continue
		}
		c := p.cableOf[st.Cable]
		if c == nil || !c.Resistance.Known {
			p.unverified(it.Ref, diag.Finding{Span: st.Cable.Span, Items: []string{st.Cable.ID}, Missing: "the length and size of the cable " + st.Cable.ID})
			return
		}
		loop += float64(c.Resistance.Value) // out, and back through the protective conductor
	}
	if loop <= float64(most) {
		p.ok(it.Ref)
		return
	}
	p.fail(it.Ref, diag.Finding{Message: fmt.Sprintf("the loop to the case of %s has %s; %s opens at once up to %s", called(it), quantity.Ohm(loop), dev.Ref, most),
		Span: it.RefSpan, Items: []string{dev.Ref, inlet.Ref}, Cure: "put an rcbo before it"})
}

// transforming is a shore supply through a transformer to one socket.
func transforming(first, inlet string) string {
	return `craft "Small boat" {
    hull wood
    cable class 5, tinned, 105 degC, free
}
domain shore: ac 230 V, 50 Hz
domain mains: ac 230 V, 50 Hz
place locker "Locker": 40 degC
run inlet SH1 in shore at locker: ` + inlet + ` [0.4 m 3G2.5] ` + first + ` [3 m 3G2.5] transformer T1 at locker: 3 kVA, neutral earthed
    [0.4 m 3G2.5] rcbo R2 in mains at locker: 16 A, 30 mA, 2 pole, type a, curve c, breaks 6 kA [3 m 3G2.5] socket X1 at locker: 500 W
earth E1 at locker
bond T1 [1 m 6 mm2] E1
`
}
