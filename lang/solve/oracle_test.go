package solve

import (
	"fmt"
	"maps"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// netlist writes networks as one circuit for the simulator; the parts of each
// carry its number.
func netlist(crafts []Network) string {
	var b strings.Builder
	fmt.Fprintln(&b, "* networks of craft")
	var starts, prints []string
	for k, n := range crafts {
		node := func(i int) string {
			if i == 0 {
				return "0"
			}
			return fmt.Sprintf("n%d_%d", k, i)
		}
		for i, r := range n.Branches {
			fmt.Fprintf(&b, "R%d_%d %s %s %.17g\n", k, i, node(r.From), node(r.To), r.Ohm)
		}
		for i, s := range n.Sources {
			fmt.Fprintf(&b, "VS%d_%d s%d_%d %s DC %.17g\nRS%d_%d s%d_%d %s %.17g\n", k, i, k, i, node(s.Minus), s.Volt, k, i, k, i, node(s.Plus), s.Ohm)
		}
		for i, l := range n.Loads {
			v := fmt.Sprintf("V(%s,%s)", node(l.Plus), node(l.Minus))
			if l.Minus == 0 {
				v = fmt.Sprintf("V(%s)", node(l.Plus))
			}
			fmt.Fprintf(&b, "BL%d_%d %s %s I=%.17g+%.17g/%s+%.17g*%s\n", k, i, node(l.Plus), node(l.Minus), l.Amps, l.Watts, v, l.Siemens, v)
		}
		for i, c := range n.Converters {
			fmt.Fprintf(&b, "VC%d_%d %s 0 DC %.17g\n", k, i, node(c.OutPlus), c.Volt)
			fmt.Fprintf(&b, "BC%d_%d %s 0 I=(%.17g*(-I(VC%d_%d))/%.17g+%.17g)/V(%s)\n", k, i, node(c.InPlus), c.Volt, k, i, c.Efficiency, c.Idle, node(c.InPlus))
		}
		volt := nominal(n)
		for i := 1; i < n.Nodes; i++ {
			starts = append(starts, fmt.Sprintf(".nodeset v(%s)=%g", node(i), volt[i]))
			prints = append(prints, "print v("+node(i)+")")
		}
	}
	fmt.Fprintf(&b, "%s\n.options reltol=1e-9 abstol=1e-12 vntol=1e-10 itl1=500\n.control\nset numdgt=12\nop\n%s\nquit 0\n.endc\n.end\n",
		strings.Join(starts, "\n"), strings.Join(prints, "\n"))
	return b.String()
}

// nominal is where the simulator begins: each node at the voltage of its island,
// a return path at none.
func nominal(n Network) []float64 {
	volt := make([]float64, n.Nodes)
	reach := func(from int, v float64) {
		for queue := []int{from}; len(queue) > 0; queue = queue[1:] {
			if at := queue[0]; at != 0 && volt[at] == 0 {
				volt[at] = v
				for _, b := range n.Branches {
					switch at {
					case b.From:
						queue = append(queue, b.To)
					case b.To:
						queue = append(queue, b.From)
					}
				}
			}
		}
	}
	for _, s := range n.Sources {
		reach(s.Plus, s.Volt)
	}
	for _, c := range n.Converters {
		reach(c.OutPlus, c.Volt)
	}
	return volt
}

var printed = regexp.MustCompile(`(?m)^v\(n(\d+)_(\d+)\) = (\S+)`)

// Two hundred random craft and more, node by node, against an independent
// circuit simulator that gets the same circuits.
func TestAgainstSimulator(t *testing.T) {
	program, err := exec.LookPath("ngspice")
	if err != nil {
		if os.Getenv("CI") != "" {
			t.Fatal("ngspice is not installed, and in continuous integration it has to be")
		}
		t.Skip("ngspice is not installed: the independent comparison was not made")
	}
	seed := uint64(20261125)
	if s := os.Getenv("STRAKE_SEED"); s != "" {
		seed, err = strconv.ParseUint(s, 10, 64)
		require.NoError(t, err)
	}
	t.Logf("seed %d", seed)
	r := rand.New(rand.NewPCG(seed, 5))
	const batches, batch = 21, 10
	for k := range batches {
		var crafts []Network
		if k == 0 {
			for _, name := range slices.Sorted(maps.Keys(listed)) {
				n := listed[name]
				n.Held = []Hold{{0, 0}}
				crafts = append(crafts, n)
			}
		}
		for range batch {
			crafts = append(crafts, craft(r, 3+r.IntN(25)))
		}
		file := filepath.Join(t.TempDir(), "craft.cir")
		require.NoError(t, os.WriteFile(file, []byte(netlist(crafts)), 0o600))
		out, err := exec.Command(program, "-b", file).CombinedOutput()
		require.NoError(t, err, "%s", out)
		theirs := map[[2]int]float64{}
		for _, m := range printed.FindAllStringSubmatch(string(out), -1) {
			c, _ := strconv.Atoi(m[1])
			node, _ := strconv.Atoi(m[2])
			theirs[[2]int{c, node}], err = strconv.ParseFloat(m[3], 64)
			require.NoError(t, err)
		}
		for c, n := range crafts {
			ours, err := n.Solve()
			require.NoError(t, err, "batch %d, craft %d", k, c)
			for node := 1; node < n.Nodes; node++ {
				v, ok := theirs[[2]int{c, node}]
				require.True(t, ok, "the simulator gave no voltage: batch %d, craft %d, node %d\n%.2000s", k, c, node, out)
				assert.InDelta(t, v, ours.Volts[node], 1e-6*math.Abs(v)+1e-9, "batch %d, craft %d, node %d", k, c, node)
			}
		}
	}
}
