// Package scene owns the drawing model that every output writes: groups of
// lines, circles and texts in hundredths of a millimetre, each with its pen.
// It knows ink and the width of text, no electrics and no algorithms of layout.
package scene

import "strake/layout/geom"

// Sheet is one page.
type Sheet struct {
	Width, Height int // paper, in hundredths of a millimetre
	Title, Desc   string
	Groups        []*Group
}

// Node is anything that can stand in a group.
type Node interface{ node() }

// Group gathers nodes under a class and, for the parts of the drawing, under
// the reference of the item that they show.
type Group struct {
	Class          string // "device fuse prepared", "bus", "cable", "sheet", …
	Item, From, To string // data-item, data-from, data-to; empty: left out
	Title          string // tooltip and accessible name
	Shift          geom.Point
	Nodes          []Node
}

// Colour is "#rrggbb"; all are dark enough to print black at half threshold.
type Colour string

// Black is the colour of everything but wires and bars.
const Black Colour = "#000000"

// White is the text in a reversed block.
const White Colour = "#ffffff"

// Pen draws a line: width, and dashes as on, off, on, off …; nil is solid.
type Pen struct {
	Width  int
	Dash   []int
	Colour Colour // empty: black
}

// Line is a polyline, or a polygon when closed; a filled one has no stroke when its pen has no width.
type Line struct {
	Pen    Pen
	Points []geom.Point
	Closed bool
	Fill   Colour       // empty: not filled
	Met    []geom.Point // where others meet it: its dashes leave no gap there
}

// Circle, or with two radii an ellipse.
type Circle struct {
	Pen    Pen
	Centre geom.Point
	RX, RY int
	Fill   Colour
}

// Arc is part of a circle, in degrees clockwise from three o'clock as seen on the sheet (y down).
type Arc struct {
	Pen      Pen
	Centre   geom.Point
	R        int
	From, To int
}

// Anchor says which point of a text its position is.
type Anchor int

const (
	Left Anchor = iota
	Middle
	Right
)

// Text is one line of text on its baseline. Cap is the height of its capitals.
type Text struct {
	At     geom.Point
	Cap    int
	Anchor Anchor
	Bold   bool
	Colour Colour // empty: black
	Text   string
}

func (*Group) node() {}
func (Line) node()   {}
func (Circle) node() {}
func (Arc) node()    {}
func (Text) node()   {}
