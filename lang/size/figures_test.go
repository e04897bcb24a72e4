package size_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"strake/lang/table"
)

// Figures of demonstration craft with their arithmetic: tinned class 5 copper of
// 105 °C in places of 40 °C, out and back, at the temperature at which it runs.
func TestFiguresWithTheirArithmetic(t *testing.T) {
	const craft = `craft "Figures" {
    rules iso-13297
    cable class 5, tinned, 105 degC, free
    coldest -10 degC
}
domain drive: dc 48 V, 44 V to 58.4 V
domain house: dc 12 V, 10.5 V to 15.6 V
domain crane: dc 24 V, 21 V to 31.2 V
domain high: dc 96 V, 75 V to 109.5 V
place hull: 40 degC
`
	for _, v := range []struct {
		name, lines, id string
		amps            float64
		perKM           float64 // IEC 60228 class 5 tinned
		loop            float64 // m, over the parallel conductors
		base            float64 // capacity at 30 °C
		nominal         float64
		area            float64 // all conductors of a pole
	}{
		{"a pod of 205 A on 4.5 m of 95 mm²", `battery B1 in drive at hull: lfp, 51.2 V, 300 Ah, resistance 5 mohm
run B1 [link] fuse F1 at hull: 300 A, class t [4.5 m 95 mm2] motor M1 at hull: 10 kW, 205 A
`, "F1-M1", 205, 0.210, 9, 390, 48, 95},
		{"a bilge pump of 6 A on 8 m of 10 mm²", `battery B1 in house at hull: agm, 12 V, 40 Ah, resistance 10 mohm
run B1 [link] fuse F1 at hull: 10 A, class t [8 m 10 mm2] pump P1 at hull: 6 A, bilge
`, "F1-P1", 6, 1.95, 16, 90, 12, 10},
		{"a crane of 180 A on 8 m of 70 mm²", `battery B1 in crane at hull: agm, 24 V, 110 Ah, resistance 8 mohm
run B1 [link] fuse F1 at hull: 250 A, class nh, terminals 105 degC [8 m 70 mm2] motor MC at hull: 180 A, terminals 105 degC
`, "F1-MC", 180, 0.277, 16, 330, 24, 70},
		{"a motor of 560 A on 2.5 m of 2 parallel 120 mm²", `battery B1 in high at hull: lfp, 96 V, 560 Ah, resistance 7 mohm
run B1 [link] fuse F1 at hull: 630 A, class nh, terminals 105 degC [2.5 m 2 parallel 120 mm2] motor M1 at hull: 50 kW, 560 A, terminals 105 degC
`, "F1-M1", 560, 0.164, 2.5, 900, 96, 240},
	} {
		c := cable(t, sized(t, craft+v.lines), v.id)
		assert.InDelta(t, v.amps, float64(c.DesignCurrent.Value), 1e-6, v.name)
		temperature := 40 + 75*(v.amps/v.base)*(v.amps/v.base)
		ohm := v.perKM / 1000 * v.loop * (234.5 + temperature) / 254.5
		assert.InEpsilon(t, ohm*v.amps, float64(c.Drop.Value), 1e-6, v.name)
		assert.InEpsilon(t, 100*ohm*v.amps/v.nominal, float64(c.CumulativePercent.Value), 1e-6, v.name)
		way := v.loop
		if v.area == 240 {
			way *= 2 // the loop above is shared by two conductors
		}
		assert.InEpsilon(t, 100*0.0164*v.amps*way/v.area/v.nominal, float64(c.ISOPercent.Value), 1e-6, v.name)
	}
}

// Five packs of 16 mΩ on 1.0 m of 35 mm², each way: 58.4 V over a fifth of
// 0.9·16 mΩ and 2 m of class 2 plain 35 mm² at 0.524 Ω/km.
func TestFaultOfFivePacks(t *testing.T) {
	p := sized(t, `craft "Five" {
    rules iso-13297
    cable class 5, tinned, 105 degC, free
}
domain drive: dc 48 V, 44 V to 58.4 V
place hull: 40 degC
battery B1..B5 in drive at hull: lfp, 51.2 V, 100 Ah, resistance 16 mohm
run B1..B5 [0.5 m 35 mm2] fuse F1..F5 at hull: 125 A, class t [0.5 m 35 mm2] bus PX in drive at hull: 800 A
run PX [link] fuse F6 at hull: 500 A, class t [1 m 120 mm2] motor M1 at hull: 10 kW, 205 A
`)
	ohm := (0.9*16e-3 + 2*0.524e-3) / 5
	assert.InEpsilon(t, 58.4/ohm, float64(device(t, p, "F6").FaultMax.Value), 1e-6)
	assert.Less(t, 58.4/ohm, 20000.0, "18.9 kA: within what class T breaks")
	broken, _ := table.Class("t")
	assert.EqualValues(t, 20000, broken.Value.Breaks.Value)
}
