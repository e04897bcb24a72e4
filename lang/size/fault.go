package size

import (
	"math"

	"strake/lang/circuit"
	"strake/lang/quantity"
	"strake/lang/solve"
	"strake/lang/table"
)

// Fault levels by one convention. The maximum: the domain's highest voltage, 0.9
// times a battery's resistance, cables of class 2 plain at 20 °C, no resistance
// of contacts, everything closed. The minimum: the lowest voltage, one source at
// a time and the weakest of them, twice the resistance that a battery states,
// cables at the limit of their insulation, contacts in. Sources that limit their
// current give that limit; beside a battery they do not count for the minimum.
// Whether devices open is judged with each source alone and with all at once.

const (
	freshShare = 0.9    // of a battery's resistance, for the maximum (IEC 61660-1, from memory)
	agedShare  = 2      // of a battery's resistance, for the minimum, common practice
	fuseDrop   = 0.1    // volt at rated current, common practice
	switchOhm  = 0.0005 // a closed contact, common practice
)

// level is a supply as a fault sees it.
type level struct {
	node    int
	volt    float64
	ohm     float64 // of a battery
	amps    float64 // of one that limits its current
	limited bool
	shore   bool // ohm is the impedance of a supply ashore
	of      *circuit.Item
}

// faults works out the fault levels of every node and gives them to the cables
// and devices.
func (s *sizer) faults() {
	for i := range s.cables {
		c := &s.cables[i]
		c.FaultMax, c.FaultMin = quantity.Opt[quantity.Ampere]{}, quantity.Opt[quantity.Ampere]{}
		c.StaysShut, c.OpensIn, c.OpensAt = false, quantity.Opt[quantity.Second]{}, quantity.Opt[quantity.Ampere]{}
		c.OpenedBy, c.Limits = nil, nil
	}
	for i := range s.devices {
		s.devices[i].FaultMax, s.devices[i].Missing = quantity.Opt[quantity.Ampere]{}, nil
	}
	s.maximum()
	s.minimum()
}

// maximum works out the largest fault current of every node: all sources at once.
func (s *sizer) maximum() {
	st := situation{transfer: true, config: circuit.FullyEquipped}
	w := s.wire(st, s.coldOhms, nil)
	group := s.groups(w)
	unknown := map[int][]string{} // facts missing, by group
	net := solve.Linear{Nodes: w.nodes, Branches: w.branches}
	extra := make([]float64, w.nodes) // limited currents, by group
	volt := map[int]float64{}
	ashore := map[int][]level{} // by group
	for _, t := range w.order {
		p, ok := s.supply(t)
		if !ok {
			continue
		}
		n, g := w.node[t], group[w.node[t]]
		l, missing := s.level(p, n, true)
		if missing != "" {
			if d := p.Item.PortDomain(p.Port); p.Item.Kind == "inlet" && d != nil && d.AC {
				s.notes.assume(p.Item.Ref, "short-circuit current ashore taken as between 1 kA and 6 kA, as none is stated", "common practice")
			}
			unknown[g] = append(unknown[g], missing)
			continue
		}
		if l.limited {
			extra[g] += l.amps
			continue
		}
		if l.shore {
			ashore[g] = append(ashore[g], l)
			continue
		}
		net.Ties = append(net.Ties, solve.Tie{Node: n, Ohm: max(l.ohm, 1e-6)})
		volt[g] = max(volt[g], l.volt)
	}
	solution := net.Solve()
	far := make([]float64, w.nodes) // from ashore
	for n := range w.nodes {
		if group[n] != n {
			continue
		}
		for _, l := range ashore[n] {
			// The most that an impedance and the resistance of cables leave is where the
			// one is reactance alone: they add at a right angle.
			alone := solve.Linear{Nodes: w.nodes, Branches: w.branches, Ties: []solve.Tie{{Node: l.node, Ohm: none}}}.Solve()
			for m := range w.nodes {
				if group[m] != n {
					continue
				}
				if r, ok := alone.Resistance(m); ok {
					far[m] += l.volt / math.Hypot(r, l.ohm)
				}
			}
		}
	}
	most := make([]quantity.Opt[quantity.Ampere], w.nodes)
	for n := range w.nodes {
		g := group[n]
		amps, known := extra[g]+far[n], len(unknown[g]) == 0 && (extra[g] > 0 || volt[g] > 0 || len(ashore[g]) > 0)
		if r, ok := solution.Resistance(n); ok && r > 0 {
			amps += volt[g] / r
		}
		if known {
			most[n] = quantity.Some(quantity.Ampere(amps))
		}
	}
	s.faultsAt(w, most, func(n int) []string { return unknown[group[n]] })
	s.levels = s.levels[:0]
	for _, t := range w.order {
		if !circuit.IsControl(t.Port) {
			s.levels = append(s.levels, NodeFault{Node: t.String(), Of: t, Max: most[w.node[t]]})
		}
	}
}

