package layout

import (
	"fmt"

	"strake/layout/geom"
)

// clearText is the least distance from a text to ink that is not its own.
const clearText = 45

// clearWire is the least distance between two wires that run side by side, and
// from a crossing to a bend or an end.
const clearWire = 100

// leastEnd is the least distance from the end of a bar to a foreign wire that
// passes it. Where the field has room place keeps far more.
const leastEnd = 100

// ink is a part of a drawing that nothing else may touch.
type ink struct {
	geom.Rect
	node, wire int // whose it is; -1
	what       string
	text       bool
}

// Verify states what holds of every drawing of a graph and gives what does not.
func Verify(g Graph, d Drawing) []string {
	var bad []string
	for n, s := range d.Sheets {
		for _, b := range verifySheet(g, s) {
			bad = append(bad, fmt.Sprintf("sheet %d: %s", n+1, b))
		}
	}
	return append(bad, verifyOnce(g, d)...)
}

func verifySheet(g Graph, s Sheet) []string {
	parts := inks(g, s)
	bad := verifyApart(parts)
	bad = append(bad, verifyWires(g, s, parts)...)
	bad = append(bad, verifyPairs(g, s)...)
	bad = append(bad, verifyEnds(g, s)...)
	crossings, bends := count(s)
	if crossings != s.Figures.Crossings || bends != s.Figures.Bends {
		bad = append(bad, fmt.Sprintf("%d crossings and %d bends, believed %d and %d", crossings, bends, s.Figures.Crossings, s.Figures.Bends))
	}
	return bad
}

// verifyOnce holds every node and wire of the graph against the drawing.
func verifyOnce(g Graph, d Drawing) []string {
	nodes, wires, blocks := make([]int, len(g.Nodes)), make([]int, len(g.Wires)), make([]int, len(g.Blocks))
	for _, s := range d.Sheets {
		for _, p := range s.Symbols {
			nodes[p.Node]++
		}
		for _, p := range s.Bars {
			nodes[p.Node]++
		}
		for _, p := range s.Boards {
			nodes[p.Node]++
		}
		for _, p := range s.Wires {
			wires[p.Wire]++
		}
		for _, f := range s.Flags {
			wires[f.Wire] += 1 << 8
		}
		for _, p := range s.Blocks {
			blocks[p.Block]++
		}
	}
	var bad []string
	for n, k := range nodes {
		if k != 1 {
			bad = append(bad, fmt.Sprintf("%s is drawn %d times", g.Nodes[n].Name, k))
		}
	}
	for b, k := range blocks {
		if d.Fits && k != 1 && len(g.Blocks[b].Sizes) > 0 {
			bad = append(bad, fmt.Sprintf("block %s is drawn %d times", g.Blocks[b].Name, k))
		}
	}
	for w, k := range wires {
		if k != 1 && k != 2+2<<8 {
			bad = append(bad, fmt.Sprintf("wire %s is drawn %d times with %d flags", g.Wires[w].Name, k&255, k>>8))
		}
	}
	return bad
}

