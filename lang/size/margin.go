package size

import (
	"strake/lang/quantity"
	"strake/lang/table"
)

// margin says how much a cable has in hand, or what would cure it.
func (s *sizer) margin(i int) {
	c := &s.cables[i]
	if room, ok := s.room(i); ok && c.Drop.Value > 0 && c.Of.Length.Known() {
		c.HoldsTo = quantity.Some(c.Of.Length.Value * quantity.Metre(max(0, room)/float64(c.Drop.Value)))
	}
	if len(c.Protection) > 0 && c.Ampacity.Known {
		r, ok := table.RatingAtMost(s.series(c.Protection[0]), c.Ampacity.Value)
		if ok && (!c.DropCurrent.Known || r.Value >= c.DropCurrent.Value) {
			c.MostProtection = quantity.Some(r.Value)
		}
	}
	if c.Result == "fails" && c.Stated {
		s.cure(i)
	}
}

// room is the drop in volt that a cable may have of its own, after what is lost
// before it.
func (s *sizer) room(i int) (float64, bool) {
	c := &s.cables[i]
	d := c.Of.Domain
	if !c.Cumulative.Known || !c.Limit.Known || !c.Drop.Known || d == nil || !d.Nominal.Known() {
		return 0, false
	}
	return float64(float64(c.Limit.Value)/100*float64(d.Nominal.Value)) - float64(c.Cumulative.Value-c.Drop.Value), true
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
			ohm := table.AtTemperature(per*float64(length)/float64(st.parallel), k.heat(s.solved[i].most()))
			if ohm*float64(c.DropCurrent.Value) > room {
				continue
			}
		}
		if c.OpensIn.Known && c.OpensIn.Value <= 5 && c.FaultMin.Known &&
			!s.covers(c) && float64(table.WithstandArea(table.Energy(c.FaultMin.Value, c.OpensIn.Value), adiabatic(c.Of))) > st.copper() {
			continue
		}
		c.Needs, c.NeedsParallel = quantity.Some(st.area), st.parallel
		return
	}
}
