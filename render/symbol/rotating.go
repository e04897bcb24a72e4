package symbol

// motor: also a thruster's and a starter's.
var motor = shape{ends: takes, length: 1000,
	draw:      func(p *pencil) { machine(p, "M", p.v.InAC, "enable") },
	rowLength: 440,
	row:       func(p *pencil) { smallMachine(p, "M", "enable") },
}

// pump: a motor; its manual feed comes from the side.
var pump = shape{ends: takes, length: 1000,
	draw:      func(p *pencil) { machine(p, "M", p.v.InAC, "manual") },
	rowLength: 440,
	row:       func(p *pencil) { smallMachine(p, "M", "manual") },
}

// generator: also an alternator's and that of wind or water.
var generator = shape{ends: gives, length: 1000,
	draw:      func(p *pencil) { machine(p, "G", p.v.OutAC, "start") },
	rowLength: 440,
	row:       func(p *pencil) { smallMachine(p, "G", "start") },
}

// machine is a circle with a letter above the sign of its current. Letter and
// sign keep their order in every pose, so they hang on the circle's centre.
func machine(p *pencil, letter string, ac bool, side string) {
	p.port(side, LeftSide, -500, 500)
	p.circle(0, 500, 500)
	above, below := p.offset(0, 500, -85), p.offset(0, 500, 285)
	p.letters(above[0], above[1], letter, 350, true)
	p.sign(below[0], below[1], ac)
}

func smallMachine(p *pencil, letter, side string) {
	p.port(side, LeftSide, -220, 220)
	p.circle(0, 220, 220)
	p.letters(0, 220, letter, 250, false)
}

// offset is the point of the upright shape that lands dy further down the
// sheet than x, y does.
func (p *pencil) offset(x, y, dy int) [2]int {
	switch {
	case !p.upright():
		return [2]int{x + dy, y}
	case p.flip:
		return [2]int{x, y - dy}
	}
	return [2]int{x, y + dy}
}
