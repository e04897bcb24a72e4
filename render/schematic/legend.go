package schematic

import (
	"slices"
	"strings"

	"strake/lang/circuit"
	"strake/layout"
	"strake/layout/geom"
	"strake/render/scene"
	"strake/render/symbol"
)

// legendBlocks show every symbol and line pattern that the sheet uses, and no
// other: two blocks, for small ones find room in more holes.
func (m *model) legendBlocks() []block {
	var cells []cell
	m.key = legendSymbol
	for _, s := range m.usedSymbols() {
		m.key = max(m.key, s.sym.Form(symbol.RowPose).Box.Width()+40)
	}
	for _, s := range m.usedSymbols() {
		cells = append(cells, m.symbolCell(s))
	}
	blocks := []block{
		flow("symbols", "Symbols", "legend", m.caps.ref, cells, 6),
		flow("lines", "Lines", "legend", m.caps.ref, m.lineCells(), 4),
	}
	if e := m.enlarged(); e != nil {
		for i := range blocks {
			blocks[i].large = func() block { return e.legendBlocks()[i] }
		}
	}
	return blocks
}

// legendParts is in how many blocks the legend stands.
const legendParts = 2

// notesBlock tells how to read the sheet.
func (m *model) notesBlock() block {
	var cells []cell
	for _, s := range readerNotes {
		cells = append(cells, m.noteCell(s))
	}
	b := flow("notes", "", "legend", m.caps.note, cells, 4)
	half := (len(cells) + 1) / 2
	b.parts = []block{flow("notes", "", "legend", m.caps.note, cells[:half], 2), flow("notes", "", "legend", m.caps.note, cells[half:], 2)}
	return b
}

// used is one symbol of the legend with its words.
type used struct {
	sym  symbol.Symbol
	text string
}

// usedSymbols are the symbols on the sheet, by the order of the kinds below.
func (m *model) usedSymbols() []used {
	here := map[string]symbol.Symbol{}
	poles := map[int]bool{}
	note := func(s symbol.Symbol, ok bool) {
		if ok {
			if _, had := here[s.Name]; !had {
				here[s.Name] = s
			}
		}
	}
	for _, it := range m.d.sys.Items {
		s, ok := symbol.For(string(it.Kind), m.variant(it))
		if it.Kind == "bus" || it.Kind == "stud" || it.Kind == "board" || it.Kind == "bank" {
			continue
		}
		if it.Facts.Poles > 1 {
			poles[it.Facts.Poles] = true
		}
		note(s, ok)
	}
	for _, f := range m.nodes {
		if f.end != nil || f.flag != nil {
			note(f.sym, true)
		}
		if f.board != nil {
			for _, r := range f.board.rows {
				if r.class != "" {
					note(r.loadSym, r.loadSym.Name != "")
				}
			}
		}
	}
	var out []used
	shown := map[string]bool{}
	for _, k := range kindWords {
		s, ok := here[k.kind]
		if !ok || shown[k.text] {
			continue
		}
		shown[k.text] = true
		out = append(out, used{s, k.text})
	}
	return out
}

// kindWords are the trade's words for the symbols, in the order of the legend.
// Kinds of one symbol share a row.
var kindWords = []struct{ kind, text string }{
	{"battery", "Battery"},
	{"array", "Solar array"},
	{"inlet", "Inlet"},
	{"generator", "Generator"},
	{"alternator", "Generator"},
	{"source", "Generator"},
	{"fuse", "Fuse"},
	{"breaker", "Circuit-breaker"},
	{"rcd", "RCD"},
	{"rcbo", "RCBO"},
	{"isolator", "Isolator"},
	{"switch", "Switch"},
	{"changeover", "Changeover switch"},
	{"contactor", "Contactor"},
	{"relay", "Relay"},
	{"float-switch", "Float switch"},
	{"stop", "Emergency stop"},
	{"shunt", "Shunt"},
	{"converter", "Converter, charger"},
	{"charger", "Converter, charger"},
	{"regulator", "Solar regulator"},
	{"controller", "Controller"},
	{"inverter", "Inverter"},
	{"inverter-charger", "Inverter/charger"},
	{"transformer", "Isolation transformer"},
	{"galvanic-isolator", "Galvanic isolator"},
	{"motor", "Motor, pump"},
	{"thruster", "Motor, pump"},
	{"starter", "Motor, pump"},
	{"pump", "Motor, pump"},
	{"lamp", "Lamp"},
	{"socket", "Socket outlet"},
	{"load", "Load"},
	{"meter", "Meter"},
	{"panel", "Panel, screen"},
	{"bms", "Battery management"},
	{"insulation-monitor", "Insulation monitor"},
	{"earth", "Earth, hull"},
	{"capped", "End, capped"},
	{"flag", "Goes on elsewhere"},
	{"untraced", "End, untraced"},
	{"spare", "Spare way"},
}

const (
	legendSymbol = 1050 // least room of a symbol in the legend
	legendGap    = 150
	legendAir    = 200 // between two rows
)

func (m *model) symbolCell(u used) cell {
	form := u.sym.Form(symbol.RowPose)
	height := max(form.Box.Height()+80, m.caps.note+legendAir)
	text := line{{u.text, m.caps.note, false}}
	return cell{
		size: layout.Size{W: m.key + legendGap + text.width(), H: height},
		draw: func(at geom.Point) []*scene.Group {
			mid := at.Y + height/2
			x := at.X + (m.key-form.Box.Width())/2 - form.Box.X0
			g := &scene.Group{Class: "key"}
			g.Nodes = append(g.Nodes, placed(form, geom.Point{X: x, Y: mid - (form.Box.Y0+form.Box.Y1)/2})...)
			g.Nodes = append(g.Nodes, text.at(geom.Point{X: at.X + m.key + legendGap, Y: mid + m.caps.note/2})...)
			return []*scene.Group{g}
		},
	}
}