// faultsAt gives the largest fault currents of the nodes to what stands at them,
// and to devices what those lack.
func (s *sizer) faultsAt(w *wiring, most []quantity.Opt[quantity.Ampere], lacks func(n int) []string) {
	for k, i := range w.cable {
		c := &s.cables[i]
		for _, n := range [...]int{w.branches[k].From, w.branches[k].To} {
			if most[n].Known {
				c.FaultMax = quantity.Some(max(c.FaultMax.Value, most[n].Value))
			}
		}
	}
	for i := range s.devices {
		d := &s.devices[i]
		first := -1 // of its nodes that lack something
		for _, p := range d.Of.Ports {
			n, ok := w.node[circuit.Terminal{Item: d.Of, Port: p.Name}]
			if !ok || circuit.IsControl(p.Name) {
				continue
			}
			if most[n].Known {
				d.FaultMax = quantity.Some(max(d.FaultMax.Value, most[n].Value))
			}
			if len(lacks(n)) > 0 && (first < 0 || n < first) {
				first = n
			}
		}
		if first >= 0 {
			d.Missing = append(d.Missing, lacks(first)...)
		}
	}
}

// level is a supply's voltage and resistance, or the current it limits itself to;
// missing names the fact without which it is not known.
func (s *sizer) level(p circuit.Supply, n int, fresh bool) (l level, missing string) {
	it := p.Item
	d := it.PortDomain(p.Port)
	l.node, l.of = n, it
	v, ok := s.lowest(d)
	if fresh {
		v, ok = s.highest(d)
	}
	if !ok {
		v, ok = s.ownVoltage(it, fresh)
	}
	if !ok {
		return l, "voltage of " + it.Ref
	}
	l.volt = float64(v)
	f := it.Facts
	switch {
	case it.Nature().Stores:
		r, ok := s.batteryOhm(it, float64(v), fresh)
		if !ok {
			return l, "resistance or short-circuit current of " + it.Ref
		}
		l.ohm = r * agedShare
		if fresh {
			l.ohm = r * freshShare
		}
		return l, ""
	case f.ShortCircuit.Known() && f.ShortCircuit.Value > 0 && it.Kind == "inlet" && d != nil && d.AC && d.Phases < 2:
		// a supply ashore does not limit itself: its short-circuit current is that at
		// the inlet, and the cables aboard add to its impedance
		isc := f.ShortCircuit.Least()
		if fresh {
			isc = f.ShortCircuit.Most()
		}
		l.ohm, l.shore = float64(v)/float64(isc), true
		return l, ""
	case f.ShortCircuit.Known() && p.Port != "dc":
		l.limited, l.amps = true, float64(f.ShortCircuit.Most())
		if !fresh {
			l.amps = float64(f.ShortCircuit.Least())
		}
		return l, ""
	case p.Limited:
		i, ok := s.limit(p)
		if !ok {
			return l, "rated current of " + it.Ref
		}
		l.limited, l.amps = true, float64(i)
		return l, ""
	}
	return l, "short-circuit current of " + it.Ref
}

