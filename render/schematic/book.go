package schematic

// What is drawn when all is laid out: what fills the holes that are left, and
// the sheets of tables for the rest.

import (
	"slices"
	"strconv"
	"strings"

	"strake/layout"
	"strake/layout/geom"
	"strake/render/scene"
)

// page is a sheet with a drawing.
type page struct {
	model  *model
	plan   sheetPlan
	laid   layout.Sheet
	bare   *layout.Room // of the drawing alone
	room   *layout.Room // of all that stands there
	holes  []geom.Rect  // of the room; nil: not known
	groups []*scene.Group
	survey *survey // what the overview shows; nil: a drawing
}

// page is the sheet that an attempt came to; its blocks that found no room are
// left over.
func (t attempt) page() *page {
	return &page{model: t.model, plan: t.plan, laid: t.drawing.Sheets[0]}
}

// clear leaves nothing on the page but its drawing.
func (g *page) clear() {
	if g.bare == nil {
		bare := g.laid
		bare.Blocks = nil
		g.bare = g.plan.field().Room(g.model.graph, bare)
	}
	g.room, g.holes = g.bare.Clone(), nil
}

// leastHole is the smallest hole that is of use.
var leastHole = layout.Size{W: 2000, H: 1000}

// freeHoles are the holes that are left.
func (g *page) freeHoles() []geom.Rect {
	if g.holes == nil {
		g.holes = g.room.Holes(leastHole)
	}
	return g.holes
}

// take puts a size into a hole, in the corner that is nearest to the frame's.
func (g *page) take(hole geom.Rect, z layout.Size) geom.Point {
	f := g.plan.field()
	at := geom.Point{X: hole.X0, Y: hole.Y0}
	if hole.X0+hole.X1 > f.Width {
		at.X = hole.X1 - z.W
	}
	if hole.Y0+hole.Y1 > f.Height {
		at.Y = hole.Y1 - z.H
	}
	g.room.Take(geom.Rect{X0: at.X, Y0: at.Y, X1: at.X + z.W, Y1: at.Y + z.H})
	g.holes = nil
	return at
}

// laterSize is what a size must fit better by than one that stands before it.
const laterSize = 150

// fit finds the hole that a block fills best: that leaves the narrowest rest
// beside it.
func (g *page) fit(b block) (size int, hole geom.Rect, ok bool) {
	least, later := 0, laterSize
	if b.turn {
		later = 1 << 20
	}
	for _, h := range g.freeHoles() {
		for k, z := range b.sizes {
			if z.W > h.Width() || z.H > h.Height() {
				continue
			}
			if rest := min(h.Width()-z.W, h.Height()-z.H) + k*later; !ok || rest < least {
				size, hole, least, ok = k, h, rest, true
			}
		}
	}
	return size, hole, ok
}

// leftover is what stands on a sheet of tables unless it finds room beside a drawing.
type leftover struct {
	isolators [][]string
	blocks    []block
	pencil    bool
	cables    cableList
}

// empty tells that nothing is left for which a sheet of its own is due; the
// red-line box alone is not.
func (l leftover) empty() bool { return l.count() == 0 }

func (l leftover) count() int { return len(l.isolators) + len(l.blocks) + len(l.cables.rows) }

// bind makes the sheets of some drawings. With tables, what finds no room
// beside them stands on sheets of its own; without, all that must be printed
// stands there already.
func (d *draught) bind(p paper, pages []*page, tables bool, blocks ...block) []scene.Sheet {
	d.bound = pages
	address(pages, p)
	rest := leftover{blocks: slices.DeleteFunc(blocks, func(b block) bool { return len(b.sizes) == 0 })}
	drawn := map[string]string{} // the sheet and the zone of every cable
	if tables {
		rest.isolators, rest.pencil = d.isolatorRows(), true
	}
	for i, g := range pages {
		if g.survey != nil {
			g.groups = g.survey.draw(g, p, pages)
		} else {
			g.groups = g.model.render(g.laid, g.plan.origin())
		}
		sheet := ""
		if len(pages) > 1 {
			sheet = strconv.Itoa(i+1) + " "
		}
		for id, at := range cablesIn(g.groups) {
			drawn[id] = sheet + p.zoneAt(at)
		}
	}
	rest.cables.rows = d.cableRows(drawn)
	for _, g := range pages {
		rest.settle(g)
	}
	rest.fill(pages)
	for _, g := range pages {
		if tables && g.pencil() {
			rest.pencil = false
		}
	}
	var sheets []scene.Sheet
	for _, g := range pages {
		s := g.model.newSheet(p, g.plan.area, g.plan.around)
		s.Groups = append(s.Groups, g.groups...)
		sheets = append(sheets, s)
	}
	for large := p; tables && !rest.empty(); {
		n := rest.count()
		sheet := pages[0].model.tableSheet(large, &rest)
		if rest.count() == n { // something is larger than the paper: nothing is ever left out
			large.name, large.width, large.height = "long", large.width*5/4, large.height*5/4
			continue
		}
		sheets = append(sheets, sheet)
	}
	for i := range sheets {
		kind := "Single-line schematic"
		if i >= len(pages) {
			kind = "Tables to the schematic"
		}
		on := p
		if on.width, on.height = sheets[i].Width, sheets[i].Height; on != p {
			on.name = "long"
		}
		in := on.inner()
		frame := sheets[i].Groups[0]
		frame.Nodes = append(frame.Nodes, d.titleBlock(geom.Point{X: in.X1, Y: in.Y1}, i+1, len(sheets), kind, on))
	}
	return sheets
}

