package schematic

import (
	"slices"

	"strake/lang/circuit"
	"strake/layout"
	"strake/layout/geom"
	"strake/render/scene"
	"strake/render/symbol"
)

// render turns a placed drawing into groups, shifted to its field.
func (m *model) render(s layout.Sheet, origin geom.Point) []*scene.Group {
	var bars, wires, things []*scene.Group
	lines := map[int][2]geom.Point{} // bars by node
	rows := map[int][]geom.Point{}
	turned := map[int]int{}
	for _, b := range s.Bars {
		lines[b.Node] = b.Line
		if f := m.nodes[b.Node]; f.more != nil {
			bars = append(bars, m.drawMore(b, origin))
		} else if f.posts == nil {
			bars = append(bars, m.drawBar(b, origin))
		}
	}
	for _, b := range s.Boards {
		rows[b.Node], turned[b.Node] = b.Rows, 1
		if b.Mirrored {
			turned[b.Node] = -1
		}
		bars = append(bars, m.drawBoard(b, origin))
		for i, at := range b.Rows {
			things = append(things, m.drawRow(m.nodes[b.Node].board.rows[i], at.Add(origin), turned[b.Node])...)
		}
	}
	for _, p := range s.Symbols {
		if f := m.nodes[p.Node]; f.flag != nil {
			things = append(things, m.drawFlag(p, f, s, origin)...)
			continue
		}
		p.Turn = m.facing(p, s)
		things = append(things, m.drawSymbol(p, origin)...)
	}
	for _, w := range s.Wires {
		k := m.wires[w.Wire]
		if k.cable == nil {
			continue
		}
		g := m.cableGroup(k.cable)
		m.drawInner(g, w, k, s, rows, turned, origin)
		g.Nodes = append(g.Nodes, m.wireLine(k.cable, w.Points, origin))
		for _, j := range w.Joints {
			g.Nodes = append(g.Nodes, m.dot(k.cable, j.Add(origin)))
		}
		n := k.note
		if w.Level {
			n = k.level
		}
		if k.from == nil && len(n) > 0 {
			if w.Level {
				n = slices.Clone(n)
				g.Nodes = append(g.Nodes, n.centred(w.Note.X+origin.X+n.size().W/2, w.Note.Y+origin.Y)...)
			} else {
				g.Nodes = append(g.Nodes, n.at(w.Note.Add(origin))...)
			}
		}
		m.drawPosts(g, k.cable, s, lines, origin)
		wires = append(wires, g)
	}
	return slices.Concat(bars, wires, things)
}

// wireLine is a stretch of a cable.
func (m *model) wireLine(c *circuit.Cable, points []geom.Point, by geom.Point) scene.Node {
	moved := make([]geom.Point, len(points))
	for i, p := range points {
		moved[i] = p.Add(by)
	}
	return scene.Line{Pen: m.cablePen(c), Points: moved}
}

// cablePen is a cable's pen; one whose voltage nobody wrote down is solar when
// only arrays feed it.
func (m *model) cablePen(c *circuit.Cable) scene.Pen {
	d := m.domain(c)
	pen := m.d.wirePen(d, c.Status)
	if d == nil && m.d.sunlit(c) {
		pen = scene.WirePen(scene.SolarDC)
	}
	return pen
}

// domain of a cable, or of what it lands on.
func (m *model) domain(c *circuit.Cable) *circuit.Domain {
	if c.Domain != nil {
		return c.Domain
	}
	for _, e := range [...]circuit.End{c.From, c.To} {
		if e.Item != nil {
			if d := e.Item.PortDomain(e.Port); d != nil {
				return d
			}
		}
	}
	return nil
}

func (m *model) dot(c *circuit.Cable, at geom.Point) scene.Node {
	fill := m.cablePen(c).Colour
	if fill == "" {
		fill = scene.Black
	}
	return scene.Circle{Centre: at, RX: 70, RY: 70, Fill: fill}
}

