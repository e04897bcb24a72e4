package layout

import "strake/layout/geom"

// Layout places a graph on a field. The same graph, field and effort give the
// same drawing on every machine.
func Layout(g Graph, f Field, effort Effort) Drawing {
	r := reduce(g)
	a := arrange(g, turn(g, r, defaultChoice(r)))
	b := newBench(g, &a, f)
	seq := make([]int, len(a.items))
	for i := range seq {
		seq[i] = i
	}
	trials := 300
	if effort == Good {
		trials = 6000
	}
	found := b.improve(seq, trials, 88172645463325252)
	b.try(found.seq)
	crossings, bends := b.believed()
	s := emit(g, &a, b.p.x, b.s, b.t.h)
	s.Figures = Figures{crossings, bends}
	for _, p := range inks(g, s) {
		s.Bounds = s.Bounds.Union(p.Rect)
	}
	for _, w := range s.Wires {
		for _, p := range w.Points {
			s.Bounds = s.Bounds.Union(geom.Rect{X0: p.X, Y0: p.Y, X1: p.X, Y1: p.Y})
		}
	}
	fits := geom.Rect{X1: f.Width, Y1: f.Height}.Holds(s.Bounds)
	fits = fillHoles(g, &s, f) && fits
	return Drawing{Sheets: []Sheet{s}, Fits: fits}
}

// bench is what trial layouts of one arrangement are made on.
type bench struct {
	g    Graph
	a    *arrangement
	f    Field
	h    heights // first ones
	r    ranking
	cs   cells
	p    *placing
	s    *solids
	t    *settling
	keep []room
}

func newBench(g Graph, a *arrangement, f Field) *bench {
	b := &bench{g: g, a: a, f: f, h: estimate(a)}
	b.r = rank(a, b.h)
	b.cs = cellsOf(g, *a, b.h, b.r)
	b.p, b.s, b.t = newPlacing(a, &b.cs), newSolids(a, b.r), newSettling(a)
	b.keep = make([]room, len(a.levels))
	return b
}

// try runs place, solid and settle until every bar has the room it needs.
func (b *bench) try(seq []int) {
	clear(b.keep)
	for {
		b.p.place(b.a, &b.cs, b.keep, seq)
		b.s.solidify(b.g, b.a, b.p.x, b.p.names, b.keep)
		enough := true
		for l, n := range b.s.need {
			k := &b.keep[l]
			if n.left > k.left || n.right > k.right || n.name && !k.name {
				enough = false
				*k = room{max(n.left, k.left), max(n.right, k.right), n.name || k.name}
			}
		}
		if enough {
			b.t.settle(b.g, b.a, b.h, b.r, b.p.x, b.s)
			return
		}
	}
}
