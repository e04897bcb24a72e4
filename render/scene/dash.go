package scene

import (
	"math"
	"slices"

	"strake/layout/geom"
)

// Dashes of a line are fitted to it, so that ink stands at both ends, at every
// corner and wherever another line meets it: a gap at any of these places
// reads as a cable that ends there. The pattern is stretched a little between
// them, and what is left over lengthens the dashes at the ends.

// How far a pattern is stretched, in thousandths: little enough that its dashes
// still name it.
const (
	leastStretch = 870
	mostStretch  = 1150
)

// leastEnd is the shortest dash at the end of a stretch, of patterns with long ones.
const leastEnd = 60

// Dashes is the pattern along the whole line as on, off, on …, beginning and
// ending with ink; nil: solid.
func (l Line) Dashes() []int {
	if len(l.Pen.Dash) == 0 || len(l.Points) < 2 {
		return nil
	}
	points := l.Points
	if l.Closed {
		points = append(slices.Clone(points), points[0])
	}
	out := []int{0}
	for i := 1; i < len(points); i++ {
		before := 0
		for _, at := range append(l.metOn(points[i-1], points[i]), distance(points[i-1], points[i])) {
			if at <= before {
				continue
			}
			piece := l.Pen.fitted(at - before)
			out[len(out)-1] += piece[0]
			out = append(out, piece[1:]...)
			before = at
		}
	}
	if len(out) == 1 {
		return nil
	}
	return out
}

// metOn are the places between two corners where something meets the line, as
// distances from the first, in their order.
func (l Line) metOn(from, to geom.Point) []int {
	var out []int
	whole := distance(from, to)
	for _, p := range l.Met {
		if a, b := distance(from, p), distance(p, to); a > 0 && b > 0 && a+b == whole {
			out = append(out, a)
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

func distance(a, b geom.Point) int {
	return int(math.Round(math.Hypot(float64(b.X-a.X), float64(b.Y-a.Y))))
}

// fitted is the pattern over a length, with ink at both ends.
func (p Pen) fitted(length int) []int {
	period := 0
	for _, d := range p.Dash {
		period += d
	}
	gaps := p.Dash[1:] // from the end of one long dash to the next
	end := min(leastEnd, p.Dash[0]/2)
	n := max(1, (length+period/2)/period)
	stretch := stretched(length, n, period)
	ends := func() int { return (length - (n*period-p.Dash[0])*stretch/1000) / 2 }
	if n > 1 && ends() < end {
		n--
		stretch = stretched(length, n, period)
	}
	if ends() < end {
		if gaps = p.Dash[1:2]; length < gaps[0]+2*end {
			return []int{length} // too short for any gap
		}
		n, stretch = 1, 1000
	}
	inner := (n - 1) * p.Dash[0]
	for _, d := range gaps {
		inner += n * d
	}
	first := (length - inner*stretch/1000) / 2
	out := []int{first}
	sum, at := 0, first
	put := func(d int) {
		sum += d
		next := first + sum*stretch/1000
		out = append(out, next-at)
		at = next
	}
	for i := range n {
		if i > 0 {
			put(p.Dash[0])
		}
		for _, d := range gaps {
			put(d)
		}
	}
	return append(out, length-at)
}

// stretched is how much n periods are stretched to fill a length.
func stretched(length, n, period int) int {
	return min(max(length*1000/(n*period), leastStretch), mostStretch)
}
