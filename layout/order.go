package layout

// The author's order along bars: it is never changed by the search, and each
// move that would change it is put right.

// ordered finds the units of an author's sequences and notes which items stand
// right of which. A bar's column is meant by
// the first device on it or by what it leads to.
func (a *arrangement) ordered(g Graph) [][]int {
	var out [][]int
	for _, o := range g.Orders {
		var units []int
		seen := map[int]bool{}
		for _, n := range o.Nodes {
			for l, lv := range a.levels {
				if lv.node != o.Bar {
					continue
				}
				for _, c := range append(append([]int(nil), a.above[l]...), a.below[l]...) {
					if u := a.unitOf[a.itemOf[c]]; a.leads(c, l, n) && !seen[u] {
						seen[u] = true
						units = append(units, u)
					}
				}
				for k, t := range a.strips {
					if u := a.unitOf[a.stripItem[k]]; (t.from == l || t.to == l) && a.chains[t.chain].leads(a.levels, l, n) && !seen[u] {
						seen[u] = true
						units = append(units, u)
					}
				}
			}
		}
		for k := 1; k < len(units); k++ {
			for _, i := range a.units[units[k]] {
				a.items[i].right = append(a.items[i].right, a.units[units[k-1]]...)
			}
		}
		if len(units) > 1 {
			out = append(out, units)
		}
	}
	return out
}

// markSingle finds the columns that an author's sequence names.
func (a *arrangement) markSingle(g Graph) {
	a.single = make([]bool, len(a.cols))
	for _, o := range g.Orders {
		for c, col := range a.cols {
			for _, l := range []int{col.upper, col.lower} {
				for _, n := range o.Nodes {
					if l >= 0 && a.levels[l].node == o.Bar && a.leads(c, l, n) {
						a.single[c] = true
					}
				}
			}
		}
	}
}

// leads tells whether a column goes from a level to a node, or meets it first.
func (a *arrangement) leads(c, l, node int) bool {
	return a.chains[a.cols[c].chain].leads(a.levels, l, node)
}

func (c chain) leads(levels []level, l, node int) bool {
	for k, e := range c.ends {
		if e != l {
			continue
		}
		if other := c.ends[1-k]; other >= 0 && levels[other].node == node {
			return true
		}
		if n := len(c.devs); n > 0 {
			first, last := c.devs[0], c.devs[n-1]
			if k == 1 {
				first, last = last, first
			}
			return first == node || c.ends[1-k] < 0 && last == node
		}
	}
	return false
}

// endOf tells where an author's sequences want a chain at a bar: at its left
// end (-1), at its right one (1), anywhere (0) or between others (2).
func (r reduced) endOf(g Graph, c chain, l int) int {
	for _, o := range g.Orders {
		if o.Bar != r.levels[l].node {
			continue
		}
		for k, n := range o.Nodes {
			switch {
			case !c.leads(r.levels, l, n):
			case len(o.Nodes) == 1:
				return 0
			case k == 0:
				return -1
			case k == len(o.Nodes)-1:
				return 1
			default:
				return 2
			}
		}
	}
	return 0
}

// hold lets no unit stand left of one that an author wants left of it: those
// come just before it.
func (b *bench) hold(seq []int) {
	if len(b.orders) == 0 {
		return
	}
	clear(b.held)
	b.asked = append(b.asked[:0], seq...)
	at := 0
	var put func(u int)
	put = func(u int) {
		if b.held[u] {
			return
		}
		b.held[u] = true
		for _, v := range b.leftOf[u] {
			put(v)
		}
		seq[at] = u
		at++
	}
	for _, u := range b.asked {
		put(u)
	}
}
