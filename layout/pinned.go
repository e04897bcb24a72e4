package layout

import (
	"slices"

	"strake/layout/geom"
)

// Phase 0, pinned.
// Needs: a graph that says where things stood. Gives: the drawing in
// which they stand there still, as far as there is room, and what is new beside
// them. Nothing is searched.

// mostRaised is how far everything may move up for the sake of what is new.
const mostRaised = 800

// pinned lays a graph out by where everything stood; false: that does not find
// room. Moved is how far things stand from where they stood, on the average.
func pinned(g Graph, r reduced, f Field) (s Sheet, moved int, ok bool) {
	chosen := chooseTurns(g, r, f)
	for raised := 0; ; {
		p, fits := pinnedOnce(g, r, f, chosen)
		if fits {
			s = p.b.draw(g)
			ok = fillHoles(g, &s, f) && holds(g, s, f)
			return s, p.moved(), ok
		}
		if p.low <= f.Height || raised+p.low-f.Height > mostRaised {
			return Sheet{Bounds: geom.Rect{X1: f.Width + 1, Y1: f.Height + 1}}, 0, false
		}
		by := p.low - f.Height
		raised += by
		g.Pins, g.Runs = raisedBy(g.Pins, by), raisedBy(g.Runs, by)
	}
}

// raisedBy are places that much nearer to the upper edge.
func raisedBy(places []geom.Point, by int) []geom.Point {
	out := slices.Clone(places)
	for i := range out {
		if out[i] != Unsaid {
			out[i].Y = max(0, out[i].Y-by)
		}
	}
	return out
}

// pinnedOnce stands everything as near to where it stood as can be; false: there
// is no room.
func pinnedOnce(g Graph, r reduced, f Field, chosen choice) (growth, bool) {
	ch := r.stoodTurns(g, chosen)
	for {
		a := arrange(g, turn(g, r, ch))
		x, y := a.pinsOf(g)
		a.pinned = y
		a.alignStood(g)
		p := a.stood(g, f, x)
		if p.stand(p.slip(p.units())) {
			return p, true
		}
		broken := p.b.s.obstructed
		if len(broken) == 0 {
			return p, false
		}
		ch.bendTies(a, broken)
	}
}

// stood is a growth from where everything stood.
func (a *arrangement) stood(g Graph, f Field, x []int) growth {
	p := growth{x: x, y: make([]int, len(a.levels)), weight: a.weights(g)}
	for l, y := range a.pinned {
		p.y[l] = max(0, y)
	}
	a.pinned = slices.Clone(a.pinned)
	b := newBench(g, a, f)
	for k := 0; k < mostLowered && b.lowerClashing(x, p.y); k++ {
		b = newBench(g, a, f)
	}
	p.b = b
	p.plan = plan{seq: b.stoodLeft(x), drop: make([]int, len(b.drop))}
	return p
}

// stoodTurns are the turns that the chains had, as far as places tell; where they
// do not go together, those that would be chosen.
func (r reduced) stoodTurns(g Graph, chosen choice) choice {
	ch := choice{slices.Clone(chosen.bend), slices.Clone(chosen.hangs), slices.Clone(chosen.lies)}
	at := func(l, row, dev int) (int, bool) { // of a level or its row, else of a device
		if l >= 0 {
			dev = r.levels[l].node
		}
		if dev < 0 || g.Pins[dev] == Unsaid {
			return 0, false
		}
		y := g.Pins[dev].Y
		if l >= 0 && row >= 0 && r.levels[l].kind == boardLevel {
			y += boardBody(g.Nodes[dev], 0).rows[row]
		}
		return y, true
	}
	for i, c := range r.chains {
		if c.ends[1] < 0 {
			continue
		}
		from, last := c.ends[0], -1
		if n := len(c.devs); n > 0 {
			from, last = -1, c.devs[n-1]
		}
		y, known := at(from, c.at[0].Row, last)
		to, said := at(c.ends[1], c.at[1].Row, -1)
		if !said && c.ends[0] < 0 {
			to, said = r.stoodAbout(g, i)
		}
		switch {
		case !known || !said:
		case c.ends[0] < 0:
			ch.hangs[i] = y > to
		case c.tie && abs(y-to) <= geom.MM && ch.bend[i] && chosen.lies[i]:
			ch.bend[i], ch.lies[i] = false, true
		case !c.tie:
			ch.bend[i], ch.lies[i] = y > to || len(c.devs) > 0 && g.Runs[c.wires[len(c.wires)-1]] != Unsaid, false
		}
	}
	ch.notBetween(g, r)
	sky := newSkyward(g, r)
	if _, ok := sky.height(ch); !ok {
		ch = chosen
		ch.notBetween(g, r)
	}
	return ch
}

