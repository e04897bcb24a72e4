package symbol

// transformer: two windings; the dashed line is the screen of an isolation
// transformer.
var transformer = shape{ends: both, length: 1250,
	draw: func(p *pencil) {
		p.stroke(0, 0, 0, 100)
		p.circle(0, 425, 325)
		p.circle(0, 825, 325)
		p.stroke(0, 1150, 0, p.length)
	},
	rowLength: 500,
	row: func(p *pencil) {
		p.circle(0, 160, 160)
		p.circle(0, 340, 160)
	},
}

// galvanicIsolator: diodes back to back in the protective conductor.
var galvanicIsolator = shape{ends: both, length: 1000, draw: func(p *pencil) {
	p.rect(-375, 0, 375, 1000)
	p.stroke(0, 0, 0, 160)
	p.stroke(-180, 160, 180, 160)
	p.stroke(-180, 840, 180, 840)
	p.stroke(0, 840, 0, 1000)
	for _, x := range []int{-180, 180} {
		tip, base := 620, 400
		if x > 0 {
			tip, base = 400, 620
		}
		p.stroke(x, 160, x, 840)
		p.block(x-110, base, x+110, base, x, tip)
		p.stroke(x-110, tip, x+110, tip)
	}
}}
