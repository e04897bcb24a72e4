package schematic

import (
	"slices"

	"strake/lang/circuit"
	"strake/layout"
	"strake/layout/geom"
	"strake/render/scene"
)

// tablesAt says where the tables stand.
type tablesAt int

const (
	below  tablesAt = iota // in a strip under the drawing
	beside                 // in one column with the cautions, for a small sheet
	spread                 // the same with cautions and red-line box at the foot
	within                 // each in a hole of the drawing; on A4 with cautions and red-line box at the foot, on larger paper with the cautions and how to read the sheet there
	second                 // on a second sheet
)

// arrangement is one way to fill the paper.
type arrangement struct {
	paper  paper
	tables tablesAt
	caps   caps
}

// The letters of a sheet: as large as find room, for most drawings lack height
// and have width to spare, which wide notes use.
var (
	grand = caps{hand: 700, ref: 500, note: 350, short: true, wide: 80}
	broad = caps{hand: 500, ref: 350, note: 350, short: true, wide: 80}
	roomy = caps{hand: 500, ref: 350, note: 350, short: true}
	fair  = caps{hand: 500, ref: 350, note: 300, short: true, wide: 80}
	long  = caps{hand: 500, ref: 350, note: 250, short: true, wide: 80}
	small = caps{hand: 500, ref: 350, note: 250, short: true}
	loose = caps{hand: 500, ref: 350, note: 250}
	dense = caps{hand: 350, ref: 250, note: 250}
)

// largerCaps are tried for each sheet of a divided craft.
var largerCaps = []caps{grand, broad, roomy, fair, long}

// arrangements in the order in which they are tried: the paper that was asked
// for, or the smallest; when that is too small for everything, a larger one.
func arrangements(asked string) []arrangement {
	first := []arrangement{{a4, beside, roomy}, {a4, spread, roomy}, {a4, beside, small}, {a4, spread, small}, {a4, within, small}}
	smallOnly := []arrangement{{a4, second, small}, {a4, second, dense}}
	middle := []arrangement{{a3, within, grand}, {a3, within, broad}, {a3, within, roomy}, {a3, within, long}, {a3, below, loose}, {a3, below, small}, {a3, second, loose}, {a3, second, small}, {a3, second, dense}}
	large := []arrangement{{a2, below, loose}, {a2, second, loose}, {a2, second, small}, {a2, second, dense}}
	switch asked {
	case "A4":
		return inTurn(first, smallOnly, middle, large)
	case "A3":
		return inTurn(middle, large)
	case "A2":
		return large
	}
	return inTurn(first, middle, large)
}

func inTurn(lists ...[]arrangement) []arrangement {
	var out []arrangement
	for _, l := range lists {
		out = append(out, l...)
	}
	return out
}

// fieldMargin is the clear space between the drawing and what frames it.
const fieldMargin = 200

// plan of a sheet: where the drawing goes and what stands around it.
type sheetPlan struct {
	area   geom.Rect // of the drawing
	around []*scene.Group
	blocks []block
	least  int  // how many of them must stand beside the drawing
	loose  bool // isolators and red-line box have no place yet
}

// wishes are what fills the holes when all is laid out.
func (p sheetPlan) wishes(m *model) []block {
	here := map[*circuit.Cable]bool{}
	for i := range m.wires {
		here[m.wires[i].cable] = true
	}
	for i := range m.nodes {
		if b := m.nodes[i].board; b != nil {
			for _, r := range b.rows {
				here[r.way.Cable] = true
			}
		}
	}
	drawn := map[string]string{}
	for _, c := range m.d.sys.Cables {
		if here[c] {
			drawn[c.ID] = "8 H8" // the zone is known when all is drawn: its room is kept
		}
	}
	list := slices.DeleteFunc(m.d.cableRows(drawn), func(r []string) bool { return drawn[r[0]] == "" })
	cables := block{name: "cables", sizes: slices.Concat(cableBlock(list, 350).sizes, cableBlock(list, 250).sizes)}
	pencil := block{name: redLineName, sizes: []layout.Size{mostPencil, {W: 12000, H: 7000}, {W: 9000, H: 5000}, leastPencil}}
	switch {
	case p.loose:
		return []block{m.isolatorBlock(isolatorWidths...), cables, pencil}
	case slices.ContainsFunc(p.blocks, func(b block) bool { return b.name == redLineName }):
		return []block{cables, pencil}
	}
	return []block{cables}
}

