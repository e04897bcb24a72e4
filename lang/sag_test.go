package lang_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strake/lang/diag"
)

// 460 W at 10.5 V are 43.8 A, but the drop on 2.6 m of 6 mm² leaves the load 9.4 V:
// there it takes 49 A, which a fuse of 45 A does not carry, nor a cable of 70 °C
// that holds 45 A.
func TestConstantPowerAtTheVoltageThatIsLeft(t *testing.T) {
	craft := func(fuse, cable string) string {
		return `craft "Small boat" { cable class 5, tinned, 105 degC, free }
domain house: dc 12 V, 10.5 V to 14.6 V
place locker "Locker": 30 degC
battery B1 in house at locker: lfp, 12.8 V, 200 Ah, resistance 3 mohm, discharge 200 A, charge 100 A, terminals 105 degC
run B1 [0.1 m 25 mm2] fuse F0 at locker: 100 A, class t, terminals 105 degC [0.2 m 25 mm2] isolator Q1 at locker: 150 A, 32 V, load-break [0.2 m 25 mm2] bus PB in house at locker: 200 A
run PB [link] fuse F1 at locker: ` + fuse + `, class t, terminals 105 degC [2.6 m ` + cable + `] load L1 at locker: 460 W, terminals 105 degC
condition "Low": L1 on, batteries low
`
	}
	thin := craft("45 A", "6 mm2, 70 degC")
	found := judged(thin, "ampacity-exceeded")
	require.Len(t, found, 1)
	assert.Equal(t, diag.Danger, found[0].Severity)
	assert.Contains(t, found[0].Message, "F1-L1 carries 48.9 A and holds 45 A")
	require.Len(t, judged(thin, "device-below-load"), 1)
	open := craft("45 A", "70 degC")
	assert.Empty(t, judged(open, "ampacity-exceeded"))
	chosen := cableOf(t, planned(t, open), "F1-L1")
	assert.EqualValues(t, 10, chosen.Area.Value, "6 mm² would hold the fuse of 45 A, and not what flows")
	assert.Equal(t, "current", chosen.GovernedBy)
	warm := craft("45 A", "6 mm2")
	assert.Empty(t, judged(warm, "ampacity-exceeded"), "105 °C: 60 A")
	found = judged(warm, "device-below-load")
	require.Len(t, found, 1)
	assert.Contains(t, found[0].Message, "49 A is drawn")
	assert.Empty(t, judged(craft("50 A", "6 mm2"), "device-below-load"))
	assert.Empty(t, judged(strings.Replace(warm, "460 W", "43.8 A", 1), "device-below-load"), "a constant current takes no more")
}
