package layout

import (
	"slices"

	"strake/layout/geom"
)

// Room is what a laid-out sheet leaves free of its field, for what a caller
// adds when all is settled: it moves nothing.
type Room struct {
	w, h  int    // in squares
	taken []bool // line after line
}

// roomStep is the side of a square.
const roomStep = 100

// Room finds what a sheet of a graph leaves free of a field.
func (f Field) Room(g Graph, s Sheet) *Room {
	r := &Room{w: f.Width / roomStep, h: f.Height / roomStep}
	r.taken = make([]bool, r.w*r.h)
	for _, t := range append(standing(g, s), f.Reserved...) {
		r.Take(t)
	}
	return r
}

// Clone is a room of its own that is as free.
func (r *Room) Clone() *Room {
	return &Room{r.w, r.h, slices.Clone(r.taken)}
}

// Free is how much is free.
func (r *Room) Free() int {
	n := 0
	for _, t := range r.taken {
		if !t {
			n++
		}
	}
	return n * roomStep * roomStep
}

// Take makes a rectangle, with the clear space about it, no longer free.
func (r *Room) Take(t geom.Rect) {
	t = t.Grow(blockMargin)
	x0, x1 := max(0, t.X0/roomStep), min(r.w, (t.X1+roomStep-1)/roomStep)
	y0, y1 := max(0, t.Y0/roomStep), min(r.h, (t.Y1+roomStep-1)/roomStep)
	for y := y0; y < y1; y++ {
		for x := x0; x < x1; x++ {
			r.taken[y*r.w+x] = true
		}
	}
}

// Holes are the free rectangles of at least a size that no larger free one holds.
func (r *Room) Holes(least Size) []geom.Rect {
	type bar struct{ x, height int }
	var out []geom.Rect
	high := make([]int, r.w+1) // free squares above the lower edge of a line
	var open []bar
	for y := 0; y < r.h; y++ {
		for x := 0; x < r.w; x++ {
			if high[x]++; r.taken[y*r.w+x] {
				high[x] = 0
			}
		}
		open = open[:0]
		for x := 0; x <= r.w; x++ {
			from := x
			for len(open) > 0 && open[len(open)-1].height >= high[x] {
				b := open[len(open)-1]
				open = open[:len(open)-1]
				if b.height > high[x] && !r.freeUnder(b.x, x, y) {
					if h := (geom.Rect{X0: b.x * roomStep, Y0: (y + 1 - b.height) * roomStep, X1: x * roomStep, Y1: (y + 1) * roomStep}); h.Width() >= least.W && h.Height() >= least.H {
						out = append(out, h)
					}
				}
				from = b.x
			}
			if high[x] > 0 {
				open = append(open, bar{from, high[x]})
			}
		}
	}
	return out
}

// freeUnder tells whether a rectangle could grow downward.
func (r *Room) freeUnder(x0, x1, y int) bool {
	if y+1 >= r.h {
		return false
	}
	for x := x0; x < x1; x++ {
		if r.taken[(y+1)*r.w+x] {
			return false
		}
	}
	return true
}
