package size_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// What the compiler proposes for mains is no larger than the plug, the generator
// and the relay that it hangs on.
func TestProposalsBehindPlugs(t *testing.T) {
	p := worked(t, `inlet SH1 in mains at cool: 16 A
run SH1 [0.4 m 3G2.5] rcbo R1 at cool: 30 mA, 2 pole, type a, curve c [3 m 3G2.5] inverter-charger INV1.in at cool: 3 kVA, charge 35 A, transfer 13 A, neutral earthed when inverting
run INV1.out [0.4 m 3G2.5] rcbo R2 at cool: 30 mA, 2 pole, type a, curve c [2 m 3G2.5] socket X1 at cool: 2 kW
inlet SH2 in mains at cool: 16 A
run SH2 [0.4 m 3G2.5] rcbo R3 at cool: 30 mA, 2 pole, type a, curve c [3 m 3G2.5] load H1 at cool: 3.6 kW
battery B1 in main at cool: lfp, 51.2 V, 100 Ah, resistance 10 mohm
run B1 [0.1 m 35 mm2] fuse F1 at cool: 125 A, class t [1 m 35 mm2] INV1.dc
`)
	assert.EqualValues(t, 13, device(t, p, "R1").Rating.Value, "what the relay holds")
	assert.EqualValues(t, 16, device(t, p, "R3").Rating.Value, "1.25 times 15.7 A would be 20 A, behind a plug of 16 A")
}

// A motor that starts with 24 A asks for a breaker of curve C of 6 A at least, B
// of 8 A: the next are 6 and 10 A (IEC 60898-1: 5 and 3 times).
func TestProposalsForStarts(t *testing.T) {
	p := worked(t, `battery B1 in low at cool: agm, 12 V, 200 Ah, resistance 4 mohm
run B1 [link] fuse F0 at cool: 100 A, class t [1 m 25 mm2] bus P1 in low at cool: 100 A
run P1 [link] breaker C1 at cool: curve c, 32 V, breaks 5 kA [2 m] pump M1 at cool: 4 A, start 24 A
run P1 [link] breaker C2 at cool: curve b, 32 V, breaks 5 kA [2 m] pump M2 at cool: 4 A, start 24 A
run P1 [link] fuse C3 at cool: class blade, 32 V, breaks 5 kA [2 m] pump M3 at cool: 4 A, start 24 A
`)
	assert.EqualValues(t, 6, device(t, p, "C1").Rating.Value)
	assert.EqualValues(t, 10, device(t, p, "C2").Rating.Value)
	assert.EqualValues(t, 7.5, device(t, p, "C3").Rating.Value, "ISO 8820-3: 3.5 times opens within 0.5 s")
}

// A starter's cable is chosen for its drop: 250 A over 4 m at 12 V; it stands its
// current for half a minute (IEC 60364-4-43, k 88: 15.6 mm²).
func TestProposalForAStarter(t *testing.T) {
	const text = `battery B1 in low at cool: agm, 12 V, 90 Ah, resistance 6 mohm
run B1 [%g m] isolator Q1 at cool: 300 A, 32 V [%g m] starter S1 at cool: start 250 A
`
	p := worked(t, fmt.Sprintf(text, 2.0, 2.0))
	a, b := cable(t, p, "B1-Q1"), cable(t, p, "Q1-S1")
	require.True(t, a.Chosen && b.Chosen)
	assert.Equal(t, "ok", b.Result)
	assert.LessOrEqual(t, float64(b.CumulativePercent.Value), 10.0)
	assert.Greater(t, float64(a.Area.Value), 16.0, "drop")
	p = worked(t, fmt.Sprintf(text, 0.2, 0.2))
	assert.EqualValues(t, 16, cable(t, p, "Q1-S1").Area.Value, "current")
}

// A fuse before a monitor of which no power is written is the smallest of its kind,
// not one without a rating.
func TestProposalBeforeAMonitor(t *testing.T) {
	p := worked(t, `battery B1 in low at cool: agm, 12 V, 90 Ah, resistance 6 mohm
run B1 [link] fuse F1 at cool: class blade [1 m] insulation-monitor M1 at cool
run B1 [link] fuse F2 at cool: class blade [1 m] load L1 at cool
`)
	assert.EqualValues(t, 1, device(t, p, "F1").Rating.Value)
	assert.EqualValues(t, 1, cable(t, p, "F1-M1").Area.Value)
	assert.False(t, device(t, p, "F2").Rating.Known, "what a load takes nobody can guess")
}
