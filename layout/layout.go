package layout

import "strake/layout/geom"

// Layout places a graph on a field. The same graph, field and effort give the
// same drawing on every machine.
func Layout(g Graph, f Field, effort Effort) Drawing {
	r := reduce(g)
	f.Width, f.Height = max(1, f.Width), max(1, f.Height)
	trials := budget(g, effort)
	b := search(g, r, f, trials)
	s, fits := finish(g, b, f)
	return Drawing{Sheets: []Sheet{s}, Fits: fits}
}

// quickTrials is the budget of the quick form.
const quickTrials = 120

// budget is the number of trials: fewer for a large graph, whose trials are long.
func budget(g Graph, effort Effort) int {
	if effort == Quick {
		return quickTrials
	}
	n := len(g.Nodes) + len(g.Wires) + 1
	return max(400, min(8000, 200000000/(n*n)))
}

// finish uses the room of the field as far as the blocks still find holes, and
// draws.
func finish(g Graph, b *bench, f Field) (Sheet, bool) {
	packed := append([]int(nil), b.p.x...)
	var last Sheet
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
		s := emit(g, b.a, b.p.x, b.s, b.t.h)
		s.Figures.Crossings, s.Figures.Bends = b.believed()
		bound(g, &s)
		fits := geom.Rect{X1: f.Width, Y1: f.Height}.Holds(s.Bounds) && clearOf(g, s, f.Reserved)
		if all := fillHoles(g, &s, f); fits && all {
			return s, true
		}
		if last.Bounds == (geom.Rect{}) || len(s.Blocks) > len(last.Blocks) {
			last = s
		}
		if !fits && room.taller == 0 {
			break
		}
	}
	return last, false
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
	for _, r := range reserved {
		for _, p := range inks(g, s) {
			if p.Meets(r) {
				return false
			}
		}
		for _, w := range s.Wires {
			for k := 1; k < len(w.Points); k++ {
				if stretch(w.Points[k-1], w.Points[k]).Grow(halfWire).Meets(r) {
					return false
				}
			}
		}
	}
	return true
}

// search finds a good layout and leaves it on a bench. Ties lie level where
// that can be; a tie that finds no free way becomes a U.
func search(g Graph, r reduced, f Field, trials int) *bench {
	ch := chooseTurns(g, r, f)
	for {
		a := arrange(g, turn(g, r, ch))
		a.alignWithin(f.Height)
		b := newBench(g, &a, f)
		start := plan{a.firstSequence(), make([]int, len(b.drop))}
		found := b.improve(start, trials/5, 88172645463325252)
		if !b.hopeless(found) {
			if more := b.improve(found.plan, trials-trials/5, 2463534242); more.cost < found.cost {
				found = more
			}
			if trials > quickTrials && !b.fits(found.plan) && b.fill() < easyFill {
				if more := b.improve(start, trials, 362436069); more.cost < found.cost {
					found = more
				}
			}
		}
		b.follow(found.plan)
		if b.s.broken == 0 {
			return b
		}
		for i, lies := range ch.lies {
			ch.bend[i] = ch.bend[i] || lies
		}
		clear(ch.lies)
	}
}

// firstSequence goes from item to item along shared levels, one side of every
// level tie before the other.
func (a *arrangement) firstSequence() []int {
	seen := make([]bool, len(a.units))
	for _, i := range a.stripItem {
		seen[a.unitOf[i]] = true
	}
	var seq []int
	near := a.neighbours()
	var visit func(u int)
	visit = func(u int) {
		if seen[u] {
			return
		}
		seen[u] = true
		seq = append(seq, u)
		for _, v := range near[u] {
			visit(v)
		}
	}
	for k, t := range a.strips {
		for _, l := range []int{t.from, t.to} {
			for _, i := range a.itemsOn(l) {
				visit(a.unitOf[i])
			}
			if l == t.from {
				seq = append(seq, a.unitOf[a.stripItem[k]])
			}
		}
	}
	for u := range a.units {
		visit(u)
	}
	return seq
}

// bench is what trial layouts of one arrangement are made on.
type bench struct {
	g      Graph
	a      *arrangement
	f      Field
	h      heights // first ones
	r      ranking
	cs     cells
	p      *placing
	s      *solids
	t      *settling
	keep   []room
	drop   []int   // how much lower than need be levels are thought to stand
	orders [][]int // units in the author's sequence
	holes  *holes
}

func newBench(g Graph, a *arrangement, f Field) *bench {
	b := &bench{g: g, a: a, f: f, holes: newHoles(g, f), t: newSettling(a), keep: make([]room, len(a.levels))}
	b.drop = make([]int, len(a.levels)+len(a.cols))
	b.orders = a.ordered(g)
	b.lower()
	return b
}

// lower makes first heights, and all that rests on them, for the drops.
func (b *bench) lower() {
	b.h = estimate(b.a, b.drop)
	b.r = rank(b.a, b.h)
	b.cs = cellsOf(b.g, *b.a, b.h, b.r)
	b.p, b.s = newPlacing(b.a, &b.cs), newSolids(b.a, b.r)
}

// plan is what the search chooses.
type plan struct {
	seq, drop []int
}

func (p plan) clone() plan {
	return plan{append([]int(nil), p.seq...), append([]int(nil), p.drop...)}
}

// follow lays out a plan.
func (b *bench) follow(p plan) {
	for i, d := range p.drop {
		if b.drop[i] != d {
			copy(b.drop, p.drop)
			b.lower()
			break
		}
	}
	b.try(p.seq)
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

// again makes solids and heights for axes that were moved and tells whether
// every bar still has the room it needs.
func (b *bench) again() bool {
	for l := range b.p.names {
		b.p.names[l] = b.p.x[b.p.nameOn[l]] + b.p.nameDX[l]
	}
	b.s.solidify(b.g, b.a, b.p.x, b.p.names, b.keep)
	b.t.settle(b.g, b.a, b.h, b.r, b.p.x, b.s)
	for l, n := range b.s.need {
		if k := b.keep[l]; n.left > k.left || n.right > k.right || n.name && !k.name {
			return false
		}
	}
	return b.s.broken == 0
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