// inks lists what a sheet is made of but its wires.
func inks(g Graph, s Sheet) []ink {
	var out []ink
	add := func(r geom.Rect, node, wire int, what string, text bool) {
		if r.Width() > 0 || r.Height() > 0 {
			out = append(out, ink{r, node, wire, what, text})
		}
	}
	at := func(p geom.Point, z Size) geom.Rect {
		if z.W <= 0 || z.H <= 0 {
			return geom.Rect{}
		}
		return geom.Rect{X0: p.X, Y0: p.Y, X1: p.X + z.W, Y1: p.Y + z.H}
	}
	for _, p := range s.Symbols {
		n := g.Nodes[p.Node]
		add(symbolBox(n, p), p.Node, -1, n.Name, false)
		if p.Turn == Level || p.Turn == LevelBack {
			add(at(p.Over, n.Note.Over), p.Node, -1, "text of "+n.Name, true)
			add(at(p.Under, n.Note.Under), p.Node, -1, "text of "+n.Name, true)
			continue
		}
		add(at(p.Beside, n.Note.Beside), p.Node, -1, "text of "+n.Name, true)
	}
	for _, p := range s.Bars {
		n := g.Nodes[p.Node]
		add(geom.Rect{X0: p.Line[0].X, Y0: p.Line[0].Y - halfBar, X1: p.Line[1].X, Y1: p.Line[0].Y + halfBar}, p.Node, -1, n.Name, false)
		add(at(p.Name, n.Note.Over), p.Node, -1, "name of "+n.Name, true)
	}
	for _, p := range s.Boards {
		n := g.Nodes[p.Node]
		if p.Line[0] != p.Line[1] {
			add(geom.Rect{X0: p.Line[0].X, Y0: p.Line[0].Y - halfBar, X1: p.Line[1].X, Y1: p.Line[0].Y + halfBar}, p.Node, -1, n.Name, false)
		}
		add(geom.Rect{X0: p.Rail[0].X - halfBar, Y0: p.Rail[0].Y, X1: p.Rail[0].X + halfBar, Y1: p.Rail[1].Y}, p.Node, -1, n.Name, false)
		add(at(p.Name, n.Note.Over), p.Node, -1, "name of "+n.Name, true)
		for k, r := range n.Rows {
			q := p.Rows[k]
			x := q.X + halfBar
			number := q.X - halfBar - 2*air - r.Number.W
			if p.Mirrored {
				x, number = q.X-r.Strip.W, q.X+halfBar+2*air
				add(at(geom.Point{X: x, Y: q.Y - r.Axis}, Size{r.Strip.W - halfBar, r.Strip.H}), p.Node, -1, "row of "+n.Name, false)
			} else {
				add(at(geom.Point{X: x, Y: q.Y - r.Axis}, Size{r.Strip.W - halfBar, r.Strip.H}), p.Node, -1, "row of "+n.Name, false)
			}
			add(at(geom.Point{X: number, Y: q.Y - r.Number.H/2}, r.Number), p.Node, -1, "number of "+n.Name, true)
		}
	}
	for _, p := range s.Wires {
		w := g.Wires[p.Wire]
		z := w.Note.Beside
		if p.Level {
			z = w.Note.Under
		}
		add(at(p.Note, z), -1, p.Wire, "note of "+w.Name, true)
	}
	for _, p := range s.Blocks {
		z := g.Blocks[p.Block].Sizes[p.Size]
		add(at(p.At, z), -1, -1, g.Blocks[p.Block].Name, true)
	}
	return out
}

// standing lists the room that everything on a sheet needs, its wires among it.
func standing(g Graph, s Sheet) []geom.Rect {
	var out []geom.Rect
	for _, p := range inks(g, s) {
		out = append(out, p.Rect)
	}
	for _, b := range s.Boards { // what hangs out of a row's strip
		for k, r := range g.Nodes[b.Node].Rows {
			if r.Below > 0 {
				q := geom.Rect{X1: r.Strip.W, Y0: r.Strip.H - r.Axis, Y1: r.Strip.H - r.Axis + r.Below}
				if b.Mirrored {
					q.X0, q.X1 = -r.Strip.W, 0
				}
				out = append(out, q.Shift(b.Rows[k]))
			}
		}
	}
	for _, w := range s.Wires {
		for k := 1; k < len(w.Points); k++ {
			out = append(out, stretch(w.Points[k-1], w.Points[k]).Grow(halfWire))
		}
	}
	return out
}

// symbolBox is where a symbol lies.
func symbolBox(n Node, p PlacedSymbol) geom.Rect {
	switch p.Turn {
	case Level:
		return n.Level.Shift(p.At)
	case LevelBack:
		return geom.Rect{X0: 0, Y0: n.Level.Y0, X1: n.Level.X1 - n.Level.X0, Y1: n.Level.Y1}.Shift(p.At)
	}
	return boxOf(n, p.Turn).Shift(p.At)
}

// verifyApart finds parts that overlap.
func verifyApart(parts []ink) []string {
	var bad []string
	for i, p := range parts {
		for _, q := range parts[:i] {
			r := p.Rect
			if p.text || q.text {
				if p.node < 0 || p.node != q.node {
					r = r.Grow(clearText)
				}
			}
			same := p.node >= 0 && p.node == q.node && !p.text && !q.text && p.what == q.what
			if r.Meets(q.Rect) && !same {
				bad = append(bad, fmt.Sprintf("%s overlaps %s at %v %v", p.what, q.what, p.Rect, q.Rect))
			}
		}
	}
	return bad
}