// batteryOhm is a battery's resistance: stated, or by its short-circuit current;
// of a bank the sum of its string with the links, or of its members side by side.
// Where both are stated the least for the maximum, else the most.
func (s *sizer) batteryOhm(it *circuit.Item, volt float64, fresh bool) (float64, bool) {
	f := it.Facts
	switch {
	case f.Resistance.Known() && f.ShortCircuit.Known() && f.ShortCircuit.Value > 0:
		own, declared := float64(f.Resistance.Least()), volt/float64(f.ShortCircuit.Most())
		if fresh {
			return min(own, declared), true
		}
		return max(own, declared), true
	case f.Resistance.Known():
		return float64(f.Resistance.Least()), true
	case f.ShortCircuit.Known() && f.ShortCircuit.Value > 0:
		return volt / float64(f.ShortCircuit.Most()), true
	case it.Bank == nil || len(it.Bank.Members) == 0:
		return 0, false
	case !it.Bank.Series: // within a string; at a terminal its members stand for it
		siemens := 0.0
		for _, m := range it.Bank.Members {
			r, ok := s.batteryOhm(m, volt, fresh)
			if !ok || r <= 0 {
				return 0, false
			}
			siemens += 1 / r
		}
		return 1 / siemens, true
	}
	total := 0.0
	for _, m := range it.Bank.Members {
		r, ok := s.batteryOhm(m, volt/float64(len(it.Bank.Members)), fresh)
		if !ok {
			return 0, false
		}
		total += r
	}
	for _, c := range it.Bank.Links {
		if i, ok := s.at[c]; ok && !c.Link {
			total += s.coldOhms(i) / 2 // one conductor, not out and back
		}
	}
	return total, true
}

// none is the resistance of what has none.
const none = 1e-7

// coldOhms is a cable's resistance out and back for the maximum: class 2, plain,
// at 20 °C, the shorter end of `about`; what is not known counts as none.
func (s *sizer) coldOhms(i int) float64 {
	c := s.cables[i]
	if !c.Area.Known || !c.Of.Length.Known() {
		return none
	}
	length := 2 * c.Of.Length.Least()
	if c.Of.Return.Known() {
		length = c.Of.Length.Least() + c.Of.Return.Least()
	}
	area := c.Area.Value
	if c.Of.Area.State == circuit.About {
		area = c.Of.Area.Most()
	}
	per := table.ResistanceAWG(area, false).Value / 1.02
	if c.Of.AWG == "" && !s.gauged(c.Of) {
		r, ok := table.Resistance(area, 2, false)
		if !ok {
			return none
		}
		per = r.Value
		if five, ok := table.Resistance(area, 5, false); ok {
			per = min(per, five.Value)
		}
	}
	return max(none, per*float64(length)/float64(c.Parallel))
}

// hotOhms is a cable's resistance out and back for the minimum: tinned class 5
// unless it is stated, at the limit of its insulation. False when its length or
// section is not known.
func (s *sizer) hotOhms(i int) (float64, bool) {
	c := s.cables[i]
	length, ok := loop(c.Of)
	if !ok || !c.Area.Known {
		return 0, false
	}
	per, ok := s.perMetre(c.Of, c.Area.Value)
	if !ok {
		return 0, false
	}
	limit := quantity.Celsius(105)
	if c.Of.Spec.Insulation.Known() {
		limit = c.Of.Spec.Insulation.Value
	}
	return max(none, impedance(c.Of, table.AtTemperature(per, limit)*float64(length)/float64(c.Parallel), length, c.Parallel)), true
}

// deviceOhm is a closed device's resistance in the loop: 0.1 V at rated current
// in a fuse or breaker, once a pole that has one.
func (s *sizer) deviceOhm(it *circuit.Item) float64 {
	poles := float64(max(1, it.Facts.Poles))
	if r := s.rating(it); it.Nature().Protects && r.Known && r.Value > 0 {
		return fuseDrop / float64(r.Value) * poles
	}
	return switchOhm * poles
}

