package size_test

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"strake/lang/size"
)

// tree is the lines of a random tree of bars and loads of constant current under
// one battery; the lengths of its cables are multiplied by times.
func tree(r *rand.Rand, times float64) []string {
	lines := []string{
		"battery B1 in main at cool: lfp, 51.2 V, 400 Ah, resistance 4 mohm\n",
		"run B1 [link] fuse F0 at cool: 400 A, class t [1 m 150 mm2] bus P0 in main at cool: 600 A\n",
	}
	bars := []string{"P0"}
	for i := 1; i <= 3+r.IntN(4); i++ {
		from := bars[r.IntN(len(bars))]
		area := []string{"10", "16", "25", "35", "50"}[r.IntN(5)]
		length := times * float64(1+r.IntN(9))
		if r.IntN(3) == 0 {
			lines = append(lines, fmt.Sprintf("run %s [link] fuse F%d at cool: 60 A, class t [%g m %s mm2] bus P%d in main at cool: 100 A\n", from, i, length, area, i))
			bars = append(bars, fmt.Sprintf("P%d", i))
		} else {
			lines = append(lines, fmt.Sprintf("run %s [link] fuse F%d at cool: 40 A, class t [%g m %s mm2] load L%d at cool: %d A\n", from, i, length, area, i, 1+r.IntN(20)))
		}
	}
	return append(lines, fmt.Sprintf("run %s [link] fuse F9 at cool: 40 A, class t [%g m] load L9 at cool: 12 A\n", bars[len(bars)-1], times*5))
}

// Twice the length is twice the drop, of each cable and along the way; nothing
// but the drop and the fault levels changes for it.
func TestTwiceTheLengthIsTwiceTheDrop(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		seed := rapid.Uint64().Draw(rt, "seed")
		once := worked(t, strings.Join(tree(rand.New(rand.NewPCG(seed, 1)), 1), ""))
		twice := worked(t, strings.Join(tree(rand.New(rand.NewPCG(seed, 1)), 2), ""))
		require.Len(t, twice.Cables, len(once.Cables))
		for i, a := range once.Cables {
			b := twice.Cables[i]
			if a.Of.Link || !a.Stated || a.Of.ID == "F0-P0" {
				continue
			}
			assert.InEpsilon(t, 2*float64(a.Drop.Value)+1e-12, float64(b.Drop.Value)+1e-12, 1e-9, a.Of.ID)
			assert.Equal(t, a.DesignCurrent, b.DesignCurrent, a.Of.ID)
			assert.Equal(t, a.Ampacity, b.Ampacity, a.Of.ID)
			assert.GreaterOrEqual(t, float64(a.FaultMin.Value)*(1+1e-9), float64(b.FaultMin.Value), a.Of.ID)
			assert.GreaterOrEqual(t, float64(a.FaultMax.Value)*(1+1e-9), float64(b.FaultMax.Value), a.Of.ID)
		}
	})
}

// The order of statements changes nothing.
func TestOrderOfStatements(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		seed := rapid.Uint64().Draw(rt, "seed")
		lines := tree(rand.New(rand.NewPCG(seed, 2)), 1)
		shuffled := append([]string(nil), lines...)
		rand.New(rand.NewPCG(seed, 3)).Shuffle(len(shuffled), func(i, j int) { shuffled[i], shuffled[j] = shuffled[j], shuffled[i] })
		assert.Equal(t, told(worked(t, strings.Join(lines, ""))), told(worked(t, strings.Join(shuffled, ""))))
	})
}

// told is all of a plan but the spans.
func told(p *size.Plan) string {
	var b strings.Builder
	for _, c := range p.Cables {
		fmt.Fprintln(&b, c.Of.ID, c.Area, c.Parallel, c.GovernedBy, c.DesignCurrent, c.DesignCase, c.Ampacity, c.AmpacityBasis,
			c.ProtectionRating, c.Drop, c.Cumulative, c.Limit, c.FaultMax, c.FaultMin, c.Result, c.Missing)
	}
	for _, d := range p.Devices {
		fmt.Fprintln(&b, d.Of.Ref, d.Rating, d.Chosen, d.Voltage, d.Breaks, d.NodeMax, d.FaultMax, d.Current, len(d.Protects))
	}
	for _, a := range p.Assumptions {
		fmt.Fprintln(&b, a.On, a.Text, a.Source)
	}
	return b.String()
}

