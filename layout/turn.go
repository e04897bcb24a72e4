package layout

import "sort"

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
		if r.chains[i].tie && r.levels[to].kind != boxLevel || from == to || reaches(below, to, from) {
			c.bend[i] = true
			continue
		}
		below[from] = append(below[from], to)
	}
	return c
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

// What a choice costs beside the height of the drawing, in hundredths of a
// millimetre of it.
const (
	costTurned = 4000  // a chain that becomes a U
	costWeight = 3000  // the same, for each point of its weight
	costHang   = 4000  // a supply that stands below its bar
	costUpward = 40000 // a board or box left without any feed from above that had one
	costBarUp  = 6000  // the same of a bar
)

// skyward is what the choice of turns is judged by: the height of the drawing
// by its longest way down, with nothing in the way.
type skyward struct {
	r       reduced
	length  []int // of each chain
	body    []int // height of each box
	hanging []int // length of each board's rail
	start   []int // of each chain under the height of its supply's level
}

func newSkyward(g Graph, r reduced) skyward {
	s := skyward{r: r, length: make([]int, len(r.chains)), body: make([]int, len(r.levels)), hanging: make([]int, len(r.levels)), start: make([]int, len(r.chains))}
	a := arrange(g, turn(g, r, defaultChoice(r)))
	h := newHeights(&a)
	for c, col := range a.cols {
		if !col.riser {
			s.length[col.chain] = a.stack(c, 0, h)
		}
	}
	for l, lv := range r.levels {
		switch lv.kind {
		case boxLevel:
			s.body[l] = max(0, g.Nodes[lv.node].Box.Y1)
		case boardLevel:
			s.hanging[l] = boardBody(g.Nodes[lv.node], 0).rail
		}
	}
	for i, c := range r.chains {
		l := c.ends[0]
		if l < 0 {
			continue
		}
		s.start[i] = s.body[l]
		if r.levels[l].kind == boardLevel && c.at[0].Row >= 0 {
			if rows := boardBody(g.Nodes[r.levels[l].node], 0).rows; c.at[0].Row < len(rows) {
				s.start[i] = rows[c.at[0].Row]
			}
		}
	}
	return s
}

// height of a drawing with a choice, and whether no cycle is left.
func (s *skyward) height(ch choice) (int, bool) {
	n := len(s.r.levels)
	y, wait := make([]int, n), make([]int, n)
	below := make([][]int, n) // chains
	at := make([]int, n)      // the bar at whose height a bar stands
	for l := range at {
		at[l] = l
	}
	for i, c := range s.r.chains {
		if ch.lies[i] {
			from, to := at[c.ends[0]], at[c.ends[1]]
			for l := range at {
				if at[l] == from {
					at[l] = to
				}
			}
		}
	}
	for i, c := range s.r.chains {
		a, b := c.ends[0], c.ends[1]
		switch {
		case a < 0 && b >= 0 && !ch.hangs[i]:
			y[at[b]] = max(y[at[b]], s.length[i])
		case a >= 0 && b >= 0 && !ch.bend[i] && !ch.lies[i]:
			below[at[a]] = append(below[at[a]], i)
			wait[at[b]]++
		}
	}
	queue, groups := make([]int, 0, n), 0
	for l := range wait {
		if at[l] == l {
			groups++
			if wait[l] == 0 {
				queue = append(queue, l)
			}
		}
	}
	for k := 0; k < len(queue); k++ {
		l := queue[k]
		for _, i := range below[l] {
			b := at[s.r.chains[i].ends[1]]
			y[b] = max(y[b], y[l]+s.start[i]+s.length[i])
			if wait[b]--; wait[b] == 0 {
				queue = append(queue, b)
			}
		}
	}
	if len(queue) < groups {
		return 0, false
	}
	for l := range y {
		y[l] = y[at[l]]
	}
	h := 0
	for l := range y {
		h = max(h, y[l]+s.body[l]+s.hanging[l])
	}
	for i, c := range s.r.chains {
		a, b := c.ends[0], c.ends[1]
		switch {
		case a < 0 && b < 0:
			h = max(h, s.length[i])
		case b < 0:
			h = max(h, y[a]+s.start[i]+s.length[i])
		case a < 0 && ch.hangs[i]:
			h = max(h, y[b]+s.body[b]+s.length[i])
		case a >= 0 && ch.bend[i]:
			h = max(h, y[a]+s.start[i]+s.length[i], y[b]+s.body[b]+leastWire)
		}
	}
	return h, true
}

