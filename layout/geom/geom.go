// Package geom owns points and rectangles on a grid of hundredths of a
// millimetre: x to the right, y down. Integers only, so that a drawing is the
// same on every machine.
package geom

// MM is one millimetre.
const MM = 100

// Point is a place on the sheet.
type Point struct{ X, Y int }

// Add shifts a point.
func (p Point) Add(q Point) Point { return Point{p.X + q.X, p.Y + q.Y} }

// Rect is a rectangle from its upper left to its lower right corner.
type Rect struct{ X0, Y0, X1, Y1 int }

// Width of the rectangle.
func (r Rect) Width() int { return r.X1 - r.X0 }

// Height of the rectangle.
func (r Rect) Height() int { return r.Y1 - r.Y0 }

// Shift moves a rectangle.
func (r Rect) Shift(p Point) Rect { return Rect{r.X0 + p.X, r.Y0 + p.Y, r.X1 + p.X, r.Y1 + p.Y} }

// Grow widens a rectangle on all sides.
func (r Rect) Grow(d int) Rect { return Rect{r.X0 - d, r.Y0 - d, r.X1 + d, r.Y1 + d} }

// Meets tells whether the insides of two rectangles share a point.
func (r Rect) Meets(s Rect) bool {
	return r.X0 < s.X1 && s.X0 < r.X1 && r.Y0 < s.Y1 && s.Y0 < r.Y1
}

// Holds tells whether s lies within r.
func (r Rect) Holds(s Rect) bool {
	return r.X0 <= s.X0 && r.Y0 <= s.Y0 && s.X1 <= r.X1 && s.Y1 <= r.Y1
}

// Union is the smallest rectangle that holds both; an empty one counts nothing.
func (r Rect) Union(s Rect) Rect {
	switch {
	case r == Rect{}:
		return s
	case s == Rect{}:
		return r
	}
	return Rect{min(r.X0, s.X0), min(r.Y0, s.Y0), max(r.X1, s.X1), max(r.Y1, s.Y1)}
}
