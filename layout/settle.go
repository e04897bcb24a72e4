package layout

import "strake/layout/geom"

// Phase 7, settle.
// Needs: axes, solids, the order of heights. Gives: heights without conflict.
// Things are put one after the other under everything that stands above them
// in their own width: a longest path over "must be below". It ends for every
// sequence, because the order is one of first heights, which already agree
// with the flow, and because no two things that could stand in each other's
// way for their whole length share an x.

// laid is a thing that has its height.
type laid struct {
	geom.Rect
	level, col int // whose it is; -1
	text       bool
	bar        bool
}

// binned is a laid thing in a strip of the sheet, and how low any reaches there
// that was laid before it.
type binned struct {
	laid int32
	low  int
}

// binWidth is the width of the strips of the sheet by which things are found.
const binWidth = 800

// settling holds what settle works with.
type settling struct {
	h         heights
	done      []laid
	bins      [][]binned
	end, next []int // of each column: how far it is drawn, the piece that is next
	least     []int // height of each level, when it should stand lower than it could
	shapes    []shape
	whose     []int // level of each shape
}

func newSettling(a *arrangement) *settling {
	return &settling{h: newHeights(a), end: make([]int, len(a.cols)), next: make([]int, len(a.cols))}
}

func (t *settling) settle(g Graph, a *arrangement, first heights, r ranking, x []int, s *solids) {
	t.done = t.done[:0]
	for i := range t.bins {
		t.bins[i] = t.bins[i][:0]
	}
	for c := range t.end {
		t.end[c], t.next[c] = 0, 0
	}
	for _, k := range r.things {
		if k.level >= 0 {
			t.level(g, a, k.level, first, x, s)
		} else {
			t.piece(a, k, first, x, s)
		}
	}
}

func (t *settling) lay(l laid) {
	i := int32(len(t.done))
	t.done = append(t.done, l)
	for b := bin(l.X0 - clearText); b <= bin(l.X1+clearText); b++ {
		for b >= len(t.bins) {
			t.bins = append(t.bins, nil)
		}
		low := l.Y1
		if n := len(t.bins[b]); n > 0 {
			low = max(low, t.bins[b][n-1].low)
		}
		t.bins[b] = append(t.bins[b], binned{i, low})
	}
}

func bin(x int) int { return max(0, x) / binWidth }

// run passes the wires of a column that carry no note and gives the height at
// which its next thing may begin.
func (t *settling) run(a *arrangement, c int) int {
	for t.next[c] < len(a.measures[c]) && a.cols[c].pieces[t.next[c]].dev < 0 {
		i := t.next[c]
		m := &a.measures[c][i]
		t.h.piece[c][i] = t.end[c]
		if m.note.Height() > 0 {
			break
		}
		t.end[c] += m.height + a.extra[c][i]
		t.next[c]++
	}
	return t.end[c]
}

func (t *settling) level(g Graph, a *arrangement, l int, first heights, x []int, s *solids) {
	y, fed := 0, false
	group := a.members[l]
	for _, l := range group {
		for _, c := range a.above[l] {
			fed = fed || a.cols[c].upper >= 0
			low := t.run(a, c)
			if a.lo[c] == onRow {
				low += a.cornerRoom(c, len(a.measures[c])-1)
			}
			y = max(y, low-s.lo[c].dy)
		}
	}
	if !fed && (a.pinned == nil || t.least == nil || t.least[l] == 0) {
		y = max(y, first.level[l])
	}
	if t.least != nil {
		y = max(y, t.least[l])
	}
	t.shapes, t.whose = t.shapes[:0], t.whose[:0]
	for _, l := range group {
		t.shapes = s.shapes(t.shapes, a, x, l)
		t.own(l)
	}
	for k := range a.strips {
		if a.group[a.strips[k].from] == l {
			t.shapes = s.stripShapes(t.shapes, a, x, k)
		}
	}
	t.own(-1)
	for _, p := range t.shapes {
		y = t.under(a, l, p, y, x, s)
	}
	for _, l := range group {
		if a.levels[l].kind == barLevel && !a.hasBody[l] && g.Nodes[a.levels[l].node].Note.Over.W > 0 {
			p, low := t.name(g, a, l, y, x, s)
			y = low
			t.shapes = append(t.shapes, p)
			t.own(l)
		}
	}
	for k, p := range t.shapes {
		bar := !p.text && t.whose[k] >= 0 && a.levels[t.whose[k]].kind == barLevel
		t.lay(laid{p.Shift(geom.Point{Y: y}), t.whose[k], -1, p.text, bar})
	}
	for _, l := range group {
		t.h.level[l] = y
		for _, c := range a.below[l] {
			t.end[c] = y + s.up[c].dy
			if a.up[c] == onRow {
				t.end[c] += a.cornerRoom(c, 0)
			}
		}
	}
}