// drawInner draws the part of a wire that lies inside a board's row or a bank.
func (m *model) drawInner(g *scene.Group, w layout.PlacedWire, k conductor, s layout.Sheet, rows map[int][]geom.Point, turned map[int]int, origin geom.Point) {
	graph := m.graph.Wires[w.Wire]
	if k.from != nil && len(w.Points) > 0 {
		end, near := graph.From, w.Points[0]
		if end.Row < 0 {
			end, near = graph.To, w.Points[len(w.Points)-1]
		}
		if end.Row >= 0 { // else its board stands on another sheet
			at, dir := rows[end.Node][end.Row], turned[end.Node]
			from := geom.Point{X: at.X + dir*k.from.reach, Y: at.Y}
			g.Nodes = append(g.Nodes, m.wireLine(k.cable, []geom.Point{from, near}, origin))
			g.Nodes = append(g.Nodes, m.along(k.from.cable, at.Add(origin), dir, k.from.noteAt(), -k.from.raise())...)
		}
	}
	for _, e := range [...]struct {
		end   layout.End
		point geom.Point
	}{{graph.From, w.Points[0]}, {graph.To, w.Points[len(w.Points)-1]}} {
		f := m.nodes[e.end.Node]
		if f.bank == nil || e.end.Port < 1 {
			continue
		}
		for _, p := range s.Symbols {
			if p.Node == e.end.Node {
				member := f.bank.taps[e.end.Port-1].at
				y := member.Y
				if p.Turn == layout.Inverted {
					y = f.bank.box.Y1 - y
				}
				g.Nodes = append(g.Nodes, m.wireLine(k.cable, []geom.Point{e.point, {X: p.At.X + member.X, Y: e.point.Y}, {X: p.At.X + member.X, Y: p.At.Y + y}}, origin))
			}
		}
	}
}

// drawPosts adds the joint of several cables to the group of the cable that
// draws it.
func (m *model) drawPosts(g *scene.Group, c *circuit.Cable, s layout.Sheet, lines map[int][2]geom.Point, origin geom.Point) {
	for i, f := range m.nodes {
		line, ok := lines[i]
		if f.posts != c || !ok {
			continue
		}
		lo, hi := 1<<30, -1<<30
		for _, w := range s.Wires {
			graph := m.graph.Wires[w.Wire]
			for _, e := range [...]struct {
				end   layout.End
				point geom.Point
			}{{graph.From, w.Points[0]}, {graph.To, w.Points[len(w.Points)-1]}} {
				if e.end.Node != i {
					continue
				}
				lo, hi = min(lo, e.point.X), max(hi, e.point.X)
				if m.wires[w.Wire].cable == nil {
					g.Nodes = append(g.Nodes, m.wireLine(c, w.Points, origin))
				}
				g.Nodes = append(g.Nodes, m.dot(c, e.point.Add(origin)))
			}
		}
		if lo < hi {
			g.Nodes = append(g.Nodes, m.wireLine(c, []geom.Point{{X: lo, Y: line[0].Y}, {X: hi, Y: line[0].Y}}, origin))
		}
	}
}

// cableGroup is the empty group of a cable.
func (m *model) cableGroup(c *circuit.Cable) *scene.Group {
	return &scene.Group{Class: class("cable", c.Status), Item: c.ID, From: endName(c.From), To: endName(c.To), Title: c.ID + ": " + join(m.cableTitle(c))}
}

func (m *model) cableTitle(c *circuit.Cable) string {
	if c.Link {
		return "link"
	}
	return join(m.d.sizeText(c), m.d.lengthText(c))
}

// endName calls an end as the text does.
func endName(e circuit.End) string {
	switch {
	case e.Capped != nil:
		return "capped at " + e.Capped.Name
	case e.Item == nil:
		return "untraced"
	case e.Port == "" || e.Item.Way != nil:
		return e.Item.Ref
	}
	return e.Item.Ref + "." + e.Port
}

func title(it *circuit.Item) string { return join(it.Ref, string(it.Kind), it.Label) }

func (m *model) drawBar(b layout.PlacedBar, origin geom.Point) *scene.Group {
	f := m.nodes[b.Node]
	g := &scene.Group{Class: class("bus", f.item.Status), Item: f.item.Ref, Title: title(f.item)}
	g.Nodes = append(g.Nodes, scene.Line{Pen: m.d.barPen(f.item), Points: []geom.Point{b.Line[0].Add(origin), b.Line[1].Add(origin)}})
	g.Nodes = append(g.Nodes, f.note.at(b.Name.Add(origin))...)
	return g
}

