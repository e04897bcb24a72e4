package size

import (
	"maps"
	"slices"

	"strake/lang/circuit"
	"strake/lang/quantity"
	"strake/lang/table"
)

// feeds finds for each cable what can feed it through each end with every
// switch closed, and what stands in the way.
func (s *sizer) feeds() {
	for i := range s.cables {
		c := s.cables[i].Of
		sides := s.net.Sides(c, circuit.View{})
		for k := range sides {
			s.cables[i].Feeds[k] = s.feed(c, k, sides[k])
			s.gives[i][k] = s.most(c, sides[k])
		}
	}
	s.protection()
}

// most is all that the sources of a side of a cable give together, in ampere,
// where each has a rating: a converter, a shore inlet, a generator. What comes
// through the relay of an inverter/charger, and what it makes itself, never
// come at once, nor what comes by two positions of a changeover: the largest counts.
func (s *sizer) most(c *circuit.Cable, side circuit.Side) quantity.Opt[quantity.Ampere] {
	t, ok := side.End.Terminal()
	if !ok || len(side.Supplies) == 0 {
		return quantity.Opt[quantity.Ampere]{}
	}
	total := quantity.Opt[quantity.Ampere]{Known: true}
	for _, m := range s.relays(side.Supplies) {
		for _, turn := range s.net.InTurn(m.view(without(c))) {
			sum := quantity.Ampere(0)
			for _, p := range s.net.Supplies(t, turn) {
				if m.passes[p.Item] && relayed(p) {
					continue
				}
				limit, ok := s.limit(p)
				total.Known = total.Known && ok && p.Item.Kind != "array"
				sum += limit
			}
			total.Value = max(total.Value, sum)
		}
	}
	return total
}

// relays is one way in which the inverter/chargers of a craft stand: each passes
// what comes in, or inverts.
type relays struct{ passes map[*circuit.Item]bool }

// mostRelays bounds the ways that are tried: 2 for each inverter/charger.
const mostRelays = 4

// relays lists the ways in which the inverter/chargers among supplies can stand.
// Without one there is a single way.
func (s *sizer) relays(supplies []circuit.Supply) []relays {
	list := []relays{{map[*circuit.Item]bool{}}}
	for n, p := range supplies {
		if !relayed(p) || n > 0 && slices.ContainsFunc(supplies[:n], func(o circuit.Supply) bool { return o.Item == p.Item && relayed(o) }) || len(list) >= 1<<mostRelays {
			continue
		}
		for _, m := range slices.Clone(list) {
			passing := relays{maps.Clone(m.passes)}
			m.passes[p.Item] = false
			passing.passes[p.Item] = true
			list = append(list, passing)
		}
	}
	return list
}

// relayed tells the AC output of an inverter/charger, which its relay bridges.
func relayed(p circuit.Supply) bool { return p.Item.Kind == "inverter-charger" && p.Port != "dc" }

// view is a view with the relays of those open that invert.
func (m relays) view(v circuit.View) circuit.View {
	if len(m.passes) == 0 {
		return v
	}
	var inverting []*circuit.Item
	for it, passes := range m.passes {
		if !passes {
			inverting = append(inverting, it)
		}
	}
	return v.Opening(inverting...)
}

func (s *sizer) feed(c *circuit.Cable, k int, side circuit.Side) Feed {
	f := Feed{Limited: len(side.Supplies) > 0}
	for _, p := range side.Supplies {
		f.Sources = append(f.Sources, p.Item)
		f.Limited = f.Limited && p.Limited
	}
	t, ok := side.End.Terminal()
	if !ok || len(side.Supplies) == 0 {
		return f
	}
	if limit := s.atOnce(t, without(c)); f.Limited && limit.Known {
		f.Limit = limit
	}
	behind := s.guards(t, without(c), false)
	f.Devices = behind.devices
	for _, b := range behind.bare {
		f.Bare = append(f.Bare, b.Item)
	}
	if len(f.Devices) > 0 {
		f.Device = f.Devices[0]
		f.Distance = behind.distance
	}
	ends := [2]circuit.End{c.From, c.To}
	if far, ok := ends[1-k].Terminal(); ok {
		ahead := s.guards(far, without(c), true)
		if len(ahead.bare) == 0 {
			f.Ahead = ahead.devices
		}
		own, known := longest(c)
		if known && ahead.distance.Known && len(f.Ahead) > 0 {
			f.Onward = quantity.Some(own + ahead.distance.Value)
		}
		if len(f.Bare) > 0 && known && behind.toBare.Known && ahead.distance.Known && len(f.Ahead) > 0 {
			f.Reach = quantity.Some(behind.toBare.Value + own + ahead.distance.Value)
		}
	}
	return f
}

