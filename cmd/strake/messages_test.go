// Recorded messages: each mistake of the corpus, what is said of it, and its cure.
package main

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"sort"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/txtar"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strake/lang/diag"
)

var update = flag.Bool("update", false, "write the recorded outputs anew")

// mistake is one section of the corpus.
type mistake struct{ was, now, cure, said string }

func parseMistake(t *testing.T, section string) mistake {
	parts := map[string]string{}
	key := ""
	for _, line := range strings.SplitAfter(section, "\n") {
		for _, k := range []string{"was:", "now:", "cure:", "said:"} {
			if rest, found := strings.CutPrefix(line, k); found {
				key, line = k, strings.TrimPrefix(strings.TrimPrefix(rest, strings.Repeat(" ", 6-len(k))), "\n")
				break
			}
		}
		require.True(t, key != "" || strings.TrimSpace(line) == "", "a section begins with was:")
		parts[key] += line
	}
	trim := func(k string) string { return strings.TrimSuffix(parts[k], "\n") }
	return mistake{trim("was:"), trim("now:"), trim("cure:"), parts["said:"]}
}

func (m mistake) String() string {
	return fmt.Sprintf("was:  %s\nnow:  %s\ncure: %s\nsaid:\n%s", m.was, m.now, m.cure, m.said)
}

func TestMessages(t *testing.T) {
	path := filepath.Join("..", "..", "testdata", "messages.txtar")
	corpus, err := txtar.ParseFile(path)
	require.NoError(t, err)
	craft := string(corpus.Files[0].Data)
	for _, f := range compile("boat.strake", craft).Findings {
		require.NotEqual(t, diag.Error, f.Severity, "the craft itself is sound: %s", f.Message)
	}
	require.GreaterOrEqual(t, len(corpus.Files)-1, 50)
	for i := range corpus.Files[1:] {
		file := &corpus.Files[i+1]
		t.Run(file.Name, func(t *testing.T) {
			m := parseMistake(t, string(file.Data))
			require.Contains(t, craft, m.was)
			text := strings.Replace(craft, m.was, m.now, 1)
			result := compile("boat.strake", text)
			errs := only(result.Findings, diag.Error)
			require.NotEmpty(t, errs, "the mistake is an error")
			said := diag.Text(errs, diag.Summary{}, diag.Options{})
			if *update {
				m.said = said
				file.Data = []byte(m.String())
			} else {
				assert.Equal(t, m.said, said)
			}
			for _, f := range errs {
				assert.NotEmpty(t, f.Cure, "%s: %s", f.Rule, f.Message)
			}
			cured := compile("boat.strake", strings.Replace(text, m.now, m.cure, 1))
			assert.Empty(t, only(cured.Findings, diag.Error), "the cure, applied")
			if edited, can := applied(text, errs); can {
				assert.Empty(t, only(compile("boat.strake", edited).Findings, diag.Error), "the finding's own edits give:\n%s", edited)
			}
		})
	}
	if *update {
		require.NoError(t, os.WriteFile(path, txtar.Format(corpus), 0o644))
	}
}

func only(findings []diag.Finding, severity diag.Severity) []diag.Finding {
	var out []diag.Finding
	for _, f := range findings {
		if f.Severity == severity {
			out = append(out, f)
		}
	}
	return out
}

// applied makes the edits of all findings, if each finding has some.
func applied(text string, findings []diag.Finding) (string, bool) {
	var edits []diag.Edit
	for _, f := range findings {
		if len(f.Edits) == 0 {
			return "", false
		}
		edits = append(edits, f.Edits...)
	}
	sort.SliceStable(edits, func(i, j int) bool { return edits[i].Span.Start > edits[j].Span.Start })
	for _, e := range edits {
		text = text[:e.Span.Start] + e.New + text[e.Span.End:]
	}
	return text, true
}