// cost of a choice; below the field's height only the turns themselves count.
func (s *skyward) cost(ch choice, field int) int {
	h, ok := s.height(ch)
	if !ok {
		return 1 << 40
	}
	cost := max(0, h-field)*4 + h/4
	fed := make([]int, len(s.r.levels)) // 1: has a feed, 2: one from above
	for i, c := range s.r.chains {
		if l := c.ends[1]; l >= 0 && !c.tie && c.at[1].Row < 0 {
			fed[l] |= 1
			if !ch.bend[i] && !ch.hangs[i] {
				fed[l] |= 2
			}
		}
	}
	for l, f := range fed {
		switch {
		case f != 1:
		case s.r.levels[l].kind == barLevel:
			cost += costBarUp
		default:
			cost += costUpward
		}
	}
	for i, c := range s.r.chains {
		if ch.bend[i] && !c.tie {
			cost += costTurned + costWeight*c.weight
		}
		if ch.hangs[i] {
			cost += costHang
		}
	}
	return cost
}

// chooseTurns betters the first choice by single changes and by pairs of turns.
// Turns made for the sake of a height that is not reached are not made; a height
// somewhat above the field's is aimed at instead.
func chooseTurns(g Graph, r reduced, f Field) choice {
	s := newSkyward(g, r)
	for percent := 90; percent < 200; percent += 15 {
		aim := f.Height * percent / 100
		ch := betterTurns(g, r, &s, aim)
		if h, _ := s.height(ch); h <= aim {
			return ch
		}
	}
	return betterTurns(g, r, &s, 1<<30)
}

func betterTurns(g Graph, r reduced, s *skyward, field int) choice {
	ch := defaultChoice(r)
	ch.lies = canLie(g, r, ch)
	for i := range ch.lies {
		if ch.lies[i] {
			ch.bend[i] = false
		}
	}
	var between []int
	for i, c := range r.chains {
		if c.ends[0] >= 0 && c.ends[1] >= 0 && c.ends[0] != c.ends[1] && !c.tie {
			between = append(between, i)
		}
	}
	sources := twinSources(g, r)
	now := s.cost(ch, field)
	try := func(flip ...*bool) bool {
		for _, p := range flip {
			*p = !*p
		}
		if cost := s.cost(ch, field); cost < now {
			now = cost
			return true
		}
		for _, p := range flip {
			*p = !*p
		}
		return false
	}
	for round := 0; round < 4; round++ {
		better := false
		for _, i := range between {
			better = try(&ch.bend[i]) || better
		}
		for _, twins := range sources {
			var flip []*bool
			for _, i := range twins {
				flip = append(flip, &ch.hangs[i])
			}
			better = try(flip...) || better
		}
		for _, i := range between {
			for _, j := range between {
				if i != j && (i < j || ch.bend[i] != ch.bend[j]) && try(&ch.bend[i], &ch.bend[j]) {
					better = true
					break
				}
			}
		}
		if !better {
			break
		}
	}
	return ch
}

// twinSources lists the chains that only supply a level, alike ones together.
func twinSources(g Graph, r reduced) [][]int {
	var out [][]int
	for i, c := range r.chains {
		if c.ends[0] >= 0 || c.ends[1] < 0 {
			continue
		}
		found := false
		for k, twins := range out {
			if !found && alikeChains(g, c, r.chains[twins[0]]) {
				out[k] = append(twins, i)
				found = true
			}
		}
		if !found {
			out = append(out, []int{i})
		}
	}
	return out
}

// alikeChains tells whether two chains have the same ends and equal devices.
func alikeChains(g Graph, c, d chain) bool {
	if c.ends != d.ends || len(c.devs) != len(d.devs) {
		return false
	}
	for i := range c.devs {
		if g.Nodes[c.devs[i]].Box != g.Nodes[d.devs[i]].Box {
			return false
		}
	}
	return true
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
			reverse(wires)
			reverse(devs)
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
