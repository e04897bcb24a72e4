package rule

// Devices between two sides that can both feed, and devices in the wrong pole.

import (
	"fmt"

	"strake/lang/circuit"
	"strake/lang/diag"
	"strake/lang/quantity"
)

// across is what a two-ended device parts when it is open.
type across struct {
	side [2]struct {
		batteries, strong []*circuit.Item // sources that do not limit themselves
		loads             bool
		terminals         map[circuit.Terminal]bool
	}
}

// parts looks at both sides of an open device, with those open as well that
// close with care. It is no parting where another way leads round the device.
func (p *pass) parts(it *circuit.Item) (across, bool) {
	var a across
	view := p.without(it)
	for _, o := range p.Items {
		if p.careful(o) {
			view.Open[o] = true
		}
	}
	for i, port := range []string{"in", "out"} {
		s := &a.side[i]
		s.terminals = map[circuit.Terminal]bool{}
		start := circuit.Terminal{Item: it, Port: port}
		for _, t := range p.net.Origin([]circuit.Terminal{start}, view) {
			s.terminals[t] = true
			if n := t.Item.Nature(); n.Source && !n.Limited && t.Item != it && t.Item.MemberOf == nil {
				s.strong = append(s.strong, t.Item)
				if t.Item.Nature().Stores {
					s.batteries = append(s.batteries, t.Item)
				}
			}
		}
		for _, t := range p.net.Reach([]circuit.Terminal{start}, view) {
			s.loads = s.loads || t.Item.Nature().Load
		}
	}
	return a, !a.side[0].terminals[circuit.Terminal{Item: it, Port: "out"}]
}

var tieUnchecked = Rule{diag.Info{Rule: "tie-closes-unequal-banks", Severity: diag.Danger,
	Title:  "a switch that joins two systems whose banks may stand at different volts",
	Why:    "When it closes, the fuller bank empties into the other one through milliohms: hundreds of amperes, past the charge limit of lithium packs, and a fuse or a contact goes.",
	Source: "common practice, in line with battery makers' manuals",
	Bad:    tied(""),
	Good:   tied(", precharge"),
}, func(p *pass) {
	p.items(func(it *circuit.Item) {
		if it.Kind != "isolator" && it.Kind != "contactor" && it.Kind != "switch" {
			return
		}
		if p.careful(it) {
			p.ok(it.Ref)
			return
		}
		a, ok := p.parts(it)
		if !ok {
			return
		}
		for _, s := range a.side {
			if len(s.batteries) == 0 || !s.loads {
				p.joinsPacks(it, a)
				return // a pack's own switch, or a switch towards loads
			}
		}
		one, other := a.side[0].batteries, a.side[1].batteries
		severity := diag.Advice // lead takes what comes for a while
		if chemistry(one[0]) == "lfp" || chemistry(other[0]) == "lfp" {
			severity = diag.Danger
		}
		p.failAs(severity, it.Ref, diag.Finding{
			Message: fmt.Sprintf("%s joins %s to %s, and nothing keeps it open while their voltages differ", called(it), names(one), names(other)),
			Span:    it.RefSpan, Related: p.where([]*circuit.Item{one[0], other[0]}), Items: []string{one[0].Ref, other[0].Ref},
			Cure: "write the interlock and what enforces it (`interlock " + it.Ref + " only with … by …`), or put a contactor with `precharge` in line",
		})
	})
}}

// joinsPacks tells of a hand switch that puts a lithium pack beside another one: when
// it was open for a while they stand apart.
func (p *pass) joinsPacks(it *circuit.Item, a across) {
	one, other := a.side[0].batteries, a.side[1].batteries
	if it.Kind == "contactor" || len(one) == 0 || len(other) == 0 || chemistry(one[0]) != "lfp" || chemistry(other[0]) != "lfp" {
		return
	}
	p.failAs(diag.Advice, it.Ref, diag.Finding{Message: fmt.Sprintf("%s joins %s to %s, and after it was open they may stand at different volts", called(it), names(one), names(other)),
		Span: it.RefSpan, Related: p.where([]*circuit.Item{one[0], other[0]}), Items: []string{one[0].Ref, other[0].Ref},
		Cure: "put a label beside it: close it only when both read the same; or fit a contactor with `precharge` that a monitor closes, or one switch for all packs"})
}

