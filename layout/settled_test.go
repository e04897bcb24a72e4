package layout_test

import (
	"cmp"
	"fmt"
	"math/rand"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strake/layout"
	"strake/layout/geom"
)

// drawnOrders are the sequences along all bars of a drawing.
func drawnOrders(g layout.Graph, s layout.Sheet) []layout.Order {
	type hung struct{ node, x int }
	along := make([][]hung, len(g.Nodes))
	note := func(bar, other layout.End, x int) {
		if g.Nodes[bar.Node].Form != layout.Symbol && bar.Row < 0 {
			along[bar.Node] = append(along[bar.Node], hung{other.Node, x})
		}
	}
	for _, p := range s.Wires {
		w := g.Wires[p.Wire]
		note(w.From, w.To, p.Axis(false))
		note(w.To, w.From, p.Axis(true))
	}
	var out []layout.Order
	for n, list := range along {
		slices.SortStableFunc(list, func(a, b hung) int { return cmp.Compare(a.x, b.x) })
		o := layout.Order{Bar: n}
		for _, h := range list {
			if !slices.Contains(o.Nodes, h.node) {
				o.Nodes = append(o.Nodes, h.node)
			}
		}
		if len(o.Nodes) > 1 {
			out = append(out, o)
		}
	}
	return out
}

// places are where the nodes stand, by their names.
func places(g layout.Graph, s layout.Sheet) map[string]geom.Point {
	out := map[string]geom.Point{}
	for _, p := range s.Symbols {
		out[g.Nodes[p.Node].Name] = p.At
	}
	for _, p := range s.Bars {
		out[g.Nodes[p.Node].Name] = geom.Point{X: (p.Line[0].X + p.Line[1].X) / 2, Y: p.Line[0].Y}
	}
	for _, p := range s.Boards {
		out[g.Nodes[p.Node].Name] = p.Rail[0]
	}
	return out
}

// movedFar is the share, in hundredths, of what is in both drawings and stands
// more than ten millimetres from where it was.
func movedFar(before, after map[string]geom.Point) int {
	all, far := 0, 0
	for name, p := range before {
		if q, ok := after[name]; ok {
			all++
			if d := p.Add(geom.Point{X: -q.X, Y: -q.Y}); d.X*d.X+d.Y*d.Y > 100*geom.MM*geom.MM {
				far++
			}
		}
	}
	return 100 * far / max(1, all)
}

func median(list []int) int {
	slices.Sort(list)
	return list[len(list)/2]
}

// Where the orders along the bars are settled, a small change of the graph
// changes the drawing little.
func TestSettledDrawingsHardlyMove(t *testing.T) {
	for _, size := range []string{"M", "H"} {
		var row, feeder []int
		for seed := int64(21); seed <= last(28, 22); seed++ {
			g := sizes[size](seed)
			f := fields[size]
			f.Width, f.Height = f.Width*115/100, f.Height*115/100
			g.Orders = drawnOrders(g, layout.Layout(g, f, layout.Quick).Sheets[0])
			settled := layout.Layout(g, f, layout.Quick)
			require.Empty(t, layout.Verify(g, settled), "%s%d", size, seed)
			before := places(g, settled.Sheets[0])
			m := &maker{r: rand.New(rand.NewSource(seed)), n: 1000}
			var boards, bars []int
			for n, node := range g.Nodes {
				switch node.Form {
				case layout.Board:
					boards = append(boards, n)
				case layout.Bar:
					bars = append(bars, n)
				}
			}

			more := g
			more.Nodes = slices.Clone(g.Nodes)
			board := &more.Nodes[boards[m.r.Intn(len(boards))]]
			last := board.Rows[len(board.Rows)-1]
			last.Name, last.Out = fmt.Sprint(len(board.Rows)+1), false
			board.Rows = append(slices.Clone(board.Rows), last)
			d := layout.Layout(more, f, layout.Quick)
			require.Empty(t, layout.Verify(more, d), "%s%d", size, seed)
			row = append(row, movedFar(before, places(more, d.Sheets[0])))

			m.g = g
			m.g.Nodes, m.g.Wires = slices.Clone(g.Nodes), slices.Clone(g.Wires)
			m.chain(at(bars[m.r.Intn(len(bars))]), none, 2, false, m.fuse(), m.load())
			d = layout.Layout(m.g, f, layout.Quick)
			require.Empty(t, layout.Verify(m.g, d), "%s%d", size, seed)
			feeder = append(feeder, movedFar(before, places(m.g, d.Sheets[0])))
			x := map[layout.End]int{} // of each wire on each bar
			for _, p := range d.Sheets[0].Wires {
				w := m.g.Wires[p.Wire]
				x[layout.End{Node: w.From.Node, Port: w.To.Node}] = p.Axis(false)
				x[layout.End{Node: w.To.Node, Port: w.From.Node}] = p.Axis(true)
			}
			for _, o := range g.Orders {
				if size != "M" {
					break // what has two of everything may part from an order at a bar with two feeds
				}
				for k := 1; k < len(o.Nodes); k++ {
					assert.LessOrEqual(t, x[layout.End{Node: o.Bar, Port: o.Nodes[k-1]}], x[layout.End{Node: o.Bar, Port: o.Nodes[k]}],
						"%s%d: along %s %s and %s have changed places", size, seed, g.Nodes[o.Bar].Name, g.Nodes[o.Nodes[k-1]].Name, g.Nodes[o.Nodes[k]].Name)
				}
			}

			assert.Equal(t, settled, layout.Layout(g, f, layout.Quick), "taken out again, all is as it was")
		}
		t.Logf("%s: a row more moves %v, a feeder more %v in a hundred", size, row, feeder)
		if !testing.Short() { // no medians of so few
			assert.LessOrEqual(t, median(row), 5, "%s: a row more", size)
			assert.LessOrEqual(t, median(feeder), 25, "%s: a feeder more", size)
		}
	}
}
