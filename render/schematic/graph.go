package schematic

import (
	"cmp"
	"slices"

	"strake/lang/circuit"
	"strake/layout"
	"strake/layout/geom"
	"strake/render/scene"
	"strake/render/symbol"
)

// model is the craft as the layout sees it, and beside every node and wire
// what stands for it on the sheet.
type model struct {
	d       *draught
	caps    caps
	graph   layout.Graph
	nodes   []figure
	wires   []conductor
	apart   []*circuit.Item // without power, listed in the block of controls and bonds
	at      map[circuit.Terminal]layout.End
	inRow   map[*circuit.Cable]bool // drawn inside a board's row
	inBank  map[*circuit.Cable]bool // drawn inside a bank
	ofRow   map[*circuit.Item]bool
	orient  map[*circuit.Cable]bool // true: the supply is at the cable's To
	ties    map[*circuit.Cable]bool
	both    map[*circuit.Cable]bool // bears the mark of power both ways
	numbers map[*circuit.Item]int   // node of an item
	coils   []*circuit.Cable        // from coil to coil: drawn in the block of controls
	wants   int                     // area that the last try took, in square tenths of a millimetre
	key     int                     // room of a symbol in the legend
}

// figure is what a node of the layout shows.
type figure struct {
	item   *circuit.Item
	sym    symbol.Symbol
	one    bool     // a single terminal
	ports  []string // names of the layout's ports, in their order
	note   note
	level  note // when it lies in a level wire
	board  *boardFace
	bank   *bankFace
	end    *circuit.Cable // the end of a cable that lands on nothing
	posts  *circuit.Cable // where several cables land on one terminal: the one that draws the joint
	gather bool           // a contact group
	flag   *flagFace
	more   *circuit.Item // a piece of a bar that stands on another sheet
	name   note          // of a bar that goes on elsewhere, without the words that tell so
}

// conductor is what a wire of the layout shows.
type conductor struct {
	cable *circuit.Cable // nil: from a terminal to the joint of its cables
	note  note
	level note
	from  *rowFace       // starts inside a row
	stub  *circuit.Cable // arrives from another sheet, where it is drawn
}

func (d *draught) newModel(c caps, l lift) *model {
	m := &model{
		d: d, caps: c,
		at:      map[circuit.Terminal]layout.End{},
		inRow:   map[*circuit.Cable]bool{},
		inBank:  map[*circuit.Cable]bool{},
		ofRow:   map[*circuit.Item]bool{},
		ties:    map[*circuit.Cable]bool{},
		both:    map[*circuit.Cable]bool{},
		numbers: map[*circuit.Item]int{},
	}
	m.orient = m.d.direct(l)
	m.markBothWays()
	for _, it := range d.sys.Items {
		if it.Board != nil {
			m.planRows(it)
		}
	}
	for _, it := range d.sys.Items {
		m.place(it)
	}
	for _, c := range d.sys.Cables {
		m.lay(c)
	}
	m.order()
	return m
}

// place gives an item its node.
func (m *model) place(it *circuit.Item) {
	switch {
	case it.Way != nil && (it == it.Way.Device || it == it.Way.Load && m.inRow[it.Way.Cable]), m.ofRow[it], it.MemberOf != nil:
		return // in its board's row, in its bank
	case it.Board != nil:
		m.board(it)
	case it.Bank != nil && len(it.Bank.Members) > 0:
		m.bank(it)
	case it.Kind == "bus" || it.Kind == "stud":
		m.bar(it)
	case !m.d.powered(it) && (it.Nature() == circuit.Nature{} || it.Nature().Contacts || it.Kind == "contactor"):
		m.apart = append(m.apart, it)
	default:
		m.symbol(it)
	}
}

func (m *model) add(n layout.Node, f figure) int {
	m.graph.Nodes = append(m.graph.Nodes, n)
	m.nodes = append(m.nodes, f)
	return len(m.nodes) - 1
}

// group of a domain, so that what is of one voltage stands together.
func (m *model) group(d *circuit.Domain) int {
	for i, e := range m.d.sys.Domains {
		if e == d {
			return i + 1
		}
	}
	return 0
}

