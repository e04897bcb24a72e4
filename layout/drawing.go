package layout

import (
	"slices"

	"strake/layout/geom"
)

// Drawing is a graph laid out; coordinates are of the field, from its upper left corner.
type Drawing struct {
	Sheets []Sheet // one, or several when it was split
	Moved  int     // how far things stand from where they stood, on the average
	Fits   bool    // everything lies in the field, blocks too
}

// Sheet is one field with what stands on it.
type Sheet struct {
	Symbols []PlacedSymbol
	Bars    []PlacedBar
	Boards  []PlacedBoard
	Wires   []PlacedWire
	Blocks  []PlacedBlock
	Flags   []Flag // ends of wires that go on on another sheet
	Bounds  geom.Rect
	Figures Figures
}

// Turn is how a symbol lies.
type Turn int

const (
	Upright   Turn = iota // chain runs downward: upper terminal first
	Inverted              // one-port symbol with its wire below; of two-port ones: the supply comes from below
	Level                 // in a level wire, supply from the left
	LevelBack             // in a level wire, supply from the right
)

// PlacedSymbol is a symbol at its upper (or left) terminal.
type PlacedSymbol struct {
	Node                int
	At                  geom.Point
	Turn                Turn
	Ports               []geom.Point // where each port of the node came to lie
	Beside, Over, Under geom.Point   // upper left corner of each note cell; only those with a size
}

// PlacedBar is a horizontal bar.
type PlacedBar struct {
	Node int
	Line [2]geom.Point // from left to right
	Name geom.Point    // upper left corner of its name cell
}

// PlacedBoard is a bar (of no length when a single feed comes from above) with its rail.
type PlacedBoard struct {
	Node     int
	Line     [2]geom.Point // the level part; equal points when there is none
	Rail     [2]geom.Point // from top to bottom
	Mirrored bool          // rows to the left
	Rows     []geom.Point  // where each row's wire leaves the rail
	Name     geom.Point
}

// PlacedWire is a wire's line from its supply to its load.
type PlacedWire struct {
	Wire   int
	Points []geom.Point
	Note   geom.Point   // upper left corner of the note cell that was used
	Level  bool         // Under was used, else Beside
	Run    geom.Point   // where it runs upright with no symbol on its axis: that, and the height at which it turns; Unsaid: a symbol stands there
	Joints []geom.Point // dots where it meets a bar's side or another wire of its node
}

// PlacedBlock is a block with the size that was taken.
type PlacedBlock struct {
	Block int
	Size  int
	At    geom.Point
}

// Flag is where a wire leaves the sheet.
type Flag struct {
	Wire  int
	At    geom.Point
	Sheet int // where it goes on
}

// Figures is what the search believed of the drawing; Verify counts again.
type Figures struct {
	Crossings, Bends int
}

// Axis is where a wire runs upright at its supply or its load: beside what it
// ends on when it comes there by a level piece.
func (w PlacedWire) Axis(load bool) int {
	p := w.Points
	if load {
		p = slices.Clone(p)
		slices.Reverse(p)
	}
	switch {
	case len(p) > 2 && p[0].Y == p[1].Y:
		return p[1].X
	case len(p) > 3 && p[0].X == p[1].X && p[1].Y == p[2].Y && p[2].X == p[3].X:
		if first, then := p[1].Y-p[0].Y, p[3].Y-p[2].Y; first*then > 0 && abs(first) < max(abs(then), 6*sidePitch) {
			return p[2].X
		}
	}
	return p[0].X
}