// attempt is one drawing of an arrangement: with batteries lifted above what
// they feed, or hanging where their charger leads.
type attempt struct {
	model   *model
	plan    sheetPlan
	drawing layout.Drawing
	sheet   int    // of those of which the text tells; 0: its places are not kept
	blocks  int    // how many stand beside the drawing
	inside  []bool // of a division: which nodes of the whole are drawn
}

// crammed tells that a craft is too large for the paper of the first of some
// arrangements even in the one with the smallest letters and the widest field,
// the last on that paper: so it is for all others there.
func (d *draught) crammed(ways []arrangement) bool {
	a := ways[0]
	for _, b := range ways {
		if b.paper == a.paper {
			a = b
		}
	}
	if a.tables != second {
		return false
	}
	for _, l := range d.ways() {
		m := d.model(a.caps, l)
		if p, ok := m.planSheet(a); ok && !m.hopeless(p) {
			return false
		}
	}
	return true
}

// compose draws the sheets of an arrangement, if it fits. A quick look decides
// between the ways; the careful search is spent on the better one alone.
func (d *draught) compose(a arrangement) ([]scene.Sheet, bool) {
	var best attempt
	ways := d.ways()
	if d.options.Effort == layout.Quick {
		ways = ways[:1]
	}
	for _, l := range ways {
		m := d.model(a.caps, l)
		p, ok := m.planSheet(a)
		if !ok || m.hopeless(p) {
			continue
		}
		t := attempt{model: m, plan: p}
		t.try(layout.Quick)
		m.wants = area(t.drawing)
		if best.model == nil || t.better(best) {
			best = t
		}
	}
	if best.model == nil {
		return nil, false
	}
	worth := best.drawing.Fits || best.near() && (a.tables != within || a.paper == a4) // else smaller letters come next
	if d.options.Effort == layout.Good && worth {
		if careful := best; careful.try(layout.Good) {
			best = careful
		}
	}
	if !best.drawing.Fits {
		return nil, false
	}
	return d.bind(a.paper, []*page{best.page()}, a.tables == second), true
}

// model of a size of letters and a choice, made once.
func (d *draught) model(c caps, l lift) *model {
	k := modelKey{c, l}
	if d.models[k] == nil {
		d.models[k] = d.newModel(c, l)
	}
	return d.models[k]
}

type modelKey struct {
	caps caps
	lift lift
}

// hopeless tells a field that is much smaller than what an earlier try took, or
// in which the things to be drawn, or they and the blocks that must stand beside
// them, would take more of the room than they ever do.
func (m *model) hopeless(p sheetPlan) bool {
	f := p.field()
	most, together := mostFilled, mostTogether
	if m.d.options.Effort == layout.Quick {
		most, together = mostFilledQuick, mostTogetherQuick
	}
	room, sum := f.Width/100*(f.Height/100), m.sum()
	return m.wants > f.Width/10*f.Height/10*6/5 || sum*100 > room*most || (sum+needed(p.blocks[:p.least])/10000)*100 > room*together
}

// Shares of a field, in per cent, that symbols with their texts filled at the
// most in a hundred drawings, and these with the blocks; the rest is wires and air.
const (
	mostFilledQuick   = 45
	mostFilled        = 52
	mostTogetherQuick = 62
	mostTogether      = 74
)

// sum of the sizes of all nodes.
func (m *model) sum() int {
	sum := 0
	for i := range m.nodes {
		sum += m.size(i)
	}
	return sum
}

// try lays the drawing out, with as many of its blocks as find room: in its
// holes, else in a column at its right edge.
func (t *attempt) try(effort layout.Effort) bool {
	for n := len(t.plan.blocks); n >= t.plan.least; n-- {
		if effort == layout.Quick && n < len(t.plan.blocks) {
			n = t.plan.least // no time to try how many would find room
		}
		t.blocks = n
		t.lay(t.plan.blocks[:n], t.plan.field(), effort)
		if t.drawing.Fits || !t.plan.holds(t.drawing, 0) {
			break // fewer blocks would not help
		}
		if column, width := stacked(t.plan.blocks[:n], t.plan.field()); column != nil {
			field := t.plan.field()
			field.Width -= width
			holes := t.drawing
			if t.lay(nil, field, effort); t.drawing.Fits {
				t.drawing.Sheets[0].Blocks = column
				break
			}
			t.drawing = holes
		}
	}
	return t.drawing.Fits
}

