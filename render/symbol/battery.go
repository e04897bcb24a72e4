package symbol

import "strake/render/scene"

// plate is the negative plate: short and thick.
var plate = scene.Pen{Width: 70}

// battery: two cells with the rest between them understood. The long thin
// plate is positive and bears the sign; the negative end is a port too, for
// the links of a bank.
var battery = shape{ends: gives, length: 625,
	draw:      func(p *pencil) { cells(p, 2, 375, 190, 115) },
	rowLength: 440,
	row:       smallBattery,
}

// bank: several batteries as one.
var bank = shape{ends: gives, length: 1000,
	draw:      func(p *pencil) { cells(p, 3, 375, 190, 115) },
	rowLength: 440,
	row:       smallBattery,
}

func cells(p *pencil, n, long, short, gap int) {
	p.ports[0].Name = "positive"
	p.port("negative", Top, 0, 0)
	y := 35
	for i := range n {
		if i > 0 {
			p.line(scene.LinkPen, 0, y, 0, y+gap*2)
			y += gap * 2
		}
		p.line(plate, -short, y, short, y)
		y += 100
		p.stroke(-long, y, long, y)
	}
	p.stroke(0, y, 0, p.length)
	p.plus(-220, y+85, 65)
}

func smallBattery(p *pencil) {
	p.ports[0].Name = "positive"
	p.line(plate, -80, 35, 80, 35)
	p.stroke(-160, 110, 160, 110)
	p.line(scene.LinkPen, 0, 110, 0, 230)
	p.line(plate, -80, 230, 80, 230)
	p.stroke(-160, 310, 160, 310)
	p.stroke(0, 310, 0, p.length)
	p.plus(-120, 390, 45)
}
