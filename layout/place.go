package layout

import (
	"cmp"
	"slices"
	"sort"

	"strake/layout/geom"
)

// Phase 5, place.
// Needs: the arrangement, first heights, room kept at the ends of bars, a
// sequence of units. Gives: the axis of every item, each as far left as the
// earlier ones allow. Cells whose first heights overlap never share an x; that
// is all that the later phases rely on.

// cell is room about an item's axis over a run of slots. A slot is the time
// between two neighbouring first heights; levels of one height have slots of
// their own, so that it is always clear which of them comes first. A cell takes
// in the height by which its thing is ranked.
type cell struct {
	x0, x1 int
	s0, s1 int // slots, the last one not taken
	level  int // the bar that this is an end of; cells of one bar may overlap
}

// room is what a bar keeps beyond its outer columns, and for its name.
type room struct {
	left, right int
	name        bool
}

// cells is the room of every item.
type cells struct {
	of    [][]cell
	names [][]cell // by item, for the bars that it touches
	slots int
	area  int // of all cells, in square millimetres
}

// mark is a first height; levels of one height are told apart by their rank.
type mark struct{ y, rank int }

// cut is a cell before its heights are turned into slots.
type cut struct {
	geom.Rect
	from, to mark
	level    int
}

// cellsOf lists the cells of every item.
func cellsOf(g Graph, a arrangement, h heights, r ranking) cells {
	cuts := make([][]cut, len(a.items))
	names := make([][]cut, len(a.items))
	at := func(l int) mark { return mark{h.level[l], r.level[l] + 1} }
	for i, it := range a.items {
		for _, c := range it.cols {
			n := len(cuts[i])
			cuts[i] = a.columnCuts(cuts[i], c, h, at)
			for k := range cuts[i][n:] {
				cuts[i][n+k].X0 += a.colDX[c]
				cuts[i][n+k].X1 += a.colDX[c]
			}
		}
		for _, l := range it.bodies {
			for _, b := range a.bodies[l].cells {
				b = b.Shift(geom.Point{X: a.bodyDX[l], Y: h.level[l]})
				k := cut{b, mark{b.Y0, 0}, mark{b.Y1, 0}, -1}
				if b.Y0 >= h.level[l] {
					k.from = at(l)
				}
				if b.Y1 <= h.level[l] {
					k.to = at(l)
				}
				cuts[i] = append(cuts[i], k)
			}
			if a.levels[l].kind == boardLevel {
				k := barCut(l, h.level[l])
				k.X0, k.X1 = k.X0+a.bodyDX[l], k.X1+a.bodyDX[l]
				cuts[i] = append(cuts[i], k)
			}
		}
		for _, l := range a.touches[i] {
			names[i] = append(names[i], a.nameCut(g, l, h, cuts[i], at(l)))
		}
	}
	for k := range a.strips {
		t := &a.strips[k]
		y := h.level[t.from]
		r := geom.Rect{X0: min(0, t.room.X0), X1: t.width - min(0, t.room.X0)}
		cuts[a.stripItem[k]] = []cut{{r, mark{y + t.room.Y0, 0}, mark{y + t.room.Y1, 0}, -1}}
	}
	for _, list := range [][][]cut{cuts, names} {
		for _, cs := range list {
			for k := range cs {
				cs[k].coarsen()
			}
		}
	}
	var marks []mark
	for _, list := range [][][]cut{cuts, names} {
		for _, cs := range list {
			for _, c := range cs {
				marks = append(marks, c.from, c.to)
			}
		}
	}
	less := func(p, q mark) bool { return p.y < q.y || p.y == q.y && p.rank < q.rank }
	slices.SortFunc(marks, func(p, q mark) int { return cmp.Or(cmp.Compare(p.y, q.y), cmp.Compare(p.rank, q.rank)) })
	n := 0
	for _, m := range marks {
		if n == 0 || marks[n-1] != m {
			marks[n] = m
			n++
		}
	}
	marks = marks[:n]
	slot := func(m mark) int { return sort.Search(n, func(i int) bool { return !less(marks[i], m) }) }
	turn := func(list [][]cut) [][]cell {
		out := make([][]cell, len(list))
		for i, cs := range list {
			for _, c := range cs {
				k := cell{c.X0, c.X1, slot(c.from), slot(c.to), c.level}
				k.s1 = max(k.s1, k.s0+1)
				out[i] = append(out[i], k)
			}
		}
		return out
	}
	area := 0
	for _, cs := range cuts {
		for _, c := range cs {
			area += c.Width() * max(0, c.to.y-c.from.y) / (geom.MM * geom.MM)
		}
	}
	return cells{turn(cuts), turn(names), n + 1, area}
}

