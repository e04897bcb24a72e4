package symbol

// breaker: a blade with the cross of a circuit-breaker on the fixed contact.
var breaker = shape{ends: both, length: 1000, note: switchNote, draw: func(p *pencil) {
	cross(p)
	blade(p)
}}

// rcd: a blade worked by the sum of the currents through the ellipse.
var rcd = shape{ends: both, length: 1250, note: switchNote, draw: func(p *pencil) {
	p.stroke(0, 0, 0, 250)
	blade(p)
	sumOfCurrents(p)
}}

// rcbo: both in one.
var rcbo = shape{ends: both, length: 1250, note: switchNote, draw: func(p *pencil) {
	cross(p)
	blade(p)
	sumOfCurrents(p)
}}

func cross(p *pencil) {
	p.stroke(0, 0, 0, 240)
	p.stroke(-80, 160, 80, 320)
	p.stroke(-80, 320, 80, 160)
}

func sumOfCurrents(p *pencil) { p.ellipse(0, 930, 170, 70) }
