package symbol

// converter: a square cut by a diagonal, with the sign of what comes in at
// its upper end and of what goes out at its lower. Chargers, regulators and
// controllers are converters too; their words tell them apart.
var converter = shape{ends: both, length: 1000,
	draw:      func(p *pencil) { converterBox(p, 500, p.v.InAC, p.v.OutAC) },
	rowLength: 500,
	row:       func(p *pencil) { converterBox(p, 250, p.v.InAC, p.v.OutAC) },
}

// inverter: direct current in, alternating out.
var inverter = shape{ends: both, length: 1000,
	draw:      func(p *pencil) { converterBox(p, 500, false, true) },
	rowLength: 500,
	row:       func(p *pencil) { converterBox(p, 250, false, true) },
}

// inverterCharger: wider, for it has up to two ends of alternating current on
// each side. The battery's end is at the top, shore comes in at the right.
var inverterCharger = shape{ends: none, length: 1000,
	draw: func(p *pencil) {
		p.port("dc", Top, 0, 0)
		p.port("in", RightSide, 750, 250)
		p.port("in2", RightSide, 750, 750)
		p.port("out", Bottom, 0, p.length)
		p.port("out2", Bottom, 500, p.length)
		converterBox(p, 750, false, true)
	},
	rowLength: 500,
	row: func(p *pencil) {
		p.port("dc", Top, 0, 0)
		p.port("out", Bottom, 0, p.length)
		converterBox(p, 250, false, true)
	},
}

// converterBox keeps its diagonal from lower left to upper right in every
// pose: where the ends change places, so do the sides.
func converterBox(p *pencil, half int, inAC, outAC bool) {
	m := 1
	if p.flip {
		m = -1
	}
	p.rect(-half, 0, half, p.length)
	p.port("enable", LeftSide, -half, p.length/2)
	p.stroke(-m*half, p.length, m*half, 0)
	x, y := half-230, 220
	if p.small {
		x, y = half-125, 125
	}
	p.sign(-m*x, y, inAC)
	p.sign(m*x, p.length-y, outAC)
}
