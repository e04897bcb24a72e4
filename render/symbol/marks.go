package symbol

import (
	"strake/layout/geom"
	"strake/render/scene"
)

// poles draws one slanted stroke a pole across the axis, the last at y.
func (p *pencil) poles(y, pitch int) {
	if p.v.Poles < 2 {
		return
	}
	for i := p.v.Poles - 1; i >= 0; i-- {
		c := y - i*pitch
		p.line(scene.ThinPen, -90, c+60, 90, c-60)
	}
}

// stamp is a sign about a centre that stays upright in every pose.
func (p *pencil) stamp(centre geom.Point, xy ...int) {
	pts := make([]geom.Point, 0, len(xy)/2)
	for i := 0; i+1 < len(xy); i += 2 {
		pts = append(pts, geom.Point{X: centre.X + xy[i], Y: centre.Y + xy[i+1]})
	}
	p.nodes = append(p.nodes, scene.Line{Pen: p.signPen(), Points: pts})
}

// signPen is thinner in a row, where a sign is smaller.
func (p *pencil) signPen() scene.Pen {
	if p.small {
		return scene.ThinPen
	}
	return scene.SymbolPen
}

// sign stamps the sign of direct or alternating current.
func (p *pencil) sign(x, y int, ac bool) {
	c := p.at(x, y)
	if ac {
		p.wave(c)
		return
	}
	w, gap := 160, 50 // half the width, half the distance of line and dashes
	if p.small {
		w, gap = 90, 35
	}
	p.stamp(c, -w, -gap, w, -gap)
	dash := w / 2
	for i := range 3 {
		x0 := -w + i*(2*w-dash)/2
		p.stamp(c, x0, gap, x0+dash, gap)
	}
}

// wave is one period of an alternating current.
func (p *pencil) wave(c geom.Point) {
	r := 80
	if p.small {
		r = 45
	}
	p.nodes = append(p.nodes,
		scene.Arc{Pen: p.signPen(), Centre: geom.Point{X: c.X - r, Y: c.Y}, R: r, From: 180, To: 360},
		scene.Arc{Pen: p.signPen(), Centre: geom.Point{X: c.X + r, Y: c.Y}, R: r, From: 0, To: 180})
}

// plus stamps the sign of the positive pole.
func (p *pencil) plus(x, y, arm int) {
	c := p.at(x, y)
	p.nodes = append(p.nodes,
		scene.Line{Pen: scene.ThinPen, Points: []geom.Point{{X: c.X - arm, Y: c.Y}, {X: c.X + arm, Y: c.Y}}},
		scene.Line{Pen: scene.ThinPen, Points: []geom.Point{{X: c.X, Y: c.Y - arm}, {X: c.X, Y: c.Y + arm}}})
}
