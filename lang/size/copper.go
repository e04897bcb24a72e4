package size

import (
	"cmp"
	"math"
	"slices"
)

// Least copper. Over a tree of cables at given currents each cable has a list
// of sizes, each with its drop and its copper; the drop from the root to the far
// end of each cable may not be above that cable's limit. From the leaves upward
// every cable gets the list of its best bargains: how much drop may already be
// there at its near end, against the copper of it and all behind it. Of two
// bargains the one that allows less for as much copper is struck out. The root
// then takes the cheapest that allows none, and the sizes are read back. As
// every bargain that could be part of the best is kept, the result is exact.

// limb is a cable of the tree.
type limb struct {
	parent int // index of the cable before it, -1 at the root
	limit  float64
	sizes  []choice
}

// choice is a size with its drop in volt and its copper in mm²·m.
type choice struct{ drop, copper float64 }

// bargain is a way to size a cable and all behind it.
type bargain struct {
	room   float64 // drop that may be there at its near end
	copper float64
	size   int
	behind *behind // of the cables behind it
}

// behind is the bargains of the cables behind one, the last of them first.
type behind struct {
	bargain
	before *behind
}

// leastCopper gives the size of each cable, by index of its choices. A limb whose
// limit no size keeps is sized without it: it cannot be cured by copper.
func leastCopper(tree []limb) []int {
	tree = slices.Clone(tree)
	relax(tree)
	children := make([][]int, len(tree))
	for i, l := range tree {
		if l.parent >= 0 {
			children[l.parent] = append(children[l.parent], i)
		}
	}
	var best func(i int) []bargain
	best = func(i int) []bargain {
		all := []bargain{{room: tree[i].limit}}
		for _, c := range children[i] {
			all = together(all, best(c))
		}
		list := make([]bargain, 0, len(tree[i].sizes)*len(all))
		for k, size := range tree[i].sizes {
			for _, b := range all {
				list = append(list, bargain{room: b.room - size.drop, copper: b.copper + size.copper, size: k, behind: b.behind})
			}
		}
		return prune(list)
	}
	sizes := make([]int, len(tree))
	var read func(i int, b bargain)
	read = func(i int, b bargain) {
		sizes[i] = b.size
		of := b.behind
		for _, c := range slices.Backward(children[i]) {
			read(c, of.bargain)
			of = of.before
		}
	}
	for i, l := range tree {
		if l.parent >= 0 {
			continue
		}
		for _, b := range best(i) { // by ascending copper
			if b.room >= -1e-12 {
				read(i, b)
				break
			}
		}
	}
	return sizes
}

// together joins what is behind a cable so far with one more: for each room that
// either has, the cheapest of both that allow as much. Both are pruned.
func together(a, b []bargain) []bargain {
	list := make([]bargain, 0, len(a)+len(b))
	for i, j := 0, 0; i < len(a) && j < len(b); {
		x, y := a[i], b[j]
		list = append(list, bargain{room: min(x.room, y.room), copper: x.copper + y.copper, behind: &behind{y, x.behind}})
		if x.room <= y.room {
			i++
		}
		if y.room <= x.room {
			j++
		}
	}
	return list
}

// prune orders bargains by copper and strikes out what allows no more than a
// cheaper one.
func prune(list []bargain) []bargain {
	slices.SortStableFunc(list, func(a, b bargain) int {
		return cmp.Or(cmp.Compare(a.copper, b.copper), cmp.Compare(b.room, a.room))
	})
	kept := list[:0]
	room := math.Inf(-1)
	for _, b := range list {
		if b.room > room {
			kept = append(kept, b)
			room = b.room
		}
	}
	return kept
}

// relax lifts the limits that even the largest sizes do not keep.
func relax(tree []limb) {
	at := make([]float64, len(tree))
	var least func(i int) float64
	least = func(i int) float64 {
		if at[i] == 0 {
			drop := math.Inf(1)
			for _, c := range tree[i].sizes {
				drop = min(drop, c.drop)
			}
			if p := tree[i].parent; p >= 0 {
				drop += least(p)
			}
			at[i] = drop
		}
		return at[i]
	}
	for i := range tree {
		if least(i) > tree[i].limit {
			tree[i].limit = math.Inf(1)
		}
	}
}
