package schematic

// The overview before several drawings: sources, bars, boards, converters and
// what joins them, each as a box with the sheet on which it is drawn.

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"strake/lang/circuit"
	"strake/layout"
	"strake/layout/geom"
	"strake/render/scene"
)

// survey is what the overview shows.
type survey struct {
	graph layout.Graph
	boxes []surveyBox
	pens  []scene.Pen // of the wires
}

// surveyBox is some things of one kind at one place of the craft: one, or
// several that hang alike.
type surveyBox struct {
	items []*circuit.Item
	bar   bool
}

// overview is the page of the overview, before the pages of the drawings. Where
// there is too much for one sheet it is a list of what stands where, in blocks.
func (m *model) overview(p paper, pages []*page) (*page, []block) {
	s := m.survey(pages)
	v := *m
	v.graph, v.nodes, v.wires = s.graph, nil, nil
	t := attempt{model: &v, plan: v.planPart(p, m.stillLive())}
	t.plan.least = 1
	if len(s.boxes) <= mostSurveyed && t.try(layout.Quick) {
		g := t.page()
		g.survey = s
		return g, nil
	}
	v.graph = layout.Graph{}
	return &page{model: &v, plan: v.planPart(p), survey: &survey{}}, append([]block{m.stillLive()}, m.index(pages)...)
}

// Lengths of the list of what stands where: rows of one block, names in a row.
const (
	indexRows  = 24
	indexNames = 9
)

// index lists what stands on which sheet.
func (m *model) index(pages []*page) []block {
	var rows [][]string
	for i, g := range pages {
		var refs []string
		for _, f := range g.model.nodes {
			if f.surveyed() {
				refs = append(refs, f.item.Ref)
			}
		}
		slices.SortFunc(refs, circuit.Compare)
		if n := len(refs); n > indexNames {
			refs = append(refs[:indexNames-1:indexNames-1], "and "+strconv.Itoa(n-indexNames+1)+" more")
		}
		rows = append(rows, []string{strconv.Itoa(i + 2), orDash(strings.Join(refs, ", "))})
	}
	var out []block
	for part := range slices.Chunk(rows, indexRows) {
		t := table{cap: 250, columns: []column{{"Sheet", 0, true}, {"Shows", 9000, false}}, rows: part}
		t.columns[0].width = scene.Width("Sheet", t.cap, true) + 240
		b := block{name: "index", sizes: []layout.Size{t.size()}}
		b.draw = func(_ int, at geom.Point) []*scene.Group {
			r := geom.Rect{X0: at.X, Y0: at.Y, X1: at.X + t.width(), Y1: at.Y + t.height()}
			return onSheet(&scene.Group{Class: "table index", Nodes: append(t.draw(at), box(r, scene.FramePen35))})
		}
		out = append(out, b)
	}
	return out
}

// mostSurveyed is how many boxes an overview shows at the most.
const mostSurveyed = 120

// surveyed tells what the overview shows.
func (f figure) surveyed() bool {
	if f.item == nil || f.posts != nil || f.flag != nil || f.end != nil {
		return false
	}
	n := f.item.Nature()
	return f.board != nil || f.bank != nil || n.Conductive || n.Source || n.Converts
}

// joined is a line of the overview.
type joined struct {
	from, to int // boxes
	tie      bool
	pen      scene.Pen
}

// survey gathers what the overview shows of a craft.
func (m *model) survey(pages []*page) *survey {
	box := make([]int, len(m.nodes)) // box of each node, -1: none
	s := &survey{}
	for i, f := range m.nodes {
		box[i] = -1
		if f.surveyed() {
			box[i] = len(s.boxes)
			s.boxes = append(s.boxes, surveyBox{[]*circuit.Item{f.item}, f.board != nil || f.item.Nature().Conductive})
		}
	}
	for k, w := range m.graph.Wires { // a joint belongs to what it is the terminal of
		if m.wires[k].cable == nil {
			if from, to := box[w.From.Node], box[w.To.Node]; from >= 0 && to < 0 {
				box[w.To.Node] = from
			} else if to >= 0 && from < 0 {
				box[w.From.Node] = to
			}
		}
	}
	lines := m.surveyLines(box)
	s.gather(&lines, pages)
	s.lay(m, lines)
	return s
}

