package syntax

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/txtar"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strake/lang/diag"
	"strake/lang/source"
)

var update = flag.Bool("update", false, "write the expected outputs anew")

// Each corpus file has texts (NAME.strake) and what comes of them: NAME.tree,
// NAME.findings, NAME.tidy. Those that are there are held against what comes.
func TestCorpus(t *testing.T) {
	paths, err := filepath.Glob("testdata/*.txtar")
	require.NoError(t, err)
	require.NotEmpty(t, paths)
	for _, path := range paths {
		archive, err := txtar.ParseFile(path)
		require.NoError(t, err)
		texts := map[string]string{}
		for i := range archive.Files {
			f := &archive.Files[i]
			name, kind, _ := strings.Cut(f.Name, ".")
			if kind == "strake" {
				texts[name] = string(f.Data)
				continue
			}
			t.Run(filepath.Base(path)+"/"+f.Name, func(t *testing.T) {
				text, ok := texts[name]
				require.True(t, ok, "no text for %s", f.Name)
				got := product(t, kind, name, text)
				if *update {
					f.Data = []byte(got)
				}
				assert.Equal(t, string(f.Data), got)
			})
		}
		if *update {
			require.NoError(t, os.WriteFile(path, txtar.Format(archive), 0o644))
		}
	}
}

func product(t *testing.T, kind, name, text string) string {
	file := source.NewFile(name+".strake", text)
	tree, findings := Parse(file)
	assertSpans(t, tree)
	switch kind {
	case "tree":
		return dump(tree)
	case "findings":
		var b strings.Builder
		for _, f := range findings {
			fmt.Fprintf(&b, "%d:%d %s: %s\n    %q\n    cure: %s\n", f.Span.From().Line, f.Span.From().Column, f.Rule, f.Message, f.Span.Text(), f.Cure)
			if len(f.Edits) > 0 {
				fmt.Fprintf(&b, "    gives: %s\n", strings.Join(changedRows(text, apply(text, f.Edits)), " / "))
			}
		}
		return b.String()
	case "tidy":
		tidy, _ := Tidy(file)
		return tidy
	}
	require.Fail(t, "unknown kind of section", kind)
	return ""
}

func apply(text string, edits []diag.Edit) string {
	for i := len(edits) - 1; i >= 0; i-- {
		text = text[:edits[i].Span.Start] + edits[i].New + text[edits[i].Span.End:]
	}
	return text
}

func changedRows(before, after string) []string {
	old := map[string]bool{}
	for _, row := range strings.Split(before, "\n") {
		old[row] = true
	}
	var out []string
	for _, row := range strings.Split(after, "\n") {
		if !old[row] {
			out = append(out, strings.TrimSpace(row))
		}
	}
	return out
}

// The examples that `explain` prints show what they say.
func TestFindingsShowThemselves(t *testing.T) {
	seen := map[string]bool{}
	for _, info := range Findings {
		t.Run(info.Rule, func(t *testing.T) {
			assert.False(t, seen[info.Rule], "twice")
			seen[info.Rule] = true
			assert.NotEmpty(t, info.Why)
			assert.LessOrEqual(t, len(info.Title), 60)
			assert.Equal(t, diag.Error, info.Severity)
			_, bad := Parse(source.NewFile("bad.strake", info.Bad))
			var rules []string
			for _, f := range bad {
				rules = append(rules, f.Rule)
				assert.NotEmpty(t, f.Cure)
			}
			if info.Rule == InfoMore.Rule {
				assert.Equal(t, info.Rule, rules[len(rules)-1])
				return
			}
			assert.Equal(t, []string{info.Rule}, rules)
			_, good := Parse(source.NewFile("good.strake", info.Good))
			assert.Empty(t, good)
			if len(bad) == 1 && len(bad[0].Edits) > 0 {
				_, cured := Parse(source.NewFile("cured.strake", apply(info.Bad, bad[0].Edits)))
				assert.Empty(t, cured, "the cure as edits")
			}
		})
	}
}
