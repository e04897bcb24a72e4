package size

import (
	"fmt"
	"math"
	"slices"

	"strake/lang/circuit"
	"strake/lang/quantity"
	"strake/lang/solve"
)

// least is the resistance of a cable that has next to none.
const least = 1e-6

// builder makes a network of a craft in a condition. Node 0 is the reference;
// node n of the wiring is n+1 of the network.
type builder struct {
	*sizer
	condition  circuit.Condition
	config     circuit.Configuration
	everything bool

	set     settings
	at      situation
	wiring  *wiring
	group   []int
	network solve.Network
	cold    []float64          // of each branch: ohm at 20 °C, 0 for what has none
	loads   []circuit.Terminal // of each load of the network
	given   []given
	unknown map[int]bool // groups of which something is not known
	missing []string
}

// given is a source of the report.
type given struct {
	item  *circuit.Item
	node  int
	amps  func(*solve.Result) float64
	volts func(*solve.Result) float64
}

func (b *builder) build() {
	b.situate()
	b.wiring = b.wire(b.at, func(int) float64 { return least }, nil)
	b.group = b.groups(b.wiring)
	b.network = solve.Network{Nodes: b.wiring.nodes + 1, Held: []solve.Hold{{Node: 0}}}
	b.conductors()
	for _, t := range b.wiring.order {
		if b.at.off[t.Item] && !t.Item.Nature().Opens {
			continue
		}
		b.place(t)
	}
}

// situate finds what is on, which way changeovers stand, and whether
// inverter-chargers pass through.
func (b *builder) situate() {
	b.set = settings{s: b.sizer, by: map[*circuit.Item]circuit.Setting{}, config: b.config}
	b.at = situation{config: b.config, position: map[*circuit.Item]string{}, off: map[*circuit.Item]bool{}}
	for _, x := range b.condition.Settings {
		switch {
		case x.Item == nil:
		case x.Item.Kind == "changeover" && x.Port != "" && x.On:
			b.at.position[x.Item] = x.Port
		default:
			b.set.by[x.Item] = x
		}
	}
	for _, it := range b.sys.Items {
		x, named := b.set.by[it]
		if it.Kind == "changeover" && b.at.position[it] == "" {
			b.at.position[it] = b.usual(it)
		}
		if n := it.Nature(); (n.Opens || n.Protects) && (named && x.Off || it.Facts.UsualOff && !(named && x.On)) {
			b.at.off[it] = true
		}
	}
	b.at.transfer = b.fedFromShore()
}

// usual is where a changeover stands unless it is said: off, or where the text
// says that it usually is; with everything on, at its first position.
func (b *builder) usual(it *circuit.Item) string {
	if it.Facts.Usually != "" {
		return it.Facts.Usually
	}
	if b.everything {
		for _, p := range it.Ports {
			if p.Name != "out" {
				return p.Name
			}
		}
	}
	return "off"
}

// fedFromShore tells whether an inverter-charger's input is live.
func (b *builder) fedFromShore() bool {
	view := circuit.View{Configuration: b.config, Position: b.at.position, Open: b.at.off, Through: true}
	for _, it := range b.sys.Items {
		if it.Kind != "inverter-charger" {
			continue
		}
		for _, p := range it.Ports {
			if p.Name != "in" && p.Name != "in1" && p.Name != "in2" {
				continue
			}
			for _, o := range b.net.Origin([]circuit.Terminal{{Item: it, Port: p.Name}}, view) {
				if mains(o.Item) && b.on(o.Item) {
					return true
				}
			}
		}
	}
	return false
}

func mains(it *circuit.Item) bool {
	return (it.Kind == "inlet" || it.Kind == "generator") && it.Domain != nil && it.Domain.AC
}

// on tells whether a source that is off unless named is on: named itself, or
// behind a changeover that was put to it.
func (b *builder) on(it *circuit.Item) bool {
	if x, ok := b.set.by[it]; ok {
		return !x.Off
	}
	if b.everything {
		return true
	}
	view := circuit.View{Configuration: b.config, Position: b.at.position, Through: true}
	for _, c := range b.sys.Items {
		position := b.at.position[c]
		if c.Kind != "changeover" || position == "off" || position == "" {
			continue
		}
		if slices.ContainsFunc(b.condition.Settings, func(x circuit.Setting) bool { return x.Item == c && x.On }) &&
			slices.ContainsFunc(b.net.Origin([]circuit.Terminal{{Item: c, Port: position}}, view), func(t circuit.Terminal) bool { return t.Item == it }) {
			return true
		}
	}
	return false
}

