package layout

import "strake/layout/geom"

// Ties: a chain between two bars that stand at one height is drawn level, as a
// strip between the end of one bar and the beginning of the other. The bars of
// a tie are settled together; what is not possible level becomes a U.

// strip is a chain lying level, from its supply at x 0 to its load.
type strip struct {
	chain    int
	from, to int // bars
	parts    []part
	width    int
	room     geom.Rect // of everything, about the wire
}

// part is a device or a wire of a strip.
type part struct {
	dev, wire   int // the other is -1
	x0, x1      int
	box         geom.Rect
	over, under geom.Rect // cells of its texts; empty when it has none
}

// layStrip sets out a chain from left to right.
func layStrip(g Graph, c chain, index int) strip {
	s := strip{chain: index, from: c.ends[0], to: c.ends[1]}
	x, overFree, underFree := 0, air, air
	high, low := 0, 0 // texts stand in one line, clear of every box
	for _, d := range c.devs {
		high, low = min(high, g.Nodes[d].Level.Y0), max(low, g.Nodes[d].Level.Y1)
	}
	centred := func(mid, y int, z Size) geom.Rect {
		if z.W <= 0 || z.H <= 0 {
			return geom.Rect{}
		}
		return geom.Rect{X0: mid - z.W/2, Y0: y, X1: mid - z.W/2 + z.W, Y1: y + z.H}
	}
	for _, p := range pieces(g, c.wires, c.devs, false) {
		q := part{dev: p.dev, wire: p.wire}
		if p.dev >= 0 {
			n := g.Nodes[p.dev]
			w := n.Level.X1
			need := max(x, overFree+n.Note.Over.W/2-w/2, underFree+n.Note.Under.W/2-w/2)
			if k := len(s.parts) - 1; k >= 0 { // the wire before takes up the slack
				s.parts[k].x1 = need
			}
			q.x0, q.x1 = need, need+w
			q.box = n.Level.Shift(geom.Point{X: need})
			q.over = centred(need+w/2, high-air-n.Note.Over.H, n.Note.Over)
			q.under = centred(need+w/2, low+air, n.Note.Under)
		} else {
			w := g.Wires[p.wire]
			l := max(w.Least, leastWire)
			z := w.Note.Under
			if z.W > 0 && z.H > 0 {
				l = max(l, z.W+2*air, 2*(underFree-x)+z.W)
			}
			q.x0, q.x1 = x, x+l
			q.under = centred(x+l/2, halfWire+air, z)
		}
		if q.over != (geom.Rect{}) {
			overFree = q.over.X1 + air
		}
		if q.under != (geom.Rect{}) {
			underFree = q.under.X1 + air
		}
		x = q.x1
		s.parts = append(s.parts, q)
	}
	end := max(x, overFree, underFree)
	s.parts[len(s.parts)-1].x1 = end
	for k := range s.parts { // notes stay centred on wires that grew
		if p := &s.parts[k]; p.wire >= 0 && p.under != (geom.Rect{}) && k < len(s.parts)-1 {
			w := p.under.Width()
			p.under.X0 = max(p.under.X0, min((p.x0+p.x1-w)/2, p.x1-w))
			p.under.X1 = p.under.X0 + w
		}
	}
	s.width = end
	s.room = geom.Rect{X0: 0, Y0: -halfWire, X1: end, Y1: halfWire}
	for _, p := range s.parts {
		for _, r := range []geom.Rect{p.box, p.over, p.under} {
			if r != (geom.Rect{}) {
				s.room.Y0, s.room.Y1 = min(s.room.Y0, r.Y0), max(s.room.Y1, r.Y1)
				s.room.X0 = min(s.room.X0, r.X0)
			}
		}
	}
	return s
}

// mirrored is where a rectangle of a strip lies when its supply is at the right.
func (s *strip) mirrored(r geom.Rect, dir int) geom.Rect {
	if dir > 0 {
		return r
	}
	return geom.Rect{X0: s.width - r.X1, Y0: r.Y0, X1: s.width - r.X0, Y1: r.Y1}
}

