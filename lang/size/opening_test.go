package size_test

import (
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
