package size

import (
	"strake/lang/circuit"
	"strake/lang/solve"
)

// take puts a load in at a terminal.
func (b *builder) take(t circuit.Terminal, l solve.Load) {
	l.Plus = b.wiring.node[t] + 1
	b.network.Loads = append(b.network.Loads, l)
	b.loads = append(b.loads, t)
}

// consume puts in what takes power: constant power where it is stated in watts,
// constant current where in amperes, by the condition before the text.
func (b *builder) consume(t circuit.Terminal) {
	if t.Port == "auto" || t.Port == "manual" {
		for _, other := range b.loads {
			if other.Item == t.Item {
				return // one motor, whichever way it is fed
			}
		}
	}
	rated, wanting := b.demand(t, b.at.passes(t.Item))
	if steady, ok := b.steady(t); ok && t.Item.Nature().Load {
		rated = min(rated, steady)
	}
	x, named := b.governs(t)
	amps := rated
	switch {
	case !b.everything:
		amps = b.set.demand(t, 0)
	case named && x.Off:
		amps = 0
	}
	d := domainOf(t)
	low, ok := b.lowest(d)
	byPower := t.Item.Facts.Power.Known() && !b.capped(t)
	if named && (x.Power.Known() || x.Current.Known()) {
		byPower = x.Power.Known()
	}
	switch {
	case named && x.Gives && x.Power.Known():
		b.take(t, solve.Load{Watts: -float64(x.Power.Value) / phases(d)})
	case named && x.Gives && x.Current.Known():
		b.take(t, solve.Load{Amps: -float64(x.Current.Value)})
	case amps <= 0:
		if wanting != "" && (b.everything || named && !x.Off) {
			b.lack(b.wiring.node[t], wanting)
		}
	case byPower && ok:
		b.weigh(t, float64(amps)*float64(low))
		b.take(t, solve.Load{Watts: float64(amps) * float64(low)})
	case byPower:
		b.lack(b.wiring.node[t], "lowest voltage at "+t.String())
	default:
		b.weigh(t, float64(amps)*float64(low))
		b.take(t, solve.Load{Amps: float64(amps)})
	}
}

// governs is what a condition says of a thing: of itself, or of the board whose
// way it is on.
func (b *builder) governs(t circuit.Terminal) (circuit.Setting, bool) {
	if x, ok := b.set.by[t.Item]; ok {
		return x, true
	}
	if w := t.Item.Way; w != nil && w.Load == t.Item {
		x, ok := b.set.by[w.Board]
		return x, ok
	}
	if w := b.set.fedBy(t); w != nil {
		x, ok := b.set.by[w.Board]
		return x, ok
	}
	return circuit.Setting{}, false
}

// weigh counts what takes alternating current, by the volt-amperes of one of its
// phases.
func (b *builder) weigh(t circuit.Terminal, voltAmperes float64) {
	d := domainOf(t)
	if d == nil || !d.AC {
		return
	}
	g := b.group[b.wiring.node[t]]
	if b.taken[g] == nil {
		b.taken[g] = &weight{}
	}
	b.taken[g].apparent += voltAmperes * phases(d)
	b.taken[g].real += voltAmperes * phases(d) * powerFactor(t.Item)
}

// powerFactor is a thing's, stated or 1.
func powerFactor(it *circuit.Item) float64 {
	if f := it.Facts.PowerFactor; f.Known() && f.Value > 0 {
		return float64(f.Value)
	}
	return 1
}

// factors makes the network's volts times amperes of a converter's two sides the
// same power: of three phases a line carries a part, and of alternating current
// only the real part is drawn from what inverts it. Currents are added as if in
// phase, which is never less than they are.
func (b *builder) factors() {
	for i, p := range b.pairs {
		in, out := p[1], p[0]
		d := domainOf(out)
		if in.Item == nil || d == nil || d.AC || domainOf(in) == nil || !domainOf(in).AC {
			continue
		}
		c := b.network.Converters[i] // a charger: it takes its rating from the alternating side
		b.weigh(in, c.Volt*c.Limit/c.Efficiency/powerFactor(in.Item)/phases(domainOf(in)))
	}
	for i, p := range b.pairs {
		in, out := p[1], p[0]
		if in.Item == nil {
			continue
		}
		c := &b.network.Converters[i]
		c.Efficiency *= phases(domainOf(in)) / phases(domainOf(out))
		c.Idle /= phases(domainOf(in))
		switch from, to := alternating(in), alternating(out); {
		case from && !to:
			c.Efficiency *= powerFactor(in.Item)
		case to && !from:
			c.Efficiency /= b.factor(out, deepest)
		}
	}
}

func alternating(t circuit.Terminal) bool {
	d := domainOf(t)
	return d != nil && d.AC
}

// factor is the power factor of all that is on in a terminal's group, what stands
// behind a transformer included.
func (b *builder) factor(t circuit.Terminal, depth int) float64 {
	w := b.weightOf(b.group[b.wiring.node[t]], depth)
	if w.apparent <= 0 {
		return 1
	}
	return w.real / w.apparent
}

func (b *builder) weightOf(group, depth int) weight {
	total := weight{}
	if w := b.taken[group]; w != nil {
		total = *w
	}
	for _, p := range b.pairs {
		if in, out := p[1], p[0]; depth > 0 && in.Item != nil && alternating(in) && alternating(out) && b.group[b.wiring.node[in]] == group {
			w := b.weightOf(b.group[b.wiring.node[out]], depth-1)
			total.apparent += w.apparent
			total.real += w.real
		}
	}
	return total
}

// capped tells a load whose stated current is less than its power asks at the
// lowest voltage: it takes that current.
func (b *builder) capped(t circuit.Terminal) bool {
	f := t.Item.Facts
	low, ok := b.lowest(domainOf(t))
	return ok && f.Current.Known() && float64(f.Current.Most()) < float64(f.Power.Most())/float64(low)
}
