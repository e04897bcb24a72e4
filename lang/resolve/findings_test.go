package resolve

import (
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
