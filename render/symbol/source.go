package symbol

import (
	"strake/layout/geom"
	"strake/render/scene"
)

// array: a module of cells with the light falling on it from the side that
// bears no text.
var array = shape{ends: gives, length: 750,
	draw: func(p *pencil) {
		p.rect(-625, 0, 625, 750)
		p.stroke(0, 0, 0, 285)
		p.stroke(-260, 285, 260, 285)
		p.line(plate, -130, 415, 130, 415)
		p.stroke(0, 415, 0, 750)
		p.light(-800, 200, 270)
		p.light(-800, 550, 270)
	},
	rowLength: 440,
	row: func(p *pencil) {
		p.rect(-200, 0, 200, 440)
		p.stroke(0, 0, 0, 170)
		p.stroke(-120, 170, 120, 170)
		p.line(plate, -60, 270, 60, 270)
		p.stroke(0, 270, 0, 440)
		p.light(-315, 110, 160)
		p.light(-315, 330, 160)
	},
}

// light is one arrow, down to the right in every pose, about x, y.
func (p *pencil) light(x, y, d int) {
	h := d / 3
	c := p.at(x, y)
	c.X, c.Y = c.X+d/2, c.Y+d/2 // its tip
	p.stamp(c, -d, -d, -h/2, -h/2)
	p.nodes = append(p.nodes, scene.Line{Closed: true, Fill: scene.Black, Points: []geom.Point{
		c, {X: c.X - h*3/2, Y: c.Y - h/2}, {X: c.X - h/2, Y: c.Y - h*3/2}}})
}

// inlet: plug and socket; what comes from ashore enters at the half circle.
var inlet = shape{ends: gives, length: 500, note: geom.Point{X: 340, Y: 350},
	draw: inletBody, rowLength: 500, row: inletBody,
}

func inletBody(p *pencil) {
	p.arc(0, 205, 190, 180, 360)
	p.block(-50, 85, 50, 85, 50, 400, -50, 400)
	p.stroke(0, 400, 0, p.length)
}
