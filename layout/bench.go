package layout

// bench is what trial layouts of one arrangement are made on.
type bench struct {
	g       Graph
	a       *arrangement
	f       Field
	h       heights // first ones
	r       ranking
	cs      cells
	p       *placing
	s       *solids
	t       *settling
	keep    []room
	drop    []int   // how much lower than need be levels are thought to stand
	orders  [][]int // units in the author's sequence
	domains []int   // group of each item
	holes   *holes
}

func newBench(g Graph, a *arrangement, f Field) *bench {
	b := &bench{g: g, a: a, f: f, holes: newHoles(g, f), t: newSettling(a), keep: make([]room, len(a.levels))}
	b.drop = make([]int, len(a.levels)+len(a.cols))
	b.orders = a.ordered(g)
	for i := range a.items {
		b.domains = append(b.domains, a.domain(g, i))
	}
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
