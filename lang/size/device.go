package size

import (
	"fmt"
	"slices"
	"strings"

	"strake/lang/circuit"
	"strake/lang/quantity"
	"strake/lang/table"
)

// beginDevice is a device's row with what the text and its class say.
func (s *sizer) beginDevice(it *circuit.Item) Device {
	f := it.Facts
	d := Device{Of: it, Voltage: f.Voltage.Opt(), Breaks: f.Breaks.Opt()}
	if f.Current.Known() {
		d.Rating = quantity.Some(f.Current.Least())
	}
	if it.Kind == "fuse" && f.Class != "" {
		if c, ok := table.Class(f.Class); ok {
			if f.Voltage.State == circuit.Unstated && c.Value.Voltage.Known {
				d.Voltage = c.Value.Voltage
				s.notes.assume(it.Ref, fmt.Sprintf("rated voltage of class %s taken as %g V", f.Class, float64(d.Voltage.Value)), c.Source)
			}
			if f.Breaks.State == circuit.Unstated && c.Value.Breaks.Known {
				d.Breaks = c.Value.Breaks
				s.notes.assume(it.Ref, fmt.Sprintf("breaking capacity of class %s taken as %g A", f.Class, float64(d.Breaks.Value)), c.Source)
			}
		}
	}
	if f.Holder.Known() && (!d.Voltage.Known || f.Holder.Value < d.Voltage.Value) {
		d.Voltage = f.Holder.Opt()
	}
	return d
}

// choosable tells a device whose rating is the compiler's to choose.
func choosable(it *circuit.Item) bool {
	if it.Facts.Current.State != circuit.Unstated {
		return false
	}
	n := it.Nature()
	return n.Protects || it.Kind == "isolator" || n.Conductive && it.Kind != "stud"
}

// chooseRatings gives the devices their currents, and a rating to those that
// state none: protection first, then what stands behind protection.
func (s *sizer) chooseRatings() {
	for pass := range 2 {
		for i := range s.devices {
			d := &s.devices[i]
			it := d.Of
			d.Current = s.deviceCurrent(it)
			if it.Nature().Conductive {
				d.Current = s.barCurrent(it)
			}
			if !choosable(it) || it.Nature().Protects != (pass == 0) {
				continue
			}
			d.Rating, d.Chosen = s.choose(it, d.Current), false
			d.Chosen = d.Rating.Known
		}
		if pass == 0 {
			s.separate()
		}
	}
	s.protection()
}

// deviceCurrent is the largest current through a device: that of the cable on it,
// or what the network gives where it stands between bars.
func (s *sizer) deviceCurrent(it *circuit.Item) quantity.Opt[quantity.Ampere] {
	amps, known := s.through[it]
	for _, port := range []string{"in", "out"} {
		on := s.net.Cables(circuit.Terminal{Item: it, Port: port})
		if len(on) == 1 && !on[0].Link {
			f := s.flow[s.at[on[0]]]
			if len(s.vague[s.at[on[0]]]) > 0 {
				return quantity.Opt[quantity.Ampere]{}
			}
			if f.known() {
				amps = min(amps, f.most())
			}
		}
	}
	if on := s.net.Cables(circuit.Terminal{Item: it, Port: "out"}); it.Kind == "changeover" && len(on) == 1 && !on[0].Link {
		f := s.flow[s.at[on[0]]]
		amps, known = f.most(), f.known()
	}
	return quantity.Opt[quantity.Ampere]{Value: quantity.Ampere(amps), Known: known}
}

// barCurrent is the largest current that comes into a bar, or leaves it, at once.
func (s *sizer) barCurrent(it *circuit.Item) quantity.Opt[quantity.Ampere] {
	in, out, known := map[bool]float64{}, map[bool]float64{}, false // by pushed
	for _, c := range s.net.Cables(circuit.Terminal{Item: it}) {
		if c.Link {
			for _, e := range [...]circuit.End{c.From, c.To} {
				if amps, ok := s.through[e.Item]; ok && e.Item != it {
					known = true
					if e.Port == "out" {
						in[false] += amps
					} else {
						out[false] += amps
					}
				}
			}
			continue
		}
		f := s.flow[s.at[c]]
		for _, pushed := range []bool{false, true} {
			i := f.draw
			if pushed {
				i = f.push
			}
			known = known || i.amps > 0
			if (c.To.Item == it) == i.forward {
				in[pushed] += i.amps
			} else {
				out[pushed] += i.amps
			}
		}
	}
	if it.Board != nil {
		for _, w := range it.Board.Ways {
			if amps, ok := s.through[w.Device]; ok {
				out[false] += amps
				known = true
			}
		}
	}
	most := max(in[false], out[false], in[true], out[true])
	return quantity.Opt[quantity.Ampere]{Value: quantity.Ampere(most), Known: known && most > 0}
}