func (m *model) drawBoard(b layout.PlacedBoard, origin geom.Point) *scene.Group {
	f := m.nodes[b.Node]
	g := &scene.Group{Class: class("bus board", f.item.Status), Item: f.item.Ref, Title: title(f.item)}
	pen := m.d.barPen(f.item)
	if b.Line[0] != b.Line[1] {
		g.Nodes = append(g.Nodes, scene.Line{Pen: pen, Points: []geom.Point{b.Line[0].Add(origin), b.Line[1].Add(origin)}})
	}
	g.Nodes = append(g.Nodes, scene.Line{Pen: pen, Points: []geom.Point{b.Rail[0].Add(origin), b.Rail[1].Add(origin)}})
	g.Nodes = append(g.Nodes, f.note.at(b.Name.Add(origin))...)
	return g
}

func (m *model) drawSymbol(p layout.PlacedSymbol, origin geom.Point) []*scene.Group {
	f := m.nodes[p.Node]
	at := p.At.Add(origin)
	if f.bank != nil {
		return m.drawBank(f.bank, at, p.Turn == layout.Inverted)
	}
	g := &scene.Group{}
	if f.end != nil {
		g.Class, g.Item, g.Title = class("device end "+f.sym.Name, f.end.Status), f.end.ID, f.end.ID+" "+f.sym.Name
	} else {
		g.Class, g.Item, g.Title = class("device "+string(f.item.Kind), f.item.Status), f.item.Ref, title(f.item)
	}
	switch {
	case f.gather:
		g.Nodes = append(g.Nodes, m.drawContacts(f, at)...)
	case f.one && p.Turn <= layout.Inverted:
		g.Nodes = append(g.Nodes, placed(m.poseAt(f.sym, p.Turn), at)...)
	default:
		g.Nodes = append(g.Nodes, placed(f.sym.Form(pose(p.Turn)), at)...)
	}
	switch p.Turn {
	case layout.Level, layout.LevelBack:
		g.Nodes = append(g.Nodes, f.level.centred(p.Over.X+origin.X+f.level.size().W/2, p.Over.Y+origin.Y)...)
	default:
		g.Nodes = append(g.Nodes, f.note.at(p.Beside.Add(origin))...)
	}
	return []*scene.Group{g}
}

// facing is how a thing lies that converts: with its input where the cable
// lands that feeds it. The layout knows a sequence alone, and where a battery
// stands above its charger the sequence leads through the charger backward.
func (m *model) facing(p layout.PlacedSymbol, s layout.Sheet) layout.Turn {
	f := m.nodes[p.Node]
	if f.item == nil || f.ports != nil || f.one || !f.item.Nature().Converts {
		return p.Turn
	}
	form := f.sym.Form(pose(p.Turn))
	for _, w := range s.Wires {
		c := m.cableAt(w)
		graph := m.graph.Wires[w.Wire]
		if c == nil || len(w.Points) == 0 {
			continue
		}
		at := w.Points[0]
		if graph.To.Node == p.Node {
			at = w.Points[len(w.Points)-1]
		} else if graph.From.Node != p.Node {
			continue
		}
		for _, e := range [...]circuit.End{c.From, c.To} {
			if here, ok := form.Port(e.Port); e.Item == f.item && ok && here.At.Add(p.At) != at {
				return turnedRound[p.Turn]
			}
		}
	}
	return p.Turn
}

// cableAt is the cable of a wire, whether it is drawn here or on another sheet.
func (m *model) cableAt(w layout.PlacedWire) *circuit.Cable {
	if k := m.wires[w.Wire]; k.cable == nil {
		return k.stub
	}
	return m.wires[w.Wire].cable
}

var turnedRound = map[layout.Turn]layout.Turn{layout.Upright: layout.Inverted, layout.Inverted: layout.Upright, layout.Level: layout.LevelBack, layout.LevelBack: layout.Level}

func pose(t layout.Turn) symbol.Pose {
	return [...]symbol.Pose{layout.Upright: symbol.Upright, layout.Inverted: symbol.Turned, layout.Level: symbol.Level, layout.LevelBack: symbol.LevelTurned}[t]
}
