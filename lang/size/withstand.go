package size

import (
	"fmt"
	"math"
	"slices"

	"strake/lang/circuit"
	"strake/lang/quantity"
	"strake/lang/table"
)

// withstand holds faults against the section of every cable.
//
// The smallest fault, at the far end, must open a device on its way within 5 s,
// and leave no more than the conductor stands: I²t ≤ k²S². A fuse that guards the
// cable against overload too guards it at every current (IEC 60364-4-43 435.1,
// from memory): its element is thinner than the conductor. A breaker that does so
// guards it up to where it opens at once (433.1: what its overload release lets
// through is what the cable is taken to carry); at the largest fault its
// let-through counts, never I²t alone. What is not known is named in Wanting.
func (s *sizer) withstand() {
	for i := range s.cables {
		c := &s.cables[i]
		c.Withstand, c.Wanting, c.LetsThrough = "", nil, quantity.Opt[quantity.AmpereSquaredSecond]{}
		if c.Of.Link || !c.Area.Known || len(c.Protection) == 0 || s.cranking(i) {
			continue
		}
		stands := float64(c.Area.Value) * float64(c.Parallel) * adiabatic(c.Of)
		stands *= stands
		c.Withstand = "ok"
		s.small(c, stands)
		s.large(c, stands)
		if c.Withstand == "ok" && len(c.Wanting) > 0 {
			c.Withstand = "not verified"
		}
	}
}

// small judges the smallest fault of a cable that stands an energy in A²s.
func (s *sizer) small(c *Cable, stands float64) {
	covered, fused := s.covers(c), s.fused(c)
	switch {
	case s.tap(c):
		// the length before a device that is allowed to go without: held by its reach
		c.StaysShut = false
	case c.Of.Domain != nil && c.Of.Domain.AC && !c.FaultMin.Known:
		// the source's loop is not known here: disconnection of mains is a rule of its own
	case !c.FaultMin.Known:
		if !covered || !fused {
			c.Wanting = append(c.Wanting, "the smallest fault current of "+c.Of.ID)
		}
	case c.StaysShut && len(c.Limits) == 0:
		c.Withstand = "fails"
	case c.StaysShut: // what its source gives, it carries, or that is said elsewhere
	case covered: // at 2.55 times its rating a breaker may take a minute (IEC 60898-1), and 433.1 takes that for the cable
	case !c.OpensIn.Known:
		c.Wanting = append(c.Wanting, fmt.Sprintf("how soon %s %s at %s", refs(c.Protection), oneOrMore(c.Protection, "opens", "open"), c.OpensAt.Value))
	case c.OpensIn.Value > 5 || float64(table.FaultEnergy(c.OpensAt.Value, c.OpensIn.Value)) > stands:
		c.Withstand = "fails"
	}
}

// large judges the largest fault of a cable that stands an energy in A²s.
func (s *sizer) large(c *Cable, stands float64) {
	if s.covers(c) && s.fused(c) {
		return
	}
	if d := c.Of.Domain; !c.FaultMax.Known && (d == nil || !d.AC) {
		return // its own check names what its fault level lacks
	}
	for k := range c.Feeds {
		f := &c.Feeds[k]
		if len(f.Sources) == 0 || f.Limited {
			continue
		}
		devices := f.Devices
		if s.lies(f) || s.tap(c) {
			devices = f.Ahead
		}
		if len(devices) == 0 {
			c.Wanting = append(c.Wanting, "what ends a fault in "+c.Of.ID+" that "+refs(f.Sources)+" "+oneOrMore(f.Sources, "feeds", "feed"))
			return
		}
		let, known := s.energyAtOnce(c.Of, k, devices, c.FaultMax)
		if known && let > stands && s.written(devices) {
			c.LetsThrough, c.Stands = quantity.Some(quantity.AmpereSquaredSecond(let)), quantity.AmpereSquaredSecond(stands)
			if before := s.before(devices); len(before) > 0 { // they may let less through, and nobody says how much
				c.Wanting = append(c.Wanting, fmt.Sprintf("whether %s %s less through%s", refs(before), oneOrMore(before, "lets", "let"), at(c.FaultMax)))
				return
			}
			c.Withstand = "fails"
			return
		}
		if !known || let > stands {
			c.Wanting = append(c.Wanting, fmt.Sprintf("what %s %s through%s (the cable %s stands %s)", refs(devices), oneOrMore(devices, "lets", "let"), at(c.FaultMax), c.Of.ID, quantity.AmpereSquaredSecond(stands)))
			return
		}
	}
}

