package lang_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strake/lang"
	"strake/lang/diag"
)

// essential is a small boat with a heater of 40 A and a lamp on one bar.
func essential(main, heater, lamp string) string {
	return `craft "Small boat" { cable class 5, tinned, 105 degC, free }
domain house: dc 12 V, 10.5 V to 14.6 V
place locker "Locker": 40 degC
run battery B1 in house at locker: agm, 12 V, 110 Ah, discharge 100 A, resistance 6 mohm, terminals 105 degC [0.1 m 35 mm2] fuse F1 at locker: class t, 125 V, breaks 20 kA` + main + ` [0.1 m 35 mm2] isolator Q1 at locker: 150 A, 32 V, 1 pole, load-break [0.3 m 35 mm2] bus PB in house at locker: 200 A
run PB [link] fuse F2 at locker: class t, 125 V, breaks 20 kA` + heater + ` [2 m 25 mm2] load L1 at locker: 40 A
run PB [link] fuse F3 at locker: class t, 125 V, breaks 20 kA, 10 A [4 m 6 mm2] lamp L2 at locker: ` + lamp + `
`
}

// Where a fault behind one device takes the navigation lights with it that is a fault,
// otherwise an advice.
func TestNotSelectiveBeforeNavigation(t *testing.T) {
	found := judged(essential(", 80 A", ", 60 A", "20 W, navigation"), "not-selective")
	require.Len(t, found, 1)
	assert.Equal(t, diag.Fault, found[0].Severity)
	assert.Contains(t, found[0].Message, "L2")
	found = judged(essential(", 80 A", ", 60 A", "20 W"), "not-selective")
	require.Len(t, found, 1)
	assert.Equal(t, diag.Advice, found[0].Severity)
	assert.Empty(t, judged(essential(", 110 A", ", 60 A", "20 W, navigation"), "not-selective"))
}

// What is proposed keeps them apart: the main fuse is made larger than its own
// current asks for, or the one behind it smaller than it might be.
func TestProposedApart(t *testing.T) {
	ratings := func(text string) (main, heater float64) {
		r := lang.Compile(nil, "craft.strake", text)
		require.False(t, r.HasErrors(), "%v", r.Findings)
		for _, d := range r.Plan.Devices {
			switch d.Of.Ref {
			case "F1":
				main = float64(d.Rating.Value)
			case "F2":
				heater = float64(d.Rating.Value)
			}
		}
		return main, heater
	}
	main, heater := ratings(essential("", "", "20 W, navigation"))
	assert.GreaterOrEqual(t, main, 1.58*heater)
	assert.GreaterOrEqual(t, heater, 40.0)
	plain, same := ratings(essential("", "", "20 W"))
	assert.Less(t, plain, 1.58*same, "where nothing essential hangs on it, no more than it carries")
	main, heater = ratings(essential(", 80 A", "", "20 W, navigation"))
	assert.EqualValues(t, 80, main)
	assert.GreaterOrEqual(t, main, 1.58*heater)
	assert.Empty(t, judged(essential("", "", "20 W, navigation"), "not-selective"))
}

// What is critical and cannot be delivered is a danger.
func TestCriticalNotDelivered(t *testing.T) {
	text := `craft "Small boat" { cable class 5, tinned, 105 degC, free }
domain house: dc 12 V, 10.5 V to 14.6 V
place locker "Locker": 40 degC
run battery B1 in house at locker: agm, 12 V, 20 Ah, resistance 200 mohm [link] fuse F1: class t, 100 A [link] load L1 at locker: 900 W, critical
`
	found := judged(text, "power-not-delivered")
	require.Len(t, found, 1)
	assert.Equal(t, diag.Danger, found[0].Severity)
	found = judged(strings.Replace(text, ", critical", "", 1), "power-not-delivered")
	require.Len(t, found, 1)
	assert.Equal(t, diag.Fault, found[0].Severity)
}

// A residual current device of 16 A behind a breaker of 32 A, and two bonds of one
// negative whose earthing is not said, on a metal hull.
func TestBelowItsBreakerAndBondedTwice(t *testing.T) {
	const mains = `craft "Small boat" { cable class 5, tinned, 105 degC, free }
domain mains: ac 230 V, 50 Hz
place locker "Locker": 40 degC
run inlet SH1 in mains at locker: 32 A [0.3 m 3G6] breaker R1: 32 A, 2 pole, curve c, breaks 6 kA [1 m 3G6] rcd R2: 16 A, 30 mA, 2 pole, type a [1 m 3G6] load L1 at locker: 2 kW
`
	found := judged(mains, "switch-below-its-devices")
	require.Len(t, found, 1)
	assert.Equal(t, diag.Fault, found[0].Severity)
	assert.Empty(t, judged(strings.Replace(mains, "rcd R2: 16 A", "rcd R2: 40 A", 1), "switch-below-its-devices"))
	const bonds = `craft "Small boat" { hull steel
cable class 5, tinned, 105 degC, free
}
domain house: dc 12 V, 10.5 V to 14.6 V
place locker "Locker": 40 degC
run battery B1 in house at locker: agm, 12 V, 70 Ah, resistance 6 mohm [0.1 m 25 mm2] fuse F1: class t, 80 A [2 m 25 mm2] pump P1 at locker: 60 W
earth E1
bond B1.negative [1 m 16 mm2] E1
`
	assert.Empty(t, judged(bonds, "earthed-negative-bonds"))
	found = judged(bonds+"bond P1.negative [1 m 16 mm2] E1\n", "earthed-negative-bonds")
	require.Len(t, found, 1)
	assert.Equal(t, diag.Danger, found[0].Severity)
}