// cablesIn are the cables that are drawn in some groups, each with the middle
// of its longest piece.
func cablesIn(groups []*scene.Group) map[string]geom.Point {
	out, longest := map[string]geom.Point{}, map[string]int{}
	for _, g := range groups {
		if g.Class != "cable" && !strings.HasPrefix(g.Class, "cable ") {
			continue
		}
		for _, n := range g.Nodes {
			l, ok := n.(scene.Line)
			if !ok {
				continue
			}
			for i := 1; i < len(l.Points); i++ {
				r := spanned(l.Points[i-1], l.Points[i])
				if z := r.Width() + r.Height(); z > longest[g.Item] {
					out[g.Item], longest[g.Item] = geom.Point{X: (r.X0 + r.X1) / 2, Y: (r.Y0 + r.Y1) / 2}, z
				}
			}
		}
	}
	return out
}

// company is what is to stand on a page beside its own blocks: the list of the
// cables, the isolators, what found no room before.
type company struct {
	list             listing
	isolators, loose bool
}

// listing is a list of cables in letters of a size, in so many pieces.
type listing struct{ capital, pieces int }

// listings from the best to the least.
var listings = []listing{{350, 1}, {250, 1}, {350, 2}, {250, 2}, {250, 3}}

// companies from the most to the least; the isolators, which are read first,
// before the list of the cables.
var companies = func() []company {
	var out []company
	for _, c := range []company{{isolators: true, loose: true}, {isolators: true}, {}} {
		for _, list := range listings {
			out = append(out, company{list, c.isolators, c.loose})
		}
		out = append(out, c)
	}
	return out
}()

// settle places the blocks of a page anew, so that the holes between them are
// few and large, in the first company that finds room. Where none does, not
// even the blocks alone, these stand where the layout put them.
func (l *leftover) settle(g *page) {
	beside := make([]bool, len(g.plan.blocks))
	for _, b := range g.laid.Blocks {
		beside[b.Block] = true
	}
	var own, loose []block // stand already; found no room before
	pencil := false
	for k, b := range g.plan.blocks {
		switch {
		case b.name == redLineName:
			pencil = beside[k]
		case beside[k]:
			own = append(own, b)
		case len(b.sizes) > 0:
			loose = append(loose, b)
		}
	}
	tried := map[company]bool{}
	for _, c := range companies {
		c.isolators, c.loose = c.isolators && len(l.isolators) > 0, c.loose && len(loose) > 0
		if len(l.cables.rows) == 0 {
			c.list = listing{}
		}
		if tried[c] || c.list.pieces > 1 && g.model.d.options.Effort == layout.Quick {
			continue
		}
		tried[c] = true
		blocks := slices.Clone(own)
		if c.list.pieces > 0 {
			blocks = append(blocks, l.cables.blocks(c.list)...)
		}
		if c.isolators {
			blocks = append(blocks, g.model.isolatorBlock(isolatorWidths...))
		}
		if c.loose {
			blocks = append(blocks, loose...)
		}
		if !g.standLarge(blocks, pencil) {
			continue
		}
		if c.list.pieces > 0 {
			l.cables.rows = nil
		}
		if c.isolators {
			l.isolators = nil
		}
		if !c.loose {
			l.blocks = append(l.blocks, loose...)
		}
		return
	}
	l.blocks = append(l.blocks, loose...)
	g.room, g.holes = g.plan.field().Room(g.model.graphWith(g.plan.blocks), g.laid), nil
	for _, b := range g.laid.Blocks {
		g.draw(g.plan.blocks[b.Block], b.Size, b.At)
	}
}

