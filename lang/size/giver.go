package size

import (
	"fmt"
	"math"
	"slices"

	"strake/lang/circuit"
	"strake/lang/quantity"
	"strake/lang/solve"
	"strake/lang/table"
)

// battery puts a battery in, or a string of them member by member, so that a tap
// between two of them is met.
func (b *builder) battery(t circuit.Terminal) {
	it := t.Item
	if it.Bank != nil && !it.Bank.Series {
		return // its members stand for it
	}
	members := []*circuit.Item{it}
	if it.Bank != nil && len(it.Bank.Members) > 0 {
		members = it.Bank.Members
	}
	volt, ok := b.openVoltage(it, domainOf(t))
	if !ok {
		b.lack(b.wiring.node[t], "voltage of "+it.Ref)
		return
	}
	plus, out := b.wiring.node[t], t
	for k, m := range members {
		minus, back := 0, circuit.Terminal{}
		if k+1 < len(members) {
			back = circuit.Terminal{Item: members[k+1]}
			minus = b.wiring.node[back] + 1
		}
		share := b.shareOf(m, members)
		ohm, own := b.batteryOhm(m, volt*share, false)
		ok := own
		if len(members) > 1 && !ok {
			var whole float64
			whole, ok = b.batteryOhm(it, volt, false)
			ohm = whole * share
		}
		if !ok {
			b.lack(b.wiring.node[t], "resistance of "+m.Ref)
			continue
		}
		from := minus
		if it.Bank != nil && k < len(it.Bank.Links) {
			from = b.stringLink(it.Bank.Links[k], m, minus, own)
		}
		index := len(b.network.Sources)
		b.network.Sources = append(b.network.Sources, solve.Source{Plus: plus + 1, Minus: from, Volt: volt * share, Ohm: math.Max(least, ohm)})
		b.poles = append(b.poles, [2]circuit.Terminal{out, back})
		if k == 0 {
			b.provide(t, func(r *solve.Result) float64 { return r.Sources[index] })
		}
		plus, out = minus-1, back
	}
}

// provide puts a source into the report.
func (b *builder) provide(t circuit.Terminal, amps func(*solve.Result) float64) {
	node := b.wiring.node[t]
	b.given = append(b.given, given{t, node, amps, func(r *solve.Result) float64 { return r.Volts[node+1] }, nil})
}

// stringLink puts the cable between two members of a string in, one conductor,
// and gives the node at its end. The resistance of a whole string, where that is
// stated, has its links in it.
func (b *builder) stringLink(c *circuit.Cable, m *circuit.Item, to int, own bool) int {
	i, found := b.sizer.at[c]
	if !found || c.Link {
		return to
	}
	node := b.wiring.nodes
	b.wiring.nodes++
	b.network.Nodes++
	b.group = append(b.group, b.group[to-1])
	branch := solve.Branch{From: node, To: to - 1, Ohm: least}
	if c.To.Item == m {
		branch.From, branch.To = branch.To, branch.From
	}
	b.wiring.cable, b.wiring.branches, b.wiring.item = append(b.wiring.cable, i), append(b.wiring.branches, branch), append(b.wiring.item, nil)
	b.conductor(len(b.wiring.cable)-1, own)
	return node + 1
}

// shareOf is a member's part of its string's voltage.
func (b *builder) shareOf(m *circuit.Item, members []*circuit.Item) float64 {
	total := 0.0
	for _, o := range members {
		if !o.Facts.Voltage.Known() {
			return 1 / float64(len(members))
		}
		total += float64(o.Facts.Voltage.Value)
	}
	return float64(m.Facts.Voltage.Value) / total
}

