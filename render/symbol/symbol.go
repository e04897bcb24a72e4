// Package symbol owns the symbols of the single-line diagram: their size, where
// a wire lands on them and their strokes, on a grid of 2.5 mm after the shapes
// of IEC 60617. It knows the names of the kinds, no circuit and no layout.
package symbol

import (
	"sort"

	"strake/layout/geom"
	"strake/render/scene"
)

// Pose is how a symbol lies on the sheet.
type Pose int

const (
	Upright     Pose = iota // supply above, load below
	Turned                  // supply below, load above; signs and letters stay readable
	Level                   // in a level wire, supply at the left
	LevelTurned             // in a level wire, supply at the right
	RowPose                 // small, in a board's row or a legend; the board at the left
	RowTurned               // small, in the row of a board at the right
)

// Poses are all of them.
var Poses = []Pose{Upright, Turned, Level, LevelTurned, RowPose, RowTurned}

// Variant is what changes the strokes of a kind.
type Variant struct {
	Poles int      // strokes through the switched line; 0 and 1: none
	InAC  bool     // what comes in; of a thing with one end, what it takes or gives
	OutAC bool     // what goes out
	Ways  []string // changeover: names of its positions, from left to right
}

// Side of a form on which a port lies.
type Side int

const (
	Top Side = iota
	Bottom
	LeftSide
	RightSide
)

// Port is where a wire lands.
type Port struct {
	Name string // in, out, dc, coil …; a thing with one end has a port called in (it takes) or out (it gives), a battery positive and negative
	Side Side
	At   geom.Point
}

// Form is a symbol in one pose. Upright and turned, x 0 is the axis and y 0
// the upper end; level and in a row, x 0 is the left end and y 0 the wire.
type Form struct {
	Box   geom.Rect // all ink; a wire may come as near as the ports, a text not at all
	Ports []Port
	Note  geom.Point // upright and turned: left end of the baseline of the first text beside it
	Nodes []scene.Node
}

// Port finds a port by name. No name is the first port, as is any name where
// there is but one; in1 and out1 are in and out, a pump's auto is its in.
func (f Form) Port(name string) (Port, bool) {
	switch name {
	case "in1":
		name = "in"
	case "out1":
		name = "out"
	case "auto":
		name = "in"
	}
	for _, p := range f.Ports {
		if p.Name == name {
			return p, true
		}
	}
	if len(f.Ports) == 1 || len(f.Ports) > 1 && name == "" {
		return f.Ports[0], true
	}
	return Port{}, false
}

// Symbol is one symbol of one kind.
type Symbol struct {
	Name  string
	shape shape
	v     Variant
}

// Form draws the symbol in a pose.
func (s Symbol) Form(p Pose) Form { return s.shape.form(p, s.v) }

// TwoEnds tells whether the symbol can lie in a level wire between two others.
func (s Symbol) TwoEnds() bool { return s.shape.ends == both }

// For is the symbol of a kind, by the kind's own word, or of one of the marks:
// capped, untraced, spare, flag, joint, both-ways.
func For(name string, v Variant) (Symbol, bool) {
	s, ok := shapes[name]
	if !ok {
		return Symbol{}, false
	}
	return Symbol{Name: name, shape: s, v: v}, true
}

// Names of all symbols, sorted.
func Names() []string {
	names := make([]string, 0, len(shapes))
	for name := range shapes {
		names = append(names, name)
	}
	sort.Strings(names)
	return names
}
