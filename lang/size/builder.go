package size

import (
	"math"
	"slices"

	"strake/lang/circuit"
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
	detailed   bool // work out elements and loads too

	set     settings
	at      situation
	wiring  *wiring
	group   []int
	network solve.Network
	cold    []float64             // of each branch: ohm at 20 °C, 0 for what has none
	loads   []circuit.Terminal    // of each load of the network
	poles   [][2]circuit.Terminal // of each source of the network: where its current comes out, and where it goes in
	pairs   [][2]circuit.Terminal // of each converter: its output and its input
	slots   []*int                // of each converter: its number, for the report
	held    []circuit.Terminal    // of each held node but the reference
	given   []given
	unknown map[int]bool // groups of which something is not known
	missing []string
	notes   []string        // what was left off, and why
	taken   map[int]*weight // what takes alternating current, by group
}

// weight is what takes alternating current in a group, as apparent and as real
// power: together its power factor.
type weight struct{ apparent, real float64 }

// given is a source of the report.
type given struct {
	at    circuit.Terminal
	node  int
	amps  func(*solve.Result) float64
	volts func(*solve.Result) float64
	slot  *int // of a converter: its number, below 0 where nothing feeds it
}

func (b *builder) build() {
	b.situate()
	b.wiring = b.wire(b.at, func(int) float64 { return least }, nil)
	b.group = b.groups(b.wiring)
	b.taken = map[int]*weight{}
	b.network = solve.Network{Nodes: b.wiring.nodes + 1, Held: []solve.Hold{{Node: 0}}}
	b.conductors()
	for _, t := range b.wiring.order {
		if b.at.off[t.Item] && !t.Item.Nature().Opens {
			continue
		}
		b.place(t)
	}
	b.starve()
	b.share()
	b.factors()
}

// starve takes out the converters that nothing feeds: a charger without shore, a
// transformer without its inlet give nothing.
func (b *builder) starve() {
	at := func(t circuit.Terminal) int { return b.group[b.wiring.node[t]] }
	fed := b.fed()
	for turned := true; turned; {
		turned = false
		for k, p := range b.pairs {
			if in, out := p[1], p[0]; in.Item != nil && in.Item.Facts.BothWays && out.Port == "out" && !fed[at(in)] && fed[at(out)] && b.turn(k) {
				turned, fed = true, b.fed()
				break
			}
		}
	}
	var converters []solve.Converter
	var pairs [][2]circuit.Terminal
	var slots []*int
	for k, p := range b.pairs {
		if p[1].Item != nil && !fed[at(p[1])] {
			*b.slots[k] = -1
			continue
		}
		*b.slots[k] = len(converters)
		converters, pairs, slots = append(converters, b.network.Converters[k]), append(pairs, p), append(slots, b.slots[k])
	}
	b.network.Converters, b.pairs, b.slots = converters, pairs, slots
}

// fed is the groups of nodes that a source reaches.
func (b *builder) fed() map[int]bool {
	fed := map[int]bool{}
	at := func(t circuit.Terminal) int { return b.group[b.wiring.node[t]] }
	for _, p := range b.poles {
		fed[at(p[0])] = true
	}
	for _, t := range b.held {
		fed[at(t)] = true
	}
	for k, t := range b.loads {
		if l := b.network.Loads[k]; l.Watts < 0 || l.Amps < 0 {
			fed[at(t)] = true
		}
	}
	for range b.pairs {
		for _, p := range b.pairs {
			if p[1].Item == nil || fed[at(p[1])] {
				fed[at(p[0])] = true
			}
		}
	}
	return fed
}

// share leaves open what is fed by two alternating supplies on one conductor: what
// each of them gives depends on their angles, of which nothing is known.
func (b *builder) share() {
	first := map[int]*circuit.Item{}
	for _, g := range b.given {
		group := b.group[g.node]
		switch other := first[group]; {
		case !alternating(g.at) || g.slot != nil && *g.slot < 0:
		case other == nil:
			first[group] = g.at.Item
		case other != g.at.Item:
			b.lack(g.node, "what "+other.Ref+" and "+g.at.Item.Ref+" each give, two supplies on one conductor")
		}
	}
}

// conductors gives the cables their branches.
func (b *builder) conductors() {
	for k := range b.wiring.cable {
		b.conductor(k, true)
	}
}

// conductor gives a cable its branch; one whose resistance is counted elsewhere
// has next to none.
func (b *builder) conductor(k int, counts bool) {
	c := &b.cables[b.wiring.cable[k]]
	at := b.wiring.branches[k]
	ohm := 0.0
	length, ok := loop(c.Of)
	if ok && c.Area.Known {
		per, found := b.perMetre(c.Of, c.Area.Value)
		ohm, ok = per*float64(length)/float64(c.Parallel), found
	} else {
		ok = false
	}
	switch {
	case ok || !counts || c.Of.From.Item == nil || c.Of.To.Item == nil:
	case c.Of.InString():
		b.missing = append(b.missing, "length and size of "+c.Of.ID+", whose resistance is left out")
	default:
		b.lack(at.From, "length and size of "+c.Of.ID)
	}
	if !counts {
		ohm = 0
	}
	b.cold = append(b.cold, ohm)
	b.network.Branches = append(b.network.Branches, solve.Branch{From: at.From + 1, To: at.To + 1, Ohm: math.Max(least, ohm)})
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
		b.consume(t)
	}
}
