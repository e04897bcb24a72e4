package schematic

import (
	"strconv"
	"strings"

	"strake/lang/circuit"
	"strake/layout"
	"strake/layout/geom"
	"strake/render/scene"
	"strake/render/symbol"
)

// boardFace is a board with the faces of its rows.
type boardFace struct {
	rows []*rowFace
	name note
	load int // where the loads stand, from the rail
	text int // where their names begin
}

// rowFace is the inside of a row: all distances from the rail along the wire.
type rowFace struct {
	way     *circuit.Way
	device  symbol.Form
	sym     symbol.Symbol
	has     bool // a protective device is drawn
	rating  word
	cable   line
	load    symbol.Form
	loadSym symbol.Symbol
	loadOf  *circuit.Item // an item of its own that ends the row
	coil    circuit.End   // to which the row leads
	name    note
	named   bool   // the way's label stands as the name of what it feeds
	class   string // class of what ends the row; empty: the wire goes on
	reach   int    // length of the device along the wire
	pen     int    // width of the wire
	over    int    // text above the wire
	strokes [2]int // of symbols, above and below the wire
	text    [2]int // of number and name, above and below the wire
	board   *boardFace
}

// Distances along a row.
const (
	rowText   = 160  // from the device to the rating
	rowGap    = 160  // between texts, and before the load
	rowRaise  = 100  // baseline above the wire
	rowLift   = 150  // the same where letters hang below the baseline
	numberGap = 220  // from the number to the rail
	rowName   = 2800 // widest name in one line, in hundredths of its capitals
)

// planRows finds what stands inside a board's rows, before anything is placed.
func (m *model) planRows(board *circuit.Item) {
	for _, w := range board.Board.Ways {
		if w.Cable == nil {
			continue
		}
		to := w.Cable.To
		if w.Load == nil && to.Item != nil && to.Item != w.Load && m.leaf(to.Item) {
			m.ofRow[to.Item] = true
			m.inRow[w.Cable] = true
		}
		if w.Load != nil && len(m.d.cables[w.Load]) <= 1 || to.Item == nil || circuit.IsControl(to.Port) {
			m.inRow[w.Cable] = true
		}
	}
}

// leaf tells a thing that one cable alone reaches: it can end a row.
func (m *model) leaf(it *circuit.Item) bool {
	if len(m.d.cables[it]) != 1 || it.Bank != nil || it.Board != nil || it.MemberOf != nil || it.Nature().Ends != circuit.OneEnd || it.Kind == "bus" || it.Kind == "stud" {
		return false
	}
	return !it.Nature().Source
}

// board gives a board its node.
func (m *model) board(it *circuit.Item) {
	face := &boardFace{name: m.barName(it)}
	for _, w := range it.Board.Ways {
		face.rows = append(face.rows, m.row(w, face))
	}
	rating := 0
	for _, r := range face.rows {
		rating = max(rating, r.rating.width())
	}
	reach := 0
	for _, r := range face.rows {
		if len(r.cable) > 0 && r.class != "spare" {
			reach = max(reach, r.reach+rowText+rating+rowGap+r.cable.width()+rowGap)
		}
	}
	face.load, face.text = reach, reach
	for _, r := range face.rows {
		if r.class != "" && r.class != "spare" {
			face.text = max(face.text, reach+r.load.Box.X1+rowGap)
		}
	}
	n := layout.Node{Name: it.Ref, Form: layout.Board, Group: m.group(it.Domain)}
	n.Note.Over = face.name.size()
	var before *rowFace
	for i, r := range face.rows {
		width := face.load
		if r.class != "" {
			width = max(width, face.text+r.name.width()+air)
		}
		label := word{strconv.Itoa(r.way.Number), m.caps.ref, true}
		up, down := r.height(before), under
		ink := max(r.strokes[1], r.text[1]) + 20
		if i == len(face.rows)-1 {
			down = ink
		}
		before = r
		n.Rows = append(n.Rows, layout.Row{
			Name:   it.Ref + "." + label.text,
			Number: layout.Size{W: label.width() + numberGap, H: m.caps.ref},
			Strip:  layout.Size{W: width, H: up + down},
			Axis:   up,
			Below:  max(0, ink-down),
			Out:    r.class == "",
		})
	}
	i := m.add(n, figure{item: it, board: face, note: face.name})
	m.numbers[it] = i
	m.at[circuit.Terminal{Item: it}] = layout.End{Node: i, Port: -1, Row: -1}
	for j, r := range face.rows {
		end := layout.End{Node: i, Port: -1, Row: j}
		if r.way.Device != nil {
			m.at[circuit.Terminal{Item: r.way.Device, Port: "out"}] = end
		}
	}
}

