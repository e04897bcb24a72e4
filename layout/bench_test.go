package layout_test

import (
	"testing"

	"strake/layout"
)

func BenchmarkLayout(b *testing.B) {
	for _, size := range []string{"S", "M", "H", "L"} {
		g := sizes[size](3)
		for name, effort := range map[string]layout.Effort{"quick": layout.Quick, "good": layout.Good} {
			b.Run(size+"/"+name, func(b *testing.B) {
				for b.Loop() {
					layout.Layout(g, a3, effort)
				}
			})
		}
	}
}
