package rule

// What protective devices let through a bar or a switch: between the sources on
// one side and what takes current on the other.

import (
	"fmt"
	"math"

	"strake/lang/circuit"
	"strake/lang/diag"
	"strake/lang/quantity"
	"strake/lang/table"
)

// branch is what may come in by one way, and go out by it, in ampere. Infinite
// where nothing limits it.
type branch struct{ in, out float64 }

// mostFlexible bounds the ways of which any may bring current or take it.
const mostFlexible = 12

// through is the most that can flow across where several branches meet: each
// brings current or takes it.
func through(branches []branch) (float64, bool) {
	var fixed branch
	var flexible []branch
	for _, b := range branches {
		switch {
		case b.in > 0 && b.out > 0:
			flexible = append(flexible, b)
		default:
			fixed.in, fixed.out = fixed.in+b.in, fixed.out+b.out
		}
	}
	if len(flexible) > mostFlexible {
		return 0, false
	}
	most := 0.0
	for set := range 1 << len(flexible) {
		at := fixed
		for i, b := range flexible {
			if set>>i&1 == 1 {
				at.in += b.in
			} else {
				at.out += b.out
			}
		}
		most = max(most, min(at.in, at.out))
	}
	return most, true
}

// branchAt is what may come in at a terminal and go out by it, seen from
// somewhere that is left out. False where a rating on the way is not known.
func (p *pass) branchAt(t circuit.Terminal, view circuit.View, without *circuit.Item) (branch, bool) {
	in, ok := p.walkThrough(t, view, without, false)
	out, too := p.walkThrough(t, view, without, true)
	return branch{in, out}, ok && too
}

// walkThrough sums, from a terminal against the current or with it, the first
// devices on each way, and what is met before any device.
func (p *pass) walkThrough(t circuit.Terminal, view circuit.View, without *circuit.Item, down bool) (sum float64, known bool) {
	seen, devices := map[circuit.Terminal]bool{t: true}, map[*circuit.Item]bool{}
	for queue := []circuit.Terminal{t}; len(queue) > 0; queue = queue[1:] {
		at := queue[0]
		amps, ok := p.standsAt(at, down)
		if !ok {
			return 0, false
		}
		sum += amps
		steps := p.net.Upstream(at, view)
		if down {
			steps = p.net.Downstream(at, view)
		}
		for _, st := range steps {
			if o := st.Through; o != nil && o.Nature().Protects {
				if devices[o] {
					continue
				}
				devices[o] = true
				amps, ok := p.beyondDevice(st, view, without, down)
				if !ok {
					return 0, false
				}
				sum += amps
				continue
			}
			if !seen[st.To] && st.To.Item != without {
				seen[st.To] = true
				queue = append(queue, st.To)
			}
		}
	}
	return sum, true
}

// beyondDevice is what a device lets in or out: its rating, or less where all
// that can feed it gives less.
func (p *pass) beyondDevice(st circuit.Step, view circuit.View, without *circuit.Item, down bool) (float64, bool) {
	view = view.Opening(st.Through)
	beyond := p.net.Origin([]circuit.Terminal{st.To}, view)
	if down {
		beyond = p.net.Reach([]circuit.Terminal{st.To}, view)
	}
	total, sure := 0.0, true
	for _, t := range beyond {
		if t.Item == without {
			return 0, true // it leads back
		}
		amps, ok := p.standsAt(t, down)
		total, sure = total+amps, sure && ok
	}
	rating, ok := p.rating(st.Through)
	switch {
	case sure && total == 0:
		return 0, true
	case down: // what hangs on it may change; the device stays
		return float64(rating), ok
	case !ok:
		return total, sure && !math.IsInf(total, 0)
	case sure:
		return min(total, float64(rating)), true
	}
	return float64(rating), true
}