// stoodAbout is a height between what else hangs on the level to which a chain
// leads, where nothing tells that of the level itself.
func (r reduced) stoodAbout(g Graph, chain int) (y int, said bool) {
	n := 0
	for i, c := range r.chains {
		for k, l := range c.ends {
			if i == chain || l != r.chains[chain].ends[1] {
				continue
			}
			node := -1
			if len(c.devs) > 0 {
				node = c.devs[k*(len(c.devs)-1)]
			} else if o := c.ends[1-k]; o >= 0 {
				node = r.levels[o].node
			}
			if node >= 0 && g.Pins[node] != Unsaid {
				y, n = y+g.Pins[node].Y, n+1
			}
		}
	}
	return y / max(1, n), n > 0
}

// alignStood sets the devices of columns where they stood under their bar, and
// those of new columns level with them.
func (a *arrangement) alignStood(g Graph) {
	h := newHeights(a)
	old := make([]bool, len(a.chains))
	a.tops = make([]int, len(a.cols))
	for c := range a.tops {
		a.tops[c] = -1
	}
	for c, col := range a.cols {
		from, y := -1, -1 // the piece from which heights are counted, -1: the column's top; its height
		if l := col.upper; l >= 0 && (a.up[c] == onBar || a.up[c] == spine) && a.pinned[a.group[l]] >= 0 {
			y = a.pinned[a.group[l]] + a.topOf(c)
		}
		down := func(i int) int { // how far under that a piece stands
			if from < 0 {
				return h.piece[c][i]
			}
			return h.piece[c][i] - h.piece[c][from]
		}
		for i, p := range col.pieces {
			if p.dev < 0 || g.Pins[p.dev] == Unsaid {
				continue
			}
			old[col.chain] = true
			pin := g.Pins[p.dev]
			if y < 0 {
				from, y = i, pin.Y
			} else if i > 0 {
				a.stretch(c, i-1, h, func() int { return pin.Y - y - down(i) })
			}
		}
		if n := len(col.pieces) - 1; col.upper < 0 && col.lower >= 0 && y >= 0 && n > 0 && (a.lo[c] == onBar || a.lo[c] == spine) {
			if low := a.pinned[a.group[col.lower]]; low >= 0 {
				a.stretch(c, n, h, func() int { return low - y - (a.stack(c, 0, h) - h.piece[c][max(0, from)]) })
			}
		}
		if col.upper < 0 && y >= 0 && a.lo[c] != onRow { // what leads to a row is ranked above its board
			a.stack(c, 0, h)
			a.tops[c] = max(0, y-h.piece[c][max(0, from)])
		}
	}
	a.alignNew(old)
}

// stretch makes a wire of a column so much longer that nothing is missing; a
// note of its own may take up some of that at first.
func (a *arrangement) stretch(c, wire int, h heights, missing func() int) {
	for range 3 {
		a.stack(c, 0, h)
		if by := missing(); by > 0 {
			a.extra[c][wire] += by
		}
	}
}