// careful tells a switch that levels the voltages first, or that an interlock holds
// which something enforces.
func (p *pass) careful(it *circuit.Item) bool {
	return it.Nature().Opens && (it.Facts.Precharge || p.interlocked(it))
}

func (p *pass) interlocked(it *circuit.Item) bool {
	for _, l := range p.Interlocks {
		if !l.Enforced {
			continue // a habit is forgotten one day
		}
		for _, set := range [][]*circuit.Item{l.First, l.Second} {
			for _, x := range set {
				if x == it {
					return true
				}
			}
		}
	}
	return false
}

// tied is two lithium banks with a switch between their bars.
func tied(more string) string {
	return `craft "Small boat" {
    cable class 5, tinned, 105 degC, free
}
domain house: dc 12 V, 10.5 V to 14.6 V
place locker "Locker": 40 degC
battery B1..B2 in house at locker: lfp, 12.8 V, 100 Ah, resistance 6 mohm, discharge 200 A, charge 100 A, terminals 105 degC
run B1..B2 [0.1 m 50 mm2] fuse F1..F2 at locker: class t, 125 V, breaks 20 kA, 150 A
    [0.1 m 50 mm2] isolator Q1..Q2 at locker: 160 A, 32 V, 1 pole, load-break
    [0.2 m 50 mm2] bus PB1..PB2 in house at locker: 250 A
run PB1 [0.1 m 50 mm2] fuse F3 at locker: class t, 125 V, breaks 20 kA, 80 A
    [0.3 m 50 mm2] contactor K1 at locker: 160 A, 32 V, 1 pole, coil 12 V` + more + `
    [0.3 m 50 mm2] fuse F4 at locker: class t, 125 V, breaks 20 kA, 80 A [0.1 m 50 mm2] PB2
run PB1 [0.1 m 1.5 mm2] fuse F7 at locker: class t, 125 V, breaks 20 kA, 3 A [0.5 m 1.5 mm2] K1.coil
run PB1..PB2 [link] fuse F5..F6 at locker: class t, 125 V, breaks 20 kA, 30 A [2 m 10 mm2] pump P1..P2 at locker: 60 W
`
}

var breakerPolarised = Rule{diag.Info{Rule: "polarised-breaker-both-ways", Severity: diag.Danger,
	Title:  "a polarised breaker or contactor where current comes from both sides",
	Why:    "Its magnet drives the arc into the chamber one way only; the other way it burns. A motor that gives back feeds its contactor from behind.",
	Source: "common practice, from memory, verify with the maker; IEC 60898-1 is for AC",
	Bad:    chargedThrough("polarised"),
	Good:   chargedThrough("unpolarised"),
}, func(p *pass) {
	p.items(func(it *circuit.Item) {
		d := powerDomain(it)
		// of a switch only what is written counts: many say nothing, and few are polarised
		breaks := it.Kind == "breaker" || it.Kind == "rcbo" || it.Nature().Opens && it.Facts.Polarised == circuit.Yes
		if !breaks || d == nil || d.AC || it.Facts.Polarised == circuit.No {
			return
		}
		view := p.without(it)
		in := p.net.Supplies(circuit.Terminal{Item: it, Port: "in"}, view)
		out := p.net.Supplies(circuit.Terminal{Item: it, Port: "out"}, view)
		switch {
		case len(in) == 0 || len(out) == 0:
			p.ok(it.Ref)
		case it.Facts.Polarised == circuit.Yes:
			sources := fromBoth(in, out)
			p.fail(it.Ref, diag.Finding{Message: fmt.Sprintf("%s is polarised, and %s can feed it from either side", called(it), names(sources)),
				Span: it.RefSpan, Related: p.where(sources), Items: refs(sources),
				Cure: "fit one that is not polarised, or a fuse"})
		default:
			sources := fromBoth(in, out)
			p.unverified(it.Ref, diag.Finding{Span: it.RefSpan, Items: refs(sources),
				Missing: fmt.Sprintf("whether %s is `polarised` or `unpolarised` (%s can feed it from either side)", it.Ref, names(sources))})
		}
	})
}}

