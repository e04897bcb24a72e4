package symbol

// load: anything that takes power and has no sign of its own.
var load = shape{ends: takes, length: 500, levelLength: 750,
	draw:      func(p *pencil) { p.lying(375, 250, 0) },
	rowLength: 440,
	row:       func(p *pencil) { p.rect(-150, 0, 150, 440) },
}

// socket: an outlet, open to the plug.
var socket = shape{ends: takes, length: 375,
	draw:      func(p *pencil) { outlet(p, 250) },
	rowLength: 220,
	row:       func(p *pencil) { outlet(p, 220) },
}

// outlet: a half circle with a bar across its back, the wire landing on the bar.
func outlet(p *pencil, r int) {
	back := p.length - r
	p.stroke(0, 0, 0, back)
	p.arc(0, p.length, r, 180, 360)
	p.stroke(-r, back, r, back)
}

// lamp: a circle with a diagonal cross.
var lamp = shape{ends: takes, length: 500,
	draw:      func(p *pencil) { crossed(p, 250) },
	rowLength: 440,
	row:       func(p *pencil) { crossed(p, 220) },
}

func crossed(p *pencil, r int) {
	d := r * 707 / 1000
	p.circle(0, r, r)
	p.stroke(-d, r-d, d, r+d)
	p.stroke(-d, r+d, d, r-d)
}

// meter: an instrument with its needle.
var meter = shape{ends: takes, length: 500,
	draw:      func(p *pencil) { needle(p, 250) },
	rowLength: 440,
	row:       func(p *pencil) { needle(p, 220) },
}

func needle(p *pencil, r int) {
	p.circle(0, r, r)
	c := p.at(0, r)
	d := r * 6 / 10
	p.stamp(c, -d/2, d, d, -d)
	p.stamp(c, d/3, -d, d, -d, d, -d/3)
}

// panel: a throttle's, a start panel, a screen.
var panel = shape{ends: takes, length: 500, levelLength: 750,
	draw: func(p *pencil) {
		p.lying(375, 250, 0)
		p.lying(375, 250, 100)
	},
	rowLength: 440,
	row: func(p *pencil) {
		p.rect(-200, 0, 200, 440)
		p.rect(-110, 90, 110, 350)
	},
}

// management: a battery management system.
var management = labelled("BMS")

// insulationMonitor: watches the insulation to earth.
var insulationMonitor = labelled("R<")

// labelled is a box with letters in it, lying in every pose.
func labelled(text string) shape {
	return shape{ends: takes, length: 500, levelLength: 900,
		draw: func(p *pencil) { letterBox(p, text, 450, 250) }, rowLength: 900,
		row: func(p *pencil) { letterBox(p, text, 450, 200) },
	}
}

func letterBox(p *pencil, text string, half, halfHeight int) {
	p.lying(half, halfHeight, 0)
	p.letters(0, p.length/2, text, 250, false)
}

// lying is a box wider than high in every pose, drawn inset from the size given.
func (p *pencil) lying(halfWidth, halfHeight, inset int) {
	across := halfWidth
	if !p.upright() {
		across = halfHeight
	}
	p.rect(inset-across, inset, across-inset, p.length-inset)
}
