package lang_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"strake/lang"
	"strake/lang/diag"
	"strake/lang/rule"
)

// Every rule's wrong example breaks it; its right example is wrong in nothing.
func TestRuleExamples(t *testing.T) {
	for _, info := range rule.All() {
		t.Run(info.Rule, func(t *testing.T) {
			assert.NotEmpty(t, info.Why)
			assert.NotEmpty(t, info.Source)
			assert.NotEmpty(t, info.Bad, "a wrong example")
			assert.NotEmpty(t, info.Good, "a right example")
			found := false
			for _, f := range lang.Compile(nil, "bad.strake", info.Bad).Findings {
				assert.NotEqual(t, diag.Error, f.Severity, f.Message)
				found = found || f.Rule == info.Rule
			}
			assert.True(t, found, "its wrong example breaks it")
			for _, f := range lang.Compile(nil, "good.strake", info.Good).Findings {
				assert.Greater(t, f.Severity, diag.Advice, "%s: %s", f.Rule, f.Message)
				assert.NotEqual(t, info.Rule, f.Rule, f.Message)
			}
			assert.False(t, strings.Contains(info.Title, "."), "a title is no sentence")
		})
	}
}
