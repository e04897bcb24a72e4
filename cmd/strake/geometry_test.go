// Plane geometry for looking at a sheet from outside, in millimetres.
package main

import (
	"math"
	"slices"
)

type point struct{ x, y float64 }

func (p point) minus(q point) point { return point{p.x - q.x, p.y - q.y} }

func dot(p, q point) float64 { return p.x*q.x + p.y*q.y }

func cross(p, q point) float64 { return p.x*q.y - p.y*q.x }

func distance(p, q point) float64 { return math.Hypot(p.x-q.x, p.y-q.y) }

type segment struct{ a, b point }

func (s segment) length() float64 { return distance(s.a, s.b) }

func (s segment) box() rect { return boxOf([]point{s.a, s.b}) }

func (s segment) middle() point { return point{(s.a.x + s.b.x) / 2, (s.a.y + s.b.y) / 2} }

// on is the point a share of the way along.
func (s segment) on(t float64) point {
	return point{s.a.x + t*(s.b.x-s.a.x), s.a.y + t*(s.b.y-s.a.y)}
}

func (s segment) toPoint(p point) float64 {
	d := s.b.minus(s.a)
	t := 0.0
	if l := dot(d, d); l > 0 {
		t = max(0, min(1, dot(p.minus(s.a), d)/l))
	}
	return distance(p, s.on(t))
}

// meets gives the point where two segments that are not parallel cross or
// touch, and how far from the nearest of their four ends that is.
func (s segment) meets(r segment) (at point, inside float64, met bool) {
	d, e := s.b.minus(s.a), r.b.minus(r.a)
	det, ls, lr := cross(d, e), s.length(), r.length()
	if ls == 0 || lr == 0 || math.Abs(det) < 1e-9*ls*lr {
		return point{}, 0, false
	}
	w := r.a.minus(s.a)
	t, u := cross(w, e)/det, cross(w, d)/det
	if t < 0 || t > 1 || u < 0 || u > 1 {
		return point{}, 0, false
	}
	return s.on(t), min(t*ls, (1-t)*ls, u*lr, (1-u)*lr), true
}

// toSegment is the clear distance of two segments, 0 where they meet.
func (s segment) toSegment(r segment) float64 {
	if _, _, met := s.meets(r); met {
		return 0
	}
	return min(s.toPoint(r.a), s.toPoint(r.b), r.toPoint(s.a), r.toPoint(s.b))
}

// overlap is how far r lies beside s, measured along s; below 0 it is the gap.
func (s segment) overlap(r segment) float64 {
	d, l := s.b.minus(s.a), s.length()
	a, b := dot(r.a.minus(s.a), d)/l, dot(r.b.minus(s.a), d)/l
	return min(l, max(a, b)) - max(0, min(a, b))
}

// off is how far a point lies from the line of s.
func (s segment) off(p point) float64 {
	return math.Abs(cross(s.b.minus(s.a), p.minus(s.a))) / s.length()
}

// parallel allows for the last digit of a coordinate.
func (s segment) parallel(r segment) bool {
	return math.Abs(cross(s.b.minus(s.a), r.b.minus(r.a))) <= 0.01*s.length()*r.length()
}

type rect struct{ x0, y0, x1, y1 float64 }

// nowhere is the box of nothing: it joins with any other.
var nowhere = rect{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)}

func boxOf(points []point) rect {
	r := nowhere
	for _, p := range points {
		r = rect{min(r.x0, p.x), min(r.y0, p.y), max(r.x1, p.x), max(r.y1, p.y)}
	}
	return r
}

func (r rect) grow(d float64) rect { return rect{r.x0 - d, r.y0 - d, r.x1 + d, r.y1 + d} }

func (r rect) join(o rect) rect {
	return rect{min(r.x0, o.x0), min(r.y0, o.y0), max(r.x1, o.x1), max(r.y1, o.y1)}
}

// apart tells whether two boxes are farther from each other than a limit.
func (r rect) apart(o rect, limit float64) bool {
	return r.x0-o.x1 > limit || o.x0-r.x1 > limit || r.y0-o.y1 > limit || o.y0-r.y1 > limit
}

func (r rect) within(o rect) bool {
	const e = 0.01
	return r.x0 >= o.x0-e && r.y0 >= o.y0-e && r.x1 <= o.x1+e && r.y1 <= o.y1+e
}

func (r rect) middle() point { return point{(r.x0 + r.x1) / 2, (r.y0 + r.y1) / 2} }

func (r rect) area() float64 { return max(0, r.x1-r.x0) * max(0, r.y1-r.y0) }

func (r rect) ring() ring {
	return ring{{r.x0, r.y0}, {r.x1, r.y0}, {r.x1, r.y1}, {r.x0, r.y1}}
}

// ring is a closed outline; one of two points is a segment.
type ring []point

