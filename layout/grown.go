package layout

import "slices"

// Phase 0, grown.
// Needs: a graph whose drawing is settled but for something that hangs on a bar
// and stands in no author's sequence: it is new. Gives: the drawing without it,
// and then with it, so that what was there moves as little as can be.

// mostFresh is the share of the chains, in hundredths, up to which new ones are
// put into the drawing of the others.
const mostFresh = 15

// What putting something into a drawing costs beside crossings and bends.
const (
	costMoved = 3 * point // a thing that stands elsewhere
	farMoved  = 800       // as what is more than this away from where it was
)

// mostPlaces is how many places in the sequence are laid out for something new.
const mostPlaces = 12

// grown lays out what is known already and puts in what is new, one after the
// other. Where what is known does not find room, neither does the whole. Asked:
// there is something new; fits: it found room.
func grown(g Graph, r reduced, f Field, trials int) (s Sheet, asked, fits bool) {
	if n := len(r.fresh(g)); n == 0 || n*100 > len(r.chains)*mostFresh {
		return Sheet{}, false, false
	}
	b, _, did := grow(g, r, f, trials)
	switch did {
	case crowded:
		b, _ = search(g, r, f, quickTrials)
		s, _ = finish(g, b, f)
		return s, true, false
	case done:
		s = b.draw(g)
		fits = fillHoles(g, &s, f) && holds(g, s, f)
	}
	return s, fits, fits
}

// outcome of putting something new into a drawing.
type outcome int

const (
	done    outcome = iota
	crowded         // what is known does not find room
	unable          // what is new does not
)

// grow gives the bench with the last thing of a graph that is new put into the
// drawing of all the others.
func grow(g Graph, r reduced, f Field, trials int) (*bench, choice, outcome) {
	fresh := r.fresh(g)
	if len(fresh) == 0 {
		b, ch := search(g, r, f, trials)
		if !b.settled() {
			return nil, choice{}, unable
		}
		if _, fits := finish(g, b, f); !fits {
			return nil, choice{}, crowded
		}
		return b, ch, done
	}
	old := without(g, r, fresh[len(fresh)-1])
	if len(old.g.Orders) == 0 {
		return nil, choice{}, unable
	}
	r0 := reduce(old.g)
	b0, ch0, did := grow(old.g, r0, f, trials)
	if did != done {
		return nil, choice{}, did
	}
	p, ch, ok := old.growth(g, r, f, b0, r0, ch0)
	if !ok {
		return nil, choice{}, unable
	}
	if !p.add(p.units()) {
		return nil, choice{}, unable
	}
	return p.b, ch, done
}

// fresh finds the chains on bars with an author's sequence that this one does
// not name, though it could.
func (r reduced) fresh(g Graph) (fresh []int) {
	for i, c := range r.chains {
		if r.unnamed(g, c, 0) || r.unnamed(g, c, 1) {
			fresh = append(fresh, i)
		}
	}
	return fresh
}

// unnamed tells whether a chain hangs by one of its ends on a bar whose
// sequence does not name it.
func (r reduced) unnamed(g Graph, c chain, end int) bool {
	l := c.ends[end]
	return l >= 0 && c.at[end].Row < 0 && slices.ContainsFunc(g.Orders, func(o Order) bool {
		return o.Bar == r.levels[l].node && !slices.ContainsFunc(o.Nodes, func(n int) bool { return c.leads(r.levels, l, n) })
	}) && !r.nameless(g, c, end)
}

// nameless tells whether no sequence can name a chain at one of its ends.
func (r reduced) nameless(g Graph, c chain, end int) bool {
	n := -1
	if l := c.ends[1-end]; l >= 0 {
		n = r.levels[l].node
	}
	if len(c.devs) > 0 {
		n = c.devs[0]
		if end == 1 {
			n = c.devs[len(c.devs)-1]
		}
	}
	return n < 0 || g.Nodes[n].Nameless
}

// known is a graph without what is new.
type known struct {
	g            Graph
	nodes, wires []int // in the whole graph
}