// minimum works out the smallest fault current at each end of each cable: every
// source alone, the weakest of them.
func (s *sizer) minimum() {
	st := situation{transfer: true, config: circuit.FullyEquipped}
	unknown := map[int]bool{}
	w := s.wire(st, func(i int) float64 {
		r, ok := s.hotOhms(i)
		if !ok {
			unknown[i] = true
			return 1
		}
		return r
	}, s.deviceOhm)
	group := s.groups(w)
	// A cable of unknown resistance is taken as open; where a source reaches a node
	// over such cables only, the smallest fault is not known.
	var sure []solve.Branch
	sound := func(k int) bool { i := w.cable[k]; return i < 0 || !unknown[i] }
	for k, b := range w.branches {
		if sound(k) {
			sure = append(sure, b)
		}
	}
	doubt := make([]bool, w.nodes)
	var supplies []level
	strong, vague := map[int]bool{}, map[int]*circuit.Item{}
	for _, t := range w.order {
		p, ok := s.supply(t)
		if !ok {
			continue
		}
		l, missing := s.level(p, w.node[t], false)
		g := group[l.node]
		if missing != "" {
			if !p.Limited && vague[g] == nil {
				vague[g] = p.Item
			}
			continue
		}
		strong[g] = strong[g] || !l.limited
		supplies = append(supplies, l)
	}
	least := make([]float64, w.nodes)
	worst := make([]*answer, w.nodes)
	for n := range least {
		least[n] = math.Inf(1)
	}
	consider := func(n int, a answer) {
		if a.guarded && (worst[n] == nil || a.worse(*worst[n])) {
			worst[n] = &a
		}
	}
	partings := map[int][]parting{} // of the strong sources of a group
	all := map[int]solve.Linear{}
	lowest := map[int]float64{}
	for _, l := range supplies {
		g := group[l.node]
		if l.limited && strong[g] {
			continue
		}
		part := w.part(l.node)
		if !l.limited {
			partings[g] = append(partings[g], part)
			net := all[g]
			net.Nodes, net.Branches, net.Ties = w.nodes, sure, append(net.Ties, solve.Tie{Node: l.node, Ohm: max(l.ohm, 1e-6)})
			all[g] = net
			if v, ok := lowest[g]; !ok || l.volt < v {
				lowest[g] = l.volt
			}
		}
		var solution *solve.Solution
		if !l.limited {
			solution = solve.Linear{Nodes: w.nodes, Branches: sure, Ties: []solve.Tie{{Node: l.node, Ohm: max(l.ohm, 1e-6)}}}.Solve()
		}
		for n := range least {
			if group[n] != g {
				continue
			}
			amps := l.amps
			if !l.limited {
				r, ok := solution.Resistance(n)
				if !ok || r <= 0 {
					doubt[n] = true
					continue
				}
				amps = l.volt / r
			}
			least[n] = min(least[n], amps)
			a := s.answerTo(part, n, amps)
			if a.guarded && !a.opens {
				a = s.sideBySide(w, sound, solve.Linear{Nodes: w.nodes, Ties: []solve.Tie{{Node: l.node, Ohm: max(l.ohm, 1e-6)}}}, n, l, a)
			}
			a.amps = amps
			if l.limited {
				a.limited = l.of
			}
			consider(n, a)
		}
	}
	// All at once send more, but less through each of the devices that stand at the
	// sources themselves.
	for n := range least {
		if g := group[n]; n == g && len(partings[g]) > 1 {
			solution := all[g].Solve()
			for m := range least {
				if group[m] != g {
					continue
				}
				if r, ok := solution.Resistance(m); ok && r > 0 {
					a := s.together(partings[g], m, lowest[g]/r)
					if a.guarded && !a.opens {
						a = s.sideBySide(w, sound, all[g], m, level{volt: lowest[g]}, a)
					}
					a.amps = lowest[g] / r
					consider(m, a)
				}
			}
		}
	}
	known := func(n int) bool { return vague[group[n]] == nil && !doubt[n] && !math.IsInf(least[n], 1) }
	for i := range s.levels {
		if n := w.node[s.levels[i].Of]; known(n) {
			s.levels[i].Min = quantity.Some(quantity.Ampere(least[n]))
		}
	}
	for k, i := range w.cable {
		if i < 0 {
			continue
		}
		n := w.branches[k].To
		if f, _ := s.flow[i].main(); f.amps > 0 && !f.forward {
			n = w.branches[k].From
		}
		s.cables[i].Vague = vague[group[n]]
		if known(n) {
			c := &s.cables[i]
			c.FaultMin = quantity.Some(quantity.Ampere(least[n]))
			if a := worst[n]; a != nil {
				c.StaysShut, c.OpenedBy, c.OpensAt = !a.opens && !a.unrated, a.by, quantity.Some(quantity.Ampere(a.amps))
				slow := a.unrated && a.seconds > 5
				c.OpensIn = quantity.Opt[quantity.Second]{Value: quantity.Second(a.seconds), Known: a.opens && !math.IsInf(a.seconds, 1) && !slow}
				if a.limited != nil {
					c.Limits = []*circuit.Item{a.limited}
				}
			}
		}
	}
}