// spareEnd is where the open end of a spare way stands: behind its word.
func (r *rowFace) spareEnd() int { return r.reach + rowText + r.cable.width() + rowText }

func (m *model) row(w *circuit.Way, b *boardFace) *rowFace {
	r := &rowFace{way: w, board: b, pen: m.d.wirePen(w.Board.Domain, w.Status).Width}
	if w.Device != nil {
		r.sym, r.has = symbol.For(string(w.Device.Kind), m.variant(w.Device))
	}
	if r.has {
		r.device = r.sym.Form(symbol.RowPose)
		r.reach = r.device.Box.X1
		r.strokes = [2]int{-r.device.Box.Y0, r.device.Box.Y1}
	}
	name := ""
	switch {
	case w.Cable == nil:
		r.class = "spare"
		r.loadSym, _ = symbol.For("spare", symbol.Variant{})
		name = "Spare"
		if w.Label != "" {
			name = w.Label + ": spare"
		}
		r.cable = line{{name, m.caps.note, false}}
		r.over = r.raise() + scene.Ascent(m.caps.note)
	case w.Load != nil && m.inRow[w.Cable] && !circuit.IsControl(w.Cable.To.Port):
		r.class = "device"
		r.loadSym = m.loadSymbol(w.Load)
		label := w.Load.Label
		if label == "" || label == w.Label {
			label, r.named = w.Label, true
		}
		name = commas(join(ownRef(w.Load), label, m.d.loadText(w.Load)), awayFrom(w.Board, w.Load, label))
	case w.Cable.To.Item != nil && m.ofRow[w.Cable.To.Item]:
		r.class = "device"
		r.loadOf = w.Cable.To.Item
		r.loadSym = m.loadSymbol(r.loadOf)
		name = commas(join(r.loadOf.Ref, r.loadOf.Label, m.d.loadText(r.loadOf)), awayFrom(w.Board, r.loadOf, r.loadOf.Label))
	case circuit.IsControl(w.Cable.To.Port):
		r.class = "flag"
		r.loadSym, _ = symbol.For("flag", symbol.Variant{})
		r.coil = w.Cable.To
		name = toCoil(r.coil, coilZone)
	case w.Cable.To.Item == nil:
		r.class = "end"
		kind := "untraced"
		if w.Cable.To.Capped != nil {
			kind = "capped"
			name = trail(w.Label, "capped at "+placeName(w.Cable.To.Capped))
		} else {
			name = trail(w.Label, "untraced")
		}
		r.loadSym, _ = symbol.For(kind, symbol.Variant{})
	default:
		name = ""
	}
	if r.class != "" && r.class != "spare" && (r.class != "end" || w.Status != circuit.Prepared) {
		name = withStatus(name, w.Status)
	}
	if r.class != "" {
		r.load = r.loadSym.Form(symbol.RowPose)
		if r.class != "spare" {
			r.name = m.rowNote(name)
			r.strokes = [2]int{max(r.strokes[0], -r.load.Box.Y0), max(r.strokes[1], r.load.Box.Y1)}
		}
	}
	if rating := m.d.wayRating(w); rating != "" {
		r.rating = word{rating, m.caps.ref, false}
		r.over = r.lift(r.rating) + scene.Ascent(m.caps.ref)
	} else {
		r.rating = word{"", m.caps.ref, false}
	}
	if w.Cable != nil {
		text := join(m.d.sizeText(w.Cable), m.d.lengthText(w.Cable))
		if w.Cable.OwnRef {
			text = join(w.Cable.ID, text)
		}
		if s := m.d.sizes[w.Cable]; s != nil && s.CumulativePercent.Known && r.class == "device" {
			text = join(text, percent(s.CumulativePercent.Value))
		}
		r.cable = line{{text, m.caps.note, false}}
		if w.Label != "" && (r.class == "" || r.class == "flag" || r.class == "device" && !r.named) {
			r.cable = append(r.cable, word{w.Label, m.caps.note, false})
		}
		r.over = max(r.over, r.raise()+scene.Ascent(m.caps.note))
	}
	r.text = [2]int{m.caps.ref / 2, m.caps.ref / 2}
	if n := r.name; len(n) > 0 {
		half := (n.drop() + n[0].cap()) / 2
		r.text = [2]int{max(r.text[0], half+scene.Ascent(n[0].cap())-n[0].cap()), max(r.text[1], half+scene.Descent(n[0].cap()))}
	}
	return r
}

// rowNote is the name of what ends a row.
func (m *model) rowNote(name string) note {
	return wrapped(name, rowName*m.caps.note/100*(100+m.caps.wide)/100, m.caps.note, false)
}