// fromBoth is a source on each side of a thing: two where there are, else the one
// that gets to both.
func fromBoth(in, out []circuit.Supply) []*circuit.Item {
	for _, a := range in {
		for _, b := range out {
			if a.Item != b.Item {
				return []*circuit.Item{a.Item, b.Item}
			}
		}
	}
	return []*circuit.Item{in[0].Item}
}

// chargedThrough is a battery with a charger behind a breaker of its own.
func chargedThrough(polarity string) string {
	return twoDomains + `run PB [link] fuse F2 at locker: class t, 125 V, breaks 20 kA, 30 A [1 m 10 mm2] converter CH1 at locker: 24 V, 8 A, input 20 A, isolated
    [0.2 m 10 mm2] breaker CB1 at locker: 20 A, 80 V, breaks 10 kA, 1 pole, ` + polarity + ` [0.1 m 10 mm2] battery W1 in winch at locker: lfp, 25.6 V, 50 Ah, resistance 8 mohm, discharge 50 A, charge 25 A, terminals 105 degC
`
}

var deviceInNegative = Rule{diag.Info{Rule: "device-in-negative", Severity: diag.Danger,
	Title:  "a fuse or a switch in the negative alone",
	Why:    "When it opens, the circuit stays live against everything that is earthed, and an earth fault goes round it: a load that a switch in the negative holds off then runs, and one that it should start is fed by nothing else.",
	Source: "code of practice for small commercial vessels 8.2.3 as excerpted; 33 CFR 183.455(a)",
	Bad:    header + "battery B1 in house at locker: agm, 12 V, 75 Ah, resistance 6 mohm, terminals 105 degC\nrun B1 [0.1 m 25 mm2] fuse F1 at locker: class t, 125 V, breaks 20 kA, 80 A, 1 pole, in negative [0.1 m 25 mm2] isolator Q1 at locker: 100 A, 32 V, 1 pole, load-break [2 m 25 mm2] pump P1 at locker: 60 W\n",
	Good:   goodFeeder,
}, func(p *pass) {
	p.items(func(it *circuit.Item) {
		switch {
		case !switching(it) && !it.Nature().Contacts:
		case it.Facts.InNegative && it.Facts.Poles < 2:
			severity := diag.Danger
			if !it.Nature().Protects {
				severity = diag.Fault
			}
			p.failAs(severity, it.Ref, diag.Finding{Message: fmt.Sprintf("%s opens the negative and leaves the positive live", called(it)),
				Span: it.RefSpan, Cure: "put it into the positive, or fit one in both poles"})
		default:
			p.ok(it.Ref)
		}
	})
}}

var deviceBelowLoad = Rule{diag.Info{Rule: "device-below-load", Severity: diag.Fault,
	Title:  "a protective device smaller than what its circuit draws",
	Why:    "It opens in ordinary use, and somebody fits a larger one that the cable does not hold.",
	Source: "IEC 60364-4-43 433.1",
	Bad:    header + "battery B1 in house at locker: agm, 12 V, 75 Ah, resistance 6 mohm, terminals 105 degC\nrun B1 [0.1 m 25 mm2] fuse F1 at locker: class t, 125 V, breaks 20 kA, 20 A [0.1 m 25 mm2] isolator Q1 at locker: 100 A, 32 V, 1 pole, load-break [2 m 25 mm2] pump P1 at locker: 500 W\n",
	Good:   goodFeeder,
}, func(p *pass) {
	p.items(func(it *circuit.Item) {
		dev := p.deviceOf[it]
		if !it.Nature().Protects || dev == nil || !dev.Rating.Known || dev.Chosen {
			return
		}
		if one, amps := p.largestThrough(it, dev.Rating.Value); one != nil {
			p.fail(it.Ref, diag.Finding{Message: fmt.Sprintf("%s is %s, and %s alone draws %s", called(it), dev.Rating.Value, called(one), amps),
				Span: it.RefSpan, Related: p.where([]*circuit.Item{one}), Items: []string{one.Ref}, Cure: "fit a larger one where the cable holds it, or feed a smaller load"})
			return
		}
		if drives, amps := p.drivesThrough(it); below(dev.Rating.Value, amps) {
			p.fail(it.Ref, diag.Finding{Message: fmt.Sprintf("%s is %s, and %s together draw %s", called(it), dev.Rating.Value, names(drives), apart(amps, dev.Rating.Value)),
				Span: it.RefSpan, Related: p.where(drives), Items: refs(drives), Cure: "fit a larger one where the cables hold it, or give each drive motor a device of its own"})
			return
		}
		if !dev.Current.Known {
			return
		}
		amps := max(dev.Current.Value, p.sagging(it))
		if !below(dev.Rating.Value, amps) {
			p.ok(it.Ref)
			return
		}
		severity := p.sumsOf(it)
		if d := powerDomain(it); severity == diag.Advice && d != nil && d.AC && p.supplyBelow(it, dev.Rating.Value) {
			return // held against the supply as a whole
		}
		p.failAs(severity, it.Ref, diag.Finding{Message: fmt.Sprintf("%s is %s, and %s is drawn through it with everything on", called(it), dev.Rating.Value, apart(amps, dev.Rating.Value)),
			Span: it.RefSpan, Cure: "draw less through it, or fit a larger one where the cable holds it"})
	})
}}