// written tells devices of which the text says what they let through.
func (s *sizer) written(devices []*circuit.Item) bool {
	return !slices.ContainsFunc(devices, func(d *circuit.Item) bool { return !d.Facts.LetThrough.Known() })
}

// before is the devices before these of which the text does not say that.
func (s *sizer) before(devices []*circuit.Item) []*circuit.Item {
	var list []*circuit.Item
	for _, d := range devices {
		g := s.guards(circuit.Terminal{Item: d, Port: "in"}, circuit.View{Open: map[*circuit.Item]bool{d: true}}, false)
		for _, up := range g.devices {
			if !up.Facts.LetThrough.Known() && !slices.Contains(list, up) {
				list = append(list, up)
			}
		}
	}
	return list
}

// oneOrMore is the form of a verb that goes with one thing or with several.
func oneOrMore(items []*circuit.Item, one, more string) string {
	if len(items) > 1 {
		return more
	}
	return one
}

func at(fault quantity.Opt[quantity.Ampere]) string {
	if !fault.Known {
		return ""
	}
	return " at " + fault.Value.String()
}

// energyAtOnce is the most energy that devices let into a cable's end, those
// before a changeover in one of its positions at a time.
func (s *sizer) energyAtOnce(c *circuit.Cable, k int, devices []*circuit.Item, fault quantity.Opt[quantity.Ampere]) (most float64, known bool) {
	turns := s.net.InTurn(without(c))
	t, ok := [2]circuit.End{c.From, c.To}[k].Terminal()
	if len(turns) == 1 || len(devices) < 2 || !ok {
		return s.energyOf(devices, fault, map[*circuit.Item]bool{})
	}
	for _, turn := range turns {
		met := s.guards(t, turn, false).devices
		var here []*circuit.Item
		for _, d := range devices {
			if slices.Contains(met, d) {
				here = append(here, d)
			}
		}
		if len(here) == 0 {
			continue
		}
		e, ok := s.energyOf(here, fault, map[*circuit.Item]bool{})
		if !ok {
			return 0, false
		}
		most, known = max(most, e), true
	}
	if !known { // they stand further on
		return s.energyOf(devices, fault, map[*circuit.Item]bool{})
	}
	return most, true
}

// energyOf is the most energy that comes through devices side by side at a
// fault: (Σ√E)², as their currents add up. Of each it is the least of what
// it lets through itself and of what those before it do.
func (s *sizer) energyOf(devices []*circuit.Item, fault quantity.Opt[quantity.Ampere], seen map[*circuit.Item]bool) (energy float64, known bool) {
	sum := 0.0
	for _, d := range devices {
		if seen[d] {
			return 0, false
		}
		seen[d] = true
		e, ok := s.letsThrough(d, fault)
		g := s.guards(circuit.Terminal{Item: d, Port: "in"}, circuit.View{Open: map[*circuit.Item]bool{d: true}}, false)
		if before, there := s.energyOf(g.devices, fault, seen); there && len(g.bare) == 0 && (!ok || before < e) {
			e, ok = before, true
		}
		delete(seen, d)
		if !ok {
			return 0, false
		}
		sum += math.Sqrt(e)
	}
	return sum * sum, len(devices) > 0
}

