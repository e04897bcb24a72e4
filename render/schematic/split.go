package schematic

// A craft that is too large for its paper is divided over sheets; where a cable
// goes on, a flag stands at both of its ends.

import (
	"cmp"
	"fmt"
	"math/bits"
	"slices"
	"sync"

	"strake/lang/circuit"
	"strake/layout"
	"strake/layout/geom"
	"strake/render/scene"
	"strake/render/symbol"
)

// flagFace is a flag: the cable that goes on on another sheet, or to a coil.
type flagFace struct {
	cable   *circuit.Cable
	arrives bool   // stands where the cable comes in
	stub    bool   // the cable itself, with its note, is drawn on the other sheet
	beyond  string // what it leads to there; empty: to a coil
	coil    circuit.End
}

// arrivesWhole tells a cable that is drawn where it arrives: its end there is a
// joint, which one of its cables draws, or a board's row, which bears its note.
// All others are drawn where they begin.
func (m *model) arrivesWhole(w layout.Wire) bool {
	return m.drawnWhereItEnds(w) && m.nodes[w.From.Node].posts == nil && w.From.Row < 0
}

// drawnWhereItEnds tells a cable whose far end cannot be a stub.
func (m *model) drawnWhereItEnds(w layout.Wire) bool {
	return m.nodes[w.To.Node].posts != nil || w.To.Row >= 0
}

// part is the model of some of the nodes. Cables that leave them end on flags.
func (m *model) part(inside []bool) *model {
	p := *m
	p.graph = layout.Graph{}
	p.nodes, p.wires, p.wants = nil, nil, 0
	number := make([]int, len(m.nodes))
	for i := range m.nodes {
		number[i] = -1
		if inside[i] {
			number[i] = p.add(m.graph.Nodes[i], m.nodes[i])
		}
	}
	flags := map[[2]int]int{} // the flag of what hangs on a bar and stands elsewhere
	for i, w := range m.graph.Wires {
		from, to := number[w.From.Node], number[w.To.Node]
		k, ends := m.wires[i], [2]int{w.From.Node, w.To.Node}
		switch {
		case from < 0 && to < 0:
			continue
		case to < 0: // goes on to its flag
			face := flagFace{cable: k.cable, stub: m.arrivesWhole(w)}
			if face.stub {
				k, w.Note = conductor{stub: k.cable}, layout.Note{}
			}
			w.To = p.flag(face, m, w.To)
			flags[ends] = w.To.Node
			w.From.Node, w.Tie, w.Least = from, false, max(w.Least, 300)
		case from < 0: // arrives from its flag
			face := flagFace{cable: k.cable, arrives: true, stub: !m.arrivesWhole(w)}
			if face.stub {
				k, w.Note = conductor{stub: k.cable}, layout.Note{}
			}
			w.From = p.flag(face, m, w.From)
			flags[[2]int{ends[1], ends[0]}] = w.From.Node
			w.To.Node, w.Tie, w.Least = to, false, max(w.Least, 300)
		default:
			w.From.Node, w.To.Node = from, to
		}
		p.graph.Wires = append(p.graph.Wires, w)
		p.wires = append(p.wires, k)
	}
	p.adoptPosts()
	for _, o := range m.graph.Orders {
		moved := layout.Order{Bar: number[o.Bar]}
		for _, n := range o.Nodes {
			at, ok := flags[[2]int{o.Bar, n}]
			if number[n] >= 0 {
				at, ok = number[n], true
			}
			if ok {
				moved.Nodes = append(moved.Nodes, at)
			}
		}
		if moved.Bar >= 0 && len(moved.Nodes) > 1 {
			p.graph.Orders = append(p.graph.Orders, moved)
		}
	}
	return &p
}

// flag adds the node of a flag; beyond is the end that the cable has on the
// other sheet.
func (m *model) flag(f flagFace, whole *model, beyond layout.End) layout.End {
	sym, _ := symbol.For("flag", symbol.Variant{})
	form := m.poseAt(sym, layout.Upright)
	f.beyond = whole.beyond(beyond)
	n := m.flagNote(&f, 99, "M99") // the zone is known when all is drawn: its room is kept
	node := layout.Node{Name: f.cable.ID + " " + f.way(), Box: trimmed(form), Group: m.group(f.cable.Domain), Top: f.arrives}
	node.Note.X, node.Note.Y, node.Note.Beside = noteCell(form, n)
	i := m.add(node, figure{sym: sym, one: true, flag: &f, note: n})
	return layout.End{Node: i, Port: -1, Row: -1}
}