// A source less never raises a fault level.
func TestLessSourcesLessFault(t *testing.T) {
	const packs = "battery B%d in main at cool: lfp, 51.2 V, 100 Ah, resistance %d mohm\nrun B%d [0.5 m 50 mm2] fuse FB%d at cool: 125 A, class t [0.5 m 50 mm2] PX\n"
	rapid.Check(t, func(rt *rapid.T) {
		n := rapid.IntRange(2, 5).Draw(rt, "packs")
		build := func(n int) *size.Plan {
			text := "bus PX in main at cool: 800 A\nrun PX [link] fuse F1 at cool: 100 A, class t [5 m 35 mm2] load L1 at cool: 40 A\n"
			for i := 1; i <= n; i++ {
				text += fmt.Sprintf(packs, i, 8+3*i, i, i)
			}
			return worked(t, text)
		}
		all, less := build(n), build(n-1)
		assert.Greater(t, device(t, all, "F1").FaultMax.Value, device(t, less, "F1").FaultMax.Value)
		assert.GreaterOrEqual(t, cable(t, less, "F1-L1").FaultMin.Value, cable(t, all, "F1-L1").FaultMin.Value, "one pack alone, the weakest")
	})
}

// Fault levels by the convention: 53.6 V at most and 12 mΩ of battery with 0.9;
// 16 mΩ packs side by side as a drawing office would sum them by hand.
func TestFaultLevelByHand(t *testing.T) {
	p := worked(t, `battery B1..B3 in main at cool: lfp, 51.2 V, 100 Ah, resistance 15 mohm
run B1..B3 [0.35 m 50 mm2] fuse F1..F3 at cool: 125 A, class t [0.65 m 50 mm2] bus PX in main at cool: 600 A
run PX [link] fuse F4 at cool: 100 A, class blade [5 m 35 mm2] load L1 at cool: 40 A
`)
	// one pack: 13.5 mΩ + 2 m · 0.386 Ω/km = 14.272 mΩ; three of them: 4.757 mΩ
	assert.InEpsilon(t, 58.4/(0.0135+2*0.386e-3)*3, float64(device(t, p, "F4").FaultMax.Value), 1e-9)
	// at F1 towards its own pack: all three again, two of them through the bar
	lead := 0.35 * 2 * 0.386e-3
	rest := 0.65 * 2 * 0.386e-3
	others := 1/(2/(0.0135+lead+rest)) + rest
	assert.InEpsilon(t, 58.4/(0.0135+lead)+58.4/others, float64(device(t, p, "F1").FaultMax.Value), 1e-9)
	// the least: one pack at 44 V and 30 mΩ; its way at 105 °C by class 5 plain,
	// the fuses with 0.1 V at their rating
	hot := (234.5 + 105) / 254.5
	r := 0.030 + 2*0.386e-3*hot + 0.1/125 + 0.1/100 + 10*0.554e-3*hot
	assert.InEpsilon(t, 44/r, float64(cable(t, p, "F4-L1").FaultMin.Value), 1e-9)
	assert.EqualValues(t, 0.1, cable(t, p, "F4-L1").OpensIn.Value, "11 times its rating")
}

// A tie of which nothing is known leaves what it joins not known, rather than
// reckoned with a resistance that nobody stated.
func TestUnknownTie(t *testing.T) {
	p := worked(t, `battery B1..B2 in main at cool: lfp, 51.2 V, 100 Ah, resistance 15 mohm
run B1..B2 [0.3 m 50 mm2] fuse F1..F2 at cool: 125 A, class t [0.5 m 50 mm2] bus P1..P2 in main at cool: 300 A
run P1 [link] fuse F3 at cool: 60 A, class t [5 m 35 mm2] load L1 at cool: 40 A
run P1 [link] fuse FT1 at cool: 125 A, class t [] fuse FT2 at cool: 125 A, class t [link] P2
`)
	c := cable(t, p, "F3-L1")
	assert.False(t, c.FaultMin.Known, "the weaker bank may be the one behind the tie")
	assert.False(t, c.StaysShut)
	assert.True(t, c.FaultMax.Known)
	assert.True(t, cable(t, p, "F3-L1").DesignCurrent.Known, "a load's own cable carries its load")
	pack := cable(t, p, "B1-F1")
	assert.False(t, pack.DropCurrent.Known, "how the packs share is not known")
	assert.Contains(t, pack.Missing, "length and size of FT1-FT2")
	assert.False(t, device(t, p, "F1").Current.Known)
}
