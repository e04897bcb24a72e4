package solve

// Shortfall tells why a network has no solution.
type Shortfall struct {
	Share float64 // of all constant powers together, what can be delivered at most: between 0 and 1
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
	if _, err := scaled(0).Solve(); err == nil {
		low, high := 0.0, 1.0
		for range 40 {
			middle := (low + high) / 2
			if _, err := scaled(middle).Solve(); err == nil {
				low = middle
			} else {
				high = middle
			}
		}
		s.Share = low
	}
	for i, l := range n.Loads {
		if l.Watts <= 0 {
			continue
		}
		if most, ok := n.most(i); ok && l.Watts > most {
			s.Loads = append(s.Loads, Limit{i, most})
		}
	}
	return s
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