// awayFrom is the place of a load that stands elsewhere than its board, where
// its label does not tell it.
func awayFrom(board, load *circuit.Item, label string) string {
	if load.Place == nil || load.Place == board.Place || strings.Contains(label, placeName(load.Place)) {
		return ""
	}
	return placeName(load.Place)
}

// Air between rows.
const rowAir = 80

// under is how much of the strip lies under a row's wire; the rest of the way
// to the next wire belongs to the next row.
const under = 40

// height of a row above its wire, below the row before it (nil: the first).
func (r *rowFace) height(before *rowFace) int {
	if before == nil {
		return max(r.over, r.strokes[0], r.text[0]) + 20
	}
	return max(r.over+rowAir, before.strokes[1]+r.strokes[0]+rowAir, before.text[1]+r.text[0]+rowAir) - under
}

// ownRef is the reference of a way's load when it has one of its own.
func ownRef(load *circuit.Item) string {
	if strings.HasSuffix(load.Ref, ".load") {
		return ""
	}
	return load.Ref
}

// trail joins a label and what follows it.
func trail(label, rest string) string {
	if label == "" {
		return rest
	}
	return label + ", " + rest
}

// loadSymbol is the symbol of what ends a row.
func (m *model) loadSymbol(it *circuit.Item) symbol.Symbol {
	s, ok := symbol.For(string(it.Kind), m.variant(it))
	if !ok {
		s, _ = symbol.For("load", symbol.Variant{})
	}
	return s
}

// loadText is what a load takes.
func (d *draught) loadText(it *circuit.Item) string {
	f := it.Facts
	switch {
	case f.Current.Known():
		return unit(f.Current.Value, "A")
	case f.Power.Known():
		return kilo(f.Power.Value, "W")
	}
	return ""
}

// wayRating is what protects a way.
func (d *draught) wayRating(w *circuit.Way) string {
	if w.Device == nil {
		return ""
	}
	if w.Cable == nil && !w.Device.Facts.Current.Known() {
		return ""
	}
	if p := d.devices[w.Device]; p != nil && p.Rating.Known {
		if p.Chosen {
			return proposed(unit(p.Rating.Value, "A"))
		}
		return unit(p.Rating.Value, "A")
	}
	if !w.Device.Facts.Current.Known() {
		return notGiven + " A"
	}
	return unit(w.Device.Facts.Current.Value, "A")
}

// drawRow draws a row whose wire leaves the rail at a point; dir is 1 to the
// right, -1 to the left.
func (m *model) drawRow(r *rowFace, at geom.Point, dir int) []*scene.Group {
	w := r.way
	board := m.nodeBoard(w)
	ref := w.Board.Ref + "." + strconv.Itoa(w.Number)
	x := func(along int) int { return at.X + dir*along }
	var groups []*scene.Group
	device := &scene.Group{Class: class("device way", w.Status), Item: ref, Title: board + " way " + strconv.Itoa(w.Number)}
	if r.has {
		device.Class = class("device "+string(w.Device.Kind), w.Status)
		pose := symbol.RowPose
		if dir < 0 {
			pose = symbol.RowTurned
		}
		device.Nodes = append(device.Nodes, placed(r.sym.Form(pose), mirroredAt(at, dir, r.reach))...)
		device.Title = ref + " " + join(string(w.Device.Kind), r.rating.text)
	}
	number := scene.Text{At: geom.Point{X: at.X - dir*numberGap, Y: at.Y + m.caps.ref/2}, Cap: m.caps.ref, Bold: true, Anchor: scene.Right, Text: strconv.Itoa(w.Number)}
	if dir < 0 {
		number.Anchor = scene.Left
	}
	device.Nodes = append(device.Nodes, number)
	if r.rating.text != "" {
		device.Nodes = append(device.Nodes, m.along(line{r.rating}, at, dir, r.reach+rowText, -r.lift(r.rating))...)
	}
	groups = append(groups, device)
	pen := m.d.wirePen(w.Board.Domain, w.Status)
	if r.class == "spare" {
		end := r.spareEnd()
		g := &scene.Group{Class: "device spare", Item: ref, Title: ref + " spare"}
		g.Nodes = append(g.Nodes, stroke(pen, x(r.reach), at.Y, x(end), at.Y))
		g.Nodes = append(g.Nodes, placed(r.poseEnd(dir), mirroredAt(geom.Point{X: x(end), Y: at.Y}, dir, r.load.Box.X1))...)
		g.Nodes = append(g.Nodes, m.along(r.cable, at, dir, r.reach+rowText, -r.raise())...)
		return append(groups, g)
	}
	if r.class == "" {
		return groups
	}
	cable := m.cableGroup(w.Cable)
	cable.Nodes = append(cable.Nodes, stroke(m.d.wirePen(cableDomain(w), w.Cable.Status), x(r.reach), at.Y, x(r.board.load), at.Y))
	cable.Nodes = append(cable.Nodes, m.along(r.cable, at, dir, r.noteAt(), -r.raise())...)
	groups = append(groups, cable)
	end := &scene.Group{Class: class("device "+r.loadSym.Name, w.Status), Item: ref, Title: ref + " " + join(w.Label)}
	switch {
	case r.class == "flag":
		end.Class = class("device flag", w.Status)
	case r.class == "end":
		end.Class = class("device end "+r.loadSym.Name, w.Status)
	case r.loadOf != nil:
		end.Class, end.Item, end.Title = class("device "+string(r.loadOf.Kind), r.loadOf.Status), r.loadOf.Ref, title(r.loadOf)
	case w.Load != nil:
		end.Class = class("device "+string(w.Load.Kind), w.Status)
		if own := ownRef(w.Load); own != "" {
			end.Item, end.Title = own, title(w.Load)
		}
	}
	end.Nodes = append(end.Nodes, placed(r.poseEnd(dir), mirroredAt(geom.Point{X: x(r.board.load), Y: at.Y}, dir, r.load.Box.X1))...)
	end.Nodes = append(end.Nodes, m.rowName(r, at, dir)...)
	return append(groups, end)
}

