package lang_test

import (
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

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
	for _, name := range examples(t, "") {
		if strings.HasSuffix(name, "-mistakes.strake") {
			continue
		}
		text := read(t, name)
		bare := sizes.ReplaceAllString(text, "$1")
		assert.NotEqual(t, text, bare, name)
		for _, craft := range []string{bare, unrated(bare), unrated(text)} {
			r := lang.Compile(nil, name, craft)
			sound(t, name, r)
			assert.Positive(t, r.Summary.Proposed, name)
			settled := lang.Compile(nil, name, lang.Apply(craft, lang.Settle(r, nil, nil)))
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
