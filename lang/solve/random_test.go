package solve

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// craft is a random network of the kind that a craft has: batteries with leads on
// bars, feeders, rings, loads of every sort, converters to other voltages. Node 0
// is the reference; every third has a return path of its own.
func craft(r *rand.Rand, nodes int) Network {
	n := Network{Nodes: 1, Held: []Hold{{0, 0}}}
	rings := 6
	if nodes > 1000 {
		rings = 60 // a large craft is a tree for the greater part
	}
	add := func() int { n.Nodes++; return n.Nodes - 1 }
	ohm := func() float64 { return 0.2e-3 + 20e-3*r.Float64()*r.Float64() }
	island := func(volt float64, size int, battery bool, source int) []int {
		returns := 0
		live := []int{source}
		if battery {
			for range 1 + r.IntN(4) {
				b := add()
				n.Sources = append(n.Sources, Source{b, 0, volt * (0.99 + 0.02*r.Float64()), 2e-3 + 8e-3*r.Float64()})
				n.Branches = append(n.Branches, Branch{b, source, ohm()})
			}
		}
		if r.IntN(3) == 0 { // a return path of its own
			returns = add()
			n.Branches = append(n.Branches, Branch{returns, 0, ohm()})
		}
		for range size {
			at := live[r.IntN(len(live))]
			to := add()
			n.Branches = append(n.Branches, Branch{at, to, ohm()})
			live = append(live, to)
			switch r.IntN(6) {
			case 0, 1:
				n.Loads = append(n.Loads, Load{Plus: to, Minus: returns, Amps: 12 * r.Float64()})
			case 2, 3:
				n.Loads = append(n.Loads, Load{Plus: to, Minus: returns, Watts: volt * 8 * r.Float64()})
			case 4:
				n.Loads = append(n.Loads, Load{Plus: to, Minus: returns, Siemens: 4 / volt * r.Float64()})
			}
			if len(live) > 3 && r.IntN(rings) == 0 { // a ring
				n.Branches = append(n.Branches, Branch{to, live[r.IntN(len(live)-1)], ohm()})
			}
		}
		return live
	}
	main := island(51.2, nodes, true, add())
	for range r.IntN(3) {
		in, out := main[r.IntN(len(main))], add()
		n.Converters = append(n.Converters, Converter{InPlus: in, OutPlus: out, Volt: 24.5, Efficiency: 0.85 + 0.1*r.Float64(), Idle: 20 * r.Float64()})
		island(24.5, 1+nodes/4, false, out)
	}
	return n
}

func drawn(t *rapid.T) (*rand.Rand, uint64) {
	seed := rapid.Uint64().Draw(t, "seed")
	return rand.New(rand.NewPCG(seed, 77)), seed
}

// Currents add up at every node; a permutation of the parts changes nothing but
// rounding.
func TestCurrentsAddUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r, seed := drawn(t)
		n := craft(r, 3+r.IntN(40))
		a, err := n.Solve()
		require.NoError(t, err, "seed %d", seed)
		assert.Less(t, a.Residual, 1e-9, "seed %d", seed)
		r.Shuffle(len(n.Branches), func(i, j int) { n.Branches[i], n.Branches[j] = n.Branches[j], n.Branches[i] })
		r.Shuffle(len(n.Loads), func(i, j int) { n.Loads[i], n.Loads[j] = n.Loads[j], n.Loads[i] })
		b, err := n.Solve()
		require.NoError(t, err)
		for i := range a.Volts {
			assert.InDelta(t, a.Volts[i], b.Volts[i], 1e-9)
		}
	})
}

// One more load never raises a voltage of a network that loads alone draw upon.
func TestAnotherLoadRaisesNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r, _ := drawn(t)
		n := craft(r, 3+r.IntN(20))
		n.Converters = nil
		for i := range n.Loads { // one return path, so that every voltage is above the same point
			n.Loads[i].Minus = 0
		}
		before, err := n.Solve()
		require.NoError(t, err)
		n.Loads = append(n.Loads, Load{Plus: n.Branches[r.IntN(len(n.Branches))].To, Amps: 5})
		after, err := n.Solve()
		require.NoError(t, err)
		for i := range before.Volts {
			assert.LessOrEqual(t, after.Volts[i], before.Volts[i]+1e-9)
		}
	})
}

// All powers, currents and conductances scaled alike leave the voltages alone.
func TestScalingLeavesVoltages(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r, _ := drawn(t)
		n := craft(r, 3+r.IntN(20))
		before, err := n.Solve()
		require.NoError(t, err)
		const by = 3
		for i := range n.Branches {
			n.Branches[i].Ohm /= by
		}
		for i := range n.Sources {
			n.Sources[i].Ohm /= by
		}
		for i := range n.Loads {
			l := &n.Loads[i]
			l.Amps, l.Watts, l.Siemens = l.Amps*by, l.Watts*by, l.Siemens*by
		}
		for i := range n.Converters {
			n.Converters[i].Idle *= by
		}
		after, err := n.Solve()
		require.NoError(t, err)
		for i := range before.Volts {
			assert.InDelta(t, before.Volts[i], after.Volts[i], 1e-8)
		}
	})
}

// A source less never makes a fault worse.
func TestLessSourcesLessFault(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r, _ := drawn(t)
		n := craft(r, 3+r.IntN(20))
		full, less := Linear{Nodes: n.Nodes, Branches: n.Branches}, Linear{Nodes: n.Nodes, Branches: n.Branches}
		for i, s := range n.Sources {
			full.Ties = append(full.Ties, Tie{s.Plus, s.Ohm})
			if i > 0 {
				less.Ties = append(less.Ties, Tie{s.Plus, s.Ohm})
			}
		}
		a, b := full.Solve(), less.Solve()
		for i := range n.Nodes {
			x, ok1 := a.Resistance(i)
			y, ok2 := b.Resistance(i)
			if ok1 && ok2 {
				assert.LessOrEqual(t, x, y*(1+1e-9))
			}
			assert.True(t, ok1 || !ok2)
		}
	})
}

// A network that makes no sense is answered, not solved.
func TestImpossible(t *testing.T) {
	for _, n := range []Network{
		{Nodes: 1, Branches: []Branch{{0, 1, 1}}},
		{Nodes: 2, Branches: []Branch{{0, 1, 0}}},
		{Nodes: 2, Sources: []Source{{0, 1, 12, 0}}},
		{Nodes: 2, Loads: []Load{{Plus: 2}}},
		{Nodes: 2, Held: []Hold{{-1, 0}}},
		{Nodes: 2, Converters: []Converter{{InPlus: 1, OutPlus: 1}}},
	} {
		_, err := n.Solve()
		assert.Error(t, err)
	}
	dead := Network{Nodes: 3, Held: []Hold{{0, 0}}, Loads: []Load{{Plus: 1, Watts: 10}, {Plus: 2, Amps: 3}}}
	r, err := dead.Solve()
	require.NoError(t, err, "what nothing feeds takes nothing")
	assert.Equal(t, []bool{true, false, false}, r.Live)
	assert.Zero(t, r.Residual)
}

func BenchmarkSolve5000(b *testing.B) {
	n := craft(rand.New(rand.NewPCG(1, 2)), 5000)
	for i := range n.Loads {
		n.Loads[i].Amps /= 1000
		n.Loads[i].Watts /= 1000
		n.Loads[i].Siemens /= 1000
	}
	for b.Loop() {
		_, err := n.Solve()
		require.NoError(b, err)
	}
}
