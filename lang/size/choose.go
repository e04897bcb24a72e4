package size

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"strake/lang/circuit"
	"strake/lang/quantity"
	"strake/lang/source"
	"strake/lang/table"
)

// mostParallel is how many conductors a pole the compiler proposes at most.
const mostParallel = 4

// mostRounds bounds how often sizes are taken up again because a smaller voltage
// lets more current flow.
const mostRounds = 6

// step is one size that can be chosen.
type step struct {
	area     quantity.SquareMM
	parallel int
	gauge    string // as the text writes it, where the size is a gauge
}

// size is the size that a row has.
func (c *Cable) size() step { return step{c.Area.Value, c.Parallel, c.Gauge} }

// ladder is what the list of sizes for a cable depends on.
type ladder struct {
	core, gauged bool
	parallel     int
}

// gauged tells an open cable whose size is an American gauge: of direct current
// by the American rule set, whose table is one of gauges.
func (s *sizer) gauged(c *circuit.Cable) bool {
	return s.set == table.ABYC && c.Area.State == circuit.Unstated && c.AWG == "" && c.Cores == 0 && (c.Domain == nil || !c.Domain.AC)
}

// sizesOf is the sections of the standard series, or of the gauges.
func (s *sizer) sizesOf(gauged bool) []step {
	var list []step
	if !gauged {
		for _, a := range table.Sizes() {
			list = append(list, step{area: a})
		}
		return list
	}
	for _, g := range table.Gauges() {
		area, _ := table.AWG(g)
		zeros, thick := strings.CutSuffix(g, "/0")
		if n, err := strconv.Atoi(zeros); thick && err == nil {
			g = strings.Repeat("0", n)
		}
		list = append(list, step{area: area, gauge: g})
	}
	return list
}

// steps lists the sizes from the smallest, by their copper: single conductors
// first, more than one only of 50 mm² and above.
func (s *sizer) steps(c *circuit.Cable) []step {
	key := ladder{c.Cores > 0, s.gauged(c), max(1, c.Parallel)}
	list, ok := s.ladders[key]
	if ok {
		return list
	}
	least := s.set.Minimum(key.core).Value
	for n := 1; n <= mostParallel; n++ {
		if n > 1 && (key.core || key.parallel > 1) {
			break
		}
		for _, one := range s.sizesOf(key.gauged) {
			if _, ok := s.set.Ampacity(one.area, 60); !ok || one.area < least || n > 1 && one.area < 50 {
				continue
			}
			one.parallel = max(n, key.parallel)
			list = append(list, one)
		}
	}
	slices.SortStableFunc(list, func(a, b step) int {
		return cmp.Or(cmp.Compare(a.copper(), b.copper()), cmp.Compare(a.parallel, b.parallel))
	})
	s.ladders[key] = list
	return list
}

// copper is the section of all conductors of a pole.
func (a step) copper() float64 { return float64(a.area) * float64(a.parallel) }

// need is what a cable must carry, and what asks for it.
type need struct {
	amps quantity.Ampere
	by   string
	ok   bool
}

// needs is the current that a cable's capacity is held against: its own and what
// its protection lets through. A starter's cable carries its current for
// seconds: only its drop counts.
func (s *sizer) needs(i int) need {
	c := &s.cables[i]
	n := need{}
	if c.DesignCurrent.Known && !s.cranking(i) {
		n = need{c.DesignCurrent.Value, "current", true}
		if c.DropCurrent.Known { // constant powers take more at the voltage that the drop leaves them
			n.amps = max(n.amps, c.DropCurrent.Value)
		}
	}
	if c.ProtectionRating.Known && !(s.cranking(i) && len(c.Protection) == 0) && (!n.ok || c.ProtectionAsks.Value > n.amps) {
		n = need{c.ProtectionAsks.Value, "protection", true}
	}
	return n
}

// cranking tells a cable that feeds nothing but starters.
func (s *sizer) cranking(i int) bool {
	for _, t := range s.behind[i] {
		if t.Item.Kind != "starter" {
			return false
		}
	}
	return len(s.behind[i]) > 0
}

// chooseAreas sets the design currents and gives every open cable the smallest
// section that carries what it must; then the drop asks for more, with as little
// copper as there can be.
func (s *sizer) chooseAreas() {
	for i := range s.cables {
		s.design(i)
		if s.open(i) {
			s.carryIt(i)
		}
	}
	for range mostRounds {
		s.thin()
		s.upsize()
		s.slim()
		s.alike()
		s.settle()
		if strained := s.strained(); !strained && !s.exceeds() {
			break
		}
	}
}