// conductors gives the cables their branches.
func (b *builder) conductors() {
	for k, i := range b.wiring.cable {
		c := &b.cables[i]
		at := b.wiring.branches[k]
		ohm := 0.0
		length, ok := loop(c.Of)
		if ok && c.Area.Known {
			per, found := b.perMetre(c.Of, c.Area.Value)
			ohm, ok = per*float64(length)/float64(c.Parallel), found
		} else {
			ok = false
		}
		if !ok && c.Of.From.Item != nil && c.Of.To.Item != nil {
			b.lack(at.From, "length and size of "+c.Of.ID)
		}
		b.cold = append(b.cold, ohm)
		b.network.Branches = append(b.network.Branches, solve.Branch{From: at.From + 1, To: at.To + 1, Ohm: math.Max(least, ohm)})
	}
}

// lack says that something of a node's group is not known.
func (b *builder) lack(node int, fact string) {
	b.unknown[b.group[node]] = true
	if !slices.Contains(b.missing, fact) {
		b.missing = append(b.missing, fact)
	}
}

// place puts what stands at a terminal into the network.
func (b *builder) place(t circuit.Terminal) {
	it := t.Item
	n := it.Nature()
	switch {
	case storage(t):
		b.battery(t)
	case it.Kind == "array":
		b.array(t)
	case it.Kind == "inverter-charger":
		b.inverterCharger(t)
	case n.Converts && t.Port == "out":
		b.converter(t)
	case n.Converts:
	case n.Source && t.Port == "":
		b.generator(t)
	default:
		b.load(t)
	}
}

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
	plus := b.wiring.node[t]
	for k, m := range members {
		minus := 0
		if k+1 < len(members) {
			minus = b.wiring.node[circuit.Terminal{Item: members[k+1]}] + 1
		}
		share := b.shareOf(m, members)
		ohm, ok := b.batteryOhm(m, volt*share)
		if len(members) > 1 && !ok {
			if whole, found := b.batteryOhm(it, volt); found {
				ohm, ok = whole*share, true
			}
		}
		if !ok {
			b.lack(b.wiring.node[t], "resistance of "+m.Ref)
			continue
		}
		if it.Bank != nil && k < len(it.Bank.Links) {
			if i, found := b.sizer.at[it.Bank.Links[k]]; found && !it.Bank.Links[k].Link {
				ohm += b.coldOhms(i) / 2 // one conductor
			}
		}
		index := len(b.network.Sources)
		b.network.Sources = append(b.network.Sources, solve.Source{Plus: plus + 1, Minus: minus, Volt: volt * share, Ohm: math.Max(least, ohm)})
		if k == 0 {
			node := plus
			b.given = append(b.given, given{it, node, func(r *solve.Result) float64 { return r.Sources[index] },
				func(r *solve.Result) float64 { return r.Volts[node+1] }})
		}
		plus = minus - 1
	}
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
func (b *builder) give(t circuit.Terminal, c solve.Converter) {
	index, node := len(b.network.Converters), b.wiring.node[t]
	c.OutPlus = node + 1
	b.network.Converters = append(b.network.Converters, c)
	b.given = append(b.given, given{t.Item, node, func(r *solve.Result) float64 { return r.Converters[index] },
		func(r *solve.Result) float64 { return r.Volts[node+1] }})
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
		limit = mostOf(x.Current)
	}
	in := b.wiring.node[circuit.Terminal{Item: it, Port: "in"}]
	b.give(t, solve.Converter{InPlus: in + 1, Volt: volt, Limit: float64(limit), Efficiency: b.efficiency(it)})
}

