package resolve

import (
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strake/lang/circuit"
	"strake/lang/diag"
	"strake/lang/source"
	"strake/lang/syntax"
)

// resolveText is the system and all findings of a text; further texts are files of parts.
func resolveText(texts ...string) (*circuit.System, []diag.Finding) {
	var files []*syntax.File
	var findings []diag.Finding
	for i, text := range texts {
		name := "craft.strake"
		if i > 0 {
			name = "shelf.strake"
		}
		tree, more := syntax.Parse(source.NewFile(name, text))
		files, findings = append(files, tree), append(findings, more...)
	}
	sys, more := Resolve(files)
	findings = append(findings, more...)
	diag.Sort(findings)
	return sys, findings
}

// clean is the system of a text that has no finding at advice or above.
func clean(t *testing.T, text string) *circuit.System {
	t.Helper()
	sys, findings := resolveText(text)
	require.Empty(t, findings, "%s", diag.Text(findings, diag.Summary{}, diag.Options{}))
	return sys
}

func TestEveryFindingHasItsExamples(t *testing.T) {
	seen := map[string]bool{}
	for _, info := range Findings {
		t.Run(info.Rule, func(t *testing.T) {
			assert.False(t, seen[info.Rule], "the name is taken")
			seen[info.Rule] = true
			assert.NotEmpty(t, info.Why)
			assert.Equal(t, strings.ToLower(info.Title[:1]), info.Title[:1])
			assert.False(t, strings.HasSuffix(info.Title, "."))
			bad := []string{info.Bad}
			if strings.HasPrefix(info.Bad, "use ") {
				bad = append(bad, "battery B9: 12 V\n")
			}
			_, findings := resolveText(bad...)
			require.NotEmpty(t, findings)
			for _, f := range findings {
				assert.Equal(t, info.Rule, f.Rule, "%s", f.Message)
				assert.NotEmpty(t, f.Cure, "%s", f.Message)
				assert.NotEmpty(t, f.Message)
				assert.False(t, f.Span.IsZero())
			}
			assert.Len(t, findings, 1, "one cause, one message")
			_, findings = resolveText(info.Good)
			assert.Empty(t, findings, "%s", diag.Text(findings, diag.Summary{}, diag.Options{}))
		})
	}
}

// apply makes the edits of a finding.
func apply(text string, edits []diag.Edit) string {
	sorted := slices.Clone(edits)
	slices.SortFunc(sorted, func(a, b diag.Edit) int { return b.Span.Start - a.Span.Start })
	for _, e := range sorted {
		text = text[:e.Span.Start] + e.New + text[e.Span.End:]
	}
	return text
}

// A cure that is an edit cures: the text then has no finding of the rule.
func TestEditsCure(t *testing.T) {
	slips := []string{
		"fuse F1: 10 A class t\n",
		"fuse F1: 10 A, class blde\n",
		"fuse F1: 10 A, 2 poles\n",
		"fuse F1: 10 A, braeks 10 kA\n",
		"place hold: 40 deg\nlamp L1 at hold\n",
		"motor M1: 8 kW, 230 A for 3 minutes\n",
		"domain house: dc 12 V, 10 V to 15 V\nlamp L1 in huose\nlamp L2 in house\n",
		"array PV1: 400 W, isc 13.8 A, 3 in seris\n",
		"array PV1: 200 W, voc 24 V, voc 0.28 %/K, isc 3 A\n",
		"array PV1: 200 W, voc 24 V, voc about 110 mV/K, isc 3 A\n",
		"battery B1: 12 V\nisolator Q1: 100 A\nlamp L1\nrun B1 [1 m] Q1\nrun Q1.out [1 m] L1\n",
		"battery B1: 12 V\nisolator Q1: 100 A\nlamp L1\nrun B1 [1 m] Q1.in\nrun Q1 [1 m] L1\n",
		"inverter INV1: 2 kVA, neutral earthed\npanel P1\nsignal P1 [1 m] starts INV1.enabl\n",
		"inverter-charger INV1: 2 kVA, neutral earthed when invrting\n",
		"craft \"A\" {\n    hull alumnium\n}\n",
		"craft \"A\" {\n    revison B\n}\n",
		"motor M1: 1 kW\ncondition \"Under way\": M1 60 %\nday \"June\": \"Under wey\" 3 h\n",
		"battery B1: 12 V\nmeasured B1: voltge 12.6 V\n",
		"battery HOUSE1: 12 V\nlamp L1\nrun HUOSE1 [1 m] L1\n",
	}
	for _, info := range Findings {
		slips = append(slips, info.Bad)
	}
	cured := 0
	for _, text := range slips {
		_, findings := resolveText(text)
		for _, f := range findings {
			if len(f.Edits) == 0 {
				continue
			}
			cured++
			after := apply(text, f.Edits)
			_, left := resolveText(after)
			for _, g := range left {
				assert.NotEqual(t, f.Rule, g.Rule, "%s became %s: %s", text, after, g.Message)
			}
		}
	}
	assert.Greater(t, cured, len(slips)/3)
	for _, text := range slips[:17] {
		_, findings := resolveText(text)
		require.NotEmpty(t, findings, text)
		assert.NotEmpty(t, findings[0].Edits, "%s: %s", text, findings[0].Message)
	}
}

// Two boards whose rows are equal have each its own finding of a way too many.
func TestAWayTooManyIsToldOfItsBoard(t *testing.T) {
	text := "domain house: dc 12 V, 10.5 V to 14.6 V\nplace locker: 40 degC\n"
	for _, ref := range []string{"DB1", "DB2"} {
		text += "board " + ref + " in house at locker: 50 A {\n    ways 1..2 is fuse: class blade, 32 V\n    way 3 5 A \"Lamp\" 10 W [3 m]\n    way 4 5 A \"Fan\" 10 W [3 m]\n}\n"
	}
	_, findings := resolveText(text)
	var lines []int
	for _, f := range findings {
		if f.Rule == "no-such-way" {
			lines = append(lines, f.Span.From().Line)
			assert.Contains(t, f.Cure, "ways 1..4", "both of its ways are named")
		}
	}
	assert.Equal(t, []int{5, 10}, lines)
}
