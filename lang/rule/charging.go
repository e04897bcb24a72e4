package rule

// Charging and conversion: devices at the battery's end, loops, outputs.

import (
	"fmt"
	"slices"

	"strake/lang/circuit"
	"strake/lang/diag"
	"strake/lang/quantity"
)

var packsWithoutFuses = Rule{diag.Info{Rule: "parallel-battery-without-fuse", Severity: diag.Danger,
	Title:  "a battery in parallel without a fuse of its own",
	Why:    "When one battery fails inside, all the others feed the fault. Each needs its own device; the bank's main fuse does not see it.",
	Source: "ABYC E-11 (2025) 11.10.1.4.1 as quoted; common practice for every chemistry",
	Bad:    header + "battery B1..B2 at locker: agm, 12 V, 75 Ah, resistance 6 mohm, terminals 105 degC\nrun B1..B2 [link] bus PX in house at locker: 200 A\nrun PX [link] fuse F1 at locker: class t, 125 V, breaks 20 kA, 80 A [0.1 m 25 mm2] isolator Q1 at locker: 100 A, 32 V, 1 pole, load-break [2 m 25 mm2] pump P1 at locker: 60 W\n",
	Good:   goodFeeder,
}, func(p *pass) {
	p.items(func(it *circuit.Item) {
		if !it.Nature().Stores || it.MemberOf != nil && it.MemberOf.Bank.Series || p.mislinked(it) {
			return
		}
		if it.MemberOf != nil { // a parallel bank: its links must be more than links
			p.fail(it.Ref, diag.Finding{Message: fmt.Sprintf("%s stands in parallel in %s with no device of its own", called(it), called(it.MemberOf)),
				Span: it.RefSpan, Items: []string{it.MemberOf.Ref}, Cure: "run each battery through a fuse of its own to a bar"})
			return
		}
		view := p.unfused() // a cable between them is judged as a cable
		view.Cut = map[*circuit.Cable]bool{}
		for _, c := range p.cables {
			if !c.Of.Link {
				view.Cut[c.Of] = true
			}
		}
		for _, t := range p.net.Reach(terminals(it), view) {
			if t.Item != it && t.Item.MemberOf == nil && t.Item.Nature().Stores {
				p.fail(it.Ref, diag.Finding{Message: fmt.Sprintf("%s and %s stand in parallel with no device between", called(it), called(t.Item)),
					Span: it.RefSpan, Related: p.where([]*circuit.Item{t.Item}), Items: []string{t.Item.Ref}, Cure: "put a fuse into the lead of each"})
				return
			}
		}
		p.ok(it.Ref)
	})
}}

var chargerFuseAtBattery = Rule{diag.Info{Rule: "charger-without-fuse-at-battery", Severity: diag.Danger,
	Title:  "a charge source without a device at the battery's end",
	Why:    "The charger limits what it sends; the battery does not. A fault in the charge cable is fed by the battery, so the device stands at the battery.",
	Source: "ISO 13297:2020 12.3",
	Bad:    header + "battery B1 in house at locker: agm, 12 V, 75 Ah, resistance 6 mohm\ndomain mains: ac 230 V, 50 Hz\nrun inlet SH1 in mains at locker: 16 A [0.4 m 3G2.5] rcbo R1 at locker: 16 A, 30 mA, 2 pole, type a [1 m 3G2.5] charger CH1 at locker: 12 V, 8 A [1 m 4 mm2] B1\n",
	Good:   goodFeeder,
}, func(p *pass) {
	p.items(func(it *circuit.Item) {
		if !it.Nature().Converts || it.Kind == "transformer" {
			return
		}
		at := chargeTerminal(it)
		d := it.PortDomain(at.Port)
		if d == nil || d.AC {
			return
		}
		var bare *circuit.Item
		for _, s := range p.backFeed(at) {
			if s.Nature().Stores {
				bare = s
			}
		}
		if bare == nil {
			p.ok(it.Ref)
			return
		}
		p.fail(it.Ref, diag.Finding{
			Message: fmt.Sprintf("nothing protects the way from %s back to the output of %s", called(bare), called(it)),
			Span:    it.RefSpan, Related: p.where([]*circuit.Item{bare}), Items: []string{bare.Ref},
			Cure: fmt.Sprintf("put a fuse within %s of %s", reachDC, bare.Ref),
		})
	})
}}

