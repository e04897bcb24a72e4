package solve

import "math"

// newton solves a network whose converters' modes and inputs are given.
//
// The currents are convex in the voltages where loads take constant power, and
// the matrix of slopes is that of a resistive network; so from the voltages
// without load every step leads downward to the higher solution, and a pivot
// that is not above 0 on the way tells that there is none.
func (n Network) newton(state []mode, alone []bool, input []float64) ([]float64, error) {
	live := n.live(state, alone)
	index, held := n.unknowns(live, alone)
	sources, loads := n.twoPoles(state, alone, live, input)
	volts := append([]float64(nil), held...)
	var unloaded []Load // for the first step: nothing that depends on a voltage not yet known
	if err := n.step(index, volts, sources, unloaded); err != nil {
		return nil, err
	}
	if !n.loadable(volts, loads) {
		return nil, ErrNoSolution
	}
	last := math.Inf(1)
	for range mostSteps {
		before := append([]float64(nil), volts...)
		if err := n.step(index, volts, sources, loads); err != nil {
			return nil, err
		}
		if !n.loadable(volts, loads) {
			n.ease(before, volts, loads)
		}
		moved := 0.0
		for i := range volts {
			moved = math.Max(moved, math.Abs(volts[i]-before[i])/math.Max(1, math.Abs(volts[i])))
		}
		if moved < 1e-13 || moved < 1e-9 && moved >= last/2 {
			return volts, nil // at rest, or as near to it as rounding lets it come
		}
		last = moved
	}
	if n.balanced(index, volts, sources, loads) {
		return volts, nil
	}
	return nil, ErrNoSolution
}

// twoPoles is the network's sources and loads with what its converters are in
// their modes.
func (n Network) twoPoles(state []mode, alone, live []bool, input []float64) (sources []Source, loads []Load) {
	take := func(l Load) {
		if live[l.Plus] && live[l.Minus] {
			loads = append(loads, l)
		}
	}
	for _, l := range n.Loads {
		take(l)
	}
	for i, c := range n.Converters {
		if c.InPlus != c.InMinus {
			take(Load{Plus: c.InPlus, Minus: c.InMinus, Watts: input[i]})
		}
		if state[i] == giving {
			take(Load{Plus: c.OutPlus, Minus: c.OutMinus, Amps: -c.Limit})
		}
	}
	sources = append([]Source(nil), n.Sources...)
	for i, c := range n.Converters {
		if state[i] == holding && !alone[i] {
			sources = append(sources, Source{c.OutPlus, c.OutMinus, c.Volt, stiff})
		}
	}
	return sources, loads
}

// unknowns numbers the nodes whose voltage is sought; held nodes, and nodes
// without a way to one, have -1. It gives the voltages of the held ones too.
func (n Network) unknowns(live, alone []bool) (index []int, volts []float64) {
	volts = make([]float64, n.Nodes)
	index = make([]int, n.Nodes)
	for i, live := range live {
		if !live {
			index[i] = -1
		}
	}
	for _, h := range n.holds(alone) {
		volts[h.Node] = h.Volt
		index[h.Node] = -1
	}
	k := 0
	for i := range index {
		if index[i] == 0 {
			index[i] = k
			k++
		}
	}
	return index, volts
}

// holds is every node that is held: those of the network, and those that a
// converter holds by itself.
func (n Network) holds(alone []bool) []Hold {
	hold := append([]Hold(nil), n.Held...)
	at := map[int]float64{}
	for _, h := range n.Held {
		at[h.Node] = h.Volt
	}
	for i, c := range n.Converters {
		if alone[i] {
			hold = append(hold, Hold{c.OutPlus, at[c.OutMinus] + c.Volt})
		}
	}
	return hold
}

