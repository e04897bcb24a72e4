// Package layout owns the placing of a single-line diagram: symbols in upright
// chains, bars, boards as a rail with rows, wires between them, and the cells
// that their notes need. It is geometry only, in hundredths of a millimetre,
// and knows nothing of electrics, of fonts or of ink.
package layout

import "strake/layout/geom"

// Graph is what is to be laid out. The order of its slices is the canonical
// order and breaks every tie; the same graph gives the same drawing.
type Graph struct {
	Nodes  []Node
	Wires  []Wire
	Orders []Order
	Blocks []Block
	Wishes []Block      // what the caller will put into holes of its own choice: room is kept for as many as can be
	Pins   []geom.Point // where nodes stood before: a symbol's upper (or left) terminal, a bar's left end, a board's rail; nil, or Unsaid
	Runs   []geom.Point // where wires ran upright with no symbol on their axis; nil, or Unsaid
}

// Unsaid is a place that nobody told.
var Unsaid = geom.Point{X: -1, Y: -1}

// Form is how a node takes space.
type Form int

const (
	Symbol Form = iota // a box of fixed size; two-port symbols join into chains
	Bar                // a horizontal bar, as long as what hangs on it needs
	Board              // a bar with a rail downward and one row a way
)

// Size of a cell.
type Size struct{ W, H int }

// Node is one thing that is drawn.
type Node struct {
	Name  string // unique; decides nothing but ties and `order`
	Form  Form
	Box   geom.Rect // symbol: extent about its axis when upright; x 0 is the axis, y 0 the upper terminal
	Level geom.Rect // symbol lying in a level wire, flow from left to right: x 0 the left terminal, y 0 the wire; empty: it cannot lie
	Ports []Port    // symbol: none means one at the top and, with two wires, one at the bottom
	Note  Note      // symbol: text beside it; bar and board: its name and domain tag
	Rows  []Row     // board
	Group int       // nodes of one group (a domain, a hull) like to stand together; 0: none
	Top   bool      // a source: stands above what it feeds where that costs nothing

	Nameless bool // no author's sequence can name it
}

// Note is the room for texts. Beside is right of an upright symbol, from X of
// the axis on and Y under its upper terminal; Over and Under are centred above
// and below a level one. For a bar Over is its name, above its left end or
// where there is room along it. Zero sizes need no room.
type Note struct {
	Beside      Size
	X, Y        int
	Over, Under Size
}

// Side of a box.
type Side int

const (
	Top Side = iota
	Bottom
	LeftSide
	RightSide
	AnySide // the layout chooses
)

// Port is where wires land on a symbol with more than two, or on a fixed place of one.
type Port struct {
	Side  Side
	At    int // along the side, from the axis (top, bottom) or from the upper terminal (left, right); only when Fixed
	Fixed bool
}

// Row is one row of a board: a strip to the right of the rail (or, mirrored,
// to its left) whose inside belongs to the caller.
type Row struct {
	Name   string
	Number Size // the way's number, on the other side of the rail
	Strip  Size // width from the rail, height of the row
	Axis   int  // y of the row's wire under the top of the strip
	Below  int  // how far its ink hangs out of the strip, over a shorter row that follows
	Out    bool // a wire goes on from the far end of the strip
}

// End of a wire: a node and, where it has them, a port or a row. -1: none.
type End struct{ Node, Port, Row int }

// Wire is one cable or link, in the direction of supply to load.
type Wire struct {
	Name     string
	From, To End
	Note     Note // Beside: right of an upright wire, from X of the wire on; Under: below a level one
	Least    int  // shortest drawn length
	Weight   int  // how much it matters that it runs downward: main feeds more than ties
	Tie      bool // joins two bars both ways: straight between level bars, else a U
}

// Order is the author's sequence of wires along a bar, from left to right, by the names of nodes.
type Order struct {
	Bar   int
	Nodes []int // the node at the other end of the chain or its first device
}

// Block is a legend or a table that fills a hole; the first size that fits anywhere is taken.
type Block struct {
	Name  string
	Sizes []Size
}

// Field is the room for a drawing. Reserved rectangles inside it stay free.
type Field struct {
	Width, Height int
	Reserved      []geom.Rect
}

// Effort is how long the search may go on, in trials, never in time.
type Effort int

const (
	Kept Effort = iota - 1 // none: what stood somewhere stands there, or nothing fits
	Quick
	Good
)