func (g ring) edges() []segment {
	if len(g) < 3 {
		return []segment{{g[0], g[len(g)-1]}}
	}
	out := make([]segment, len(g))
	for i, p := range g {
		out[i] = segment{p, g[(i+1)%len(g)]}
	}
	return out
}

// inRings counts by even and odd, so a ring in a ring is a hole.
func inRings(p point, rings []ring) bool {
	odd := false
	for _, g := range rings {
		for _, e := range g.edges() {
			if (e.a.y > p.y) != (e.b.y > p.y) && p.x < e.a.x+(e.b.x-e.a.x)*(p.y-e.a.y)/(e.b.y-e.a.y) {
				odd = !odd
			}
		}
	}
	return odd
}

// hull is the convex outline of points.
func hull(points []point) ring {
	sorted := slices.Clone(points)
	slices.SortFunc(sorted, func(p, q point) int {
		switch {
		case p.x < q.x || p.x == q.x && p.y < q.y:
			return -1
		case p == q:
			return 0
		}
		return 1
	})
	sorted = slices.Compact(sorted)
	if len(sorted) < 3 {
		return ring(sorted)
	}
	side := func() ring {
		var out ring
		for _, p := range sorted {
			for len(out) > 1 && cross(out[len(out)-1].minus(out[len(out)-2]), p.minus(out[len(out)-2])) <= 0 {
				out = out[:len(out)-1]
			}
			out = append(out, p)
		}
		return out[:len(out)-1]
	}
	out := side()
	slices.Reverse(sorted)
	return append(out, side()...)
}

// depth is the shortest shift that parts two convex outlines; below 0 they are apart.
func depth(a, b ring) float64 {
	least := math.Inf(1)
	for _, e := range append(a.edges(), b.edges()...) {
		d, l := e.b.minus(e.a), e.length()
		if l == 0 {
			continue
		}
		for _, axis := range []point{{d.x / l, d.y / l}, {-d.y / l, d.x / l}} {
			a0, a1 := shadow(a, axis)
			b0, b1 := shadow(b, axis)
			least = min(least, a1-b0, b1-a0)
		}
	}
	return least
}

func shadow(g ring, axis point) (least, most float64) {
	least, most = math.Inf(1), math.Inf(-1)
	for _, p := range g {
		d := dot(p, axis)
		least, most = min(least, d), max(most, d)
	}
	return least, most
}

// within is the length of a segment that lies in a convex outline.
func (s segment) within(g ring) float64 {
	if len(g) < 3 {
		return 0
	}
	cuts := []float64{0, 1}
	d, l := s.b.minus(s.a), s.length()
	for _, e := range g.edges() {
		if at, _, met := s.meets(e); met {
			cuts = append(cuts, dot(at.minus(s.a), d)/(l*l))
		}
	}
	slices.Sort(cuts)
	sum := 0.0
	for i := 1; i < len(cuts); i++ {
		if inRings(s.on((cuts[i-1]+cuts[i])/2), []ring{g}) {
			sum += (cuts[i] - cuts[i-1]) * l
		}
	}
	return sum
}

// ink is one drawn shape: its strokes with half the width of the pen, and the
// area that it fills, if it fills one.
type ink struct {
	strokes []segment
	half    float64
	filled  []ring
	box     rect
	wire    bool // an open line, in a cable's group a conductor
}

func newInk(strokes []segment, half float64, filled []ring) ink {
	var points []point
	for _, s := range strokes {
		points = append(points, s.a, s.b)
	}
	return ink{strokes: strokes, half: half, filled: filled, box: boxOf(points).grow(half)}
}

func solid(g ring) ink { return newInk(g.edges(), 0, []ring{g}) }

// hollow is the shape without its filled area: on that, text of the other colour may stand.
func (k ink) hollow() ink { k.filled = nil; return k }

func hollowed(shapes []ink) []ink {
	out := make([]ink, len(shapes))
	for i, k := range shapes {
		out[i] = k.hollow()
	}
	return out
}

// gap is the clear space between a convex outline (or a segment) and the ink;
// infinite when it is more than the limit.
func (k ink) gap(g ring, limit float64) float64 {
	box := boxOf(g)
	if box.apart(k.box, limit) {
		return math.Inf(1)
	}
	if k.filled != nil && inRings(g[0], k.filled) {
		return -k.half
	}
	least := math.Inf(1)
	for _, s := range k.strokes {
		if box.apart(s.box(), limit+k.half) {
			continue
		}
		if len(g) > 2 && inRings(s.a, []ring{g}) {
			return -k.half
		}
		for _, e := range g.edges() {
			least = min(least, e.toSegment(s))
		}
	}
	return least - k.half
}

func gapTo(g ring, shapes []ink, limit float64) float64 {
	least := math.Inf(1)
	for _, k := range shapes {
		least = min(least, k.gap(g, limit))
	}
	return least
}
