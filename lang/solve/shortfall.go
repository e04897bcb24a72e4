package solve

import "math"

// Shortfall tells why a network has no solution.
type Shortfall struct {
	Share float64 // of all constant powers together, what can be delivered, so near that its full percents are: between 0 and 1
	Loads []Limit // loads that alone ask for more than their way delivers, by their number
}

// Limit is the most power that a load's way delivers to it when no other
// constant power is taken: V²/4R of what the load sees.
type Limit struct {
	Load  int
	Watts float64
}

// Shortfall finds by how much a network without a solution asks for too much.
// Converters count as constant powers at their inputs by what their outputs ask.
func (n Network) Shortfall() Shortfall {
	scaled := func(k float64) Network {
		m := n
		m.Loads = append([]Load(nil), n.Loads...)
		for i := range m.Loads {
			m.Loads[i].Watts *= k
		}
		return m
	}
	s := Shortfall{}
	open, err := scaled(0).Solve()
	if err != nil {
		return s
	}
	low, high := 0.0, 1.0
	for range 40 {
		if math.Floor(100*low) == math.Floor(100*high) {
			break
		}
		middle := (low + high) / 2
		if _, err := scaled(middle).Solve(); err == nil {
			low = middle
		} else {
			high = middle
		}
	}
	s.Share = low
	plenty := scaled(0).plenty(open)
	for i, l := range n.Loads {
		if l.Watts <= 0 || l.Watts < plenty(l) {
			continue
		}
		if most, ok := n.most(i); ok && l.Watts > most {
			s.Loads = append(s.Loads, Limit{i, most})
		}
	}
	return s
}

// plenty gives half of what a load's way delivers by the slope of its voltage in
// the solution without constant powers; 0 where an ampere more may move a
// converter out of its mode, or moves the voltage much. Nearly every load takes
// less than that, and nothing need be solved for it.
func (n Network) plenty(open *Result) func(Load) float64 {
	state := make([]mode, len(n.Converters))
	input := make([]float64, len(n.Converters))
	for i, c := range n.Converters {
		input[i] = open.Inputs[i] * (open.Volts[c.InPlus] - open.Volts[c.InMinus])
		switch {
		case open.Limited[i]:
			state[i] = giving
		case open.Converters[i] == 0 && open.Volts[c.OutPlus]-open.Volts[c.OutMinus] > c.Volt+1e-9:
			state[i] = idle
		}
	}
	alone := n.alone(state)
	live := n.live(state, alone)
	index, _ := n.unknowns(live, alone)
	sources, loads := n.twoPoles(state, alone, live, input)
	m, _ := n.slopes(index, open.Volts, sources, loads)
	f, ok := m.factor()
	if !ok {
		return func(Load) float64 { return 0 }
	}
	near, bent := n.nearLimits(state, input, open)
	return func(l Load) float64 {
		v := open.Volts[l.Plus] - open.Volts[l.Minus]
		if v <= 0 {
			return math.Inf(1) // nothing feeds it: what its way delivers is not the question
		}
		ohm := 0.0
		for _, i := range [...]int{index[l.Plus], index[l.Minus]} {
			if i >= 0 {
				ohm += f.inverse(i)
			}
		}
		if index[l.Plus] >= 0 && index[l.Minus] >= 0 {
			ohm *= 2 // no more than that, however the two hang together
		}
		if near[l.Plus] || near[l.Minus] || (bent[l.Plus] || bent[l.Minus]) && ohm > v/50 {
			return 0
		}
		return v * v / 8 / max(ohm, 1e-12)
	}
}

// nearLimits tells the nodes joined to a converter that an ampere or two more may
// bring to its limit, or that a little less voltage may wake; one at its limit
// stays there. bent are those where voltages do not fall in proportion, as a
// converter takes its power there, or may wake.
func (n Network) nearLimits(state []mode, input []float64, r *Result) (near, bent []bool) {
	reference := make([]bool, n.Nodes)
	for _, h := range n.Held {
		reference[h.Node] = true
	}
	var branches []Branch
	join := func(a, b int) {
		if !reference[a] && !reference[b] {
			branches = append(branches, Branch{a, b, 1})
		}
	}
	for _, b := range n.Branches {
		join(b.From, b.To)
	}
	for _, s := range n.Sources {
		join(s.Plus, s.Minus)
	}
	var limited, curved []int
	for i, c := range n.Converters {
		join(c.OutPlus, c.OutMinus)
		v := r.Volts[c.OutPlus] - r.Volts[c.OutMinus]
		if state[i] == holding && c.Limit > 0 && r.Converters[i] > c.Limit-2 || state[i] == idle && v-c.Volt < v/40 {
			limited = append(limited, c.OutPlus, c.OutMinus)
		}
		if state[i] == idle {
			curved = append(curved, c.OutPlus, c.OutMinus)
		}
		if input[i] > 0 {
			curved = append(curved, c.InPlus, c.InMinus)
		}
	}
	joined := func(to []int) []bool {
		list := Linear{Nodes: n.Nodes, Branches: branches, Held: to}.joined()
		for node, held := range reference {
			list[node] = list[node] && !held
		}
		return list
	}
	return joined(limited), joined(curved)
}

// most is the power that a load's way delivers at most, from the voltage that
// stands at it without load and the resistance behind it.
func (n Network) most(load int) (float64, bool) {
	m := n
	m.Loads = append([]Load(nil), n.Loads...)
	for i := range m.Loads {
		m.Loads[i].Watts = 0
	}
	at := m.Loads[load]
	voltage := func(amps float64) (float64, bool) {
		m.Loads[load].Amps = at.Amps + amps
		r, err := m.Solve()
		if err != nil {
			return 0, false
		}
		return r.Volts[at.Plus] - r.Volts[at.Minus], true
	}
	open, ok1 := voltage(0)
	one, ok2 := voltage(1)
	if !ok1 || !ok2 || open <= one || open <= 0 {
		return 0, false
	}
	return open * open / 4 / (open - one), true
}