// wayOn tells whether a board whose way feeds an item is on.
func (b *builder) wayOn(it *circuit.Item) bool {
	w := b.set.fedBy(circuit.Terminal{Item: it, Port: "in"})
	if w == nil {
		return false
	}
	x, ok := b.set.by[w.Board]
	return ok && !x.Off
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
	dc := b.wiring.node[circuit.Terminal{Item: it, Port: "dc"}]
	switch {
	case named && x.Off:
	case t.Port == "out" || t.Port == "out1":
		if volt, ok := b.nominal(&circuit.Item{}, domainOf(t)); ok && !b.at.transfer {
			limit, _ := b.limit(circuit.Supply{Item: it, Port: t.Port, Limited: true})
			b.give(t, solve.Converter{InPlus: dc + 1, Volt: volt, Limit: float64(limit), Efficiency: b.efficiency(it)})
		} else if !ok {
			b.lack(node, "voltage of "+it.Ref)
		}
	case t.Port == "dc" && b.at.transfer && (named && x.Charge || b.everything):
		volt, ok := b.highest(domainOf(t))
		limit := mostOf(it.Facts.Charge)
		if x.Current.Known() {
			limit = mostOf(x.Current)
		}
		if !ok || limit <= 0 {
			b.lack(node, "charge current of "+it.Ref)
			return
		}
		in := "in"
		if !it.HasPort(in) {
			in = "in1"
		}
		ac := b.wiring.node[circuit.Terminal{Item: it, Port: in}]
		b.give(t, solve.Converter{InPlus: ac + 1, Volt: float64(volt), Limit: float64(limit), Efficiency: b.efficiency(it)})
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
	index := len(b.network.Held)
	b.network.Held = append(b.network.Held, solve.Hold{Node: node + 1, Volt: volt})
	b.given = append(b.given, given{t.Item, node, func(r *solve.Result) float64 { return r.Held[index] },
		func(r *solve.Result) float64 { return r.Volts[node+1] }})
	for _, other := range b.wiring.order {
		if other.Item.Kind != "regulator" || other.Port != "in" || b.group[b.wiring.node[other]] != b.group[node] {
			continue
		}
		out := circuit.Terminal{Item: other.Item, Port: "out"}
		b.take(other, solve.Load{Watts: watts})
		b.take(out, solve.Load{Watts: -watts * b.efficiency(other.Item)})
		return
	}
}

// workingVoltage is an array's voltage at work: its domain's, or 0.8 of its
// open-circuit voltage (common practice).
func workingVoltage(it *circuit.Item, d *circuit.Domain) (float64, bool) {
	switch f := it.Facts; {
	case d != nil && d.Nominal.Known():
		return float64(d.Nominal.Value), true
	case f.Voc.Known():
		return 0.8 * float64(f.Voc.Value) * float64(max(1, f.InSeries)), true
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
			return
		}
		index := len(b.network.Held)
		b.network.Held = append(b.network.Held, solve.Hold{Node: node + 1, Volt: volt})
		b.given = append(b.given, given{it, node, func(r *solve.Result) float64 { return r.Held[index] },
			func(r *solve.Result) float64 { return r.Volts[node+1] }})
		return
	}
	volt, ok := b.nominal(it, d)
	if v, top := b.highest(d); top && !it.Facts.Voltage.Known() {
		volt, ok = float64(v), true
	}
	limit, known := b.limit(circuit.Supply{Item: it})
	if x.Current.Known() {
		limit, known = mostOf(x.Current), true
	}
	if x.Power.Known() && volt > 0 {
		limit, known = quantity.Ampere(float64(mostOf(x.Power))/volt), true
	}
	if !ok || !known {
		b.lack(node, "voltage and current of "+it.Ref)
		return
	}
	b.give(t, solve.Converter{Volt: volt, Limit: float64(limit), Efficiency: 1})
}

// take puts a load in at a terminal.
func (b *builder) take(t circuit.Terminal, l solve.Load) {
	l.Plus = b.wiring.node[t] + 1
	b.network.Loads = append(b.network.Loads, l)
	b.loads = append(b.loads, t)
}

// load puts in what takes power: constant power where it is stated in watts,
// constant current where in amperes.
func (b *builder) load(t circuit.Terminal) {
	rated, wanting := b.demand(t, b.at.transfer)
	if steady, ok := b.steady(t); ok && t.Item.Nature().Load {
		rated = min(rated, steady)
	}
	amps := rated
	if !b.everything {
		amps = b.set.demand(t, 0)
	}
	x, named := b.set.by[t.Item]
	switch {
	case named && x.Gives && x.Power.Known():
		b.take(t, solve.Load{Watts: -float64(x.Power.Value)})
	case amps <= 0:
		if wanting != "" && (b.everything || named && !x.Off) {
			b.lack(b.wiring.node[t], wanting)
		}
	case t.Item.Facts.Power.Known() && !(named && x.Current.Known()) && !b.capped(t):
		low, ok := b.lowest(domainOf(t))
		if !ok {
			return
		}
		b.take(t, solve.Load{Watts: float64(amps) * float64(low)})
	default:
		b.take(t, solve.Load{Amps: float64(amps)})
	}
}

// capped tells a load whose stated current is less than its power asks at the
// lowest voltage: it takes that current.
func (b *builder) capped(t circuit.Terminal) bool {
	f := t.Item.Facts
	low, ok := b.lowest(domainOf(t))
	return ok && f.Current.Known() && float64(mostOf(f.Current)) < float64(mostOf(f.Power))/float64(low)
}
