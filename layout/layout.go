package layout

import "strake/layout/geom"

// Layout places a graph on a field. The same graph, field and effort give the
// same drawing on every machine.
func Layout(g Graph, f Field, effort Effort) Drawing {
	r := reduce(g)
	a := arrange(g, turn(g, r, defaultChoice(r)))
	h := estimate(a)
	seq := make([]int, len(a.items))
	for i := range seq {
		seq[i] = i
	}
	t := try(g, a, h, rank(a, h), seq)
	s := emit(g, a, t.x, t.s, t.h)
	s.Figures.Crossings, s.Figures.Bends = count(s)
	for _, p := range inks(g, s) {
		s.Bounds = s.Bounds.Union(p.Rect)
	}
	for _, w := range s.Wires {
		for _, p := range w.Points {
			s.Bounds = s.Bounds.Union(geom.Rect{X0: p.X, Y0: p.Y, X1: p.X, Y1: p.Y})
		}
	}
	fits := geom.Rect{X1: f.Width, Y1: f.Height}.Holds(s.Bounds)
	return Drawing{Sheets: []Sheet{s}, Fits: fits}
}

// trial is one complete layout of a sequence.
type trial struct {
	x []int
	s solids
	h heights
}

// try runs place, solid and settle until every bar has the room it needs.
func try(g Graph, a arrangement, h heights, r ranking, seq []int) trial {
	keep := make([]room, len(a.levels))
	for {
		x, _, names := place(g, a, h, cellsOf(a, h, keep), seq)
		s := solidify(g, a, r, x, names)
		enough := true
		for l, n := range s.need {
			if n.left > keep[l].left || n.right > keep[l].right {
				enough = false
				keep[l] = room{max(n.left, keep[l].left), max(n.right, keep[l].right)}
			}
		}
		if enough {
			return trial{x, s, settle(g, a, h, r, x, s)}
		}
	}
}
