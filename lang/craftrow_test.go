package lang_test

import (
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strake/lang"
	"strake/lang/diag"
)

// A comma left at the end of a row of the craft is found on that row, whichever
// row follows: the words that begin a row are known to the cutter too.
func TestCommaAtTheEndOfACraftRow(t *testing.T) {
	said := lang.Compile(nil, "boat.strake", "craft \"X\" {\n    nonsense 1\n}\n").Findings[0].Message
	list := regexp.MustCompile(`it has (.*)$`).FindStringSubmatch(said)
	require.NotNil(t, list, said)
	rows := strings.Split(strings.ReplaceAll(list[1], " and ", ", "), ", ")
	require.Greater(t, len(rows), 10)
	for _, row := range rows {
		found := false
		for _, f := range lang.Compile(nil, "boat.strake", "craft \"X\" {\n    cable class 5,\n    "+row+" x\n}\n").Findings {
			found = found || f.Severity == diag.Error && f.Span.From().Line == 2
		}
		assert.True(t, found, "a comma before the row %s", row)
	}
}
