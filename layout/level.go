package layout

// Phase 3, level.
// Needs: the arrangement. Gives: a first height of every level and piece, by
// the longest path downward, as if nothing stood in the way; and from it the
// order in which heights are settled.

// heights are the tops of levels and pieces.
type heights struct {
	level []int
	piece [][]int // by column and piece
	note  [][]int // tops of the notes of pieces
}

func newHeights(a *arrangement) heights {
	h := heights{level: make([]int, len(a.levels)), piece: make([][]int, len(a.cols)), note: make([][]int, len(a.cols))}
	n := 0
	for _, col := range a.cols {
		n += len(col.pieces)
	}
	flat := make([]int, 2*n)
	for c, col := range a.cols {
		n = len(col.pieces)
		h.piece[c], h.note[c], flat = flat[:n:n], flat[n:2*n:2*n], flat[2*n:]
	}
	return h
}

// stack packs one column from its top and gives its length.
func (a *arrangement) stack(c, top int, h heights) int {
	y := top
	low := top + a.textBelow(c) - air // under the last note
	lowX := 0                         // its left edge
	for i, m := range a.measures[c] {
		dev := a.cols[c].pieces[i].dev >= 0
		if dev {
			if m.note.Height() > 0 {
				y = max(y, low+air-m.note.Y0)
			}
			if m.box.X1 > lowX {
				y = max(y, low+air-m.box.Y0)
			}
		}
		h.piece[c][i] = y
		if m.note.Height() > 0 {
			h.note[c][i] = max(y+m.note.Y0, low+air)
			if dev {
				h.note[c][i] = y + m.note.Y0
			}
			low, lowX = h.note[c][i]+m.note.Height(), m.note.X0
		}
		y += m.height + a.extra[c][i]
		if !dev && m.note.Height() > 0 {
			y = max(y, low+tail)
		}
	}
	if a.cols[c].lower < 0 {
		return y - top
	}
	return max(y, low+tail) - top
}

// textBelow is how far the text of the box above reaches beside a column.
func (a *arrangement) textBelow(c int) int {
	if a.up[c] != spine {
		return -1 << 20
	}
	b := a.bodies[a.cols[c].upper]
	if len(b.cells) < 2 {
		return -1 << 20
	}
	return b.cells[1].Y1 - b.height + air
}

// topOf is where a column begins under its upper level's height.
func (a *arrangement) topOf(c int) int {
	l := a.cols[c].upper
	switch a.up[c] {
	case spine:
		return a.bodies[l].height
	case side:
		return a.bodies[l].height / 2
	case onRow:
		return a.bodies[l].rows[a.cols[c].upAt.Row]
	}
	return 0
}

// estimate finds heights by the longest path. Drop is how much lower than that
// a level is thought to stand, so that others may come to stand over it; after
// the levels it is that of columns without any. nil: none.
func estimate(a *arrangement, drop []int) heights {
	h := newHeights(a)
	length := make([]int, len(a.cols))
	for c := range a.cols {
		length[c] = a.stack(c, 0, h)
	}
	wait := make([]int, len(a.levels)) // by group
	var ready []int
	for l := range a.levels {
		for _, c := range a.above[l] {
			if a.cols[c].upper >= 0 {
				wait[a.group[l]]++
			}
		}
	}
	for l := range a.levels {
		if a.group[l] == l && wait[l] == 0 {
			ready = append(ready, l)
		}
	}
	for len(ready) > 0 {
		first := ready[0]
		ready = ready[1:]
		y := 0
		for _, l := range a.members[first] {
			y = max(y, h.level[l])
			for _, c := range a.above[l] {
				if a.cols[c].upper < 0 {
					y = max(y, length[c])
				}
			}
		}
		if drop != nil {
			y += drop[first]
		}
		if a.pinned != nil {
			y = max(y, a.pinned[first])
		}
		for _, l := range a.members[first] {
			h.level[l] = y
			for _, c := range a.below[l] {
				down := a.cols[c].lower
				if down < 0 {
					continue
				}
				h.level[down] = max(h.level[down], y+a.topOf(c)+length[c])
				if k := a.group[down]; wait[k] > 0 {
					if wait[k]--; wait[k] == 0 {
						ready = append(ready, k)
					}
				}
			}
		}
	}
	for c, col := range a.cols {
		top := 0
		switch {
		case col.upper >= 0:
			top = h.level[col.upper] + a.topOf(c)
		case col.lower >= 0:
			top = h.level[col.lower] - length[c]
		case drop != nil:
			top = drop[len(a.levels)+c]
		}
		if a.tops != nil && col.upper < 0 && a.tops[c] >= 0 {
			top = a.tops[c]
		}
		a.stack(c, top, h)
	}
	return h
}

// depth is how low a drawing with these heights reaches.
func (a *arrangement) depth(h heights) int {
	low := 0
	for l := range a.levels {
		low = max(low, h.level[l])
		for _, r := range a.bodies[l].cells {
			low = max(low, h.level[l]+r.Y1)
		}
	}
	for c, col := range a.cols {
		n := len(col.pieces) - 1
		low = max(low, h.piece[c][n]+a.measures[c][n].height)
		if m := a.measures[c][n].note; m.Height() > 0 {
			low = max(low, h.note[c][n]+m.Height())
		}
	}
	return low
}

// scaled gives the heights of levels times a share of a hundred.
func (h heights) scaled(out []int, percent int) {
	for l, y := range h.level {
		out[l] = y * percent / 100
	}
}
