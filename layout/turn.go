package layout

import (
	"slices"
	"sort"
)

// Phase 2, turn.
// Needs: levels and chains. Gives: columns, each from an upper level to a
// lower one, without a cycle. A chain that would have to run upward becomes a
// U: it goes down to a bend, a level of no height, and a riser goes up from
// there into the lower side of its load.

// piece is a device or a wire of a column; the other is -1.
type piece struct {
	dev, wire int
	turn      Turn // of a device
}

// column is an upright chain with its pieces from top to bottom.
type column struct {
	upper, lower int // levels; -1: a device stands at that end
	upAt, loAt   End
	pieces       []piece
	chain        int
	riser        bool // the second leg of a U, one wire that its first leg owns too
	hangs        bool // a supply that stands below what it feeds
}

// turned is the graph as an acyclic set of columns.
type turned struct {
	levels []level
	cols   []column
	chains []chain
	strips []strip
}

// choice is what may be chosen about the chains, by index of chain.
type choice struct {
	bend  []bool // drawn as a U
	hangs []bool // the free supply end below
	lies  []bool // a tie drawn level
}

// defaultChoice bends what closes a cycle, ties first, main feeds last. The part
// of a tie that ends on a box hangs from its bar.
func defaultChoice(r reduced) choice {
	c := choice{bend: make([]bool, len(r.chains)), hangs: make([]bool, len(r.chains)), lies: make([]bool, len(r.chains))}
	order := make([]int, 0, len(r.chains))
	for i, ch := range r.chains {
		if ch.ends[0] >= 0 && ch.ends[1] >= 0 {
			order = append(order, i)
		}
	}
	sort.SliceStable(order, func(i, j int) bool {
		a, b := r.chains[order[i]], r.chains[order[j]]
		if a.tie != b.tie {
			return b.tie
		}
		return a.weight > b.weight
	})
	below := make([][]int, len(r.levels))
	for _, i := range order {
		from, to := r.chains[i].ends[0], r.chains[i].ends[1]
		if r.mustBend(i, below) {
			c.bend[i] = true
			continue
		}
		below[from] = append(below[from], to)
	}
	return c
}

// bendTies makes a U of each tie whose strip does not lie free.
func (ch choice) bendTies(a arrangement, strips []int) {
	for _, k := range strips {
		i := a.strips[k].chain
		ch.bend[i], ch.lies[i] = true, false
	}
}

// mustBend tells whether a chain between two levels cannot run downward beside
// what does: it would close a cycle, or is a tie that ends on no box.
func (r reduced) mustBend(i int, below [][]int) bool {
	from, to := r.chains[i].ends[0], r.chains[i].ends[1]
	return r.chains[i].tie && r.levels[to].kind != boxLevel || from == to || reaches(below, to, from)
}

// reaches tells whether a way downward leads from one level to another.
func reaches(below [][]int, from, to int) bool {
	seen := make([]bool, len(below))
	stack := []int{from}
	for len(stack) > 0 {
		n := stack[len(stack)-1]
		stack = stack[:len(stack)-1]
		if n == to {
			return true
		}
		if seen[n] {
			continue
		}
		seen[n] = true
		stack = append(stack, below[n]...)
	}
	return false
}

// turn makes the columns of a choice.
func turn(g Graph, r reduced, ch choice) turned {
	t := turned{levels: append([]level(nil), r.levels...), chains: r.chains}
	none := End{Node: -1, Port: -1, Row: -1}
	for i, c := range r.chains {
		col := column{upper: c.ends[0], lower: c.ends[1], upAt: c.at[0], loAt: c.at[1], chain: i}
		wires, devs := c.wires, c.devs
		switch {
		case ch.lies[i]:
			t.strips = append(t.strips, layStrip(g, c, i))
			continue
		case ch.bend[i]:
			bend := len(t.levels)
			t.levels = append(t.levels, level{node: -1, kind: bendLevel})
			col.lower, col.loAt = bend, none
			col.pieces = pieces(g, wires, devs, false)
			t.cols = append(t.cols, col)
			last := wires[len(wires)-1]
			t.cols = append(t.cols, column{upper: c.ends[1], lower: bend, upAt: c.at[1], loAt: none,
				chain: i, riser: true, pieces: []piece{{dev: -1, wire: last}}})
			continue
		case ch.hangs[i]:
			col.upper, col.lower, col.upAt, col.loAt = col.lower, col.upper, col.loAt, col.upAt
			col.hangs = true
			wires, devs = append([]int(nil), wires...), append([]int(nil), devs...)
			slices.Reverse(wires)
			slices.Reverse(devs)
		}
		col.pieces = pieces(g, wires, devs, col.upper < 0)
		t.cols = append(t.cols, col)
	}
	return t
}

// pieces puts wires and devices in turn and finds how each device lies.
func pieces(g Graph, wires, devs []int, devFirst bool) []piece {
	var out []piece
	above := -1 // the wire that comes from above
	w, d := 0, 0
	for w < len(wires) || d < len(devs) {
		if devFirst {
			below := -1
			if w < len(wires) {
				below = wires[w]
			}
			out = append(out, piece{dev: devs[d], wire: -1, turn: lie(g, devs[d], above, below)})
			d++
		} else {
			above = wires[w]
			out = append(out, piece{dev: -1, wire: above})
			w++
		}
		devFirst = !devFirst
		if devFirst && d == len(devs) {
			break
		}
	}
	return out
}

// lie finds the turn of a device between the wire above and the one below.
func lie(g Graph, dev, above, below int) Turn {
	ports := g.Nodes[dev].Ports
	if above < 0 {
		if below < 0 {
			return Upright
		}
		return Inverted
	}
	if e := endAt(g.Wires[above], dev); e.Port >= 0 && e.Port < len(ports) && ports[e.Port].Fixed {
		if ports[e.Port].Side == Bottom {
			return Inverted
		}
		return Upright
	}
	if below >= 0 && g.Wires[above].From.Node == dev && g.Wires[below].To.Node == dev {
		return Inverted
	}
	return Upright
}