// letsThrough is the most energy that a device lets through at a fault, in A²s:
// as the text states it, else by the tables.
func (s *sizer) letsThrough(it *circuit.Item, fault quantity.Opt[quantity.Ampere]) (float64, bool) {
	if it.Facts.LetThrough.Known() {
		return float64(it.Facts.LetThrough.Most()), true
	}
	d, ok := s.tabled(it)
	if !ok {
		return 0, false
	}
	if fault.Known {
		op := table.Opening(d, fault.Value)
		return float64(op.Energy), op.Opens && op.Seconds.Known && !math.IsInf(float64(op.Energy), 1)
	}
	let, ok := table.LetThrough(d)
	if ok && d.Kind != it.Facts.Class {
		s.notes.assume(it.Ref, "breaker taken as of energy limiting class 3", let.Source)
	}
	return float64(let.Value), ok
}

// tabled is a device as the tables know it. The energy classes are of AC breakers.
func (s *sizer) tabled(it *circuit.Item) (table.Device, bool) {
	r := s.rating(it)
	d := table.Device{Kind: timing(it), Rating: r.Value}
	if it.Domain != nil && it.Domain.AC {
		d.Breaks = it.Facts.Breaks.Opt()
	}
	return d, r.Known && r.Value > 0
}

// timing is the name under which a device's times stand in the tables; an
// unstated curve is the slowest.
func timing(it *circuit.Item) string {
	switch {
	case it.Kind == "fuse":
		return it.Facts.Class
	case it.Facts.Curve == "":
		return "curve-d"
	}
	return "curve-" + it.Facts.Curve
}

// covers tells whether what protects a cable guards it against overload: it opens
// at 1.45 times the capacity at the latest (IEC 60364-4-43 433.1, from memory).
func (s *sizer) covers(c *Cable) bool {
	n := c.ProtectionAsks
	return n.Known && c.Ampacity.Known && n.Value <= c.Ampacity.Value*(1+1e-9)
}

// overload is the capacity that a cable's protection asks for: its rating, or
// more where it opens later than at 1.45 times that, as small gG fuses do.
func (s *sizer) overload(c *Cable) quantity.Opt[quantity.Ampere] {
	n := c.ProtectionRating
	for _, d := range c.Protection {
		if t, ok := s.tabled(d); ok && (t.Kind == "gg" || t.Kind == "nh") {
			fusing, _, _ := table.Fusing(t)
			if late := t.Rating * quantity.Ampere(fusing/1.45); fusing > 1.6 && late > n.Value {
				n.Value = late
			}
		}
	}
	return n
}

// tap tells a cable that nothing but what stands at its far end protects.
func (s *sizer) tap(c *Cable) bool {
	strong := false
	for k := range c.Feeds {
		f := &c.Feeds[k]
		if len(f.Sources) == 0 || f.Limited {
			continue
		}
		strong = true
		if slices.ContainsFunc(f.Devices, func(d *circuit.Item) bool { return slices.Contains(c.Protection, d) }) {
			return false
		}
	}
	return strong
}

// fused tells whether nothing but fuses protects a cable.
func (s *sizer) fused(c *Cable) bool {
	return !slices.ContainsFunc(c.Protection, func(it *circuit.Item) bool { return it.Kind != "fuse" })
}

func refs(items []*circuit.Item) string {
	text := ""
	for k, it := range items {
		switch {
		case k > 0 && k+1 == len(items):
			text += " and "
		case k > 0:
			text += ", "
		}
		text += it.Ref
	}
	return text
}

// thicken takes the next size for every open cable that does not stand its
// smallest fault, and tells whether there was one.
func (s *sizer) thicken() bool {
	more := false
	for i := range s.cables {
		c := &s.cables[i]
		if c.Withstand != "fails" || c.StaysShut || !s.open(i) || !c.Chosen {
			continue
		}
		if st, _ := s.next(i); st.area > 0 {
			s.take(i, st)
			c.GovernedBy = "withstand"
			more = true
		}
	}
	return more
}

// adiabatic is the constant k of a cable's insulation in A·√s/mm²: the least of
// its class.
func adiabatic(c *circuit.Cable) float64 {
	use := "pvc-105"
	if class := c.Spec.Insulation; class.Known() {
		switch {
		case class.Value < 75:
			use = "pvc-70"
		case class.Value <= 90:
			use = "pvc-90"
		}
	}
	k, _ := table.Adiabatic(use)
	return k.Value
}
