package size

import (
	"strake/lang/circuit"
	"strake/lang/quantity"
)

// byCondition puts the declared conditions in the place of everything on at
// once. Whatever the conditions leave off, a cable still carries each single
// thing behind it at its rating: a condition says what runs together, not what
// can never run.
func (s *sizer) byCondition(all []flow) []flow {
	s.allOn = make([]float64, len(all))
	alone := s.alone(all)
	list := s.run(s.conditions)
	for i := range list {
		s.allOn[i] = all[i].draw.amps
		f := &list[i]
		f.push, f.wanting = all[i].push, all[i].wanting
		if alone[i] > f.draw.amps*(1+1e-9) {
			f.draw = current{alone[i], all[i].draw.forward, "the largest single load behind it, at its rating", nil}
		}
		if f.draw.amps > all[i].draw.amps {
			f.draw = all[i].draw // a condition cannot ask for more than all at once
		}
	}
	return list
}

// alone is, for each cable, the largest single demand whose current it carries.
func (s *sizer) alone(all []flow) []float64 {
	largest := make([]float64, len(all))
	for c, terminals := range s.behind {
		for _, t := range terminals {
			for _, transfer := range []bool{false, true} {
				i, _ := s.demand(t, transfer)
				largest[c] = max(largest[c], min(float64(i), all[c].draw.amps))
			}
		}
	}
	return largest
}

// conditioned is the situations of a condition: both configurations, and
// inverter-chargers both ways; changeovers where it puts them, else each way.
func (s *sizer) conditioned(c circuit.Condition) []situation {
	set, position := s.said(c)
	var list []situation
	for _, base := range s.situations() {
		if base.charging || !agrees(base.position, position) {
			continue
		}
		st := base
		st.name = "condition " + c.Name
		st.off = map[*circuit.Item]bool{}
		for _, it := range s.sys.Items {
			if set.opened(it) {
				st.off[it] = true
			}
		}
		set := set
		set.transfer, set.config = st.transfer, st.config
		st.demand = func(t circuit.Terminal) (quantity.Ampere, string) { return set.demand(t, 0), "" }
		list = append(list, st)
	}
	return list
}

func agrees(base, asked map[*circuit.Item]string) bool {
	for it, p := range asked {
		if q, ok := base[it]; ok && q != p {
			return false
		}
	}
	return true
}

// settings answers what a terminal takes in a condition.
type settings struct {
	s        *sizer
	by       map[*circuit.Item]circuit.Setting
	transfer bool
	config   circuit.Configuration
}

// said is what a condition says of things, and where it puts the changeovers.
func (s *sizer) said(c circuit.Condition) (set settings, position map[*circuit.Item]string) {
	set = settings{s: s, by: map[*circuit.Item]circuit.Setting{}}
	position = map[*circuit.Item]string{}
	for _, x := range c.Settings {
		switch {
		case x.Item == nil:
		case x.Item.Kind == "changeover" && x.Port != "" && x.On:
			position[x.Item] = x.Port
		default:
			set.by[x.Item] = x
		}
	}
	return set, position
}

// opened tells a switch or a device that a condition has open: by its word, or as
// it usually is.
func (c settings) opened(it *circuit.Item) bool {
	x, named := c.by[it]
	n := it.Nature()
	return (n.Opens || n.Protects) && (named && x.Off || it.Facts.UsualOff && !(named && x.On))
}

// deepest bounds how many converters may feed one another in a row.
const deepest = 8

func (c settings) demand(t circuit.Terminal, depth int) quantity.Ampere {
	it := t.Item
	rated, _ := c.s.demand(t, c.transfer)
	if steady, ok := c.s.steady(t); ok && it.Nature().Load {
		rated = min(rated, steady)
	}
	if x, ok := c.by[it]; ok && !it.Nature().Opens && it.Board == nil {
		return c.set(x, t, rated, 1)
	}
	if it.Way != nil && it.Way.Load == it {
		if x, ok := c.by[it.Way.Board]; ok {
			return c.set(x, t, rated, c.share(it.Way))
		}
		return 0
	}
	n := it.Nature()
	switch {
	case n.Load, it.Kind == "charger", t.Port == "in" && it.Kind == "inverter-charger":
		if w := c.fedBy(t); w != nil {
			if x, ok := c.by[w.Board]; ok {
				return c.set(x, t, rated, c.share(w))
			}
		}
		return 0
	case n.Converts && rated > 0:
		return min(rated, c.converted(t, depth))
	}
	return rated
}

// set is what a setting makes of a rated current; share is the part of a board's
// power or current that falls to one of its ways.
func (c settings) set(x circuit.Setting, t circuit.Terminal, rated quantity.Ampere, share float64) quantity.Ampere {
	switch {
	case x.Off:
		return 0
	case x.Percent.Known():
		return rated * quantity.Ampere(float64(x.Percent.Most())/100)
	case x.Current.Known() && !x.Charge:
		return x.Current.Most() * quantity.Ampere(share)
	case x.Power.Known() && !x.Gives:
		if v, ok := c.s.lowest(domainOf(t)); ok && v > 0 {
			return quantity.Ampere(float64(x.Power.Most()) / float64(v) / phases(domainOf(t)) / powerFactor(t.Item) * share)
		}
	case x.Gives:
		return 0
	}
	return rated
}

// share is a way's part of its board by rating, among the ways that are there.
func (c settings) share(way *circuit.Way) float64 {
	total, own := 0.0, 0.0
	for _, w := range way.Board.Board.Ways {
		if w.Device == nil || w.Spare || w.Cable == nil || !w.Status.In(c.config) || w.Feeds() == nil {
			continue // what is capped takes no share
		}
		if x, named := c.by[w.Feeds()]; named && x.Off {
			continue
		}
		r := float64(w.Device.Facts.Current.Value)
		total += r
		if w == way {
			own = r
		}
	}
	if total == 0 {
		return 1
	}
	return own / total
}

// fedBy is the way whose cable lands on a terminal, if one does.
func (c settings) fedBy(t circuit.Terminal) *circuit.Way {
	for _, cable := range c.s.net.Cables(t) {
		if cable.Way != nil {
			return cable.Way
		}
	}
	return nil
}

// converted is what a converter takes for all that is on behind its output.
func (c settings) converted(t circuit.Terminal, depth int) quantity.Ampere {
	it := t.Item
	if depth > deepest {
		return quantity.Ampere(1e9)
	}
	low, ok := c.s.lowest(domainOf(t))
	power := 0.0
	for _, p := range it.Ports {
		if p.Name == t.Port || p.Name == "in" || p.Name == "dc" {
			continue
		}
		v, known := c.s.lowest(p.Domain)
		if p.Domain == nil || !known {
			return quantity.Ampere(1e9)
		}
		for _, r := range c.s.reached(outlet{circuit.Terminal{Item: it, Port: p.Name}, c.config}) {
			if r.Item != it {
				power += float64(c.demand(r, depth+1)) * float64(v) * phases(p.Domain)
			}
		}
	}
	if !ok || low <= 0 {
		return quantity.Ampere(1e9)
	}
	return quantity.Ampere(power / c.s.efficiency(it) / float64(low) / phases(domainOf(t)))
}

// outlet is a converter's output in a configuration.
type outlet struct {
	at     circuit.Terminal
	config circuit.Configuration
}

// reached is every terminal that current from a converter's output gets to.
func (s *sizer) reached(o outlet) []circuit.Terminal {
	list, ok := s.outputs[o]
	if !ok {
		list = s.net.Reach([]circuit.Terminal{o.at}, circuit.View{Configuration: o.config})
		s.outputs[o] = list
	}
	return list
}