// raise is how far the baseline of a row's text stands above its wire: farther
// where letters hang below the line.
func (r *rowFace) raise() int {
	up := rowRaise
	for _, w := range r.cable {
		up = max(up, r.lift(w))
	}
	return up
}

// lift is the same of one word.
func (r *rowFace) lift(w word) int {
	if strings.ContainsAny(w.text, "gjpqyQ,;()[]") {
		return scene.Descent(w.cap) + r.pen/2 + leading
	}
	return rowRaise
}

// noteAt is where the cable's note begins: behind the widest rating of the board.
func (r *rowFace) noteAt() int {
	rating := 0
	for _, o := range r.board.rows {
		rating = max(rating, o.rating.width())
	}
	return r.reach + rowText + rating + rowGap
}

func cableDomain(w *circuit.Way) *circuit.Domain {
	if w.Cable != nil && w.Cable.Domain != nil {
		return w.Cable.Domain
	}
	return w.Board.Domain
}

func (m *model) nodeBoard(w *circuit.Way) string { return w.Board.Ref }

func (r *rowFace) poseEnd(dir int) symbol.Form {
	if dir < 0 {
		return r.loadSym.Form(symbol.RowTurned)
	}
	return r.loadSym.Form(symbol.RowPose)
}

// mirroredAt is where a level form begins, so that its near end is at a point.
func mirroredAt(p geom.Point, dir, length int) geom.Point {
	if dir < 0 {
		p.X -= length
	}
	return p
}

// along sets a line of text beginning at a distance from the rail.
func (m *model) along(l line, at geom.Point, dir, from, down int) []scene.Node {
	p := geom.Point{X: at.X + from, Y: at.Y + down}
	if dir < 0 {
		p.X = at.X - from - l.width()
	}
	return l.at(p)
}

// rowName sets the name of what ends a row, centred on its wire.
func (m *model) rowName(r *rowFace, at geom.Point, dir int) []scene.Node {
	if len(r.name) == 0 {
		return nil
	}
	base := at.Y + r.name[0].cap()/2 - r.name.drop()/2
	var nodes []scene.Node
	for i, l := range r.name {
		if i > 0 {
			base += pitch(r.name[i-1].cap(), l.cap())
		}
		nodes = append(nodes, m.along(l, geom.Point{X: at.X, Y: base}, dir, r.board.text, 0)...)
	}
	return nodes
}

// placed shifts a form's strokes to a point.
func placed(f symbol.Form, at geom.Point) []scene.Node { return shifted(f.Nodes, at) }

func shifted(nodes []scene.Node, by geom.Point) []scene.Node {
	out := make([]scene.Node, 0, len(nodes))
	for _, n := range nodes {
		switch n := n.(type) {
		case scene.Line:
			points := make([]geom.Point, len(n.Points))
			for i, p := range n.Points {
				points[i] = p.Add(by)
			}
			n.Points = points
			out = append(out, n)
		case scene.Circle:
			n.Centre = n.Centre.Add(by)
			out = append(out, n)
		case scene.Arc:
			n.Centre = n.Centre.Add(by)
			out = append(out, n)
		case scene.Text:
			n.At = n.At.Add(by)
			out = append(out, n)
		case *scene.Group:
			g := *n
			g.Nodes = shifted(n.Nodes, by)
			out = append(out, &g)
		}
	}
	return out
}
