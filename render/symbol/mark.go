package symbol

// stud: a bolt that cables are landed on.
var stud = shape{ends: both, length: 250, draw: func(p *pencil) { p.circle(0, 125, 100); p.stroke(0, 0, 0, 25); p.stroke(0, 225, 0, 250) }}

// capped: the end of a cable made safe.
var capped = shape{ends: takes, length: 160, draw: func(p *pencil) { p.block(-110, 0, 110, 0, 110, 160, -110, 160) }}

// untraced: a cable that nobody has followed to its end.
var untraced = shape{ends: takes, length: 440, draw: func(p *pencil) {
	p.circle(0, 220, 220)
	p.letters(0, 220, "?", 250, true)
}}

// spare: a way with nothing on it.
var spare = shape{ends: takes, length: 140, draw: func(p *pencil) { p.circle(0, 70, 70) }}

// flag: the wire goes on, on another sheet.
var flag = shape{ends: takes, length: 500, draw: func(p *pencil) {
	p.outline(-175, 0, 175, 0, 175, 325, 0, 500, -175, 325)
}}

// joint: wires that are connected.
var joint = shape{ends: none, length: 90, draw: func(p *pencil) { p.dot(0, 45, 45) }}

// bothWays: power can flow either way.
var bothWays = shape{ends: none, length: 500, draw: func(p *pencil) {
	p.stroke(0, 100, 0, 400)
	p.block(0, 0, 60, 140, -60, 140)
	p.block(0, 500, 60, 360, -60, 360)
}}
