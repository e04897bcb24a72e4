package layout

import "strake/layout/geom"

// Phase 9, finish.
// Needs: the best plan on a bench, the field. Gives: the sheet, its room used, and
// whether everything lies in the field.

// finish uses the room of the field as far as the blocks still find holes, and
// draws. Where something is wished for besides it uses less of the room, down to
// a part of the field.
func finish(g Graph, b *bench, f Field) (Sheet, bool) {
	packed := append([]int(nil), b.p.x...)
	var last, best Sheet
	most := -1 // granted to wishes, on the best sheet
	for _, room := range []struct{ share, taller int }{{100, 20}, {100, 0}, {60, 10}, {60, 0}, {30, 0}, {0, 0}, {-1, 0}} {
		copy(b.p.x, packed)
		b.t.least = nil
		b.again()
		if room.share >= 0 {
			b.widen(room.share)
		}
		if room.taller > 0 && !b.heighten(room.taller) {
			continue
		}
		s := b.draw(g)
		fits := holds(g, s, f)
		if all := fillHoles(g, &s, f); fits && all {
			if len(g.Wishes) == 0 {
				return s, true
			}
			if most >= 0 && s.Bounds.Width()*s.Bounds.Height() < f.Width*f.Height/100*leastSpread {
				break
			}
			if n := granted(g, s, f); n > most*granting/100 {
				most, best = n, s
			}
			continue
		}
		if most >= 0 {
			continue
		}
		if last.Bounds == (geom.Rect{}) || len(s.Blocks) > len(last.Blocks) {
			last = s
		}
		if !fits && room.taller == 0 {
			break
		}
	}
	if most >= 0 {
		return best, true
	}
	return last, false
}

// granting is what more of wishes must be granted, in per cent, for less of the
// field to be used.
const granting = 115

// leastSpread is the part of its field, in per cent, that a drawing takes at
// least if it could take more: a small drawing in a corner reads worse than
// tables on another sheet.
const leastSpread = 78

// draw makes the sheet of the last trial, without its blocks.
func (b *bench) draw(g Graph) Sheet {
	s := emit(g, b.a, b.p.x, b.s, b.t.h)
	s.Figures.Crossings, s.Figures.Bends = b.believed()
	bound(g, &s)
	return s
}

// holds tells whether everything lies in a field.
func holds(g Graph, s Sheet, f Field) bool {
	return geom.Rect{X1: f.Width, Y1: f.Height}.Holds(s.Bounds) && clearOf(g, s, f.Reserved)
}

// heighten lets the levels stand lower, by a share of their height and at most
// until the field is full; false: there is no room to speak of.
func (b *bench) heighten(percent int) bool {
	h := b.extent().Y1
	scale := min(100+percent, 100*b.f.Height/max(1, h))
	if scale < 103 {
		return false
	}
	crossings, bends := b.believed()
	for ; scale > 102; scale -= 4 {
		b.t.least = make([]int, len(b.a.levels))
		b.t.h.scaled(b.t.least, scale)
		if b.again() && b.extent().Y1 <= b.f.Height {
			k, n := b.believed()
			return k == crossings && n == bends
		}
		b.t.least = nil
		b.again()
	}
	return false
}

// bound finds the rectangle of everything on a sheet but its blocks.
func bound(g Graph, s *Sheet) {
	for _, p := range inks(g, *s) {
		s.Bounds = s.Bounds.Union(p.Rect)
	}
	for _, w := range s.Wires {
		for _, p := range w.Points {
			s.Bounds = s.Bounds.Union(geom.Rect{X0: p.X, Y0: p.Y, X1: p.X, Y1: p.Y})
		}
	}
}

// clearOf tells whether nothing of a sheet stands on what is reserved.
func clearOf(g Graph, s Sheet, reserved []geom.Rect) bool {
	for _, p := range standing(g, s) {
		if meets(reserved, p) != nil {
			return false
		}
	}
	return true
}

// widen spreads the axes of the last trial; it leaves them alone where that
// would cost a crossing or a bend.
func (b *bench) widen(share int) {
	old := append([]int(nil), b.p.x...)
	crossings, bends := b.believed()
	b.spread(b.p.x, share)
	if b.again() {
		if k, n := b.believed(); costCross*k+costBend*n <= costCross*crossings+costBend*bends {
			return
		}
	}
	copy(b.p.x, old)
	b.again()
}
