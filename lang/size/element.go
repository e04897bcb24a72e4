package size

import (
	"strings"

	"strake/lang/circuit"
	"strake/lang/quantity"
	"strake/lang/solve"
	"strake/lang/table"
)

// Element is one thing that carries current in a condition and has a limit to it.
type Element struct {
	Name    string         // fuse F5, cable F5-M1, discharge of B1
	Of      *circuit.Item  // the thing, or
	Cable   *circuit.Cable // the cable
	Limit   quantity.Opt[quantity.Ampere]
	Back    quantity.Opt[quantity.Ampere] // limit of a current the other way; of a battery that of its charge
	Current quantity.Opt[quantity.Ampere] // of a bar without direction: what passes it
}

// meter reads an element's current from a solution.
type meter struct {
	Element
	node int // where it stands: its group tells whether the current is known
	read func(*flowing) float64
}

// flowing is a solution with the currents through what joins terminals without
// resistance: devices, links, bars.
type flowing struct {
	*solve.Result
	joints []float64 // of each joint, from its first terminal to its second
	bars   map[int]float64
}

// jointed is the terminals as a network of the joints between them.
type jointed struct {
	index    map[circuit.Terminal]int
	order    []circuit.Terminal
	joints   []solve.Branch // one ohm each: of a tree the currents are true, side by side they are shared
	solution *solve.Solution
}

// join finds the joints: devices that are closed, links, a board's bar with its
// ways, a bank in parallel with its first member.
func (b *builder) join() *jointed {
	j := &jointed{index: map[circuit.Terminal]int{}, order: b.wiring.order}
	for i, t := range j.order {
		j.index[t] = i
	}
	seen := map[[2]int]bool{}
	add := func(a, c circuit.Terminal) {
		x, ok1 := j.index[a]
		y, ok2 := j.index[c]
		if ok1 && ok2 && x != y && !seen[[2]int{x, y}] && !seen[[2]int{y, x}] {
			seen[[2]int{x, y}] = true
			j.joints = append(j.joints, solve.Branch{From: x, To: y, Ohm: 1})
		}
	}
	var inside []int
	for i, t := range b.terminals {
		if !t.Item.Status.In(b.config) {
			continue
		}
		inside = b.inside(inside[:0], i, b.at)
		for _, k := range inside {
			o := b.terminals[k]
			if t.Item == o.Item && t.Port == "out" || t.Item.Kind == "inverter-charger" && strings.HasPrefix(t.Port, "out") {
				add(o, t)
			} else {
				add(t, o)
			}
		}
	}
	for i := range b.cables {
		c := b.cables[i].Of
		from, ok1 := c.From.Terminal()
		to, ok2 := c.To.Terminal()
		if c.Link && ok1 && ok2 && c.Status.In(b.config) && !c.InString() && b.wiring.node[from] == b.wiring.node[to] {
			add(from, to)
		}
	}
	first := map[int]bool{}
	var held []int
	for i, t := range j.order {
		if n := b.wiring.node[t]; !first[n] {
			first[n] = true
			held = append(held, i)
		}
	}
	j.solution = solve.Linear{Nodes: len(j.order), Branches: j.joints, Held: held}.Solve()
	return j
}

// flows works out what passes the joints in a solution; extra is current taken at
// one more terminal.
func (b *builder) flows(j *jointed, r *solve.Result, extra circuit.Terminal, amps float64) *flowing {
	into := make([]float64, len(j.order))
	through := make([]float64, len(j.order)) // of each terminal, both ways together
	put := func(t circuit.Terminal, amps float64) {
		if i, ok := j.index[t]; ok {
			into[i] += amps
			if amps < 0 {
				through[i] -= amps
			} else {
				through[i] += amps
			}
		}
	}
	for k, i := range b.wiring.cable {
		c := b.cables[i].Of
		if from, ok := c.From.Terminal(); ok {
			put(from, -r.Branches[k])
		}
		if to, ok := c.To.Terminal(); ok {
			put(to, r.Branches[k])
		}
	}
	for k, p := range b.poles {
		put(p[0], r.Sources[k])
		put(p[1], -r.Sources[k])
	}
	for k, p := range b.pairs {
		put(p[0], r.Converters[k])
		put(p[1], -r.Inputs[k])
	}
	for k, t := range b.held {
		put(t, r.Held[k+1])
	}
	for k, t := range b.loads {
		put(t, -r.Loads[k])
	}
	if extra.Item != nil {
		put(extra, -amps)
	}
	f := &flowing{Result: r, bars: map[int]float64{}}
	v := j.solution.Voltages(into)
	for _, k := range j.joints {
		i := v[k.From] - v[k.To]
		f.joints = append(f.joints, i)
		if i < 0 {
			i = -i
		}
		through[k.From] += i
		through[k.To] += i
	}
	for i, sum := range through {
		f.bars[i] = sum / 2
	}
	return f
}

