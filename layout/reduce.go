package layout

import "slices"

// Phase 1, reduce.
// Needs: the graph. Gives: the levels (bars, boards, boxes with several wires)
// and the chains of two-wire devices between them.

// levelKind is what a level is made of.
type levelKind int

const (
	barLevel   levelKind = iota // a bar: as long as its columns need
	boardLevel                  // a bar with a rail of rows
	boxLevel                    // a symbol with three wires or more
	bendLevel                   // the turning of a U, no node of the graph
)

// level is a thing at one height; columns start and end on it.
type level struct {
	node int // -1: a bend
	kind levelKind
}

// chain is a run of two-wire devices. Between ends that are levels it is wire,
// device, wire …, wire; where an end is -1 a device stands there.
type chain struct {
	ends   [2]int // levels at the supply and at the load; -1: it ends in a device
	at     [2]End
	wires  []int // from supply to load
	devs   []int
	weight int
	tie    bool
}

// reduced is the graph as levels and chains.
type reduced struct {
	levels []level
	chains []chain
	of     []int // level of a node, -1: a device of a chain
}

// reduce contracts the chains. Every wire and every node comes out once.
func reduce(g Graph) reduced {
	touch := make([][]int, len(g.Nodes)) // wires at each node, twice for a wire to itself
	for i, w := range g.Wires {
		touch[w.From.Node] = append(touch[w.From.Node], i)
		touch[w.To.Node] = append(touch[w.To.Node], i)
	}
	r := reduced{of: make([]int, len(g.Nodes))}
	for n := range g.Nodes {
		r.of[n] = -1
		if standsAlone(g, n, touch[n]) {
			r.addLevel(g, n)
		}
	}
	done := make([]bool, len(g.Wires))
	for n := range g.Nodes { // from every level outward
		if r.of[n] < 0 {
			continue
		}
		for _, w := range touch[n] {
			if !done[w] {
				r.follow(g, touch, done, n, w)
			}
		}
	}
	for n := range g.Nodes { // chains that touch no level, from their ends
		if r.of[n] < 0 && len(touch[n]) == 0 {
			r.chains = append(r.chains, chain{ends: [2]int{-1, -1}, devs: []int{n}})
		}
		if r.of[n] < 0 && len(touch[n]) == 1 && !done[touch[n][0]] {
			r.follow(g, touch, done, n, touch[n][0])
		}
	}
	for n := range g.Nodes { // rings of devices: the first one becomes a level
		if r.of[n] < 0 && len(touch[n]) == 2 && !done[touch[n][0]] {
			r.addLevel(g, n)
			r.follow(g, touch, done, n, touch[n][0])
		}
	}
	return r
}

func (r *reduced) addLevel(g Graph, n int) {
	kind := boxLevel
	switch g.Nodes[n].Form {
	case Bar:
		kind = barLevel
	case Board:
		kind = boardLevel
	}
	r.of[n] = len(r.levels)
	r.levels = append(r.levels, level{node: n, kind: kind})
}

// standsAlone tells whether a node is a level of its own: everything but a
// symbol through which one chain passes.
func standsAlone(g Graph, n int, wires []int) bool {
	if g.Nodes[n].Form != Symbol || len(wires) > 2 {
		return true
	}
	for _, w := range wires {
		e := endAt(g.Wires[w], n)
		if p := e.Port; p >= 0 && p < len(g.Nodes[n].Ports) {
			if port := g.Nodes[n].Ports[p]; port.Fixed && (port.At != 0 && port.Side < LeftSide || port.Side >= LeftSide && port.Side != AnySide) {
				return true
			}
		}
	}
	if len(wires) < 2 {
		return false
	}
	a, b := g.Wires[wires[0]], g.Wires[wires[1]]
	if wires[0] == wires[1] {
		return true
	}
	if (a.From.Node == n) != (b.From.Node == n) {
		return false // flow passes through
	}
	return endAt(a, n).Port == endAt(b, n).Port // two feeds on one terminal
}

// endAt is the wire's end at a node.
func endAt(w Wire, n int) End {
	if w.From.Node == n {
		return w.From
	}
	return w.To
}

// follow walks from a node along a wire to the next level or dead end and
// keeps the chain with its supply first.
func (r *reduced) follow(g Graph, touch [][]int, done []bool, start, first int) {
	c := chain{ends: [2]int{r.of[start], -1}, at: [2]End{{Node: -1, Port: -1, Row: -1}, {Node: -1, Port: -1, Row: -1}}}
	if r.of[start] < 0 {
		c.devs = append(c.devs, start)
	}
	balance, n, w := 0, start, first
	for {
		wire := g.Wires[w]
		done[w] = true
		c.wires = append(c.wires, w)
		c.tie = c.tie || wire.Tie
		c.weight = max(c.weight, wire.Weight)
		from, to := wire.From, wire.To
		if from.Node != n {
			from, to = to, from
			balance -= 1 + wire.Weight
		} else {
			balance += 1 + wire.Weight
		}
		if n == start && len(c.wires) == 1 {
			c.at[0] = from
		}
		n = to.Node
		c.at[1] = to
		if r.of[n] >= 0 {
			c.ends[1] = r.of[n]
			break
		}
		c.devs = append(c.devs, n)
		next := -1
		for _, t := range touch[n] {
			if !done[t] {
				next = t
				break
			}
		}
		if next < 0 {
			break
		}
		w = next
	}
	if balance < 0 {
		c.ends[0], c.ends[1] = c.ends[1], c.ends[0]
		c.at[0], c.at[1] = c.at[1], c.at[0]
		slices.Reverse(c.wires)
		slices.Reverse(c.devs)
	}
	r.chains = append(r.chains, c)
}