// openVoltage is a battery's voltage without load as the condition says: low,
// full, else nominal.
func (b *builder) openVoltage(it *circuit.Item, d *circuit.Domain) (float64, bool) {
	for _, x := range b.condition.Settings {
		if x.Item != nil {
			continue
		}
		switch x.Batteries {
		case "low":
			v, ok := b.lowest(d)
			return float64(v), ok
		case "full":
			v, ok := b.highest(d)
			return float64(v), ok
		}
	}
	if b.everything {
		v, ok := b.lowest(d)
		return float64(v), ok
	}
	if it.Facts.Voltage.Known() {
		return float64(it.Facts.Voltage.Value), true
	}
	if it.Bank != nil {
		total := 0.0
		for _, m := range it.Bank.Members {
			if !m.Facts.Voltage.Known() {
				total = 0
				break
			}
			total += float64(m.Facts.Voltage.Value)
		}
		if total > 0 {
			return total, true
		}
	}
	if d == nil || !d.Nominal.Known() {
		return 0, false
	}
	return float64(d.Nominal.Value), true
}

// give puts a converter in, and the source that it is at its output.
func (b *builder) give(t circuit.Terminal, in string, c solve.Converter) {
	index := len(b.network.Converters)
	if f := t.Item.Facts.Idle; f.Known() && in != "" {
		c.Idle = float64(f.Most())
	}
	b.slots = append(b.slots, &index)
	c.OutPlus = b.wiring.node[t] + 1
	input := circuit.Terminal{}
	if in != "" {
		input = circuit.Terminal{Item: t.Item, Port: in}
		c.InPlus = b.wiring.node[input] + 1
	}
	b.network.Converters = append(b.network.Converters, c)
	b.pairs = append(b.pairs, [2]circuit.Terminal{t, input})
	b.provide(t, func(r *solve.Result) float64 {
		if index < 0 {
			return 0 // nothing feeds it
		}
		return r.Converters[index]
	})
	b.given[len(b.given)-1].slot = &index
}

// stored tells whether a battery stands in a node's group.
func (b *builder) stored(node int) bool {
	return slices.ContainsFunc(b.wiring.order, func(t circuit.Terminal) bool {
		return storage(t) && b.group[b.wiring.node[t]] == b.group[node]
	})
}

// converter puts in whatever has one input and one output. Chargers are off
// unless named; one that stands beside a battery holds its charging voltage.
func (b *builder) converter(t circuit.Terminal) {
	it := t.Item
	x, named := b.set.by[it]
	if named && x.Off || it.Kind == "charger" && !named && !b.everything && !b.wayOn(it) || it.Kind == "regulator" {
		return
	}
	node := b.wiring.node[t]
	d := domainOf(t)
	volt, ok := b.nominal(it, d)
	if v, top := b.highest(d); top && b.stored(node) && (d == nil || !d.AC) {
		volt, ok = float64(v), true
	}
	if !ok {
		b.lack(node, "voltage of "+it.Ref)
		return
	}
	limit, _ := b.limit(circuit.Supply{Item: it, Port: "out", Limited: true})
	if named && x.Current.Known() {
		limit = x.Current.Most()
	} else {
		limit *= quantity.Ampere(b.part(it))
	}
	b.give(t, "in", solve.Converter{Volt: volt, Limit: float64(limit), Efficiency: b.efficiency(it)})
}

// turn lets a converter that passes power both ways give at its input what it
// takes at its output; on its input it then holds that domain's voltage, and gives
// no more than its stated input, or the power of its rating.
func (b *builder) turn(k int) bool {
	out, in := b.pairs[k][0], b.pairs[k][1]
	c := &b.network.Converters[k]
	volt, ok := b.nominal(&circuit.Item{}, domainOf(in))
	if !ok {
		b.lack(b.wiring.node[in], "voltage of the domain of "+in.String())
		return false
	}
	limit := float64(c.Limit) * c.Volt / volt
	if f := in.Item.Facts.Input; f.Known() {
		limit = float64(f.Least())
	}
	*c = solve.Converter{InPlus: c.OutPlus, InMinus: c.OutMinus, OutPlus: c.InPlus, OutMinus: c.InMinus, Volt: volt, Limit: limit, Efficiency: c.Efficiency, Idle: c.Idle}
	b.pairs[k] = [2]circuit.Terminal{in, out}
	node := b.wiring.node[in]
	for i := range b.given {
		if g := &b.given[i]; g.at == out {
			g.at, g.node = in, node
			g.volts = func(r *solve.Result) float64 { return r.Volts[node+1] }
		}
	}
	b.notes = append(b.notes, in.Item.Ref+" passes power both ways; here nothing else feeds its input, and it is taken from its output to its input")
	return true
}