// backFeed are the batteries that reach a terminal through no protective device.
func (p *pass) backFeed(t circuit.Terminal) []*circuit.Item {
	view := p.unfused()
	var list []*circuit.Item
	for _, s := range p.net.Supplies(t, view) {
		if s.Item != t.Item {
			list = append(list, s.Item)
		}
	}
	return list
}

var outputOverloaded = Rule{diag.Info{Rule: "output-overloaded", Severity: diag.Fault,
	Title:  "more load than a converter, inverter or transformer gives",
	Why:    "The output shuts down or sags when everything runs, at the worst moment. Loads that never run together are said by an interlock or by conditions: where conditions are declared, everything on is only worth a look, unless the output is too small for any of its loads by itself, and each condition is held by itself as no-solution.",
	Source: "common practice",
	Bad:    twoDomains + "run PB [link] fuse F2: class t, 125 V, breaks 20 kA, 40 A [1 m 10 mm2] converter CH1 at locker: 24 V, 5 A, isolated [0.3 m 4 mm2] pump P1 in winch at locker: 300 W\n",
	Good:   goodFeeder,
}, func(p *pass) {
	p.items(func(it *circuit.Item) {
		if !it.Nature().Converts || it.Kind == "regulator" || it.Kind == "charger" {
			return
		}
		for _, port := range it.Ports {
			if !circuit.IsOutput(port.Name) {
				continue
			}
			t := circuit.Terminal{Item: it, Port: port.Name}
			if p.shares(t) {
				continue // others feed the same bar
			}
			limit, _, ok := capacity(it)
			drawn := p.demand(t) - p.socketsOn(t)
			if !ok || drawn == 0 {
				continue
			}
			if drawn > limit*(1+1e-9) {
				severity := diag.Fault
				if len(p.Conditions) > 0 && p.smallest(t) <= limit {
					severity = diag.Advice // what runs together is declared
				}
				p.failAs(severity, it.Ref, diag.Finding{Message: fmt.Sprintf("%s gives %s, and %s is asked of it with everything on", called(it), limit, drawn),
					Span: it.RefSpan, Cure: "fit a larger one, or say by an interlock that something enforces, or by conditions, what never runs together"})
				continue
			}
			p.ok(it.Ref)
		}
	})
}}

// shares tells whether other supplies stand on the conductor of an output
// whenever it feeds something: those that a changeover keeps apart do not.
func (p *pass) shares(t circuit.Terminal) bool {
	for _, view := range p.positions(true) {
		view.Open = map[*circuit.Item]bool{t.Item: true} // what comes through its own relay does not share
		others, takes := false, false
		for _, r := range p.net.Reach([]circuit.Terminal{t}, view) {
			takes = takes || r.Item != t.Item && p.taken(r) > 0
			for _, s := range p.net.Supplies(r, view) {
				others = others || s.Item != t.Item
			}
		}
		if takes && !others {
			return false
		}
	}
	return true
}

// smallest is what the smallest of the things behind an output takes, sockets
// aside: an output that cannot feed that one by itself is of no use to any.
func (p *pass) smallest(t circuit.Terminal) quantity.Ampere {
	var least quantity.Ampere
	for _, r := range p.net.Reach([]circuit.Terminal{t}, p.view) {
		if amps := p.taken(r); r.Item != t.Item && r.Item.Kind != "socket" && amps > 0 && (least == 0 || amps < least) {
			least = amps
		}
	}
	return least
}

// charged is the battery or bank that current from here reaches without
// converting, of lithium or of anything else as asked; nil where there is none.
func (p *pass) charged(from []circuit.Terminal, lithium bool) *circuit.Item {
	for _, t := range p.net.Reach(from, p.view) {
		if o := t.Item; o.Nature().Stores && o.MemberOf == nil && (chemistry(o) == "lfp") == lithium {
			return o
		}
	}
	return nil
}

