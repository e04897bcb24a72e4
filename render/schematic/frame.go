package schematic

import (
	"strconv"

	"strake/layout/geom"
	"strake/render/scene"
)

// paper is a sheet of the ISO 216 series, landscape.
type paper struct {
	name          string
	width, height int
}

var (
	a4 = paper{"A4", 29700, 21000}
	a3 = paper{"A3", 42000, 29700}
	a2 = paper{"A2", 59400, 42000}
)

// Margins after ISO 5457: 20 mm on the left for filing, 10 mm elsewhere.
const (
	filing = 2000
	margin = 1000
	border = 500 // from the frame to the outer line of the grid reference
	zone   = 5000
)

// inner is the room inside the frame.
func (p paper) inner() geom.Rect {
	return geom.Rect{X0: filing, Y0: margin, X1: p.width - margin, Y1: p.height - margin}
}

// frame draws the frame with its grid reference: letters downward, numbers to
// the right, fields of 50 mm counted from the centring marks.
func (p paper) frame() *scene.Group {
	in := p.inner()
	out := in.Grow(border)
	g := &scene.Group{Class: "frame", Nodes: []scene.Node{box(in, scene.FramePen), box(out, scene.FramePen35)}}
	text := func(x, y int, s string) {
		g.Nodes = append(g.Nodes, scene.Text{At: geom.Point{X: x, Y: y + 350/2}, Cap: 350, Anchor: scene.Middle, Text: s})
	}
	cx, cy := p.width/2, p.height/2
	edges := divide(in.X0, in.X1, cx)
	for i := 1; i < len(edges); i++ {
		x := (edges[i-1] + edges[i]) / 2
		text(x, (out.Y0+in.Y0)/2, strconv.Itoa(i))
		text(x, (out.Y1+in.Y1)/2, strconv.Itoa(i))
		if i < len(edges)-1 && edges[i] != cx {
			g.Nodes = append(g.Nodes, stroke(scene.FramePen35, edges[i], out.Y0, edges[i], in.Y0), stroke(scene.FramePen35, edges[i], in.Y1, edges[i], out.Y1))
		}
	}
	edges = divide(in.Y0, in.Y1, cy)
	for i := 1; i < len(edges); i++ {
		y := (edges[i-1] + edges[i]) / 2
		text((out.X0+in.X0)/2, y, zoneLetter(i-1))
		text((out.X1+in.X1)/2, y, zoneLetter(i-1))
		if i < len(edges)-1 && edges[i] != cy {
			g.Nodes = append(g.Nodes, stroke(scene.FramePen35, out.X0, edges[i], in.X0, edges[i]), stroke(scene.FramePen35, in.X1, edges[i], out.X1, edges[i]))
		}
	}
	g.Nodes = append(g.Nodes,
		stroke(scene.FramePen, cx, out.Y0, cx, in.Y0), stroke(scene.FramePen, cx, in.Y1, cx, out.Y1),
		stroke(scene.FramePen, out.X0, cy, in.X0, cy), stroke(scene.FramePen, in.X1, cy, out.X1, cy))
	return g
}

// divide cuts a side into fields of 50 mm from its middle; what is left over
// at the ends and would be shorter than half a field joins its neighbour.
func divide(from, to, middle int) []int {
	var edges []int
	first := middle - (middle-from-zone/2)/zone*zone
	edges = append(edges, from)
	for x := first; x < to-zone/2; x += zone {
		if x > from+zone/2 {
			edges = append(edges, x)
		}
	}
	return append(edges, to)
}

// zoneAt is the field of the grid in which a point lies: C4.
func (p paper) zoneAt(at geom.Point) string {
	in := p.inner()
	field := func(edges []int, v int) int {
		i := 0
		for i+2 < len(edges) && v >= edges[i+1] {
			i++
		}
		return i
	}
	return zoneLetter(field(divide(in.Y0, in.Y1, p.height/2), at.Y)) + strconv.Itoa(field(divide(in.X0, in.X1, p.width/2), at.X)+1)
}

// zoneLetter leaves out I and O.
func zoneLetter(i int) string { return string("ABCDEFGHJKLMNPQRSTUVWXYZ"[i%24]) }

// box is a rectangle's outline.
func box(r geom.Rect, pen scene.Pen) scene.Node {
	return scene.Line{Pen: pen, Closed: true, Points: []geom.Point{{X: r.X0, Y: r.Y0}, {X: r.X1, Y: r.Y0}, {X: r.X1, Y: r.Y1}, {X: r.X0, Y: r.Y1}}}
}

// filled is a rectangle of one colour.
func filled(r geom.Rect, c scene.Colour) scene.Node {
	l := box(r, scene.NoPen).(scene.Line)
	l.Fill = c
	return l
}

// stroke is a straight line.
func stroke(pen scene.Pen, x0, y0, x1, y1 int) scene.Node {
	return scene.Line{Pen: pen, Points: []geom.Point{{X: x0, Y: y0}, {X: x1, Y: y1}}}
}