// own notes whose the shapes are that were added.
func (t *settling) own(l int) {
	for len(t.whose) < len(t.shapes) {
		t.whose = append(t.whose, l)
	}
}

// name chooses the place of a bar's name that pushes the bar down least.
func (t *settling) name(g Graph, a *arrangement, l, y int, x []int, s *solids) (shape, int) {
	size := g.Nodes[a.levels[l].node].Note.Over
	at := func(left int) shape {
		return shape{geom.Rect{X0: left, Y0: s.name[l].Y, X1: left + size.W, Y1: s.name[l].Y + size.H}, true}
	}
	best := at(s.name[l].X)
	low := 1 << 30
	for _, left := range s.spots[l] {
		p := at(left)
		if k := t.under(a, l, p, y, x, s); k < low {
			best, low = p, k
		}
	}
	if len(s.spots[l]) == 0 {
		low = t.under(a, l, best, y, x, s)
	}
	s.name[l].X = best.X0
	return best, low
}

// under gives the height at which a part of a level is clear of what is laid.
func (t *settling) under(a *arrangement, l int, p shape, y int, x []int, s *solids) int {
	y = max(y, -p.Y0)
	for b := bin(p.X0); b <= bin(p.X1) && b < len(t.bins); b++ {
		for k := len(t.bins[b]) - 1; k >= 0 && t.bins[b][k].low+gap-p.Y0 > y; k-- {
			d := &t.done[t.bins[b][k].laid]
			if d.Y1+gap-p.Y0 <= y || d.X0 >= p.X1+clearText || p.X0 >= d.X1+clearText {
				continue
			}
			space := gap
			if c := d.col; c >= 0 && !p.text && a.cols[c].lower >= 0 && a.group[a.cols[c].lower] == a.group[l] && s.lo[c].straight(a.colX(x, c)) {
				if !d.text {
					continue
				}
				space = tail - halfBar
			}
			y = max(y, d.Y1+space-p.Y0)
		}
	}
	return y
}

// below gives the height at which a part of a column's piece is clear of what
// is laid; straight: its upper level is met without a level piece of wire.
func (t *settling) below(r geom.Rect, y, c, upper int, straight bool) int {
	for b := bin(r.X0); b <= bin(r.X1) && b < len(t.bins); b++ {
		for k := len(t.bins[b]) - 1; k >= 0 && t.bins[b][k].low+underBar-r.Y0 > y; k-- {
			d := &t.done[t.bins[b][k].laid]
			space := gap
			if d.bar {
				space = underBar
			}
			if d.Y1+space-r.Y0 <= y || d.X0 >= r.X1+clearText || r.X0 >= d.X1+clearText {
				continue
			}
			switch own := d.level >= 0 && d.level == upper; {
			case d.col == c || own && d.text:
				space = air
			case own && straight:
				continue // its own bar or box
			}
			y = max(y, d.Y1+space-r.Y0)
		}
	}
	return y
}

func (t *settling) piece(a *arrangement, k thing, first heights, x []int, s *solids) {
	c, i := k.col, k.piece
	col, m := &a.cols[c], &a.measures[c][i]
	at := a.colX(x, c)
	y := t.run(a, c)
	if i == 0 && col.upper < 0 {
		y = first.piece[c][0]
	}
	box, note := m.box, m.note
	box.X0, box.X1, note.X0, note.X1 = box.X0+at, box.X1+at, note.X0+at, note.X1+at
	straight := s.up[c].straight(at)
	if col.pieces[i].dev >= 0 {
		y = max(y, -box.Y0)
		if m.box.Width() > 0 {
			y = t.below(box, y, c, col.upper, straight)
		}
		if note.Height() > 0 {
			y = t.below(note, y, c, col.upper, straight)
			t.h.note[c][i] = y + note.Y0
			t.lay(laid{note.Shift(geom.Point{Y: y}), -1, c, true, false})
		}
		t.h.piece[c][i] = y
		t.lay(laid{box.Shift(geom.Point{Y: y}), -1, c, false, false})
		t.end[c], t.next[c] = y+m.height, i+1
		return
	}
	t.h.piece[c][i] = t.end[c]
	y = t.below(note, y, c, col.upper, straight) // the note moves along its wire
	t.h.note[c][i] = y + note.Y0
	t.lay(laid{note.Shift(geom.Point{Y: y}), -1, c, true, false})
	t.end[c] = max(t.end[c]+m.height+a.extra[c][i], t.h.note[c][i]+note.Height()+tail)
	t.next[c] = i + 1
}