func (t *attempt) lay(blocks []block, f layout.Field, effort layout.Effort) {
	g := t.model.graphWith(blocks)
	g.Pins, g.Runs = t.pins()
	if effort == layout.Good && len(g.Orders) == 0 && t.sheet == 0 { // a settled drawing stays as it is when a list grows
		for _, b := range t.plan.wishes(t.model) {
			g.Wishes = append(g.Wishes, layout.Block{Name: b.name, Sizes: b.sizes})
		}
	}
	t.drawing = layout.Layout(g, f, effort)
	if len(t.drawing.Sheets) != 1 {
		t.drawing.Fits = false
	}
}

// columnGap is between the blocks of a column, and beside it.
const columnGap = 250

// stacked puts blocks into the narrowest column at the right edge of a field
// that holds them all, and says what width that takes; nil: there is none.
func stacked(blocks []block, f layout.Field) ([]layout.PlacedBlock, int) {
	var widths []int
	for _, b := range blocks {
		for _, s := range b.sizes {
			widths = append(widths, s.W)
		}
	}
	slices.Sort(widths)
	for _, width := range slices.Compact(widths) {
		if width+columnGap > f.Width/3 {
			break
		}
		if column := stackedIn(blocks, f, width); column != nil {
			return column, width + columnGap
		}
	}
	return nil, 0
}

// stackedIn puts blocks into a column of a width, each as low as it gets there.
func stackedIn(blocks []block, f layout.Field, width int) []layout.PlacedBlock {
	var column []layout.PlacedBlock
	y := 0
	for i, b := range blocks {
		best := -1
		for k, s := range b.sizes {
			if s.W <= width && (best < 0 || s.H < b.sizes[best].H) {
				best = k
			}
		}
		if best < 0 {
			return nil
		}
		column = append(column, layout.PlacedBlock{Block: i, Size: best, At: geom.Point{X: f.Width - width, Y: y}})
		y += b.sizes[best].H + columnGap
	}
	if y-columnGap > f.Height {
		return nil
	}
	return column
}

// better tells whether a drawing is the better of two: it fits, it has fewer
// crossings, then fewer bends.
func (t attempt) better(o attempt) bool {
	if t.drawing.Fits != o.drawing.Fits {
		return t.drawing.Fits
	}
	if !t.drawing.Fits {
		return area(t.drawing) < area(o.drawing)
	}
	f, g := t.drawing.Sheets[0].Figures, o.drawing.Sheets[0].Figures
	return 4*f.Crossings+f.Bends < 4*g.Crossings+g.Bends
}

// near tells a drawing that a careful search may still bring into its field.
func (t attempt) near() bool { return t.plan.holds(t.drawing, nearMiss) }

func area(d layout.Drawing) int {
	sum := 0
	for _, s := range d.Sheets {
		sum += s.Bounds.Width() / 10 * s.Bounds.Height() / 10
	}
	return sum
}

// holds tells whether the drawing itself lies in its field, or in one larger
// by so many per cent, whatever became of the blocks.
func (p sheetPlan) holds(drawing layout.Drawing, more int) bool {
	f := p.field()
	return len(drawing.Sheets) == 1 && (geom.Rect{X1: f.Width * (100 + more) / 100, Y1: f.Height * (100 + more) / 100}).Holds(drawing.Sheets[0].Bounds)
}

// unfold is the last resort: paper as large as the drawing wants, so that
// nothing ever lies on anything else.
func (d *draught) unfold(a arrangement) []scene.Sheet {
	m := d.model(a.caps, d.ways()[0])
	for {
		p, _ := m.planSheet(a)
		drawing := layout.Layout(m.graphWith(p.blocks), p.field(), d.options.Effort)
		if drawing.Fits && len(drawing.Sheets) == 1 || a.paper.width > 2000000 {
			return d.bind(a.paper, []*page{{model: m, plan: p, laid: drawing.Sheets[0]}}, a.tables == second)
		}
		f, b := p.field(), drawing.Sheets[0].Bounds
		a.paper.name = "long"
		a.paper.width += max(b.Width()-f.Width, a.paper.width/20)
		a.paper.height += max(b.Height()-f.Height, 0)
	}
}

