package layout

import (
	"cmp"
	"slices"
	"sort"

	"strake/layout/geom"
)

// Phase 6, solid.
// Needs: axes and the order of heights. Gives: how far each bar is solid, and
// for every column that does not land on it straight the side wire that joins
// it. A bar is never drawn across a wire that is not its own.

// thing is what has a height of its own: a level, a device, the note of a wire.
type thing struct {
	level      int // -1: a piece
	col, piece int
	y          int // first height
}

// ranking is the order in which heights are settled.
type ranking struct {
	things      []thing
	level       []int // rank of each level
	open, close []int // ranks between which each column is a wire that passes
}

// rank sorts all things by their first height; what hangs on a level follows it.
func rank(a *arrangement, h heights) ranking {
	n := len(a.levels)
	for _, col := range a.cols {
		n += len(col.pieces)
	}
	r := ranking{things: make([]thing, 0, n), level: make([]int, len(a.levels)), open: make([]int, len(a.cols)), close: make([]int, len(a.cols))}
	for l, first := range a.group {
		if l == first {
			r.things = append(r.things, thing{level: l, y: h.level[l]})
		}
	}
	for c, col := range a.cols {
		for i, p := range col.pieces {
			switch {
			case p.dev >= 0:
				r.things = append(r.things, thing{level: -1, col: c, piece: i, y: h.piece[c][i]})
			case a.measures[c][i].note.Height() > 0:
				r.things = append(r.things, thing{level: -1, col: c, piece: i, y: h.note[c][i]})
			}
		}
	}
	slices.SortStableFunc(r.things, func(p, q thing) int { return cmp.Compare(p.y, q.y) })
	for c := range r.open {
		r.open[c], r.close[c] = len(r.things), -1
	}
	for k, t := range r.things {
		if t.level < 0 {
			r.open[t.col], r.close[t.col] = min(r.open[t.col], k), max(r.close[t.col], k)
			continue
		}
		for _, l := range a.members[t.level] {
			r.level[l] = k
		}
	}
	for c, col := range a.cols {
		if col.upper >= 0 {
			r.open[c] = min(r.open[c], r.level[col.upper])
		}
		if col.lower >= 0 {
			r.close[c] = max(r.close[c], r.level[col.lower])
		}
	}
	return r
}

// landing is where a column meets a level.
type landing struct {
	x     int  // on the bar, the box or the strip
	dy    int  // of its first level piece, under the level's height
	on    int  // height of the landing itself, under the level's height
	round bool // it comes round the box
	via   int  // where it then runs upright
}

// straight tells whether a column on an axis lands without a level piece.
func (p landing) straight(x int) bool { return p.x == x && !p.round }

// way is a line of a few points.
type way struct {
	at [4]geom.Point
	n  int
}

// line is the way from a column's axis to the landing, from the level's height;
// no points: it is straight.
func (p landing) line(x int) way {
	switch {
	case p.straight(x):
		return way{}
	case p.round && (p.via != p.x):
		return way{[4]geom.Point{{X: x, Y: p.dy}, {X: p.via, Y: p.dy}, {X: p.via, Y: p.on}, {X: p.x, Y: p.on}}, 4}
	case p.round:
		return way{[4]geom.Point{{X: x, Y: p.dy}, {X: p.via, Y: p.dy}, {X: p.via, Y: p.on}}, 3}
	case p.dy != p.on:
		return way{[4]geom.Point{{X: x, Y: p.dy}, {X: p.x, Y: p.dy}, {X: p.x, Y: p.on}}, 3}
	}
	return way{[4]geom.Point{{X: x, Y: p.dy}, {X: p.x, Y: p.dy}}, 2}
}

// bends of the way to a landing from a column's axis.
func (p landing) bends(x int) int { return max(0, p.line(x).n-1) }

// solids is what the levels look like for given axes.
type solids struct {
	from, to   []int        // of each bar
	up, lo     []landing    // of each column
	need       []room       // what each bar needs beyond its outer columns
	name       []geom.Point // of each bar, under its height; settled where it found room
	spots      [][]int      // left edges where the name of a bar may stand above it
	drawn      []bool       // whether a level has a bar
	beyond     [][2]bool    // whether a bar has side wires at its left and right end
	dir        []int        // of each strip: -1 when its supply is at the right
	obstructed []int        // strips that do not lie free between their bars
	side       int          // wires that came to the wrong side of a box
	pass       [][]int      // columns that are foreign wires at each level's rank
	own        []own
	passX      []int
}

