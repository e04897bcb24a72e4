package layout

// Items and units: what the search moves as one. Columns and bodies on one axis
// are an item, twins are a unit.

// makeItems joins columns and bodies that share an axis.
func (a *arrangement) makeItems(g Graph) {
	a.itemOf = make([]int, len(a.cols))
	a.bodyItem = make([]int, len(a.levels))
	for i := range a.bodyItem {
		a.bodyItem[i] = -1
	}
	for i := range a.itemOf {
		a.itemOf[i] = -1
	}
	for c := range a.cols {
		if a.up[c] == spine {
			continue // some body above will take it
		}
		a.items = append(a.items, item{})
		a.descend(g, len(a.items)-1, c, 0)
	}
	for l := range a.levels {
		if a.hasBody[l] && a.bodyItem[l] < 0 {
			a.items = append(a.items, item{})
			a.takeBody(g, len(a.items)-1, l, 0)
		}
	}
	for range a.strips {
		a.stripItem = append(a.stripItem, len(a.items))
		a.items = append(a.items, item{})
	}
	a.makeUnits(g)
	a.touches = make([][]int, len(a.items))
	for c, col := range a.cols {
		if a.up[c] == onBar {
			a.touch(g, a.itemOf[c], col.upper)
		}
		if a.lo[c] == onBar {
			a.touch(g, a.itemOf[c], col.lower)
		}
		if a.up[c] == onRow {
			a.stand(a.itemOf[c], a.bodyItem[col.upper])
		}
		if a.lo[c] == onRow {
			a.stand(a.itemOf[c], a.bodyItem[col.lower])
		}
	}
}

func (a *arrangement) touch(g Graph, it, l int) {
	if a.levels[l].kind == barLevel && g.Nodes[a.levels[l].node].Note.Over.W > 0 {
		for _, t := range a.touches[it] {
			if t == l {
				return
			}
		}
		a.touches[it] = append(a.touches[it], l)
	}
}

func (a *arrangement) stand(it, after int) {
	a.items[it].after = append(a.items[it].after, after)
}

// descend takes a column into an item, and what stands under it on its axis.
func (a *arrangement) descend(g Graph, it, c, dx int) {
	a.itemOf[c], a.colDX[c] = it, dx
	a.items[it].cols = append(a.items[it].cols, c)
	if a.lo[c] == spine {
		l := a.cols[c].lower
		if p, ok := a.port(g, l, a.cols[c].loAt); ok && p.Fixed {
			dx -= p.At
		}
		a.takeBody(g, it, l, dx)
	}
}

func (a *arrangement) takeBody(g Graph, it, l, dx int) {
	a.bodyItem[l], a.bodyDX[l] = it, dx
	a.items[it].bodies = append(a.items[it].bodies, l)
	for _, c := range a.below[l] {
		if a.up[c] == spine {
			at := dx
			if p, ok := a.port(g, l, a.cols[c].upAt); ok && p.Fixed {
				at += p.At
			}
			a.descend(g, it, c, at)
		}
	}
}

// makeUnits joins twins: columns between the same ends with equal devices.
func (a *arrangement) makeUnits(g Graph) {
	a.unitOf = make([]int, len(a.items))
	for i := range a.items {
		found := -1
		for u, unit := range a.units {
			if a.twins(g, unit[0], i) {
				found = u
				break
			}
		}
		if found < 0 {
			found = len(a.units)
			a.units = append(a.units, nil)
		}
		a.units[found] = append(a.units[found], i)
		a.unitOf[i] = found
	}
}

// domain is the group of the nodes of an item, by the first that has one.
func (a *arrangement) domain(g Graph, i int) int {
	for _, c := range a.items[i].cols {
		for _, p := range a.cols[c].pieces {
			if p.dev >= 0 && g.Nodes[p.dev].Group > 0 {
				return g.Nodes[p.dev].Group
			}
		}
	}
	for _, l := range a.items[i].bodies {
		if g := g.Nodes[a.levels[l].node].Group; g > 0 {
			return g
		}
	}
	return 0
}

// twins tells whether two items are one column each and alike.
func (a *arrangement) twins(g Graph, i, j int) bool {
	p, q := a.items[i], a.items[j]
	if len(p.cols) != 1 || len(q.cols) != 1 || len(p.bodies)+len(q.bodies) > 0 {
		return false
	}
	c, d := p.cols[0], q.cols[0]
	x, y := a.cols[c], a.cols[d]
	if a.single[c] || a.single[d] {
		return false // each has its own place in an author's order
	}
	if x.upper != y.upper || x.lower != y.lower || x.upper < 0 && x.lower < 0 || x.riser || y.riser ||
		a.up[c] != a.up[d] || a.lo[c] != a.lo[d] || a.up[c] == side || a.lo[c] == side || a.up[c] == onRow || a.lo[c] == onRow {
		return false
	}
	return alikeChains(g, a.chains[x.chain], a.chains[y.chain])
}
