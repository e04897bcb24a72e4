// A craft of any size is drawn on sheets of the paper that was asked for.
package main

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strake/lang"
	"strake/lang/diag"
	"strake/lang/resolve"
	"strake/lang/size"
	"strake/lang/source"
	"strake/lang/syntax"
	"strake/layout"
)

// unsized is a generated craft as it is read: what is drawn of thousands of
// items needs no sizes, which take longer than the drawing.
func unsized(t testing.TB, seed uint64, items int) lang.Result {
	t.Helper()
	tree, findings := syntax.Parse(source.NewFile("large.strake", randomCraft(seed, items)))
	require.Empty(t, findings)
	system, _ := resolve.Resolve([]*syntax.File{tree})
	return lang.Result{System: system, Plan: &size.Plan{}, Summary: diag.Summary{RuleSet: system.Craft.Rules}}
}

func TestCraftOfAnySize(t *testing.T) {
	for _, items := range []int{120, 240} {
		r := compile("large.strake", randomCraft(1, items))
		wrong, _, _ := fromOutside(t, r, layout.Quick)
		assert.Empty(t, strings.Join(wrong, "\n"), items)
	}
	sizes := []int{240, 5000}
	if testing.Short() {
		sizes = sizes[:1]
	}
	for _, items := range sizes {
		views := viewsOf(t, unsized(t, 2, items), layout.Quick)
		wrong, _ := wrongFlags(views)
		for i, v := range views {
			assert.Equal(t, rect{0, 0, 420, 297}, v.paper, "%d items, sheet %d", items, i+1)
			for _, f := range inspect(v).faults {
				wrong = append(wrong, fmt.Sprintf("sheet %d: %s", i+1, f))
			}
		}
		assert.Empty(t, strings.Join(wrong, "\n"), items)
		assert.Greater(t, len(views), 3, items)
	}
}

func BenchmarkCraftOf5000Items(b *testing.B) {
	r := unsized(b, 1, 5000)
	for b.Loop() {
		b.ReportMetric(float64(len(pages(b, r, layout.Quick))), "sheets")
	}
}