// part is how much of a charger's rating a condition leaves it: by what it says
// of the charger, or of the board whose way feeds it.
func (b *builder) part(it *circuit.Item) float64 {
	t := circuit.Terminal{Item: it, Port: "in"}
	rated, _ := b.sizer.demand(t, b.at.passes(it))
	x, ok := b.set.by[it]
	share := 1.0
	if w := b.set.fedBy(t); !ok && w != nil {
		x, ok = b.set.by[w.Board]
		share = b.set.share(w)
	}
	if !ok || rated <= 0 || it.Kind != "charger" {
		return 1
	}
	return math.Min(1, float64(b.set.set(x, t, rated, share)/rated))
}

// wayOn tells whether a board whose way feeds an item is on.
func (b *builder) wayOn(it *circuit.Item) bool {
	for _, p := range it.Ports {
		if x, ok := b.governs(circuit.Terminal{Item: it, Port: p.Name}); ok {
			return !x.Off
		}
	}
	return false
}

func (b *builder) nominal(it *circuit.Item, d *circuit.Domain) (float64, bool) {
	switch {
	case it.Facts.Voltage.Known():
		return float64(it.Facts.Voltage.Value), true
	case d != nil && d.Nominal.Known():
		return float64(d.Nominal.Value), true
	}
	return 0, false
}

// inverterCharger inverts, or passes through and charges.
func (b *builder) inverterCharger(t circuit.Terminal) {
	it := t.Item
	x, named := b.set.by[it]
	node := b.wiring.node[t]
	switch {
	case named && x.Off:
	case t.Port == "out" || t.Port == "out1":
		if volt, ok := b.nominal(&circuit.Item{}, domainOf(t)); ok && !b.at.passes(it) {
			limit, _ := b.limit(circuit.Supply{Item: it, Port: t.Port, Limited: true})
			b.give(t, "dc", solve.Converter{Volt: volt, Limit: float64(limit), Efficiency: b.efficiency(it)})
		} else if !ok {
			b.lack(node, "voltage of "+it.Ref)
		}
	case t.Port == "dc" && b.at.passes(it) && (named && x.Charge || b.everything):
		volt, ok := b.highest(domainOf(t))
		limit := it.Facts.Charge.Most()
		if x.Current.Known() {
			limit = x.Current.Most()
		}
		if !ok || limit <= 0 {
			b.lack(node, "charge current of "+it.Ref)
			return
		}
		in := "in"
		if !it.HasPort(in) {
			in = "in1"
		}
		b.give(t, in, solve.Converter{Volt: float64(volt), Limit: float64(limit), Efficiency: b.efficiency(it)})
	}
}

// array puts what an array gives at its regulator's two sides.
func (b *builder) array(t circuit.Terminal) {
	x, named := b.set.by[t.Item]
	d := domainOf(t)
	volt, ok := workingVoltage(t.Item, d)
	if !named || x.Off || !x.Power.Known() || !ok {
		return
	}
	node := b.wiring.node[t]
	watts := float64(x.Power.Value)
	if slices.ContainsFunc(b.network.Held, func(h solve.Hold) bool { return h.Node == node+1 }) {
		b.lack(node, "what each array of one string gives: "+t.Item.Ref+" meets another")
		return
	}
	b.hold(t, volt)
	for _, other := range b.wiring.order {
		if other.Item.Kind != "regulator" || other.Port != "in" || b.group[b.wiring.node[other]] != b.group[node] {
			continue
		}
		out := circuit.Terminal{Item: other.Item, Port: "out"}
		efficiency := b.efficiency(other.Item)
		if limit, ok := b.limit(circuit.Supply{Item: other.Item, Port: "out", Limited: true}); ok {
			if v, ok := b.standing(out); ok { // it lets through what it is rated for
				watts = math.Min(watts, float64(limit)*v/efficiency)
			}
		}
		b.take(other, solve.Load{Watts: watts})
		b.take(out, solve.Load{Watts: -watts * efficiency})
		return
	}
}

