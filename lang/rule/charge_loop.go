package rule

// Banks that charge themselves.

import (
	"fmt"

	"strake/lang/circuit"
	"strake/lang/diag"
)

var bankChargesItself = Rule{diag.Info{Rule: "bank-charges-itself", Severity: diag.Fault,
	Title:  "a charger that is fed by the bank that it charges",
	Why:    "What an inverter takes of a bank and a charger gives back to it goes round, and each round loses a fifth: the bank empties itself with nothing on, and the inverter is loaded with no use. It happens when a charger hangs on a board that the inverter may feed. Two converters that feed each other's bank do the same; of two direct current chargers many stop when their input is low: that is worth a look.",
	Source: "common practice",
	Bad:    looped("AC1"),
	Good:   looped("R1.out"),
}, func(p *pass) {
	usual := p.withOpen(func(it *circuit.Item) bool { return it.Facts.UsualOff })
	told := map[*circuit.Item]bool{} // a loop is told where it begins
	p.items(func(it *circuit.Item) {
		out := chargeTerminal(it)
		if d := it.PortDomain(out.Port); !it.Nature().Converts || it.Kind == "transformer" || it.Kind == "regulator" || d == nil || d.AC || told[it] || p.stoppedOtherwise(it) {
			return
		}
		bank, by := p.chargeLoop(it, out, usual)
		severity, when := p.rule.Severity, ""
		if bank == nil {
			bank, by = p.chargeLoop(it, out, p.view)
			severity, when = diag.Advice, ", while what usually stands open is closed"
		}
		if bank == nil {
			p.ok(it.Ref)
			return
		}
		told[by] = true
		if !inverts(by) && (it.Kind == "charger" || by.Kind == "charger") {
			severity = diag.Advice // many watch their input and stop
		}
		p.failAs(severity, it.Ref, diag.Finding{
			Message: fmt.Sprintf("%s charges %s, which itself feeds it through %s%s", called(it), called(bank), called(by), when),
			Span:    it.RefSpan, Related: p.where([]*circuit.Item{bank, by}), Items: []string{bank.Ref, by.Ref},
			Cure: fmt.Sprintf("feed %s from a supply that %s does not feed, or put the contact of a relay before it that opens without that supply", it.Ref, by.Ref),
		})
	})
}}

// inverts tells what makes alternating current of a battery's.
func inverts(it *circuit.Item) bool { return it.Kind == "inverter" || it.Kind == "inverter-charger" }

// chargeLoop is a battery that a converter charges and that feeds it through
// another one; nil where there is none. Converters that pass power both ways
// hold the balance by themselves; a loop through an inverter is told of what
// takes its alternating current.
func (p *pass) chargeLoop(it *circuit.Item, out circuit.Terminal, view circuit.View) (bank, by *circuit.Item) {
	in := it.PortDomain("in")
	open := p.those(func(o *circuit.Item) bool {
		return o == it || o.Facts.BothWays || inverts(o) && (in == nil || !in.AC) || p.parted(o, view)
	})
	inputs := []circuit.Terminal{}
	for _, t := range terminals(it) {
		if circuit.IsInput(t.Port) {
			inputs = append(inputs, t)
		}
	}
	for _, turn := range p.net.InTurn(opened(view, open)) {
		direct := turn
		direct.Through = false
		charged := p.storing(p.net.Reach([]circuit.Terminal{out}, direct))
		if len(charged) == 0 {
			continue
		}
		beside := p.storing(p.net.Origin(inputs, direct))
		feeding := p.storing(p.net.Origin(inputs, turn))
		for _, b := range p.Items {
			if !charged[b] || beside[b] || !feeding[b] {
				continue
			}
			for _, o := range p.Items {
				if n := o.Nature(); o == it || !n.Converts || o.Kind == "transformer" {
					continue
				}
				if !p.storing(p.net.Origin(inputs, opened(turn, map[*circuit.Item]bool{o: true})))[b] && (by == nil || inverts(o)) {
					by = o
				}
			}
			if by != nil {
				return b, by
			}
		}
	}
	return nil, nil
}

// storing are the batteries among terminals.
func (p *pass) storing(list []circuit.Terminal) map[*circuit.Item]bool {
	set := map[*circuit.Item]bool{}
	for _, t := range list {
		if t.Item.Nature().Stores {
			set[t.Item] = true
		}
	}
	return set
}

// parted tells what is open while batteries alone feed the craft: an enforced
// interlock holds it, or its coil is fed by nothing else.
func (p *pass) parted(it *circuit.Item, view circuit.View) bool {
	if p.interlocked(it) {
		return true
	}
	coil := circuit.Terminal{Item: it, Port: "coil"}
	return it.HasPort("coil") && len(p.net.Cables(coil)) > 0 && !p.batteryAt(coil, opened(view, nil))
}

// stoppedOtherwise tells a charger that an interlock or a signal may hold off while
// its own bank would feed it: any but that of what watches the bank, which stops
// it only when the bank is full.
func (p *pass) stoppedOtherwise(it *circuit.Item) bool {
	if p.interlocked(it) {
		return true
	}
	for _, c := range p.signals {
		if from := c.From.Item; from != nil && c.To.Item == it && c.Action != "shows" && from.Kind != "bms" && from.Kind != "meter" && from.Kind != "shunt" && !from.Nature().Stores {
			return true
		}
	}
	return false
}

// looped is a small boat with an inverter and a charger that hangs somewhere.
func looped(at string) string {
	return header + `domain mains: ac 230 V, 50 Hz
run battery B1 in house at locker: agm, 12 V, 200 Ah, resistance 4 mohm, terminals 105 degC [0.1 m 50 mm2] fuse F1 at locker: class t, 125 V, breaks 20 kA, 160 A [0.1 m 50 mm2] isolator Q1 at locker: 200 A, 32 V, 1 pole, load-break [0.2 m 50 mm2] bus PB in house at locker: 250 A
run PB [link] fuse F2 at locker: class t, 125 V, breaks 20 kA, 100 A [1 m 35 mm2] inverter INV1 at locker: 800 VA, isolated, neutral earthed [0.4 m 3G2.5] rcbo R2 at locker: 4 A, 30 mA, 2 pole, type a, curve c, breaks 6 kA [1 m 3G2.5] CO1.inverter
run inlet SH1 in mains at locker: 16 A [0.4 m 3G2.5] rcbo R1 at locker: 16 A, 30 mA, 2 pole, type a, curve c, breaks 6 kA [1 m 3G2.5] CO1.shore
changeover CO1 at locker: 16 A, 230 V, 2 pole, break before make
run CO1.out [1 m 3G2.5] bus AC1 in mains at locker: 16 A
run AC1 [1 m 3G2.5] socket X1 at locker: 1 A
run ` + at + ` [1 m 3G2.5] charger CH1 at locker: 12 V, 20 A, isolated [0.5 m 10 mm2] fuse F3 at locker: class t, 125 V, breaks 20 kA, 40 A [link] PB
earth E1 at locker
bond SH1 [1 m 6 mm2] E1
bond INV1 [1 m 16 mm2] E1
`
}
