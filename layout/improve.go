package layout

import "strake/layout/geom"

// Phase 8, improve.
// Needs: a bench and a sequence. Gives: a better sequence, by threshold
// accepting: a trial is kept when it is not worse by more than a threshold
// that falls to nothing. Only whole numbers, a generator of our own and a count
// of trials, so that every machine finds the same drawing.

// What a drawing costs, in sixteenths of a point.
const (
	point       = 16
	costSide    = 2000 * point // a wire that comes to the wrong side of a box
	costBroken  = 400 * point  // a level tie that is in the way of something
	costTaken   = 100 * point  // something on a reserved place
	costBlock   = 250 * point  // a block that finds no hole
	costOut     = 1            // a millimetre by which a thing stands outside
	costMixed   = point        // neighbours in the sequence of different groups
	costCross   = 80 * point
	costBend    = 12 * point
	costEnd     = 3 * point   // a wire that passes near the end of a foreign bar
	costScale   = 400 * point // for a drawing twice too large
	costPerSize = point       // for five millimetres of width or height
)

// random is a small generator with a fixed seed.
type random uint64

// What the searches begin with, so that each goes its own way; the shifts and
// the seeds are those of Marsaglia, Xorshift RNGs (2003), from memory.
const (
	firstSeed  = 88172645463325252
	secondSeed = 2463534242
	thirdSeed  = 362436069
	seedStep   = 7919 // between searches of one kind
)

func (r *random) below(n int) int {
	x := uint64(*r)
	x ^= x << 13
	x ^= x >> 7
	x ^= x << 17
	*r = random(x)
	return int((x >> 33) % uint64(n))
}

// extent is the rectangle of the last trial.
func (b *bench) extent() geom.Rect {
	var r geom.Rect
	for i := range b.t.done {
		d := &b.t.done[i]
		r.X1, r.Y1 = max(r.X1, d.X1), max(r.Y1, d.Y1)
	}
	return r
}

// cost judges the last trial; above the limit it may be told too low.
func (b *bench) cost(limit int) int {
	crossings, bends := b.believed()
	r := b.extent()
	fits := r.X1 <= b.f.Width && r.Y1 <= b.f.Height
	scale := max(1000*r.X1/b.f.Width, 1000*r.Y1/b.f.Height, 1000) - 1000
	cost := costSide*b.s.side + costBroken*len(b.s.obstructed) + costCross*crossings + costBend*bends + costEnd*b.nearEnds() + costScale*scale/1000
	out := 0
	for i := range b.t.done {
		d := &b.t.done[i]
		out += max(0, d.X1-b.f.Width) + max(0, d.Y1-b.f.Height)
	}
	cost += out * costOut / 100
	cost += (max(0, r.X1-b.f.Width) + max(0, r.Y1-b.f.Height)) * point / 100
	cost += costTaken * b.onReserved()
	last := 0
	for _, i := range b.p.held { // what is of one group likes to stand together
		if d := b.domains[i]; d > 0 {
			if last > 0 && d != last {
				cost += costMixed
			}
			last = d
		}
	}
	cost += (r.X1+r.Y1)*costPerSize/500 + b.length()*point/1000
	b.roomy = fits
	switch {
	case !fits:
		cost += costBlock * len(b.g.Blocks)
	case cost <= limit:
		left := b.unplaced()
		b.roomy = left == 0
		cost += costBlock * left
	}
	return cost
}

// onReserved counts the things that stand on reserved places.
func (b *bench) onReserved() int {
	n := 0
	for _, q := range b.f.Reserved {
		for i := range b.t.done {
			if b.t.done[i].Meets(q) {
				n++
			}
		}
	}
	return n
}

// least is what a trial costs at least whose heights are not settled yet; more
// room at the ends of bars never makes it narrower.
func (b *bench) least() int {
	bends := 0
	for c := range b.a.cols {
		x := b.a.colX(b.p.x, c)
		bends += b.s.up[c].bends(x) + b.s.lo[c].bends(x)
	}
	over := max(0, b.p.width()-air-b.f.Width)
	return costSide*b.s.side + costBroken*len(b.s.obstructed) + costBend*bends + costScale*over/b.f.Width + over*point/geom.MM
}

// length is how much wire is drawn beyond the least, and how far level wires run.
func (b *bench) length() int {
	sum := 0
	for c, col := range b.a.cols {
		at := b.a.colX(b.p.x, c)
		if col.lower >= 0 {
			sum += b.t.h.level[col.lower] + b.s.lo[c].dy - b.t.end[c]
			sum += abs(b.s.lo[c].x - at)
		}
		if col.upper >= 0 {
			sum += abs(b.s.up[c].x - at)
		}
	}
	for l := range b.a.levels {
		sum += (b.s.to[l] - b.s.from[l]) / 2
	}
	return sum
}