func (m *model) bar(it *circuit.Item) {
	name := m.barName(it)
	n := layout.Node{Name: it.Ref, Form: layout.Bar, Group: m.group(it.Domain)}
	n.Note.Over = name.size()
	i := m.add(n, figure{item: it, note: name})
	m.numbers[it] = i
	m.at[circuit.Terminal{Item: it}] = layout.End{Node: i, Port: -1, Row: -1}
}

func (m *model) symbol(it *circuit.Item) {
	if contacts := m.contacts(it); contacts > 1 {
		m.contactGroup(it, contacts)
		return
	}
	sym, ok := symbol.For(string(it.Kind), m.variant(it))
	if !ok {
		sym, _ = symbol.For("load", symbol.Variant{})
	}
	form := sym.Form(symbol.Upright)
	n := layout.Node{Name: it.Ref, Group: m.group(it.Domain), Top: m.tops(it)}
	f := figure{item: it, sym: sym, note: m.deviceNote(it)}
	used := m.usedPorts(it)
	ends := it.Nature().Ends
	switch {
	case ends == circuit.OneEnd && len(used) <= 1:
		f.one = true
		form = m.poseAt(sym, layout.Upright)
	case sym.TwoEnds() && onlyInOut(used):
		f.level = m.deviceLevel(it)
		if len(f.level) > 0 {
			n.Level = levelBox(sym)
			n.Note.Over = f.level.size()
		}
	default:
		for _, name := range used {
			p, ok := form.Port(name)
			port := layout.Port{Side: layout.AnySide}
			if ok && it.Kind != "inverter-charger" {
				port = layout.Port{Side: layout.Side(p.Side), At: p.At.X, Fixed: true}
				if p.Side == symbol.LeftSide || p.Side == symbol.RightSide {
					port.At = p.At.Y
				}
			}
			f.ports = append(f.ports, name)
			n.Ports = append(n.Ports, port)
		}
	}
	n.Box = trimmed(form)
	n.Note.X, n.Note.Y, n.Note.Beside = noteCell(form, f.note)
	i := m.add(n, f)
	m.numbers[it] = i
	for j, name := range used {
		t := circuit.Terminal{Item: it, Port: name}
		end := layout.End{Node: i, Port: -1, Row: -1}
		if f.ports != nil {
			end.Port = j
		}
		m.at[t] = end
		if len(m.d.landed[t]) > 1 {
			m.posts(t, f.ports != nil || name == "out" || f.one && m.tops(it))
		}
	}
}

// posts is the joint of several cables on one terminal: a thin bar.
func (m *model) posts(t circuit.Terminal, gives bool) {
	own := m.at[t]
	n := layout.Node{Name: t.String() + " posts", Form: layout.Bar, Group: m.graph.Nodes[own.Node].Group}
	i := m.add(n, figure{item: nil, posts: m.d.landed[t][0]})
	bar := layout.End{Node: i, Port: -1, Row: -1}
	w := layout.Wire{Name: n.Name, From: own, To: bar, Least: 200, Weight: 9}
	if !gives {
		w.From, w.To = bar, own
	}
	m.graph.Wires = append(m.graph.Wires, w)
	m.wires = append(m.wires, conductor{})
	m.at[t] = bar
}

// usedPorts are the ports on which power cables land, in the kind's order.
func (m *model) usedPorts(it *circuit.Item) []string {
	var used []string
	for _, c := range m.d.cables[it] {
		for _, e := range [...]circuit.End{c.From, c.To} {
			if e.Item == it && !circuit.IsControl(e.Port) && !slices.Contains(used, e.Port) {
				used = append(used, e.Port)
			}
		}
	}
	rank := func(name string) int {
		return slices.IndexFunc(it.Ports, func(p circuit.Port) bool { return p.Name == name })
	}
	slices.SortFunc(used, func(a, b string) int { return cmp.Or(cmp.Compare(rank(a), rank(b)), circuit.Compare(a, b)) })
	return used
}

func onlyInOut(used []string) bool {
	return !slices.ContainsFunc(used, func(p string) bool { return p != "in" && p != "out" })
}

