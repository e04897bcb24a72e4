package layout

import "strake/layout/geom"

// Phase 3a, arrange.
// Needs: the columns. Gives: how each column joins its levels, the bodies of
// boards and boxes, and the items: vertical paths of columns and bodies that
// share one axis and are moved as one.

// joint is how a column meets a level.
type joint int

const (
	free   joint = iota // it does not: a device stands there
	onBar               // straight on a bar, or by a side wire from its end
	spine               // straight above or below a box, or on top of a rail
	side                // into the side of a box
	onRow               // at the far end of a board's row
	onBend              // the turning of a U
)

// body is the fixed part of a level under its height: a box with its text, or
// a rail with its rows.
type body struct {
	cells  []geom.Rect // about the axis and the level's height
	height int         // of a box, to its lower terminal
	rows   []int       // height of each row's wire
	reach  int         // of the longest strip
	name   geom.Point  // upper left corner of the name's cell
	rail   int         // length of the rail
	textDX int         // of a box: how far its text gives way to wires that come round
}

// item is what the sequence orders.
type item struct {
	cols, bodies []int // columns and levels on this axis
	after        []int // items that must stand further to the left
	right        []int // items of which it stands right by an author's order
}

// arrangement is all that does not depend on the sequence.
type arrangement struct {
	turned
	up, lo    []joint // of each column, at its upper and at its lower level
	bodies    []body  // by level; no cells: none
	hasBody   []bool
	items     []item
	single    []bool  // columns with a place of their own in an author's order
	units     [][]int // items that stay side by side: twins
	unitOf    []int
	itemOf    []int // of a column
	colDX     []int // of a column and of a body from their item's axis
	bodyDX    []int
	turn      []Turn // of a box
	bodyItem  []int  // of a level, -1: none
	above     [][]int
	below     [][]int // columns of each level
	measures  [][]measure
	extra     [][]int // length given to wires so that devices stand level
	group     []int   // the first of the levels that stand at one height with a level
	members   [][]int // of the first of a group
	stripItem []int
	pinned    []int   // height at which each level stood; nil: not said
	tops      []int   // where each column without a level above it stood; nil: not said
	touches   [][]int // bars that each item's columns land on and that have a name
}

// arrange joins columns to levels and makes the items.
func arrange(g Graph, t turned) arrangement {
	a := arrangement{turned: t,
		up: make([]joint, len(t.cols)), lo: make([]joint, len(t.cols)),
		bodies: make([]body, len(t.levels)), hasBody: make([]bool, len(t.levels)),
		above: make([][]int, len(t.levels)), below: make([][]int, len(t.levels)),
		measures: make([][]measure, len(t.cols)),
		colDX:    make([]int, len(t.cols)), bodyDX: make([]int, len(t.levels)), turn: make([]Turn, len(t.levels)),
	}
	a.extra = make([][]int, len(t.cols))
	for i, c := range t.cols {
		a.extra[i] = make([]int, len(c.pieces))
		for k, p := range c.pieces {
			a.measures[i] = append(a.measures[i], measurePiece(g, p, c.riser, k == 0))
		}
		if c.upper >= 0 {
			a.below[c.upper] = append(a.below[c.upper], i)
			a.up[i] = a.firstJoint(g, c.upper, c.upAt)
		}
		if c.lower >= 0 {
			a.above[c.lower] = append(a.above[c.lower], i)
			a.lo[i] = a.firstJoint(g, c.lower, c.loAt)
		}
	}
	a.makeGroups()
	for l := range t.levels {
		a.giveBody(g, l)
	}
	a.markSingle(g)
	a.makeItems(g)
	return a
}

// makeGroups joins the bars of a tie.
func (a *arrangement) makeGroups() {
	a.group = make([]int, len(a.levels))
	a.members = make([][]int, len(a.levels))
	for l := range a.group {
		a.group[l] = l
	}
	for _, t := range a.strips {
		p, q := a.group[t.from], a.group[t.to]
		for l := range a.group {
			if a.group[l] == max(p, q) {
				a.group[l] = min(p, q)
			}
		}
	}
	for l, first := range a.group {
		a.members[first] = append(a.members[first], l)
	}
}

func (a *arrangement) firstJoint(g Graph, l int, at End) joint {
	switch {
	case a.levels[l].kind == bendLevel:
		return onBend
	case a.levels[l].kind == boxLevel:
		return side
	case a.levels[l].kind == boardLevel && at.Row >= 0 && at.Row < len(g.Nodes[a.levels[l].node].Rows):
		return onRow
	}
	return onBar
}