// Reach is how far along a cable its device may stand from where it is fed, and
// what that holds for, in words.
func Reach(c *circuit.Cable) (most quantity.Metre, why string) {
	switch {
	case c.Domain != nil && c.Domain.AC:
		return table.ReachAC, "for AC"
	case c.Spec.Conduit:
		return table.ReachCovered, "for a run in conduit"
	}
	return table.ReachBare, "for a run that is not covered"
}

// near tells whether the devices ahead stand within the length that may stay
// without a device of its own.
func near(c *circuit.Cable, f *Feed) bool {
	most, _ := Reach(c)
	return f.Onward.Known && float64(f.Onward.Value) <= float64(most)+1e-9
}

// longest is a cable's one-way length at the longer of its two ways and the
// upper end of `about`.
func longest(c *circuit.Cable) (quantity.Metre, bool) {
	if c.Link { // to another place it has a length that is not written
		return 0, !c.SpansPlaces()
	}
	if c.Length.State == circuit.Unknown || !c.Length.Known() {
		return 0, false
	}
	l := c.Length.Most()
	if c.Return.Known() {
		l = max(l, c.Return.Most())
	}
	return l, true
}

// guard is what a walk from a terminal meets.
type guard struct {
	limits   []quantity.Opt[quantity.Ampere] // of each device: what all that lies behind it can give, where that limits itself
	devices  []*circuit.Item                 // protective devices, the nearest first
	distance quantity.Opt[quantity.Metre]    // longest way to one of them
	bare     []circuit.Supply                // upstream: sources met before any device; downstream: something that takes current
	toBare   quantity.Opt[quantity.Metre]    // longest way to one of these
}

// without is the circuit with every switch closed and one cable taken out.
func without(c *circuit.Cable) circuit.View {
	return circuit.View{Cut: map[*circuit.Cable]bool{c: true}}
}

// guards walks from a terminal against the current, or with it, up to the first
// protective device on each way.
func (s *sizer) guards(t circuit.Terminal, view circuit.View, down bool) guard {
	type place struct {
		at    circuit.Terminal
		far   quantity.Metre
		known bool
	}
	g := guard{distance: quantity.Some(quantity.Metre(0)), toBare: quantity.Some(quantity.Metre(0))}
	longer := func(o *quantity.Opt[quantity.Metre], p place) {
		o.Known = o.Known && p.known
		o.Value = max(o.Value, p.far)
	}
	var outside []circuit.Terminal // of each device: its side away from the start
	seen := map[circuit.Terminal]bool{t: true}
	for queue := []place{{t, 0, true}}; len(queue) > 0; queue = queue[1:] {
		p := queue[0]
		if down && takes(p.at) {
			g.bare = append(g.bare, circuit.Supply{Item: p.at.Item, Port: p.at.Port})
			longer(&g.toBare, p)
		}
		if supply, ok := s.supply(p.at); ok && !down {
			g.bare = append(g.bare, supply)
			if !supply.Limited {
				longer(&g.toBare, p)
			}
		}
		var steps []circuit.Step
		if down {
			steps = s.net.Downstream(p.at, view)
		} else {
			steps = s.net.Sources(p.at, view)
		}
		for _, st := range steps {
			if st.Through != nil && st.Through.Nature().Protects {
				if limit, there := s.beyond(st, view, down); there && !slices.Contains(g.devices, st.Through) {
					g.devices, g.limits = append(g.devices, st.Through), append(g.limits, limit)
					outside = append(outside, st.To)
					longer(&g.distance, p)
				}
				continue
			}
			if seen[st.To] {
				continue
			}
			seen[st.To] = true
			next := place{st.To, p.far, p.known}
			if st.Cable != nil {
				l, ok := longest(st.Cable)
				next.far, next.known = p.far+l, p.known && ok
			}
			queue = append(queue, next)
		}
	}
	if !down && len(g.devices) > 1 {
		s.dropRings(&g, outside, view)
	}
	return g
}