// stretch is a piece of a wire as a rectangle of no width.
func stretch(a, b geom.Point) geom.Rect {
	return geom.Rect{X0: min(a.X, b.X), Y0: min(a.Y, b.Y), X1: max(a.X, b.X), Y1: max(a.Y, b.Y)}
}

// mostPoints of a wire: what a U takes that leaves a box upward, over its side,
// and ends on another in the same way. No craft has such a wire; a graph of no
// craft may.
const mostPoints = 10

// verifyWires holds every wire against what it must not touch and where it ends.
func verifyWires(g Graph, s Sheet, parts []ink) []string {
	var bad []string
	cut := map[int]bool{}
	for _, f := range s.Flags {
		cut[f.Wire] = true
	}
	for _, p := range s.Wires {
		w := g.Wires[p.Wire]
		say := func(what string, args ...any) {
			bad = append(bad, fmt.Sprintf("wire %s ", w.Name)+fmt.Sprintf(what, args...)+fmt.Sprint(" ", p.Points))
		}
		if len(p.Points) < 2 || len(p.Points) > mostPoints {
			say("has %d points", len(p.Points))
			continue
		}
		for k := 1; k < len(p.Points); k++ {
			a, b := p.Points[k-1], p.Points[k]
			if (a.X == b.X) == (a.Y == b.Y) {
				say("is not level or upright")
			}
			r := stretch(a, b)
			for _, q := range parts {
				in := q.Rect
				own := q.node >= 0 && (q.node == w.From.Node || q.node == w.To.Node) && !q.text || q.wire == p.Wire
				switch {
				case own:
					in = in.Grow(-1)
				case q.text:
					in = in.Grow(clearText)
				}
				if runsThrough(r, in) {
					if own && q.wire < 0 && endsIn(p, in) {
						continue // on its own bar
					}
					say("runs through %s %v", q.what, q.Rect)
				}
			}
		}
		if cut[p.Wire] {
			continue
		}
		for k, e := range []End{w.From, w.To} {
			at := p.Points[0]
			if k == 1 {
				at = p.Points[len(p.Points)-1]
			}
			if !landsOn(g, s, e, at) {
				say("does not end on %s", g.Nodes[e.Node].Name)
			}
		}
	}
	return bad
}

// runsThrough tells whether a stretch of wire has a part inside a rectangle.
func runsThrough(r, in geom.Rect) bool {
	if r.Width() == 0 {
		return in.X0 < r.X0 && r.X0 < in.X1 && r.Y0 < in.Y1 && in.Y0 < r.Y1
	}
	return in.Y0 < r.Y0 && r.Y0 < in.Y1 && r.X0 < in.X1 && in.X0 < r.X1
}

// endsIn tells whether an end of a wire lies in a thin rectangle, as on the
// middle line of its own bar.
func endsIn(p PlacedWire, r geom.Rect) bool {
	if r.Height() > 2*halfBar && r.Width() > 2*halfBar {
		return false
	}
	for _, q := range []geom.Point{p.Points[0], p.Points[len(p.Points)-1]} {
		if r.Grow(2).Holds(geom.Rect{X0: q.X, Y0: q.Y, X1: q.X, Y1: q.Y}) {
			return true
		}
	}
	return false
}

// landsOn tells whether a point is a place where a wire may end on a node.
func landsOn(g Graph, s Sheet, e End, at geom.Point) bool {
	for _, p := range s.Bars {
		if p.Node == e.Node {
			return at.Y == p.Line[0].Y && p.Line[0].X <= at.X && at.X <= p.Line[1].X
		}
	}
	for _, p := range s.Boards {
		if p.Node != e.Node {
			continue
		}
		if e.Row >= 0 && e.Row < len(p.Rows) {
			w := g.Nodes[e.Node].Rows[e.Row].Strip.W
			if p.Mirrored {
				w = -w
			}
			return at == p.Rows[e.Row].Add(geom.Point{X: w})
		}
		return at == p.Rail[0] || at.Y == p.Line[0].Y && p.Line[0].X <= at.X && at.X <= p.Line[1].X
	}
	for _, p := range s.Symbols {
		if p.Node == e.Node {
			b := symbolBox(g.Nodes[e.Node], p)
			if e.Port >= 0 && e.Port < len(p.Ports) && p.Ports[e.Port] != at {
				return false
			}
			return b.X0 <= at.X && at.X <= b.X1 && b.Y0 <= at.Y && at.Y <= b.Y1
		}
	}
	return false
}

