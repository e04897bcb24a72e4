package layout

import "sort"

// Where columns land that do not stand straight on their level.

// sideWires nests the wires beyond one end of a bar: of those below, the
// farthest leaves the very end, nearer ones drop from the bar before it and
// run lower; above the same upside down.
func (s *solids) sideWires(l int, out []own, dir, end int) int {
	if dir > 0 { // farthest first
		out = append([]own(nil), out...)
		for i, j := 0, len(out)-1; i < j; i, j = i+1, j-1 {
			out[i], out[j] = out[j], out[i]
		}
	}
	var over, under []own
	for _, o := range out {
		if o.above {
			over = append(over, o)
		} else {
			under = append(under, o)
		}
	}
	overFirst := 0 // the end itself is free for one wire
	if len(under) > 0 {
		overFirst = 1
	}
	most := max(len(under)-1, len(over)-1+overFirst, 0)
	for k, o := range under {
		s.up[o.col] = landing{x: end + dir*(most-k)*sidePitch, dy: k * sidePitch}
	}
	for k, o := range over {
		k += overFirst
		s.lo[o.col] = landing{x: end + dir*(most-k)*sidePitch, dy: -k * sidePitch}
	}
	for _, o := range out { // on the end itself
		if p := s.at(o); p.dy == 0 {
			p.x = end + dir*most*sidePitch
		}
	}
	return most * sidePitch
}

func (s *solids) at(o own) *landing {
	if o.above {
		return &s.lo[o.col]
	}
	return &s.up[o.col]
}

// box lands the wires of a box that do not stand on its axis: at its sides those
// that may choose, from above near its top, the farther the lower, from below
// near its bottom, the farther the higher; on fixed ports of its top and bottom by a level piece.
func (s *solids) box(g Graph, a *arrangement, x []int, l int) {
	r := boxOf(g.Nodes[a.levels[l].node], a.turn[l])
	mid, h := a.bodyX(x, l), a.bodies[l].height
	var sides [2][2][]own // left and right, from above and below
	over, under, round := 0, 0, 0
	land := func(c int, e End, above bool) {
		o := own{c, a.colX(x, c), above}
		p, ok := a.port(g, l, e)
		right, below := 0, 0
		if o.x > mid {
			right = 1
		}
		if !above {
			below = 1
		}
		switch {
		case !ok || p.Side == AnySide || !p.Fixed && p.Side <= Bottom:
			sides[right][below] = append(sides[right][below], o)
		case p.Side == Top:
			over++
			*s.at(o) = landing{x: mid + p.At, dy: -over * sidePitch, round: true, via: mid + p.At}
		case p.Side == Bottom:
			under++
			*s.at(o) = landing{x: mid + p.At, dy: h + under*sidePitch, on: h, round: true, via: mid + p.At}
		default:
			edge, dir := mid+r.X0, -1
			if p.Side == RightSide {
				edge, dir = mid+r.X1, 1
			}
			if !p.Fixed {
				p.At = h / 2
			}
			*s.at(o) = landing{x: edge, dy: p.At, on: p.At}
			if (p.Side == RightSide) != (right == 1) { // it must come round
				s.side++
				round++
				k := landing{x: edge, on: p.At, round: true, via: edge + dir*(halfWire+round*sidePitch)}
				if above {
					over++
					k.dy = -over * sidePitch
				} else {
					under++
					k.dy = h + under*sidePitch
				}
				*s.at(o) = k
			}
		}
	}
	for _, c := range a.above[l] {
		if a.lo[c] == side {
			land(c, a.cols[c].loAt, true)
		}
	}
	for _, c := range a.below[l] {
		if a.up[c] == side {
			land(c, a.cols[c].upAt, false)
		}
	}
	for k, at := range sides {
		dir, edge := 2*k-1, mid+r.X0
		if k == 1 {
			edge = mid + r.X1
		}
		sort.SliceStable(at[0], func(i, j int) bool { return dir*at[0][i].x < dir*at[0][j].x })
		sort.SliceStable(at[1], func(i, j int) bool { return dir*at[1][i].x > dir*at[1][j].x })
		n := len(at[0]) + len(at[1])
		for k, o := range at[0] {
			dy := boxPitch(h, n) * (k + 1)
			*s.at(o) = landing{x: edge, dy: dy, on: dy}
		}
		for k, o := range at[1] {
			dy := h - boxPitch(h, n)*(len(at[1])-k)
			*s.at(o) = landing{x: edge, dy: dy, on: dy}
		}
	}
}

// boxPitch is the distance of the wires at a side of a box, from its corners too.
func boxPitch(h, wires int) int { return min(250, h/(wires+1)) }