// without takes a chain out, and what hangs on it alone.
func without(g Graph, r reduced, fresh int) known {
	keep := make([]bool, len(g.Nodes))
	near := make([][]int, len(g.Nodes))
	gone := make([]bool, len(g.Wires))
	cut := make([]bool, len(g.Nodes)) // where something new ends
	for _, w := range r.chains[fresh].wires {
		gone[w] = true
		cut[g.Wires[w].From.Node], cut[g.Wires[w].To.Node] = true, true
	}
	for i, w := range g.Wires {
		if !gone[i] {
			near[w.From.Node] = append(near[w.From.Node], w.To.Node)
			near[w.To.Node] = append(near[w.To.Node], w.From.Node)
		}
	}
	seen := make([]bool, len(g.Nodes))
	for n := range g.Nodes {
		if seen[n] {
			continue
		}
		part, isNew := []int{n}, false
		seen[n] = true
		for k := 0; k < len(part); k++ {
			isNew = isNew || cut[part[k]]
			for _, m := range near[part[k]] {
				if !seen[m] {
					seen[m] = true
					part = append(part, m)
				}
			}
		}
		held := slices.ContainsFunc(g.Orders, func(o Order) bool { return slices.Contains(part, o.Bar) })
		for _, m := range part {
			keep[m] = held || !isNew
		}
	}
	out := known{g: Graph{Blocks: g.Blocks}}
	to := make([]int, len(g.Nodes))
	for n, node := range g.Nodes {
		if to[n] = -1; keep[n] {
			to[n] = len(out.nodes)
			out.nodes = append(out.nodes, n)
			out.g.Nodes = append(out.g.Nodes, node)
		}
	}
	for i, w := range g.Wires {
		if gone[i] || !keep[w.From.Node] || !keep[w.To.Node] {
			continue
		}
		w.From.Node, w.To.Node = to[w.From.Node], to[w.To.Node]
		out.wires = append(out.wires, i)
		out.g.Wires = append(out.g.Wires, w)
	}
	for _, o := range g.Orders {
		if to[o.Bar] < 0 {
			continue
		}
		k := Order{Bar: to[o.Bar]}
		for _, n := range o.Nodes {
			if to[n] >= 0 {
				k.Nodes = append(k.Nodes, to[n])
			}
		}
		out.g.Orders = append(out.g.Orders, k)
	}
	return out
}

// growth is a drawing into which something is put.
type growth struct {
	b      *bench
	plan   plan
	x      []int // where each item stood, -1: nowhere yet
	y      []int // and each level
	weight []int // how many things stand on each item
	low    int   // how low the highest drawing reached; 0: none was narrow enough
}

// growth takes the choices of the known graph's drawing over for the whole one.
func (k known) growth(g Graph, r reduced, f Field, b0 *bench, r0 reduced, ch0 choice) (growth, choice, bool) {
	n := len(r.chains)
	ch := choice{bend: make([]bool, n), hangs: make([]bool, n), lies: make([]bool, n)}
	first := map[[2]int]int{} // chains by their first wire and device
	id := func(wires, devs []int) [2]int {
		key := [2]int{-1, -1}
		if len(wires) > 0 {
			key[0] = wires[0]
		}
		if len(devs) > 0 {
			key[1] = devs[0]
		}
		return key
	}
	for i, c := range r.chains {
		first[id(c.wires, c.devs)] = i
	}
	whole := make([]int, len(r0.chains)) // of each known chain
	old := make([]bool, n)
	for i, c := range r0.chains {
		wires, devs := through(c.wires, k.wires), through(c.devs, k.nodes)
		j, ok := first[id(wires, devs)]
		if !ok || !slices.Equal(wires, r.chains[j].wires) || !slices.Equal(devs, r.chains[j].devs) {
			return growth{}, ch, false // something new changed it
		}
		whole[i], old[j] = j, true
		ch.bend[j], ch.hangs[j], ch.lies[j] = ch0.bend[i], ch0.hangs[i], ch0.lies[i]
	}
	ch.bendNew(r, old)
	a := arrange(g, turn(g, r, ch))
	levels := make([]int, len(b0.a.levels)) // in the whole
	for l, lv := range b0.a.levels {
		levels[l] = -1
		if lv.node >= 0 {
			levels[l] = r.of[k.nodes[lv.node]]
		}
	}
	type leg struct {
		chain int
		riser bool
	}
	cols := map[leg]int{}
	for c, col := range a.cols {
		cols[leg{col.chain, col.riser}] = c
	}
	p := growth{y: make([]int, len(a.levels))}
	items := make([]int, len(b0.a.items))
	for i := range items {
		items[i] = -1
	}
	of := make([]int, len(b0.a.cols))
	for c, col := range b0.a.cols {
		of[c] = cols[leg{whole[col.chain], col.riser}]
		items[b0.a.itemOf[c]] = a.itemOf[of[c]]
		copy(a.extra[of[c]], b0.a.extra[c])
		if l := col.lower; l >= 0 && levels[l] < 0 {
			levels[l] = a.cols[of[c]].lower
		}
	}
	for l, i := range b0.a.bodyItem {
		if i >= 0 {
			if levels[l] < 0 || a.bodyItem[levels[l]] < 0 {
				return growth{}, ch, false
			}
			items[i] = a.bodyItem[levels[l]]
		}
	}
	for s, t := range b0.a.strips {
		items[b0.a.stripItem[s]] = a.stripItem[slices.IndexFunc(a.strips, func(q strip) bool { return q.chain == whole[t.chain] })]
	}
	a.alignNew(old)
	b := newBench(g, &a, f)
	p.b, p.plan = b, plan{drop: make([]int, len(b.drop))}
	p.x, p.weight = make([]int, len(a.items)), a.weights(g)
	for i := range p.x {
		p.x[i] = -1
	}
	for _, i := range b0.p.held {
		if p.x[items[i]] >= 0 {
			return growth{}, ch, false // two became one
		}
		p.x[items[i]] = b0.p.x[i]
		if u := a.unitOf[items[i]]; !slices.Contains(p.plan.seq, u) {
			p.plan.seq = append(p.plan.seq, u)
		}
	}
	for l, to := range levels {
		p.y[to] = b0.t.h.level[l]
		p.plan.drop[to] = b0.drop[l]
	}
	for c, to := range of {
		p.plan.drop[len(a.levels)+to] = b0.drop[len(b0.a.levels)+c]
	}
	return p, ch, true
}

