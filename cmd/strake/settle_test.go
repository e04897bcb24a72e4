package main

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strake/lang"
	"strake/lang/diag"
	"strake/layout"
)

// sizes lists every size and rating of a craft, stated or chosen.
func sizes(r lang.Result) []string {
	var list []string
	for _, c := range r.Plan.Cables {
		if !c.Of.Link {
			list = append(list, fmt.Sprintf("%s %v %d", c.Of.ID, c.Area, max(1, c.Parallel)))
		}
	}
	for _, d := range r.Plan.Devices {
		list = append(list, fmt.Sprintf("%s %v", d.Of.Ref, d.Rating))
	}
	return list
}

// What settle writes down is what the compiler chose: the settled text means
// the same craft and leaves nothing open.
func TestSettle(t *testing.T) {
	texts := exampleTexts(t)
	seeds := uint64(12)
	if testing.Short() {
		seeds = 4
	}
	for seed := uint64(1); seed <= seeds; seed++ {
		texts[fmt.Sprintf("generated %d", seed)] = randomCraft(seed, 40)
	}
	written := 0
	for _, name := range sortedNames(texts) {
		before := compile(name, texts[name])
		require.False(t, before.HasErrors(), name)
		settled, _ := settledText(name, texts[name], before, layout.Quick)
		written += strings.Count(settled, "\n") - strings.Count(texts[name], "\n")
		after := compile(name, settled)
		require.Empty(t, only(after.Findings, diag.Error), name)
		assert.Equal(t, sizes(before), sizes(after), name)
		assert.Empty(t, settleEdits(after, layout.Quick), "%s: settling twice writes nothing more", name)
		assert.Zero(t, after.Summary.Proposed, name)
		said := map[string]bool{}
		for _, f := range before.Findings {
			said[f.Rule+" "+strings.Join(f.Items, " ")] = true
		}
		for _, f := range after.Findings {
			assert.True(t, f.Severity > diag.Fault || said[f.Rule+" "+strings.Join(f.Items, " ")], "%s, settled: %s: %s", name, f.Rule, f.Message)
		}
	}
	assert.Greater(t, written, 20, "the generated craft leave sizes open")
}
