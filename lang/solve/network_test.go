package solve

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// The listed networks were each solved once by an independent circuit simulator
// and by a second script; the figures are those. Node 0 is the reference.

// listed is the networks with known figures, by what they show.
var listed = map[string]Network{
	"radial": {Nodes: 6,
		Sources:  []Source{{1, 0, 12.80, 5e-3}},
		Branches: []Branch{{1, 2, 2.716e-3}, {2, 3, 319.2e-3}, {2, 4, 59.4e-3}, {2, 5, 33e-3}},
		Loads:    []Load{{Plus: 3, Amps: 2}, {Plus: 4, Amps: 5}, {Plus: 5, Amps: 15}},
	},
	"unequal leads": {Nodes: 4,
		Sources:  []Source{{1, 0, 12.80, 4e-3}, {2, 0, 12.80, 4e-3}},
		Branches: []Branch{{1, 3, 0.386e-3}, {2, 3, 1.930e-3}},
		Loads:    []Load{{Plus: 3, Amps: 150}},
	},
	"circulating": {Nodes: 4,
		Sources:  []Source{{1, 0, 12.80, 4e-3}, {2, 0, 12.70, 4e-3}},
		Branches: []Branch{{1, 3, 0.386e-3}, {2, 3, 1.930e-3}},
	},
	"two sources": {Nodes: 5,
		Sources:  []Source{{1, 0, 25.60, 10e-3}, {4, 0, 28.00, 20e-3}},
		Branches: []Branch{{1, 2, 6.24e-3}, {2, 3, 9.36e-3}, {3, 4, 4.68e-3}},
		Loads:    []Load{{Plus: 2, Amps: 30}, {Plus: 3, Watts: 500}},
	},
	"two domains": {Nodes: 8,
		Sources:    []Source{{1, 0, 51.20, 12e-3}},
		Branches:   []Branch{{1, 2, 2.216e-3}, {2, 3, 1.108e-3}, {2, 4, 7.26e-3}, {5, 6, 19.1e-3}, {5, 7, 127.68e-3}},
		Loads:      []Load{{Plus: 3, Watts: 3260.869565}, {Plus: 6, Amps: 25}, {Plus: 7, Watts: 120}},
		Converters: []Converter{{InPlus: 4, OutPlus: 5, Volt: 24.50, Efficiency: 0.93}},
	},
	"tapped pair": {Nodes: 3,
		Sources: []Source{{1, 0, 12.80, 4e-3}, {2, 1, 12.80, 4e-3}},
		Loads:   []Load{{Plus: 2, Amps: 30}, {Plus: 1, Amps: 10}},
	},
	"bolted": {Nodes: 3, // the last branch is the fault
		Sources:  []Source{{1, 0, 13.00, 4e-3}},
		Branches: []Branch{{1, 2, 2.162e-3}, {2, 0, 1e-8}},
	},
	"four packs, fault at the bar": {Nodes: 2,
		Sources:  []Source{{1, 0, 13.40, 3.3676e-3}, {1, 0, 13.40, 3.3676e-3}, {1, 0, 13.40, 3.3676e-3}, {1, 0, 13.40, 3.3676e-3}},
		Branches: []Branch{{1, 0, 1e-8}},
	},
	"four packs, fault at a branch's end": {Nodes: 3,
		Sources:  []Source{{1, 0, 13.40, 3.3676e-3}, {1, 0, 13.40, 3.3676e-3}, {1, 0, 13.40, 3.3676e-3}, {1, 0, 13.40, 3.3676e-3}},
		Branches: []Branch{{1, 2, 62.4e-3}, {2, 0, 1e-8}},
	},
}

func solved(t *testing.T, n Network) *Result {
	t.Helper()
	n.Held = append(n.Held, Hold{0, 0})
	r, err := n.Solve()
	require.NoError(t, err)
	assert.Less(t, r.Residual, 1e-9)
	return r
}

func same(t *testing.T, want, got float64) {
	t.Helper()
	assert.InEpsilon(t, want, got, 1e-6)
}

// A 12.80 V battery of 5 mΩ, three constant currents on a bar.
func TestRadial(t *testing.T) {
	r := solved(t, listed["radial"])
	same(t, 12.630248, r.Volts[2])
	same(t, 11.991848, r.Volts[3])
	same(t, 12.333248, r.Volts[4])
	same(t, 12.135248, r.Volts[5])
	same(t, 22, r.Sources[0])
}

