package layout

import "strake/layout/geom"

// Distances that hold on every sheet.
const (
	air       = 60   // between the cells of one column, and text to foreign ink
	beside    = 50   // between cells side by side
	tail      = 140  // from the note of a wire to what ends the wire
	gap       = 120  // between foreign things above each other
	underBar  = 400  // between a bar and what stands under it and is not on it
	halfWire  = 70   // room that a wire needs on either side
	leastWire = 150  // of a wire between two devices
	corner    = 600  // of a wire from a board's row, from its bend to a device
	halfBar   = 70   // half the thickness of a bar
	overhang  = 250  // least length of a bar beyond its outer column
	clearEnd  = 1000 // from the end of a bar to what passes it
	tightEnd  = 120  // the same in a field that has no room
	sidePitch = 140  // between side wires of one box or bar
)

// measure is a piece's room about its axis and under its top.
type measure struct {
	height int       // from terminal to terminal; of a wire its least length
	box    geom.Rect // of a device
	note   geom.Rect // the cell of its text; empty when it has none
}

// boxOf is a symbol's extent as it lies upright or upside down.
func boxOf(n Node, t Turn) geom.Rect {
	b := n.Box
	if t == Inverted {
		b.Y0, b.Y1 = 0, b.Y1-b.Y0
	}
	return b
}

// measurePiece gives the room of a device or a wire.
func measurePiece(g Graph, p piece, riser, first bool) measure {
	if p.dev >= 0 {
		n := g.Nodes[p.dev]
		return measure{height: max(0, n.Box.Y1), box: boxOf(n, p.turn), note: besideCell(n.Note)}
	}
	w := g.Wires[p.wire]
	if riser {
		return measure{height: leastWire}
	}
	m := measure{height: max(w.Least, leastWire), note: besideCell(w.Note)}
	if m.note != (geom.Rect{}) {
		if low := halfBar + air - m.note.Y0; first && low > 0 {
			m.note.Y0, m.note.Y1 = m.note.Y0+low, m.note.Y1+low
		}
		m.height = max(m.height, m.note.Y1+tail)
	}
	return m
}

// cornerRoom is what a piece that turns into a board's row lacks of the way from
// the bend to a device: after a long level run, a bend close to a symbol reads
// as a part of it.
func (a *arrangement) cornerRoom(c, i int) int {
	return max(0, corner-a.measures[c][i].height)
}

// besideCell is the cell right of an axis.
func besideCell(n Note) geom.Rect {
	if n.Beside.W <= 0 || n.Beside.H <= 0 {
		return geom.Rect{}
	}
	return geom.Rect{X0: n.X, Y0: n.Y, X1: n.X + n.Beside.W, Y1: n.Y + n.Beside.H}
}
