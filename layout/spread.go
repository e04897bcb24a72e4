package layout

import "slices"

// Phase 9a, spread.
// Needs: a settled trial and the field. Gives: axes that use the width: room
// that is left over goes between the columns, the columns of a bar stand in an
// even pitch, a single feed stands over the middle of what it feeds. Every
// distance that place kept is kept.

// distance is the least distance of two axes, the first being left.
type distance struct{ left, right, least int }

// spreading holds the distances between items in the sequence that was held.
type spreading struct {
	before      [][]distance // by item: with those to its left
	after       [][]distance
	low, high   []int // of each item alone
	left, right []int // how far each item reaches
}

// distances finds which items keep others away.
func (b *bench) distances() spreading {
	n := len(b.a.items)
	d := spreading{before: make([][]distance, n), after: make([][]distance, n),
		low: make([]int, n), high: make([]int, n), left: make([]int, n), right: make([]int, n)}
	all := make([][]cell, n)
	named := make([]bool, len(b.a.levels))
	for _, i := range b.p.held {
		for _, c := range b.cs.of[i] {
			all[i] = append(all[i], widen(c, b.keep))
		}
		for k, l := range b.a.touches[i] {
			if b.keep[l].name && !named[l] {
				named[l] = true
				all[i] = append(all[i], b.cs.names[i][k])
			}
		}
		for _, c := range all[i] {
			d.left[i], d.right[i] = max(d.left[i], -c.x0), max(d.right[i], c.x1)
		}
	}
	for q, j := range b.p.held {
		for _, i := range b.p.held[:q] {
			least, met := leastApart(all[i], all[j])
			for _, c := range b.a.items[j].cols { // right of every strip of a board
				for _, l := range []int{b.rowOf(c, true), b.rowOf(c, false)} {
					if l >= 0 && b.a.bodyItem[l] == i {
						least, met = max(least, b.a.bodyDX[l]+b.a.bodies[l].reach+2*halfWire-b.a.colDX[c]), true
					}
				}
			}
			if k, ok := b.pastEnds(i, j); ok {
				least, met = max(least, k), true
			}
			for _, left := range b.a.items[j].right {
				if left == i {
					least, met = max(least, overhang), true
				}
			}
			if met {
				p := distance{i, j, least}
				d.after[i] = append(d.after[i], p)
				d.before[j] = append(d.before[j], p)
			}
		}
	}
	return d
}

// leastApart is how far apart the axes of two items stand at least for the sake
// of their cells, the first item being left; false: these do not meet.
func leastApart(left, right []cell) (least int, met bool) {
	for _, c := range left {
		for _, e := range right {
			if c.s0 < e.s1 && e.s0 < c.s1 && (c.level < 0 || c.level != e.level) {
				if k := c.x1 - e.x0 + beside; !met || k > least {
					least, met = k, true
				}
			}
		}
	}
	return least, met
}

// pastEnds is what keeps the bars of two items, the first being left, apart
// from what passes them.
func (b *bench) pastEnds(i, j int) (least int, met bool) {
	keep := func(k int) {
		if k += int(b.p.ends); !met || k > least {
			least, met = k, true
		}
	}
	left, right := &b.cs.reach[i], &b.cs.reach[j]
	for _, c := range left.bars {
		c = widen(c, b.keep)
		for _, f := range right.passing {
			if int(f.level) == c.level {
				keep(c.x1 - int(f.x0))
			}
		}
		for _, e := range right.bars {
			if slices.Contains(b.cs.apart[c.level], int32(e.level)) {
				keep(c.x1 - widen(e, b.keep).x0)
			}
		}
	}
	for _, e := range right.bars {
		e = widen(e, b.keep)
		for _, f := range left.passing {
			if int(f.level) == e.level {
				keep(int(f.x0) - e.x0)
			}
		}
	}
	return least, met
}

// rowOf is the board on whose row a column begins or ends, -1: none.
func (b *bench) rowOf(c int, upper bool) int {
	switch {
	case upper && b.a.up[c] == onRow:
		return b.a.cols[c].upper
	case !upper && b.a.lo[c] == onRow:
		return b.a.cols[c].lower
	}
	return -1
}

// wish is where an axis would like to stand.
type wish struct {
	item, dx int   // an axis
	of       []ref // the axes whose middle it would like to stand in
}

// ref is an axis of an item.
type ref struct{ item, dx int }

// spread moves the axes of the last trial; share, in percent, is how much of
// the room left over is used.
func (b *bench) spread(x []int, share int) {
	d := b.distances()
	width := b.f.Width
	scale := 1 << 20
	for i := range x {
		if x[i] > 0 {
			scale = min(scale, 1000*(width-d.right[i])/x[i])
		}
	}
	if scale < 1000 { // too wide: nothing to give away
		width, scale = b.extent().X1, 1000
	}
	scale = 1000 + (scale-1000)*share/100
	for i := range x {
		x[i] = x[i] * scale / 1000
	}
	for _, j := range b.p.held { // what stands askew on its item's axis may have come too near
		for _, p := range d.before[j] {
			x[j] = max(x[j], x[p.left]+p.least)
		}
		width = max(width, x[j]+d.right[j])
	}
	for i := range x {
		d.low[i], d.high[i] = d.left[i], width-d.right[i]
	}
	wishes := b.wishes(x)
	for round := 0; round < 40; round++ {
		for k := range wishes {
			w := &wishes[k]
			if round%2 == 1 {
				w = &wishes[len(wishes)-1-k]
			}
			sum := 0
			for _, r := range w.of {
				sum += x[r.item] + r.dx
			}
			to := sum/len(w.of) - w.dx
			x[w.item] = d.clamp(x, w.item, (x[w.item]+to)/2)
		}
	}
}

// clamp keeps an axis clear of its neighbours.
func (d *spreading) clamp(x []int, i, to int) int {
	low, high := d.low[i], d.high[i]
	for _, p := range d.before[i] {
		low = max(low, x[p.left]+p.least)
	}
	for _, p := range d.after[i] {
		high = min(high, x[p.right]-p.least)
	}
	if low > high {
		return x[i]
	}
	return min(max(to, low), high)
}

// wishes lists where columns would like to stand.
func (b *bench) wishes(x []int) []wish {
	a := b.a
	at := func(c int) ref { return ref{a.itemOf[c], a.colDX[c]} }
	var out []wish
	for l := range a.levels {
		var sides [2][]int
		for _, c := range a.above[l] {
			if a.lo[c] == onBar && b.s.lo[c].straight(a.colX(x, c)) {
				sides[0] = append(sides[0], c)
			}
		}
		for _, c := range a.below[l] {
			if a.up[c] == onBar && b.s.up[c].straight(a.colX(x, c)) {
				sides[1] = append(sides[1], c)
			}
		}
		for s, cols := range sides {
			for i := 1; i < len(cols); i++ {
				for j := i; j > 0 && a.colX(x, cols[j]) < a.colX(x, cols[j-1]); j-- {
					cols[j], cols[j-1] = cols[j-1], cols[j]
				}
			}
			for i := 1; i+1 < len(cols); i++ {
				r := at(cols[i])
				out = append(out, wish{r.item, r.dx, []ref{at(cols[i-1]), at(cols[i+1])}})
			}
			if other := sides[1-s]; len(cols) == 1 && len(other) > 1 { // one feed of many
				r := at(cols[0])
				out = append(out, wish{r.item, r.dx, []ref{at(other[0]), at(other[len(other)-1])}})
			}
		}
	}
	return out
}
