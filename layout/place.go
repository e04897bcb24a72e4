package layout

import (
	"sort"

	"strake/layout/geom"
)

// Phase 5, place.
// Needs: the arrangement, first heights, room kept at the ends of bars, a
// sequence of items. Gives: the axis of every item, each as far left as the
// earlier ones allow. Cells whose first heights overlap never share an x; that
// is all that the later phases rely on.

// cell is room about an item's axis, at its first heights. It always takes in
// the height by which its thing is ranked, so that of two cells that share an x
// the upper one is settled first.
type cell struct {
	geom.Rect
	level       int // the bar that this is an end of; cells of one bar may overlap
	top, bottom int // the level that it begins or ends on; -1
}

func plain(r geom.Rect) cell { return cell{r, -1, -1, -1} }

// apart tells whether two cells may share an x. Cells that only touch may when
// they do so on one level; else which comes first would be open.
func apart(p, n cell) bool {
	switch {
	case p.Y1 < n.Y0 || n.Y1 < p.Y0 || n.level >= 0 && n.level == p.level:
		return true
	case p.Y1 == n.Y0 && p.bottom >= 0 && p.bottom == n.top:
		return true
	case n.Y1 == p.Y0 && n.bottom >= 0 && n.bottom == p.top:
		return true
	}
	return false
}

// room is what a bar keeps beyond its outer columns.
type room struct{ left, right int }

// cellsOf lists the cells of every item.
func cellsOf(a arrangement, h heights, keep []room) [][]cell {
	out := make([][]cell, len(a.items))
	for i, it := range a.items {
		for _, c := range it.cols {
			out[i] = a.columnCells(out[i], c, h, keep)
		}
		for _, l := range it.bodies {
			for _, r := range a.bodies[l].cells {
				r.Y0, r.Y1 = min(r.Y0, 0), max(r.Y1, 0)
				out[i] = append(out[i], cell{r.Shift(geom.Point{Y: h.level[l]}), -1, l, -1})
			}
			if a.levels[l].kind == boardLevel {
				out[i] = append(out[i], barCell(l, h.level[l], keep[l]))
			}
		}
	}
	return out
}

func barCell(l, y int, k room) cell {
	return cell{Rect: geom.Rect{X0: -overhang - k.left, Y0: y - halfBar - air, X1: overhang + k.right, Y1: y + halfBar + air}, level: l, top: -1, bottom: -1}
}

func (a *arrangement) columnCells(out []cell, c int, h heights, keep []room) []cell {
	col := a.cols[c]
	top, bottom := 0, 0
	if n := len(col.pieces); n > 0 {
		top = h.piece[c][0]
		bottom = h.piece[c][n-1] + a.measures[c][n-1].height
	}
	if col.upper >= 0 {
		top = h.level[col.upper]
		if a.up[c] == spine {
			top += a.topOf(c)
		}
	}
	if col.lower >= 0 {
		bottom = h.level[col.lower]
		switch a.lo[c] {
		case side:
			bottom += a.bodies[col.lower].height
		case onRow:
			bottom += a.bodies[col.lower].rows[col.loAt.Row]
		}
	}
	out = append(out, cell{geom.Rect{X0: -halfWire, Y0: top, X1: halfWire, Y1: bottom}, -1, col.upper, col.lower})
	for i, m := range a.measures[c] {
		if col.pieces[i].dev >= 0 && m.box.Width() > 0 {
			m.box.Y0 = min(m.box.Y0, 0)
			out = append(out, plain(m.box.Shift(geom.Point{Y: h.piece[c][i]})))
		}
		if m.note.Height() > 0 {
			n := m.note
			n.X1 += air
			r := n.Shift(geom.Point{Y: h.note[c][i] - n.Y0})
			if col.pieces[i].dev >= 0 {
				r.Y0 = min(r.Y0, h.piece[c][i])
			}
			out = append(out, plain(r))
		}
	}
	if a.up[c] == onBar {
		out = append(out, barCell(col.upper, h.level[col.upper], keep[col.upper]))
	}
	if a.lo[c] == onBar {
		out = append(out, barCell(col.lower, h.level[col.lower], keep[col.lower]))
	}
	return out
}

// place gives every item its axis and returns the sequence that was held,
// after items that must stand further right were put back.
func place(g Graph, a arrangement, h heights, cells [][]cell, seq []int) (x, held, names []int) {
	names = make([]int, len(a.levels))
	named := make([]bool, len(a.levels))
	first := make([]int, len(a.levels))
	x = make([]int, len(a.items))
	held = make([]int, 0, len(seq))
	done := make([]bool, len(a.items))
	var put func(int)
	var placed []cell // absolute
	put = func(i int) {
		if done[i] {
			return
		}
		done[i] = true
		for _, before := range a.items[i].after {
			put(before)
		}
		at := a.leastX(i, x)
		own := cells[i]
		for _, l := range a.touches[i] { // the first item of a bar brings its name
			if !named[l] {
				named[l] = true
				n := a.nameCell(g, l, h, own)
				names[l], first[l] = n.X0, i
				own = append(own[:len(own):len(own)], n)
			}
		}
		for _, n := range own {
			at = max(at, -n.X0)
			for _, p := range placed {
				if !apart(p, n) {
					at = max(at, p.X1-n.X0+beside)
				}
			}
		}
		x[i] = at
		for _, l := range a.touches[i] {
			if named[l] && first[l] == i {
				names[l] += at
			}
		}
		for _, n := range own {
			n.X0 += at
			n.X1 += at
			placed = append(placed, n)
		}
		held = append(held, i)
	}
	for _, i := range seq {
		put(i)
	}
	return x, held, names
}

// nameCell is the room of a bar's name: above it, left of the item that brings it.
func (a *arrangement) nameCell(g Graph, l int, h heights, own []cell) cell {
	size := g.Nodes[a.levels[l].node].Note.Over
	y1 := h.level[l] - halfBar - air
	n := geom.Rect{X0: 0, Y0: y1 - size.H, X1: 0, Y1: y1}
	for _, c := range own {
		if c.Y0 < n.Y1 && n.Y0 < c.Y1 && c.level < 0 {
			n.X1 = min(n.X1, c.X0)
		}
	}
	n.X1 -= air
	n.X0 = n.X1 - size.W
	n.Y1 = h.level[l]
	return cell{n, l, -1, l}
}

// leastX keeps a column that comes from a row right of every strip.
func (a *arrangement) leastX(i int, x []int) int {
	least := 0
	for _, c := range a.items[i].cols {
		if a.up[c] == onRow {
			l := a.cols[c].upper
			least = max(least, x[a.bodyItem[l]]+a.bodies[l].reach+2*halfWire)
		}
		if a.lo[c] == onRow {
			l := a.cols[c].lower
			least = max(least, x[a.bodyItem[l]]+a.bodies[l].reach+2*halfWire)
		}
	}
	return least
}

// byX sorts columns from left to right; equal ones by index.
func byX(a arrangement, x, cols []int) []int {
	out := append([]int(nil), cols...)
	sort.SliceStable(out, func(i, j int) bool { return x[a.itemOf[out[i]]] < x[a.itemOf[out[j]]] })
	return out
}
