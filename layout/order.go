package layout

import "sort"

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
					if u := a.unitOf[a.itemOf[c]]; a.leads(g, c, l, n) && !seen[u] {
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
					if l >= 0 && a.levels[l].node == o.Bar && a.leads(g, c, l, n) {
						a.single[c] = true
					}
				}
			}
		}
	}
}

// leads tells whether a column goes from a level to a node, or meets it first.
func (a *arrangement) leads(g Graph, c, l, node int) bool {
	chain := a.chains[a.cols[c].chain]
	for k, e := range chain.ends {
		if e != l {
			continue
		}
		if other := chain.ends[1-k]; other >= 0 && a.levels[other].node == node {
			return true
		}
		if n := len(chain.devs); n > 0 {
			first, last := chain.devs[0], chain.devs[n-1]
			if k == 1 {
				first, last = last, first
			}
			return first == node || chain.ends[1-k] < 0 && last == node
		}
	}
	return false
}

// hold puts the ordered units of a sequence into the author's order, each on
// one of the places that they hold together.
func (b *bench) hold(seq []int) {
	for _, units := range b.orders {
		var places []int
		for p, u := range seq {
			for _, o := range units {
				if o == u {
					places = append(places, p)
				}
			}
		}
		sort.Ints(places)
		for k, p := range places {
			seq[p] = units[k]
		}
	}
}
