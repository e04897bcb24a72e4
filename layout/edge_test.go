package layout_test

import (
	"math/rand"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strake/layout"
	"strake/layout/geom"
)

func newMaker() *maker { return &maker{r: rand.New(rand.NewSource(1))} }

// edges are graphs that no craft has, or hardly one.
var edges = map[string]func(m *maker){
	"nothing":        func(m *maker) {},
	"one symbol":     func(m *maker) { m.fuse() },
	"a lone bar":     func(m *maker) { m.bar("B") },
	"a lone board":   func(m *maker) { m.board(3) },
	"an empty board": func(m *maker) { m.board(0) },
	"parallel wires": func(m *maker) {
		a, b := m.bar("A"), m.bar("B")
		for i := 0; i < 5; i++ {
			m.wire(at(a), at(b), 2, 1, false)
		}
	},
	"parallel wires between symbols": func(m *maker) {
		a, b := m.fuse(), m.fuse()
		for i := 0; i < 4; i++ {
			m.wire(at(a), at(b), 1, 1, false)
		}
	},
	"wires to themselves": func(m *maker) {
		a, b, c := m.bar("A"), m.fuse(), m.board(2)
		m.wire(at(a), at(a), 1, 1, false)
		m.wire(at(b), at(b), 1, 1, false)
		m.wire(at(c), at(c), 1, 1, true)
	},
	"a ring of fuses": func(m *maker) {
		a, b, c := m.fuse(), m.fuse(), m.fuse()
		m.wire(at(a), at(b), 1, 1, false)
		m.wire(at(b), at(c), 1, 1, false)
		m.wire(at(c), at(a), 1, 1, false)
	},
	"a symbol with nine ports": func(m *maker) {
		b := m.box(1500, 1000, 9)
		for i := 0; i < 9; i++ {
			e := layout.End{Node: b, Port: i, Row: -1}
			if i%2 == 0 {
				m.chain(none, e, i, false, m.source(), m.fuse())
			} else {
				m.chain(e, none, i, false, m.fuse(), m.load())
			}
		}
	},
	"sixty ways on one bar": func(m *maker) {
		b := m.bar("B")
		for i := 0; i < 60; i++ {
			m.chain(at(b), none, 1, false, m.fuse(), m.load())
		}
	},
	"a board of sixty rows": func(m *maker) {
		b := m.board(60)
		m.chain(none, at(b), 1, false, m.battery(), m.fuse())
	},
	"forty systems": func(m *maker) {
		for i := 0; i < 40; i++ {
			m.chain(none, none, 1, false, m.battery(), m.fuse(), m.load())
		}
	},
	"a note wider than the sheet": func(m *maker) {
		f := m.fuse()
		m.g.Nodes[f].Note.Beside.W = 90000
		b := m.bar("B")
		m.g.Nodes[b].Note.Over.W = 70000
		m.chain(none, at(b), 1, false, m.battery(), f)
	},
	"three bars tied in a ring": func(m *maker) {
		a, b, c := m.bar("A"), m.bar("B"), m.bar("C")
		for _, n := range []int{a, b, c} {
			m.chain(none, at(n), 2, false, m.battery(), m.fuse())
			m.chain(at(n), none, 2, false, m.fuse(), m.load())
		}
		m.chain(at(a), at(b), 0, true, m.fuse(), m.isolator(), m.fuse())
		m.chain(at(b), at(c), 0, true, m.fuse(), m.isolator(), m.fuse())
		m.chain(at(c), at(a), 0, true, m.fuse(), m.isolator(), m.fuse())
	},
	"a load with two feeds": func(m *maker) {
		a, b, l := m.bar("A"), m.bar("B"), m.load()
		m.chain(at(a), at(l), 1, false, m.fuse())
		m.chain(at(b), at(l), 1, false, m.fuse())
	},
}

func TestEdgesHoldInvariants(t *testing.T) {
	for name, build := range edges {
		t.Run(name, func(t *testing.T) {
			m := newMaker()
			build(m)
			for _, f := range []layout.Field{a3, {Width: 5000, Height: 3000}, {}} {
				d := layout.Layout(m.g, f, layout.Quick)
				keep(t, name+".svg", m.g, d)
				require.Empty(t, layout.Verify(m.g, d))
			}
		})
	}
}

func TestTiesLieLevel(t *testing.T) {
	m := newMaker()
	a, b := m.bar("A"), m.bar("B")
	for _, n := range []int{a, b} {
		m.chain(none, at(n), 2, false, m.battery(), m.fuse())
		m.chain(at(n), none, 2, false, m.fuse(), m.load())
		m.chain(at(n), none, 2, false, m.fuse(), m.load())
	}
	m.chain(at(a), at(b), 0, true, m.fuse(), m.isolator(), m.fuse())
	d := layout.Layout(m.g, a3, layout.Quick)
	require.Empty(t, layout.Verify(m.g, d))
	s := d.Sheets[0]
	assert.Equal(t, s.Bars[0].Line[0].Y, s.Bars[1].Line[0].Y)
	assert.Zero(t, s.Figures.Bends)
	assert.Zero(t, s.Figures.Crossings)
	level := 0
	for _, p := range s.Symbols {
		if p.Turn == layout.Level || p.Turn == layout.LevelBack {
			level++
		}
	}
	assert.Equal(t, 3, level)
}