// giveBody makes the fixed part of a level and chooses the columns on its axis.
func (a *arrangement) giveBody(g Graph, l int) {
	switch a.levels[l].kind {
	case bendLevel:
		return
	case barLevel:
		if len(a.above[l])+len(a.below[l]) > 0 {
			return
		}
		n := g.Nodes[a.levels[l].node]
		a.hasBody[l] = true
		a.bodies[l] = body{cells: []geom.Rect{{X0: 0, Y0: -halfBar - air - n.Note.Over.H, X1: max(2*overhang, n.Note.Over.W), Y1: halfBar}},
			name: geom.Point{X: 0, Y: -halfBar - air - n.Note.Over.H}}
	case boxLevel:
		a.hasBody[l] = true
		a.turnBox(g, l)
		if c := a.heaviest(g, l, a.above[l], a.lo, true); c >= 0 {
			a.lo[c] = spine
		}
		if c := a.heaviest(g, l, a.below[l], a.up, false); c >= 0 {
			a.up[c] = spine
		}
		a.bodies[l] = a.boxBody(g, l)
	case boardLevel:
		a.hasBody[l] = true
		lead := 0 // for wires of the bar that leave it beside the rail
		for _, c := range a.below[l] {
			if a.up[c] == onBar {
				lead += sidePitch
			}
		}
		a.bodies[l] = boardBody(g.Nodes[a.levels[l].node], lead)
		if c := a.heaviest(g, l, a.above[l], a.lo, true); c >= 0 {
			a.lo[c] = spine
		}
	}
}

// heaviest is the column of most weight that may stand on the level's axis.
func (a *arrangement) heaviest(g Graph, l int, cols []int, joints []joint, top bool) int {
	best := -1
	for _, c := range cols {
		if joints[c] == onRow {
			continue
		}
		at := a.cols[c].upAt
		if top {
			at = a.cols[c].loAt
		}
		if p, ok := a.port(g, l, at); ok {
			if p.Side == LeftSide || p.Side == RightSide || p.Fixed && (p.Side == Top) != top {
				continue
			}
		}
		if best < 0 || a.chains[a.cols[c].chain].weight > a.chains[a.cols[best].chain].weight {
			best = c
		}
	}
	return best
}

// turnBox turns a box upside down when most of its wires then leave it on
// their own side.
func (a *arrangement) turnBox(g Graph, l int) {
	against := 0
	for _, c := range a.above[l] {
		if p, ok := portOf(g, a.cols[c].loAt); ok && p.Fixed {
			against += upsideDown(p.Side, Bottom) * (1 + a.chains[a.cols[c].chain].weight)
		}
	}
	for _, c := range a.below[l] {
		if p, ok := portOf(g, a.cols[c].upAt); ok && p.Fixed {
			against += upsideDown(p.Side, Top) * (1 + a.chains[a.cols[c].chain].weight)
		}
	}
	if against > 0 {
		a.turn[l] = Inverted
	}
}

// upsideDown weighs a port that lies on the wrong side, top or bottom.
func upsideDown(s, wrong Side) int {
	switch {
	case s == wrong:
		return 1
	case s == Top || s == Bottom:
		return -1
	}
	return 0
}

// port is the port of a box as it lies.
func (a *arrangement) port(g Graph, l int, e End) (Port, bool) {
	p, ok := portOf(g, e)
	if !ok || a.levels[l].kind != boxLevel {
		return Port{}, false
	}
	if a.turn[l] == Inverted {
		switch p.Side {
		case Top:
			p.Side = Bottom
		case Bottom:
			p.Side = Top
		case LeftSide, RightSide:
			p.At = g.Nodes[a.levels[l].node].Box.Y1 - p.At
		}
	}
	return p, true
}

// outerPorts counts the fixed ports at the sides of a box, left and right, that
// a wire may have to come round to.
func (a *arrangement) outerPorts(g Graph, l int) (n [2]int) {
	count := func(e End) {
		if p, ok := a.port(g, l, e); ok && p.Fixed && p.Side >= LeftSide && p.Side <= RightSide {
			n[p.Side-LeftSide]++
		}
	}
	for _, c := range a.above[l] {
		count(a.cols[c].loAt)
	}
	for _, c := range a.below[l] {
		count(a.cols[c].upAt)
	}
	return n
}