// capacity is what an output is rated for, at the lower and at the upper end of
// what the text leaves open.
func capacity(it *circuit.Item) (least, most quantity.Ampere, ok bool) {
	f := it.Facts
	if d := it.PortDomain("out"); d != nil && d.Nominal.Known() {
		per := func(v float64) quantity.Ampere { return quantity.Ampere(v / float64(d.Nominal.Value)) }
		switch {
		case f.Apparent.Known():
			return per(float64(f.Apparent.Least())), per(float64(f.Apparent.Most())), true
		case f.Power.Known() && !f.Current.Known():
			return per(float64(f.Power.Least())), per(float64(f.Power.Most())), true
		}
	}
	return f.Current.Least(), f.Current.Most(), f.Current.Known()
}

// demand is what the loads behind a terminal take with everything on, less what
// an interlock that something enforces excludes. What converts again counts with its output.
func (p *pass) demand(t circuit.Terminal) quantity.Ampere {
	var sum quantity.Ampere
	excluded := map[*circuit.Item]bool{}
	for _, r := range p.net.Reach([]circuit.Terminal{t}, p.view) {
		it := r.Item
		if excluded[it] || it == t.Item {
			continue
		}
		amps := p.taken(r)
		if amps == 0 {
			continue
		}
		for _, lock := range p.Interlocks {
			sum -= p.lesser(lock, it, amps, excluded)
		}
		sum += amps
	}
	return max(sum, 0)
}

// lesser excludes, of two things that never run together, the one that takes less.
func (p *pass) lesser(lock circuit.Interlock, it *circuit.Item, amps quantity.Ampere, excluded map[*circuit.Item]bool) quantity.Ampere {
	if lock.Only || !lock.Enforced {
		return 0
	}
	var others []*circuit.Item
	switch {
	case slices.Contains(lock.First, it):
		others = lock.Second
	case slices.Contains(lock.Second, it):
		others = lock.First
	default:
		return 0
	}
	var away quantity.Ampere
	for _, o := range others {
		if excluded[o] {
			continue
		}
		other := p.taken(circuit.Terminal{Item: o})
		if other <= amps {
			excluded[o] = true
			continue
		}
		return amps // the other takes more: this one is what never runs beside it
	}
	return away
}

// taken is what a load, or what converts again, takes from the line, at its
// domain's nominal voltage.
func (p *pass) taken(t circuit.Terminal) quantity.Ampere {
	it := t.Item
	switch {
	case it.Nature().Converts:
		return p.drawnBy(it, t.Port)
	case !it.Nature().Load || circuit.IsControl(t.Port):
		return 0
	case it.Facts.Current.Known():
		return it.Facts.Current.Most()
	case it.Facts.Power.Known():
		return amperesAt(float64(it.Facts.Power.Most()), it.PortDomain(t.Port))
	}
	return 0
}

// assumedEfficiency is that of a converter of any kind that does not state its
// own (common practice).
const assumedEfficiency = 0.85

// drawnBy is what a charger or converter draws at its input, at its rating. What
// a transformer or a transfer relay lets through is counted behind it.
func (p *pass) drawnBy(it *circuit.Item, port string) quantity.Ampere {
	f := it.Facts
	if circuit.IsOutput(port) || port == "dc" || it.Kind == "transformer" {
		return 0
	}
	in := it.PortDomain("in")
	if f.Input.Known() {
		return f.Input.Most()
	}
	efficiency := assumedEfficiency
	if f.Efficiency.Known() && f.Efficiency.Value > 0 {
		efficiency = float64(f.Efficiency.Least())
	}
	out := it.PortDomain("out")
	if it.Kind == "inverter-charger" {
		out = it.PortDomain("dc")
	}
	amps, ok := chargeCurrent(it)
	volt, known := p.highest(out)
	switch {
	case f.Power.Known() && it.Kind != "inverter-charger":
		return amperesAt(float64(f.Power.Most())/efficiency, in)
	case ok && known:
		return amperesAt(float64(amps)*float64(volt)/efficiency, in)
	}
	return 0
}