func TestTwinsStandAlike(t *testing.T) {
	m := newMaker()
	b := m.bank(4)
	m.chain(at(b), none, 5, false, m.fuse(), m.load())
	d := layout.Layout(m.g, a3, layout.Good)
	require.Empty(t, layout.Verify(m.g, d))
	var tops []geom.Point
	for _, p := range d.Sheets[0].Symbols {
		if m.g.Nodes[p.Node].Name[:2] == "BT" {
			assert.Equal(t, layout.Inverted, p.Turn)
			tops = append(tops, p.At)
		}
	}
	require.Len(t, tops, 4)
	for _, p := range tops {
		assert.Equal(t, tops[0].Y, p.Y)
	}
}

func TestReservedPlacesStayFree(t *testing.T) {
	f := fields["M"]
	f.Reserved = []geom.Rect{{X0: f.Width - 4000, Y0: 0, X1: f.Width, Y1: 5000}}
	for seed := int64(1); seed <= last(3, 1); seed++ {
		g := sizes["S"](seed)
		d := layout.Layout(g, f, layout.Good)
		require.Empty(t, layout.Verify(g, d))
		if !d.Fits {
			continue
		}
		for _, p := range layout.Inks(g, d.Sheets[0]) {
			assert.False(t, p.Meets(f.Reserved[0]), "%s stands on a reserved place", p.What)
		}
	}
}

func TestSameGraphSameDrawing(t *testing.T) {
	g := sizes["M"](3)
	assert.Equal(t, layout.Layout(g, a3, layout.Quick), layout.Layout(g, a3, layout.Quick))
}

func FuzzAnyGraph(f *testing.F) {
	f.Add(int64(1), uint8(5), uint8(8))
	f.Add(int64(64), uint8(7), uint8(8))
	f.Fuzz(func(t *testing.T, seed int64, nodes, wires uint8) {
		g := wild(seed, 1+int(nodes)%20, int(wires)%30)
		require.Empty(t, layout.Verify(g, layout.Layout(g, a3, layout.Quick)))
	})
}

// Verify must see what is wrong.
func TestVerifySeesFaults(t *testing.T) {
	g := sizes["S"](3)
	spoil := map[string]func(s *layout.Sheet){
		"a symbol moved":   func(s *layout.Sheet) { s.Symbols[3].At.X += 300 },
		"a symbol lost":    func(s *layout.Sheet) { s.Symbols = s.Symbols[1:] },
		"a wire lost":      func(s *layout.Sheet) { s.Wires = s.Wires[1:] },
		"a wire twice":     func(s *layout.Sheet) { s.Wires = append(s.Wires, s.Wires[0]) },
		"a wire too short": func(s *layout.Sheet) { s.Wires[2].Points[0].Y += 50 },
		"a bar moved":      func(s *layout.Sheet) { s.Bars[0].Line[0].Y += 400; s.Bars[0].Line[1].Y += 400 },
		"a name on a bar":  func(s *layout.Sheet) { s.Bars[0].Name.Y = s.Bars[0].Line[0].Y - 100 },
		"a board moved":    func(s *layout.Sheet) { s.Boards[0].Rail[0].X += 200; s.Boards[0].Rail[1].X += 200 },
		"a wrong count":    func(s *layout.Sheet) { s.Figures.Bends++ },
	}
	for name, f := range spoil {
		d := layout.Layout(g, fields["S"], layout.Quick)
		require.Empty(t, layout.Verify(g, d))
		f(&d.Sheets[0])
		assert.NotEmpty(t, layout.Verify(g, d), name)
	}
}

// A wire beside the end of a bar that is not its own reads as joined to it.
func TestVerifySeesWiresNearTheEndOfABar(t *testing.T) {
	g := layout.Graph{
		Nodes: []layout.Node{{Name: "B", Form: layout.Bar}, {Name: "S"}, {Name: "T"}},
		Wires: []layout.Wire{{Name: "W", From: at(1), To: at(2)}},
	}
	said := func(by int) string {
		return strings.Join(layout.Verify(g, layout.Drawing{Sheets: []layout.Sheet{{
			Bars:  []layout.PlacedBar{{Line: [2]geom.Point{{Y: 500}, {X: 1000, Y: 500}}}},
			Wires: []layout.PlacedWire{{Points: []geom.Point{{X: 1000 + by}, {X: 1000 + by, Y: 1000}}}},
		}}}), "\n")
	}
	assert.Contains(t, said(90), "beside the end of B")
	assert.NotContains(t, said(110), "beside the end of B")
}
