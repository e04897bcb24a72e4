package layout

// Phase 3b, align.
// Needs: the arrangement. Gives: what wires of a column are longer than they
// need be, so that equal devices of neighbouring columns stand level.

// alignReach is how far a device is moved for the sake of its neighbours.
const alignReach = 1300

// align gives wires of the columns of each bar, or of bars tied level, more
// length, so that the devices after or before them stand level.
func (a *arrangement) align() {
	h := newHeights(a)
	for first, members := range a.members {
		if len(members) == 0 || a.levels[first].kind == boxLevel || a.levels[first].kind == bendLevel {
			continue
		}
		var down, up []int
		for _, l := range members {
			for _, c := range a.below[l] {
				if a.up[c] == onBar && !a.cols[c].riser {
					down = append(down, c)
				}
			}
			for _, c := range a.above[l] {
				if a.cols[c].upper < 0 && a.lo[c] == onBar {
					up = append(up, c)
				}
			}
		}
		for k := 0; a.alignDown(down, k, h); k++ {
		}
		for k := 0; a.alignUp(up, k, h); k++ {
		}
	}
}

// alignWithin aligns unless that makes the drawing too high for a field.
func (a *arrangement) alignWithin(height int) {
	before := a.depth(estimate(a, nil))
	a.align()
	if after := a.depth(estimate(a, nil)); after > before && after > height {
		for c := range a.extra {
			clear(a.extra[c])
		}
	}
}

// devices lists the pieces of a column that are devices.
func (a *arrangement) devices(c int) []int {
	var out []int
	for i, p := range a.cols[c].pieces {
		if p.dev >= 0 {
			out = append(out, i)
		}
	}
	return out
}

// alike tells whether two pieces are devices of one size.
func (a *arrangement) alike(c, i, d, j int) bool {
	p, q := &a.measures[c][i], &a.measures[d][j]
	return p.height == q.height && p.box.Width() == q.box.Width()
}

// deeper is how much lower than a device one like it stands in another column;
// 0: it does not, or too much for the one to follow.
func (a *arrangement) deeper(c, i, d, j int, h heights) int {
	more := h.piece[d][j] - h.piece[c][i]
	if !a.alike(c, i, d, j) || more > alignReach {
		return 0
	}
	return max(0, more)
}

// alignDown sets the k-th devices of columns under a bar level, counted from it.
func (a *arrangement) alignDown(cols []int, k int, h heights) bool {
	for _, c := range cols {
		a.stack(c, 0, h)
	}
	any := false
	for _, c := range cols {
		devs := a.devices(c)
		if k >= len(devs) {
			continue
		}
		any = true
		i, by := devs[k], 0
		for _, d := range cols {
			if other := a.devices(d); k < len(other) {
				by = max(by, a.deeper(c, i, d, other[k], h))
			}
		}
		a.extra[c][i-1] += by
	}
	return any
}

// alignUp sets the k-th devices of supplies above a bar level, counted from it;
// only supplies with the same number of devices are held against each other.
func (a *arrangement) alignUp(cols []int, k int, h heights) bool {
	length := map[int]int{}
	for _, c := range cols {
		length[c] = a.stack(c, 0, h)
	}
	any := false
	for _, c := range cols {
		devs := a.devices(c)
		n := len(devs) - 1 - k
		if n < 0 {
			continue
		}
		any = true
		i, by := devs[n], 0
		for _, d := range cols {
			if other := a.devices(d); len(other) == len(devs) && a.alike(c, i, d, other[n]) {
				if more := length[d] - h.piece[d][other[n]] - length[c] + h.piece[c][i]; more <= alignReach {
					by = max(by, more)
				}
			}
		}
		a.extra[c][i+1] += by
	}
	return any
}
