package layout

import "testing"

// BenchGraph is set by the tests' generator.
var BenchGraph func(size string) Graph

// BenchmarkPhases measures each phase by itself.
func BenchmarkPhases(b *testing.B) {
	f := Field{39000, 23500, nil}
	for _, size := range []string{"S", "M", "H", "L"} {
		g := BenchGraph(size)
		r := reduce(g)
		ch := chooseTurns(g, r, f)
		a := arrange(g, turn(g, r, ch))
		a.alignWithin(f.Height)
		k := newBench(g, &a, f)
		p := k.tally.begin(quickCounts, steepest, firstSeed)
		phase := func(name string, run func()) {
			b.Run(size+"/"+name, func(b *testing.B) {
				for b.Loop() {
					run()
				}
			})
		}
		phase("reduce", func() { reduce(g) })
		phase("turns", func() { chooseTurns(g, r, f) })
		phase("arrange", func() { arrange(g, turn(g, r, ch)) })
		phase("heights", func() { k.lower(p.drop) })
		phase("count", func() { k.tally.count(p, endless) })
		phase("judge", func() { k.tally.judge(p, endless) })
		phase("begin", func() { k.tally.begin(quickCounts, steepest, firstSeed) })
		phase("trial", func() { k.follow(p); k.cost(endless) })
		phase("finish", func() { k.follow(p); finish(g, k, f) })
	}
}