// way is what a flag says of the direction.
func (f *flagFace) way() string {
	if f.arrives {
		return "from"
	}
	return "to"
}

// flagNote tells on which sheet and in which of its zones a cable goes on, and
// to what.
func (m *model) flagNote(f *flagFace, sheet int, zone string) note {
	return note{
		{{text: fmt.Sprintf("%s sheet %d, %s", f.way(), sheet, zone), cap: m.caps.note}},
		{{text: f.beyond, cap: m.caps.note, bold: true}},
	}
}

// address writes on every flag where its other one stands.
func address(pages []*page, p paper) {
	type key struct {
		cable   *circuit.Cable
		arrives bool
	}
	stands := map[key]struct {
		sheet int
		zone  string
	}{}
	each := func(do func(i int, g *page, f *figure, at geom.Point)) {
		for i, g := range pages {
			if g.survey != nil {
				continue
			}
			for _, s := range g.laid.Symbols {
				if f := &g.model.nodes[s.Node]; f.flag != nil && f.flag.beyond != "" {
					form := g.model.poseAt(f.sym, s.Turn).Box
					do(i, g, f, s.At.Add(g.plan.origin()).Add(geom.Point{X: (form.X0 + form.X1) / 2, Y: (form.Y0 + form.Y1) / 2}))
				}
			}
		}
	}
	each(func(i int, _ *page, f *figure, at geom.Point) {
		k := stands[key{f.flag.cable, f.flag.arrives}]
		k.sheet, k.zone = i+1, p.zoneAt(at)
		stands[key{f.flag.cable, f.flag.arrives}] = k
	})
	each(func(_ int, g *page, f *figure, _ geom.Point) {
		k := stands[key{f.flag.cable, !f.flag.arrives}]
		f.note = g.model.flagNote(f.flag, k.sheet, k.zone)
	})
	addressBars(pages, p)
	addressCoils(pages, p)
}

// addressCoils does the same for flags and rows that lead to a coil.
func addressCoils(pages []*page, p paper) {
	at := sheetsOf(pages)
	zone := func(e circuit.End) string {
		s, ok := at[e.Item]
		switch {
		case !ok: // in the list of controls
			return ""
		case len(pages) == 1:
			return p.zoneAt(s.at)
		}
		return fmt.Sprintf("sheet %d, %s", s.sheet, p.zoneAt(s.at))
	}
	for _, g := range pages {
		if g.survey != nil {
			continue
		}
		for i := range g.model.nodes {
			f := &g.model.nodes[i]
			if f.flag != nil && f.flag.coil.Item != nil {
				f.note = g.model.coilNote(f.flag.coil, zone(f.flag.coil))
			}
			if f.board == nil {
				continue
			}
			for _, r := range f.board.rows {
				if r.coil.Item != nil {
					r.name = g.model.rowNote(withStatus(toCoil(r.coil, zone(r.coil)), r.way.Status))
				}
			}
		}
	}
}

// addressBars does the same for bars that go on elsewhere.
func addressBars(pages []*page, p paper) {
	more, at := map[*circuit.Item][]int{}, sheetsOf(pages)
	each := func(do func(i int, g *page, f *figure)) {
		for i, g := range pages {
			for _, b := range g.laid.Bars {
				if g.survey == nil {
					do(i, g, &g.model.nodes[b.Node])
				}
			}
		}
	}
	each(func(i int, g *page, f *figure) {
		if f.more != nil {
			s := at[f.more]
			f.note = g.model.barFrom(f.more, s.sheet, p.zoneAt(s.at))
			more[f.more] = append(more[f.more], i+1)
		}
	})
	each(func(_ int, g *page, f *figure) {
		if f.name != nil {
			f.note = g.model.goesOn(f, slices.Compact(more[f.item]))
		}
	})
}

// beyond names the end that a cable has on the other sheet.
func (m *model) beyond(e layout.End) string {
	f := m.nodes[e.Node]
	switch {
	case e.Row >= 0:
		w := f.board.rows[e.Row].way
		return fmt.Sprintf("%s.%d", w.Board.Ref, w.Number)
	case f.item != nil:
		return f.item.Ref
	case f.more != nil:
		return f.more.Ref
	case f.posts != nil:
		for _, w := range m.graph.Wires { // the joint of a terminal: its owner
			if w.From.Node == e.Node && m.nodes[w.To.Node].item != nil {
				return m.nodes[w.To.Node].item.Ref
			}
			if w.To.Node == e.Node && m.nodes[w.From.Node].item != nil {
				return m.nodes[w.From.Node].item.Ref
			}
		}
	}
	return ""
}