// sagging is what the cable on a device carries at the voltages that the drop on the
// way leaves, the less of its two sides: 0 where neither has a cable of its own.
func (p *pass) sagging(it *circuit.Item) quantity.Ampere {
	amps, found := quantity.Ampere(0), false
	for _, port := range [...]string{"in", "out"} {
		on := p.net.Cables(circuit.Terminal{Item: it, Port: port})
		if len(on) != 1 || on[0].Link {
			continue
		}
		if c := p.cableOf[on[0]]; c != nil && c.DropCurrent.Known && (!found || c.DropCurrent.Value < amps) {
			amps, found = c.DropCurrent.Value, true
		}
	}
	return amps
}

// largestThrough is the largest single consumer above a rating that is fed through
// a device alone, with what it draws at its domain's nominal voltage: no condition makes
// that less. Of a socket nobody knows what is plugged in, and a starter or a peak
// is over before a device opens.
func (p *pass) largestThrough(it *circuit.Item, rating quantity.Ampere) (one *circuit.Item, most quantity.Ampere) {
	view := p.without(it)
	for _, t := range p.net.Reach([]circuit.Terminal{{Item: it, Port: "out"}}, view) {
		o, n := t.Item, t.Item.Nature()
		if o == it || circuit.IsControl(t.Port) || !n.Load && !n.Converts || o.Kind == "socket" || o.Kind == "starter" {
			continue
		}
		if amps := max(p.taken(t), p.invertedBy(t)); below(rating, amps) && amps > most && p.losesBy(t, view.Open) {
			one, most = o, amps
		}
	}
	return one, most
}

// supplyBelow tells whether some mains supply before a device gives no more than
// the device is rated for: then the supply is what is asked too much.
func (p *pass) supplyBelow(it *circuit.Item, rating quantity.Ampere) bool {
	at := p.net.Origin([]circuit.Terminal{{Item: it, Port: "in"}}, p.view)
	for _, s := range p.acSources() {
		for _, t := range at {
			limit, _, ok := capacity(s.item)
			if t == s.terminal() && (!ok || limit <= rating*1.001) {
				return true
			}
		}
	}
	return false
}

// sumsOf grades a sum of everything on: where conditions are declared, or where
// bars and boards lie between the device and what draws, it is worth a look;
// where one consumer draws it, the device does not hold in use.
func (p *pass) sumsOf(it *circuit.Item) diag.Severity {
	if len(p.Conditions) > 0 {
		return diag.Advice
	}
	view := p.without(it)
	for _, t := range p.net.Reach([]circuit.Terminal{{Item: it, Port: "out"}}, view) {
		if t.Item.Nature().Conductive {
			return diag.Advice
		}
	}
	return diag.Fault
}

// drivesThrough is the drive motors that are fed through a device alone, and what
// they draw together: they run together, whatever conditions are declared.
func (p *pass) drivesThrough(it *circuit.Item) (drives []*circuit.Item, sum quantity.Ampere) {
	view := p.without(it)
	for _, t := range p.net.Reach([]circuit.Terminal{{Item: it, Port: "out"}}, view) {
		if !circuit.IsControl(t.Port) && propels(t.Item) && p.losesBy(t, view.Open) {
			drives, sum = append(drives, t.Item), sum+p.taken(t)
		}
	}
	return drives, sum
}