// lineCells are the patterns: one a kind of voltage, then statuses, then the bar.
func (m *model) lineCells() []cell {
	var cells []cell
	seen := map[scene.WireStyle]int{}
	var styles []scene.WireStyle
	var texts []string
	for _, d := range m.d.sys.Domains {
		if !m.domainUsed(d) {
			continue
		}
		s := m.d.styles[d]
		name := d.Label
		if name == "" {
			name = strings.ReplaceAll(d.Name, "-", " ")
		}
		t := name + ": " + highest(d)
		if i, ok := seen[s]; ok {
			texts[i] += "; " + t
			continue
		}
		seen[s] = len(styles)
		styles, texts = append(styles, s), append(texts, t)
	}
	for i, s := range styles {
		cells = append(cells, m.lineCell(scene.WirePen(s), texts[i]))
	}
	var prepared, owner, removed, sun bool
	for _, c := range m.d.sys.Cables {
		prepared = prepared || c.Status == circuit.Prepared
		owner = owner || c.Status == circuit.Owner
		removed = removed || c.Status == circuit.Removed
		sun = sun || m.domain(c) == nil && m.d.sunlit(c)
	}
	if _, ok := seen[scene.SolarDC]; sun && !ok {
		cells = append(cells, m.lineCell(scene.WirePen(scene.SolarDC), "solar DC"))
	}
	if prepared {
		cells = append(cells, m.lineCell(plain.Prepared(), "prepared, not in use"))
	}
	if owner {
		cells = append(cells, m.lineCell(plain.Owners(), "owner's work"))
	}
	if removed {
		cells = append(cells, m.lineCell(plain.Removed(), "removed, not aboard"))
	}
	cells = append(cells, m.lineCell(scene.Pen{Width: 140}, "bar, board"))
	if slices.ContainsFunc(m.d.sys.Items, func(it *circuit.Item) bool { return it.Bank != nil && len(it.Bank.Members) > 0 }) {
		cells = append(cells, m.frameCell())
	}
	if len(m.both) > 0 {
		cells = append(cells, m.arrowCell())
	}
	return cells
}

func (m *model) arrowCell() cell {
	text := line{{"fed both ways", m.caps.note, false}}
	sign := m.caps.arrow(bothWays)
	return cell{
		size: layout.Size{W: m.key + legendGap + text.width(), H: scene.Ascent(sign.cap) + scene.Descent(sign.cap) + 40},
		draw: func(at geom.Point) []*scene.Group {
			base := at.Y + scene.Ascent(sign.cap)
			g := &scene.Group{Class: "key", Nodes: text.at(geom.Point{X: at.X + m.key + legendGap, Y: base})}
			g.Nodes = append(g.Nodes, scene.Text{At: geom.Point{X: at.X + m.key/2, Y: base}, Cap: sign.cap, Anchor: scene.Middle, Bold: true, Text: sign.text})
			return []*scene.Group{g}
		},
	}
}

// noteCell is a line that tells how to read the sheet.
func (m *model) noteCell(words string) cell {
	text := line{{words, m.caps.note, false}}
	return cell{
		size: layout.Size{W: text.width(), H: scene.Ascent(m.caps.note) + scene.Descent(m.caps.note) + leading},
		draw: func(at geom.Point) []*scene.Group {
			return []*scene.Group{{Class: "key", Nodes: text.at(geom.Point{X: at.X, Y: at.Y + scene.Ascent(m.caps.note)})}}
		},
	}
}

func (m *model) domainUsed(d *circuit.Domain) bool {
	for _, c := range m.d.sys.Cables {
		if m.domain(c) == d {
			return true
		}
	}
	return false
}

func (m *model) lineCell(pen scene.Pen, words string) cell {
	return m.keyCell(words, func(x, mid int) scene.Node { return stroke(pen, x, mid, x+m.key, mid) })
}

// frameCell shows the frame round a bank as a frame: as a line it would pass
// for that of a voltage on a black copy.
func (m *model) frameCell() cell {
	return m.keyCell("a bank", func(x, mid int) scene.Node {
		return box(geom.Rect{X0: x, Y0: mid - 130, X1: x + m.key, Y1: mid + 130}, scene.GroupPen)
	})
}

// keyCell is a sign of the legend with its words.
func (m *model) keyCell(words string, sign func(x, mid int) scene.Node) cell {
	text := wrapped(words, 11*m.caps.note, m.caps.note, false)
	height := max(m.caps.note+legendAir, text.size().H+40)
	return cell{
		size: layout.Size{W: m.key + legendGap + text.width(), H: height},
		draw: func(at geom.Point) []*scene.Group {
			g := &scene.Group{Class: "key"}
			mid := at.Y + height/2
			g.Nodes = append(g.Nodes, sign(at.X, mid))
			top := mid - (text.drop()+m.caps.note)/2 - scene.Ascent(m.caps.note) + m.caps.note
			g.Nodes = append(g.Nodes, text.at(geom.Point{X: at.X + m.key + legendGap, Y: top})...)
			return []*scene.Group{g}
		},
	}
}