// coarse is the step to which free ends of cells are rounded outward, so that
// there are few slots.
const coarse = 25

func (c *cut) coarsen() {
	if c.from.rank == 0 {
		c.from.y = floor(c.from.y)
	}
	if c.to.rank == 0 {
		c.to.y = -floor(-c.to.y)
	}
}

func floor(y int) int {
	if y < 0 {
		return -(-y + coarse - 1) / coarse * coarse
	}
	return y / coarse * coarse
}

func barCut(l, y int) cut {
	return cut{geom.Rect{X0: -overhang, X1: overhang}, mark{y - halfBar - air, 0}, mark{y + halfBar + air, 0}, l}
}

// columnCuts lists the cells of a column: its wire from end to end, its
// devices, its notes, and the piece of bar at either end.
func (a *arrangement) columnCuts(out []cut, c int, h heights, at func(int) mark) []cut {
	col := a.cols[c]
	n := len(col.pieces)
	top, bottom := mark{h.piece[c][0], 0}, mark{h.piece[c][n-1] + a.measures[c][n-1].height, 0}
	if col.upper >= 0 {
		top = at(col.upper)
		if a.up[c] == spine {
			top = mark{h.level[col.upper] + a.topOf(c), 0}
		}
	}
	if col.lower >= 0 {
		bottom = at(col.lower)
		switch a.lo[c] {
		case side:
			bottom = mark{bottom.y + a.bodies[col.lower].height, 0}
		case onRow:
			bottom = mark{bottom.y + a.bodies[col.lower].rows[col.loAt.Row], 0}
		}
	}
	out = append(out, cut{geom.Rect{X0: -halfWire, X1: halfWire}, top, bottom, -1})
	for i, m := range a.measures[c] {
		dev := col.pieces[i].dev >= 0
		y := h.piece[c][i]
		if dev && m.box.Width() > 0 {
			out = append(out, cut{m.box, mark{y + min(m.box.Y0, 0), 0}, mark{y + m.box.Y1, 0}, -1})
		}
		if m.note.Height() > 0 {
			r := m.note
			r.X1 += air
			from := h.note[c][i]
			if dev {
				from = min(from, y)
			}
			out = append(out, cut{r, mark{from, 0}, mark{h.note[c][i] + r.Height(), 0}, -1})
		}
	}
	if a.up[c] == onBar {
		out = append(out, barCut(col.upper, h.level[col.upper]))
	}
	if a.lo[c] == onBar {
		out = append(out, barCut(col.lower, h.level[col.lower]))
	}
	return out
}

// nameCut is the room of a bar's name when none is found along the bar: above
// it, left of the item that brings it.
func (a *arrangement) nameCut(g Graph, l int, h heights, own []cut, to mark) cut {
	size := g.Nodes[a.levels[l].node].Note.Over
	y1 := h.level[l] - halfBar - air
	x1 := 0
	for _, c := range own {
		if c.from.y < y1 && y1-size.H < c.to.y && c.level < 0 {
			x1 = min(x1, c.X0)
		}
	}
	x1 -= air
	return cut{geom.Rect{X0: x1 - size.W, X1: x1}, mark{y1 - size.H, 0}, to, l}
}

// front is how far right a slot is taken: in all, and by others than that
// whose level reaches farthest.
type front struct{ x, other, level int }

