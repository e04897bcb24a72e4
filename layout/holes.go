package layout

import (
	"sort"

	"strake/layout/geom"
)

// Whether the blocks of a graph would find holes in a trial: a coarse answer on
// a grid, never more hopeful than the exact one.

const holeGrid = 250

// holes is the grid of a field: what is taken, and its sums from the corner.
type holes struct {
	w, h   int
	taken  []bool
	sums   []int32
	blocks [][]Size // biggest first
}

func newHoles(g Graph, f Field) *holes {
	h := &holes{w: f.Width / holeGrid, h: f.Height / holeGrid}
	if len(g.Blocks) == 0 || h.w <= 0 || h.h <= 0 || h.w*h.h > 1<<20 {
		return nil
	}
	h.taken = make([]bool, h.w*h.h)
	h.sums = make([]int32, (h.w+1)*(h.h+1))
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

// take marks what a rectangle touches.
func (h *holes) take(r geom.Rect) {
	x0, x1 := max(0, r.X0/holeGrid), min(h.w-1, r.X1/holeGrid)
	for y := max(0, r.Y0/holeGrid); y <= r.Y1/holeGrid && y < h.h; y++ {
		for x := x0; x <= x1; x++ {
			h.taken[y*h.w+x] = true
		}
	}
}

func (h *holes) sum() {
	for y := 0; y < h.h; y++ {
		line := int32(0)
		for x := 0; x < h.w; x++ {
			if h.taken[y*h.w+x] {
				line++
			}
			h.sums[(y+1)*(h.w+1)+x+1] = h.sums[y*(h.w+1)+x+1] + line
		}
	}
}

// unplaced counts the blocks that find no hole in the last trial.
func (b *bench) unplaced() int {
	h := b.holes
	if h == nil {
		return 0
	}
	clear(h.taken)
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
		h.sum()
		found := false
		for _, z := range sizes {
			if x, y, ok := h.find((z.W+holeGrid-1)/holeGrid, (z.H+holeGrid-1)/holeGrid); ok {
				h.take(geom.Rect{X0: x * holeGrid, Y0: y * holeGrid, X1: x*holeGrid + z.W + blockMargin, Y1: y*holeGrid + z.H + blockMargin})
				found = true
				break
			}
		}
		if !found {
			left++
		}
	}
	return left
}

// find looks for free room, from the lower right.
func (h *holes) find(w, d int) (int, int, bool) {
	n := h.w + 1
	for x := h.w - w; x >= 0; x-- {
		for y := h.h - d; y >= 0; y-- {
			if h.sums[(y+d)*n+x+w]-h.sums[y*n+x+w]-h.sums[(y+d)*n+x]+h.sums[y*n+x] == 0 {
				return x, y, true
			}
		}
	}
	return 0, 0, false
}
