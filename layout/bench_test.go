package layout_test

import (
	"fmt"
	"testing"

	"strake/layout"
)

func BenchmarkLayout(b *testing.B) {
	for _, size := range []string{"S", "M", "H", "L"} {
		g := sizes[size](3)
		for _, effort := range []layout.Effort{layout.Quick, layout.Good} {
			b.Run(size+map[layout.Effort]string{layout.Quick: "/quick", layout.Good: "/good"}[effort], func(b *testing.B) {
				for b.Loop() {
					layout.Layout(g, fields[size], effort)
				}
			})
		}
	}
}

// BenchmarkGrowth tells how the time grows with the number of items.
func BenchmarkGrowth(b *testing.B) {
	for _, items := range []int{25, 80, 300, 820, 5000} {
		g := large[items](1)
		for _, effort := range []layout.Effort{layout.Quick, layout.Good} {
			b.Run(fmt.Sprint(items, map[layout.Effort]string{layout.Quick: "/quick", layout.Good: "/good"}[effort]), func(b *testing.B) {
				for b.Loop() {
					layout.Layout(g, fieldOf(items), effort)
				}
			})
		}
	}
}
