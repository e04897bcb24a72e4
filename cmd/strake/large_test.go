// A craft of any size is drawn on sheets of the paper that was asked for.
package main

import (
	"fmt"
	"regexp"
	"strconv"
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

// unsized is a generated craft as it is read: how thousands of items are laid out
// and divided rests on no sizes.
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

// The sizes whose time is measured.
var measured = []int{80, 240, 1000, 5000}

// BenchmarkCompile reads, sizes and judges craft of several sizes.
func BenchmarkCompile(b *testing.B) {
	for _, items := range measured {
		text := randomCraft(1, items)
		b.Run(fmt.Sprint(items), func(b *testing.B) {
			for b.Loop() {
				compile("large.strake", text)
			}
		})
	}
}

// BenchmarkDrawQuickly compiles craft of several sizes and draws them in the quick
// form, to the last byte.
func BenchmarkDrawQuickly(b *testing.B) {
	for _, items := range measured {
		text := randomCraft(1, items)
		b.Run(fmt.Sprint(items), func(b *testing.B) {
			for b.Loop() {
				b.ReportMetric(float64(len(pages(b, compile("large.strake", text), layout.Quick))), "sheets")
			}
		})
	}
}

var drawnOn = regexp.MustCompile(`^sheet (\d+), ([A-Z])(\d+)$`)

// TestOverviewTellsWhereThingsStand reads the overview alone: the first name in
// each of its boxes stands in the field that the box tells.
func TestOverviewTellsWhereThingsStand(t *testing.T) {
	views := viewsOf(t, unsized(t, 1, 120), layout.Quick)
	names, told := "", 0
	for _, text := range views[0].texts {
		if text.in.around("overview") == nil {
			continue
		}
		m := drawnOn.FindStringSubmatch(text.body)
		if m == nil {
			if names == "" {
				names = text.body
			}
			continue
		}
		n, _ := strconv.Atoi(m[1])
		ref := strings.Fields(names)[0]
		names = ""
		require.True(t, n > 1 && n <= len(views), "%s on sheet %d", ref, n)
		assert.True(t, standsIn(views[n-1], ref, m[2], m[3]), "%s does not stand in %s", ref, text.body)
		told++
	}
	assert.Greater(t, told, 10)
	assert.False(t, standsIn(views[1], "PBP", "F", "8"))
}

// standsIn tells whether a thing or a bar has a corner in a field.
func standsIn(v *sheetView, ref, letter, number string) bool {
	var boxes []rect
	for _, d := range v.devices {
		if d.item == ref && !d.is("flag") {
			boxes = append(boxes, d.box)
		}
	}
	for _, b := range v.bars {
		if b.item == ref {
			for _, k := range b.shapes {
				boxes = append(boxes, k.box)
			}
		}
	}
	for _, t := range v.texts { // of a bank only the name is its own, the rest its packs'
		if t.item == ref && !t.in.is("flag") {
			boxes = append(boxes, t.box)
		}
	}
	for _, b := range boxes {
		middle := point{(b.x0 + b.x1) / 2, (b.y0 + b.y1) / 2}
		for _, p := range []point{{b.x0, b.y0}, {b.x1, b.y0}, {b.x0, b.y1}, {b.x1, b.y1}, middle} {
			if gridField(v, letter, number, p) {
				return true
			}
		}
	}
	return false
}