// amperesAt is a power as a current at a domain's nominal voltage.
func amperesAt(watts float64, d *circuit.Domain) quantity.Ampere {
	if d == nil || !d.Nominal.Known() || d.Nominal.Value <= 0 || d.Phases > 1 {
		return 0
	}
	return quantity.Ampere(watts / float64(d.Nominal.Value))
}

var notIsolated = Rule{diag.Info{Rule: "converter-not-isolated", Severity: diag.Danger,
	Title:  "a converter that joins an insulated system to another",
	Why:    "A converter with a common negative makes one network of two: the earth of one becomes the earth of the other, and above 60 V touches the low voltage side. A charger or an inverter without isolation puts the mains on the battery.",
	Source: "common practice, in line with ISO 16315, from memory, verify against the standard",
	Bad:    "craft \"Small boat\" {\n    cable class 5, tinned, 105 degC, free\n}\ndomain drive: dc 48 V, 44 V to 58.4 V, insulated\ndomain house: dc 12 V, 10.5 V to 14.6 V, earthed negative\nplace locker \"Locker\": 40 degC\nrun battery B1 in drive at locker: lfp, 51.2 V, 100 Ah, resistance 15 mohm, discharge 100 A, charge 50 A [0.1 m 25 mm2] fuse F1: class t, 125 V, breaks 20 kA, 80 A, 2 pole [0.1 m 25 mm2] isolator Q1: 100 A, 80 V, 2 pole, load-break [0.5 m 25 mm2] converter CH1: 12 V, 30 A [0.5 m 10 mm2] lamp L1 in house at locker: 40 W\n",
	Good:   goodFeeder,
}, func(p *pass) {
	p.items(func(it *circuit.Item) {
		if n := it.Nature(); !n.Converts || it.Kind == "transformer" {
			return
		}
		in, out := it.PortDomain("in"), it.PortDomain("out")
		if it.Kind == "inverter-charger" {
			in = it.PortDomain("dc")
		}
		if in == nil || out == nil {
			return
		}
		high := false
		if a, ok := p.highest(in); ok && a > lowVolts && in.Name != out.Name && it.Kind != "regulator" {
			high = true
		}
		switch {
		case it.Facts.Isolated:
			p.ok(it.Ref)
		case in.AC: // sold as isolated, and one that is not puts the mains on the battery
			p.unverified(it.Ref, diag.Finding{Span: it.RefSpan, Missing: fmt.Sprintf("whether %s is `isolated` from %s", it.Ref, in.Name)})
		case out.AC: // so does an inverter
			p.unverified(it.Ref, diag.Finding{Span: it.RefSpan, Missing: fmt.Sprintf("whether %s is `isolated`, so that %s does not stand on %s", it.Ref, out.Name, in.Name)})
		case it.Kind == "regulator" && !in.Insulated:
		case in.Insulated != out.Insulated || high:
			p.fail(it.Ref, diag.Finding{Message: fmt.Sprintf("%s joins %s and %s, and nothing says that it is isolated", called(it), in.Name, out.Name),
				Span: it.RefSpan, Cure: "fit an isolated one and write `isolated`"})
		case in.Insulated:
			p.unverified(it.Ref, diag.Finding{Span: it.RefSpan, Missing: fmt.Sprintf("whether %s is `isolated`; if not, %s and %s are one network, and their insulation monitors disturb one another", it.Ref, in.Name, out.Name)})
		case p.bondedAt(it, "in", true) && p.bondedAt(it, "out", true):
			p.unverified(it.Ref, diag.Finding{Span: it.RefSpan, Missing: fmt.Sprintf("whether %s is `isolated`; if not, %s and %s have one negative, and it is bonded twice", it.Ref, in.Name, out.Name)})
		}
	})
}}

