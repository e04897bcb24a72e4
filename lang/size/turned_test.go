package size_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
)

// What lies at the input of a converter that passes power both ways, and is fed
// by it alone, is sized as what lies at the output of one turned round.
func TestFedBackwards(t *testing.T) {
	const craft = `domain little: dc 12 V, 10.5 V to 14.6 V
battery B1 in main at cool: lfp, 51.2 V, 100 Ah, resistance 10 mohm
run B1 [0.1 m 35 mm2] fuse F1 at cool: 100 A, class t [1 m 35 mm2] CV1.out
converter CV1 at cool: 48 V, 30 A, input 12 V, input 120 A, efficiency 0.9, isolated, both ways
run CV1.in [0.5 m 35 mm2] bus PA in little at cool
run PA [3 m] load L1 at cool: 60 A
run PA [0.1 m 6 mm2] fuse F2 at cool: 20 A, class blade [3 m 6 mm2] load L2 at cool: 10 A
`
	turned := strings.NewReplacer("CV1.out\n", "CV1.in\n", "run CV1.in", "run CV1.out", "48 V, 30 A, input 12 V, input 120 A", "12 V, 120 A, input 48 V", "both ways", "one way").Replace(craft)
	back, on := worked(t, craft), worked(t, turned)
	for _, id := range []string{"CV1-PA", "PA-L1", "PA-F2", "F2-L2"} {
		one, other := cable(t, back, id), cable(t, on, id)
		assert.Positive(t, float64(one.DesignCurrent.Value), id)
		assert.Equal(t, other.DesignCurrent, one.DesignCurrent, id)
		assert.Equal(t, other.Area, one.Area, id)
		assert.Equal(t, other.Cumulative, one.Cumulative, id)
		assert.Equal(t, other.ProtectionRating, one.ProtectionRating, id)
	}
	assert.Positive(t, float64(device(t, back, "F2").FaultMax.Value))
	assert.Equal(t, device(t, on, "F2").FaultMax, device(t, back, "F2").FaultMax)
	// 48 V and 30 A at an efficiency of 0.9 and the lowest 44 V
	assert.InDelta(t, 48*30/0.9/44, float64(cable(t, back, "F1-CV1").DesignCurrent.Value), 1e-6)
	fed := worked(t, craft+"battery B2 in little at cool: agm, 12 V, 100 Ah, resistance 6 mohm\nrun B2 [0.1 m 25 mm2] fuse F3 at cool: 80 A, class t [0.5 m 25 mm2] PA\n")
	assert.NotEqual(t, cable(t, back, "F1-CV1").DesignCurrent, cable(t, fed, "F1-CV1").DesignCurrent, "with a battery at its input it takes from there")
}
