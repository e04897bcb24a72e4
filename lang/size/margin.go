package size

import (
	"strake/lang/circuit"
	"strake/lang/quantity"
	"strake/lang/table"
)

// margin says how much a cable has in hand, or what would cure it.
func (s *sizer) margin(i int) {
	c := &s.cables[i]
	if room, ok := s.room(i); ok && c.Drop.Value > 0 && c.Of.Length.Known() {
		c.HoldsTo = quantity.Some(c.Of.Length.Value * quantity.Metre(max(0, room)/float64(c.Drop.Value)))
	}
	if least, ok := s.leastGuarded(c); ok {
		r, ok := table.RatingAtMost(s.series(c.Protection[0]), least)
		for ok && !s.stillOpens(c, r.Value) {
			r, ok = table.RatingAtMost(s.series(c.Protection[0]), r.Value*(1-1e-6))
		}
		if ok && (!c.DropCurrent.Known || r.Value >= c.DropCurrent.Value) {
			c.MostProtection = quantity.Some(r.Value)
		}
	}
	if c.Result == "fails" && c.Stated {
		s.cure(i)
	}
}

// stillOpens tells whether a cable's device, were it of a larger rating that still
// guards its cables against overload, would open for the smallest faults that it is
// there for; what a source limits opens none of any rating.
func (s *sizer) stillOpens(c *Cable, rating quantity.Ampere) bool {
	it := c.Protection[0]
	device, known := s.tabled(it)
	if !known {
		return true
	}
	device.Rating = rating
	cables := []*circuit.Cable{c.Of}
	if d, ok := s.of[it]; ok {
		cables = s.devices[d].Protects
	}
	for _, of := range cables {
		o := &s.cables[s.at[of]]
		if o.OpensAt.Known && o.OpenedBy == it && len(o.Limits) == 0 && !table.Opening(device, o.OpensAt.Value).Opens {
			return false
		}
	}
	return true
}

// leastGuarded is the least capacity in ampere of the cables that a cable's first
// device protects: a device answers for all of them.
func (s *sizer) leastGuarded(c *Cable) (quantity.Ampere, bool) {
	if len(c.Protection) != 1 || !c.Ampacity.Known {
		return 0, false
	}
	least := c.Ampacity.Value
	d, ok := s.of[c.Protection[0]]
	if !ok {
		return least, true
	}
	for _, other := range s.devices[d].Protects {
		o := &s.cables[s.at[other]]
		if !o.Ampacity.Known {
			return 0, false
		}
		least = min(least, o.Ampacity.Value)
	}
	return least, true
}

// room is the drop in volt that a cable may have of its own: what is left to its
// own limit, and to that of every cable behind it.
func (s *sizer) room(i int) (float64, bool) {
	c := &s.cables[i]
	if !c.Drop.Known {
		return 0, false
	}
	left, ok := s.left(i)
	if !ok {
		return 0, false
	}
	f, pushed := s.flow[i].main()
	g := s.graph(pushed)
	seen := make([]bool, g.w.nodes)
	for queue := []int{g.end(i, f)}; len(queue) > 0; queue = queue[1:] {
		n := queue[0]
		if n < 0 || seen[n] {
			continue
		}
		seen[n] = true
		for to := range g.into {
			for _, k := range g.into[to] {
				j := g.w.cable[k]
				if g.from[k] != n || j < 0 || j == i {
					continue
				}
				if l, ok := s.left(j); ok {
					left = min(left, l)
				}
				queue = append(queue, to)
			}
		}
	}
	return left + float64(c.Drop.Value), true
}

// left is what a cable's limit leaves, in volt.
func (s *sizer) left(i int) (float64, bool) {
	c := &s.cables[i]
	d := c.Of.Domain
	if !c.Cumulative.Known || !c.Limit.Known || d == nil || !d.Nominal.Known() {
		return 0, false
	}
	return float64(float64(c.Limit.Value)/100*float64(d.Nominal.Value)) - float64(c.Cumulative.Value), true
}

// cure finds the smallest size with which a cable would satisfy everything.
func (s *sizer) cure(i int) {
	c := &s.cables[i]
	n := s.needs(i)
	room, limited := s.room(i)
	length, known := loop(c.Of)
	for _, st := range s.steps(c.Of) {
		k := s.carry(c.Of, s.surround(i), st.area, st.parallel)
		per, ok := s.perMetre(c.Of, st.area)
		if !ok || k.missing != "" || n.ok && k.capacity < n.amps {
			continue
		}
		if limited && known {
			ohm := impedance(c.Of, table.AtTemperature(per*float64(length)/float64(st.parallel), k.heat(s.solved[i].most())), length, st.parallel)
			if ohm*float64(c.DropCurrent.Value) > room {
				continue
			}
		}
		if c.OpensIn.Known && c.OpensIn.Value <= 5 && c.FaultMin.Known &&
			!s.covers(c) && float64(table.WithstandArea(table.FaultEnergy(c.OpensAt.Value, c.OpensIn.Value), adiabatic(c.Of))) > st.copper() {
			continue
		}
		c.Needs, c.NeedsParallel = quantity.Some(st.area), st.parallel
		return
	}
}
