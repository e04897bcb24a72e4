// Every sheet, looked at from outside: by its SVG alone nothing touches what it
// must not, and nothing is missing.
package main

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strake/lang"
	"strake/layout"
)

// fromOutside draws a craft and says everything that an outsider finds wrong.
func fromOutside(t testing.TB, r lang.Result, effort layout.Effort) (wrong []string, crossings, bends int) {
	t.Helper()
	var views []*sheetView
	drawn := tally{}
	for i, text := range pages(t, r, effort) {
		raw, err := readSheet(text)
		require.NoError(t, err)
		v := viewSheet(raw)
		report := inspect(v)
		for _, f := range report.faults {
			wrong = append(wrong, fmt.Sprintf("sheet %d: %s", i+1, f))
		}
		crossings, bends = crossings+report.crossings, bends+report.bends
		v.count(drawn)
		views = append(views, v)
	}
	lost, _ := wrongFlags(views)
	wrong = append(append(wrong, lost...), miscounted(wanted(t, r), drawn)...)
	return append(wrong, unnamed(r, views)...), crossings, bends
}

// generated is the craft of a seed, 25 to 80 items.
func generated(seed uint64) string { return randomCraft(seed, 25+int(seed*11%56)) }

// Seeds that were looked at while the drawing was tuned, and others that were not.
const (
	tuningSeeds, firstAcceptance, lastAcceptance = 50, 1001, 1010
)

func TestSheetsOfExamples(t *testing.T) {
	texts := exampleTexts(t)
	for _, name := range sortedNames(texts) {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			r := compile(name, texts[name])
			require.False(t, hasError(r.Findings))
			for effort, said := range map[layout.Effort]string{layout.Quick: "quick", layout.Good: "good"} {
				if testing.Short() && effort == layout.Good {
					continue
				}
				wrong, crossings, bends := fromOutside(t, r, effort)
				assert.Empty(t, strings.Join(wrong, "\n"), said)
				t.Logf("%s: %d crossings, %d bends", said, crossings, bends)
			}
		})
	}
}

func TestSheetsOfGeneratedCraft(t *testing.T) {
	clean, crossings, bends := 0, 0, 0
	seeds := []uint64{}
	for seed := uint64(1); seed <= tuningSeeds; seed++ {
		seeds = append(seeds, seed)
	}
	for seed := uint64(firstAcceptance); seed <= lastAcceptance; seed++ {
		seeds = append(seeds, seed)
	}
	if testing.Short() {
		seeds = seeds[:6]
	}
	for _, seed := range seeds {
		r := compile("generated.strake", generated(seed))
		require.False(t, hasError(r.Findings), "seed %d", seed)
		wrong, c, b := fromOutside(t, r, layout.Quick)
		assert.Empty(t, strings.Join(wrong, "\n"), "seed %d", seed)
		if len(wrong) == 0 {
			clean++
		}
		crossings, bends = crossings+c, bends+b
	}
	t.Logf("%d of %d craft without a fault; %d crossings, %d bends", clean, len(seeds), crossings, bends)
}
