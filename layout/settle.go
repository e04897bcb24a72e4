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
}

func settle(g Graph, a arrangement, first heights, r ranking, x []int, s solids) heights {
	h := newHeights(a)
	shapes := s.shapes(g, a, x)
	var done []laid
	end := make([]int, len(a.cols)) // how far each column is drawn
	next := make([]int, len(a.cols))
	for _, t := range r.things {
		if t.level >= 0 {
			done = a.settleLevel(t.level, first, h, shapes[t.level], x, s, done, end, next)
		} else {
			done = a.settlePiece(t, first, h, x, done, end, next)
		}
	}
	return h
}

// run passes the wires of a column that carry no note and gives the height at
// which its next thing may begin.
func (a *arrangement) run(c int, h heights, end, next []int) int {
	for next[c] < len(a.measures[c]) && a.cols[c].pieces[next[c]].dev < 0 {
		i := next[c]
		m := a.measures[c][i]
		h.piece[c][i] = end[c]
		if m.note.Height() > 0 {
			break
		}
		end[c] += m.height
		next[c]++
	}
	return end[c]
}

func (a *arrangement) settleLevel(l int, first, h heights, shapes []shape, x []int, s solids, done []laid, end, next []int) []laid {
	y, fed := 0, false
	for _, c := range a.above[l] {
		fed = fed || a.cols[c].upper >= 0
		y = max(y, a.run(c, h, end, next)-s.lo[c].dy)
	}
	if !fed {
		y = max(y, first.level[l])
	}
	straight := func(c int) bool { return a.cols[c].lower == l && s.lo[c].x == x[a.itemOf[c]] }
	for _, p := range shapes {
		y = max(y, -p.Y0)
		for _, d := range done {
			if d.X0 >= p.X1+clearText || p.X0 >= d.X1+clearText {
				continue
			}
			space := gap
			if d.col >= 0 && straight(d.col) && !p.text {
				if !d.text {
					continue
				}
				space = tail - halfBar
			}
			y = max(y, d.Y1+space-p.Y0)
		}
	}
	h.level[l] = y
	for _, p := range shapes {
		done = append(done, laid{p.Shift(geom.Point{Y: y}), l, -1, p.text})
	}
	for _, c := range a.below[l] {
		end[c] = y + s.up[c].dy
	}
	return done
}

func (a *arrangement) settlePiece(t thing, first, h heights, x []int, done []laid, end, next []int) []laid {
	c, i := t.col, t.piece
	col, m := a.cols[c], a.measures[c][i]
	at := x[a.itemOf[c]]
	y := a.run(c, h, end, next)
	if i == 0 && col.upper < 0 {
		y = first.piece[c][0]
	}
	dev := col.pieces[i].dev >= 0
	box, note := m.box, m.note
	box.X0, box.X1, note.X0, note.X1 = box.X0+at, box.X1+at, note.X0+at, note.X1+at
	clear := func(y int, r geom.Rect, text bool) int {
		for _, d := range done {
			if d.X0 >= r.X1+clearText || r.X0 >= d.X1+clearText {
				continue
			}
			space := gap
			if d.col == c || d.level >= 0 && d.level == col.upper && d.text {
				space = air
			} else if d.level >= 0 && d.level == col.upper {
				continue
			}
			y = max(y, d.Y1+space-r.Y0)
		}
		return y
	}
	if dev {
		y = max(y, -box.Y0)
		if m.box.Width() > 0 {
			y = clear(y, box, false)
		}
		if note.Height() > 0 {
			y = clear(y, note, true)
			h.note[c][i] = y + note.Y0
			done = append(done, laid{note.Shift(geom.Point{Y: y}), -1, c, true})
		}
		h.piece[c][i] = y
		done = append(done, laid{box.Shift(geom.Point{Y: y}), -1, c, false})
		end[c], next[c] = y+m.height, i+1
		return done
	}
	h.piece[c][i] = end[c]
	y = clear(end[c], note, true) // moves the wire's start, in effect its note
	h.note[c][i] = y + note.Y0
	done = append(done, laid{note.Shift(geom.Point{Y: y}), -1, c, true})
	end[c] = max(end[c]+m.height, h.note[c][i]+note.Height()+tail)
	next[c] = i + 1
	return done
}
