package schematic

import (
	"cmp"
	"slices"
	"strings"

	"strake/lang/circuit"
	"strake/lang/diag"
	"strake/lang/size"
	"strake/layout"
)

// How often a drawing is drawn from its places until it stands where they say,
// and how near that must be.
const (
	mostReplays  = 4
	replayWithin = 3 // millimetres
)

// Settled is what of the drawing of a craft its text can hold: the sequence from
// left to right in which things hang along each of its bars, but for bars with
// fewer than two, and where everything stands. Places from which the craft is
// not drawn as they say are not given: they would hold nothing.
func Settled(sys *circuit.System, plan *size.Plan, findings []diag.Finding, summary diag.Summary, o Options) ([]circuit.Order, []circuit.Spot) {
	d := newDraught(sys, plan, findings, summary, o)
	d.draw()
	orders, spots := d.orders(), d.spots()
	for range mostReplays {
		again := *sys
		again.Orders, again.Spots = orders, spots
		d = newDraught(&again, plan, findings, summary, o)
		d.draw()
		if !d.asStood {
			return orders, nil
		}
		stands := d.spots()
		if circuit.SameSpots(spots, stands, replayWithin) {
			return orders, spots
		}
		spots = stands
	}
	return orders, nil
}

// orders are the sequences along the bars that were drawn.
func (d *draught) orders() []circuit.Order {
	var orders []circuit.Order
	for _, g := range d.bound {
		if g.survey == nil {
			orders = g.model.readOrders(g.laid, orders)
		}
	}
	orders = slices.DeleteFunc(orders, func(o circuit.Order) bool { return len(o.Items) < 2 })
	slices.SortFunc(orders, func(a, b circuit.Order) int { return circuit.Compare(a.Bar.Ref, b.Bar.Ref) })
	return orders
}

// spots are the places of all that was drawn.
func (d *draught) spots() []circuit.Spot {
	var spots []circuit.Spot
	for i, g := range d.bound {
		if g.survey == nil {
			spots = g.readSpots(spots, i+1)
		}
	}
	return spots
}

// readOrders adds the sequences along the bars of a drawn sheet to those of the
// sheets before it.
func (m *model) readOrders(s layout.Sheet, orders []circuit.Order) []circuit.Order {
	type hung struct {
		item *circuit.Item
		x, y int
	}
	along := map[int][]hung{}
	for _, w := range s.Wires {
		g := m.graph.Wires[w.Wire]
		note := func(bar, other layout.End, load bool) {
			if it := m.hangs(other, m.nodes[bar.Node].item); it != nil && bar.Row < 0 {
				at := 0
				if load {
					at = len(w.Points) - 1
				}
				along[bar.Node] = append(along[bar.Node], hung{it, w.Axis(load), w.Points[at].Y})
			}
		}
		note(g.From, g.To, false)
		note(g.To, g.From, true)
	}
	for n, f := range m.nodes {
		list := along[n]
		if f.item == nil || f.posts != nil || m.graph.Nodes[n].Form == layout.Symbol || len(list) == 0 {
			continue
		}
		slices.SortStableFunc(list, func(a, b hung) int { return cmp.Or(a.x-b.x, a.y-b.y) })
		k := slices.IndexFunc(orders, func(o circuit.Order) bool { return o.Bar == f.item })
		if k < 0 {
			k, orders = len(orders), append(orders, circuit.Order{Bar: f.item})
		}
		for _, h := range list {
			if !slices.Contains(orders[k].Items, h.item) {
				orders[k].Items = append(orders[k].Items, h.item)
			}
		}
	}
	return orders
}

// hangs is the item by which a text can call what a wire leads to from a bar, on
// another sheet where it ends on a flag; nil: it has no name there.
func (m *model) hangs(e layout.End, bar *circuit.Item) *circuit.Item {
	it := m.nodes[e.Node].item
	if f := m.nodes[e.Node].flag; f != nil {
		if it = f.cable.To.Item; it == bar {
			it = f.cable.From.Item
		}
	}
	if it == nil || strings.Contains(it.Ref, ".") {
		return nil
	}
	return it
}
