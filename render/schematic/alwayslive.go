package schematic

import (
	"slices"

	"strake/lang/circuit"
)

// findLive finds the bars and boards that stand ahead of every switch, and the
// batteries that feed what must stay live: both are marked, for no isolator
// makes them dead.
func (d *draught) findLive() {
	for _, it := range d.sys.Items {
		if !stores(it) || it.Status == circuit.Removed {
			continue
		}
		for _, at := range d.flood(it, bolted) {
			n := at.Nature()
			if n.Conductive {
				d.alwaysLive[at] = true
			}
			if n.Ends == circuit.OneEnd && !n.Source && !slices.Contains(d.unparted, at) {
				d.unparted = append(d.unparted, at)
			}
		}
		for _, at := range d.flood(it, unisolated) {
			if mustLive(at) {
				d.mustFeed[it] = true
			}
		}
	}
}

// bolted passes current on whatever a person does short of taking a fuse out.
func bolted(it *circuit.Item) bool {
	n := it.Nature()
	return stores(it) || n.Conductive || it.Kind == "fuse" || n.Ends == circuit.TwoEnds && !n.Converts && !n.Opens
}

// unisolated passes current on unless it is opened for what hangs on it alone.
func unisolated(it *circuit.Item) bool {
	switch it.Kind {
	case "breaker", "switch", "float-switch":
		return true
	}
	return bolted(it)
}

// mustLive tells a load that must stay live, or a board with one.
func mustLive(it *circuit.Item) bool {
	if it.Facts.MustBeLive {
		return true
	}
	if it.Board != nil {
		for _, w := range it.Board.Ways {
			if w.Load != nil && w.Load.Facts.MustBeLive || w.Cable != nil && w.Cable.To.Item != nil && w.Cable.To.Item.Facts.MustBeLive {
				return true
			}
		}
	}
	return false
}

// flood is what connected cables lead to from an item, through all that passes
// current on. What does not is reached and not gone through.
func (d *draught) flood(from *circuit.Item, passes func(*circuit.Item) bool) []*circuit.Item {
	reached := []*circuit.Item{from}
	for i := 0; i < len(reached); i++ {
		it := reached[i]
		if !passes(it) {
			continue
		}
		for _, c := range d.cables[it] {
			if c.Status != circuit.Fitted && c.Status != circuit.ThirdParty {
				continue
			}
			for _, e := range [...]circuit.End{c.From, c.To} {
				if e.Item != nil && !slices.Contains(reached, e.Item) {
					reached = append(reached, e.Item)
				}
			}
		}
	}
	return reached
}
