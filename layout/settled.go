package layout

import "slices"

// Phase 4b, settled.
// Needs: a bench with the author's sequences along nearly all bars. Gives: a
// plan that depends on little else, so that a small change of the graph changes
// the drawing little: no chance, only changes that are surely better, one after
// the other.

// settledShare is how much of what hangs on bars must stand in an author's
// sequence, in hundredths, for a drawing to be taken as settled.
const settledShare = 70

// settled tells whether the author's sequences leave little to choose.
func (b *bench) settled() bool {
	if len(b.orders) == 0 {
		return false
	}
	all, held := 0, 0
	for l := range b.a.levels {
		var units []int
		for end, cols := range [2][]int{b.a.above[l], b.a.below[l]} {
			for _, c := range cols {
				col := &b.a.cols[c]
				at := col.loAt
				if end == 1 {
					at = col.upAt
				}
				if u := b.a.unitOf[b.a.itemOf[c]]; at.Row < 0 && !slices.Contains(units, u) {
					units = append(units, u)
				}
			}
		}
		if len(units) < 2 || b.a.levels[l].kind == bendLevel || b.a.levels[l].kind == boxLevel {
			continue
		}
		all += len(units)
		most := 0
		for _, o := range b.orders {
			n := 0
			for _, u := range o {
				if slices.Contains(units, u) {
					n++
				}
			}
			most = max(most, n)
		}
		held += most
	}
	return all > 0 && held*100 >= all*settledShare
}

// sifting holds what a settled plan is found with.
type sifting struct {
	b      *bench
	before [][]int // units that an author wants left of each
	after  [][]int
	left   int // changes that may still be counted
}

// sift finds a settled plan.
func (b *bench) sift(trials int) plan {
	s := sifting{b: b, left: b.counts(mostSifted), before: b.leftOf, after: make([][]int, len(b.a.units))}
	for _, o := range b.orders {
		for k := 1; k < len(o); k++ {
			s.after[o[k-1]] = append(s.after[o[k-1]], o[k])
		}
	}
	p := plan{s.merge(), make([]int, len(b.drop))}
	b.tally.steep = steepest
	for _, narrow := range [2]bool{false, true} {
		judge := b.tally.count
		if narrow {
			judge = b.tally.judge
		}
		s.better(p, judge)
		if q := b.tally.search(p, b.counts(settledCounts), narrow, firstSeed); judge(q, endless) < judge(p, endless)-chanceGain {
			p = q
			s.better(p, judge)
		}
	}
	s.lay(p, trials)
	return p
}

// lay lays the plan out, and what differs from it a little, until all finds
// room and nothing is much better.
func (s *sifting) lay(p plan, trials int) {
	b := s.b
	b.follow(p)
	now, counted := b.cost(endless), b.tally.judge(p, endless)
	next, loose, roomy := p.clone(), b.loose(), b.roomy
	try := func() bool { // what next has become
		count := b.tally.judge(next, counted+costCrowd)
		if count > counted+costCrowd {
			return false
		}
		trials--
		least := siftGain
		if roomy {
			least = chanceGain
		}
		if b.within(next, now-least) {
			if cost := b.cost(now - least); cost < now-least {
				now, counted, roomy = cost, count, b.roomy
				p.become(next)
				return true
			}
		}
		return false
	}
	for better := true; better && trials > 0; {
		better = false
		for length := 1; length <= min(longestLaid, len(p.seq)-1); length++ {
			for from := 0; from+length <= len(p.seq); from++ {
				low, high := s.between(p.seq, from, length)
				for to := low; to <= high && trials > 0; to++ {
					next.become(p)
					shift(next.seq, from, length, to)
					if to != from && try() {
						better = true
						break
					}
				}
			}
		}
		for _, i := range loose {
			if roomy {
				break
			}
			b.follow(p)
			var ends []int
			for _, d := range b.t.done {
				ends = append(ends, d.Y1+gap)
			}
			slices.Sort(ends)
			for _, to := range slices.Compact(ends) {
				next.become(p)
				if b.dropTo(next.drop, i, to) && trials > 0 && try() {
					better = true
				}
			}
		}
	}
}

// longestLaid is how many units are moved as one when they are laid out.
const longestLaid = 4

// merge makes one sequence of all the author's, what hangs together side by side.
func (s *sifting) merge() []int {
	n := len(s.before)
	placed := make([]int, n) // place in the sequence, from 1
	var seq []int
	for len(seq) < n {
		next, nearest := -1, -1
		for u := range placed {
			if placed[u] > 0 || slices.ContainsFunc(s.before[u], func(v int) bool { return placed[v] == 0 }) {
				continue
			}
			last := 0
			for _, v := range s.b.mates[u] {
				last = max(last, placed[v])
			}
			if last > nearest {
				next, nearest = u, last
			}
		}
		if next < 0 { // sequences that contradict each other
			next = slices.Index(placed, 0)
		}
		seq = append(seq, next)
		placed[next] = len(seq)
	}
	return seq
}

// rounds of changes that are tried at most.
const siftRounds = 5

// mostSifted is how many changes are counted at most.
const mostSifted = 60000

// longestRun is how many units are moved as one.
const longestRun = 6

// better moves runs of units, one after the other, to where they cost least,
// and lets boards drop, until nothing helps.
func (s *sifting) better(p plan, judge func(p plan, limit int) int) {
	now := judge(p, endless)
	seq := slices.Clone(p.seq)
	for round := 0; round < siftRounds; round++ {
		began := now
		for length := min(longestRun, len(seq)-1); length > 0; length-- {
			for from := 0; from+length <= len(seq); from++ {
				low, high := s.between(seq, from, length)
				best := from
				for to := low; to <= high && s.left > 0; to++ {
					if to == from {
						continue
					}
					s.left--
					copy(p.seq, seq)
					shift(p.seq, from, length, to)
					if cost := judge(p, now-siftGain); cost < now-siftGain {
						now, best = cost, to
					}
				}
				shift(seq, from, length, best)
			}
		}
		copy(p.seq, seq)
		now = s.dropLeaves(p, judge, now)
		if now == began {
			break
		}
	}
	copy(p.seq, seq)
}

// What is left to chance, and what it must gain to be taken.
const (
	settledCounts = 1600
	chanceGain    = 60 * point
)

// siftGain is what a change must gain, so that trifles change nothing.
const siftGain = 2 * point

// between gives the places at which a run may begin.
func (s *sifting) between(seq []int, from, length int) (low, high int) {
	run := seq[from : from+length]
	low, high = 0, len(seq)-length
	for p, u := range seq {
		for _, v := range run {
			switch {
			case p < from && slices.Contains(s.before[v], u):
				low = max(low, p+1)
			case p >= from+length && slices.Contains(s.after[v], u):
				high = min(high, p-length)
			}
		}
	}
	return low, high
}

// dropLeaves lets each board drop to where it costs least.
func (s *sifting) dropLeaves(p plan, judge func(p plan, limit int) int, now int) int {
	w := s.b.tally.wide
	for _, i := range w.leaves {
		o := &w.lines[i]
		best := p.drop[o.leaf]
		for k := range w.lines {
			for _, to := range [2]int{w.lines[k].from + len(w.lines[k].left), 0} {
				by := max(0, to-o.from-o.split)
				if by > 0 && to+len(o.left)-o.split > w.most {
					continue
				}
				p.drop[o.leaf] = by * lineStep
				if cost := judge(p, now-siftGain); cost < now-siftGain {
					now, best = cost, p.drop[o.leaf]
				}
			}
		}
		p.drop[o.leaf] = best
	}
	return now
}