// weights are how many things stand on each item.
func (a *arrangement) weights(g Graph) []int {
	out := make([]int, len(a.items))
	for c := range a.cols {
		out[a.itemOf[c]] += len(a.devices(c))
	}
	for l, i := range a.bodyItem {
		if i >= 0 && a.levels[l].node >= 0 {
			out[i] += 1 + len(g.Nodes[a.levels[l].node].Rows)
		}
	}
	return out
}

// units lists those that have no place in the sequence yet.
func (p *growth) units() []int {
	var out []int
	for u := range p.b.a.units {
		if !slices.Contains(p.plan.seq, u) {
			out = append(out, u)
		}
	}
	return out
}

// through maps indices.
func through(list, to []int) []int {
	out := make([]int, len(list))
	for i, k := range list {
		out[i] = to[k]
	}
	return out
}

// bendNew makes those of the new chains a U that would close a cycle.
func (ch choice) bendNew(r reduced, old []bool) {
	below := make([][]int, len(r.levels))
	for i, c := range r.chains {
		p, q := c.ends[0], c.ends[1]
		if p < 0 || q < 0 || !old[i] || ch.bend[i] {
			continue
		}
		below[p] = append(below[p], q)
		if ch.lies[i] {
			below[q] = append(below[q], p)
		}
	}
	for i, c := range r.chains {
		p, q := c.ends[0], c.ends[1]
		if p < 0 || q < 0 || old[i] {
			continue
		}
		if r.mustBend(i, below) {
			ch.bend[i] = true
			continue
		}
		below[p] = append(below[p], q)
	}
}

// alignNew sets the devices of new columns level with those beside them.
func (a *arrangement) alignNew(old []bool) {
	h := newHeights(a)
	for c, col := range a.cols {
		if old[col.chain] || col.riser || col.upper < 0 || a.up[c] != onBar {
			continue
		}
		for k, i := range a.devices(c) {
			a.stack(c, 0, h)
			by := 0
			for _, d := range a.below[col.upper] {
				if !old[a.cols[d].chain] || a.cols[d].riser || a.up[d] != onBar {
					continue
				}
				a.stack(d, 0, h)
				if other := a.devices(d); k < len(other) {
					by = max(by, a.deeper(c, i, d, other[k], h))
				}
			}
			a.extra[c][i-1] += by
		}
	}
}