func abs(n int) int { return max(n, -n) }

// believed counts crossings and bends without drawing the wires.
func (b *bench) believed() (crossings, bends int) {
	a := b.a
	for l, lv := range a.levels {
		y := b.t.h.level[l]
		if lv.kind == bendLevel {
			p, q := a.colX(b.p.x, a.above[l][0]), a.colX(b.p.x, a.above[l][1])
			bends += 2
			crossings += b.crossed(min(p, q), max(p, q), y)
			continue
		}
		for _, c := range a.above[l] {
			k, n := b.landed(b.s.lo[c], a.colX(b.p.x, c), y)
			crossings, bends = crossings+k, bends+n
		}
		for _, c := range a.below[l] {
			k, n := b.landed(b.s.up[c], a.colX(b.p.x, c), y)
			crossings, bends = crossings+k, bends+n
		}
	}
	return crossings, bends
}

// nearEnds counts the columns that pass near the end of a foreign bar.
func (b *bench) nearEnds() int {
	n := 0
	for l, y := range b.t.h.level {
		if !b.s.drawn[l] {
			continue
		}
		for c, col := range b.a.cols {
			x := b.a.colX(b.p.x, c)
			if by := max(b.s.from[l]-x, x-b.s.to[l]); by <= 0 || by >= clearEnd || col.upper == l || col.lower == l {
				continue
			}
			if top, bottom := b.span(c); top < y && y < bottom {
				n++
			}
		}
	}
	return n
}

// span is how high a column begins and how low it ends.
func (b *bench) span(c int) (top, bottom int) {
	top, bottom = b.t.h.piece[c][0], b.t.end[c]
	if l := b.a.cols[c].upper; l >= 0 {
		top = b.t.h.level[l] + b.s.up[c].dy
	}
	if l := b.a.cols[c].lower; l >= 0 {
		bottom = b.t.h.level[l] + b.s.lo[c].dy
	}
	return top, bottom
}

func (b *bench) landed(p landing, x, y int) (crossings, bends int) {
	line := p.line(x)
	for k := 1; k < line.n; k++ {
		if p, q := line.at[k-1], line.at[k]; p.Y == q.Y {
			crossings += b.crossed(min(p.X, q.X), max(p.X, q.X), y+p.Y)
		}
	}
	return crossings, max(0, line.n-1)
}

// crossed counts the upright wires that a level piece crosses.
func (b *bench) crossed(x0, x1, y int) int {
	k := 0
	for c, col := range b.a.cols {
		x := b.a.colX(b.p.x, c)
		if col.upper >= 0 {
			k += b.s.up[c].crossed(x, b.t.h.level[col.upper], x0, x1, y)
		}
		if col.lower >= 0 {
			k += b.s.lo[c].crossed(x, b.t.h.level[col.lower], x0, x1, y)
		}
		if x <= x0 || x >= x1 {
			continue
		}
		if top, bottom := b.span(c); top < y && y < bottom {
			k++
		}
	}
	return k
}

// crossed counts where a level piece crosses the upright ones of a landing.
func (p landing) crossed(x, level, x0, x1, y int) int {
	if p.straight(x) || p.dy == p.on {
		return 0
	}
	at := p.x
	if p.round {
		at = p.via
	}
	if x0 < at && at < x1 && min(p.dy, p.on) < y-level && y-level < max(p.dy, p.on) {
		return 1
	}
	return 0
}

// best is what a search found.
type best struct {
	plan
	cost int
}

// trial is what is known of a plan that was laid out.
type trial struct {
	cost, least  int
	exact, roomy bool // the cost is not told too low
}

