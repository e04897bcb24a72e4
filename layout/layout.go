package layout

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
		if trials > quickTrials { // never worse than the quick form
			if quick := b.quick(start); quick.cost < found.cost {
				found = quick
			}
		}
		if !b.hopeless(found) {
			if more := b.improve(found.plan, trials-trials/5, 2463534242); more.cost < found.cost {
				found = more
			}
			if trials > quickTrials && !b.fits(found.plan) && (b.fill() < easyFill || b.near()) {
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

// quick is what the quick form finds.
func (b *bench) quick(start plan) best {
	found := b.improve(start, quickTrials/5, 88172645463325252)
	if more := b.improve(found.plan, quickTrials-quickTrials/5, 2463534242); more.cost < found.cost {
		return more
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
