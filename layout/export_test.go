package layout

import "strake/layout/geom"

// Ink is what the tests' pictures show.
type Ink struct {
	geom.Rect
	What string
	Text bool
}

// Inks lists the parts of a sheet.
func Inks(g Graph, s Sheet) []Ink {
	var out []Ink
	for _, p := range inks(g, s) {
		out = append(out, Ink{p.Rect, p.what, p.text})
	}
	return out
}