// dropRings takes out the devices behind which there is nothing but what comes
// through the others, and does not count that behind what remains: two ways from one
// bar to one coil give the bar nothing.
func (s *sizer) dropRings(g *guard, outside []circuit.Terminal, view circuit.View) {
	view = view.Opening(g.devices...)
	devices, limits := g.devices, g.limits
	g.devices, g.limits = nil, nil
	for k, it := range devices {
		if len(s.net.Supplies(outside[k], view)) > 0 {
			if !limits[k].Known {
				limits[k] = s.atOnce(outside[k], view) // what limits itself behind it, though a way round leads to more
			}
			g.devices, g.limits = append(g.devices, it), append(g.limits, limits[k])
		}
	}
}

// supply is the supply that stands at a terminal itself.
func (s *sizer) supply(t circuit.Terminal) (circuit.Supply, bool) {
	p, ok := s.supplies[t]
	return p, ok
}

// beyond tells whether anything lies beyond a device, and, upstream, what it can
// give when all of it limits itself.
func (s *sizer) beyond(st circuit.Step, view circuit.View, down bool) (limit quantity.Opt[quantity.Ampere], there bool) {
	it := st.Through
	if down {
		return limit, it.Way == nil || it.Way.Device != it || len(s.net.Cables(st.To)) > 0
	}
	view = view.Opening(it)
	return s.atOnce(st.To, view), s.net.Fed(st.To, view, nil)
}

// atOnce is what the sources of a terminal give at once, the changeovers before
// it in the position that gives most; known where each of them limits itself.
func (s *sizer) atOnce(t circuit.Terminal, view circuit.View) quantity.Opt[quantity.Ampere] {
	most := quantity.Opt[quantity.Ampere]{Known: true}
	for _, turn := range s.net.InTurn(view) {
		sum := quantity.Ampere(0)
		for _, p := range s.net.Supplies(t, turn) {
			i, ok := s.limit(p)
			most.Known = most.Known && ok && p.Limited
			sum += i
		}
		most.Value = max(most.Value, sum)
	}
	return most
}

// takes tells a terminal that takes current: a load, or the input of a converter.
func takes(t circuit.Terminal) bool {
	n := t.Item.Nature()
	switch {
	case n.Load:
		return true
	case t.Item.Kind == "inverter-charger":
		return t.Port == "dc" || circuit.IsInput(t.Port)
	case n.Converts:
		return t.Port == "in"
	case t.Item.Nature().Stores:
		return true // it takes charge
	}
	return false
}

// protection gathers the devices that guard each cable, and what they let through.
func (s *sizer) protection() {
	for i := range s.cables {
		c := &s.cables[i]
		c.Protection = nil
		if c.Of.Link {
			continue
		}
		worst, known, any := quantity.Ampere(0), true, false
		strong := slices.ContainsFunc(c.Feeds[:], func(f Feed) bool { return len(f.Sources) > 0 && !f.Limited })
		for k := range c.Feeds {
			f := &c.Feeds[k]
			if len(f.Sources) == 0 {
				continue
			}
			any = true
			f.Rating = s.letsInto(c.Of, k)
			if f.Limited && f.Limit.Known && (!f.Rating.Known || f.Limit.Value < f.Rating.Value) {
				f.Rating = f.Limit
			}
			guards, rating := f.Devices, f.Rating
			// What stands further on guards against overload where nothing stands
			// behind, or where it is one device in the same run: several of them leave
			// the cable to the one behind. A size that is still to be chosen takes it only
			// where it stands near enough to end a fault in the cable as well.
			if ahead := s.sum(f.Ahead); len(f.Ahead) > 0 && ahead.Known && (s.lies(f) || len(f.Ahead) == 1 && (!s.open(i) || near(c.Of, f))) && (!rating.Known || ahead.Value < rating.Value) {
				guards, rating = f.Ahead, ahead
			} else if s.lies(f) {
				guards = f.Ahead
			}
			for _, d := range guards {
				if f.Limited && strong {
					continue // it limits itself: what matters stands on the other side
				}
				if !slices.Contains(c.Protection, d) {
					c.Protection = append(c.Protection, d)
				}
			}
			known = known && rating.Known
			worst = max(worst, rating.Value)
		}
		slices.SortFunc(c.Protection, func(a, b *circuit.Item) int { return circuit.Compare(a.Ref, b.Ref) })
		c.ProtectionRating = quantity.Opt[quantity.Ampere]{Value: worst, Known: any && known && worst > 0}
		if !c.ProtectionRating.Known {
			c.ProtectionRating.Value = 0
		}
		c.ProtectionAsks = s.overload(c)
	}
}