// bondedAt tells whether the network on a side of what converts has a bond of a
// pole to an earth; itself, or also through the negative of another network.
func (p *pass) bondedAt(it *circuit.Item, port string, itself bool) bool {
	d := it.PortDomain(port)
	for _, b := range p.earthBonds(d) {
		if itself && b.cable.From.Pole != circuit.AllPoles && b.cable.To.Pole != circuit.AllPoles {
			continue
		}
		for _, t := range p.net.Origin([]circuit.Terminal{{Item: it, Port: port}}, p.view) {
			if t.Item == b.item && (port == "in" || t.Item != it) {
				return true
			}
		}
		for _, t := range p.net.Reach([]circuit.Terminal{{Item: it, Port: port}}, p.view) {
			if t.Item == b.item && t.Item != it {
				return true
			}
		}
	}
	return false
}

var monitorMissing = Rule{diag.Info{Rule: "insulation-monitor-missing", Severity: diag.Fault,
	Title:  "an insulated system without an insulation monitor",
	Why:    "The first earth fault shows nowhere; the second is a short circuit through the hull. On a metal hull, or above 60 V, it is a danger.",
	Source: "ISO 16315 and IEC practice for unearthed systems, from memory, verify against the standard",
	Bad:    insulated + "run battery B1 in house at locker: agm, 12 V, 75 Ah, resistance 6 mohm, terminals 105 degC [0.1 m 25 mm2] fuse F1 at locker: class t, 125 V, breaks 20 kA, 80 A, 2 pole [0.1 m 25 mm2] isolator Q1 at locker: 100 A, 32 V, 2 pole, load-break [2 m 25 mm2] pump P1 at locker: 60 W\n",
	Good:   goodFeeder,
}, func(p *pass) {
	for _, d := range p.Domains {
		if d.AC || !d.Insulated {
			continue
		}
		bare, free := p.unwatched(d)
		switch {
		case bare == nil && free < 0:
			continue // nothing gives current in it
		case bare == nil:
			p.ok(d.Name)
			continue
		}
		severity := diag.Fault
		if top, ok := p.highest(d); ok && top > lowVolts || p.metalHull() {
			severity = diag.Danger
		}
		p.failAs(severity, d.Name, diag.Finding{Message: fmt.Sprintf("%s is insulated, and no insulation monitor watches the network of %s", d.Name, called(bare)),
			Span: d.Span, Related: p.where([]*circuit.Item{bare}), Items: []string{bare.Ref},
			Cure: "run an insulation-monitor from one of its bars through a small fuse in each pole"})
	}
}}

// unwatched is a source of a domain whose network no monitor hangs on, or nil.
// A monitor that is not drawn with a cable stands for one network. The count is
// negative when the domain has no source.
func (p *pass) unwatched(d *circuit.Domain) (*circuit.Item, int) {
	free, sources := 0, 0
	p.items(func(it *circuit.Item) {
		if it.Kind == "insulation-monitor" && powerDomain(it) == d && len(p.net.Cables(circuit.Terminal{Item: it})) == 0 {
			free++
		}
	})
	var bare *circuit.Item
	done := map[*circuit.Item]bool{}
	p.items(func(it *circuit.Item) {
		at := terminals(it)
		if it.Nature().Converts && it.Facts.Isolated && it.Kind != "inverter-charger" { // its output is a network of its own
			at = []circuit.Terminal{{Item: it, Port: "out"}}
			if it.PortOnly("out") != d || len(p.net.Cables(at[0])) == 0 {
				return
			}
		} else if !it.Nature().Source || it.MemberOf != nil || powerDomain(it) != d {
			return
		}
		if done[it] {
			return
		}
		sources++
		watched := false
		for _, set := range [][]circuit.Terminal{p.net.Reach(at, p.view), p.net.Origin(at, p.view)} {
			for _, t := range set {
				done[t.Item] = true
				watched = watched || t.Item.Kind == "insulation-monitor"
			}
		}
		switch {
		case watched:
		case free > 0:
			free--
		case bare == nil:
			bare = it
		}
	})
	if sources == 0 {
		return nil, -1
	}
	return bare, free
}
