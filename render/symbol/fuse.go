package symbol

import "strake/layout/geom"

// fuse: a long body with the conductor straight through. Poles show on the
// lower lead, which the body makes room for.
var fuse = shape{
	ends: both, length: 1000, note: geom.Point{X: 260, Y: 440},
	draw:      func(p *pencil) { fuseBody(p, 125, 875) },
	rowLength: 930,
	row:       func(p *pencil) { fuseBody(p, 115, 815) },
}

func fuseBody(p *pencil, y0, y1 int) {
	if p.v.Poles > 1 {
		y1 -= 60 * p.v.Poles
	}
	p.stroke(0, 0, 0, p.length)
	p.rect(-125, y0, 125, y1)
	p.poles(p.length-55, 65)
}

// shunt: a resistor with its two sense taps.
var shunt = shape{
	ends: both, length: 1000, note: geom.Point{X: 260, Y: 440},
	draw:      func(p *pencil) { shuntBody(p, 125, 875) },
	rowLength: 930,
	row:       func(p *pencil) { shuntBody(p, 115, 815) },
}

func shuntBody(p *pencil, y0, y1 int) {
	p.stroke(0, 0, 0, y0)
	p.rect(-125, y0, 125, y1)
	p.stroke(0, y1, 0, p.length)
	p.stroke(-125, y0+150, -250, y0+150)
	p.stroke(-125, y1-150, -250, y1-150)
}
