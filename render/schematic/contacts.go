package schematic

import (
	"strake/lang/circuit"
	"strake/layout"
	"strake/layout/geom"
	"strake/render/scene"
	"strake/render/symbol"
)

// contactPitch is between the contacts of one thing that switches several lines.
const contactPitch = 1250

// contactGroup gives a stop, switch, float switch or relay with several
// contacts its node: the contacts side by side, worked together.
func (m *model) contactGroup(it *circuit.Item, n int) {
	sym, ok := symbol.For(string(it.Kind), m.variant(it))
	if !ok {
		sym, _ = symbol.For("switch", symbol.Variant{})
	}
	form := sym.Form(symbol.Upright)
	f := figure{item: it, sym: sym, note: m.deviceNote(it), gather: true}
	node := layout.Node{Name: it.Ref, Group: m.group(it.Domain)}
	for i := range n {
		x := i * contactPitch
		node.Box = node.Box.Union(form.Box.Shift(geom.Point{X: x}))
		node.Ports = append(node.Ports, layout.Port{Side: layout.Top, At: x, Fixed: true}, layout.Port{Side: layout.Bottom, At: x, Fixed: true})
		f.ports = append(f.ports, "in", "out")
	}
	node.Note.X, node.Note.Y, node.Note.Beside = noteCell(form, f.note)
	node.Note.X += (n - 1) * contactPitch
	i := m.add(node, f)
	m.numbers[it] = i
	for c := range n {
		for j, port := range []string{"in", "out"} {
			t := circuit.Terminal{Item: it, Port: port, Contact: c}
			m.at[t] = layout.End{Node: i, Port: 2*c + j, Row: -1}
			if len(m.d.landed[t]) > 1 {
				m.posts(t, port == "out")
			}
		}
	}
}

// drawContacts repeats the symbol for every contact; a thin dashed line shows
// that they move together.
func (m *model) drawContacts(f figure, at geom.Point) []scene.Node {
	form := f.sym.Form(symbol.Upright)
	n := len(f.ports) / 2
	var nodes []scene.Node
	for i := range n {
		nodes = append(nodes, placed(form, at.Add(geom.Point{X: i * contactPitch}))...)
	}
	if n > 1 {
		nodes = append(nodes, scene.Line{Pen: scene.LinkPen, Points: []geom.Point{at.Add(geom.Point{X: -130, Y: 525}), at.Add(geom.Point{X: (n-1)*contactPitch - 130, Y: 525})}})
	}
	return nodes
}