// pinsOf finds where the items and the levels of a graph stood.
func (a *arrangement) pinsOf(g Graph) (x, y []int) {
	x, y = make([]int, len(a.items)), make([]int, len(a.levels))
	for i := range x {
		x[i] = -1
	}
	for l := range y {
		y[l] = -1
	}
	for l, lv := range a.levels {
		if lv.node < 0 || g.Pins[lv.node] == Unsaid {
			continue
		}
		pin := g.Pins[lv.node]
		y[a.group[l]] = pin.Y
		if i := a.bodyItem[l]; i >= 0 {
			x[i] = max(0, pin.X-a.bodyDX[l])
		}
	}
	for c, col := range a.cols {
		for _, p := range col.pieces {
			if i := a.itemOf[c]; p.dev >= 0 && g.Pins[p.dev] != Unsaid && x[i] < 0 {
				x[i] = max(0, g.Pins[p.dev].X-a.colDX[c])
			}
		}
	}
	for c, col := range a.cols {
		if run := g.Runs[max(0, col.pieces[0].wire)]; len(col.pieces) == 1 && col.pieces[0].wire >= 0 && run != Unsaid {
			if i := a.itemOf[c]; x[i] < 0 {
				x[i] = max(0, run.X-a.colDX[c])
			}
			if col.riser {
				y[col.lower] = run.Y
			}
		}
	}
	h := newHeights(a)
	for l, lv := range a.levels { // a joint, which has no name, by what hangs on it
		if lv.kind != barLevel || y[a.group[l]] >= 0 {
			continue
		}
		for _, c := range a.below[l] {
			for i, p := range a.cols[c].pieces {
				if p.dev >= 0 && g.Pins[p.dev] != Unsaid {
					a.stack(c, 0, h)
					y[a.group[l]] = max(y[a.group[l]], g.Pins[p.dev].Y-h.piece[c][i])
					break
				}
			}
		}
	}
	for s, t := range a.strips {
		for _, p := range t.parts {
			if p.dev >= 0 && g.Pins[p.dev] != Unsaid {
				x[a.stripItem[s]] = max(0, g.Pins[p.dev].X-p.x0)
			}
		}
	}
	return x, y
}

// stoodLeft is the sequence of the units that have a place, from left to right:
// of two that could meet the one that would be in the other's way less.
func (b *bench) stoodLeft(x []int) []int {
	a := b.a
	n := len(a.items)
	after := make([][]int, n)
	for i := range n {
		for j := range i {
			if x[i] < 0 || x[j] < 0 {
				continue
			}
			if over, met := leastApart(b.cs.of[i], b.cs.of[j]); met {
				back, _ := leastApart(b.cs.of[j], b.cs.of[i])
				over, back = over-(x[j]-x[i]), back-(x[i]-x[j])
				if over < back || over == back && x[i] < x[j] {
					after[j] = append(after[j], i)
				} else {
					after[i] = append(after[i], j)
				}
			}
		}
	}
	var seq []int
	done := make([]bool, n)
	for {
		best, free := -1, false
		for i := range n {
			if done[i] || x[i] < 0 {
				continue
			}
			ready := !slices.ContainsFunc(after[i], func(j int) bool { return !done[j] })
			if best < 0 || ready && !free || ready == free && x[i] < x[best] {
				best, free = i, ready
			}
		}
		if best < 0 {
			break
		}
		done[best] = true
		if u := a.unitOf[best]; !slices.Contains(seq, u) {
			seq = append(seq, u)
		}
	}
	return seq
}

// mostLowered is how often levels are thought to stand lower.
const mostLowered = 12

// lowerClashing lets levels be thought to stand a little lower where what hangs
// on them would else meet something that stands above it, side by side with
// which it finds no room; false: there is none.
func (b *bench) lowerClashing(x, stood []int) bool {
	by := make([]int, len(b.a.levels))
	any := false
	for i := range x {
		for j := range i {
			if x[i] < 0 || x[j] < 0 {
				continue
			}
			low, first := b.clash(i, j, x[j]-x[i])
			if back, other := b.clash(j, i, x[i]-x[j]); back < low {
				low, first = back, other
			}
			if low > 0 && first >= 0 && b.h.level[first]+low <= stood[first]+mostClash {
				by[first] = max(by[first], low)
				any = true
			}
		}
	}
	for l, y := range by {
		if y > 0 {
			b.a.pinned[l] = b.h.level[l] + y
		}
	}
	return any
}

// Overlaps in height that come from standing tight.
const (
	leastClash = 60
	mostClash  = 400
)

// clash is by how much the cells of an item overlap in height those of another
// that is too near at its right, and the level of the lower one.
func (b *bench) clash(i, j, apart int) (low, level int) {
	level = -1
	for _, c := range b.cs.of[i] {
		for _, e := range b.cs.of[j] {
			if c.s0 >= e.s1 || e.s0 >= c.s1 || c.level >= 0 && c.level == e.level || c.x1-e.x0+beside-apart <= leastClash {
				continue
			}
			top, under, of := b.cs.ys[c.s0], b.cs.ys[e.s0], j
			if top > under {
				top, under, of = under, top, i
			}
			bottom := min(b.cs.ys[min(c.s1, len(b.cs.ys)-1)], b.cs.ys[min(e.s1, len(b.cs.ys)-1)])
			if by := bottom - under + coarse; by > low {
				low, level = by, b.levelOver(of, under)
			}
		}
	}
	return low, level
}

