package layout

import (
	"slices"

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

// suffices tells whether it is as much as another.
func (r room) suffices(o room) bool {
	return o.left <= r.left && o.right <= r.right && (r.name || !o.name)
}

// reach is how far an item reaches from its axis, slot after slot, but for the
// bars that its columns land on.
type reach struct {
	from        int // first slot
	left, right []int32
	bars        []cell  // the pieces of bar at its columns
	foreign     []limit // what stands in the heights of bars
	passing     []limit // its wires that pass the heights of foreign bars
}

// limit is the left edge, or the axis, of what an item has in the height of a bar.
type limit struct{ level, x0 int32 }

// cells is the room of every item.
type cells struct {
	of    [][]cell
	reach []reach
	over  [][]int32 // bars in whose height each bar stands
	apart [][]int32 // those of them that no tie joins to it
	names [][]cell  // by item, for the bars that it touches
	slots int
	ys    []int // first height at which each slot begins
	area  int   // of all cells, in square millimetres
}

// mark is a first height; levels of one height are told apart by their rank, in
// its lower bits.
type mark int

const rankBits = 24

func markAt(y, rank int) mark { return mark(y<<rankBits | rank) }

func (m mark) y() int { return int(m) >> rankBits }

func (m mark) ranked() bool { return m&(1<<rankBits-1) != 0 }

// cut is a cell before its heights are turned into slots.
type cut struct {
	geom.Rect
	from, to mark
	level    int
}

// cellsOf lists the cells of every item.
func cellsOf(g Graph, a arrangement, h heights, r ranking) cells {
	cuts, names := make([][]cut, len(a.items)), make([][]cut, len(a.items))
	room := 0
	for _, it := range a.items {
		for _, c := range it.cols {
			room += 3 + 2*len(a.cols[c].pieces)
		}
		for _, l := range it.bodies {
			room += 1 + len(a.bodies[l].cells)
		}
	}
	all := make([]cut, 0, room) // of the items, one after the other
	at := func(l int) mark { return markAt(h.level[l], r.level[l]+1) }
	for i, it := range a.items {
		first := len(all)
		for _, c := range it.cols {
			n := len(all)
			all = a.columnCuts(all, c, h, at)
			for k := range all[n:] {
				all[n+k].X0 += a.colDX[c]
				all[n+k].X1 += a.colDX[c]
			}
		}
		for _, l := range it.bodies {
			for _, b := range a.bodies[l].cells {
				b = b.Shift(geom.Point{X: a.bodyDX[l], Y: h.level[l]})
				k := cut{b, markAt(b.Y0, 0), markAt(b.Y1, 0), -1}
				if b.Y0 >= h.level[l] {
					k.from = at(l)
				}
				if b.Y1 <= h.level[l] {
					k.to = at(l)
				}
				all = append(all, k)
			}
			if a.levels[l].kind == boardLevel {
				k := barCut(l, h.level[l])
				k.X0, k.X1 = k.X0+a.bodyDX[l], k.X1+a.bodyDX[l]
				all = append(all, k)
			}
		}
		cuts[i] = all[first:len(all):len(all)]
		for _, l := range a.touches[i] {
			names[i] = append(names[i], a.nameCut(g, l, h, cuts[i], at(l)))
		}
	}
	for k := range a.strips {
		t := &a.strips[k]
		y := h.level[t.from]
		r := geom.Rect{X0: min(0, t.room.X0), X1: t.width - min(0, t.room.X0)}
		cuts[a.stripItem[k]] = []cut{{r, markAt(y+t.room.Y0, 0), markAt(y+t.room.Y1, 0), -1}}
	}
	total := 0
	for _, list := range [][][]cut{cuts, names} {
		for _, cs := range list {
			for k := range cs {
				if a.pinned == nil { // what stood somewhere stood tight
					cs[k].coarsen()
				}
			}
			total += len(cs)
		}
	}
	marks := make([]mark, 0, 2*total)
	for _, list := range [][][]cut{cuts, names} {
		for _, cs := range list {
			for _, c := range cs {
				marks = append(marks, c.from, c.to)
			}
		}
	}
	slices.Sort(marks)
	marks = slices.Compact(marks)
	slot := func(m mark) int {
		k, _ := slices.BinarySearch(marks, m)
		return k
	}
	flat := make([]cell, 0, total)
	turn := func(list [][]cut) [][]cell {
		out := make([][]cell, len(list))
		for i, cs := range list {
			first := len(flat)
			for _, c := range cs {
				k := cell{c.X0, c.X1, slot(c.from), slot(c.to), c.level}
				k.s1 = max(k.s1, k.s0+1)
				flat = append(flat, k)
			}
			out[i] = flat[first:len(flat):len(flat)]
		}
		return out
	}
	area := 0
	for _, cs := range cuts {
		for _, c := range cs {
			area += c.Width() * max(0, c.to.y()-c.from.y()) / (geom.MM * geom.MM)
		}
	}
	ys := make([]int, len(marks))
	for s, m := range marks {
		ys[s] = m.y()
	}
	cs := cells{of: turn(cuts), names: turn(names), slots: len(marks) + 1, ys: ys, area: area}
	cs.outline(len(a.levels))
	cs.passes(&a, r)
	return cs
}

// coarse is the step to which free ends of cells are rounded outward, so that
// there are few slots.
const coarse = 25

func (c *cut) coarsen() {
	if !c.from.ranked() {
		c.from = markAt(floor(c.from.y()), 0)
	}
	if !c.to.ranked() {
		c.to = markAt(-floor(-c.to.y()), 0)
	}
}

func floor(y int) int {
	if y < 0 {
		return -(-y + coarse - 1) / coarse * coarse
	}
	return y / coarse * coarse
}

func barCut(l, y int) cut {
	return cut{geom.Rect{X0: -overhang, X1: overhang}, markAt(y-halfBar-air, 0), markAt(y+halfBar+air, 0), l}
}

// columnCuts lists the cells of a column: its wire from end to end, its
// devices, its notes, and the piece of bar at either end.
func (a *arrangement) columnCuts(out []cut, c int, h heights, at func(int) mark) []cut {
	col := a.cols[c]
	n := len(col.pieces)
	top, bottom := markAt(h.piece[c][0], 0), markAt(h.piece[c][n-1]+a.measures[c][n-1].height, 0)
	if col.upper >= 0 {
		top = at(col.upper)
		if a.up[c] == spine {
			top = markAt(h.level[col.upper]+a.topOf(c), 0)
		}
	}
	if col.lower >= 0 {
		bottom = at(col.lower)
		switch a.lo[c] {
		case side:
			bottom = markAt(bottom.y()+a.bodies[col.lower].height, 0)
		case onRow:
			bottom = markAt(bottom.y()+a.bodies[col.lower].rows[col.loAt.Row], 0)
		}
	}
	out = append(out, cut{geom.Rect{X0: -halfWire, X1: halfWire}, top, bottom, -1})
	for i, m := range a.measures[c] {
		dev := col.pieces[i].dev >= 0
		y := h.piece[c][i]
		if dev && m.box.Width() > 0 {
			out = append(out, cut{m.box, markAt(y+min(m.box.Y0, 0), 0), markAt(y+m.box.Y1, 0), -1})
		}
		if m.note.Height() > 0 {
			r := m.note
			r.X1 += air
			from := h.note[c][i]
			if dev {
				from = min(from, y)
			}
			out = append(out, cut{r, markAt(from, 0), markAt(h.note[c][i]+r.Height(), 0), -1})
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
		if c.from.y() < y1 && y1-size.H < c.to.y() && c.level < 0 {
			x1 = min(x1, c.X0)
		}
	}
	x1 -= air
	return cut{geom.Rect{X0: x1 - size.W, X1: x1}, markAt(y1-size.H, 0), to, l}
}

// far is beyond every sheet.
const far = 1 << 28

// outline gathers the cells of every item, slot after slot.
func (cs *cells) outline(levels int) {
	cs.reach = make([]reach, len(cs.of))
	bars := make([]cell, levels) // the slots of each bar
	for i, all := range cs.of {
		r := &cs.reach[i]
		from, to := cs.slots, 0
		for _, c := range all {
			if c.level >= 0 {
				bars[c.level] = c
				r.bars = append(r.bars, c)
				continue
			}
			from, to = min(from, c.s0), max(to, c.s1)
		}
		n := max(0, to-from)
		edges := make([]int32, 2*n)
		r.from, r.left, r.right = min(from, cs.slots-n), edges[:n], edges[n:]
		for k := range r.left {
			r.left[k], r.right[k] = far, -far
		}
		for _, c := range all {
			if c.level >= 0 {
				continue
			}
			for k := c.s0 - from; k < c.s1-from; k++ {
				r.left[k], r.right[k] = min(r.left[k], int32(c.x0)), max(r.right[k], int32(c.x1))
			}
		}
	}
	for i := range cs.reach {
		r := &cs.reach[i]
		for l, b := range bars {
			x0 := int32(far)
			for s := max(b.s0, r.from); s < min(b.s1, r.from+len(r.left)); s++ {
				x0 = min(x0, r.left[s-r.from])
			}
			if x0 < far {
				r.foreign = append(r.foreign, limit{int32(l), x0})
			}
		}
	}
	cs.over = make([][]int32, levels)
	for l, b := range bars {
		for k, c := range bars {
			if k != l && b.s0 < c.s1 && c.s0 < b.s1 {
				cs.over[l] = append(cs.over[l], int32(k))
			}
		}
	}
}

// passes notes the wires that pass the heights of foreign bars, and the bars
// that stand in the heights of others: near the end of a bar they would read as
// joined to it. A wire that turns at its lower end may be drawn lower than it
// was thought, past every bar.
func (cs *cells) passes(a *arrangement, r ranking) {
	for l, lv := range a.levels {
		if lv.kind != barLevel && lv.kind != boardLevel {
			continue
		}
		for c, col := range a.cols {
			joined := func(k int) bool { return k >= 0 && a.group[k] == a.group[l] }
			turns := col.lower >= 0 && a.levels[col.lower].kind == bendLevel
			if r.open[c] < r.level[l] && (turns || r.level[l] < r.close[c]) && !joined(col.upper) && !joined(col.lower) {
				i := a.itemOf[c]
				cs.reach[i].passing = append(cs.reach[i].passing, limit{int32(l), int32(a.colDX[c])})
			}
		}
	}
	cs.apart = make([][]int32, len(cs.over))
	for l, over := range cs.over {
		for _, k := range over {
			if a.group[k] != a.group[l] {
				cs.apart[l] = append(cs.apart[l], k)
			}
		}
	}
}

// placing holds what place works with.
type placing struct {
	x, held []int
	nameOn  []int // item that brings the name of a bar that has room of its own
	nameDX  []int // left edge of that name from the item's axis
	names   []int // and on the sheet
	done    []bool
	named   []bool
	fronts  []int32 // how far right each slot is taken, and the distance to the next cell
	bars    []int32 // and each bar
	passed  []int32 // the last wire that passes the height of each bar
	ends    int32   // what is kept between them
}

// place gives every item its axis, unit after unit. The sequence that is held
// differs from the one asked for where items must stand further right.
func (p *placing) place(a *arrangement, cs *cells, keep []room, seq []int, ends int) {
	p.ends = int32(ends)
	clear(p.done)
	clear(p.named)
	clear(p.fronts)
	for l := range p.bars {
		p.bars[l], p.passed[l] = -far, -far
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
		done: make([]bool, len(a.items)), named: make([]bool, len(a.levels)), fronts: make([]int32, cs.slots), bars: make([]int32, len(a.levels)), passed: make([]int32, len(a.levels))}
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
	r := &cs.reach[i]
	x := int32(at)
	fronts := p.fronts[r.from:]
	fronts = fronts[:len(r.left)]
	for k, left := range r.left {
		x = max(x, fronts[k]-left)
	}
	for _, f := range r.foreign {
		x = max(x, p.bars[f.level]-f.x0)
	}
	for _, f := range r.passing {
		x = max(x, p.bars[f.level]-beside+p.ends-f.x0)
	}
	for _, c := range r.bars {
		c = widen(c, keep)
		x = max(p.clear(cs, x, c), p.passed[c.level]+p.ends-int32(c.x0))
		for _, k := range cs.apart[c.level] {
			x = max(x, p.bars[k]-beside+p.ends-int32(c.x0))
		}
	}
	for k, l := range a.touches[i] { // the first item of a bar brings its name
		if keep[l].name && !p.named[l] {
			x = p.clear(cs, x, cs.names[i][k])
		}
	}
	p.x[i] = int(x)
	for k, right := range r.right {
		fronts[k] = max(fronts[k], x+right+beside)
	}
	for _, f := range r.passing {
		p.passed[f.level] = max(p.passed[f.level], x+f.x0)
	}
	for _, c := range r.bars {
		c = widen(c, keep)
		p.bars[c.level] = max(p.bars[c.level], x+int32(c.x1)+beside)
	}
	for k, l := range a.touches[i] {
		if keep[l].name && !p.named[l] {
			p.named[l] = true
			c := cs.names[i][k]
			p.nameOn[l], p.nameDX[l] = i, c.x0
			p.names[l] = int(x) + c.x0
			for s := c.s0; s < c.s1; s++ {
				p.fronts[s] = max(p.fronts[s], x+int32(c.x1)+beside)
			}
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

// clear moves an axis right until a piece or a name of a bar is free of what is
// placed but for its own bar.
func (p *placing) clear(cs *cells, at int32, c cell) int32 {
	x0 := int32(c.x0)
	for _, x := range p.fronts[c.s0:c.s1] {
		at = max(at, x-x0)
	}
	for _, k := range cs.over[c.level] {
		at = max(at, p.bars[k]-x0)
	}
	return at
}

// width is how far right anything is taken.
func (p *placing) width() int {
	w := int32(0)
	for _, x := range p.fronts {
		w = max(w, x)
	}
	for _, x := range p.bars {
		w = max(w, x)
	}
	return int(w) - beside
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
