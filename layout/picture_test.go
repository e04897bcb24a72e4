package layout_test

import (
	"bytes"
	"fmt"

	"strake/layout"
	"strake/layout/geom"
)

// picture draws a layout's first sheet plainly, to be looked at.
func picture(g layout.Graph, d layout.Drawing) []byte {
	var b bytes.Buffer
	s := d.Sheets[0]
	all := s.Bounds.Union(geom.Rect{X1: 39000, Y1: 18900}).Grow(300)
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" width="%dmm" height="%dmm" viewBox="%d %d %d %d"><rect x="%d" y="%d" width="100%%" height="100%%" fill="white"/>`, all.Width()/100, all.Height()/100, all.X0, all.Y0, all.Width(), all.Height(), all.X0, all.Y0)
	fmt.Fprintf(&b, `<rect width="39000" height="18900" fill="none" stroke="#999" stroke-width="30"/>`)
	box := func(r geom.Rect, fill, stroke string) {
		fmt.Fprintf(&b, `<rect x="%d" y="%d" width="%d" height="%d" fill="%s" stroke="%s" stroke-width="25"/>`, r.X0, r.Y0, r.Width(), r.Height(), fill, stroke)
	}
	text := func(r geom.Rect, s, color string) {
		box(r, color, "none")
		fmt.Fprintf(&b, `<text x="%d" y="%d" font-size="300" font-family="sans-serif">%s</text>`, r.X0, min(r.Y1-80, r.Y0+300), s)
	}
	for _, p := range layout.Inks(g, s) {
		switch {
		case p.Text:
			text(p.Rect, p.What, "#eef")
		default:
			box(p.Rect, "#fff6e0", "#000")
			fmt.Fprintf(&b, `<text x="%d" y="%d" font-size="250" font-family="sans-serif">%s</text>`, p.Rect.X0+20, p.Rect.Y0+250, p.What)
		}
	}
	for _, w := range s.Wires {
		fmt.Fprint(&b, `<polyline fill="none" stroke="#a00" stroke-width="50" points="`)
		for _, p := range w.Points {
			fmt.Fprintf(&b, "%d,%d ", p.X, p.Y)
		}
		fmt.Fprint(&b, `"/>`)
		for _, p := range w.Joints {
			fmt.Fprintf(&b, `<circle cx="%d" cy="%d" r="70"/>`, p.X, p.Y)
		}
	}
	b.WriteString("</svg>")
	return b.Bytes()
}