// adoptPosts lets a joint be drawn by a cable of its own sheet.
func (m *model) adoptPosts() {
	for i := range m.nodes {
		if m.nodes[i].posts == nil {
			continue
		}
		var mine []*circuit.Cable
		for k, w := range m.graph.Wires {
			if c := m.wires[k].cable; c != nil && (w.From.Node == i || w.To.Node == i) {
				mine = append(mine, c)
			}
		}
		if len(mine) > 0 && !slices.Contains(mine, m.nodes[i].posts) {
			m.nodes[i].posts = mine[0]
		}
	}
}

// halves are the divisions worth a try, the best first: sets of domains that
// are cut off by few cables and leave neither sheet with nearly everything.
func (m *model) halves() [][]bool {
	groups := len(m.d.sys.Domains)
	if groups < 2 || groups > 12 {
		return nil
	}
	type half struct {
		away []bool
		cost int
	}
	var list []half
	total := m.sum()
	for set := 1; set < 1<<groups; set++ {
		if bits.OnesCount(uint(set)) > 3 {
			continue
		}
		away := m.side(set)
		moved, cuts := 0, 0
		for i, a := range away {
			if a {
				moved += m.size(i)
			}
		}
		for _, w := range m.graph.Wires {
			if away[w.From.Node] != away[w.To.Node] {
				cuts++
				if m.drawnWhereItEnds(w) && !m.arrivesWhole(w) {
					cuts += 1000 // a stub would end on a joint that another cable draws
				}
			}
		}
		if moved*4 < total || moved*2 > total || cuts >= 1000 {
			continue
		}
		list = append(list, half{away, 100*cuts + 1000*(total/2-moved)/total})
	}
	slices.SortStableFunc(list, func(a, b half) int { return a.cost - b.cost })
	var best [][]bool
	for _, h := range list {
		if len(best) < mostHalves && !slices.ContainsFunc(best, func(o []bool) bool { return slices.Equal(o, h.away) }) {
			best = append(best, h.away)
		}
	}
	return best
}

// mostHalves is how many divisions in two are looked at.
const mostHalves = 10

// size of a node on the sheet, in square millimetres or so.
func (m *model) size(i int) int {
	n := m.graph.Nodes[i]
	if n.Form == layout.Board {
		sum := 0
		for _, r := range n.Rows {
			sum += r.Strip.W / 100 * r.Strip.H / 100
		}
		return sum
	}
	return (n.Box.Width() + n.Note.Beside.W + 300) / 100 * (max(n.Box.Height(), n.Note.Beside.H) + 900) / 100
}

// side tells which nodes go to the second sheet with a set of domains: their
// own, and of what lies in no domain what has most of its wires there. What a
// joint or a loose end belongs to goes with it.
func (m *model) side(set int) []bool {
	away, settled := make([]bool, len(m.nodes)), make([]bool, len(m.nodes))
	for i, n := range m.graph.Nodes {
		f := m.nodes[i]
		if n.Group > 0 && f.posts == nil && f.end == nil {
			away[i], settled[i] = set>>(n.Group-1)&1 == 1, true
		}
	}
	for range 3 {
		for i := range m.nodes {
			f := m.nodes[i]
			if settled[i] && !f.follows() {
				continue
			}
			there, here := 0, 0
			for k, w := range m.graph.Wires {
				other := w.From.Node
				if other == i {
					other = w.To.Node
				} else if w.To.Node != i {
					continue
				}
				weight := 2
				if w.To.Node == i {
					weight = 3 // what feeds it counts more
				}
				if m.wires[k].cable == nil {
					weight = 100 // a joint and its terminal are one
				}
				if !settled[other] {
					continue
				}
				if away[other] {
					there += weight
				} else {
					here += weight
				}
			}
			if there+here > 0 {
				away[i], settled[i] = there > here, true
			}
		}
	}
	return away
}

// follows tells a node that belongs to another.
func (f figure) follows() bool { return f.posts != nil || f.end != nil }

