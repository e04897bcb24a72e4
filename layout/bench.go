package layout

import "slices"

// bench is what trial layouts of one arrangement are made on.
type bench struct {
	*lowered
	before  map[uint64]*lowered // of plans before, to which the search may return, by fingerprint
	g       Graph
	a       *arrangement
	f       Field
	t       *settling
	keep    []room
	orders  [][]int // units in the author's sequence
	leftOf  [][]int // by unit, those that an author wants just left of it
	held    []bool  // scratch of hold, as is what was asked of it
	asked   []int
	domains []int // group of each item
	holes   *holes
	tally   *tally
	roomy   bool             // everything of the last trial that was judged found room
	floor   int              // what the last trial costs at least
	known   map[uint64]trial // by fingerprint: many changes lead back to where a search was
	mates   [][]int          // units that share a level with each
}

// mostBefore bounds what is kept of plans before.
const mostBefore = 48

// lowered is all that rests on first heights.
type lowered struct {
	drop []int   // how much lower than need be levels are thought to stand
	h    heights // first ones
	r    ranking
	cs   cells
	p    *placing
	s    *solids
}

func newBench(g Graph, a *arrangement, f Field) *bench {
	b := &bench{g: g, a: a, f: f, holes: newHoles(g, f), t: newSettling(a), keep: make([]room, len(a.levels)), known: map[uint64]trial{}, before: map[uint64]*lowered{}}
	b.orders = a.ordered(g)
	b.leftOf, b.held = make([][]int, len(a.units)), make([]bool, len(a.units))
	for _, o := range b.orders {
		for k := 1; k < len(o); k++ {
			b.leftOf[o[k]] = append(b.leftOf[o[k]], o[k-1])
		}
	}
	for i := range a.items {
		b.domains = append(b.domains, a.domain(g, i))
	}
	b.mates = a.neighbours()
	b.lowered = b.lower(make([]int, len(a.levels)+len(a.cols)))
	b.before[plan{drop: b.drop}.fingerprint()] = b.lowered
	b.tally = newTally(b)
	return b
}

// lower makes first heights, and all that rests on them, for the drops.
func (b *bench) lower(drop []int) *lowered {
	k := &lowered{drop: drop}
	k.h = estimate(b.a, drop)
	k.r = rank(b.a, k.h)
	k.cs = cellsOf(b.g, *b.a, k.h, k.r)
	k.p, k.s = newPlacing(b.a, &k.cs), newSolids(b.a, k.r)
	return k
}

// plan is what the search chooses.
type plan struct {
	seq, drop []int
}

func (p plan) clone() plan {
	return plan{append([]int(nil), p.seq...), append([]int(nil), p.drop...)}
}

func (p plan) equal(q plan) bool { return slices.Equal(p.seq, q.seq) && slices.Equal(p.drop, q.drop) }

// become takes over what another plan of the same bench is.
func (p plan) become(q plan) {
	copy(p.seq, q.seq)
	copy(p.drop, q.drop)
}

// fingerprint tells plans of one bench apart, by FNV-1a over whole numbers.
func (p plan) fingerprint() uint64 {
	h := uint64(14695981039346656037)
	for _, list := range [...][]int{p.seq, p.drop} {
		for _, n := range list {
			h = (h ^ uint64(n)) * 1099511628211
		}
	}
	return h
}

// follow lays out a plan.
func (b *bench) follow(p plan) { b.within(p, endless) }

// within lays out a plan unless it is bound to cost more than a limit.
func (b *bench) within(p plan, limit int) bool {
	if !slices.Equal(p.drop, b.drop) {
		key := plan{drop: p.drop}.fingerprint()
		k := b.before[key]
		if k == nil || !slices.Equal(p.drop, k.drop) {
			if len(b.before) >= mostBefore {
				clear(b.before)
			}
			k = b.lower(slices.Clone(p.drop))
			b.before[key] = k
		}
		b.lowered = k
	}
	return b.try(p.seq, limit)
}

// try runs place, solid and settle until every bar has the room it needs.
func (b *bench) try(seq []int, limit int) bool {
	clear(b.keep)
	for ends := clearEnd; ; {
		b.p.place(b.a, &b.cs, b.keep, seq, ends)
		if ends > tightEnd && b.p.width()-air > b.f.Width {
			ends = tightEnd // better near the end of a bar than out of the field
			continue
		}
		b.s.solidify(b.g, b.a, b.p.x, b.p.names, b.keep)
		if b.floor = b.least(); b.floor > limit {
			return false
		}
		if !b.wider() {
			b.t.settle(b.g, b.a, b.h, b.r, b.p.x, b.s)
			return true
		}
	}
}

// wider gives bars the room that they need and tells whether any had less.
func (b *bench) wider() bool {
	any := false
	for l, n := range b.s.need {
		k := &b.keep[l]
		if !k.suffices(n) {
			any = true
			*k = room{max(n.left, k.left), max(n.right, k.right), n.name || k.name}
		}
	}
	return any
}

// resolidify makes solids for axes that were moved, with the names of the bars
// that hang on them.
func (b *bench) resolidify() {
	for l := range b.p.names {
		b.p.names[l] = b.p.x[b.p.nameOn[l]] + b.p.nameDX[l]
	}
	b.s.solidify(b.g, b.a, b.p.x, b.p.names, b.keep)
}

// again makes solids and heights for axes that were moved and tells whether
// every bar still has the room it needs.
func (b *bench) again() bool {
	b.resolidify()
	b.t.settle(b.g, b.a, b.h, b.r, b.p.x, b.s)
	for l, n := range b.s.need {
		if !b.keep[l].suffices(n) {
			return false
		}
	}
	return len(b.s.obstructed) == 0
}