// Two packs with unlike leads share 150 A as 57.5 to 42.5.
func TestUnequalLeads(t *testing.T) {
	r := solved(t, listed["unequal leads"])
	same(t, 12.421816, r.Volts[3])
	same(t, 86.225281, r.Sources[0])
	same(t, 63.774719, r.Sources[1])
}

// Unequal voltages drive a current round without any load.
func TestCirculating(t *testing.T) {
	r := solved(t, listed["circulating"])
	same(t, 12.757484, r.Volts[3])
	same(t, 9.693680, r.Sources[0])
	same(t, -9.693680, r.Sources[1])
}

// A battery aft, a charging source forward, a constant power between them.
func TestTwoSources(t *testing.T) {
	r := solved(t, listed["two sources"])
	same(t, 25.781064, r.Volts[1])
	same(t, 25.894047, r.Volts[2])
	same(t, 26.344323, r.Volts[3])
	same(t, 26.658284, r.Volts[4])
	same(t, -18.106362, r.Sources[0])
	same(t, 67.085783, r.Sources[1])
}

// A 48 V bank feeds an inverter and, through a converter, loads at 24 V.
func TestTwoDomains(t *testing.T) {
	r := solved(t, listed["two domains"])
	same(t, 50.047170, r.Volts[2])
	same(t, 49.974873, r.Volts[3])
	same(t, 49.932145, r.Volts[4])
	same(t, 15.843656, r.Inputs[0])
	same(t, 24.022500, r.Volts[6])
	same(t, 23.857795, r.Volts[7])
	same(t, 81.093838, r.Sources[0])
}

// A pair in series, tapped between: the lower half carries 40 A, the upper 30.
func TestTappedPair(t *testing.T) {
	r := solved(t, listed["tapped pair"])
	same(t, 40, r.Sources[0])
	same(t, 30, r.Sources[1])
	same(t, 12.640, r.Volts[1])
	same(t, 12.680, r.Volts[2]-r.Volts[1])
}

// The same faults as networks of their own, through 10 nΩ, which the simulator gets too.
func TestFaultsAsNetworks(t *testing.T) {
	assert.InEpsilon(t, 2109.4, solved(t, listed["bolted"]).Branches[1], 5e-4)
	bar := solved(t, listed["four packs, fault at the bar"])
	assert.InEpsilon(t, 15916, bar.Branches[0], 5e-4)
	for _, amps := range bar.Sources {
		assert.InEpsilon(t, 3979, amps, 5e-4)
	}
	end := solved(t, listed["four packs, fault at a branch's end"])
	assert.InEpsilon(t, 211.88, end.Branches[0], 5e-4)
	assert.InEpsilon(t, 13.2216, end.Volts[1], 5e-4)
}

// Faults: one battery bolted; four packs on a bar, and at the end of a branch.
func TestFaults(t *testing.T) {
	one := Linear{Nodes: 2, Ties: []Tie{{0, 4e-3}}, Branches: []Branch{{0, 1, 2.162e-3}}}.Solve()
	r, _ := one.Resistance(1)
	assert.InEpsilon(t, 2109.4, 13.00/r, 5e-4)

	n := Linear{Nodes: 2, Branches: []Branch{{0, 1, 62.4e-3}}}
	for range 4 {
		n.Ties = append(n.Ties, Tie{0, 3.3676e-3})
	}
	four := n.Solve()
	r, _ = four.Resistance(0)
	assert.InEpsilon(t, 15916, 13.40/r, 5e-4)
	r, _ = four.Resistance(1)
	assert.InEpsilon(t, 211.88, 13.40/r, 5e-4)
	assert.InEpsilon(t, 13.2216, 13.40/r*62.4e-3, 5e-4, "the bar sags to this")
	_, ok := Linear{Nodes: 2, Held: []int{0}}.Solve().Resistance(1)
	assert.False(t, ok, "a node without a way to the source")

	// 110 cells of 0.5 mΩ, 240 V, then four strings: a published guide on DC
	// distribution prints 4.37 and 17.5 kA
	string110 := Linear{Nodes: 1, Ties: []Tie{{0, 110 * 0.5e-3}}}
	r, _ = string110.Solve().Resistance(0)
	assert.InEpsilon(t, 4370, 240/r, 3e-3)
	string110.Ties = append(string110.Ties, string110.Ties[0], string110.Ties[0], string110.Ties[0])
	r, _ = string110.Solve().Resistance(0)
	assert.InEpsilon(t, 17500, 240/r, 3e-3)
}