// strained gives the open cables that carry more than they hold, now that the drop on
// the way is known, a size that does, and tells whether there were any.
func (s *sizer) strained() bool {
	found := false
	for i := range s.cables {
		c := &s.cables[i]
		if n := s.needs(i); s.open(i) && c.Chosen && n.ok && c.Ampacity.Known && c.Ampacity.Value < n.amps {
			had := c.size()
			s.carryIt(i)
			found = found || c.size() != had
		}
	}
	return found
}

// carryIt takes the smallest size that carries what the cable must.
func (s *sizer) carryIt(i int) {
	c := &s.cables[i]
	n := s.needs(i)
	if !n.ok && s.cranking(i) && c.DesignCurrent.Known {
		s.crankIt(i)
		return
	}
	if !n.ok {
		s.missing(i, "current of "+c.Of.ID)
		return
	}
	around := s.surround(i)
	for k, st := range s.steps(c.Of) {
		at := s.carry(c.Of, around, st.area, st.parallel)
		if at.missing != "" || at.capacity < n.amps {
			continue
		}
		s.take(i, st)
		s.floor[i] = k
		switch {
		case k == 0:
			c.GovernedBy = "minimum"
		case at.terminal:
			c.GovernedBy = "terminal"
		default:
			c.GovernedBy = n.by
		}
		return
	}
	s.missing(i, "a size of "+c.Of.ID+" that carries "+amps(n.amps)+": none of the table does")
}

// longestStart is how long a starter may be held, in seconds (common practice).
const longestStart = 30

// crankIt takes the smallest size that stands a starter's current for as long as it
// is held; its drop asks for more.
func (s *sizer) crankIt(i int) {
	c := &s.cables[i]
	least := standsStart(c.Of, c.DesignCurrent.Value)
	for k, st := range s.steps(c.Of) {
		if st.copper() >= float64(least) {
			s.take(i, st)
			s.floor[i] = k
			c.GovernedBy = "current"
			return
		}
	}
	s.missing(i, "a size of "+c.Of.ID+" that stands "+amps(c.DesignCurrent.Value)+" for 30 s: none of the table does")
}

// StartArea is the least section of a pole that stands a starter's current for as
// long as it may be held.
func StartArea(c *Cable, start quantity.Ampere) quantity.SquareMM { return standsStart(c.Of, start) }

func standsStart(c *circuit.Cable, start quantity.Ampere) quantity.SquareMM {
	return table.WithstandArea(table.FaultEnergy(start, longestStart), adiabatic(c))
}

// alike gives the cables of one bracket one size: a range is written once; and
// those on the two sides of a float switch, a stop or another contact: nobody
// changes the cable there.
func (s *sizer) alike() {
	most := map[source.Span]step{}
	each := func(do func(i int, at source.Span)) {
		for i := range s.cables {
			if c := &s.cables[i]; s.open(i) && c.Chosen && !c.Of.InString() {
				do(i, c.Of.Span)
			}
		}
	}
	each(func(i int, at source.Span) {
		if st := s.cables[i].size(); st.copper() > most[at].copper() {
			most[at] = st
		}
	})
	each(func(i int, at source.Span) {
		c := &s.cables[i]
		if st := most[at]; st.copper() > c.size().copper() {
			s.take(i, st)
			c.GovernedBy = "alike"
		}
	})
	for range s.cables { // one contact may follow another
		changed := false
		for _, t := range s.terminals {
			if t.Port == "in" && t.Item.Nature().Contacts {
				changed = s.evenly(t, circuit.Terminal{Item: t.Item, Port: "out", Contact: t.Contact}) || changed
			}
		}
		if !changed {
			return
		}
	}
}

// evenly gives the two cables of a contact the larger size of both.
func (s *sizer) evenly(in, out circuit.Terminal) bool {
	one, other := s.net.Cables(in), s.net.Cables(out)
	if len(one) != 1 || len(other) != 1 {
		return false
	}
	a, b := s.at[one[0]], s.at[other[0]]
	if s.cables[a].size().copper() > s.cables[b].size().copper() {
		a, b = b, a
	}
	small, large := &s.cables[a], &s.cables[b]
	if !s.open(a) || !small.Chosen || !large.Area.Known || small.Of.Cores != large.Of.Cores || small.size().copper() >= large.size().copper() ||
		!s.open(b) || small.Of.Parallel > 1 || large.Of.Parallel > 1 {
		return false
	}
	s.take(a, large.size())
	small.GovernedBy = "alike"
	return true
}