// choose is a rating for a device. A protective device takes the next standard
// one above 1.25 times its current (common practice), if that still protects the
// stated cables, else one that does; an isolator what protects it or all that it feeds,
// whichever is less; a bar all that can come into it.
func (s *sizer) choose(it *circuit.Item, current quantity.Opt[quantity.Ampere]) quantity.Opt[quantity.Ampere] {
	none := quantity.Opt[quantity.Ampere]{}
	series := s.series(it)
	if it.Nature().Protects {
		if (!current.Known || current.Value <= 0) && s.onlyShows(it) {
			r, ok := table.RatingAtLeast(series, leastFuse)
			return quantity.Opt[quantity.Ampere]{Value: r.Value, Known: ok}
		}
		if !current.Known || current.Value <= 0 {
			return none
		}
		wish, ok := table.RatingAtLeast(series, max(current.Value*1.25, s.started(it)))
		most, held := s.allowed(it)
		if !ok || held && wish.Value > most {
			if r, fits := table.RatingAtMost(series, most); held && fits && r.Value >= current.Value {
				return quantity.Some(r.Value)
			}
			wish, ok = table.RatingAtLeast(series, current.Value)
		}
		if hard, there := s.ceiling(it); there && (!ok || wish.Value > hard) {
			wish, ok = table.RatingAtMost(series, hard)
		}
		return quantity.Opt[quantity.Ampere]{Value: wish.Value, Known: ok}
	}
	want := current
	if upstream := s.upstream(it); upstream.Known && (!want.Known || it.Nature().Conductive || upstream.Value > want.Value) {
		want = upstream
	}
	if !want.Known || want.Value <= 0 {
		return none
	}
	r, ok := table.RatingAtLeast(series, want.Value)
	return quantity.Opt[quantity.Ampere]{Value: r.Value, Known: ok}
}

// upstream is what the devices that feed an item let through together; of a
// switch from its stronger side.
func (s *sizer) upstream(it *circuit.Item) quantity.Opt[quantity.Ampere] {
	if !it.HasPort("in") {
		return s.letsAt(circuit.Terminal{Item: it}, circuit.View{})
	}
	most := quantity.Opt[quantity.Ampere]{Known: true}
	for _, port := range []string{"in", "out"} {
		t := circuit.Terminal{Item: it, Port: port}
		open := circuit.View{Open: map[*circuit.Item]bool{it: true}}
		if len(s.net.Supplies(t, open)) == 0 {
			continue
		}
		lets := s.letsAt(t, open)
		most.Known = most.Known && lets.Known
		most.Value = max(most.Value, lets.Value)
	}
	most.Known = most.Known && most.Value > 0
	return most
}

// leastFuse is the rating in ampere that is proposed before meters and monitors of
// which no power is written (common practice).
const leastFuse = 1

// onlyShows tells a device that nothing hangs on but what shows or watches.
func (s *sizer) onlyShows(it *circuit.Item) bool {
	shows := false
	for _, t := range s.net.Reach([]circuit.Terminal{{Item: it, Port: "out"}}, circuit.View{Open: map[*circuit.Item]bool{it: true}}) {
		n := t.Item.Nature()
		switch {
		case isShow(t.Item.Kind):
			shows = true
		case t.Item != it && (n.Load || n.Converts || n.Source || n.Conductive || n.Protects):
			return false
		}
	}
	return shows
}