// divided draws the craft on several sheets of a paper: on two, cut at its
// voltages where that can be, else on as many as it takes, with an overview
// before them; false: one of its things is larger than the paper.
func (d *draught) divided(p paper) ([]scene.Sheet, bool) {
	for _, c := range []caps{small, dense} {
		for _, h := range d.looks(c, p) {
			if d.options.Effort == layout.Good {
				h.enlarge(d, p)
			}
			if h.careful(d.options.Effort) {
				return d.bind(p, []*page{h.sheets[0].page(), h.sheets[1].page()}, true), true
			}
		}
	}
	whole := d.model(small, d.ways()[0])
	parts, ok := whole.over(p)
	if !ok {
		return nil, false
	}
	var pages []*page
	for _, t := range parts {
		pages = append(pages, t.page())
	}
	if len(pages) <= 2 {
		return d.bind(p, pages, true, whole.commonBlocks()...), true
	}
	return d.bindParts(p, whole, pages, true), true
}

// bindParts makes the sheets of the drawings of a craft; three or more stand
// behind an overview.
func (d *draught) bindParts(p paper, whole *model, pages []*page, tables bool) []scene.Sheet {
	if len(pages) <= 2 {
		return d.bind(p, pages, tables)
	}
	first, index := whole.overview(p, pages)
	return d.bind(p, slices.Insert(pages, 0, first), true, slices.Concat(index, whole.commonBlocks()[1:])...)
}

// carefulHalves is how many divisions in two get a careful search.
const carefulHalves = 3

// quickHalves is how many the quick form looks at: it has no time for more.
const quickHalves = 3

// mostFilledHalf is the share of its field, in thousandths, above which the quick
// form did not find room for a sheet of two in any of a hundred looks.
const mostFilledHalf = 380

// half is a division in two.
type half struct {
	sheets [2]*attempt
	lift   lift
	unfit  int // 1: one of them did not find room at a quick look
	full   int // share of the fuller sheet that its things take, in thousandths, and more for what a quick look found too large
	cost   int // crossings and bends
}

// looks takes a quick look at the divisions in two and gives the best of them;
// the quick form, to which this look is all, the first that finds room.
func (d *draught) looks(c caps, p paper) []half {
	quick, ways := d.options.Effort == layout.Quick, d.ways()
	if quick {
		ways = ways[:1]
	}
	var list []half
	for _, l := range ways {
		whole := d.model(c, l)
		halves := whole.halves()
		if quick {
			halves = halves[:min(len(halves), quickHalves)]
		}
		for _, away := range halves {
			if h := whole.half(away, p); !h.hopeless() && !(quick && h.filled() > mostFilledHalf) {
				h.lift = l
				list = append(list, h)
			}
		}
	}
	var done sync.WaitGroup
	for i := range list {
		done.Go(func() { list[i].look(quick) })
	}
	done.Wait()
	if quick {
		list = slices.DeleteFunc(list, func(h half) bool { return h.unfit > 0 })
		return list[:min(len(list), 1)]
	}
	slices.SortStableFunc(list, func(a, b half) int { return cmp.Or(a.unfit-b.unfit, a.full-b.full, a.cost-b.cost) })
	return list[:min(len(list), carefulHalves)]
}

// careful lays both sheets out as they are to be, the fuller one first; false:
// they find no room.
func (h *half) careful(effort layout.Effort) bool {
	order := []int{0, 1}
	if h.sheets[1].model.sum() > h.sheets[0].model.sum() {
		order = []int{1, 0}
	}
	for _, i := range order {
		if again := *h.sheets[i]; effort == layout.Good && again.try(layout.Good) && again.better(*h.sheets[i]) {
			h.sheets[i] = &again
		}
		if !h.sheets[i].drawing.Fits {
			return false
		}
	}
	return true
}

// commonBlocks are what stands once in a set of sheets: what stays live first.
func (m *model) commonBlocks() []block {
	blocks := []block{m.stillLive()}
	if b, ok := m.controlBlock(); ok {
		blocks = append(blocks, b)
	}
	flags := *m
	sym, _ := symbol.For("flag", symbol.Variant{})
	flags.nodes = append(slices.Clone(m.nodes), figure{sym: sym, flag: &flagFace{}})
	return append(blocks, flags.legendBlocks()...)
}

// half is a division, not yet laid out.
func (m *model) half(away []bool, p paper) half {
	// The heavy cables, bank and motors, come first.
	heavy := 0
	for _, w := range m.graph.Wires {
		switch {
		case w.Weight > 2 && away[w.From.Node] && away[w.To.Node]:
			heavy += w.Weight - 2
		case w.Weight > 2 && !away[w.From.Node] && !away[w.To.Node]:
			heavy -= w.Weight - 2
		}
	}
	if heavy > 0 {
		away = slices.Clone(away)
		for i := range away {
			away[i] = !away[i]
		}
	}
	here := make([]bool, len(away))
	for i := range away {
		here[i] = !away[i]
	}
	var h half
	for i, inside := range [][]bool{here, away} {
		h.sheets[i] = m.partOn(p, inside, m.halfBlocks(i)...)
	}
	return h
}

