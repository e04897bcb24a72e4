package layout

// Layout places a graph on a field. The same graph, field and effort give the
// same drawing on every machine.
func Layout(g Graph, f Field, effort Effort) Drawing {
	r := reduce(g)
	f.Width, f.Height = max(1, f.Width), max(1, f.Height)
	if len(g.Pins) > 0 {
		if s, moved, ok := pinned(g, r, f); ok || effort == Kept {
			return Drawing{Sheets: []Sheet{s}, Fits: ok, Moved: moved}
		}
	}
	trials := budget(g, effort)
	if s, asked, fits := grown(g, r, f, trials); asked {
		return Drawing{Sheets: []Sheet{s}, Fits: fits}
	}
	b, _ := search(g, r, f, trials)
	s, fits := finish(g, b, f)
	return Drawing{Sheets: []Sheet{s}, Fits: fits}
}

// The budget of the quick form: sequences that are counted, and laid out.
const (
	quickCounts = 1600
	quickTrials = 60
	quickRounds = 1 // more of them, where the field is nearly large enough
)

// settledTrials is what may be laid out of a graph that is settled.
const settledTrials = 300

// The good form begins several times.
const (
	goodStarts = 6
	goodCounts = 20000
	goodRounds = 4 // of long searches, until all finds room
)

// budget is the number of trials: fewer for a large graph, whose trials are long.
func budget(g Graph, effort Effort) int {
	if effort == Quick {
		return quickTrials
	}
	n := len(g.Nodes) + len(g.Wires) + 1
	return max(400, min(8000, 200000000/(n*n)))
}

// counts is how many sequences may be counted: fewer of a large graph, whose
// counting is long.
func (b *bench) counts(most int) int {
	return max(most/8, min(most, most*350/(len(b.g.Nodes)+len(b.g.Wires)+1)))
}

// search finds a good layout and leaves it on a bench. Ties lie level where
// that can be; a tie that finds no free way becomes a U.
func search(g Graph, r reduced, f Field, trials int) (*bench, choice) {
	ch := chooseTurns(g, r, f)
	ch.notBetween(g, r)
	for {
		a := arrange(g, turn(g, r, ch))
		a.alignWithin(f.Height)
		b := newBench(g, &a, f)
		broken := b.find(trials)
		if len(broken) == 0 {
			return b, ch
		}
		ch.bendTies(a, broken)
	}
}

// find leaves the bench on a good plan and gives the ties that do not lie free in it.
func (b *bench) find(trials int) (obstructed []int) {
	if !b.settled() {
		start := b.tally.begin(b.counts(quickCounts), steepest, firstSeed)
		obstructed = b.tally.obstructed(start)
		for k := 0; k < goodStarts && len(obstructed) > 0 && trials > quickTrials; k++ {
			start = b.tally.begin(b.counts(goodCounts), 1, random(thirdSeed+k*seedStep))
			obstructed = b.tally.obstructed(start)
		}
		if len(obstructed) == 0 {
			b.follow(b.free(start, trials).plan)
			obstructed = b.s.obstructed
		}
		return obstructed
	}
	p := b.sift(max(trials, settledTrials))
	if obstructed = b.tally.obstructed(p); len(obstructed) > 0 {
		return obstructed
	}
	found := b.improve(p, 0, warm, 1)
	if !b.roomy {
		found = b.improve(p, max(trials, settledTrials), warm, firstSeed)
	}
	if !b.allFits(found.plan) { // what moves little does not do
		free := b.free(b.tally.begin(b.counts(quickCounts), steepest, firstSeed), trials)
		if b.allFits(free.plan) {
			found = free
		}
		b.follow(found.plan)
	}
	return b.s.obstructed
}

// free searches from a plan to begin with.
func (b *bench) free(start plan, trials int) best {
	found := b.quick(start)
	if trials > quickTrials {
		found = b.search(found, trials)
	}
	return found
}

// quick searches for as long as the quick form may.
func (b *bench) quick(start plan) best {
	found := b.improve(start, quickTrials, hot, firstSeed)
	for k := 0; k < quickRounds && !b.fits(found.plan) && b.near(); k++ {
		if more := b.improve(found.plan, quickTrials, hot, random(thirdSeed+k)); more.cost < found.cost {
			found = more
		}
	}
	return found
}

// search betters what the quick form found: from several plans to begin with a
// little, from the best of them on for long.
func (b *bench) search(found best, trials int) best {
	if b.hopeless(found) {
		trials /= 4
	}
	for k := 0; k < goodStarts; k++ {
		start := b.tally.begin(b.counts(goodCounts), 2+6*(k%3), random(firstSeed+k*seedStep))
		if more := b.improve(start, trials/(2*goodStarts), hot, secondSeed); more.cost < found.cost {
			found = more
		}
	}
	for k := 0; k < goodRounds; k++ {
		if more := b.improve(found.plan, trials/2, hot, random(thirdSeed+k*seedStep)); more.cost < found.cost {
			found = more
		}
		if b.allFits(found.plan) {
			break
		}
	}
	return found
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
