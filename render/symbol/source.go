package symbol

import "strake/layout/geom"

// array: a module of cells with the light falling on it.
var array = shape{letter: "G", ends: gives, length: 1125,
	draw: func(p *pencil) {
		p.rect(-625, 375, 625, 1125)
		p.stroke(0, 375, 0, 660)
		p.stroke(-260, 660, 260, 660)
		p.line(plate, -130, 790, 130, 790)
		p.stroke(0, 790, 0, 1125)
		light(p, -885, 15, 280)
		light(p, -645, 15, 280)
	},
	rowLength: 440,
	row: func(p *pencil) {
		p.rect(-220, 140, 220, 440)
		p.stroke(0, 140, 0, 250)
		p.stroke(-110, 250, 110, 250)
		p.line(plate, -60, 320, 60, 320)
		p.stroke(0, 320, 0, 440)
		light(p, -320, 0, 130)
	},
}

// light is one arrow at 45 degrees with its head at the far end.
func light(p *pencil, x, y, d int) {
	h := d / 3
	p.stroke(x, y, x+d-h/2, y+d-h/2)
	p.block(x+d, y+d, x+d-h*3/2, y+d-h/2, x+d-h/2, y+d-h*3/2)
}

// inlet: plug and socket; what comes from ashore enters at the half circle.
var inlet = shape{letter: "X", ends: gives, length: 500, note: geom.Point{X: 340, Y: 350},
	draw: inletBody, rowLength: 500, row: inletBody,
}

func inletBody(p *pencil) {
	p.arc(0, 205, 190, 180, 360)
	p.block(-50, 85, 50, 85, 50, 400, -50, 400)
	p.stroke(0, 400, 0, p.length)
}
