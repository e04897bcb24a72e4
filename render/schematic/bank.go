package schematic

import (
	"strconv"

	"strake/lang/circuit"
	"strake/layout"
	"strake/layout/geom"
	"strake/render/scene"
	"strake/render/symbol"
)

// bankFace is a bank drawn as one thing: its members in their string or beside
// each other, their links, its name. Everything is described with the
// terminal at the top; hung the other way the whole is mirrored, but its
// texts and signs stay readable.
type bankFace struct {
	item   *circuit.Item
	marks  []bankMark
	box    geom.Rect
	name   note
	nameAt geom.Point
	taps   []tap
}

// bankMark is one thing in a bank.
type bankMark struct {
	item  *circuit.Item  // a member's symbol at a point, its positive end up
	cable *circuit.Cable // or a link through points
	lead  bool           // or the lead of the bank
	at    []geom.Point
	note  note // its text, in a cell
	cell  geom.Rect
}

// tap is a member on which a cable lands.
type tap struct {
	item *circuit.Item
	at   geom.Point // on the member
}

// Distances inside a bank.
const (
	bankLead   = 350 // from the bank's terminal to its first member
	bankLink   = 250 // between the members of a string, when the link bears no note
	bankPitch  = 1500
	bankMargin = 150
	cellHeight = 625 // of a battery
	cellFar    = 590 // its negative plate, where a link ends
)

// bank gives a bank its node.
func (m *model) bank(it *circuit.Item) {
	f := &bankFace{item: it}
	common := m.commonRating(it)
	lead := bankMark{lead: true, at: []geom.Point{{}, {Y: bankLead}}}
	f.marks = append(f.marks, lead)
	body := m.string(f, it, geom.Point{Y: bankLead}, common != "")
	f.name = m.bankName(it, common)
	r := geom.Rect{X0: -600, Y0: bankLead - 150, X1: 600, Y1: body.Y1}.Union(body)
	name := f.name.size()
	if it.Bank.Series && name.H <= r.Height()+600 {
		f.nameAt = geom.Point{X: r.X1 + 100, Y: r.Y0 + 100}
		r.X1, r.Y1 = f.nameAt.X+name.W, max(r.Y1, f.nameAt.Y+name.H)
	} else {
		f.nameAt = geom.Point{X: r.X0 + 100, Y: r.Y1 + 100}
		r.X1, r.Y1 = max(r.X1, f.nameAt.X+name.W), f.nameAt.Y+name.H
	}
	f.box = geom.Rect{X0: r.X0 - bankMargin, Y0: 0, X1: r.X1 + bankMargin, Y1: r.Y1 + bankMargin/2}
	n := layout.Node{Name: it.Ref, Box: f.box, Group: m.group(it.Domain), Top: m.tops(it)}
	g := figure{item: it, bank: f}
	for _, t := range f.taps {
		if len(g.ports) == 0 {
			g.ports = append(g.ports, "")
			n.Ports = append(n.Ports, layout.Port{Side: layout.Top, Fixed: true})
		}
		g.ports = append(g.ports, t.item.Ref)
		n.Ports = append(n.Ports, layout.Port{Side: layout.LeftSide, At: t.at.Y, Fixed: true})
	}
	g.one = len(g.ports) == 0
	i := m.add(n, g)
	m.numbers[it] = i
	own := layout.End{Node: i, Port: -1, Row: -1}
	if len(g.ports) > 0 {
		own.Port = 0
	}
	t := circuit.Terminal{Item: it}
	m.at[t] = own
	if len(m.d.landed[t]) > 1 {
		m.posts(t, m.tops(it))
	}
	for j, p := range f.taps {
		t := circuit.Terminal{Item: p.item}
		m.at[t] = layout.End{Node: i, Port: j + 1, Row: -1}
		if m.outside(p.item) > 1 {
			m.posts(t, false)
		}
	}
}

// outside is how many cables land on a member that are no links of its bank.
func (m *model) outside(it *circuit.Item) int {
	n := 0
	for _, c := range m.d.cables[it] {
		if c.Bank == nil {
			n++
		}
	}
	return n
}