// standLarge puts all of some blocks on a page, in larger letters those that find
// room so: what stays live first.
func (g *page) standLarge(blocks []block, pencil bool) bool {
	all, live := slices.Clone(blocks), slices.Clone(blocks)
	some := false
	for i, b := range blocks {
		if b.large == nil {
			continue
		}
		all[i], some = b.large(), true
		if b.name == stillLiveName {
			live[i] = all[i]
		}
	}
	return some && (g.stand(all, pencil) || g.stand(live, pencil)) || g.stand(blocks, pencil)
}

// stand puts all of some blocks on a page, the largest first, and after them a
// red-line box; false: they do not find room, and nothing stands there.
func (g *page) stand(blocks []block, pencil bool) bool {
	slices.SortStableFunc(blocks, func(a, b block) int { return b.sizes[0].W*b.sizes[0].H - a.sizes[0].W*a.sizes[0].H })
	g.clear()
	if need := needed(blocks); need > g.room.Free() {
		return false
	}
	var placed []layout.PlacedBlock
	for k, b := range blocks {
		size, hole, ok := g.fit(b)
		if !ok {
			return false
		}
		placed = append(placed, layout.PlacedBlock{Block: k, Size: size, At: g.take(hole, b.sizes[size])})
	}
	if pencil && !g.pencil() {
		return false
	}
	for _, b := range placed {
		g.draw(blocks[b.Block], b.Size, b.At)
	}
	return true
}

// needed is the least that blocks take of a sheet.
func needed(blocks []block) int {
	sum := 0
	for _, b := range blocks {
		least := 0
		for k, z := range b.sizes {
			if room := z.W * z.H; k == 0 || room < least {
				least = room
			}
		}
		sum += least
	}
	return sum
}

// draw puts a block down on a page.
func (g *page) draw(b block, size int, at geom.Point) {
	g.groups = append(g.groups, b.draw(size, at.Add(g.plan.origin()))...)
}

// place puts a block into the best hole of the first page that has one.
func place(b block, pages ...*page) bool {
	for _, g := range pages {
		if size, hole, ok := g.fit(b); ok {
			g.draw(b, size, g.take(hole, b.sizes[size]))
			return true
		}
	}
	return false
}

// isolatorWidths are the widths of the table of isolators, the best first.
var isolatorWidths = []int{0, 12000, 9600, 7600}

// fill puts into the holes of the pages what has no place yet.
func (l *leftover) fill(pages []*page) {
	if len(l.isolators) > 0 && place(pages[0].model.isolatorBlock(isolatorWidths...), pages...) {
		l.isolators = nil
	}
	l.blocks = slices.DeleteFunc(l.blocks, func(b block) bool { return place(b, pages...) })
	var rest []block
	for _, b := range l.blocks {
		if len(b.parts) == 0 {
			b.parts = []block{b}
		}
		rest = append(rest, slices.DeleteFunc(slices.Clone(b.parts), func(b block) bool { return place(b, pages...) })...)
	}
	l.blocks = rest
	for _, capital := range []int{350, 300, 250} {
		if len(l.cables.rows) > 0 && place(l.cables.blocks(listing{capital, 1})[0], pages...) {
			l.cables.rows = nil
		}
	}
}

// Sizes of a red-line box.
var (
	leastPencil = layout.Size{W: 6000, H: 3200}
	mostPencil  = layout.Size{W: 16000, H: 9000}
)

// pencil fills the largest hole that is left with a red-line box; false: none
// is large enough.
func (g *page) pencil() bool {
	var best geom.Rect
	var size layout.Size
	for _, h := range g.freeHoles() {
		z := layout.Size{W: min(h.Width(), mostPencil.W), H: min(h.Height(), mostPencil.H)}
		if z.W >= leastPencil.W && z.H >= leastPencil.H && z.W*z.H > size.W*size.H {
			best, size = h, z
		}
	}
	if size.W == 0 {
		return false
	}
	at := g.take(best, size).Add(g.plan.origin())
	g.groups = append(g.groups, onSheet(redLine(geom.Rect{X0: at.X, Y0: at.Y, X1: at.X + size.W, Y1: at.Y + size.H}, 250))...)
	return true
}

// onSheet is what belongs to the sheet and to no item.
func onSheet(nodes ...scene.Node) []*scene.Group {
	return []*scene.Group{{Class: "sheet", Nodes: nodes}}
}

// tallest of the columns of a table, of the heights of its head and its rows.
func tallest(heights []int, columns, each int) int {
	most := 0
	for i := range columns {
		sum := heights[0]
		for _, h := range heights[min(1+i*each, len(heights)):min(1+(i+1)*each, len(heights))] {
			sum += h
		}
		most = max(most, sum)
	}
	return most
}