// poseAt is the form whose single terminal is where the layout wants it.
func (m *model) poseAt(s symbol.Symbol, turn layout.Turn) symbol.Form {
	want := symbol.Top
	if turn == layout.Inverted {
		want = symbol.Bottom
	}
	for _, p := range []symbol.Pose{symbol.Upright, symbol.Turned} {
		if f := s.Form(p); len(f.Ports) > 0 && f.Ports[0].Side == want {
			return f
		}
	}
	return s.Form(symbol.Upright)
}

// trimmed is a form's box between its terminals.
func trimmed(f symbol.Form) geom.Rect { return f.Box }

func levelBox(s symbol.Symbol) geom.Rect { return s.Form(symbol.Level).Box }

// noteCell is the cell of a note right of an upright symbol.
func noteCell(f symbol.Form, n note) (x, y int, size layout.Size) {
	if len(n) == 0 {
		return 0, 0, layout.Size{}
	}
	return f.Note.X, max(0, f.Note.Y-scene.Ascent(n[0].cap())), n.size()
}

// contacts is how many contacts of an item carry power.
func (m *model) contacts(it *circuit.Item) int {
	n := 0
	for _, c := range m.d.cables[it] {
		for _, e := range [...]circuit.End{c.From, c.To} {
			if e.Item == it {
				n = max(n, e.Contact+1)
			}
		}
	}
	return n
}

// tops tells a source, which stands above what it feeds.
func (m *model) tops(it *circuit.Item) bool {
	n := it.Nature()
	return n.Source && !n.Converts && !slices.ContainsFunc(m.d.cables[it], func(c *circuit.Cable) bool { return m.supply(c).Item != it && !commands(c) && c.Bank == nil })
}

// supply is the end of a cable from which the drawing feeds it.
func (m *model) supply(c *circuit.Cable) circuit.End {
	if m.orient[c] {
		return c.To
	}
	return c.From
}

// lay gives a cable its wire.
func (m *model) lay(c *circuit.Cable) {
	if m.inRow[c] || m.inBank[c] {
		return
	}
	from, to := c.From, c.To
	if m.orient[c] {
		from, to = to, from
	}
	switch {
	case circuit.IsControl(from.Port) && circuit.IsControl(to.Port):
		m.coils = append(m.coils, c)
		return
	case circuit.IsControl(from.Port):
		from, to = to, from
	}
	w := layout.Wire{Name: c.ID, From: m.end(from, c), To: m.end(to, c), Weight: m.weight(c), Tie: m.ties[c]}
	k := conductor{cable: c}
	if row := m.rowEnd(w); row != nil {
		k.from = row
		w.Least = 150
	} else {
		k.note, k.level = m.cableNote(c), m.cableLevel(c)
		w.Note = layout.Note{Beside: k.note.size(), X: wireGap, Under: k.level.size()}
		w.Least = 150
	}
	m.graph.Wires = append(m.graph.Wires, w)
	m.wires = append(m.wires, k)
}

// rowEnd is the row in which a wire begins or ends.
func (m *model) rowEnd(w layout.Wire) *rowFace {
	for _, e := range [...]layout.End{w.From, w.To} {
		if e.Row >= 0 {
			return m.nodes[e.Node].board.rows[e.Row]
		}
	}
	return nil
}

// wireGap is from a wire's axis to the note beside it.
const wireGap = 180

// end is where an end of a cable lies in the layout.
func (m *model) end(e circuit.End, c *circuit.Cable) layout.End {
	if circuit.IsControl(e.Port) {
		return m.coilFlag(e, c)
	}
	if t, ok := e.Terminal(); ok {
		if at, ok := m.at[t]; ok {
			return at
		}
		for _, p := range []string{"", "out", "in"} { // a port that only a broken text has
			if at, ok := m.at[circuit.Terminal{Item: e.Item, Port: p}]; ok {
				return at
			}
		}
		if i, ok := m.numbers[e.Item]; ok {
			return layout.End{Node: i, Port: -1, Row: -1}
		}
	}
	return m.looseEnd(e, c)
}

