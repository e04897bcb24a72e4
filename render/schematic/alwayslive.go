package schematic

import (
	"slices"

	"strake/lang/circuit"
)

// findLive finds the bars and boards that stand ahead of every switch: they are
// marked, as the posts of batteries are, for no isolator makes them dead.
func (d *draught) findLive() {
	for _, it := range d.sys.Items {
		if !it.Nature().Stores || it.Status == circuit.Removed {
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
	}
}

// bolted passes current on whatever a person does short of taking a fuse out.
func bolted(it *circuit.Item) bool {
	n := it.Nature()
	return n.Stores || n.Conductive || it.Kind == "fuse" || n.Ends == circuit.TwoEnds && !n.Converts && !n.Opens
}

// livePosts tells a battery to be marked: all are live, and those that come
// together on a marked bar bear the mark there.
func (d *draught) livePosts(it *circuit.Item) bool {
	if it.Kind != "battery" || it.Status == circuit.Removed {
		return false
	}
	return !slices.ContainsFunc(d.neighbours(it), func(e circuit.End) bool {
		return e.Item.Kind == "bus" && d.gathers(e.Item) && d.alwaysLive[e.Item]
	})
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
