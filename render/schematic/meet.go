package schematic

import (
	"strings"

	"strake/layout/geom"
	"strake/render/scene"
)

// tellMeetings tells every dashed wire of a sheet where others meet it, so that
// none of its gaps stands at a crossing or a joint.
func tellMeetings(s scene.Sheet) {
	type place struct {
		in *scene.Group
		at int
	}
	var wires []place
	var pieces []geom.Rect
	for _, g := range s.Groups {
		name, _, _ := strings.Cut(g.Class, " ")
		if name != "cable" && name != "bus" && name != "stub" {
			continue
		}
		for i, n := range g.Nodes {
			l, ok := n.(scene.Line)
			if !ok {
				continue
			}
			wires = append(wires, place{g, i})
			for k := 1; k < len(l.Points); k++ {
				pieces = append(pieces, spanned(l.Points[k-1], l.Points[k]))
			}
		}
	}
	for _, w := range wires {
		l := w.in.Nodes[w.at].(scene.Line)
		if len(l.Pen.Dash) == 0 {
			continue
		}
		for k := 1; k < len(l.Points); k++ {
			own := spanned(l.Points[k-1], l.Points[k])
			for _, p := range pieces {
				if x, y := max(own.X0, p.X0), max(own.Y0, p.Y0); x == min(own.X1, p.X1) && y == min(own.Y1, p.Y1) {
					l.Met = append(l.Met, geom.Point{X: x, Y: y})
				}
			}
		}
		w.in.Nodes[w.at] = l
	}
}

// spanned is the box of two points.
func spanned(a, b geom.Point) geom.Rect {
	return geom.Rect{X0: min(a.X, b.X), Y0: min(a.Y, b.Y), X1: max(a.X, b.X), Y1: max(a.Y, b.Y)}
}
