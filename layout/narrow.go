package layout

// Phase 4a, narrow.
// Needs: a bench, a sequence of few crossings. Gives: a plan that is narrower
// too. Widths are taken at some heights only, as if nothing ever gave way.

// lineStep is the distance of the heights at which widths are taken.
const lineStep = 1000

// outline is how far an item reaches from its axis at some heights.
type outline struct {
	from        int // first line
	left, right []int32
	leaf        int // what drops of it by itself, as in a plan; -1: nothing
	split       int // the first of the lines that drop
}

// widths is what plans are measured with.
type widths struct {
	lines  []outline // of each item
	front  []int32
	leaves []int // items with a leaf
	most   int   // lines in the field
}

func newWidths(b *bench) *widths {
	lines := func(c cell) (from, to int) {
		y0, y1 := b.cs.ys[c.s0], b.cs.ys[min(c.s1, len(b.cs.ys)-1)]
		return max(0, y0/lineStep), max(0, (y1+lineStep-1)/lineStep)
	}
	w := &widths{lines: make([]outline, len(b.cs.of)), most: b.f.Height / lineStep}
	last := w.most
	for i, all := range b.cs.of {
		from, to := 1<<30, 0
		for _, c := range all {
			if p, q := lines(c); p < q && c.level < 0 {
				from, to = min(from, p), max(to, q)
			}
		}
		if from >= to {
			continue
		}
		o := outline{from: from, left: make([]int32, to-from), right: make([]int32, to-from), leaf: -1, split: to - from}
		for k := range o.left {
			o.left[k], o.right[k] = far, -far
		}
		for _, c := range all {
			if c.level >= 0 {
				continue
			}
			p, q := lines(c)
			for k := p - from; k < q-from; k++ {
				o.left[k], o.right[k] = min(o.left[k], int32(c.x0)), max(o.right[k], int32(c.x1))
			}
		}
		if leaf, y := b.leaf(i); leaf >= 0 {
			o.leaf, o.split = leaf, min(len(o.left), max(0, y/lineStep-from))
			w.leaves = append(w.leaves, i)
		}
		w.lines[i] = o
		last = max(last, to)
	}
	w.front = make([]int32, last)
	return w
}

// leaf finds the board on which an item ends, or the column of its own that it
// is, and the height at which that begins; -1: there is neither.
func (b *bench) leaf(i int) (leaf, y int) {
	it := b.a.items[i]
	for _, l := range it.bodies {
		if b.a.levels[l].kind == boardLevel && len(b.a.below[l]) == 0 && b.a.group[l] == l {
			return l, b.h.level[l]
		}
	}
	if len(it.cols) == 1 && len(it.bodies) == 0 && b.a.cols[it.cols[0]].upper < 0 && b.a.cols[it.cols[0]].lower < 0 {
		return len(b.a.levels) + it.cols[0], 0
	}
	return -1, 0
}

// width of items in an order, about.
func (w *widths) width(order, drop []int) int {
	clear(w.front)
	widest := int32(0)
	for _, i := range order {
		o := &w.lines[i]
		by := 0
		if o.leaf >= 0 {
			by = min(drop[o.leaf]/lineStep, len(w.front)-o.from-len(o.left))
		}
		front := w.front[o.from : o.from+len(o.left)+max(0, by)]
		at := int32(0)
		if by <= 0 {
			for k, x := range front {
				at = max(at, x-o.left[k])
			}
			for k, r := range o.right {
				r += at
				front[k] = max(front[k], r+beside)
				widest = max(widest, r)
			}
			continue
		}
		over, wire, under := front[:o.split], front[o.split:o.split+by], front[o.split+by:]
		for k, x := range over {
			at = max(at, x-o.left[k])
		}
		for k, x := range under {
			at = max(at, x-o.left[o.split+k])
		}
		if o.split > 0 {
			for _, x := range wire {
				at = max(at, x+halfWire)
			}
			for k := range wire {
				wire[k] = max(wire[k], at+halfWire+beside)
			}
		}
		for k := range over {
			over[k] = max(over[k], at+o.right[k]+beside)
			widest = max(widest, at+o.right[k])
		}
		for k := range under {
			under[k] = max(under[k], at+o.right[o.split+k]+beside)
			widest = max(widest, at+o.right[o.split+k])
		}
	}
	return int(widest)
}

// dropOne lets a leaf drop to where another item ends, or takes it back.
func (w *widths) dropOne(drop []int, r *random) {
	o := &w.lines[w.leaves[r.below(len(w.leaves))]]
	other := &w.lines[r.below(len(w.lines))]
	if drop[o.leaf] > 0 && r.below(2) == 0 {
		drop[o.leaf] = 0
		return
	}
	to := other.from + len(other.left)
	if r.below(2) == 0 {
		to = other.from + other.split
	}
	if by := to - o.from - o.split; by > 0 && to+len(o.left)-o.split <= w.most {
		drop[o.leaf] = by * lineStep
	}
}

// steepest is what excess width weighs where all turns on finding room.
const steepest = 6

// judge counts a plan and weighs how wide it becomes; above the limit it may be
// told too low.
func (t *tally) judge(p plan, limit int) int {
	cost := t.count(p, limit)
	if cost > limit {
		return cost
	}
	w, field := t.wide.width(t.order, p.drop), t.bench.f.Width
	return cost + w*costPerSize/500 + t.steep*costScale*max(0, 1000*w/field-1000)/1000
}

// search betters a plan by counting, and by its width too.
func (t *tally) search(start plan, trials int, narrow bool, seed random) plan {
	cur := start.clone()
	t.bench.hold(cur.seq)
	if len(cur.seq) < 2 {
		return cur
	}
	judge := t.judge
	if !narrow {
		judge = t.count
	}
	now := judge(cur, endless)
	best, least := cur.clone(), now
	next := cur.clone()
	for k := 0; k < trials; k++ {
		next.become(cur)
		if narrow && len(t.wide.leaves) > 0 && seed.below(6) == 0 {
			t.wide.dropOne(next.drop, &seed)
		} else {
			move(next.seq, t.bench.mates, &seed)
			t.bench.hold(next.seq)
		}
		if next.equal(cur) {
			continue
		}
		left := trials - k
		limit := now + hot*left/trials*left/trials
		if cost := judge(next, limit); cost <= limit {
			cur, next = next, cur
			now = cost
			if cost < least {
				best.become(cur)
				least = cost
			}
		}
	}
	return best
}

// begin gives a plan to begin with: one of few crossings, then a narrower one.
// Where the field is nearly wide enough, more is given for its width.
func (t *tally) begin(trials, steep int, seed random) plan {
	p := plan{t.a.firstSequence(), make([]int, len(t.bench.drop))}
	t.steep = 1
	p = t.search(p, trials, false, seed)
	p = t.search(p, trials/2, true, seed+1)
	t.count(p, endless)
	if field := t.bench.f.Width; t.wide.width(t.order, p.drop) < field*nearWidth/100 {
		t.steep = steep
	}
	return t.search(p, trials/2, true, seed+2)
}

// nearWidth is how wide a plan may be, in hundredths of the field, for which it
// is worth to try what is narrower.
const nearWidth = 115
