package lang

import (
	"errors"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strake/lang/diag"
)

// shelf is a loader over texts by their path.
func shelf(files map[string]string) Loader {
	return func(path string) (string, error) {
		text, ok := files[path]
		if !ok {
			return "", errors.New("no such file")
		}
		return text, nil
	}
}

func rulesOf(findings []diag.Finding) []string {
	var names []string
	for _, f := range findings {
		if f.Severity == diag.Error {
			names = append(names, f.Rule)
		}
	}
	return names
}

func TestCompileBringsPartsFromOtherFiles(t *testing.T) {
	load := shelf(map[string]string{
		"yard/parts/fuses.strake": "use \"more.strake\"\npart class-t is fuse: class t, 125 V, breaks 20 kA\n",
		"yard/parts/more.strake":  "use \"fuses.strake\"\npart pack is battery: lfp, 51.2 V, 100 Ah\n",
	})
	result := Compile(load, "yard/craft.strake", "use \"parts/fuses.strake\"\nclass-t F1: 125 A\npack B1\n")
	require.Empty(t, rulesOf(result.Findings))
	assert.Len(t, result.Files, 3, "two files that use each other are read once each")
	assert.Equal(t, "t", result.System.Item("F1").Facts.Class)
	assert.Equal(t, "lfp", result.System.Item("B1").Facts.Chemistry)
	require.NotNil(t, result.Plan)
}

func TestCompileTellsOfMistakesInEveryFile(t *testing.T) {
	load := shelf(map[string]string{"parts.strake": "part class-t is fuse: class q\nbattery B2: 12 V\n"})
	result := Compile(load, "craft.strake", "use \"parts.strake\"\nuse \"none.strake\"\nfuze F1: 10 A\n")
	assert.Equal(t, []string{"file-not-read", "unknown-kind", "unknown-value", "not-a-part"}, rulesOf(result.Findings))
	assert.True(t, result.HasErrors())
	assert.Equal(t, "parts.strake", result.Findings[2].Span.File.Name)
	assert.Empty(t, result.Plan.Cables, "what has no single meaning is not sized")
}

func TestCompileWithoutLoader(t *testing.T) {
	assert.Equal(t, []string{"file-not-read"}, rulesOf(Compile(nil, "craft.strake", "use \"parts.strake\"\n").Findings))
	empty := Compile(nil, "craft.strake", "")
	assert.Empty(t, rulesOf(empty.Findings))
	assert.Equal(t, "iso-13297", empty.Summary.RuleSet)
}

func TestFindingsHaveNamesOfTheirOwn(t *testing.T) {
	seen := map[string]bool{}
	for _, i := range Findings() {
		assert.Regexp(t, `^[a-z0-9]+(-[a-z0-9]+)*$`, i.Rule)
		assert.False(t, seen[i.Rule], i.Rule)
		seen[i.Rule] = true
		assert.NotEmpty(t, i.Title)
		assert.LessOrEqual(t, len(i.Title), 80, i.Rule)
		assert.NotEmpty(t, i.Why, i.Rule)
		assert.NotEmpty(t, i.Bad, i.Rule)
		assert.NotEmpty(t, i.Good, i.Rule)
	}
}