// canLie tells which chains may be drawn level: ties between two bars that do
// not stand one below the other, each with a column of its own.
func canLie(g Graph, r reduced, ch choice) []bool {
	out := make([]bool, len(r.chains))
	own := make([]int, len(r.levels))
	below := make([][]int, len(r.levels))
	for i, c := range r.chains {
		for k, l := range c.ends {
			if l >= 0 && !c.tie && c.at[k].Row < 0 {
				own[l]++
			}
		}
		if c.ends[0] >= 0 && c.ends[1] >= 0 && !ch.bend[i] && !ch.lies[i] {
			below[c.ends[0]] = append(below[c.ends[0]], c.ends[1])
		}
	}
	ends := make([]int, len(r.levels))
	for i, c := range r.chains {
		if !c.tie || !ch.bend[i] || c.ends[0] < 0 || c.ends[1] < 0 || c.ends[0] == c.ends[1] {
			continue
		}
		a, b := c.ends[0], c.ends[1]
		ok := r.levels[a].kind == barLevel && r.levels[b].kind == barLevel && own[a] > 0 && own[b] > 0
		for _, d := range c.devs {
			ok = ok && g.Nodes[d].Level.Width() > 0
		}
		if !ok || ends[a] > 1 || ends[b] > 1 || reaches(below, a, b) || reaches(below, b, a) {
			continue
		}
		out[i] = true
		ends[a]++
		ends[b]++
		below[a] = append(below[a], b) // stand alike, so neither may pass below the other
		below[b] = append(below[b], a)
	}
	return out
}

// notBetween bends the level ties that an author wants between other things of
// a bar, or at the same end of both bars.
func (ch choice) notBetween(g Graph, r reduced) {
	for i, c := range r.chains {
		if !ch.lies[i] {
			continue
		}
		if p, q := r.endOf(g, c, c.ends[0]), r.endOf(g, c, c.ends[1]); p == 2 || q == 2 || p*q > 0 {
			ch.bend[i], ch.lies[i] = true, false
		}
	}
}

// landStrips sees whether every strip lies free between its bars, and makes the
// bars reach it.
func (s *solids) landStrips(a *arrangement, x []int) {
	s.obstructed = s.obstructed[:0]
	for k := range a.strips {
		t := &a.strips[k]
		at := x[a.stripItem[k]]
		l, r, dir := t.from, t.to, 1
		if s.from[l]+s.to[l] > 2*at+t.width {
			l, r, dir = r, l, -1
		}
		s.dir[k] = dir
		ok := s.to[l] <= at && at+t.width <= s.from[r] && s.need[l].right == 0 && s.need[r].left == 0 &&
			!s.beyond[l][1] && !s.beyond[r][0]
		for _, c := range s.pass[l] {
			p := a.colX(x, c)
			ok = ok && (p <= s.to[l]-overhang || p >= at+t.width)
		}
		for _, c := range s.pass[r] {
			p := a.colX(x, c)
			ok = ok && (p <= at || p >= s.from[r]+overhang)
		}
		if !ok {
			s.obstructed = append(s.obstructed, k)
			continue
		}
		s.to[l], s.from[r] = at, at+t.width
		s.beyond[l][1], s.beyond[r][0] = true, true // the end is taken
	}
}

// emitStrip draws a strip whose left end is at a point.
func emitStrip(t *strip, at geom.Point, dir int, symbols []PlacedSymbol, placed []PlacedWire) {
	turn := Level
	if dir < 0 {
		turn = LevelBack
	}
	corner := func(r geom.Rect) geom.Point {
		if r == (geom.Rect{}) {
			return geom.Point{}
		}
		r = t.mirrored(r, dir)
		return at.Add(geom.Point{X: r.X0, Y: r.Y0})
	}
	for _, p := range t.parts {
		r := t.mirrored(geom.Rect{X0: p.x0, X1: p.x1}, dir)
		if p.dev >= 0 {
			symbols[p.dev] = PlacedSymbol{Node: p.dev, At: at.Add(geom.Point{X: r.X0}), Turn: turn, Over: corner(p.over), Under: corner(p.under)}
			continue
		}
		line := []geom.Point{at.Add(geom.Point{X: r.X0}), at.Add(geom.Point{X: r.X1})}
		if dir < 0 {
			line[0], line[1] = line[1], line[0]
		}
		placed[p.wire] = PlacedWire{Wire: p.wire, Points: line, Level: true, Note: corner(p.under), Run: Unsaid}
	}
}