// surveyLines finds which boxes are joined, past all that is not shown.
func (m *model) surveyLines(box []int) []joined {
	near := make([][]int, len(m.nodes)) // wires
	for k, w := range m.graph.Wires {
		near[w.From.Node], near[w.To.Node] = append(near[w.From.Node], k), append(near[w.To.Node], k)
	}
	var out []joined
	add := func(from, to int, tie bool, pen scene.Pen) {
		if from != to && !slices.ContainsFunc(out, func(o joined) bool { return o.from == from && o.to == to || o.from == to && o.to == from }) {
			out = append(out, joined{from, to, tie, pen})
		}
	}
	seen := make([]bool, len(m.nodes))
	pen := func(k int) scene.Pen { return m.cablePen(m.wires[k].cable) }
	for k, w := range m.graph.Wires {
		from, to := box[w.From.Node], box[w.To.Node]
		if from >= 0 && to >= 0 && m.wires[k].cable != nil {
			add(from, to, w.Tie, pen(k))
		}
		first := w.From.Node
		if from >= 0 {
			first = w.To.Node
		}
		if box[first] >= 0 || seen[first] {
			continue
		}
		type side struct {
			box int
			pen scene.Pen
		}
		var supplies, loads []side
		tie := false
		seen[first] = true
		group := []int{first}
		for i := 0; i < len(group); i++ {
			for _, k := range near[group[i]] {
				w := m.graph.Wires[k]
				tie = tie || w.Tie
				for _, n := range [...]int{w.From.Node, w.To.Node} {
					switch {
					case box[n] < 0 && !seen[n]:
						seen[n] = true
						group = append(group, n)
					case box[n] >= 0 && n == w.From.Node:
						supplies = append(supplies, side{box[n], pen(k)})
					case box[n] >= 0:
						loads = append(loads, side{box[n], pen(k)})
					}
				}
			}
		}
		for i, s := range supplies {
			for j, l := range loads {
				if i == 0 || j == 0 {
					add(s.box, l.box, tie, s.pen)
				}
			}
		}
		if len(supplies) == 0 {
			for _, l := range loads[min(1, len(loads)):] {
				add(loads[0].box, l.box, tie, l.pen)
			}
		}
	}
	return out
}

// gather makes one box of those that hang alike on one thing and are drawn on
// one sheet.
func (s *survey) gather(lines *[]joined, pages []*page) {
	degree := make([]int, len(s.boxes))
	for _, l := range *lines {
		degree[l.from]++
		degree[l.to]++
	}
	type like struct {
		other, sheet int
		away         bool
		kind         circuit.Kind
	}
	first := map[like]int{}
	into := make([]int, len(s.boxes))
	for i := range into {
		into[i] = i
	}
	on := sheetsOf(pages)
	kept := (*lines)[:0]
	for _, l := range *lines {
		leaf, other := l.from, l.to
		if degree[leaf] > 1 {
			leaf, other = other, leaf
		}
		if degree[leaf] > 1 || s.boxes[leaf].bar {
			kept = append(kept, l)
			continue
		}
		it := s.boxes[leaf].items[0]
		k := like{other, on[it].sheet, leaf == l.from, it.Kind}
		if n, ok := first[k]; ok {
			s.boxes[n].items = append(s.boxes[n].items, it)
			into[leaf] = n
			continue
		}
		first[k] = leaf
		kept = append(kept, l)
	}
	number := make([]int, len(s.boxes))
	var boxes []surveyBox
	for i := range s.boxes {
		if into[i] == i {
			number[i] = len(boxes)
			boxes = append(boxes, s.boxes[i])
		}
	}
	for i := range kept {
		kept[i].from, kept[i].to = number[kept[i].from], number[kept[i].to]
	}
	s.boxes, *lines = boxes, kept
}

// words of a box, with where it is drawn.
func (b surveyBox) words(c caps, where string) note {
	var refs []string
	for _, it := range b.items {
		refs = append(refs, it.Ref)
	}
	it := b.items[0]
	n := wrapped(strings.Join(refs, " "), boxWidth, c.ref, true)
	if len(b.items) > 1 {
		n = append(n, line{{strconv.Itoa(len(b.items)) + " × " + strings.ToLower(kindName(it.Kind)), c.note, false}})
	} else if it.Label != "" {
		n = append(n, wrapped(it.Label, boxWidth, c.note, false)...)
	}
	return append(n, line{{where, c.note, false}})
}

const (
	boxAir   = 120  // from a box to its text
	boxWidth = 3600 // of its text, before that goes on in a second line
)