// levelOver is the lowest level on which an item hangs or stands above a height.
func (b *bench) levelOver(i, y int) int {
	best := -1
	try := func(l int) {
		if l >= 0 && b.h.level[l] <= y+2*(halfBar+air) && (best < 0 || b.h.level[l] > b.h.level[best]) {
			best = b.a.group[l]
		}
	}
	for _, l := range b.a.items[i].bodies {
		try(l)
	}
	for _, c := range b.a.items[i].cols {
		try(b.a.cols[c].upper)
	}
	return best
}

// slip gives the plans with some new units in the sequence: one after the other
// where each costs least, then side by side.
func (p *growth) slip(units []int) []plan {
	judge := func(seq []int) (plan, int) {
		q := plan{seq, p.plan.drop}
		p.b.hold(q.seq)
		return q, p.b.tally.judge(q, endless)
	}
	known := p.plan.seq
	seq := slices.Clone(known)
	for k, u := range units {
		best, least := 0, 1<<60
		for at := 0; at <= len(seq); at++ {
			if _, cost := judge(append(slices.Insert(slices.Clone(seq), at, u), units[k+1:]...)); cost < least {
				best, least = at, cost
			}
		}
		seq = slices.Insert(seq, best, u)
	}
	first, _ := judge(seq)
	plans := []plan{first}
	if len(units) == 0 {
		return plans
	}
	type place struct {
		plan plan
		cost int
	}
	var places []place
	for at := 0; at <= len(known); at++ {
		q, cost := judge(slices.Insert(slices.Clone(known), at, units...))
		if !slices.ContainsFunc(places, func(o place) bool { return slices.Equal(o.plan.seq, q.seq) }) && !slices.Equal(q.seq, first.seq) {
			places = append(places, place{q, cost})
		}
	}
	slices.SortStableFunc(places, func(a, b place) int { return a.cost - b.cost })
	for _, q := range places[:min(len(places), mostPlaces)] {
		plans = append(plans, q.plan)
	}
	return plans
}

// stand lays out the best of some plans, with everything as near to where it
// stood as can be; what is in the way goes to the right or to the left. False:
// there is no room.
func (p *growth) stand(plans []plan) bool {
	p.low = 0
	best, toLeft, least := -1, false, 0
	for i := range plans {
		for _, leftward := range [2]bool{false, true} {
			p.plan = plans[i]
			if cost, ok := p.price(leftward); ok && (best < 0 || cost < least) {
				best, toLeft, least = i, leftward, cost
			}
		}
	}
	if best < 0 {
		return false
	}
	p.plan = plans[best]
	_, ok := p.price(toLeft)
	return ok
}

// price stands everything and tells what that costs.
func (p *growth) price(leftward bool) (cost int, ok bool) {
	b := p.b
	b.follow(p.plan)
	clear(b.keep)
	for {
		b.p.place(b.a, &b.cs, b.keep, p.plan.seq, tightEnd)
		d := b.distances()
		x := p.pushed(&d, slices.Clone(b.p.x), leftward)
		if x == nil {
			return 0, false
		}
		copy(b.p.x, x)
		b.resolidify()
		if !b.wider() {
			break
		}
	}
	if len(b.s.obstructed) > 0 {
		return 0, false
	}
	b.t.least = p.y
	b.t.settle(b.g, b.a, b.h, b.r, b.p.x, b.s)
	r := b.extent()
	if r.X1 > b.f.Width {
		return 0, false
	}
	if p.low == 0 || r.Y1 < p.low {
		p.low = r.Y1
	}
	return p.cost(), r.Y1 <= b.f.Height
}

// mostAstray is what one thing that stands elsewhere counts at the most.
const mostAstray = 50 * geom.MM

// moved is how far things stand from where they stood, on the average.
func (p *growth) moved() int {
	all, far := 0, 0
	for i, was := range p.x {
		if was >= 0 {
			all += p.weight[i]
			far += p.weight[i] * min(abs(was-p.b.p.x[i]), mostAstray)
		}
	}
	for l, was := range p.y {
		if was > 0 {
			n := 1 + len(p.b.a.below[l])
			all += n
			far += n * min(abs(was-p.b.t.h.level[l]), mostAstray)
		}
	}
	return far / max(1, all)
}
