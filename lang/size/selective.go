package size

import (
	"strake/lang/circuit"
	"strake/lang/quantity"
	"strake/lang/table"
)

// mostSeparations bounds how often ratings are moved apart: each device stands
// behind few others.
const mostSeparations = 6

// separate moves proposed ratings apart where a fault behind one device would take
// what must not go dark with it: the device before it is made larger, as far as the
// stated cables and switches allow, else the one behind smaller, as far as what it
// carries allows.
func (s *sizer) separate() {
	before := make([]*circuit.Item, len(s.devices)) // ratings do not change where a device stands
	for i := range s.devices {
		if up, ok := s.strongBefore(s.devices[i].Of); ok && s.devices[i].Rating.Known {
			before[i] = up
		}
	}
	for range mostSeparations {
		moved := false
		for i := range s.devices {
			d := &s.devices[i]
			up := before[i]
			if up == nil {
				continue
			}
			u := &s.devices[s.of[up]]
			ratio := quantity.Ampere(ratioOf(up, d.Of))
			if ratio == 0 || !u.Rating.Known || u.Rating.Value >= d.Rating.Value*ratio*(1-1e-9) || !s.darkens(up, d.Of) {
				continue
			}
			moved = u.Chosen && s.raise(u, d.Rating.Value*ratio) || d.Chosen && s.lower(d, u.Rating.Value/ratio) || moved
		}
		if !moved {
			return
		}
	}
}

// raise gives a device the rating that is wished for, or the largest below it that
// it may have; false if it has that already.
func (s *sizer) raise(d *Device, wish quantity.Ampere) bool {
	r, ok := table.RatingAtLeast(s.series(d.Of), wish)
	for _, bound := range []func(*circuit.Item) (quantity.Ampere, bool){s.allowed, s.ceiling} {
		if most, held := bound(d.Of); held && (!ok || r.Value > most) {
			r, ok = table.RatingAtMost(s.series(d.Of), most)
		}
	}
	if !ok || r.Value <= d.Rating.Value {
		return false
	}
	d.Rating.Value = r.Value
	return true
}

// lower gives a device the largest rating up to a wish, if it carries its current.
func (s *sizer) lower(d *Device, wish quantity.Ampere) bool {
	r, ok := table.RatingAtMost(s.series(d.Of), wish)
	if !ok || r.Value >= d.Rating.Value || !d.Current.Known || r.Value < max(d.Current.Value, s.started(d.Of)) {
		return false
	}
	d.Rating.Value = r.Value
	return true
}

// strongBefore is the one protective device next against the current from another, behind
// which a source stands that does not limit itself.
func (s *sizer) strongBefore(it *circuit.Item) (*circuit.Item, bool) {
	if !it.Nature().Protects {
		return nil, false
	}
	g := s.guards(circuit.Terminal{Item: it, Port: "in"}, circuit.View{Open: map[*circuit.Item]bool{it: true}}, false)
	var strong []*circuit.Item
	for k, o := range g.devices {
		if !g.limits[k].Known {
			strong = append(strong, o)
		}
	}
	for _, p := range g.bare {
		if !p.Limited {
			return nil, false
		}
	}
	if len(strong) != 1 {
		return nil, false
	}
	return strong[0], true
}

// darkens tells whether what must not go dark hangs on a device and not on the one
// behind it.
func (s *sizer) darkens(up, it *circuit.Item) bool {
	for _, t := range s.net.Reach([]circuit.Terminal{{Item: up, Port: "out"}}, circuit.View{Open: map[*circuit.Item]bool{it: true}}) {
		if t.Item.Nature().Load && !circuit.IsControl(t.Port) && t.Item.Facts.Essential() {
			return true
		}
	}
	return false
}

// ratioOf is the ratio of ratings from which two devices in line are selective; 0 of
// two breakers, which no rating makes so.
func ratioOf(up, it *circuit.Item) float64 {
	switch {
	case up.Kind != "fuse":
		return 0
	case it.Kind != "fuse":
		return table.BreakerRatio
	case up.Facts.Class == it.Facts.Class:
		return table.AlikeRatio
	}
	return table.UnlikeRatio
}
