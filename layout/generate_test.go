package layout_test

import (
	"fmt"
	"math/rand"

	"strake/layout"
	"strake/layout/geom"
)

// maker builds graphs of the kinds that craft have: banks, boards, converters,
// ties, feedback and systems of their own.
type maker struct {
	g layout.Graph
	r *rand.Rand
	n int

	fixed bool // boxes have fixed ports
}

var none = layout.End{Node: -1, Port: -1, Row: -1}

func at(n int) layout.End { return layout.End{Node: n, Port: -1, Row: -1} }

func (m *maker) node(n layout.Node) int {
	m.n++
	n.Name = fmt.Sprintf("%s%d", n.Name, m.n)
	m.g.Nodes = append(m.g.Nodes, n)
	return len(m.g.Nodes) - 1
}

func (m *maker) note(lines int) layout.Note {
	return layout.Note{Beside: layout.Size{W: 900 + m.r.Intn(1200), H: 430 * lines}, Y: 50}
}

func (m *maker) symbol(name string, half, height, lines int) int {
	note := m.note(lines)
	note.X = half + 140
	note.Over, note.Under = layout.Size{W: note.Beside.W, H: 900}, layout.Size{}
	return m.node(layout.Node{Name: name, Box: geom.Rect{X0: -half, Y0: 0, X1: half, Y1: height},
		Level: geom.Rect{X0: 0, Y0: -half, X1: height, Y1: half}, Note: note})
}

func (m *maker) fuse() int    { return m.symbol("F", 125, 1000, 2) }
func (m *maker) battery() int { return m.symbol("BT", 375, 590, 1) }
func (m *maker) source() int  { return m.symbol("G", 500, 1000, 2) }
func (m *maker) load() int    { return m.symbol("M", 500, 1000, 2) }
func (m *maker) conv() int    { return m.symbol("T", 500, 1000, 2) }
func (m *maker) isolator() int {
	return m.symbol("Q", 275, 1000, 2)
}

func (m *maker) bar(name string) int {
	return m.node(layout.Node{Name: name, Form: layout.Bar, Note: layout.Note{Over: layout.Size{W: 1500 + m.r.Intn(1500), H: 500}}})
}

func (m *maker) board(rows int) int {
	n := layout.Node{Name: "DB", Form: layout.Board, Note: layout.Note{Over: layout.Size{W: 4500, H: 450}}}
	for i := 0; i < rows; i++ {
		w := 8000 + m.r.Intn(1800)
		h := 600
		if m.r.Intn(4) == 0 {
			w, h = 4500, 450
		}
		n.Rows = append(n.Rows, layout.Row{Name: fmt.Sprint(i + 1), Number: layout.Size{W: 300, H: 400}, Strip: layout.Size{W: w, H: h}, Axis: h - 150})
	}
	return m.node(n)
}

func (m *maker) box(w, h, ports int) int {
	n := layout.Node{Name: "INV", Box: geom.Rect{X0: -w / 2, Y0: 0, X1: w / 2, Y1: h}, Note: m.note(3)}
	n.Note.X = w/2 + 150
	for i := 0; i < ports; i++ {
		p := layout.Port{Side: layout.AnySide}
		if m.fixed {
			p = []layout.Port{{Side: layout.Top, At: -500, Fixed: true}, {Side: layout.Top, At: 500, Fixed: true},
				{Side: layout.Bottom, Fixed: true}, {Side: layout.LeftSide, At: 400, Fixed: true}, {Side: layout.RightSide, At: 600, Fixed: true}}[i%5]
		}
		n.Ports = append(n.Ports, p)
	}
	return m.node(n)
}

func (m *maker) wire(from, to layout.End, lines, weight int, tie bool) {
	note := layout.Note{}
	if lines > 0 {
		note = layout.Note{Beside: layout.Size{W: 1200 + m.r.Intn(900), H: 390*lines - 100}, X: 180, Y: 100,
			Under: layout.Size{W: 1800, H: 350}}
	}
	m.g.Wires = append(m.g.Wires, layout.Wire{Name: fmt.Sprintf("W%d", len(m.g.Wires)+1), From: from, To: to, Note: note, Least: 200, Weight: weight, Tie: tie})
}

// chain joins ends through devices.
func (m *maker) chain(from layout.End, to layout.End, weight int, tie bool, devs ...int) {
	last := from
	for i, d := range devs {
		if last.Node >= 0 {
			m.wire(last, at(d), []int{0, 2}[m.r.Intn(2)], weight, tie)
		}
		last = at(d)
		_ = i
	}
	if to.Node >= 0 {
		m.wire(last, to, 2, weight, tie)
	}
}

// bank gives a bar fed by parallel packs.
func (m *maker) bank(packs int) int {
	b := m.bar("PX")
	for i := 0; i < packs; i++ {
		m.chain(none, at(b), 5, false, m.battery(), m.fuse())
	}
	return b
}

