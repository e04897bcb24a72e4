// The demand network of every example and of random craft, node by node,
// against an independent circuit simulator.
package main

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strake/lang"
	"strake/lang/size"
	"strake/lang/solve"
)

// netlist writes a network for the simulator, each converter doing what it was
// found to do: holding its voltage, giving its limit, or idle. What has no way to
// a source is tied to the reference, as the simulator wants it.
func netlist(n solve.Network, r *solve.Result) string {
	var b strings.Builder
	fmt.Fprintln(&b, "* demand network of a craft")
	node := func(i int) string {
		if i == 0 {
			return "0"
		}
		return fmt.Sprintf("n%d", i)
	}
	across := func(plus, minus int) string {
		if minus == 0 {
			return fmt.Sprintf("V(%s)", node(plus))
		}
		return fmt.Sprintf("V(%s,%s)", node(plus), node(minus))
	}
	for i, x := range n.Branches {
		fmt.Fprintf(&b, "R%d %s %s %.17g\n", i, node(x.From), node(x.To), x.Ohm)
	}
	for i, x := range n.Sources {
		fmt.Fprintf(&b, "VS%d s%d %s DC %.17g\nRS%d s%d %s %.17g\n", i, i, node(x.Minus), x.Volt, i, i, node(x.Plus), x.Ohm)
	}
	for i, x := range n.Held {
		if x.Node != 0 {
			fmt.Fprintf(&b, "VH%d %s 0 DC %.17g\n", i, node(x.Node), x.Volt)
		}
	}
	for i, x := range n.Loads {
		if r.Live[x.Plus] {
			fmt.Fprintf(&b, "BL%d %s %s I=%.17g+%.17g/%s+%.17g*%s\n", i, node(x.Plus), node(x.Minus), x.Amps, x.Watts, across(x.Plus, x.Minus), x.Siemens, across(x.Plus, x.Minus))
		}
	}
	for i, x := range n.Converters {
		given := ""
		switch {
		case r.Limited[i]:
			fmt.Fprintf(&b, "IC%d 0 %s DC %.17g\n", i, node(x.OutPlus), x.Limit)
			given = fmt.Sprintf("%.17g", x.Limit)
		case r.Converters[i] != 0 || r.Volts[x.OutPlus] == x.Volt:
			fmt.Fprintf(&b, "VC%d %s 0 DC %.17g\n", i, node(x.OutPlus), x.Volt)
			given = fmt.Sprintf("(-I(VC%d))", i)
		}
		if given != "" && x.InPlus != x.InMinus {
			fmt.Fprintf(&b, "BC%d %s 0 I=(V(%s)*%s/%.17g+%.17g)/%s\n", i, node(x.InPlus), node(x.OutPlus), given, x.Efficiency, x.Idle, across(x.InPlus, x.InMinus))
		}
	}
	var starts, prints strings.Builder
	for i := 1; i < n.Nodes; i++ {
		if !r.Live[i] {
			fmt.Fprintf(&b, "RT%d %s 0 1\n", i, node(i))
			continue
		}
		fmt.Fprintf(&starts, ".nodeset v(%s)=%.2g\n", node(i), r.Volts[i]) // rounded: the simulator finds its own way from near
		fmt.Fprintf(&prints, "print v(%s)\n", node(i))
	}
	fmt.Fprintf(&b, "%s.options reltol=1e-9 abstol=1e-12 vntol=1e-10 itl1=500\n.control\nset numdgt=12\nop\n%squit 0\n.endc\n.end\n", starts.String(), prints.String())
	return b.String()
}

var simulated = regexp.MustCompile(`(?m)^v\(n(\d+)\) = (\S+)`)

func TestDemandAgainstSimulator(t *testing.T) {
	program, err := exec.LookPath("ngspice")
	if err != nil {
		if os.Getenv("CI") != "" {
			t.Fatal("ngspice is not installed, and in continuous integration it has to be")
		}
		t.Skip("ngspice is not installed: the independent comparison was not made")
	}
	compared := 0
	compare := func(name, text string) {
		result := compile(name, text)
		require.False(t, result.HasErrors(), "%s: %v", name, result.Findings)
		for _, s := range solvedOf(result) {
			if s.Refused != "" {
				continue
			}
			file := filepath.Join(t.TempDir(), "craft.cir")
			require.NoError(t, os.WriteFile(file, []byte(netlist(s.Network, s.Result)), 0o600))
			out, err := exec.Command(program, "-b", file).CombinedOutput()
			require.NoError(t, err, "%s: %s", name, out)
			theirs := map[int]float64{}
			for _, m := range simulated.FindAllStringSubmatch(string(out), -1) {
				k, _ := strconv.Atoi(m[1])
				theirs[k], err = strconv.ParseFloat(m[2], 64)
				require.NoError(t, err)
			}
			for _, n := range s.Nodes {
				if !n.Voltage.Known {
					continue
				}
				v, ok := theirs[n.Number]
				require.True(t, ok, "%s, %s: the simulator gave no voltage for %s\n%.2000s", name, s.Name, n.Node, out)
				assert.InDelta(t, v, float64(n.Voltage.Value), 1e-6*max(1, v), "%s, %s, %s", name, s.Name, n.Node)
				compared++
			}
		}
	}
	for name, text := range exampleTexts(t) {
		if !strings.Contains(name, "-mistakes") {
			compare(name, text)
		}
	}
	crafts := uint64(200)
	if testing.Short() {
		crafts = 3
	}
	for seed := range crafts {
		text := randomCraft(seed, 12+int(seed%8)*9)
		if seed%2 == 1 { // the others have everything on
			text += "condition \"Some\": M1 60 %, DB1 on, batteries full\ncondition \"Board\": DB1 40 W, M1 gives 500 W\n"
		}
		compare(fmt.Sprintf("random craft of seed %d", seed), text)
	}
	assert.Greater(t, compared, 1000, "nodes were compared")
	t.Logf("%d nodes compared", compared)
}

// solvedOf is the conditions of a craft, and its charging situations.
func solvedOf(r lang.Result) []size.Solved {
	list := size.Conditions(r.System, r.Plan)
	for _, s := range size.Charging(r.System, r.Plan, "fully-equipped") {
		list = append(list, s.Solved)
	}
	return list
}
