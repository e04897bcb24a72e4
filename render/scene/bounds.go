package scene

import "strake/layout/geom"

// Bounds is the smallest rectangle that holds the ink of a node: strokes with
// half their width, texts from their descenders to their ascenders. A node
// without ink has an empty one.
func Bounds(n Node) geom.Rect {
	switch n := n.(type) {
	case *Group:
		return BoundsAll(n.Nodes).Shift(n.Shift)
	case Line:
		if len(n.Points) == 0 {
			return geom.Rect{}
		}
		return spread(n.Points).Grow(half(n.Pen))
	case Circle:
		return geom.Rect{X0: n.Centre.X - n.RX, Y0: n.Centre.Y - n.RY, X1: n.Centre.X + n.RX, Y1: n.Centre.Y + n.RY}.Grow(half(n.Pen))
	case Arc:
		return arcBounds(n).Grow(half(n.Pen))
	case Text:
		return textBounds(n)
	}
	return geom.Rect{}
}

// BoundsAll is the rectangle around several nodes.
func BoundsAll(nodes []Node) geom.Rect {
	var all geom.Rect
	for _, n := range nodes {
		all = all.Union(Bounds(n))
	}
	return all
}

func half(p Pen) int { return (p.Width + 1) / 2 }

// spread needs one point at least.
func spread(points []geom.Point) geom.Rect {
	r := geom.Rect{X0: points[0].X, Y0: points[0].Y, X1: points[0].X, Y1: points[0].Y}
	for _, p := range points[1:] {
		r.X0, r.Y0 = min(r.X0, p.X), min(r.Y0, p.Y)
		r.X1, r.Y1 = max(r.X1, p.X), max(r.Y1, p.Y)
	}
	return r
}

// arcBounds takes the ends and every quarter that the arc passes.
func arcBounds(a Arc) geom.Rect {
	points := []geom.Point{a.End(a.From), a.End(a.To)}
	for q := -360; q <= 720; q += 90 {
		if q > a.From && q < a.To {
			points = append(points, a.End(q))
		}
	}
	return spread(points)
}

func textBounds(t Text) geom.Rect {
	w := Width(t.Text, t.Cap, t.Bold)
	if w == 0 {
		return geom.Rect{}
	}
	x := t.At.X
	switch t.Anchor {
	case Middle:
		x -= w / 2
	case Right:
		x -= w
	}
	return geom.Rect{X0: x, Y0: t.At.Y - Ascent(t.Cap), X1: x + w, Y1: t.At.Y + Descent(t.Cap)}
}
