package schematic

// A craft whose text says where its bars stood is drawn as it was: of the
// arrangements and divisions that of which least stands elsewhere.

import (
	"slices"
	"strings"

	"strake/lang/circuit"
	"strake/layout"
	"strake/layout/geom"
	"strake/render/scene"
)

// mostMoved is how far things may stand from where they stood, on the average, for
// a drawing to be taken as kept.
const mostMoved = 15 * geom.MM

// keeping is a way to keep a drawing.
type keeping struct {
	paper  paper
	whole  *model
	tables bool
	sheets []*attempt
	moved  int
}

// take takes a way of which less moves.
func (k *keeping) take(o keeping) {
	if len(k.sheets) == 0 || o.moved < k.moved {
		*k = o
	}
}

// kept draws the craft as its text says that it stood; false: the text says
// nothing, or that finds no room.
func (d *draught) kept(ways []arrangement) ([]scene.Sheet, bool) {
	var sheets []int // with drawings
	far := geom.Point{}
	for _, s := range d.sys.Spots {
		far.X, far.Y = max(far.X, s.X), max(far.Y, s.Y)
		if !slices.Contains(sheets, s.Sheet) {
			sheets = append(sheets, s.Sheet)
		}
	}
	if len(sheets) == 0 {
		return nil, false
	}
	slices.Sort(sheets)
	on := slices.IndexFunc(ways, func(a arrangement) bool {
		in := a.paper.inner()
		return far.X*geom.MM <= in.X1 && far.Y*geom.MM <= in.Y1
	})
	if on < 0 {
		return nil, false
	}
	p := ways[on].paper
	var best keeping
	if len(sheets) == 1 {
		for _, a := range ways {
			if a.paper == p {
				d.keepWhole(a, &best)
			}
		}
	} else {
		for _, l := range d.ways() {
			d.keepDivided(l, p, sheets, &best)
		}
	}
	if len(best.sheets) == 0 || best.moved > mostMoved {
		return nil, false
	}
	var pages []*page
	for _, t := range best.sheets {
		pages = append(pages, t.page())
	}
	return d.bindParts(best.paper, best.whole, pages, best.tables), true
}

// keepWhole tries an arrangement on one sheet.
func (d *draught) keepWhole(a arrangement, best *keeping) {
	for _, l := range d.ways() {
		m := d.model(a.caps, l)
		p, ok := m.planSheet(a)
		if !ok {
			continue
		}
		if t := (attempt{model: m, plan: p, sheet: 1}); t.try(layout.Kept) {
			best.take(keeping{a.paper, m, a.tables == second, []*attempt{&t}, t.drawing.Moved})
		}
	}
}

// keepDivided tries a division as the text tells it, each sheet in those letters
// with which least of it moves.
func (d *draught) keepDivided(l lift, p paper, sheets []int, best *keeping) {
	k := keeping{paper: p, whole: d.model(small, l), tables: true}
	for i := range sheets {
		var sheet *attempt
		for _, c := range []caps{grand, broad, roomy, long, small, dense} {
			if t := d.keepPart(d.model(c, l), p, sheets, i); t.try(layout.Kept) && (sheet == nil || t.drawing.Moved < sheet.drawing.Moved) {
				sheet = t
			}
		}
		if sheet == nil {
			return
		}
		k.sheets, k.moved = append(k.sheets, sheet), max(k.moved, sheet.drawing.Moved)
	}
	best.take(k)
}

// keepPart is one sheet of a division as the text tells it, not yet laid out.
func (d *draught) keepPart(m *model, p paper, sheets []int, i int) *attempt {
	var blocks []block
	if len(sheets) > 2 {
		m = m.shortBars(longestBars[0])
	} else {
		blocks = m.halfBlocks(i)
	}
	inside := make([]bool, len(m.nodes))
	for n, on := range m.stoodOn() {
		inside[n] = on == sheets[i] || i == 0 && on == 0
	}
	t := m.partOn(p, inside, blocks...)
	t.sheet = sheets[i]
	return t
}

