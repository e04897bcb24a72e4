package lang_test

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strake/lang"
	"strake/lang/diag"
)

var (
	sizes   = regexp.MustCompile(`(\[[^\]\n]*?) ?(\d+ parallel )?[\d.]+ mm2`)
	ratings = regexp.MustCompile(`((?:fuse|class-t|dc-breaker|ac-breaker|breaker|rcbo) [A-Z]\w*(?: "[^"\n]*")?(?: in \w+)?(?: at [\w-]+)?): [\d.]+ A(, |)`)
)

// What the compiler chooses is not accused by its own rules: the example craft
// with every size, with every rating of a fuse, and with both taken out, and once
// more when what was chosen has been written down. A pack that gives
// 100 A is not the compiler's to choose; how packs share hangs on their leads.
func TestChoicesAreSound(t *testing.T) {
	names, err := filepath.Glob(filepath.Join("..", "examples", "*.strake"))
	require.NoError(t, err)
	for _, name := range names {
		if strings.HasSuffix(name, "-mistakes.strake") {
			continue
		}
		text, err := os.ReadFile(name)
		require.NoError(t, err)
		bare := sizes.ReplaceAllString(string(text), "$1")
		assert.NotEqual(t, string(text), bare, name)
		for _, craft := range []string{bare, unrated(bare), unrated(string(text))} {
			r := lang.Compile(nil, name, craft)
			sound(t, name, r)
			assert.Positive(t, r.Summary.Proposed, name)
			settled := lang.Compile(nil, name, lang.Apply(craft, lang.Settle(r, nil)))
			sound(t, name+", settled", settled)
			assert.Zero(t, settled.Summary.Proposed, name)
		}
	}
}

// unrated is a text without the ratings of its fuses and breakers.
func unrated(text string) string {
	return ratings.ReplaceAllStringFunc(text, func(head string) string {
		m := ratings.FindStringSubmatch(head)
		if m[2] == "" {
			return m[1]
		}
		return m[1] + ": "
	})
}

func sound(t *testing.T, name string, r lang.Result) {
	t.Helper()
	for _, f := range r.Findings {
		if f.Severity <= diag.Fault && f.Rule != "battery-overdrawn" {
			assert.Fail(t, f.Message, "%s: %s", name, f.Rule)
		}
	}
}