func newSolids(a *arrangement, r ranking) *solids {
	s := &solids{from: make([]int, len(a.levels)), to: make([]int, len(a.levels)),
		up: make([]landing, len(a.cols)), lo: make([]landing, len(a.cols)), need: make([]room, len(a.levels)),
		name: make([]geom.Point, len(a.levels)), drawn: make([]bool, len(a.levels)),
		spots: make([][]int, len(a.levels)), pass: make([][]int, len(a.levels)),
		beyond: make([][2]bool, len(a.levels)), dir: make([]int, len(a.strips))}
	for l := range a.levels {
		for c, col := range a.cols {
			mine := col.upper == l || col.lower == l && a.lo[c] != onRow
			of := func(k int) bool { return k >= 0 && k != l && a.group[k] == a.group[l] }
			if !mine && (of(col.upper) || of(col.lower)) || !mine && r.open[c] < r.level[l] && r.level[l] < r.close[c] || col.lower == l && a.lo[c] == onRow {
				s.pass[l] = append(s.pass[l], c)
			}
		}
	}
	return s
}

// solidify finds the extents of bars and the side wires.
func (s *solids) solidify(g Graph, a *arrangement, x, names []int, keep []room) {
	s.side = 0
	for c := range a.cols {
		at := a.colX(x, c)
		s.up[c], s.lo[c] = landing{x: at}, landing{x: at}
		switch a.up[c] {
		case spine:
			s.up[c].dy = a.topOf(c)
		case onRow:
			s.up[c] = a.rowLanding(g, a.cols[c].upper, a.cols[c].upAt.Row, x)
		}
		if a.lo[c] == onRow {
			s.lo[c] = a.rowLanding(g, a.cols[c].lower, a.cols[c].loAt.Row, x)
		}
		s.up[c].on, s.lo[c].on = s.up[c].dy, s.lo[c].dy
	}
	for l, lv := range a.levels {
		switch lv.kind {
		case barLevel, boardLevel:
			s.bar(a, x, l)
		case boxLevel:
			s.box(g, a, x, l)
		}
	}
	s.landStrips(a, x)
	for l, lv := range a.levels {
		if lv.kind == barLevel || lv.kind == boardLevel {
			s.placeName(g, a, x, names, keep, l)
		}
	}
}

// placeName finds where a bar's name may stand above it, between the wires
// that come from above. Without any such place it needs room of its own.
func (s *solids) placeName(g Graph, a *arrangement, x, names []int, keep []room, l int) {
	s.spots[l] = s.spots[l][:0]
	s.name[l] = a.bodies[l].name
	if a.hasBody[l] {
		s.name[l].X += a.bodyX(x, l)
		return
	}
	size := g.Nodes[a.levels[l].node].Note.Over
	s.name[l].Y = s.top(a, l) - halfBar - air - size.H
	if keep[l].name {
		s.name[l].X = names[l]
		return
	}
	s.passX = s.passX[:0]
	for _, c := range a.above[l] {
		if a.lo[c] == onBar {
			s.passX = append(s.passX, a.colX(x, c))
			if p := s.lo[c]; p.x != a.colX(x, c) {
				s.passX = append(s.passX, p.x)
			}
		}
	}
	sort.Ints(s.passX)
	left := s.from[l]
	for k := 0; k <= len(s.passX); k++ {
		right := s.to[l]
		if k < len(s.passX) {
			right = min(right, s.passX[k]-halfWire-air)
		}
		if right-left >= size.W {
			s.spots[l] = append(s.spots[l], left)
			if right-size.W != left {
				s.spots[l] = append(s.spots[l], right-size.W)
			}
		}
		if k < len(s.passX) {
			left = max(left, s.passX[k]+halfWire+air)
		}
	}
	if len(s.spots[l]) == 0 && size.W > 0 {
		s.need[l].name = true
	}
}

func (a *arrangement) rowLanding(g Graph, l, row int, x []int) landing {
	return landing{x: a.bodyX(x, l) + g.Nodes[a.levels[l].node].Rows[row].Strip.W, dy: a.bodies[l].rows[row]}
}

// own is a column of a bar, or the rail of a board (-1).
type own struct {
	col, x int
	above  bool
}

