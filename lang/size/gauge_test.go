package size_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"strake/lang/table"
)

// By the American rule set a DC cable is proposed as a gauge of the American
// table, and its drop stands beside that of the American formula.
func TestGauges(t *testing.T) {
	p := sized(t, `craft "American" {
    rules abyc-e11
    cable class 5, tinned, 105 degC, free
}
domain low: dc 12 V, 10.5 V to 14.6 V
place cool: 30 degC
battery B1 in low at cool: agm, 12 V, 200 Ah, resistance 3 mohm
run B1 [link] fuse F1 at cool: class t, terminals 105 degC [3.2 m] pump P1 at cool: 10 A, bilge, terminals 105 degC
run B1 [link] fuse F2 at cool: class t, terminals 105 degC [6.096 m] load L1 at cool: 45 A, terminals 105 degC
run B1 [link] fuse F3 at cool: class t, terminals 105 degC [1 m] load L2 at cool: 500 A, terminals 105 degC
run B1 [link] fuse F4 at cool: class t, terminals 105 degC [1 m] load L3 at cool: 0.5 A, terminals 105 degC
`)
	c := cable(t, p, "F1-P1")
	assert.Equal(t, "10", c.Gauge, "10 A over 21 ft out and back: 12 AWG by the formula, which leaves out tin, stranding and warmth")
	assert.Less(t, float64(c.CumulativePercent.Value), 3.0)
	area, _ := table.AWG("10")
	assert.Equal(t, area, c.Area.Value)
	c = cable(t, p, "F2-L1")
	assert.InEpsilon(t, 100*10.75*45*40/table.CircularMils(c.Area.Value)/12, float64(c.MilsPercent.Value), 1e-9, "E = 10.75·I·L/CM, 40 ft")
	assert.Greater(t, float64(c.CumulativePercent.Value), float64(c.MilsPercent.Value), "the formula flatters")
	c = cable(t, p, "F3-L2")
	assert.Equal(t, "0", c.Gauge)
	assert.Equal(t, 3, c.Parallel, "a fuse of 700 A: three of 1/0 carry 855 A with less copper than two of 3/0")
	assert.Equal(t, "16", cable(t, p, "F4-L3").Gauge, "33 CFR 183.425: the least")
}