// string puts a bank's members down with the first one's positive end at a
// point, and says what room they take.
func (m *model) string(f *bankFace, it *circuit.Item, at geom.Point, quiet bool) geom.Rect {
	var all geom.Rect
	var before geom.Point // where the last member's link begins
	b := it.Bank
	for i, member := range b.Members {
		var link *circuit.Cable
		if i > 0 {
			link = between(b, b.Members[i-1], member)
		}
		if link != nil {
			m.inBank[link] = true
		}
		p := at
		if i > 0 && b.Series {
			text := m.linkNote(link)
			top := max(before.Y+60, all.Y1+20)
			p.Y = max(before.Y+bankLink, top+text.size().H+40)
			mark := bankMark{cable: link, lead: link == nil, at: []geom.Point{before, p}, note: text}
			mark.cell = cellAt(geom.Point{X: before.X + wireGap, Y: top}, text)
			f.marks = append(f.marks, mark)
			all = all.Union(mark.cell)
		}
		if i == 0 && !b.Series {
			// The links' notes stand between the bank's terminal and the line of links.
			if room := m.linkRoom(b); room > 0 {
				p.Y += room
				f.marks = append(f.marks, bankMark{lead: true, at: []geom.Point{at, p}})
				at = p
			}
		}
		if i > 0 && !b.Series {
			text := m.linkNote(link)
			p.X = all.X1 + 800
			if w := text.width(); p.X-before.X < w+200 {
				p.X = before.X + w + 200
			}
			mark := bankMark{cable: link, lead: link == nil, at: []geom.Point{before, p}, note: text}
			mark.cell = cellAt(geom.Point{X: (before.X + p.X - text.width()) / 2, Y: p.Y - 60 - text.size().H}, text)
			f.marks = append(f.marks, mark)
		}
		var room geom.Rect
		end := p
		if member.Bank != nil && len(member.Bank.Members) > 0 {
			// A bank in a bank has a terminal of its own, on which its neighbour's link lands.
			if k := &f.marks[len(f.marks)-1]; i == 0 && k.cable == nil && len(k.at) == 2 {
				k.at[1].Y -= terminal
			}
			q := geom.Point{X: p.X, Y: p.Y + groupLead}
			mark := bankMark{item: member, note: m.groupName(member), at: []geom.Point{p, q}}
			named := len(f.marks)
			f.marks = append(f.marks, mark)
			room = m.string(f, member, q, quiet)
			end = geom.Point{X: p.X, Y: room.Y1}
			if b.Series && !member.Bank.Series {
				end.Y = q.Y + m.linkRoom(member.Bank) + cellFar
			}
			mark = f.marks[named]
			mark.cell = cellAt(geom.Point{X: p.X + 520, Y: room.Y1 + 40}, mark.note)
			f.marks[named] = mark
			room = room.Union(mark.cell)
		} else {
			room = m.member(f, member, p, quiet)
			end = geom.Point{X: p.X, Y: p.Y + cellFar}
		}
		if m.outside(member) > 0 {
			f.taps = append(f.taps, tap{item: member, at: geom.Point{X: p.X, Y: p.Y}})
		}
		all = all.Union(room)
		before = p
		if b.Series {
			before = end
		}
	}
	return all
}

// linkRoom is how much room the notes of a parallel bank's links take.
func (m *model) linkRoom(b *circuit.Bank) int {
	room := 0
	for _, c := range b.Links {
		if h := m.linkNote(c).size().H; h > 0 {
			room = max(room, h+80)
		}
	}
	return room
}

const (
	groupLead = 300 // from the terminal of a bank in a bank to its first member
	terminal  = 60  // radius of a bank's terminal
)

// groupName is what a bank in a bank is called.
func (m *model) groupName(it *circuit.Item) note {
	n := note{line{{it.Ref, m.caps.note, true}}}
	if it.Label != "" {
		n = append(n, m.wrap(it.Label, m.caps.note)...)
	}
	return n
}

// member puts one battery down.
func (m *model) member(f *bankFace, it *circuit.Item, at geom.Point, quiet bool) geom.Rect {
	text := note{{{it.Ref, m.caps.ref, true}}}
	if r := m.d.rating(it); r != "" && !quiet {
		text[0] = append(text[0], word{r, m.caps.note, false})
	}
	if it.Label != "" {
		text = append(text, m.wrap(it.Label, m.caps.note)...)
	}
	mark := bankMark{item: it, at: []geom.Point{at}, note: text}
	mark.cell = cellAt(geom.Point{X: at.X + 520, Y: at.Y + max(100, (cellHeight-text.size().H)/2)}, text)
	f.marks = append(f.marks, mark)
	return geom.Rect{X0: at.X - 400, Y0: at.Y, X1: at.X + 400, Y1: at.Y + cellHeight}.Union(mark.cell)
}

func cellAt(p geom.Point, n note) geom.Rect {
	if len(n) == 0 {
		return geom.Rect{X0: p.X, Y0: p.Y, X1: p.X, Y1: p.Y}
	}
	s := n.size()
	return geom.Rect{X0: p.X, Y0: p.Y, X1: p.X + s.W, Y1: p.Y + s.H}
}

// between is the link of two neighbours.
func between(b *circuit.Bank, first, second *circuit.Item) *circuit.Cable {
	for _, c := range b.Links {
		if c.From.Item == first && c.To.Item == second || c.From.Item == second && c.To.Item == first {
			return c
		}
	}
	return nil
}

func (m *model) linkNote(c *circuit.Cable) note {
	if c == nil || c.Link {
		return nil
	}
	return note{line{{join(m.d.sizeText(c), m.d.lengthText(c)), m.caps.note, false}}}
}

