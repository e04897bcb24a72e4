package layout_test

import (
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