// improve searches from a plan for a number of trials; the heat is what a trial
// may be worse at first. A change that counting alone finds much worse is not
// laid out.
func (b *bench) improve(start plan, trials, heat int, seed random) best {
	cur := start.clone()
	b.hold(cur.seq)
	b.follow(cur)
	now := b.cost(endless)
	roomy := b.roomy // nothing need give way
	top := best{cur.clone(), now}
	if len(cur.seq) < 2 {
		return top
	}
	next := cur.clone()
	counted := b.tally.judge(cur, endless)
	loose := b.loose()
	late := cur.clone() // the trial that is known and was not laid out
	behind := false
	for k := 0; k < trials; k++ {
		left := trials - k
		threshold := heat * left / trials * left / trials
		count, slack := counted, costCrowd
		if roomy {
			slack = costCount
		}
		same := false
		for try := 0; try < mostCounted; try++ {
			next.become(cur)
			if !roomy && len(loose) > 0 && seed.below(8) == 0 {
				if behind {
					b.follow(late) // to where things end in it
					behind = false
				}
				b.dropOne(next.drop, loose, &seed)
			} else {
				move(next.seq, b.mates, &seed)
				b.hold(next.seq)
			}
			if same = next.equal(cur); same {
				break
			}
			if count = b.tally.judge(next, counted+slack+threshold); count <= counted+slack+threshold {
				break
			}
		}
		if same {
			late.become(cur)
			behind = true
			continue
		}
		limit := now + threshold
		key := next.fingerprint()
		was, there := b.known[key]
		if there && was.least <= limit && (was.exact || was.cost > limit) {
			late.become(next)
			behind = true
			if was.cost > limit {
				continue
			}
			b.roomy = was.roomy
		} else {
			if !b.within(next, limit) {
				if behind { // what was laid out last is asked for yet
					b.follow(late)
					behind = false
					b.within(next, limit)
				}
				continue
			}
			behind = false
			was = trial{cost: b.cost(limit), least: b.floor}
			was.exact, was.roomy = was.cost <= limit, b.roomy
			b.known[key] = was
			if was.cost > limit {
				continue
			}
		}
		cur, next = next, cur
		if count > counted+slack+threshold {
			count = b.tally.judge(cur, endless)
		}
		now, counted, roomy = was.cost, count, b.roomy
		if now < top.cost {
			top.become(cur)
			top.cost = now
		}
	}
	return top
}

const (
	hot         = 60 * point
	warm        = 8 * point
	mostCounted = 8           // changes that are counted for one that is laid out
	costCount   = 30 * point  // by which the count may be worse than it was
	costCrowd   = 150 * point // the same while not all finds room
)

// loose lists what may drop under other things: boards, levels without a feed,
// columns without a level.
func (b *bench) loose() []int {
	var out []int
	for l, lv := range b.a.levels {
		if b.a.group[l] != l {
			continue
		}
		fed := false
		for _, c := range b.a.above[l] {
			fed = fed || b.a.cols[c].upper >= 0
		}
		if lv.kind == boardLevel || !fed {
			out = append(out, l)
		}
	}
	for c, col := range b.a.cols {
		if col.upper < 0 && col.lower < 0 {
			out = append(out, len(b.a.levels)+c)
		}
	}
	return out
}

// dropOne lets one thing drop to where another one ends, or takes it back.
func (b *bench) dropOne(drop, loose []int, r *random) {
	i := loose[r.below(len(loose))]
	if drop[i] > 0 && r.below(2) == 0 {
		drop[i] = 0
		return
	}
	d := b.t.done[r.below(len(b.t.done))]
	b.dropTo(drop, i, d.Y1+gap)
}

// dropTo lets one thing drop to a height, if it stood higher and that is in the field.
func (b *bench) dropTo(drop []int, i, to int) bool {
	y := 0
	switch {
	case i >= len(b.a.levels):
		y = b.h.piece[i-len(b.a.levels)][0] - b.drop[i]
	default:
		y = b.h.level[i] - b.drop[i]
	}
	if to <= y || to >= b.f.Height {
		return false
	}
	drop[i] = to - y
	return true
}

// fullFill is the share of the field, in hundredths, that the cells may take; a
// drawing that takes more hardly ever fits.
const fullFill = 85

// fill is the share of the field that the cells take, in hundredths.
func (b *bench) fill() int {
	return 100 * b.cs.area / max(1, b.f.Width/geom.MM*(b.f.Height/geom.MM))
}

// fits tells whether a plan lies in the field.
func (b *bench) fits(p plan) bool {
	b.follow(p)
	r := b.extent()
	return r.X1 <= b.f.Width && r.Y1 <= b.f.Height
}

// allFits tells whether a plan lies in the field and its blocks find room too.
func (b *bench) allFits(p plan) bool {
	b.follow(p)
	b.cost(endless)
	return b.roomy
}

// near tells whether the last trial is little larger than the field.
func (b *bench) near() bool {
	r := b.extent()
	return r.X1 <= b.f.Width*112/100 && r.Y1 <= b.f.Height*112/100
}

// hopeless tells whether the best plan so far is far too large for the field.
func (b *bench) hopeless(found best) bool {
	b.follow(found.plan)
	r := b.extent()
	return b.fill() > fullFill && (r.X1 > b.f.Width*125/100 || r.Y1 > b.f.Height*125/100 ||
		r.X1/100*r.Y1 > b.f.Width/100*b.f.Height*14/10)
}
