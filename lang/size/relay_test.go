package size_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// An inverter/charger passes the shore's current or makes its own, never both:
// what lets current into its output is the larger of the two, not their sum.
func TestRelayOrInverter(t *testing.T) {
	const craft = `run inlet SH1 in mains at cool: 16 A [0.4 m 3G2.5] rcbo R1 at cool: 16 A, 30 mA, 2 pole, type a
    [3 m 3G2.5] inverter-charger INV1.in at cool: 3 kVA, charge 35 A, transfer 16 A, neutral earthed when inverting
run INV1.out [0.4 m 3G2.5] rcbo R2 at cool: 20 A, 30 mA, 2 pole, type a [3 m 3G2.5] bus AB in mains at cool
run AB [2 m 3G2.5] socket X1 at cool: 4 kW
battery B1 in main at cool: lfp, 51.2 V, 100 Ah, resistance 10 mohm
run B1 [0.1 m 35 mm2] fuse F1 at cool: 125 A, class t [1 m 35 mm2] INV1.dc
`
	p := worked(t, craft)
	c := cable(t, p, "INV1-R2")
	assert.EqualValues(t, 16, c.ProtectionRating.Value, "R1 through the relay; 3 kVA at 230 V is 13 A")
	assert.InDelta(t, 16, float64(c.DesignCurrent.Value), 1e-9, "a socket of 4 kW asks 17.4 A: no more than the shore gives comes")
}