// standing is the voltage without load of the battery in a terminal's group, or
// the terminal's nominal one.
func (b *builder) standing(t circuit.Terminal) (float64, bool) {
	for _, o := range b.wiring.order {
		if storage(o) && b.group[b.wiring.node[o]] == b.group[b.wiring.node[t]] {
			return b.openVoltage(o.Item, domainOf(o))
		}
	}
	return b.nominal(t.Item, domainOf(t))
}

// hold puts in a source that holds its voltage.
func (b *builder) hold(t circuit.Terminal, volt float64) {
	index := len(b.network.Held)
	b.network.Held = append(b.network.Held, solve.Hold{Node: b.wiring.node[t] + 1, Volt: volt})
	b.held = append(b.held, t)
	b.provide(t, func(r *solve.Result) float64 { return r.Held[index] })
}

// workingVoltage is an array's voltage at work: its domain's, or by its
// open-circuit voltage.
func workingVoltage(it *circuit.Item, d *circuit.Domain) (float64, bool) {
	switch f := it.Facts; {
	case d != nil && d.Nominal.Known():
		return float64(d.Nominal.Value), true
	case f.Voc.Known():
		return table.WorkingShare * float64(f.Voc.Value) * float64(max(1, f.InSeries)), true
	}
	return 0, false
}

// generator puts in what gives current by itself and is off unless named.
func (b *builder) generator(t circuit.Terminal) {
	it := t.Item
	x := b.set.by[it]
	if !b.on(it) {
		return
	}
	node := b.wiring.node[t]
	d := domainOf(t)
	if d != nil && d.AC {
		volt, ok := b.nominal(&circuit.Item{}, d)
		if !ok {
			b.lack(node, fmt.Sprintf("voltage of %s", it.Ref))
			return
		}
		if slices.ContainsFunc(b.network.Held, func(h solve.Hold) bool { return h.Node == node+1 }) {
			b.provide(t, func(*solve.Result) float64 { return 0 }) // two on one conductor: share leaves it open
			return
		}
		if f := it.Facts.ShortCircuit; f.Known() && f.Value > 0 { // the impedance of the way to it, ashore or inside it
			index := len(b.network.Sources)
			b.network.Sources = append(b.network.Sources, solve.Source{Plus: node + 1, Minus: 0, Volt: volt, Ohm: math.Max(least, volt/float64(f.Least())/phases(d))})
			b.poles = append(b.poles, [2]circuit.Terminal{t, {}})
			b.provide(t, func(r *solve.Result) float64 { return r.Sources[index] })
			return
		}
		b.hold(t, volt)
		return
	}
	volt, ok := b.nominal(it, d)
	if v, top := b.highest(d); top && !it.Facts.Voltage.Known() {
		volt, ok = float64(v), true
	}
	limit, known := b.limit(circuit.Supply{Item: it})
	if x.Current.Known() {
		limit, known = x.Current.Most(), true
	}
	if x.Power.Known() && volt > 0 {
		limit, known = quantity.Ampere(float64(x.Power.Most())/volt), true
	}
	if !ok || !known {
		b.lack(node, "voltage and current of "+it.Ref)
		return
	}
	b.give(t, "", solve.Converter{Volt: volt, Limit: float64(limit), Efficiency: 1})
}