func (p sheetPlan) field() layout.Field {
	return layout.Field{Width: p.area.Width() - 2*fieldMargin, Height: p.area.Height() - 2*fieldMargin}
}

func (p sheetPlan) origin() geom.Point {
	return geom.Point{X: p.area.X0 + fieldMargin, Y: p.area.Y0 + fieldMargin}
}

// graphWith is the graph with the blocks of a sheet.
func (m *model) graphWith(blocks []block) layout.Graph {
	g := m.graph
	g.Blocks = nil
	for _, b := range blocks {
		g.Blocks = append(g.Blocks, layout.Block{Name: b.name, Sizes: b.sizes})
	}
	return g
}

// planSheet lays out what stands around the drawing.
func (m *model) planSheet(a arrangement) (sheetPlan, bool) {
	in := a.paper.inner()
	p := sheetPlan{area: in, blocks: m.legendBlocks()}
	if b, ok := m.controlBlock(); ok {
		p.blocks = append(p.blocks, b)
	}
	if a.paper == a4 { // on a larger sheet the notes stand beside the cautions
		p.blocks = append(p.blocks, m.notesBlock())
	}
	still := m.stillLive()
	switch a.tables {
	case below:
		p.blocks = append(p.blocks, still)
		m.strip(&p, in)
	case beside:
		m.foot(&p, in, beside)
		p.blocks = append([]block{m.safetyBlock(true)}, p.blocks...)
	case spread:
		m.foot(&p, in, spread)
		p.blocks = append([]block{m.safetyBlock(false)}, p.blocks...)
	case within:
		if a.paper != a4 {
			m.foot(&p, in, second)
			p.blocks = append(append([]block{m.isolatorBlock(isolatorWidths...), still}, p.blocks...), redLineBlock())
			p.least = len(p.blocks)
			return p, true
		}
		m.foot(&p, in, spread)
		p.blocks = append([]block{still, m.isolatorBlock(7600, 9600, 12000)}, p.blocks...)
	case second:
		p.blocks = append([]block{still}, p.blocks...)
		m.foot(&p, in, second)
		p.least, p.loose = 1, true
		return p, true
	}
	p.least = len(p.blocks)
	if a.tables == within {
		p.least-- // how to read the sheet, the last, may go
	}
	return p, p.area.Height() > 6000 && p.area.Width() > 8000
}

// strip is the tables under the drawing: isolators at the left, cautions and
// title block at the right, and the red-line box beside the isolators or, when
// these are many, over the title block.
func (m *model) strip(p *sheetPlan, in geom.Rect) {
	caution := m.d.cautionNote(titleWidth-240, 350)
	cautionHeight := caution.size().H + 200
	left := in.Width() - titleWidth
	t := m.d.isolatorTable(left, 350)
	most := titleHeight + cautionHeight
	notes := readerNote()
	leastRed := notes.width() + 2*readerMargin
	over := t.height() >= titleHeight+cautionHeight+notes.size().H+readerMargin
	for capital := 350; !over && capital >= 300; capital -= 25 { // smaller where that keeps the strip low
		bare := m.d.isolatorTable(0, capital)
		s := m.d.isolatorTable(left-min(max(left-bare.natural(), leastRed), mostRed), capital)
		if capital == 350 || s.height() < t.height() && t.height() > most {
			t = s
		}
	}
	height := max(t.height(), most) + account
	top := in.Y1 - height
	p.area.Y1 = top
	m.accountLine(p, geom.Rect{X0: in.X0, Y0: top, X1: in.X1, Y1: top + account})
	y, x := top+account, in.X1-titleWidth
	table := &scene.Group{Class: "table isolators", Nodes: t.draw(geom.Point{X: in.X0, Y: y})}
	c := &scene.Group{Class: "cautions", Nodes: append(caution.at(geom.Point{X: x + 120, Y: y + 100}), stroke(scene.FramePen, x, y, x, in.Y1))}
	r := geom.Rect{X0: in.X0 + t.width(), Y0: y, X1: x, Y1: in.Y1}
	red := redLine(geom.Rect{X0: r.X0, Y0: r.Y0, X1: r.X1, Y1: r.Y1 - notes.size().H - readerMargin}, 250)
	how := readerBox(geom.Rect{X0: r.X0, Y0: r.Y1 - notes.size().H - readerMargin, X1: r.X1, Y1: r.Y1})
	if over {
		r = geom.Rect{X0: x, Y0: y + cautionHeight, X1: in.X1, Y1: in.Y1 - titleHeight}
		edge := r.X1 - leastRed
		red = redLine(geom.Rect{X0: r.X0, Y0: r.Y0, X1: edge, Y1: r.Y1}, 350)
		how = readerBox(geom.Rect{X0: edge, Y0: r.Y0, X1: r.X1, Y1: r.Y1})
	}
	p.around = append(p.around, table, red, how, c)
}

