package diag_test

import (
	"flag"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strake/lang/diag"
	"strake/lang/source"
)

var update = flag.Bool("update", false, "write the expected outputs anew")

func spanOf(f *source.File, text string) source.Span {
	i := strings.Index(f.Text, text)
	return source.Span{File: f, Start: i, End: i + len(text)}
}

func sample() ([]diag.Finding, diag.Summary) {
	f := source.NewFile("craft.strake", "domain house: dc 12 V\n\trun PB [4.2 m]\tfuse F5: 400 A\n"+
		"board DB1 \"配電盤 é\" {\n    way 1\n}\nlamp \x1b[31mL1\n"+strings.Repeat("x", 90)+" here "+strings.Repeat("y", 90)+"\n")
	other := source.NewFile("shelf.strake", "part pump-x is pump: 12 V\n")
	return []diag.Finding{
		{
			Rule: "fuse-beyond-cable", Severity: diag.Danger, Span: spanOf(f, "400 A"),
			Message: "fuse F5 of 400 A lets cable PB-F5 carry more than its 251 A",
			Related: []diag.Related{{Span: spanOf(f, "[4.2 m]"), Message: "the cable"}, {Span: spanOf(other, "pump-x"), Message: "a part of another file"}},
			Items:   []string{"F5", "PB-F5"}, Source: "ISO 13297:2020, table A.1", Configuration: "as-handed-over",
			Cure: "95 mm² would do; so would a 250 A fuse",
		},
		{Rule: "two-widths", Severity: diag.Fault, Span: spanOf(f, "é\" {"), Message: "a span behind wide letters", Source: "common practice"},
		{Rule: "over-rows", Severity: diag.Advice, Span: spanOf(f, "{\n    way 1\n}"), Message: "a span over rows", Accepted: "JM: seen and agreed"},
		{Rule: "hostile", Severity: diag.Error, Span: spanOf(f, "L1"), Message: "a control \x1b[31m character does nothing", Cure: "take it out"},
		{Rule: "long-row", Severity: diag.NotVerified, Span: spanOf(f, "here"), Message: "a row that is wider than the terminal", Missing: "the length of the cable"},
		{Rule: "nowhere", Severity: diag.NotVerified, Message: "it stands nowhere"},
	}, diag.Summary{RuleSet: "iso-13297", Rules: 31, Passed: 212, Failed: 3, Danger: 1, Accepted: 1, NotVerified: 9, Proposed: 4}
}

func golden(t *testing.T, name, got string) {
	t.Helper()
	path := "testdata/" + name
	if *update {
		require.NoError(t, os.MkdirAll("testdata", 0o755))
		require.NoError(t, os.WriteFile(path, []byte(got), 0o644))
	}
	want, err := os.ReadFile(path)
	require.NoError(t, err)
	assert.Equal(t, string(want), got)
}

func TestTextAsPrinted(t *testing.T) {
	findings, summary := sample()
	golden(t, "wide.txt", diag.Text(findings, summary, diag.Options{}))
	golden(t, "narrow.txt", diag.Text(findings, summary, diag.Options{Width: 60}))
	for _, row := range strings.Split(diag.Text(findings, summary, diag.Options{Width: 60}), "\n") {
		if !strings.HasPrefix(row, "Not checked") {
			assert.LessOrEqual(t, len([]rune(row)), 60, row)
		}
	}
}

func TestColourChangesNoText(t *testing.T) {
	findings, summary := sample()
	plain := diag.Text(findings, summary, diag.Options{Width: 70})
	coloured := diag.Text(findings, summary, diag.Options{Width: 70, Colour: true})
	assert.NotEqual(t, plain, coloured)
	assert.NotContains(t, plain, "\x1b")
	for _, code := range []string{"0", "1", "1;31", "1;33", "1;34", "1;35", "1;36"} {
		coloured = strings.ReplaceAll(coloured, "\x1b["+code+"m", "")
	}
	assert.Equal(t, plain, coloured)
}

func TestJSONAsPrinted(t *testing.T) {
	findings, summary := sample()
	got, err := diag.JSON(findings, summary)
	require.NoError(t, err)
	golden(t, "findings.json", string(got))
	empty, err := diag.JSON(nil, diag.Summary{})
	require.NoError(t, err)
	assert.Contains(t, string(empty), `"findings": []`)
}

func TestSARIFAsPrinted(t *testing.T) {
	findings, summary := sample()
	got, err := diag.SARIF(findings, summary)
	require.NoError(t, err)
	golden(t, "findings.sarif", string(got))
}