// standsAt is what the thing at a terminal gives by itself, or takes.
func (p *pass) standsAt(t circuit.Terminal, down bool) (float64, bool) {
	it := t.Item
	if down {
		if it.Nature().Stores && it.MemberOf == nil {
			return math.Inf(1), true
		}
		amps := max(p.taken(t), p.invertedBy(t))
		switch n := it.Nature(); {
		case circuit.IsControl(t.Port) || !n.Load && !n.Converts:
			return 0, true
		case n.Converts && amps > 0:
			return float64(amps), true
		case n.Converts && (circuit.IsOutput(t.Port) && !it.Facts.BothWays || t.Port == "dc"):
			return 0, true
		}
		return math.Inf(1), true // a load in overload takes what its device lets through
	}
	f, n := it.Facts, it.Nature()
	gives := n.Source && t.Port == "" || n.Converts && (circuit.IsOutput(t.Port) || t.Port == "dc" || t.Port == "in" && f.BothWays)
	switch {
	case n.Stores:
		return math.Inf(1), true
	case f.Regenerates.State != circuit.Unstated && t.Port == "": // a motor that gives back
		return float64(amperesAt(float64(f.Regenerates.Most()), it.PortDomain(t.Port))), f.Regenerates.Known()
	case !gives:
		return 0, true
	case it.Kind == "array":
		return float64(table.ArrayCurrent(max(1, f.InParallel), f.Isc.Most())), f.Isc.Known()
	case it.Kind == "inverter-charger" && t.Port == "dc" || it.Kind == "charger":
		amps, ok := chargeCurrent(it)
		return float64(amps), ok
	}
	if _, amps, ok := capacity(it); ok {
		return float64(amps), true
	}
	return math.Inf(1), true
}

// invertedBy is what an inverter or an inverter-charger takes from its battery at
// full output.
func (p *pass) invertedBy(t circuit.Terminal) quantity.Ampere {
	battery := t.Item.Kind == "inverter-charger" && t.Port == "dc" || t.Item.Kind == "inverter" && t.Port == "in"
	if !battery || !t.Item.Facts.Apparent.Known() {
		return 0
	}
	return amperesAt(float64(t.Item.Facts.Apparent.Most())/assumedEfficiency, t.Item.PortDomain(t.Port))
}

// throughBar is the most that can flow across a bar, the changeovers around it in
// the position that lets most through.
func (p *pass) throughBar(bar *circuit.Item) (float64, bool) {
	most := 0.0
	for _, view := range p.net.InTurn(p.view) {
		branches, known := p.onBar(bar, view)
		at, few := through(branches)
		if !known || !few {
			return 0, false
		}
		most = max(most, at)
	}
	return most, true
}

// onBar is the branches of a bar: its cables, and the devices of its ways.
func (p *pass) onBar(bar *circuit.Item, view circuit.View) ([]branch, bool) {
	var list []branch
	t := circuit.Terminal{Item: bar}
	add := func(to circuit.Terminal) bool {
		b, ok := p.branchAt(to, view, bar)
		list = append(list, b)
		return ok
	}
	for _, c := range p.net.Cables(t) {
		for _, e := range []circuit.End{c.From, c.To} {
			to, ok := e.Terminal()
			if ok && e.Item != bar && c.Status.In(p.configuration) && e.Item.Status.In(p.configuration) && !add(to) {
				return nil, false
			}
		}
	}
	if bar.Board != nil {
		for _, w := range bar.Board.Ways {
			if w.Device != nil && !w.Spare && w.Device.Status.In(p.configuration) && !add(circuit.Terminal{Item: w.Device, Port: "in"}) {
				return nil, false
			}
		}
	}
	return list, true
}

