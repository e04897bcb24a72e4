package schematic

import (
	"slices"

	"strake/lang/circuit"
	"strake/layout"
	"strake/layout/geom"
	"strake/render/scene"
	"strake/render/symbol"
)

// controlBlock lists the things without power and, as lines of text, every
// control cable, every bond and every interlock: they are named, not drawn
// across the sheet.
func (m *model) controlBlock() (block, bool) {
	var cells []cell
	for _, it := range m.apart {
		cells = append(cells, m.apartCell(it))
	}
	for _, c := range m.coils {
		cells = append(cells, m.coilCell(c))
	}
	for _, c := range slices.Concat(m.d.sys.Signals, m.d.sys.Bonds) {
		cells = append(cells, m.controlCell(c))
	}
	for _, i := range m.d.sys.Interlocks {
		cells = append(cells, m.interlockCell(i))
	}
	if len(cells) == 0 {
		return block{}, false
	}
	b := flow("control and bonding", "Control and bonding", "list", m.caps.ref, cells, 4)
	if e := m.enlarged(); e != nil {
		b.large = func() block {
			large, _ := e.controlBlock()
			return large
		}
	}
	return b, true
}

// apartCell is a symbol with its name.
func (m *model) apartCell(it *circuit.Item) cell {
	sym, ok := symbol.For(string(it.Kind), m.variant(it))
	if !ok {
		sym, _ = symbol.For("load", symbol.Variant{})
	}
	form := sym.Form(symbol.Upright)
	if form.Box.Height() > 1000 || form.Box.Width() > 1200 {
		form = sym.Form(symbol.RowPose)
	}
	text := note{{{it.Ref, m.caps.ref, true}}}
	if it.Label != "" {
		text[0] = append(text[0], word{it.Label, m.caps.note, false})
	}
	hull := ""
	if it.Facts.OnHull {
		hull = "on the hull"
	}
	if extra := join(m.d.rating(it), hull, statusText(it.Status)); extra != "" {
		text[0] = append(text[0], word{extra, m.caps.note, false})
	}
	if it.Place != nil {
		text[0] = append(text[0], word{"(" + placeName(it.Place) + ")", m.caps.note, false})
	}
	w, h := form.Box.Width(), form.Box.Height()
	height := max(h, text.size().H) + 120
	return cell{
		size: layout.Size{W: max(w, 1000) + 200 + text.width(), H: height},
		draw: func(at geom.Point) []*scene.Group {
			g := &scene.Group{Class: class("device "+string(it.Kind), it.Status), Item: it.Ref, Title: title(it)}
			mid := at.Y + height/2
			g.Nodes = append(g.Nodes, placed(form, geom.Point{X: at.X + max(w, 1000)/2 - (form.Box.X0+form.Box.X1)/2, Y: mid - (form.Box.Y0+form.Box.Y1)/2})...)
			g.Nodes = append(g.Nodes, text[0].at(geom.Point{X: at.X + max(w, 1000) + 200, Y: mid + m.caps.ref/2})...)
			return []*scene.Group{g}
		},
	}
}

// coilCell is a cable from coil to coil: a short line between two flags that
// bear the names of its ends.
func (m *model) coilCell(c *circuit.Cable) cell {
	sym, _ := symbol.For("flag", symbol.Variant{})
	away, back := sym.Form(symbol.RowPose), sym.Form(symbol.RowTurned)
	name := func(e circuit.End) line { return line{{coilName(e), m.caps.note, false}} }
	first, last := name(c.From), name(c.To)
	size := line{{join(m.cableTitle(c), statusText(c.Status)), m.caps.note, false}}
	if c.OwnRef {
		size = append(line{{c.ID, m.caps.note, true}}, size...)
	}
	const space = 120
	from := first.width() + space + back.Box.Width()
	to := from + size.width() + 2*space
	over := m.caps.note + space + scene.Descent(m.caps.note)
	height := over + max(away.Box.Y1, scene.Descent(m.caps.note)) + 140
	return cell{
		size: layout.Size{W: to + away.Box.Width() + space + last.width(), H: height},
		draw: func(at geom.Point) []*scene.Group {
			y := at.Y + over + 60
			g := m.cableGroup(c)
			g.Nodes = append(g.Nodes, stroke(m.cablePen(c), at.X+from, y, at.X+to, y))
			g.Nodes = append(g.Nodes, size.at(geom.Point{X: at.X + from + space, Y: y - space/2 - scene.Descent(m.caps.note)})...)
			groups := []*scene.Group{g}
			flag := func(f symbol.Form, x int, text line, textX int) {
				n := &scene.Group{Class: class("device flag", c.Status), Item: c.ID, Title: c.ID + ": goes on elsewhere"}
				n.Nodes = append(n.Nodes, placed(f, geom.Point{X: x, Y: y})...)
				n.Nodes = append(n.Nodes, text.at(geom.Point{X: textX, Y: y + m.caps.note/2})...)
				groups = append(groups, n)
			}
			flag(back, at.X+from-back.Box.X1, first, at.X)
			flag(away, at.X+to, last, at.X+to+away.Box.Width()+space)
			return groups
		},
	}
}

// controlCell is one bond or signal as a line: from, what it does, to, size, length.
func (m *model) controlCell(c *circuit.Cable) cell {
	verb := c.Action
	if verb == "" {
		verb = "to"
	}
	text := poleName(c.From) + " " + verb + " " + poleName(c.To)
	if c.Verb == "bond" {
		text = "Bond " + text
	}
	if c.OwnRef {
		text = c.ID + ": " + text
	}
	extra := ""
	if !c.Link {
		if c.Area.Known() || m.d.sizes[c] != nil {
			extra = m.d.sizeText(c)
		}
		if c.Length.Known() {
			extra = join(extra, m.d.lengthText(c))
		}
	}
	return m.textCell(join(text, extra, statusText(c.Status)), false, scene.Group{Class: class("note "+c.Verb, c.Status), Item: c.ID, Title: c.ID})
}

// textCell is a line of text, which stands in such a group.
func (m *model) textCell(text string, bold bool, in scene.Group) cell {
	l := line{{text, m.caps.note, bold}}
	return cell{
		size: layout.Size{W: l.width(), H: m.caps.note + 140},
		draw: func(at geom.Point) []*scene.Group {
			g := in
			g.Nodes = l.at(geom.Point{X: at.X, Y: at.Y + scene.Ascent(m.caps.note) + 30})
			return []*scene.Group{&g}
		},
	}
}

// interlockCell says what must not run together and what holds it to that; in
// bold that nothing does.
func (m *model) interlockCell(i circuit.Interlock) cell {
	verb := "never with"
	if i.Only {
		verb = "only with"
	}
	text, habit := join(refs(i.First), verb, refs(i.Second)), !i.Enforced
	switch {
	case habit:
		text = "CAUTION: " + text + ": by habit alone"
	case i.By != nil:
		text = join(text, "by", i.By.Ref)
	}
	return m.textCell(text, habit, scene.Group{Class: "note interlock", Item: i.First[0].Ref, Title: text})
}

// refs lists the references of some items.
func refs(items []*circuit.Item) string {
	var out []string
	for _, it := range items {
		out = append(out, it.Ref)
	}
	return list(out)
}

// poleName calls an end with its pole.
func poleName(e circuit.End) string {
	s := endName(e)
	if e.Pole != circuit.AllPoles {
		s += "." + string(e.Pole)
	}
	return s
}