// mostRed is the widest red-line box beside the isolators.
const mostRed = 7500

const readerMargin = 200

// readerNote is what tells how to read the sheet, in one column.
func readerNote() note {
	var n note
	for _, s := range readerNotes {
		n = append(n, line{{s, 250, false}})
	}
	return n
}

// readerBox is the same in a given room.
func readerBox(r geom.Rect) *scene.Group {
	return &scene.Group{Class: "legend notes", Nodes: append(readerNote().at(geom.Point{X: r.X0 + readerMargin, Y: r.Y0 + readerMargin/2}), box(r, scene.FramePen35))}
}

// accountLine is the line across the sheet with the account of the checks, and the
// band when something stands against building from it.
func (m *model) accountLine(p *sheetPlan, r geom.Rect) {
	g := &scene.Group{Class: "summary", Nodes: []scene.Node{stroke(scene.FramePen, r.X0, r.Y0, r.X1, r.Y0), stroke(scene.FramePen, r.X0, r.Y1, r.X1, r.Y1)}}
	base := (r.Y0+r.Y1+350)/2 - 30
	band, account := m.d.band(), m.d.checked()
	capital, room := 350, r.Width()
	if room > 25000+rule100Width {
		room -= rule100Width
		g.Nodes = append(g.Nodes, rule100(geom.Point{X: r.X1 - rule100Width, Y: (r.Y0 + r.Y1) / 2}, 250)...)
	}
	for capital > 250 && scene.Width(band, capital, true)+scene.Width(account, capital, false)+900 > room {
		capital -= 50
	}
	x := r.X0 + 120
	if band != "" {
		g.Nodes = append(g.Nodes, scene.Text{At: geom.Point{X: x, Y: base}, Cap: capital, Bold: true, Text: band})
		x += scene.Width(band, capital, true) + 600
	}
	g.Nodes = append(g.Nodes, scene.Text{At: geom.Point{X: x, Y: base}, Cap: capital, Text: scene.Fit(account, r.X0+room-x-100, capital, false)})
	p.around = append(p.around, g)
}

// account is the height of the line with the account of the checks.
const account = 680

// foot is what stands beside the title block under the account of the checks:
// the cautions, the red-line box, or both.
func (m *model) foot(p *sheetPlan, in geom.Rect, where tablesAt) {
	top := in.Y1 - titleHeight
	r := geom.Rect{X0: in.X0, Y0: top, X1: in.X1 - titleWidth, Y1: in.Y1}
	p.area.Y1 = top
	if where == beside {
		line := &scene.Group{Class: "summary", Nodes: []scene.Node{stroke(scene.FramePen, in.X0, top, in.X1, top)}}
		p.around = append(p.around, redLine(r, 250), line)
		return
	}
	p.area.Y1 -= account
	m.accountLine(p, geom.Rect{X0: in.X0, Y0: top - account, X1: in.X1, Y1: top})
	if where == second {
		if edge := r.X1 - readerNote().width() - 2*readerMargin; edge-r.X0 > 9000 {
			p.around = append(p.around, readerBox(geom.Rect{X0: edge, Y0: r.Y0, X1: r.X1, Y1: r.Y1}))
			r.X1 = edge
		}
	}
	if where == spread {
		upper := r
		upper.Y1 = r.Y0 + m.d.cautionNote(r.Width()-240, 250).size().H + 160
		p.around = append(p.around, redLine(geom.Rect{X0: r.X0, Y0: upper.Y1, X1: r.X1, Y1: r.Y1}, 250))
		r = upper
	}
	p.around = append(p.around, m.cautionBox(r))
}

