package layout

// Phase 2a, choose the turns.
// Needs: levels and chains, the field. Gives: which chains become a U and which
// supplies hang, judged by the height of the longest way down alone.

// What a choice costs beside the height of the drawing, in hundredths of a
// millimetre of it.
const (
	costTurned = 4000  // a chain that becomes a U
	costWeight = 3000  // the same, for each point of its weight
	costHang   = 4000  // a supply that stands below its bar
	costUpward = 40000 // a board or box left without any feed from above that had one
	costBarUp  = 6000  // the same of a bar
)

// mostPairs is the number of chains up to which pairs of turns are tried.
const mostPairs = 80

// skyward is what the choice of turns is judged by: the height of the drawing
// by its longest way down, with nothing in the way.
type skyward struct {
	r       reduced
	length  []int  // of each chain
	body    []int  // height of each box
	hanging []int  // length of each board's rail
	top     []bool // chains whose supply wants to stand above
	start   []int  // of each chain under the height of its supply's level
}

func newSkyward(g Graph, r reduced) skyward {
	s := skyward{r: r, length: make([]int, len(r.chains)), body: make([]int, len(r.levels)), hanging: make([]int, len(r.levels)), start: make([]int, len(r.chains)), top: make([]bool, len(r.chains))}
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
			s.top[i] = len(c.devs) > 0 && g.Nodes[c.devs[0]].Top
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
			if l := c.ends[1]; s.r.levels[l].kind == boardLevel && c.at[1].Row < 0 {
				cost += costUpward // what feeds a board comes from above
			}
		}
		if ch.hangs[i] {
			cost += costHang
			if s.top[i] {
				cost += costHang
			}
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

// betterTurns changes turns one by one and in pairs until nothing helps.
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
			if len(between) > mostPairs {
				break
			}
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