// verifyPairs holds wires against each other.
func verifyPairs(g Graph, s Sheet) []string {
	var bad []string
	for i, p := range s.Wires {
		for _, q := range s.Wires[:i] {
			if what := meet(p, q, sharedNode(g.Wires[p.Wire], g.Wires[q.Wire])); what != "" {
				bad = append(bad, fmt.Sprintf("wires %s and %s %s %v %v", g.Wires[p.Wire].Name, g.Wires[q.Wire].Name, what, p.Points, q.Points))
			}
		}
	}
	return bad
}

// verifyEnds finds wires that pass so near to the end of a foreign bar that
// they read as joined to it.
func verifyEnds(g Graph, s Sheet) []string {
	var bad []string
	end := func(node int, line [2]geom.Point) {
		if line[0] == line[1] {
			return
		}
		for _, p := range s.Wires {
			w := g.Wires[p.Wire]
			if w.From.Node == node || w.To.Node == node {
				continue
			}
			for k := 1; k < len(p.Points); k++ {
				r := stretch(p.Points[k-1], p.Points[k])
				if r.Width() > 0 || r.Y0 >= line[0].Y || r.Y1 <= line[0].Y {
					continue
				}
				if by := max(line[0].X-r.X0, r.X0-line[1].X); by > 0 && by < leastEnd {
					bad = append(bad, fmt.Sprintf("wire %s passes %d beside the end of %s", w.Name, by, g.Nodes[node].Name))
				}
			}
		}
	}
	for _, p := range s.Bars {
		end(p.Node, p.Line)
	}
	for _, p := range s.Boards {
		end(p.Node, p.Line)
	}
	return bad
}

func sharedNode(a, b Wire) bool {
	return a.From.Node == b.From.Node || a.From.Node == b.To.Node || a.To.Node == b.From.Node || a.To.Node == b.To.Node
}

// meet says how two wires come too near to each other.
func meet(p, q PlacedWire, shared bool) string {
	for i := 1; i < len(p.Points); i++ {
		for j := 1; j < len(q.Points); j++ {
			a, b := stretch(p.Points[i-1], p.Points[i]), stretch(q.Points[j-1], q.Points[j])
			if (a.Width() == 0) == (b.Width() == 0) { // parallel
				if a.Grow(clearWire).Meets(b) && alongside(a, b) && !shared {
					return "run too near to each other"
				}
				if a.Grow(1).Meets(b) && alongside(a, b) {
					return "lie on each other"
				}
				continue
			}
			if a.Width() != 0 {
				a, b = b, a
			}
			// a upright, b level
			if b.X0-clearWire >= a.X0 || a.X0 >= b.X1+clearWire || a.Y0-clearWire >= b.Y0 || b.Y0 >= a.Y1+clearWire {
				continue
			}
			if b.X0+clearWire <= a.X0 && a.X0 <= b.X1-clearWire && a.Y0+clearWire <= b.Y0 && b.Y0 <= a.Y1-clearWire {
				continue // a proper crossing
			}
			if !shared {
				return "touch"
			}
		}
	}
	return ""
}

// alongside tells whether two parallel stretches overlap along their length.
func alongside(a, b geom.Rect) bool {
	if a.Width() == 0 {
		return a.Y0 < b.Y1 && b.Y0 < a.Y1
	}
	return a.X0 < b.X1 && b.X0 < a.X1
}

// count counts crossings of wires and their bends.
func count(s Sheet) (crossings, bends int) {
	for i, p := range s.Wires {
		bends += max(0, len(p.Points)-2)
		crossings += crossingsOf(p, p) / 2 // of itself
		for _, q := range s.Wires[:i] {
			crossings += crossingsOf(p, q)
		}
	}
	return crossings, bends
}

func crossingsOf(p, q PlacedWire) int {
	k := 0
	for i := 1; i < len(p.Points); i++ {
		for j := 1; j < len(q.Points); j++ {
			a, b := stretch(p.Points[i-1], p.Points[i]), stretch(q.Points[j-1], q.Points[j])
			if (a.Width() == 0) == (b.Width() == 0) {
				continue
			}
			if a.Width() != 0 {
				a, b = b, a
			}
			if b.X0 < a.X0 && a.X0 < b.X1 && a.Y0 < b.Y0 && b.Y0 < a.Y1 {
				k++
			}
		}
	}
	return k
}