// live tells which nodes have a way to a held one; a load is no way.
func (n Network) live(state []mode, alone []bool) []bool {
	joined := Linear{Nodes: n.Nodes, Branches: append([]Branch(nil), n.Branches...)}
	for _, s := range n.Sources {
		joined.Branches = append(joined.Branches, Branch{s.Plus, s.Minus, 1})
	}
	for i, c := range n.Converters {
		if state[i] == holding {
			joined.Branches = append(joined.Branches, Branch{c.OutPlus, c.OutMinus, 1})
		}
	}
	for _, h := range n.holds(alone) {
		joined.Held = append(joined.Held, h.Node)
	}
	return joined.joined()
}

// step takes one step of Newton's method, in place.
func (n Network) step(index []int, volts []float64, sources []Source, loads []Load) error {
	m, rest := n.slopes(index, volts, sources, loads)
	f, ok := m.factor()
	if !ok {
		return ErrNoSolution
	}
	rest = f.solve(rest)
	for node, i := range index {
		if i >= 0 {
			volts[node] -= rest[i]
		}
	}
	return nil
}

// slopes is by how much the current out of each unknown node rises with the
// voltages, and that current: at rest it is 0.
func (n Network) slopes(index []int, volts []float64, sources []Source, loads []Load) (m *matrix[float64], rest []float64) {
	unknown := 0
	for _, i := range index {
		unknown = max(unknown, i+1)
	}
	m, rest = newMatrix[float64](unknown), make([]float64, unknown)
	part := func(a, b int, amps, slope float64) {
		i, j := index[a], index[b]
		switch {
		case a == b:
		case i >= 0 && j >= 0:
			m.conduct(i, j, slope)
		case i >= 0:
			m.diagonal[i] += slope
		case j >= 0:
			m.diagonal[j] += slope
		}
		if i >= 0 {
			rest[i] += amps
		}
		if j >= 0 {
			rest[j] -= amps
		}
	}
	for _, b := range n.Branches {
		part(b.From, b.To, (volts[b.From]-volts[b.To])/b.Ohm, 1/b.Ohm)
	}
	for _, s := range sources {
		part(s.Plus, s.Minus, (volts[s.Plus]-volts[s.Minus]-s.Volt)/s.Ohm, 1/s.Ohm)
	}
	for _, l := range loads {
		if index[l.Plus] < 0 && index[l.Minus] < 0 {
			continue
		}
		amps, slope := l.at(volts[l.Plus] - volts[l.Minus])
		part(l.Plus, l.Minus, amps, slope)
	}
	return m, rest
}

// loadable tells whether every constant power stands at a voltage above 0.
func (n Network) loadable(volts []float64, loads []Load) bool {
	for _, l := range loads {
		if l.Watts != 0 && !(volts[l.Plus]-volts[l.Minus] > 0) {
			return false
		}
	}
	return true
}

// ease goes only part of a step, so that no constant power meets a voltage of 0.
func (n Network) ease(before, volts []float64, loads []Load) {
	for range 60 {
		for i := range volts {
			volts[i] = before[i] + (volts[i]-before[i])/2
		}
		if n.loadable(volts, loads) {
			return
		}
	}
}

// balanced tells whether the currents add up at every node.
func (n Network) balanced(index []int, volts []float64, sources []Source, loads []Load) bool {
	sum, size := make([]float64, n.Nodes), make([]float64, n.Nodes)
	part := func(a, b int, amps float64) {
		sum[a] += amps
		sum[b] -= amps
		size[a] += math.Abs(amps)
		size[b] += math.Abs(amps)
	}
	for _, b := range n.Branches {
		part(b.From, b.To, (volts[b.From]-volts[b.To])/b.Ohm)
	}
	for _, s := range sources {
		part(s.Plus, s.Minus, (volts[s.Plus]-volts[s.Minus]-s.Volt)/s.Ohm)
	}
	for _, l := range loads {
		amps, _ := l.at(volts[l.Plus] - volts[l.Minus])
		part(l.Plus, l.Minus, amps)
	}
	for node, i := range index {
		if i >= 0 && math.Abs(sum[node]) > closeEnough*math.Max(1, size[node]) {
			return false
		}
	}
	return true
}
