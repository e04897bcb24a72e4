package layout_test

import (
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strake/layout"
)

var a3 = layout.Field{Width: 39000, Height: 18900}

// fields are papers on which the sizes should find room.
var fields = map[string]layout.Field{
	"S": {Width: 39000, Height: 18900},
	"M": {Width: 39000, Height: 23500},
	"H": {Width: 57000, Height: 38000},
	"L": {Width: 82000, Height: 54000},
}

// last is the last seed of a test: an early one under the race detector, for which
// a few graphs do.
func last(seed, early int64) int64 {
	if testing.Short() {
		return early
	}
	return seed
}

func TestCraftHoldInvariants(t *testing.T) {
	for _, size := range []string{"S", "M", "H", "L"} {
		for seed := int64(1); seed <= last(8, 2); seed++ {
			t.Run(fmt.Sprintf("%s%d", size, seed), func(t *testing.T) {
				g := sizes[size](seed)
				d := layout.Layout(g, fields[size], effort())
				s := d.Sheets[0]
				t.Logf("%3d symbols %3d crossings %3d bends %d x %d fits %v", len(g.Nodes), s.Figures.Crossings, s.Figures.Bends, s.Bounds.X1/100, s.Bounds.Y1/100, d.Fits)
				keep(t, fmt.Sprintf("%s%d.svg", size, seed), g, d)
				require.Empty(t, layout.Verify(g, d))
			})
		}
	}
}

func TestAnyGraphHoldsInvariants(t *testing.T) {
	for seed := int64(1); seed <= last(250, 60); seed++ {
		g := wild(seed, 3+int(seed)%12, int(seed*7)%20)
		d := layout.Layout(g, a3, layout.Quick)
		if bad := layout.Verify(g, d); !assert.Empty(t, bad, "seed %d", seed) {
			keep(t, fmt.Sprintf("wild%d.svg", seed), g, d)
			return
		}
	}
}

// With an order the columns of a bar stand in it.
func TestOrderIsHeld(t *testing.T) {
	for seed := int64(1); seed <= 6; seed++ {
		g := sizes["M"](seed)
		var bar int
		for i, n := range g.Nodes {
			if n.Form == layout.Bar && n.Name[:2] == "PB" {
				bar = i
				break
			}
		}
		var first []int // the devices under the bar, backwards
		for _, w := range g.Wires {
			if w.From.Node == bar && g.Nodes[w.To.Node].Form == layout.Symbol && !w.Tie {
				first = append([]int{w.To.Node}, first...)
			}
		}
		g.Orders = []layout.Order{{Bar: bar, Nodes: first}}
		d := layout.Layout(g, fields["M"], layout.Quick)
		require.Empty(t, layout.Verify(g, d))
		x := map[int]int{}
		for _, p := range d.Sheets[0].Symbols {
			x[p.Node] = p.At.X
		}
		for i := 1; i < len(first); i++ {
			assert.Less(t, x[first[i-1]], x[first[i]], "seed %d: %s, %s", seed, g.Nodes[first[i-1]].Name, g.Nodes[first[i]].Name)
		}
	}
}

// keep writes a picture when STRAKE_PICTURES names a directory.
func keep(t *testing.T, name string, g layout.Graph, d layout.Drawing) {
	if dir := os.Getenv("STRAKE_PICTURES"); dir != "" {
		require.NoError(t, os.WriteFile(filepath.Join(dir, name), picture(g, d), 0o644))
	}
}

func effort() layout.Effort {
	if os.Getenv("STRAKE_PICTURES") != "" {
		return layout.Good
	}
	return layout.Quick
}

// The figures that drawings of unseen graphs are held to: medians of crossings
// and bends of the good form, of so many seeds that one drawing does not decide.
func TestFigures(t *testing.T) {
	for _, c := range []struct {
		size             string
		crossings, bends int
	}{{"M", 0, 3}, {"H", 5, 7}, {"L", 2, 6}} {
		t.Run(c.size, func(t *testing.T) {
			t.Parallel()
			var crossings, bends []int
			for seed := int64(101); seed <= last(116, 101); seed++ {
				g := sizes[c.size](seed)
				d := layout.Layout(g, fields[c.size], layout.Good)
				require.Empty(t, layout.Verify(g, d), "%s%d", c.size, seed)
				crossings = append(crossings, d.Sheets[0].Figures.Crossings)
				bends = append(bends, d.Sheets[0].Figures.Bends)
			}
			t.Logf("crossings %v, bends %v", crossings, bends)
			if !testing.Short() { // no medians of so few
				assert.LessOrEqual(t, median(crossings), c.crossings, "crossings")
				assert.LessOrEqual(t, median(bends), c.bends, "bends")
			}
		})
	}
}