// A constant power has a solution up to V²/4R, and the higher voltage is taken.
func TestConstantPowerLimit(t *testing.T) {
	at := func(watts float64) Network {
		return Network{Nodes: 3, Held: []Hold{{0, 0}}, Sources: []Source{{1, 0, 12, 10e-3}}, Branches: []Branch{{1, 2, 90e-3}},
			Loads: []Load{{Plus: 2, Watts: watts}}}
	}
	r, err := at(359.9).Solve() // 12²/(4·0.1) = 360 W
	require.NoError(t, err)
	assert.Greater(t, r.Volts[2], 6.0)
	assert.Less(t, r.Residual, 1e-9)
	_, err = at(360.1).Solve()
	require.ErrorIs(t, err, ErrNoSolution)
}

// A converter that is asked for more than its limit gives the limit; beside a
// battery of higher voltage it gives nothing.
func TestConverterLimits(t *testing.T) {
	n := Network{Nodes: 3,
		Sources:    []Source{{1, 0, 48, 10e-3}, {2, 0, 12.8, 10e-3}},
		Loads:      []Load{{Plus: 2, Amps: 50}},
		Converters: []Converter{{InPlus: 1, OutPlus: 2, Volt: 14, Limit: 20, Efficiency: 0.9}},
	}
	r := solved(t, n)
	assert.True(t, r.Limited[0])
	same(t, 20, r.Converters[0])
	same(t, 30, r.Sources[1])
	same(t, 12.5*20/0.9/r.Volts[1], r.Inputs[0])
	n.Converters[0].Volt = 12.2
	n.Loads[0].Amps = 20
	r = solved(t, n)
	assert.Zero(t, r.Converters[0])
	same(t, 20, r.Sources[1])
	n.Loads[0].Amps = 80
	r = solved(t, n)
	same(t, 12.2, r.Volts[2])
	same(t, 60, r.Sources[1])
	same(t, 20, r.Converters[0])
}

// What is too much is named with its limit: 360 W of the way, of which 400 W are 90 %.
func TestShortfall(t *testing.T) {
	n := Network{Nodes: 3, Held: []Hold{{0, 0}}, Sources: []Source{{1, 0, 12, 10e-3}}, Branches: []Branch{{1, 2, 90e-3}},
		Loads: []Load{{Plus: 2, Watts: 400}}}
	s := n.Shortfall()
	require.Len(t, s.Loads, 1)
	assert.InEpsilon(t, 360, s.Loads[0].Watts, 1e-9)
	assert.InEpsilon(t, 0.9, s.Share, 1e-9)
	n.Loads = []Load{{Plus: 2, Watts: 200}, {Plus: 2, Watts: 200}}
	s = n.Shortfall()
	assert.Empty(t, s.Loads, "neither alone asks for too much")
	assert.InEpsilon(t, 0.9, s.Share, 1e-9)
}

// The loads that are passed over ask for less than their way delivers.
func TestShortfallPassesOverNone(t *testing.T) {
	told := 0
	rapid.Check(t, func(rt *rapid.T) {
		r, seed := drawn(rt)
		n := craft(r, 3+r.IntN(20))
		for i := range n.Converters {
			if r.IntN(2) == 0 {
				n.Converters[i].Limit = 1 + 40*r.Float64()
			}
		}
		for i := range n.Loads {
			n.Loads[i].Watts *= 100 * r.Float64()
		}
		var want []Limit
		for i, l := range n.Loads {
			if most, ok := n.most(i); ok && l.Watts > most {
				want = append(want, Limit{i, most})
			}
		}
		require.Equal(rt, want, n.Shortfall().Loads, "seed %d", seed)
		told += len(want)
	})
	require.Positive(t, told)
}

// Where a solution begins changes nothing of it, whatever the converters did there.
func TestBeginningElsewhere(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		r, seed := drawn(rt)
		n := craft(r, 3+r.IntN(20))
		for i := range n.Converters {
			if r.IntN(2) == 0 { // beside a battery of its own
				c := &n.Converters[i]
				n.Sources = append(n.Sources, Source{c.OutPlus, 0, 24 + r.Float64(), 5e-3})
				c.Limit = 1 + 40*r.Float64()
			}
		}
		from, err := n.Solve()
		require.NoError(rt, err, "seed %d", seed)
		for i := range n.Loads {
			n.Loads[i].Amps += 3 * r.Float64()
		}
		a, errA := n.Solve()
		b, errB := n.SolveFrom(from)
		require.Equal(rt, errA == nil, errB == nil, "seed %d", seed)
		if errA != nil {
			return
		}
		for i := range a.Volts {
			assert.InDelta(rt, a.Volts[i], b.Volts[i], 1e-7, "seed %d", seed)
		}
	})
}