var barBelowDevices = Rule{diag.Info{Rule: "bar-below-its-devices", Severity: diag.Danger,
	Title:  "a bar rated below what its devices let through",
	Why:    "A bar is no fuse. What the devices of its sources let in and those of its feeders let out, whichever is less, can flow across it for as long as it likes.",
	Source: "common practice; IEC 61439-1, from memory, verify against the standard",
	Bad:    goodFeederOnBar + "run PB [0.1 m 25 mm2] bus PX in house at locker: 40 A\nrun PX [link] fuse F2 at locker: class t, 125 V, breaks 20 kA, 60 A [2 m 16 mm2] load L1 at locker: 30 A\nrun PX [link] fuse F3 at locker: class t, 125 V, breaks 20 kA, 60 A [2 m 16 mm2] load L2 at locker: 30 A\n",
	Good:   goodFeederOnBar + "run PB [0.1 m 25 mm2] bus PX in house at locker: 80 A\nrun PX [link] fuse F2 at locker: class t, 125 V, breaks 20 kA, 40 A [2 m 16 mm2] load L1 at locker: 30 A\nrun PX [link] fuse F3 at locker: class t, 125 V, breaks 20 kA, 50 A [2 m 16 mm2] load L2 at locker: 30 A\n",
}, func(p *pass) {
	p.items(func(it *circuit.Item) {
		rating, ok := p.rating(it)
		if !it.Nature().Conductive || !ok {
			return
		}
		most, known := p.throughBar(it)
		switch {
		case !known || math.IsInf(most, 0):
		case below(rating, quantity.Ampere(most)):
			p.fail(it.Ref, diag.Finding{Message: fmt.Sprintf("%s is rated %s, and the devices on it let %s through", called(it), rating, quantity.Ampere(most)),
				Span: it.RefSpan, Cure: fmt.Sprintf("fit a bar for %s or more, or a smaller device before it", quantity.Ampere(most))})
		default:
			p.ok(it.Ref)
		}
	})
}}

var switchBelowDevices = Rule{diag.Info{Rule: "switch-below-its-devices", Severity: diag.Danger,
	Title:  "a switch or a shunt rated below what its devices let through it",
	Why:    "A switch is no fuse: its contacts stand what the device before it and those behind it let through, whichever is less, or they weld in an overload that no fuse ends. A shunt burns out, and the negative is open. A residual current device that is rated below the breaker before it fails unseen, which is a fault.",
	Source: "ABYC E-11 11.6.1.2 as excerpted; IEC 60947-3, from memory, verify against the standard",
	Bad:    header + "run battery B1 in house at locker: agm, 12 V, 75 Ah, resistance 6 mohm, terminals 105 degC [0.1 m 25 mm2] fuse F1 at locker: class t, 125 V, breaks 20 kA, 80 A [0.1 m 25 mm2] isolator Q1 at locker: 50 A, 32 V, 1 pole, load-break [0.2 m 25 mm2] pump P1 at locker: 60 W\n",
	Good:   goodFeeder,
}, func(p *pass) {
	p.items(func(it *circuit.Item) {
		rating, ok := p.rating(it)
		if n := it.Nature(); !ok || it.Kind != "shunt" && (!n.Opens || n.Protects || n.Contacts && it.Kind != "switch") {
			return
		}
		view := p.without(it)
		most, known := 0.0, true
		for _, port := range it.Ports {
			if port.Name == "out" || circuit.IsControl(port.Name) {
				continue
			}
			for _, turn := range p.net.InTurn(view) {
				one, ok1 := p.branchAt(circuit.Terminal{Item: it, Port: port.Name}, turn, it)
				two, ok2 := p.branchAt(circuit.Terminal{Item: it, Port: "out"}, turn, it)
				at, _ := through([]branch{one, two})
				most, known = max(most, at), known && ok1 && ok2
			}
		}
		switch {
		case !known || math.IsInf(most, 0) || most == 0:
		case below(rating, quantity.Ampere(most)):
			severity := p.rule.Severity
			if it.Nature().Residual {
				severity = diag.Fault
			}
			p.failAs(severity, it.Ref, diag.Finding{Message: fmt.Sprintf("%s is rated %s, and the devices on its two sides let %s through it", called(it), rating, quantity.Ampere(most)),
				Span: it.RefSpan, Cure: fmt.Sprintf("fit one that is rated for %s or more, or a smaller device before it", quantity.Ampere(most))})
		default:
			p.ok(it.Ref)
		}
	})
}}
