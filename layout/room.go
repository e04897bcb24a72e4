package layout

import "strake/layout/geom"

// Room is what a laid-out sheet leaves free of its field, for what a caller
// adds when all is settled: it moves nothing.
type Room struct {
	field Field
	taken []geom.Rect
}

// Room finds what a sheet of a graph leaves free of a field.
func (f Field) Room(g Graph, s Sheet) *Room {
	taken := append([]geom.Rect(nil), f.Reserved...)
	for _, p := range inks(g, s) {
		taken = append(taken, p.Rect)
	}
	for _, w := range s.Wires {
		for k := 1; k < len(w.Points); k++ {
			taken = append(taken, stretch(w.Points[k-1], w.Points[k]).Grow(halfWire))
		}
	}
	return &Room{f, taken}
}

// Place takes room for the first of some sizes that finds any.
func (r *Room) Place(sizes ...Size) (size int, at geom.Point, ok bool) {
	for k, z := range sizes {
		if at, ok = hole(r.taken, r.field, z); ok {
			r.taken = append(r.taken, geom.Rect{X0: at.X, Y0: at.Y, X1: at.X + z.W, Y1: at.Y + z.H})
			return k, at, true
		}
	}
	return 0, at, false
}