func (s *sizer) take(i int, st step) {
	c := &s.cables[i]
	c.Area, c.Parallel, c.Gauge, c.Chosen = quantity.Some(st.area), st.parallel, st.gauge, true
}

// design is a cable's design current: what flows in the worst case; what two
// sources can feed is sized for its protection, and so is a tail whose load is
// still to come.
func (s *sizer) design(i int) {
	c, f := &s.cables[i], s.flow[i]
	if c.Of.Link {
		return
	}
	strong, fed := 0, false
	for _, feed := range c.Feeds {
		if len(feed.Sources) > 0 && !feed.Limited {
			strong++
		}
		fed = fed || len(feed.Sources) > 0
	}
	drawn, _ := f.main()
	if f.known() && len(f.wanting) == 0 {
		c.DropCurrent = quantity.Some(quantity.Ampere(drawn.amps))
	}
	if s.allOn != nil && s.allOn[i] > f.most() {
		c.AllOn = quantity.Some(quantity.Ampere(s.allOn[i]))
	}
	for _, w := range f.wanting {
		s.missing(i, w)
	}
	switch {
	case c.Of.InString(): // anew each time: protection forgets it
		s.designString(i)
	case strong == 2 && c.ProtectionRating.Known:
		c.DesignCurrent, c.DesignCase = c.ProtectionRating, "each end can feed it: sized for its protection"
	case c.DropCurrent.Known && f.push.amps > f.draw.amps:
		c.DesignCurrent, c.DesignCase = quantity.Some(quantity.Ampere(f.push.amps)), f.push.named()
	case c.DropCurrent.Known:
		c.DesignCurrent, c.DesignCase = c.DropCurrent, f.draw.named()
	case len(f.wanting) == 0 && fed && c.ProtectionRating.Known:
		c.DesignCurrent, c.DesignCase = c.ProtectionRating, "no load stated yet: sized for its protection"
	}
}

// designString gives a link inside a series string the current and the protection
// of the string: what flows at the bank's own terminal.
func (s *sizer) designString(i int) {
	c := &s.cables[i]
	c.Protection = nil
	bank := c.Of.Bank
	for bank.MemberOf != nil && bank.MemberOf.Bank.Series {
		bank = bank.MemberOf
	}
	design, rating := quantity.Opt[quantity.Ampere]{Known: true}, quantity.Opt[quantity.Ampere]{Known: true}
	name := ""
	for _, other := range s.net.Cables(circuit.Terminal{Item: bank}) {
		if other.InString() || other.Status == circuit.Removed {
			continue
		}
		if other.Link { // what is bolted on lets in what its devices do
			devices, amps, known := s.bolted(other, bank)
			lets := s.sum(devices)
			design.Known, rating.Known = design.Known && known, rating.Known && known && lets.Known
			design.Value += amps
			rating.Value += lets.Value
			c.Protection = append(c.Protection, devices...)
			continue
		}
		j := s.at[other]
		if s.cables[j].DesignCase == "" {
			s.design(j)
		}
		d, r := s.cables[j].DesignCurrent, s.cables[j].ProtectionRating
		design.Known, rating.Known = design.Known && d.Known, rating.Known && r.Known
		design.Value += d.Value
		rating.Value += r.Value
		c.Protection = append(c.Protection, s.cables[j].Protection...)
		name = s.cables[j].DesignCase
	}
	if name == "" {
		name = "all that its bank gives"
	}
	if design.Known && design.Value > 0 {
		c.DesignCurrent, c.DropCurrent, c.DesignCase = design, design, name
	}
	if rating.Known && rating.Value > 0 {
		c.ProtectionRating, c.ProtectionAsks = rating, rating
	}
}

// bolted is the first devices behind a link on a bank, and the current through
// them; not known where something on it goes without a device.
func (s *sizer) bolted(link *circuit.Cable, bank *circuit.Item) (devices []*circuit.Item, amps quantity.Ampere, known bool) {
	far := link.To
	if far.Item == bank {
		far = link.From
	}
	t, ok := far.Terminal()
	if !ok {
		return nil, 0, false
	}
	g := s.guards(t, without(link), true)
	for _, d := range g.devices {
		through := s.deviceCurrent(d)
		if !through.Known {
			return g.devices, amps, false
		}
		amps += through.Value
	}
	return g.devices, amps, len(g.bare) == 0 && len(g.devices) > 0
}