// craft makes a whole system: one half or two, with AC, boards and small systems.
func craft(seed int64, halves, boards, rows, small int, standby bool) layout.Graph {
	m := &maker{r: rand.New(rand.NewSource(seed))}
	var mains []int
	acout := -1
	for h := 0; h < halves; h++ {
		bank := m.bank(2 + m.r.Intn(3))
		main := m.bar("PB")
		mains = append(mains, main)
		m.chain(at(bank), at(main), 9, false, m.fuse(), m.isolator())
		m.chain(none, at(main), 4, false, m.source(), m.isolator(), m.conv(), m.fuse())
		m.chain(at(main), none, 4, false, m.fuse(), m.load())
		if m.r.Intn(2) == 0 {
			m.chain(at(main), none, 4, false, m.isolator(), m.fuse(), m.load())
		}
		if h == 0 || standby {
			inv := m.box(1500, 1000, 3)
			m.chain(at(main), layout.End{Node: inv, Port: 0, Row: -1}, 5, false, m.fuse())
			m.chain(none, layout.End{Node: inv, Port: 1, Row: -1}, 3, false, m.source(), m.fuse(), m.isolator())
			if acout < 0 {
				acout = m.board(2 + m.r.Intn(4))
			}
			m.chain(layout.End{Node: inv, Port: 2, Row: -1}, at(acout), 4, false, m.fuse())
		}
	}
	if halves > 1 {
		m.chain(at(mains[0]), at(mains[1]), 0, true, m.fuse(), m.isolator(), m.fuse())
	}
	for b := 0; b < boards; b++ {
		db := m.board(rows/2 + m.r.Intn(rows))
		m.chain(at(mains[b%len(mains)]), at(db), 3, false, m.fuse(), m.conv())
		if standby || m.r.Intn(3) == 0 {
			m.chain(at(mains[(b+1)%len(mains)]), at(db), 3, false, m.fuse(), m.conv())
		}
		if m.r.Intn(3) == 0 {
			m.chain(at(db), none, 2, false, m.isolator(), m.load())
		}
		if m.r.Intn(3) == 0 {
			n := &m.g.Nodes[db]
			k := m.r.Intn(len(n.Rows))
			n.Rows[k].Out = true
			m.chain(layout.End{Node: db, Port: -1, Row: k}, none, 1, false, m.conv(), m.battery())
		}
	}
	st := m.bar("ST")
	m.chain(none, at(st), 3, false, m.battery(), m.isolator())
	m.chain(none, at(st), 2, false, m.source())
	m.chain(at(st), none, 3, false, m.load())
	m.chain(at(st), at(mains[0]), 1, false, m.fuse(), m.conv(), m.fuse())
	if acout >= 0 && m.r.Intn(2) == 0 {
		m.chain(at(acout), at(st), 0, false, m.fuse(), m.conv(), m.fuse())
	}
	for i := 0; i < small; i++ {
		m.chain(none, none, 1, false, m.battery(), m.battery(), m.fuse(), m.isolator(), m.load())
	}
	m.g.Blocks = []layout.Block{
		{Name: "symbols", Sizes: []layout.Size{{W: 5700, H: 8000}, {W: 9000, H: 5000}, {W: 4000, H: 12000}}},
		{Name: "lines", Sizes: []layout.Size{{W: 6000, H: 2200}, {W: 3000, H: 4400}}},
		{Name: "live", Sizes: []layout.Size{{W: 6500, H: 4500}}},
	}
	return m.g
}

// sizes are the graphs that the figures are held against.
var sizes = map[string]func(seed int64) layout.Graph{
	"S": func(s int64) layout.Graph { return craft(s, 1, 1, 5, 0, false) },
	"M": func(s int64) layout.Graph { return craft(s, 2, 2, 8, 1, false) },
	"H": func(s int64) layout.Graph { return craft(s, 2, 4, 8, 1, true) },
	"L": func(s int64) layout.Graph { return craft(s, 4, 10, 12, 3, false) },
}

// large are the graphs that growth is measured with, by how many nodes and rows
// of boards they have, about.
var large = map[int]func(seed int64) layout.Graph{
	25:   func(s int64) layout.Graph { return craft(s, 1, 1, 3, 0, false) },
	80:   func(s int64) layout.Graph { return craft(s, 2, 1, 6, 1, false) },
	300:  func(s int64) layout.Graph { return craft(s, 4, 12, 12, 2, false) },
	820:  func(s int64) layout.Graph { return craft(s, 12, 36, 12, 6, false) },
	5000: func(s int64) layout.Graph { return craft(s, 72, 216, 12, 36, false) },
}

// fieldOf is a paper on which a large graph finds room.
func fieldOf(items int) layout.Field {
	return layout.Field{Width: 40000 + 300*items, Height: 24000 + 36000*min(items, 300)/300}
}

// wild makes any graph at all.
func wild(seed int64, nodes, wires int) layout.Graph {
	m := &maker{r: rand.New(rand.NewSource(seed))}
	for i := 0; i < nodes; i++ {
		switch m.r.Intn(8) {
		case 0, 1:
			m.bar("B")
		case 2:
			m.board(m.r.Intn(5))
		case 3:
			m.fixed = m.r.Intn(2) == 0
			m.box(1500, 1000, 5)
		default:
			m.fuse()
		}
	}
	used := map[int]int{}
	m.g.Nodes[0] = layout.Node{Name: "B0", Form: layout.Bar}
	for i := 0; i < wires; i++ {
		end := func() layout.End {
			e := at(m.r.Intn(nodes))
			if p := len(m.g.Nodes[e.Node].Ports); p > 0 { // a port has one wire
				if e.Port = used[e.Node]; e.Port < p {
					used[e.Node]++
				} else {
					e = at(0)
				}
			}
			if n := m.g.Nodes[e.Node]; n.Form == layout.Board && len(n.Rows) > 0 && m.r.Intn(3) == 0 {
				if k := m.r.Intn(len(n.Rows)); !n.Rows[k].Out { // a row has one wire
					n.Rows[k].Out = true
					e.Row = k
				}
			}
			return e
		}
		m.wire(end(), end(), m.r.Intn(3), m.r.Intn(5), m.r.Intn(8) == 0)
	}
	return m.g
}
