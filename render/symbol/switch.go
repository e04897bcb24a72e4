package symbol

import (
	"strake/layout/geom"
	"strake/render/scene"
)

// A blade hangs from its hinge to the left of the fixed contact, so that the
// right side is free for its text.
const (
	hinge  = 750
	bladeX = -275
	bladeY = 270
)

var switchNote = geom.Point{X: 300, Y: 540}

// blade draws the moving contact, the lead under it and the poles.
func blade(p *pencil) {
	p.stroke(0, hinge, bladeX, bladeY)
	p.stroke(0, hinge, 0, p.length)
	p.poles(p.length-80, 80)
}

// link is the mechanical link from the middle of the blade to the left.
func link(p *pencil, to int) { p.line(scene.LinkPen, to, 525, -130, 525) }

// isolator: a switch-disconnector, with a bar and a ball on the fixed contact.
var isolator = shape{ends: both, length: 1000, note: switchNote, draw: func(p *pencil) {
	p.stroke(0, 0, 0, 125)
	p.stroke(-140, 125, 140, 125)
	p.circle(0, 190, 65)
	blade(p)
}}

// handSwitch: a make contact worked by hand.
var handSwitch = shape{ends: both, length: 1000, note: switchNote, draw: func(p *pencil) {
	p.stroke(0, 0, 0, 250)
	blade(p)
	link(p, -400)
	p.stroke(-400, 450, -400, 600)
}}

// floatSwitch: a make contact worked by a float.
var floatSwitch = shape{ends: both, length: 1000, note: switchNote, draw: func(p *pencil) {
	p.stroke(0, 0, 0, 250)
	blade(p)
	link(p, -400)
	p.circle(-490, 525, 90)
	p.stroke(-580, 525, -400, 525)
}}

// stop: a break contact under a mushroom head.
var stop = shape{ends: both, length: 1000, note: switchNote, draw: func(p *pencil) {
	p.stroke(0, 0, 0, 250, -150, 250)
	p.stroke(0, hinge, -180, 150)
	p.stroke(0, hinge, 0, p.length)
	p.poles(p.length-80, 80)
	p.line(scene.LinkPen, -400, 525, -70, 525)
	p.arc(-400, 525, 125, 90, 270)
	p.stroke(-400, 400, -400, 650)
}}

// contactor: a main contact with its coil.
var contactor = shape{ends: both, length: 1000, note: switchNote, draw: func(p *pencil) {
	p.stroke(0, 0, 0, 250)
	p.arc(0, 190, 60, 90, 270)
	blade(p)
	coil(p)
}}

// relay: a make contact with its coil.
var relay = shape{ends: both, length: 1000, note: switchNote, draw: func(p *pencil) {
	p.stroke(0, 0, 0, 250)
	blade(p)
	coil(p)
}}

func coil(p *pencil) {
	link(p, -400)
	p.rect(-650, 425, -400, 625)
	p.port("coil", LeftSide, -650, 525)
}

// wayPitch is the distance of a changeover's incoming ends.
const wayPitch = 1000

// changeover: the blade stands on the first position, for one between them
// would read as broken.
var changeover = shape{ends: both, length: 1000, draw: func(p *pencil) {
	ways := p.v.Ways
	if len(ways) == 0 {
		ways = []string{"in1", "in2"}
	}
	p.clearPorts()
	n := len(ways)
	for i, name := range ways {
		x := (2*i - (n - 1)) * wayPitch / 2
		contact := (2*i - (n - 1)) * 400 / 2
		p.port(name, Top, x, 0)
		p.stroke(x, 0, x, 150, contact, 150, contact, 280)
		p.circle(contact, 330, 50)
	}
	p.port("out", Bottom, 0, p.length)
	p.stroke(-(n-1)*200, 330, 0, hinge, 0, p.length)
	p.poles(p.length-80, 80)
}}
