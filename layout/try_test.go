package layout

import "testing"

// BenchGraph is set by the tests' generator.
var BenchGraph func(size string) Graph

func BenchmarkTry(b *testing.B) {
	for _, size := range []string{"S", "M", "H", "L"} {
		b.Run(size, func(b *testing.B) {
			g := BenchGraph(size)
			a := arrange(g, turn(g, reduce(g), defaultChoice(reduce(g))))
			k := newBench(g, &a, Field{39000, 18900, nil})
			seq := make([]int, len(a.units))
			for i := range seq {
				seq[i] = i
			}
			for b.Loop() {
				k.try(seq, 1<<40)
			}
		})
	}
}