// commonRating is the members' rating where all have the same.
func (m *model) commonRating(it *circuit.Item) string {
	common := ""
	for i, member := range it.Bank.Members {
		r := m.d.rating(member)
		if member.Bank != nil || i > 0 && r != common {
			return ""
		}
		common = r
	}
	return common
}

// bankName tells what the bank is, and that it is always live.
func (m *model) bankName(it *circuit.Item, common string) note {
	n := note{{{it.Ref, m.caps.hand, true}}}
	if v := m.d.rating(it); v != "" {
		n[0] = append(n[0], word{v, m.caps.ref, false})
	}
	n = append(n, line{{"ALWAYS LIVE", m.caps.note, true}})
	if it.Label != "" {
		n = append(n, m.wrap(it.Label, m.caps.note)...)
	}
	if it.Place != nil {
		n = append(n, m.wrap(placeName(it.Place), m.caps.note)...)
	}
	how := " in parallel"
	if it.Bank.Series {
		how = " in series"
	}
	if common != "" {
		n = append(n, m.wrap(strconv.Itoa(len(it.Bank.Members))+" × "+common+how, m.caps.note)...)
	}
	if s := statusText(it.Status); s != "" {
		n = append(n, line{{s, m.caps.note, false}})
	}
	return n
}

// drawBank draws a bank with its upper end at a point.
func (m *model) drawBank(f *bankFace, at geom.Point, inverted bool) []*scene.Group {
	turn := func(p geom.Point) geom.Point {
		if inverted {
			p.Y = f.box.Y1 - p.Y
		}
		return p.Add(at)
	}
	cell := func(r geom.Rect) geom.Point {
		if inverted {
			return geom.Point{X: r.X0, Y: f.box.Y1 - r.Y1}.Add(at)
		}
		return geom.Point{X: r.X0, Y: r.Y0}.Add(at)
	}
	bank := &scene.Group{Class: class("device bank", f.item.Status), Item: f.item.Ref, Title: title(f.item)}
	name := f.name.size()
	groups := []*scene.Group{bank}
	for _, k := range f.marks {
		switch {
		case k.lead:
			bank.Nodes = append(bank.Nodes, scene.Line{Pen: scene.SymbolPen, Points: []geom.Point{turn(k.at[0]), turn(k.at[1])}})
		case k.cable != nil:
			g := m.cableGroup(k.cable)
			g.Nodes = append(g.Nodes, scene.Line{Pen: m.d.wirePen(f.item.Domain, k.cable.Status), Points: []geom.Point{turn(k.at[0]), turn(k.at[1])}})
			g.Nodes = append(g.Nodes, k.note.at(cell(k.cell))...)
			groups = append(groups, g)
		case k.item.Bank != nil:
			g := &scene.Group{Class: class("device bank", k.item.Status), Item: k.item.Ref, Title: title(k.item)}
			g.Nodes = append(g.Nodes,
				scene.Circle{Centre: turn(k.at[0]), RX: terminal, RY: terminal, Fill: scene.Black},
				scene.Line{Pen: scene.SymbolPen, Points: []geom.Point{turn(k.at[0]), turn(k.at[1])}})
			g.Nodes = append(g.Nodes, k.note.at(cell(k.cell))...)
			groups = append(groups, g)
		default:
			groups = append(groups, m.memberGroup(k, turn(k.at[0]), cell(k.cell), inverted))
		}
	}
	bank.Nodes = append(bank.Nodes, scene.Circle{Centre: turn(geom.Point{}), RX: terminal, RY: terminal, Fill: scene.Black})
	bank.Nodes = append(bank.Nodes, f.name.at(cell(geom.Rect{X0: f.nameAt.X, Y0: f.nameAt.Y, X1: f.box.X1, Y1: f.nameAt.Y + name.H}))...)
	edge := geom.Rect{X0: f.box.X0 + 20, Y0: bankLead / 2, X1: f.box.X1 - 20, Y1: f.box.Y1 - 20}
	p, q := turn(geom.Point{X: edge.X0, Y: edge.Y0}), turn(geom.Point{X: edge.X1, Y: edge.Y1})
	outline := &scene.Group{Class: "outline", Item: f.item.Ref, Nodes: []scene.Node{
		box(geom.Rect{X0: p.X, Y0: min(p.Y, q.Y), X1: q.X, Y1: max(p.Y, q.Y)}, scene.GroupPen)}}
	return append(groups, outline)
}

func (m *model) memberGroup(k bankMark, at, cell geom.Point, inverted bool) *scene.Group {
	sym, ok := symbol.For("battery", symbol.Variant{})
	g := &scene.Group{Class: class("device battery", k.item.Status), Item: k.item.Ref, Title: title(k.item)}
	if ok {
		turn := layout.Upright
		if inverted {
			turn = layout.Inverted
			at.Y -= cellHeight
		}
		g.Nodes = append(g.Nodes, placed(m.poseAt(sym, turn), at)...)
	}
	g.Nodes = append(g.Nodes, k.note.at(cell)...)
	return g
}