// cautionBox is the cautions in a given room, as large as they fit.
func (m *model) cautionBox(r geom.Rect) *scene.Group {
	g := &scene.Group{Class: "cautions", Nodes: []scene.Node{box(r, scene.FramePen35)}}
	for _, capital := range []int{350, 300, 250} {
		n := m.d.cautionNote(r.Width()-240, capital)
		if n.size().H+160 <= r.Height() || capital == 250 {
			g.Nodes = append(g.Nodes, n.at(geom.Point{X: r.X0 + 120, Y: r.Y0 + 100})...)
			break
		}
	}
	return g
}

// safetyBlock is one column for a small sheet: what stays live and the
// isolators; with words, also the cautions and the account of the checks.
func (m *model) safetyBlock(words bool) block {
	type column struct {
		still   block
		table   table
		caution note
	}
	b := block{name: "safety"}
	var columns []column
	for _, width := range []int{9600, 8400, 12000, 16000} {
		c := column{still: m.stillLiveIn(width), table: m.d.sideTable(width)}
		height := c.still.sizes[0].H
		if words {
			c.caution = m.d.cautionNote(width-240, 300)
			if band := m.d.band(); band != "" {
				c.caution = append(c.caution, wrapped(band, width-240, 300, true)...)
			}
			c.caution = append(c.caution, wrapped(m.d.checked(), width-240, 250, false)...)
			height += c.caution.size().H + 200
		}
		columns = append(columns, c)
		if len(c.table.rows) > 0 {
			height += c.table.height()
		}
		b.sizes = append(b.sizes, layout.Size{W: width, H: height})
	}
	b.draw = func(size int, at geom.Point) []*scene.Group {
		c := columns[size]
		groups := c.still.draw(0, at)
		y := at.Y + c.still.sizes[0].H
		g := &scene.Group{Class: "table isolators"}
		if len(c.table.rows) > 0 {
			g.Nodes = append(g.Nodes, c.table.draw(geom.Point{X: at.X, Y: y})...)
			y += c.table.height()
		}
		text := &scene.Group{Class: "cautions", Nodes: c.caution.at(geom.Point{X: at.X + 120, Y: y + 80})}
		r := geom.Rect{X0: at.X, Y0: at.Y, X1: at.X + b.sizes[size].W, Y1: at.Y + b.sizes[size].H}
		g.Nodes = append(g.Nodes, box(r, scene.FramePen))
		return append(groups, &scene.Group{Class: "sheet", Nodes: []scene.Node{g, text}})
	}
	return b
}

// sideTable is the isolators in a narrow column.
func (d *draught) sideTable(width int) table {
	t := table{cap: 350, columns: []column{{"Open", 1500, true}, {"Feeds", 0, false}, {"Where", 0, false}}}
	for _, s := range d.isolators() {
		feeds := orDash(s.feeds)
		if s.act != "" {
			feeds = s.act + ": " + feeds
		}
		t.rows = append(t.rows, []string{s.item.Ref, feeds, orDash(s.where)})
	}
	t.share(width, 1)
	return t
}

func (m *model) newSheet(p paper, area geom.Rect, around []*scene.Group) scene.Sheet {
	c := m.d.sys.Craft
	sheet := &scene.Group{Class: "sheet", Nodes: []scene.Node{
		&scene.Group{Class: "drawing-area", Nodes: []scene.Node{box(area, scene.NoPen)}},
		p.frame(),
	}}
	for _, g := range around {
		sheet.Nodes = append(sheet.Nodes, g)
	}
	return scene.Sheet{
		Width: p.width, Height: p.height,
		Title:  join(c.Name, c.Drawing, c.Revision) + ": single-line schematic",
		Desc:   m.d.checked(),
		Groups: []*scene.Group{sheet},
	}
}
