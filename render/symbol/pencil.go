package symbol

import (
	"strake/layout/geom"
	"strake/render/scene"
)

// ends says how power meets a symbol.
type ends int

const (
	both  ends = iota // in at the top, out at the bottom
	takes             // in at the top
	gives             // out at the bottom
	none              // a mark that no wire ends on
)

// shape is how one symbol is drawn, always as if upright with its supply above.
type shape struct {
	ends        ends
	length      int // along the axis
	levelLength int // where it differs when level; 0: it does not
	note        geom.Point
	draw        func(*pencil)
	rowLength   int // of the small form
	row         func(*pencil)
}

// pencil puts strokes down in the pose asked for: a shape is described once,
// upright, and the pencil turns it. Letters and signs are stamps: their place
// is turned, they are not.
type pencil struct {
	v      Variant
	pose   Pose
	length int
	flip   bool // the upper end comes last along the sheet's axis
	small  bool // in a row: signs are smaller
	box    geom.Rect
	nodes  []scene.Node
	ports  []Port
}

func (s shape) form(pose Pose, v Variant) Form {
	p := &pencil{v: v, pose: pose, length: s.length}
	draw := s.draw
	if s.levelLength > 0 && !p.upright() {
		p.length = s.levelLength
	}
	if pose == RowPose || pose == RowTurned {
		p.small = true
		if s.row != nil {
			p.length, draw = s.rowLength, s.row
		}
	}
	switch pose {
	case Turned, LevelTurned:
		p.flip = true
	case RowPose:
		p.flip = s.ends == gives // the wire of a row always meets the symbol on the board's side
	case RowTurned:
		p.flip = s.ends != gives
	}
	if s.ends == both || s.ends == takes {
		p.port("in", Top, 0, 0)
	}
	if s.ends == both || s.ends == gives {
		p.port("out", Bottom, 0, p.length)
	}
	draw(p)
	box := p.box
	for _, n := range p.nodes {
		box = box.Union(scene.Bounds(n))
	}
	if p.upright() {
		box.Y0, box.Y1 = 0, p.length
	} else {
		box.X0, box.X1 = 0, p.length
	}
	note := s.note
	if note.X == 0 {
		note = geom.Point{X: box.X1 + 150, Y: min(350, p.length/2+scene.CapText/2)}
	}
	return Form{Box: box, Ports: p.ports, Note: note, Nodes: p.nodes}
}

func (p *pencil) upright() bool { return p.pose == Upright || p.pose == Turned }

// at turns a point of the upright shape into the pose.
func (p *pencil) at(x, y int) geom.Point {
	if p.flip {
		y = p.length - y
	}
	if p.upright() {
		return geom.Point{X: x, Y: y}
	}
	return geom.Point{X: y, Y: x}
}

// side turns a side of the upright shape into the pose.
func (p *pencil) side(s Side) Side {
	if p.flip && (s == Top || s == Bottom) {
		s = Top + Bottom - s
	}
	if p.upright() {
		return s
	}
	return map[Side]Side{Top: LeftSide, Bottom: RightSide, LeftSide: Top, RightSide: Bottom}[s]
}

func (p *pencil) port(name string, s Side, x, y int) {
	p.ports = append(p.ports, Port{name, p.side(s), p.at(x, y)})
}

// clearPorts drops the ports that the kind of ends gave, for a shape with its own.
func (p *pencil) clearPorts() { p.ports = nil }

func (p *pencil) points(xy []int) []geom.Point {
	pts := make([]geom.Point, 0, len(xy)/2)
	for i := 0; i+1 < len(xy); i += 2 {
		pts = append(pts, p.at(xy[i], xy[i+1]))
	}
	return pts
}

// line draws a polyline through x, y, x, y …
func (p *pencil) line(pen scene.Pen, xy ...int) {
	p.nodes = append(p.nodes, scene.Line{Pen: pen, Points: p.points(xy)})
}

// stroke is a line with the pen of symbols.
func (p *pencil) stroke(xy ...int) { p.line(scene.SymbolPen, xy...) }

// outline is a closed line.
func (p *pencil) outline(xy ...int) {
	p.nodes = append(p.nodes, scene.Line{Pen: scene.SymbolPen, Points: p.points(xy), Closed: true})
}

// rect is the outline of a rectangle.
func (p *pencil) rect(x0, y0, x1, y1 int) { p.outline(x0, y0, x1, y0, x1, y1, x0, y1) }

// block is a filled polygon.
func (p *pencil) block(xy ...int) {
	p.nodes = append(p.nodes, scene.Line{Points: p.points(xy), Closed: true, Fill: scene.Black})
}

func (p *pencil) circle(x, y, r int) { p.ellipse(x, y, r, r) }

// ellipse has its radii across and along the axis.
func (p *pencil) ellipse(x, y, across, along int) {
	if !p.upright() {
		across, along = along, across
	}
	p.nodes = append(p.nodes, scene.Circle{Pen: scene.SymbolPen, Centre: p.at(x, y), RX: across, RY: along})
}

// dot is a filled circle.
func (p *pencil) dot(x, y, r int) {
	p.nodes = append(p.nodes, scene.Circle{Centre: p.at(x, y), RX: r, RY: r, Fill: scene.Black})
}

// arc goes clockwise from one angle to another, in the upright shape.
func (p *pencil) arc(x, y, r, from, to int) {
	if p.flip {
		from, to = -to, -from
	}
	if !p.upright() {
		from, to = 90-to, 90-from
	}
	for from < 0 {
		from, to = from+360, to+360
	}
	p.nodes = append(p.nodes, scene.Arc{Pen: scene.SymbolPen, Centre: p.at(x, y), R: r, From: from, To: to})
}

// letters stamps a text centred on a point, never turned.
func (p *pencil) letters(x, y int, text string, capital int, bold bool) {
	c := p.at(x, y)
	p.nodes = append(p.nodes, scene.Text{At: geom.Point{X: c.X, Y: c.Y + capital/2}, Cap: capital, Anchor: scene.Middle, Bold: bold, Text: text})
}