// lies tells a side on which a source that does not limit itself stands before
// any device.
func (s *sizer) lies(f *Feed) bool {
	return slices.ContainsFunc(f.Bare, func(it *circuit.Item) bool { return !it.Nature().Limited && !it.Nature().Load })
}

// letsInto is what the devices on one side of a cable, and the bare sources that
// limit themselves, let into it at most, in ampere.
func (s *sizer) letsInto(c *circuit.Cable, k int) quantity.Opt[quantity.Ampere] {
	t, ok := [2]circuit.End{c.From, c.To}[k].Terminal()
	if !ok {
		return quantity.Opt[quantity.Ampere]{}
	}
	return s.letsAt(t, without(c))
}

// letsAt is the same at a terminal, in the way in which the changeovers and the
// relays of the inverter/chargers there let most through.
func (s *sizer) letsAt(t circuit.Terminal, view circuit.View) quantity.Opt[quantity.Ampere] {
	most := quantity.Opt[quantity.Ampere]{Known: true}
	all := s.guards(t, view, false)
	turns := s.net.InTurn(view)
	ways := s.relays(all.bare)
	if len(ways) == 1 && len(turns) == 1 {
		return s.lets(all)
	}
	for _, m := range ways {
		for _, turn := range turns {
			g := s.guards(t, m.view(turn), false)
			g.bare = slices.DeleteFunc(g.bare, func(p circuit.Supply) bool { return m.passes[p.Item] && relayed(p) })
			if len(g.devices) == 0 && len(g.bare) == 0 {
				continue // at this turn nothing comes
			}
			lets := s.lets(g)
			most.Known = most.Known && lets.Known
			most.Value = max(most.Value, lets.Value)
		}
	}
	most.Known = most.Known && most.Value > 0
	return most
}

// lets is what the devices of a walk let through together, and the bare sources
// that limit themselves give; not known with a bare source that does not.
func (s *sizer) lets(g guard) quantity.Opt[quantity.Ampere] {
	total := quantity.Some(quantity.Ampere(0))
	for i, d := range g.devices {
		r := s.rating(d)
		if l := g.limits[i]; l.Known && (!r.Known || l.Value < r.Value) {
			r = l
		}
		total.Known = total.Known && r.Known
		total.Value += r.Value
	}
	for _, b := range g.bare {
		limit, ok := s.limit(b)
		total.Known = total.Known && ok && b.Limited
		total.Value += limit
	}
	total.Known = total.Known && total.Value > 0
	return total
}

// sum is what devices let through together; not known when the rating of one is not.
func (s *sizer) sum(devices []*circuit.Item) quantity.Opt[quantity.Ampere] {
	total := quantity.Some(quantity.Ampere(0))
	for _, d := range devices {
		r := s.rating(d)
		total.Known = total.Known && r.Known
		total.Value += r.Value
	}
	return total
}

// rating is a device's rating, stated or chosen.
func (s *sizer) rating(it *circuit.Item) quantity.Opt[quantity.Ampere] {
	if i, ok := s.of[it]; ok {
		return s.devices[i].Rating
	}
	return it.Facts.Current.Opt()
}