// lay makes the graph of the boxes and lines.
func (s *survey) lay(m *model, lines []joined) {
	in, out := make([]int, len(s.boxes)), make([]int, len(s.boxes))
	for _, l := range lines {
		out[l.from]++
		in[l.to]++
	}
	for i, b := range s.boxes {
		z := b.words(m.caps, surveyWhere(99, "M99")).size()
		n := layout.Node{Name: b.items[0].Ref, Group: m.group(b.items[0].Domain), Top: in[i] == 0}
		if b.bar {
			n.Form, n.Note.Over = layout.Bar, z
		} else {
			n.Box = geom.Rect{X0: -z.W/2 - boxAir, X1: z.W/2 + boxAir, Y1: z.H + boxAir}
		}
		s.graph.Nodes = append(s.graph.Nodes, n)
	}
	ports := make([]int, len(s.boxes))
	end := func(i int) layout.End {
		n := &s.graph.Nodes[i]
		if n.Form == layout.Bar || in[i] <= 1 && out[i] <= 1 {
			return layout.End{Node: i, Port: -1, Row: -1}
		}
		n.Ports = append(n.Ports, layout.Port{Side: layout.AnySide})
		ports[i]++
		return layout.End{Node: i, Port: ports[i] - 1, Row: -1}
	}
	for k, l := range lines {
		bars := s.graph.Nodes[l.from].Form == layout.Bar && s.graph.Nodes[l.to].Form == layout.Bar
		s.graph.Wires = append(s.graph.Wires, layout.Wire{Name: "line " + strconv.Itoa(k), From: end(l.from), To: end(l.to), Least: 500, Weight: 2, Tie: l.tie && bars})
		s.pens = append(s.pens, l.pen)
	}
}

func surveyWhere(sheet int, zone string) string { return fmt.Sprintf("sheet %d, %s", sheet, zone) }

// stand is where a thing is drawn.
type stand struct {
	sheet int
	at    geom.Point
}

// sheetsOf finds on which page each item has its place, from one on.
func sheetsOf(pages []*page) map[*circuit.Item]stand {
	out := map[*circuit.Item]stand{}
	for i, g := range pages {
		if g.survey != nil {
			continue
		}
		note := func(node int, at geom.Point) {
			if f := g.model.nodes[node]; f.item != nil && f.flag == nil && f.posts == nil {
				out[f.item] = stand{i + 1, at.Add(g.plan.origin())}
			}
		}
		for _, s := range g.laid.Symbols {
			r := g.model.graph.Nodes[s.Node].Box
			note(s.Node, s.At.Add(geom.Point{X: (r.X0 + r.X1) / 2, Y: (r.Y0 + r.Y1) / 2}))
		}
		for _, b := range g.laid.Bars {
			note(b.Node, b.Line[0])
		}
		for _, b := range g.laid.Boards {
			note(b.Node, b.Rail[0])
		}
	}
	return out
}

// draw makes the overview.
func (s *survey) draw(g *page, p paper, pages []*page) []*scene.Group {
	o := &scene.Group{Class: "overview"}
	origin, on := g.plan.origin(), sheetsOf(pages)
	words := func(node int) note {
		b := s.boxes[node]
		st := on[b.items[0]]
		return b.words(g.model.caps, surveyWhere(st.sheet, p.zoneAt(st.at)))
	}
	for _, w := range g.laid.Wires {
		var points []geom.Point
		for _, q := range w.Points {
			points = append(points, q.Add(origin))
		}
		pen := s.pens[w.Wire]
		o.Nodes = append(o.Nodes, scene.Line{Pen: pen, Points: points})
		for _, j := range w.Joints {
			fill := pen.Colour
			if fill == "" {
				fill = scene.Black
			}
			o.Nodes = append(o.Nodes, scene.Circle{Centre: j.Add(origin), RX: 70, RY: 70, Fill: fill})
		}
	}
	for _, b := range g.laid.Bars {
		pen := scene.Pen{Width: 140}
		o.Nodes = append(o.Nodes, scene.Line{Pen: pen, Points: []geom.Point{b.Line[0].Add(origin), b.Line[1].Add(origin)}})
		o.Nodes = append(o.Nodes, words(b.Node).at(b.Name.Add(origin))...)
	}
	for _, b := range g.laid.Symbols {
		at := b.At.Add(origin)
		r := s.graph.Nodes[b.Node].Box
		o.Nodes = append(o.Nodes, box(r.Shift(at), scene.SymbolPen))
		o.Nodes = append(o.Nodes, words(b.Node).at(geom.Point{X: at.X + r.X0 + boxAir, Y: at.Y + boxAir/2})...)
	}
	return onSheet(o)
}