// bar makes the longest run of own columns solid and joins the rest by side wires.
func (s *solids) bar(a *arrangement, x []int, l int) {
	all := s.own[:0]
	for _, c := range a.above[l] {
		if a.lo[c] == onBar {
			all = append(all, own{c, a.colX(x, c), true})
		}
	}
	for _, c := range a.below[l] {
		if a.up[c] == onBar {
			all = append(all, own{c, a.colX(x, c), false})
		}
	}
	if a.hasBody[l] {
		all = append(all, own{-1, a.bodyX(x, l), true})
	}
	s.own = all
	for i := 1; i < len(all); i++ { // few: by insertion
		for j := i; j > 0 && all[j].x < all[j-1].x; j-- {
			all[j], all[j-1] = all[j-1], all[j]
		}
	}
	pass := s.passX[:0]
	for _, c := range s.pass[l] {
		pass = append(pass, a.colX(x, c))
	}
	s.passX = pass
	sort.Ints(pass)
	best, bestEnd, bestWorth := 0, 0, -1
	for i := 0; i < len(all); {
		j, worth := i, 0
		for ; j < len(all) && !between(pass, all[i].x, all[j].x); j++ {
			worth++
			if all[j].col < 0 {
				worth += 1000
			}
		}
		if worth > bestWorth {
			best, bestEnd, bestWorth = i, j, worth
		}
		i = j
	}
	s.need[l] = room{}
	s.from[l], s.to[l], s.drawn[l], s.beyond[l] = 0, 0, false, [2]bool{}
	if len(all) == 0 {
		return
	}
	s.beyond[l] = [2]bool{best > 0, bestEnd < len(all)}
	s.drawn[l] = len(all) > 1 || all[0].col >= 0 && a.lo[all[0].col] != spine || a.levels[l].kind == barLevel
	s.from[l], s.to[l] = all[best].x-overhang, all[bestEnd-1].x+overhang
	s.need[l].left = s.sideWires(l, all[:best], -1, s.from[l])
	s.need[l].right = s.sideWires(l, all[bestEnd:], 1, s.to[l])
	s.from[l] -= s.need[l].left
	s.to[l] += s.need[l].right
	if a.hasBody[l] && a.levels[l].kind == barLevel {
		s.to[l] = max(s.to[l], a.bodyX(x, l)+a.bodies[l].cells[0].X1)
		s.from[l] = a.bodyX(x, l)
	}
}

// top is the height of the highest side wire that comes to a bar from above.
func (s *solids) top(a *arrangement, l int) int {
	y := 0
	for _, c := range a.above[l] {
		if a.lo[c] == onBar {
			y = min(y, s.lo[c].dy)
		}
	}
	return y
}

func between(pass []int, a, b int) bool {
	i := sort.SearchInts(pass, a)
	return i < len(pass) && pass[i] < b
}

// shape is a part of a level, from its height.
type shape struct {
	geom.Rect
	text bool // keeps clear of what hangs on the level too
}

// shapes lists the parts of a level.
func (s *solids) shapes(out []shape, a *arrangement, x []int, l int) []shape {
	lv := a.levels[l]
	if a.hasBody[l] {
		at := a.bodyX(x, l)
		for k, r := range a.bodies[l].cells {
			r.X0 += at
			r.X1 += at
			out = append(out, shape{r, lv.kind != boxLevel || k > 0})
		}
	}
	if s.drawn[l] {
		out = append(out, shape{geom.Rect{X0: s.from[l], Y0: -halfBar, X1: s.to[l], Y1: halfBar}, false})
	}
	if lv.kind == bendLevel {
		p, q := a.colX(x, a.above[l][0]), a.colX(x, a.above[l][1])
		out = append(out, shape{geom.Rect{X0: min(p, q) - halfWire, X1: max(p, q) + halfWire}, false})
	}
	for _, c := range a.above[l] {
		out = sideShape(out, s.lo[c], a.colX(x, c))
	}
	for _, c := range a.below[l] {
		out = sideShape(out, s.up[c], a.colX(x, c))
	}
	return out
}

func sideShape(out []shape, p landing, x int) []shape {
	line := p.line(x)
	for k := 1; k < line.n; k++ {
		r := stretch(line.at[k-1], line.at[k])
		r.X0, r.X1 = r.X0-halfWire, r.X1+halfWire
		out = append(out, shape{r, true})
	}
	return out
}

// stripShapes lists the parts of a strip.
func (s *solids) stripShapes(out []shape, a *arrangement, x []int, k int) []shape {
	t := &a.strips[k]
	at := geom.Point{X: x[a.stripItem[k]]}
	out = append(out, shape{geom.Rect{X0: at.X, Y0: -halfWire, X1: at.X + t.width, Y1: halfWire}, true})
	for _, p := range t.parts {
		for _, r := range [...]geom.Rect{p.box, p.over, p.under} {
			if r != (geom.Rect{}) {
				out = append(out, shape{t.mirrored(r, s.dir[k]).Shift(at), true})
			}
		}
	}
	return out
}