// colX is the axis of a column, bodyX that of a level's body.
func (a *arrangement) colX(x []int, c int) int  { return x[a.itemOf[c]] + a.colDX[c] }
func (a *arrangement) bodyX(x []int, l int) int { return x[a.bodyItem[l]] + a.bodyDX[l] }

// portOf is the port a wire's end names, if it names one.
func portOf(g Graph, e End) (Port, bool) {
	if e.Node < 0 || e.Port < 0 || e.Port >= len(g.Nodes[e.Node].Ports) {
		return Port{}, false
	}
	return g.Nodes[e.Node].Ports[e.Port], true
}

// boxBody is a box and, right of it, its text under every wire that may come
// to its right side.
func (a *arrangement) boxBody(g Graph, l int) body {
	n := g.Nodes[a.levels[l].node]
	r, outer := boxOf(n, a.turn[l]), a.outerPorts(g, l)
	b := body{height: max(0, n.Box.Y1), cells: []geom.Rect{r.Grow(halfWire)}, textDX: roundTrip(outer[1])}
	b.cells[0].X0 -= roundTrip(outer[0])
	b.cells[0].X1 += roundTrip(outer[1])
	note := besideCell(n.Note)
	if note == (geom.Rect{}) {
		return b
	}
	over, under, fixed := 0, 0, false
	for _, c := range a.above[l] {
		if a.lo[c] == side {
			over++
			p, ok := a.port(g, l, a.cols[c].loAt)
			fixed = fixed || ok && p.Side != AnySide
		}
	}
	for _, c := range a.below[l] {
		if a.up[c] == side {
			under++
			p, ok := a.port(g, l, a.cols[c].upAt)
			fixed = fixed || ok && p.Side != AnySide
		}
	}
	low := 0 // the lowest wire that may come
	switch {
	case fixed: // it may leave the bottom to the side
		low = b.height + (over+under)*sidePitch
	case under > 0:
		low = b.height
	default:
		low = over * boxPitch(b.height, over)
	}
	if over+under > 0 {
		note.Y1 = max(note.Y1, low+air+n.Note.Beside.H)
	}
	note.Y0 = min(note.Y0, r.Y0)
	note.X0, note.X1 = note.X0+b.textDX, note.X1+b.textDX
	b.cells = append(b.cells, note)
	return b
}

// roundTrip is the room beside a box for wires that come round it.
func roundTrip(ports int) int {
	if ports == 0 {
		return 0
	}
	return (ports + 1) * sidePitch
}

// boardBody is a rail with its numbers on the left and its strips on the right.
func boardBody(n Node, lead int) body {
	var b body
	y := lead + halfBar + air
	if n.Note.Over.W > 0 {
		b.name = geom.Point{X: halfBar + 2*air, Y: y}
		b.cells = append(b.cells, geom.Rect{X0: 0, Y0: y, X1: b.name.X + n.Note.Over.W, Y1: y + n.Note.Over.H})
		y += n.Note.Over.H + air
	}
	numbers := geom.Rect{X0: -halfBar - 2*air, Y0: y, Y1: y}
	for k, r := range n.Rows {
		h := max(r.Strip.H, r.Number.H)
		if r.Below > 0 && (k+1 == len(n.Rows) || n.Rows[k+1].Strip.W < r.Strip.W) {
			b.cells = append(b.cells, geom.Rect{X0: 0, Y0: y, X1: r.Strip.W, Y1: y + h + r.Below})
		}
		mid := y + r.Axis // a number may stand out of its row
		numbers.X0 = min(numbers.X0, -halfBar-2*air-r.Number.W)
		numbers.Y0, numbers.Y1 = min(numbers.Y0, mid-r.Number.H/2), max(numbers.Y1, y+h, mid-r.Number.H/2+r.Number.H)
		b.rows = append(b.rows, y+r.Axis)
		b.reach = max(b.reach, r.Strip.W)
		if k := len(b.cells) - 1; k >= 0 && b.cells[k].X1 == r.Strip.W && b.cells[k].Y1 == y {
			b.cells[k].Y1 = y + h
		} else {
			b.cells = append(b.cells, geom.Rect{X0: 0, Y0: y, X1: r.Strip.W, Y1: y + h})
		}
		y += h
	}
	b.rail = y
	b.cells = append(b.cells, numbers, geom.Rect{X0: -halfBar, Y0: 0, X1: halfBar, Y1: y})
	return b
}
