package size_test

import (
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"strake/lang/circuit"
	"strake/lang/size"
)

func node(t *testing.T, s size.Solved, name string) float64 {
	t.Helper()
	n := first(t, s.Nodes, "node "+name, func(n size.NodeVoltage) bool { return n.Node == name })
	require.True(t, n.Voltage.Known, name)
	return float64(n.Voltage.Value)
}

func current(t *testing.T, s size.Solved, id string) float64 {
	t.Helper()
	c := first(t, s.Cables, "cable "+id, func(c size.CableCurrent) bool { return c.Of.ID == id })
	require.True(t, c.Current.Known, id)
	return float64(c.Current.Value)
}

func given(t *testing.T, s size.Solved, ref string) float64 {
	t.Helper()
	p := first(t, s.Sources, "source "+ref, func(p size.SourceCurrent) bool { return p.Of.Ref == ref })
	require.True(t, p.Current.Known, ref)
	return float64(p.Current.Value)
}

// With constant currents the plan's drops are the differences of the network's
// voltages.
func TestPlanAgreesWithNetwork(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		r := rand.New(rand.NewPCG(rapid.Uint64().Draw(rt, "seed"), 9))
		sys := resolved(t, head+strings.Join(tree(r, 1), ""))
		plan := size.Size(sys)
		s := size.Conditions(sys, plan)[0]
		require.Empty(t, s.Refused)
		for _, c := range plan.Cables {
			if c.Of.Link {
				continue
			}
			from, _ := c.Of.From.Terminal()
			to, _ := c.Of.To.Terminal()
			assert.InDelta(t, float64(c.Drop.Value), node(t, s, from.String())-node(t, s, to.String()), 1e-6, c.Of.ID)
			assert.InDelta(t, float64(c.DropCurrent.Value), current(t, s, c.Of.ID), 1e-5, c.Of.ID)
		}
	})
}

const seaway = `battery B1..B2 in main at cool: lfp, 51.2 V, 100 Ah, resistance 10 mohm
run B1..B2 [1 m 50 mm2] fuse F1..F2 at cool: 125 A [link] bus PX in main at cool: 300 A
run PX [link] fuse F3 at cool: 125 A [2 m 35 mm2] motor M1 at cool: 5 kW, 110 A
run PX [link] fuse F4 at cool: 40 A [2 m 10 mm2] converter C1 at cool: 12 V, 30 A, efficiency 0.9, isolated, one way [1 m 10 mm2] fuse F5 at cool: 40 A [link] DB1
board DB1 in low at cool: 50 A {
    ways 1..3 is fuse: class blade
    way 1 10 A "Lights" lamp at cool: 48 W [4 m 2.5 mm2]
    way 2 10 A "Pump" pump at cool: 5 A [4 m 2.5 mm2]
}
condition "Half": M1 50 %, DB1 on, batteries full
condition "Board": DB1 60 W, M1 gives 1 kW
`

// What a condition says is what runs, and the network of it closes: power in is
// power out and losses.
func TestConditions(t *testing.T) {
	sys := resolved(t, head+seaway)
	plan := size.Size(sys)
	all := size.Conditions(sys, plan)
	require.Len(t, all, 4)
	board, half := all[0], all[2]
	assert.Equal(t, "Board", board.Name)
	assert.Equal(t, "Half", half.Name)
	assert.Equal(t, circuit.AsHandedOver, half.Configuration)
	require.Empty(t, half.Refused)
	// 110 A of 5 kW at 44 V (113.6 A) are the motor's own limit: half of it is 55 A
	assert.InDelta(t, 55, current(t, half, "F3-M1"), 1e-9)
	assert.InDelta(t, given(t, half, "B1"), given(t, half, "B2"), 1e-9)
	assert.InDelta(t, 58.4-0.010*given(t, half, "B1"), node(t, half, "B1"), 1e-9)
	assert.InDelta(t, 48/node(t, half, "DB1.1.load"), current(t, half, "DB1.1"), 1e-9, "constant power")
	assert.InDelta(t, 5, current(t, half, "DB1.2"), 1e-9, "constant current")
	assert.InDelta(t, 12, node(t, half, "C1.out"), 1e-9)
	out := current(t, half, "C1-F5")
	assert.InDelta(t, 12*out/0.9/node(t, half, "C1.in"), current(t, half, "F4-C1"), 1e-9)
	// 60 W of the board fall on its two ways by rating, 30 W each
	assert.InDelta(t, 30/node(t, board, "DB1.1.load"), current(t, board, "DB1.1"), 1e-9)
	assert.InDelta(t, -1000/node(t, board, "M1"), current(t, board, "F3-M1"), 1e-9, "the motor gives")
	assert.Negative(t, given(t, board, "B1"), "the packs are charged")
	for _, s := range all {
		in, loss, used := 0.0, 0.0, 0.0
		for _, p := range s.Sources {
			if p.Of.Kind == "battery" {
				in += float64(p.Power.Value)
			}
			if p.Of.Ref == "C1" {
				used += float64(p.Power.Value) * (1/0.9 - 1)
			}
		}
		for _, c := range s.Cables {
			loss += float64(c.Loss.Value)
		}
		for _, l := range []string{"DB1.1", "DB1.2"} {
			used += node(t, s, l+".load") * current(t, s, l)
		}
		used += node(t, s, "M1") * current(t, s, "F3-M1")
		assert.InDelta(t, in, used+loss, 1e-6, s.Name)
	}
}

