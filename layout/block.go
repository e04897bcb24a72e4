package layout

import (
	"slices"
	"sort"

	"strake/layout/geom"
)

// Phase 9, blocks.
// Needs: a sheet with everything else on it. Gives: each legend or table in a
// hole, the biggest first, as near to the lower right corner as there is room.

const (
	blockStep   = 100 // of the search for a hole
	blockMargin = 200 // between a block and what stands around it
)

// fillHoles places the blocks and tells whether all found room.
func fillHoles(g Graph, s *Sheet, f Field) bool {
	taken := append(standing(g, *s), f.Reserved...)
	order := make([]int, 0, len(g.Blocks))
	for i, b := range g.Blocks {
		if len(b.Sizes) > 0 {
			order = append(order, i)
		}
	}
	area := func(i int) int { return g.Blocks[i].Sizes[0].W * g.Blocks[i].Sizes[0].H }
	sort.SliceStable(order, func(i, j int) bool { return area(order[i]) > area(order[j]) })
	all := true
	for _, i := range order {
		found := false
		for k, z := range g.Blocks[i].Sizes {
			at, ok := hole(taken, f, z)
			if !ok {
				continue
			}
			s.Blocks = append(s.Blocks, PlacedBlock{Block: i, Size: k, At: at})
			taken = append(taken, geom.Rect{X0: at.X, Y0: at.Y, X1: at.X + z.W, Y1: at.Y + z.H})
			found = true
			break
		}
		all = all && found
	}
	sort.Slice(s.Blocks, func(i, j int) bool { return s.Blocks[i].Block < s.Blocks[j].Block })
	return all
}

// granted is how much the wished-for blocks would take that find holes together
// with all that must.
func granted(g Graph, s Sheet, f Field) int {
	must := g.Blocks
	for n := len(g.Wishes); n > 0; n-- {
		g.Blocks, s.Blocks = slices.Concat(must, g.Wishes[:n]), nil
		fillHoles(g, &s, f)
		stand, sum := 0, 0
		for _, p := range s.Blocks {
			if p.Block < len(must) {
				stand++
				continue
			}
			z := g.Blocks[p.Block].Sizes[p.Size]
			sum += z.W / 10 * z.H / 10
		}
		if stand == len(must) {
			return sum
		}
	}
	return 0
}

// hole finds free room for a size: against the right edge first, then the
// lower one, then anywhere; the lowest and farthest right of each.
func hole(taken []geom.Rect, f Field, z Size) (geom.Point, bool) {
	best, bestWorth, ok := geom.Point{}, 0, false
	var band []geom.Rect // what stands at this height
	for y := f.Height - z.H; y >= 0; {
		if most := 3*(f.Width-z.W)/2 + y + f.Width; ok && y+z.H < f.Height && bestWorth >= most {
			break // nor is farther up
		}
		band = band[:0]
		higher := -1 // where the first of it stands no longer
		for _, t := range taken {
			if t.Y0 < y+z.H+blockMargin && y-blockMargin < t.Y1 {
				band = append(band, t)
				higher = max(higher, t.Y0-blockMargin-z.H)
			}
		}
		for x := f.Width - z.W; x >= 0; {
			r := geom.Rect{X0: x, Y0: y, X1: x + z.W, Y1: y + z.H}
			block := meets(band, r.Grow(blockMargin))
			if block == nil {
				worth := 3*x/2 + y
				if x+z.W == f.Width {
					worth += f.Width
				}
				if y+z.H == f.Height {
					worth += f.Height
				}
				if !ok || worth > bestWorth {
					best, bestWorth, ok = geom.Point{X: x, Y: y}, worth, true
				}
				break // farther left is never better in this line
			}
			x = min(x-1, block.X0-blockMargin-z.W) // past what stands there
		}
		if higher < 0 {
			break
		}
		y = max(0, y-(y-higher+blockStep-1)/blockStep*blockStep) // there is no more room until then
	}
	return best, ok
}

func meets(taken []geom.Rect, r geom.Rect) *geom.Rect {
	for i := range taken {
		if taken[i].Meets(r) {
			return &taken[i]
		}
	}
	return nil
}