// started is the rating in ampere below which a device may open when the one
// motor behind it starts: of a breaker by its curve, of blade and strip fuses
// where they would open within 0.5 s and a second: just short of 3.5 and 5 times
// their rating, by the table of opening times.
func (s *sizer) started(it *circuit.Item) quantity.Ampere {
	var start quantity.Ampere
	for _, c := range s.net.Cables(circuit.Terminal{Item: it, Port: "out"}) {
		behind := s.behind[s.at[c]]
		if len(behind) == 1 && behind[0].Item.Kind != "starter" && behind[0].Item.Facts.Start.Known() {
			start = behind[0].Item.Facts.Start.Most()
		}
	}
	curve := it.Facts.Curve
	if curve == "" {
		curve = "b"
	}
	least, _, _ := table.Instant(curve)
	switch {
	case start == 0:
		return 0
	case it.Kind != "fuse":
		return start / quantity.Ampere(least)
	case it.Facts.Class == "blade":
		return start / 3.4
	case it.Facts.Class == "strip":
		return start / 4.9
	}
	return 0
}

// source is what the inlets and generators that alone feed a device give together,
// in ampere: a device behind a plug of 16 A is no larger than that.
func (s *sizer) source(it *circuit.Item) (quantity.Ampere, bool) {
	d, sum := it.Domain, quantity.Ampere(0)
	if d == nil || !d.AC {
		return 0, false
	}
	supplies := s.net.Supplies(circuit.Terminal{Item: it, Port: "in"}, circuit.View{Open: map[*circuit.Item]bool{it: true}})
	for _, p := range supplies {
		limit, ok := s.limit(p)
		if p.Item.Kind != "inlet" && p.Item.Kind != "generator" || !ok {
			return 0, false
		}
		sum = max(sum, limit)
	}
	return sum, len(supplies) > 0
}

// relay is the least rating of the transfer relays that current from a device
// comes to with no other device between.
func (s *sizer) relay(it *circuit.Item) (quantity.Ampere, bool) {
	least, found := quantity.Ampere(0), false
	for _, o := range s.sys.Items {
		if o.Kind != "inverter-charger" || !o.Facts.Transfer.Known() {
			continue
		}
		for _, port := range o.Ports {
			t := circuit.Terminal{Item: o, Port: port.Name}
			if strings.HasPrefix(port.Name, "in") && slices.Contains(s.guards(t, circuit.View{}, false).devices, it) && (!found || o.Facts.Transfer.Least() < least) {
				least, found = o.Facts.Transfer.Least(), true
			}
		}
	}
	return least, found
}

// ceiling is what a device may never be above, whatever is asked through it: what
// its source gives, and what a relay behind it holds.
func (s *sizer) ceiling(it *circuit.Item) (quantity.Ampere, bool) {
	least, found := s.source(it)
	if r, ok := s.relay(it); ok && (!found || r < least) {
		least, found = r, true
	}
	return least, found
}

// allowed is the least capacity of the stated cables that land on a device, and
// the least stated rating of the switches that it alone guards from one side.
func (s *sizer) allowed(it *circuit.Item) (quantity.Ampere, bool) {
	least, found := quantity.Ampere(0), false
	for _, o := range s.sys.Items {
		n := o.Nature()
		if !n.Opens || n.Protects || n.Ends != circuit.TwoEnds || !o.Facts.Current.Known() || found && o.Facts.Current.Least() >= least {
			continue
		}
		for _, port := range [...]string{"in", "out"} {
			open := circuit.View{Open: map[*circuit.Item]bool{o: true}}
			if g := s.guards(circuit.Terminal{Item: o, Port: port}, open, false); len(g.devices) == 1 && g.devices[0] == it && len(g.bare) == 0 {
				least, found = o.Facts.Current.Least(), true
			}
		}
	}
	for _, port := range []string{"in", "out"} {
		for _, c := range s.net.Cables(circuit.Terminal{Item: it, Port: port}) {
			i := s.at[c]
			if c.Link || !s.cables[i].Area.Known || !s.cables[i].Stated {
				continue
			}
			k := s.carry(c, s.surround(i), s.cables[i].Area.Value, s.cables[i].Parallel)
			if k.missing == "" && (!found || k.capacity < least) {
				least, found = k.capacity, true
			}
		}
	}
	return least, found
}

// series is the standard ratings of a device's construction.
func (s *sizer) series(it *circuit.Item) string {
	switch {
	case it.Kind == "fuse":
		if c, ok := table.Class(it.Facts.Class); ok {
			return c.Value.Series
		}
		return "iec-60269"
	case it.Nature().Protects && s.set == table.ABYC && it.Domain != nil && !it.Domain.AC:
		return "marine-breaker"
	case it.Nature().Protects:
		return "mcb"
	case it.Nature().Conductive:
		return "bar"
	}
	return "switch"
}
