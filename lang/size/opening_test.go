package size_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A fault that one pack alone feeds opens that pack's fuse. Five packs together
// send a little more through the long cable, but a fifth of it through each fuse:
// then nothing surely opens, as the fuse that all of it passes is too large.
func TestSharesOpenNothing(t *testing.T) {
	const packs = `battery B1..B5 in main at cool: lfp, 51.2 V, 100 Ah, resistance 10 mohm
run B1..B5 [0.3 m 50 mm2] fuse F1..F5 at cool: 125 A, class t [link] bus PX in main at cool: 800 A
`
	c := cable(t, worked(t, packs+"run PX [link] fuse F6 at cool: 500 A, class t [60 m 35 mm2] load L1 at cool: 40 A\n"), "F6-L1")
	one := 44 / (0.020 + 0.6*0.386e-3*339.5/254.5 + 0.1/125 + 0.1/500 + 120*0.554e-3*339.5/254.5)
	assert.InEpsilon(t, one, float64(c.FaultMin.Value), 1e-9)
	assert.Greater(t, one, 1.35*125, "alone it opens its fuse")
	assert.True(t, c.StaysShut, "together they do not")
	require.NotNil(t, c.OpenedBy)
	assert.Greater(t, float64(c.OpensAt.Value), one)
	assert.Less(t, float64(c.OpensAt.Value)/5, 1.35*125)
	assert.Equal(t, "fails", c.Withstand)
	c = cable(t, worked(t, packs+"run PX [link] fuse F6 at cool: 160 A, class t [60 m 35 mm2] load L1 at cool: 40 A\n"), "F6-L1")
	assert.False(t, c.StaysShut)
}

// A shore supply of which the short-circuit current is written: 250 A at the inlet
// are 0.92 Ω of 230 V; 10 m of 2.5 mm² out and back, class 5 plain at 105 °C, add
// 0.213 Ω for the smallest fault.
func TestShoreShortCircuit(t *testing.T) {
	p := worked(t, `run inlet SH1 in mains at cool: 16 A, short-circuit 250 A [link] breaker R1 at cool: 16 A, 2 pole, curve c, breaks 6 kA [10 m 3G2.5] socket X1 at cool: 500 W
`)
	hot := 20 * 7.98e-3 * (234.5 + 105) / 254.5
	hot = math.Hypot(hot, 20*0.1e-3) // with its reactance
	assert.InEpsilon(t, 230/(230.0/250+hot+2*0.1/16), float64(cable(t, p, "R1-X1").FaultMin.Value), 1e-9)
	assert.InEpsilon(t, 250, float64(device(t, p, "R1").FaultMax.Value), 1e-9)
	// the largest is that of a supply which is reactance alone: class 2 and cold, at a
	// right angle; at the socket the 20 m of 2.5 mm² at 7.41 Ω/km are 0.1482 Ω; the highest
	// voltage is 253 V
	for _, l := range p.Faults {
		if l.Node == "X1" {
			assert.InEpsilon(t, 253/math.Hypot(253.0/250, 20*7.41e-3), float64(l.Max.Value), 1e-6)
		}
	}
}