// placing holds what place works with.
type placing struct {
	x, held []int
	nameOn  []int // item that brings the name of a bar that has room of its own
	nameDX  []int // left edge of that name from the item's axis
	names   []int // and on the sheet
	done    []bool
	named   []bool
	fronts  []front
}

// place gives every item its axis, unit after unit. The sequence that is held
// differs from the one asked for where items must stand further right.
func (p *placing) place(a *arrangement, cs *cells, keep []room, seq []int) {
	for i := range p.done {
		p.done[i] = false
	}
	for l := range p.named {
		p.named[l] = false
	}
	for s := range p.fronts {
		p.fronts[s] = front{-1 << 30, -1 << 30, -1}
	}
	p.held = p.held[:0]
	for _, u := range seq {
		for _, i := range a.units[u] {
			p.put(a, cs, keep, i)
		}
	}
}

func newPlacing(a *arrangement, cs *cells) *placing {
	return &placing{x: make([]int, len(a.items)), names: make([]int, len(a.levels)), nameOn: make([]int, len(a.levels)), nameDX: make([]int, len(a.levels)),
		done: make([]bool, len(a.items)), named: make([]bool, len(a.levels)), fronts: make([]front, cs.slots)}
}

func (p *placing) put(a *arrangement, cs *cells, keep []room, i int) {
	if p.done[i] {
		return
	}
	p.done[i] = true
	for _, before := range a.items[i].after {
		p.put(a, cs, keep, before)
	}
	at := a.leastX(i, p.x)
	for _, left := range a.items[i].right {
		if p.done[left] && left != i {
			at = max(at, p.x[left]+overhang)
		}
	}
	for _, c := range cs.of[i] {
		at = p.clear(at, widen(c, keep))
	}
	for k, l := range a.touches[i] { // the first item of a bar brings its name
		if keep[l].name && !p.named[l] {
			at = p.clear(at, cs.names[i][k])
		}
	}
	p.x[i] = at
	for _, c := range cs.of[i] {
		p.take(at, widen(c, keep))
	}
	for k, l := range a.touches[i] {
		if keep[l].name && !p.named[l] {
			p.named[l] = true
			p.nameOn[l], p.nameDX[l] = i, cs.names[i][k].x0
			p.names[l] = at + p.nameDX[l]
			p.take(at, cs.names[i][k])
		}
	}
	p.held = append(p.held, i)
}

func widen(c cell, keep []room) cell {
	if c.level >= 0 {
		c.x0 -= keep[c.level].left
		c.x1 += keep[c.level].right
	}
	return c
}

// clear moves an axis right until a cell is free of what is placed.
func (p *placing) clear(at int, c cell) int {
	at = max(at, -c.x0)
	least := at + c.x0 - beside
	for s := c.s0; s < c.s1; s++ {
		f := &p.fronts[s]
		x := f.x
		if c.level >= 0 && f.level == c.level {
			x = f.other
		}
		if x > least {
			least = x
		}
	}
	return least - c.x0 + beside
}

// take marks a cell as taken.
func (p *placing) take(at int, c cell) {
	x := at + c.x1
	for s := c.s0; s < c.s1; s++ {
		f := &p.fronts[s]
		switch {
		case x >= f.x:
			if f.level != c.level {
				f.other = f.x
			}
			f.x, f.level = x, c.level
		case f.level != c.level && x > f.other:
			f.other = x
		}
	}
}

// leastX keeps a column that comes from a row right of every strip.
func (a *arrangement) leastX(i int, x []int) int {
	least := 0
	for _, c := range a.items[i].cols {
		if a.up[c] == onRow {
			l := a.cols[c].upper
			least = max(least, a.bodyX(x, l)+a.bodies[l].reach+2*halfWire-a.colDX[c])
		}
		if a.lo[c] == onRow {
			l := a.cols[c].lower
			least = max(least, a.bodyX(x, l)+a.bodies[l].reach+2*halfWire-a.colDX[c])
		}
	}
	return least
}
