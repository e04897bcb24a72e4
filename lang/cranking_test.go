package lang_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strake/lang/diag"
)

// ABYC E-11 table V-A as printed: two batteries of 700 CCA are 1400 CCA, a main
// device breaks 5 kA at least and a branch 2.5 kA.
func TestBreakingByCrankingCurrent(t *testing.T) {
	craft := func(rules, main, branch string) string {
		return "craft \"Small boat\" {\n    rules " + rules + "\n    cable class 5, tinned, 105 degC, free\n}\n" + `domain house: dc 12 V, 10.5 V to 16 V
place locker "Locker": 30 degC
battery B1..B2 in house at locker: agm, 12 V, 100 Ah, cca 700 A
run B1..B2 [0.1 m awg 1] fuse F1..F2 at locker: 100 A, class t, 125 V, breaks ` + main + ` [link] bus PB at locker: 250 A
run PB [link] fuse F3 at locker: 30 A, class t, 125 V, breaks ` + branch + ` [2 m awg 6] pump P1 at locker: 60 W
`
	}
	assert.Empty(t, judged(craft("abyc-e11", "5 kA", "2.5 kA"), "breaking-capacity-too-low"))
	found := judged(craft("abyc-e11", "5 kA", "2.4 kA"), "breaking-capacity-too-low")
	require.Len(t, found, 1)
	assert.Equal(t, "F3", found[0].Items[0])
	assert.Equal(t, diag.Danger, found[0].Severity)
	assert.Contains(t, found[0].Message, "2.5 kA")
	assert.Len(t, judged(craft("abyc-e11", "4.9 kA", "2.5 kA"), "breaking-capacity-too-low"), 1)
	for _, f := range judged(craft("iso-13297", "5 kA", "2.5 kA"), "breaking-capacity-too-low") {
		assert.Equal(t, diag.NotVerified, f.Severity, "the American table answers for the American set alone")
	}
}