// A string that is tapped: the lower battery carries both loads.
func TestTappedString(t *testing.T) {
	sys := resolved(t, head+`battery W1..W2 at cool: agm, 12.8 V, 75 Ah, resistance 4 mohm
bank WB in mid is W1..W2 in series
run WB [link] fuse F1 at cool: 60 A [1 m 16 mm2] load L1 at cool: 30 A
run W2 [link] fuse F2 at cool: 20 A [1 m 16 mm2] load L2 in low at cool: 10 A
condition "Both": L1 on, L2 on
`)
	s := size.Conditions(sys, size.Size(sys))[0]
	require.Empty(t, s.Refused)
	assert.InDelta(t, 12.640, node(t, s, "W2"), 1e-9)
	assert.InDelta(t, 12.640+12.680, node(t, s, "WB"), 1e-4)
	assert.Equal(t, []string{"length and size of W1-W2, whose resistance is left out"}, s.Missing)
}

// More power than the way delivers is refused, with what it delivers.
func TestRefused(t *testing.T) {
	sys := resolved(t, head+`battery B1 in low at cool: agm, 12 V, 20 Ah, resistance 50 mohm
run B1 [link] fuse F1 at cool: 200 A [10 m 16 mm2] load L1 at cool: 2 kW
condition "On": L1 on
`)
	s := size.Conditions(sys, size.Size(sys))[0]
	assert.NotEmpty(t, s.Refused)
	require.Len(t, s.Limits, 1)
	assert.Equal(t, "L1", s.Limits[0].Of.String())
	assert.InDelta(t, 2000, float64(s.Limits[0].Asks), 1e-6)
	assert.Less(t, float64(s.Limits[0].Limit), 12.0*12/4/0.05)
	for _, n := range s.Nodes {
		assert.False(t, n.Voltage.Known, n.Node)
	}
}

// What is not known is not made up.
func TestConditionWithHoles(t *testing.T) {
	sys := resolved(t, head+`battery B1 in low at cool: agm, 12 V, 20 Ah
run B1 [link] fuse F1 at cool: 20 A [2 m 4 mm2] load L1 at cool: 10 A
battery B2 in mid at cool: agm, 24 V, 20 Ah, resistance 5 mohm
run B2 [link] fuse F2 at cool: 20 A [4 mm2] load L2 at cool: 10 A
battery B3 in main at cool: lfp, 51.2 V, 20 Ah, resistance 5 mohm
run B3 [link] fuse F3 at cool: 20 A [2 m 4 mm2] load L3 at cool: 10 A
`)
	s := size.Conditions(sys, size.Size(sys))[0]
	assert.Equal(t, size.AllOn, s.Name)
	assert.Contains(t, s.Missing, "resistance of B1")
	assert.Contains(t, s.Missing, "length and size of F2-L2")
	for _, n := range s.Nodes {
		assert.Equal(t, n.Of.Item.Domain.Name == "main", n.Voltage.Known, n.Node)
	}
}