// stoodOn is the sheet of each node: what no spot tells goes where most of what
// it hangs together with is.
func (m *model) stoodOn() []int {
	l := m.lumps()
	votes := make([]map[int]int, len(l.size))
	for i := range votes {
		votes[i] = map[int]int{}
	}
	for n, f := range m.nodes {
		it, _ := f.called()
		if s := m.d.spot(it, nil, 0); s != nil {
			votes[l.of[n]][s.Sheet] += m.size(n)
		}
	}
	most := func(v map[int]int) int {
		best := 0
		for s, n := range v {
			if best == 0 || n > v[best] || n == v[best] && s < best {
				best = s
			}
		}
		return best
	}
	on := make([]int, len(l.size))
	for i, v := range votes {
		on[i] = most(v)
	}
	for again := true; again; {
		again = false
		for i := range on {
			if on[i] > 0 {
				continue
			}
			v := map[int]int{}
			for _, b := range l.near[i] {
				if on[b.to] > 0 {
					v[on[b.to]] += b.cost
				}
			}
			if s := most(v); s > 0 {
				on[i], again = s, true
			}
		}
	}
	out := make([]int, len(m.nodes))
	for n := range out {
		out[n] = on[l.of[n]]
	}
	return out
}

// called is how a text calls what a node shows: by its item, or by its cable
// where that goes on elsewhere or ends on nothing.
func (f figure) called() (*circuit.Item, *circuit.Cable) {
	switch {
	case f.more != nil || f.posts != nil:
		return nil, nil
	case f.flag != nil:
		return nil, f.flag.cable
	case f.end != nil:
		return nil, f.end
	}
	return f.item, nil
}

// spot is where the text says that something stood on a sheet, 0: on any; nil:
// nothing is said.
func (d *draught) spot(it *circuit.Item, c *circuit.Cable, sheet int) *circuit.Spot {
	for i := range d.sys.Spots {
		if s := &d.sys.Spots[i]; (it != nil || c != nil) && s.Item == it && s.Cable == c && (sheet == 0 || s.Sheet == sheet) {
			return s
		}
	}
	return nil
}

// pins are the places of an attempt's nodes and of its wires in its field, for a
// sheet that is kept; nil: it is not.
func (t *attempt) pins() (nodes, wires []geom.Point) {
	if t.sheet == 0 {
		return nil, nil
	}
	m, origin := t.model, t.plan.origin()
	in := func(s *circuit.Spot) geom.Point {
		if s == nil {
			return layout.Unsaid
		}
		return geom.Point{X: max(0, s.X*geom.MM-origin.X), Y: max(0, s.Y*geom.MM-origin.Y)}
	}
	for _, f := range m.nodes {
		it, c := f.called()
		nodes = append(nodes, in(m.d.spot(it, c, t.sheet)))
	}
	for i := range m.wires {
		wires = append(wires, in(m.d.spot(nil, m.alone(i), t.sheet)))
	}
	return nodes, wires
}

// alone is the cable of a wire by which the text can call it apart from what it
// leads to; nil: there is none.
func (m *model) alone(wire int) *circuit.Cable {
	w := m.graph.Wires[wire]
	from, to := m.nodes[w.From.Node], m.nodes[w.To.Node]
	if from.flag != nil || to.flag != nil || from.end != nil || to.end != nil {
		return nil
	}
	return m.wires[wire].cable
}

// readSpots adds the places of all that a text can name on a drawn sheet.
func (g *page) readSpots(spots []circuit.Spot, sheet int) []circuit.Spot {
	m := g.model
	note := func(it *circuit.Item, c *circuit.Cable, at geom.Point) {
		if c != nil || it != nil && !strings.Contains(it.Ref, ".") {
			at = at.Add(g.plan.origin())
			spots = append(spots, circuit.Spot{Item: it, Cable: c, Sheet: sheet, X: at.X / geom.MM, Y: at.Y / geom.MM})
		}
	}
	node := func(n int, at geom.Point) {
		it, c := m.nodes[n].called()
		note(it, c, at)
	}
	for _, p := range g.laid.Symbols {
		node(p.Node, p.At)
	}
	for _, p := range g.laid.Bars {
		node(p.Node, p.Line[0])
	}
	for _, p := range g.laid.Boards {
		node(p.Node, p.Rail[0])
	}
	for _, w := range g.laid.Wires {
		if c := m.alone(w.Wire); c != nil && w.Run != layout.Unsaid {
			note(nil, c, w.Run)
		}
	}
	return spots
}
