// Package solve owns networks of conductors, sources and loads as plain
// numbers, and their solution: node voltages, branch currents, fault levels. It
// knows neither tables nor rules.
package solve

// Linear is a resistive network: branches between nodes, nodes tied to the
// reference through a source's resistance (or held at it), and currents put in.
// Volts are above the reference, ohms out and back.
type Linear struct {
	Nodes    int
	Branches []Branch
	Ties     []Tie
	Held     []int // nodes at the reference's voltage
}

// Branch is a resistance between two nodes; it must be above 0.
type Branch struct {
	From, To int
	Ohm      float64
}

// Tie is a resistance from a node to the reference; it must be above 0.
type Tie struct {
	Node int
	Ohm  float64
}

// Solution takes a Linear apart once for many right sides.
type Solution struct {
	n     Linear
	index []int // of a node among the unknown ones; -1: held, -2: no way to the reference
	f     *factors[float64]
}

// Solve prepares a network. Nodes without a way to the reference are left out:
// they have no voltage.
func (n Linear) Solve() *Solution {
	s := &Solution{n: n, index: make([]int, n.Nodes)}
	joined := n.joined()
	for i := range s.index {
		if !joined[i] {
			s.index[i] = -2
		}
	}
	for _, h := range n.Held {
		s.index[h] = -1
	}
	unknown := 0
	for i := range s.index {
		if s.index[i] == 0 {
			s.index[i] = unknown
			unknown++
		}
	}
	m := newMatrix[float64](unknown)
	for _, b := range n.Branches {
		i, j, g := s.index[b.From], s.index[b.To], 1/b.Ohm
		switch {
		case b.From == b.To || i == -2 || j == -2:
		case i >= 0 && j >= 0:
			m.conduct(i, j, g)
		case i >= 0:
			m.diagonal[i] += g
		case j >= 0:
			m.diagonal[j] += g
		}
	}
	for _, t := range n.Ties {
		if i := s.index[t.Node]; i >= 0 {
			m.diagonal[i] += 1 / t.Ohm
		}
	}
	s.f, _ = m.factor()
	return s
}

// joined tells which nodes have a way to the reference.
func (n Linear) joined() []bool {
	first := make([]int, n.Nodes+1) // of each node: where its neighbours begin
	for _, b := range n.Branches {
		first[b.From]++
		first[b.To]++
	}
	for i := 1; i <= n.Nodes; i++ {
		first[i] += first[i-1]
	}
	next := make([]int, 2*len(n.Branches))
	for _, b := range n.Branches {
		first[b.From]--
		next[first[b.From]] = b.To
		first[b.To]--
		next[first[b.To]] = b.From
	}
	joined := make([]bool, n.Nodes)
	queue := make([]int, 0, n.Nodes)
	visit := func(i int) {
		if !joined[i] {
			joined[i] = true
			queue = append(queue, i)
		}
	}
	for _, h := range n.Held {
		visit(h)
	}
	for _, t := range n.Ties {
		visit(t.Node)
	}
	for k := 0; k < len(queue); k++ {
		for _, j := range next[first[queue[k]]:first[queue[k]+1]] {
			visit(j)
		}
	}
	return joined
}

// Joined tells whether a node has a voltage.
func (s *Solution) Joined(node int) bool { return s.index[node] != -2 }

// Voltages is the voltage of every node above the reference when these
// currents (ampere, one a node, positive into it) are put in; 0 where there is
// no way to the reference.
func (s *Solution) Voltages(into []float64) []float64 {
	v := make([]float64, s.n.Nodes)
	if s.f == nil {
		return v
	}
	b := make([]float64, len(s.f.pivot))
	for node, i := range s.index {
		if i >= 0 {
			b[i] = into[node]
		}
	}
	x := s.f.solve(b)
	for node, i := range s.index {
		if i >= 0 {
			v[node] = x[i]
		}
	}
	return v
}

// Resistance is the resistance between a node and the reference with
// everything joined; false where there is no way to it.
func (s *Solution) Resistance(node int) (float64, bool) {
	i := s.index[node]
	if i == -2 || s.f == nil {
		return 0, false
	}
	if i == -1 {
		return 0, true
	}
	return s.f.inverse(i), true
}