// add puts units, side by side, where that costs least; false: there is no room.
func (p *growth) add(units []int) bool {
	b := p.b
	type place struct {
		plan  plan
		count int
	}
	var places []place
	b.tally.steep = steepest
	for at := 0; at <= len(p.plan.seq); at++ {
		q := plan{slices.Insert(slices.Clone(p.plan.seq), at, units...), p.plan.drop}
		b.hold(q.seq)
		places = append(places, place{q, b.tally.judge(q, endless)})
	}
	slices.SortStableFunc(places, func(s, t place) int { return s.count - t.count })
	places = places[:min(len(places), mostPlaces)]
	best, least := -1, 0
	var x []int
	try := func(i int) {
		b.t.least = nil
		b.follow(places[i].plan)
		d, packed := b.distances(), slices.Clone(b.p.x)
		for _, leftward := range [2]bool{false, true} {
			if cost, ok := p.put(&d, packed, leftward); ok && (best < 0 || cost < least) {
				best, least, x = i, cost, slices.Clone(b.p.x)
			}
		}
	}
	for i := range places {
		try(i)
	}
	if best < 0 { // something known must go elsewhere
		b.t.least = nil
		places[0].plan = b.improve(places[0].plan, settledTrials, warm, firstSeed).plan
		try(0)
	}
	if best < 0 {
		return false
	}
	b.t.least = nil
	b.follow(places[best].plan)
	copy(b.p.x, x)
	b.t.least = p.y
	return b.again()
}

// put tries the plan that was laid out with these distances and axes; what
// stands in the way of what is new goes to the right or to the left.
func (p *growth) put(d *spreading, packed []int, leftward bool) (cost int, ok bool) {
	b := p.b
	x := p.pushed(d, packed, leftward)
	if x == nil {
		return 0, false
	}
	copy(b.p.x, x)
	b.t.least = p.y
	if !b.again() {
		return 0, false
	}
	if r := b.extent(); r.X1 > b.f.Width || r.Y1 > b.f.Height {
		return 0, false
	}
	return p.cost(), true
}

// cost of the last trial, and of what stands elsewhere in it.
func (p *growth) cost() int {
	b := p.b
	crossings, bends := b.believed()
	cost := costSide*b.s.side + costCross*crossings + costBend*bends + costBlock*b.unplaced() + costTaken*b.onReserved()
	for i, was := range p.x {
		if was >= 0 && abs(was-b.p.x[i]) > farMoved {
			cost += costMoved * p.weight[i]
		}
	}
	for l, was := range p.y {
		if abs(was-b.t.h.level[l]) > farMoved && was > 0 {
			cost += costMoved * (1 + len(b.a.below[l]))
		}
	}
	return cost
}

// pushed are axes as near to where they were as what is new lets them be; nil:
// there is no room.
func (p *growth) pushed(d *spreading, packed []int, leftward bool) []int {
	held := p.b.p.held
	low, high := slices.Clone(packed), make([]int, len(packed)) // as far left, as far right as can be
	for k := len(held) - 1; k >= 0; k-- {
		j := held[k]
		high[j] = p.b.f.Width - d.right[j]
		for _, q := range d.after[j] {
			high[j] = min(high[j], high[q.right]-q.least)
		}
	}
	x := make([]int, len(packed))
	for k := range held {
		j := held[k]
		if leftward {
			j = held[len(held)-1-k]
		}
		if low[j] > high[j] {
			return nil
		}
		if leftward {
			x[j] = high[j]
			if p.x[j] >= 0 {
				x[j] = min(x[j], p.x[j])
			}
			for _, q := range d.after[j] {
				x[j] = min(x[j], x[q.right]-q.least)
			}
			x[j] = max(x[j], low[j])
			continue
		}
		x[j] = max(low[j], p.x[j])
		for _, q := range d.before[j] {
			x[j] = max(x[j], x[q.left]+q.least)
		}
		x[j] = min(x[j], high[j])
	}
	for _, j := range held { // what is new stands in the middle of its room
		if p.x[j] >= 0 {
			continue
		}
		from, to := d.left[j], p.b.f.Width-d.right[j]
		for _, q := range d.before[j] {
			from = max(from, x[q.left]+q.least)
		}
		for _, q := range d.after[j] {
			to = min(to, x[q.right]-q.least)
		}
		if from < to {
			x[j] = (from + to) / 2
		}
	}
	return x
}