// looseEnd is the node of an end that lands on nothing.
func (m *model) looseEnd(e circuit.End, c *circuit.Cable) layout.End {
	name := "untraced"
	if e.Capped != nil {
		name = "capped"
	}
	sym, _ := symbol.For(name, symbol.Variant{})
	form := m.poseAt(sym, layout.Upright)
	f := figure{sym: sym, one: true, end: c, note: m.endNote(e, c)}
	n := layout.Node{Name: c.ID + " " + name, Box: trimmed(form), Group: m.group(c.Domain)}
	n.Note.X, n.Note.Y, n.Note.Beside = noteCell(form, f.note)
	return layout.End{Node: m.add(n, f), Port: -1, Row: -1}
}

// coilFlag is the node at which a cable leaves the drawing for the coil or the
// other control terminal that it works: across the power bars it would say
// nothing that its name does not.
func (m *model) coilFlag(e circuit.End, c *circuit.Cable) layout.End {
	sym, _ := symbol.For("flag", symbol.Variant{})
	form := m.poseAt(sym, layout.Upright)
	f := figure{sym: sym, one: true, flag: &flagFace{cable: c, coil: e}, note: m.coilNote(e, coilZone)}
	n := layout.Node{Name: c.ID + " to " + e.Port, Box: trimmed(form), Group: m.group(c.Domain)}
	n.Note.X, n.Note.Y, n.Note.Beside = noteCell(form, f.note)
	return layout.End{Node: m.add(n, f), Port: -1, Row: -1}
}

// coilZone is as long as what says where a coil stands: that is known when all
// is drawn, its room is kept.
const coilZone = "sheet 99, M99"

// coilNote names the control terminal to which a cable leads, and where it stands.
func (m *model) coilNote(e circuit.End, zone string) note {
	return m.wrap(toCoil(e, zone), m.caps.note)
}

// toCoil says to which control terminal something leads, and where that stands.
func toCoil(e circuit.End, zone string) string { return commas("to "+coilName(e), zone) }

// coilName calls a control terminal: K1 coil.
func coilName(e circuit.End) string { return e.Item.Ref + " " + e.Port }

// weight tells the layout which wires matter most: the heavy ones.
func (m *model) weight(c *circuit.Cable) int {
	s := m.d.sizes[c]
	switch {
	case commands(c):
		return 1
	case s == nil || !s.Area.Known:
		return 2
	}
	return 2 + min(6, int(float64(s.Area.Value)*float64(max(1, s.Parallel))/16))
}

// commands tells a cable that ends on a coil or another control terminal.
func commands(c *circuit.Cable) bool { return control(c.From.Port) || control(c.To.Port) }

func control(port string) bool { return circuit.IsControl(port) || port == "auto" || port == "manual" }

// powered tells a thing on which a cable lands that is more than a command.
func (d *draught) powered(it *circuit.Item) bool {
	return slices.ContainsFunc(d.cables[it], func(c *circuit.Cable) bool {
		return c.From.Item == it && !circuit.IsControl(c.From.Port) || c.To.Item == it && !circuit.IsControl(c.To.Port)
	})
}

// workedFrom is where the cables come from that work a thing.
func (d *draught) workedFrom(it *circuit.Item) []string {
	var out []string
	for _, c := range d.cables[it] {
		here, there := c.To, c.From
		if here.Item != it || !circuit.IsControl(here.Port) {
			here, there = there, here
		}
		if here.Item != it || !circuit.IsControl(here.Port) || there.Item == nil {
			continue
		}
		how := " from "
		if circuit.IsControl(there.Port) && here == c.From {
			how = " on to "
		}
		out = append(out, here.Port+how+there.Item.Ref)
	}
	return out
}

// order hands the author's sequences along bars to the layout.
func (m *model) order() {
	for i := range m.graph.Nodes {
		m.graph.Nodes[i].Nameless = m.hangs(layout.End{Node: i}, nil) == nil
	}
	for _, o := range m.d.sys.Orders {
		bar, ok := m.numbers[o.Bar]
		if !ok {
			continue
		}
		var nodes []int
		for _, it := range o.Items {
			if i, ok := m.numbers[it]; ok {
				nodes = append(nodes, i)
			}
		}
		if len(nodes) > 1 {
			m.graph.Orders = append(m.graph.Orders, layout.Order{Bar: bar, Nodes: nodes})
		}
	}
}
