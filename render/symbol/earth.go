package symbol

// earth: three bars, shorter and shorter.
var earth = shape{ends: takes, length: 500,
	draw: func(p *pencil) {
		p.stroke(0, 0, 0, 240)
		p.stroke(-260, 240, 260, 240)
		p.stroke(-170, 360, 170, 360)
		p.stroke(-80, 480, 80, 480)
	},
	rowLength: 300,
	row: func(p *pencil) {
		p.stroke(0, 0, 0, 80)
		p.stroke(-200, 80, 200, 80)
		p.stroke(-130, 180, 130, 180)
		p.stroke(-60, 280, 60, 280)
	},
}
