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

// small is a random craft as its statements: packs of unlike resistance on a bar,
// further bars with a ring now and then, loads of watts and of amperes, a converter to
// a board of 12 V, a charger from the shore. All that conducts is there times over:
// conductors, packs and what is taken. Packs and the charger stand first.
func small(r *rand.Rand, times int) (sources, rest []string) {
	for i := range 2 + r.IntN(4) {
		sources = append(sources, fmt.Sprintf("battery B%d in main at cool: lfp, 51.2 V, %d Ah, resistance %g mohm\nrun B%d [%.1f m %d parallel 50 mm2] fuse FB%d at cool: %d A, class t [0.5 m %d parallel 50 mm2] P0\n",
			i, 100*times, (8+20*r.Float64())/float64(times), i, 0.3+r.Float64(), times, i, 125*times, times))
	}
	sources = append(sources, fmt.Sprintf("run inlet SH1 in mains at cool: 16 A [link] breaker FS at cool: 16 A [link] charger CH1 at cool: 48 V, %d A, efficiency 0.9, isolated, one way [link] fuse FC at cool: %d A, class t [2 m %d parallel 16 mm2] P0\n", 30*times, 40*times, times))
	rest = append(rest, fmt.Sprintf("bus P0 in main at cool: %d A\n", 800*times))
	bars := []string{"P0"}
	wire := func() string {
		return fmt.Sprintf("[%.1f m %d parallel %s mm2]", 0.5+6*r.Float64(), times, []string{"16", "25", "35", "50"}[r.IntN(4)])
	}
	for i := range 3 + r.IntN(5) {
		from := bars[r.IntN(len(bars))]
		switch r.IntN(4) {
		case 0:
			rest = append(rest, fmt.Sprintf("run %s [link] fuse F%d at cool: %d A, class t %s bus P%d in main at cool: %d A\n", from, i, 100*times, wire(), i+1, 200*times))
			bars = append(bars, fmt.Sprintf("P%d", i+1))
		case 1:
			rest = append(rest, fmt.Sprintf("run %s [link] fuse F%d at cool: %d A, class t %s load L%d at cool: %d A\n", from, i, 60*times, wire(), i, (1+r.IntN(30))*times))
		default:
			rest = append(rest, fmt.Sprintf("run %s [link] fuse F%d at cool: %d A, class t %s load L%d at cool: %d W\n", from, i, 60*times, wire(), i, (50+r.IntN(900))*times))
		}
	}
	if last := bars[len(bars)-1]; last != "P0" && r.IntN(2) == 0 {
		rest = append(rest, fmt.Sprintf("run P0 [link] fuse FR at cool: %d A, class t %s fuse FQ at cool: %d A, class t [link] %s\n", 100*times, wire(), 100*times, last))
	}
	return sources, append(rest,
		fmt.Sprintf("run P0 [link] fuse FV at cool: %d A, class t %s converter CV1 at cool: 12 V, %d A, efficiency 0.92, isolated, one way %s bus PL in low at cool: %d A\n", 40*times, wire(), 60*times, wire(), 100*times),
		fmt.Sprintf("run PL [link] fuse FL at cool: %d A, class t %s load LL at cool: %d W\n", 30*times, wire(), (20+r.IntN(200))*times))
}

// everything is a craft with all of it on.
func everything(t *testing.T, statements []string) size.Solved {
	t.Helper()
	s := solvedAs(t, strings.Join(statements, ""), size.AllOn)
	require.Empty(t, s.Refused)
	require.Empty(t, s.Missing)
	return s
}

// A source less never raises a fault level, of any node of a whole craft.
func TestAnySourceLess(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		r := rand.New(rand.NewPCG(rapid.Uint64().Draw(rt, "seed"), 5))
		sources, rest := small(r, 1)
		without := r.IntN(len(sources))
		all := worked(t, strings.Join(append(append([]string(nil), sources...), rest...), ""))
		fewer := append(append([]string(nil), sources[:without]...), sources[without+1:]...)
		less := worked(t, strings.Join(append(fewer, rest...), ""))
		most := map[string]size.NodeFault{}
		for _, f := range all.Faults {
			most[f.Node] = f
		}
		compared := 0
		for _, f := range less.Faults {
			before, ok := most[f.Node]
			require.True(t, ok, f.Node)
			if f.Max.Known {
				assert.LessOrEqual(t, float64(f.Max.Value), float64(before.Max.Value)*(1+1e-9), "%s without source %d", f.Node, without)
				compared++
			}
		}
		assert.Greater(t, compared, 10)
	})
}

// One load more never raises a voltage, of any node of a whole craft: its conductors
// warm up besides.
func TestOneLoadMore(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		sources, rest := small(rand.New(rand.NewPCG(rapid.Uint64().Draw(rt, "seed"), 6)), 1)
		statements := append(sources[:len(sources)-1], rest...) // a charger holds its own voltage
		takes := rapid.SampledFrom([]string{"400 W", "15 A"}).Draw(rt, "takes")
		before := everything(t, statements)
		after := everything(t, append(statements, "run P0 [link] fuse FX at cool: 60 A, class t [3 m 16 mm2] load LX at cool: "+takes+"\n"))
		volts := map[string]float64{}
		for _, n := range after.Nodes {
			volts[n.Node] = float64(n.Voltage.Value)
		}
		for _, n := range before.Nodes {
			require.True(t, n.Voltage.Known, n.Node)
			assert.LessOrEqual(t, volts[n.Node], float64(n.Voltage.Value)+1e-9, n.Node)
		}
		assert.Less(t, volts["P0"], node(t, before, "P0"))
	})
}

// Everything three times over, what conducts and what is taken, leaves every voltage
// alone.
func TestEverythingThreeTimes(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		seed := rapid.Uint64().Draw(rt, "seed")
		solved := func(times int) size.Solved {
			sources, rest := small(rand.New(rand.NewPCG(seed, 7)), times)
			return everything(t, append(sources[:len(sources)-1], rest...))
		}
		once, thrice := solved(1), solved(3)
		require.Len(t, thrice.Nodes, len(once.Nodes))
		for i, n := range once.Nodes {
			require.True(t, n.Voltage.Known, n.Node)
			assert.InDelta(t, float64(n.Voltage.Value), float64(thrice.Nodes[i].Voltage.Value), 1e-8, n.Node)
		}
		for i, s := range once.Sources {
			assert.InDelta(t, 3*float64(s.Current.Value), float64(thrice.Sources[i].Current.Value), 1e-6, s.Of.Ref)
		}
	})
}
