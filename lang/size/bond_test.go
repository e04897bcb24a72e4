package size_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"

	"strake/lang/size"
)

func bond(t *testing.T, p *size.Plan, id string) size.Bond {
	t.Helper()
	return first(t, p.Bonds, "bond "+id, func(b size.Bond) bool { return b.Of.ID == id })
}

// IEC 60364-5-54 table 54.2: as thick as the live conductor up to 16 mm², 16 mm²
// up to 35, half beyond, 4 mm² at least; or what the let-through of the device asks
// for (543.1.2): 200 A of class T let through 200 kA²s, √200000/143 is 3.2 mm².
func TestBonds(t *testing.T) {
	const craft = `craft "Bonds" { cable class 5, tinned, 105 degC, free }
domain house: dc 12 V, 10.5 V to 14.6 V, earthed negative
domain loose: dc 24 V, 21 V to 29.2 V
domain mains: ac 230 V, 50 Hz
place cool: 30 degC
earth E1 at cool
battery B1 in house at cool: agm, 12 V, 400 Ah%s
run B1 [0.1 m 70 mm2] fuse F1 at cool: 200 A, class %s, terminals 105 degC [2 m 70 mm2] bus PB in house at cool: 300 A
battery B2 in loose at cool: agm, 24 V, 100 Ah, resistance 8 mohm
run B2 [0.1 m 70 mm2] fuse F2 at cool: 200 A, class t [1 m 70 mm2] bus PL in loose at cool: 300 A
run inlet SH1 in mains at cool: 32 A [0.4 m 3G6] rcbo R1 at cool: 32 A, 30 mA, 2 pole [3 m 3G6] load H1 at cool: 3 kW
bond PB.negative [1 m] E1
bond PL [1 m] E1
bond H1 [1 m] E1
bond F1 [1 m, unknown mm2] E1
`
	p := sized(t, fmt.Sprintf(craft, "", "t"))
	b := bond(t, p, "PB-E1")
	assert.EqualValues(t, 35, b.Least, "half of 70 mm²: what can flow is not known")
	assert.True(t, b.Chosen)
	assert.EqualValues(t, 35, b.Area.Value)
	assert.EqualValues(t, 4, bond(t, p, "PL-E1").Area.Value, "no fault of an unearthed system runs through it")
	assert.EqualValues(t, 6, bond(t, p, "H1-E1").Area.Value)
	assert.False(t, bond(t, p, "F1-E1").Area.Known, "unknown is never chosen")
	p = sized(t, fmt.Sprintf(craft, ", resistance 1 mohm", "t"))
	b = bond(t, p, "PB-E1")
	assert.True(t, b.ByHeat)
	assert.EqualValues(t, 4, b.Area.Value)
	p = sized(t, fmt.Sprintf(craft, ", resistance 1 mohm", "bolt"))
	assert.EqualValues(t, 35, bond(t, p, "PB-E1").Least, "no table has what a bolted fuse lets through")
}