// meters lists what carries current and has, or should have, a limit: cables,
// devices, bars, batteries, converters, sources.
func (b *builder) meters(j *jointed) []meter {
	var list []meter
	for k, i := range b.wiring.cable {
		c := &b.cables[i]
		list = append(list, meter{Element{Name: "cable " + c.Of.ID, Cable: c.Of, Limit: c.Ampacity, Back: c.Ampacity},
			b.wiring.branches[k].From, func(f *flowing) float64 { return f.Branches[k] }})
	}
	for k, branch := range j.joints {
		from, to := j.order[branch.From], j.order[branch.To]
		if from.Item != to.Item {
			continue
		}
		limit := b.rating(from.Item)
		name := string(from.Item.Kind) + " " + from.Item.Ref
		if from.Item.Kind == "inverter-charger" {
			limit, name = from.Item.Facts.Transfer.Opt(), "transfer of "+from.Item.Ref
		}
		list = append(list, meter{Element{Name: name, Of: from.Item, Limit: limit, Back: limit}, b.wiring.node[from],
			func(f *flowing) float64 { return f.joints[k] }})
	}
	for i, t := range j.order {
		if t.Item.Nature().Conductive {
			limit := b.rating(t.Item)
			list = append(list, meter{Element{Name: string(t.Item.Kind) + " " + t.Item.Ref, Of: t.Item, Limit: limit, Back: limit}, b.wiring.node[t],
				func(f *flowing) float64 { return f.bars[i] }})
		}
	}
	for k, p := range b.poles {
		t := p[0]
		accepts, _ := Acceptance(t.Item)
		gives, _ := Discharge(t.Item)
		e := Element{Name: "discharge of " + t.Item.Ref, Of: t.Item, Limit: gives, Back: accepts}
		if !storage(t) && t.Item.MemberOf == nil { // a source behind an impedance
			e = b.sourceElement(t)
		}
		list = append(list, meter{e, b.wiring.node[t], func(f *flowing) float64 { return f.Sources[k] }})
	}
	for k, p := range b.pairs {
		c := b.network.Converters[k]
		e := Element{Name: string(p[0].Item.Kind) + " " + p[0].Item.Ref, Of: p[0].Item}
		if c.Limit > 0 {
			e.Limit = quantity.Some(quantity.Ampere(c.Limit))
			e.Back = e.Limit
		}
		list = append(list, meter{e, b.wiring.node[p[0]], func(f *flowing) float64 { return f.Converters[k] }})
		if f := p[1].Item; f != nil && f.Facts.Input.Known() && p[1].Port == "in" {
			list = append(list, meter{Element{Name: "input of " + f.Ref, Of: f, Limit: quantity.Some(f.Facts.Input.Least()), Back: quantity.Some(f.Facts.Input.Least())}, b.wiring.node[p[1]],
				func(f *flowing) float64 { return f.Inputs[k] }})
		}
	}
	for k, t := range b.held {
		if t.Item.Kind == "array" {
			continue // what it gives is said
		}
		list = append(list, meter{b.sourceElement(t), b.wiring.node[t], func(f *flowing) float64 { return f.Held[k+1] }})
	}
	return list
}

func (b *builder) sourceElement(t circuit.Terminal) Element {
	e := Element{Name: string(t.Item.Kind) + " " + t.Item.Ref, Of: t.Item}
	if i, ok := b.limit(circuit.Supply{Item: t.Item}); ok {
		e.Limit, e.Back = quantity.Some(i), quantity.Some(i)
	}
	return e
}

// Discharge is the current that a battery may give: stated, of a string the
// least of its members', of a bank side by side their sum; of a lithium pack that
// says nothing a share of its capacity by the table of chemistries, and assumed.
func Discharge(it *circuit.Item) (amps quantity.Opt[quantity.Ampere], assumed bool) {
	return batteryLimit(it, func(f circuit.Facts) circuit.Fact[quantity.Ampere] { return f.Discharge },
		func(c table.Chemistry) float64 {
			if !c.Lithium {
				return 0
			}
			return c.DischargeC
		})
}

// Acceptance is the current with which a battery may be charged, alike; assumed
// tells that it is a share of its capacity.
func Acceptance(it *circuit.Item) (amps quantity.Opt[quantity.Ampere], assumed bool) {
	return batteryLimit(it, func(f circuit.Facts) circuit.Fact[quantity.Ampere] { return f.Charge },
		func(c table.Chemistry) float64 { return c.ChargeC })
}

func batteryLimit(it *circuit.Item, stated func(circuit.Facts) circuit.Fact[quantity.Ampere], perAh func(table.Chemistry) float64) (amps quantity.Opt[quantity.Ampere], assumed bool) {
	if f := stated(it.Facts); f.State != circuit.Unstated {
		if !f.Known() {
			return amps, false
		}
		return quantity.Some(f.Least()), false
	}
	if it.Bank != nil && len(it.Bank.Members) > 0 {
		for i, m := range it.Bank.Members {
			one, byTable := batteryLimit(m, stated, perAh)
			assumed = assumed || byTable
			switch {
			case !one.Known:
				return one, false
			case i == 0:
				amps = one
			case it.Bank.Series:
				amps.Value = min(amps.Value, one.Value)
			default:
				amps.Value += one.Value
			}
		}
		return amps, assumed
	}
	c, ok := table.ChemistryOf(it.Facts.Chemistry)
	if share := perAh(c.Value); ok && share > 0 && it.Facts.Capacity.Known() {
		return quantity.Some(quantity.Ampere(share * float64(it.Facts.Capacity.Least()))), true
	}
	return amps, false
}
