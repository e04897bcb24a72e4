package layout

import (
	"math/bits"
	"slices"
	"sort"

	"strake/layout/geom"
)

// Whether the blocks of a graph would find holes in a trial: a coarse answer on
// a grid, never more hopeful than the exact one.

const holeGrid = 250

// holes is the grid of a field, one bit a square, and the blocks that look for
// room in it.
type holes struct {
	w, h, words int
	taken       []uint64 // line after line
	room        []uint64 // scratch: upper left corners at which a size is free
	blocks      [][]Size // biggest first
}

func newHoles(g Graph, f Field) *holes {
	h := &holes{w: f.Width / holeGrid, h: f.Height / holeGrid}
	if len(g.Blocks) == 0 || h.w <= 0 || h.h <= 0 || h.w*h.h > 1<<20 {
		return nil
	}
	h.words = (h.w + 63) / 64
	h.taken, h.room = make([]uint64, h.words*h.h), make([]uint64, h.words*h.h)
	for _, b := range g.Blocks {
		if len(b.Sizes) > 0 {
			h.blocks = append(h.blocks, b.Sizes)
		}
	}
	sort.SliceStable(h.blocks, func(i, j int) bool {
		return h.blocks[i][0].W*h.blocks[i][0].H > h.blocks[j][0].W*h.blocks[j][0].H
	})
	return h
}

// clear takes nothing but what lies beyond the right edge.
func (h *holes) clear() {
	clear(h.taken)
	if over := h.w % 64; over > 0 {
		for y := 1; y <= h.h; y++ {
			h.taken[y*h.words-1] = ^uint64(0) << over
		}
	}
}

// take marks what a rectangle touches.
func (h *holes) take(r geom.Rect) {
	x0, x1 := max(0, r.X0/holeGrid), min(h.w-1, r.X1/holeGrid)
	y0, y1 := max(0, r.Y0/holeGrid), min(h.h-1, r.Y1/holeGrid)
	if x0 > x1 {
		return
	}
	for k := x0 / 64; k <= x1/64; k++ {
		mask := ^uint64(0)
		if k == x0/64 {
			mask <<= x0 % 64
		}
		if k == x1/64 {
			mask &= ^uint64(0) >> (63 - x1%64)
		}
		for i := y0*h.words + k; i <= y1*h.words+k; i += h.words {
			h.taken[i] |= mask
		}
	}
}

// unplaced counts the blocks that find no hole in the last trial.
func (b *bench) unplaced() int {
	h := b.holes
	if h == nil {
		return 0
	}
	h.clear()
	for i := range b.t.done {
		h.take(b.t.done[i].Grow(blockMargin))
	}
	for _, r := range b.f.Reserved {
		h.take(r.Grow(blockMargin))
	}
	for c, col := range b.a.cols {
		x := b.a.colX(b.p.x, c)
		top, bottom := b.t.h.piece[c][0], b.t.end[c]
		if col.upper >= 0 {
			top = b.t.h.level[col.upper]
		}
		if col.lower >= 0 {
			bottom = b.t.h.level[col.lower]
		}
		h.take(geom.Rect{X0: x - halfWire - blockMargin, Y0: top, X1: x + halfWire + blockMargin, Y1: bottom})
	}
	left := 0
	for _, sizes := range h.blocks {
		found := slices.ContainsFunc(sizes, func(z Size) bool {
			x, y, ok := h.find((z.W+holeGrid-1)/holeGrid, (z.H+holeGrid-1)/holeGrid)
			if ok {
				h.take(geom.Rect{X0: x * holeGrid, Y0: y * holeGrid, X1: x*holeGrid + z.W + blockMargin, Y1: y*holeGrid + z.H + blockMargin})
			}
			return ok
		})
		if !found {
			left++
		}
	}
	return left
}

// find looks for free room, as far to the right as there is any, the lowest
// there. A square stays free when those right of it and below it are, by steps
// that double.
func (h *holes) find(w, d int) (x, y int, ok bool) {
	if w > h.w || d > h.h {
		return 0, 0, false
	}
	for i, t := range h.taken {
		h.room[i] = ^t
	}
	for done := 1; done < w; {
		by := min(done, w-done)
		for line := 0; line < len(h.room); line += h.words {
			h.andRight(h.room[line:line+h.words], by)
		}
		done += by
	}
	last := h.h
	for done := 1; done < d; {
		by := min(done, d-done)
		last -= by
		for i, below := range h.room[by*h.words : (last+by)*h.words] {
			h.room[i] &= below
		}
		done += by
	}
	for k := h.words - 1; k >= 0; k-- {
		all := uint64(0)
		for y := 0; y < last; y++ {
			all |= h.room[y*h.words+k]
		}
		if all == 0 {
			continue
		}
		bit := 63 - bits.LeadingZeros64(all)
		for y := last - 1; y >= 0; y-- {
			if h.room[y*h.words+k]>>bit&1 != 0 {
				return k*64 + bit, y, true
			}
		}
	}
	return 0, 0, false
}

// andRight keeps of a line what is free some squares further right too.
func (h *holes) andRight(line []uint64, by int) {
	skip, shift := by/64, by%64
	for k := range line {
		right := uint64(0)
		if k+skip < len(line) {
			right = line[k+skip] >> shift
		}
		if shift > 0 && k+skip+1 < len(line) {
			right |= line[k+skip+1] << (64 - shift)
		}
		line[k] &= right
	}
}