// partOn is one sheet of a division, not yet laid out, with the blocks that
// stand on it.
func (m *model) partOn(p paper, inside []bool, blocks ...block) *attempt {
	t := &attempt{model: m.part(inside), inside: inside}
	t.plan = t.model.planPart(p, blocks...)
	return t
}

// enlarge takes for each sheet the largest letters with which it finds room.
func (h *half) enlarge(d *draught, p paper) {
	for i, t := range h.sheets {
		h.sheets[i] = t.enlarged(func(k int) *attempt {
			m := d.model(largerCaps[k], h.lift)
			return m.partOn(p, t.inside, m.halfBlocks(i)...)
		})
	}
}

// enlarged is a sheet of a division in the largest letters with which it finds
// room at a quick look, with no block fewer and no crossing or bend more; larger
// gives it in each of the larger ones.
func (t *attempt) enlarged(larger func(k int) *attempt) *attempt {
	for k := range largerCaps {
		if l := larger(k); !l.model.hopeless(l.plan) && l.try(layout.Quick) && l.blocks >= t.blocks && !t.better(*l) {
			return l
		}
	}
	return t
}

// halfBlocks are the blocks of the first or the second of two sheets.
func (m *model) halfBlocks(i int) []block {
	blocks := m.commonBlocks()
	last := len(blocks) - legendParts
	return [][]block{blocks[:last], blocks[last:]}[i]
}

// hopeless tells that one of the sheets is too small for its things.
func (h *half) hopeless() bool {
	return h.sheets[0].model.hopeless(h.sheets[0].plan) || h.sheets[1].model.hopeless(h.sheets[1].plan)
}

// filled is the share of the fuller sheet that its things take, in thousandths.
func (h *half) filled() int { return max(h.sheets[0].filled(), h.sheets[1].filled()) }

func (t *attempt) filled() int {
	f := t.plan.field()
	return t.model.sum() * 1000 / (f.Width / 100 * (f.Height / 100))
}

// look lays both sheets out quickly; when all must find room, the second only
// if the first does.
func (h *half) look(all bool) {
	for _, t := range h.sheets {
		if all && h.unfit > 0 {
			return
		}
		t.try(layout.Quick)
		h.full = max(h.full, t.filled()+t.miss())
		if !t.drawing.Fits {
			h.unfit = 1
		}
		k := t.drawing.Sheets[0].Figures
		h.cost += 4*k.Crossings + k.Bends
	}
}

// miss is by how much a drawing is too large, in per cent.
func (t attempt) miss() int {
	if t.drawing.Fits {
		return 0
	}
	f, b := t.plan.field(), t.drawing.Sheets[0].Bounds
	return missBlock + max(0, b.X1*100/f.Width-100) + max(0, b.Y1*100/f.Height-100)
}

const (
	missBlock = 3  // a block finds no hole
	nearMiss  = 15 // for which a careful search of a whole craft is worth its time
)

// planPart is what stands around one of several drawings.
func (m *model) planPart(p paper, blocks ...block) sheetPlan {
	in := p.inner()
	plan := sheetPlan{area: in, blocks: blocks, loose: true}
	m.foot(&plan, in, second)
	return plan
}

// drawFlag draws a flag, and where a cable arrives the stub from it: a line of
// its own that is no second cable.
func (m *model) drawFlag(p layout.PlacedSymbol, f figure, s layout.Sheet, origin geom.Point) []*scene.Group {
	c := f.flag.cable
	g := &scene.Group{Class: class("device flag", c.Status), Item: c.ID, Title: c.ID + ": goes on elsewhere"}
	g.Nodes = append(g.Nodes, placed(m.poseAt(f.sym, p.Turn), p.At.Add(origin))...)
	g.Nodes = append(g.Nodes, f.note.at(p.Beside.Add(origin))...)
	if !f.flag.stub {
		return []*scene.Group{g}
	}
	stub := &scene.Group{Class: "stub"}
	for _, w := range s.Wires {
		if k := m.graph.Wires[w.Wire]; k.From.Node == p.Node || k.To.Node == p.Node {
			stub.Nodes = append(stub.Nodes, m.wireLine(c, w.Points, origin))
			for _, j := range w.Joints {
				stub.Nodes = append(stub.Nodes, m.dot(c, j.Add(origin)))
			}
		}
	}
	return []*scene.Group{stub, g}
}
