// README.md tells the truth: its verbs exist, its first file and what may follow compile
// without a finding at fault, its picture is the drawing of today.
package main

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strake/layout"
)

func readme(t *testing.T) string {
	t.Helper()
	text, err := os.ReadFile(filepath.Join("..", "..", "README.md"))
	require.NoError(t, err)
	return string(text)
}

func TestReadmeVerbs(t *testing.T) {
	var help strings.Builder
	require.Equal(t, exitClean, run([]string{"--help"}, strings.NewReader(""), &help, &help))
	named := regexp.MustCompile("(?m)^\\| `strake ([a-z]+)").FindAllStringSubmatch(readme(t), -1)
	require.Greater(t, len(named), 4)
	for _, m := range named {
		assert.Regexp(t, `(?m)^\s+`+m[1]+`\b`, help.String(), "the verb %s of README.md", m[1])
	}
	for _, m := range regexp.MustCompile(`(?m)^  ([a-z]+) `).FindAllStringSubmatch(help.String(), -1) {
		assert.Contains(t, readme(t), "`strake "+m[1], "the verb %s stands in README.md", m[1])
	}
}

func TestReadmeFirstFile(t *testing.T) {
	blocks := regexp.MustCompile("(?s)```strake\n(.*?)```").FindAllStringSubmatch(readme(t), -1)
	require.Len(t, blocks, 2, "a first file, and what may follow it")
	assert.LessOrEqual(t, strings.Count(blocks[0][1], "\n"), 10, "a ten-line first file")
	for _, text := range []string{blocks[0][1], blocks[0][1] + blocks[1][1]} {
		r := compile("first.strake", text)
		assert.False(t, r.HasErrors())
		assert.Empty(t, atOrAboveFault(r.Findings))
	}
}

func TestReadmePicture(t *testing.T) {
	if testing.Short() {
		t.Skip("a picture in good form")
	}
	const name = "bodkinet"
	path := filepath.Join("..", "..", "examples", name+".svg")
	sheets := pages(t, compile("examples/"+name+".strake", exampleTexts(t)[name+".strake"]), layout.Good)
	require.Len(t, sheets, 1, "the small craft stands on one sheet")
	if *update {
		require.NoError(t, os.WriteFile(path, []byte(sheets[0]), 0o644))
	}
	picture, err := os.ReadFile(path)
	require.NoError(t, err)
	assert.True(t, sheets[0] == string(picture), "examples/%s.svg is not what is drawn today: go test ./cmd/strake -run Picture -update", name)
}
