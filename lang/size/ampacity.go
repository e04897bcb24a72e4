package size

import (
	"fmt"
	"math"
	"strings"

	"strake/lang/circuit"
	"strake/lang/quantity"
	"strake/lang/table"
)

// surroundings is what a cable's capacity depends on besides its section.
type surroundings struct {
	class    quantity.Celsius // limit of its insulation
	stated   bool
	bundle   float64          // factor for its company, or for a conduit
	bundled  string           // in words
	ambient  quantity.Celsius // hottest of its ends and of what it passes
	engine   bool
	terminal quantity.Celsius // ambient of the hottest end that holds it to the terminal's column
	plain    bool             // no end holds it to that column
	atEngine bool             // that end stands in an engine space
	held     quantity.Celsius // the column to which the coolest of its ends holds it
}

// surround gathers a cable's surroundings; every default that it uses is noted.
func (s *sizer) surround(i int) *surroundings {
	if s.around[i] == nil {
		s.around[i] = s.look(s.cables[i].Of)
	}
	return s.around[i]
}

func (s *sizer) look(c *circuit.Cable) *surroundings {
	r := &surroundings{class: 60, bundle: 1, ambient: math.MinInt16, terminal: math.MinInt16, plain: true}
	if c.Spec.Insulation.Known() {
		r.class, r.stated = c.Spec.Insulation.Least(), true
	} else {
		s.notes.assume(c.ID, "insulation taken as of the 60 °C class", "safe default")
	}
	r.bundle, r.bundled = s.bundle(c)
	for _, p := range s.places(c) {
		t := s.temperature(p)
		r.ambient = max(r.ambient, t)
		r.engine = r.engine || p != nil && p.Engine
	}
	for _, e := range [...]circuit.End{c.From, c.To} {
		it := e.Item
		if it == nil || it.Kind == "bus" || it.Kind == "stud" || it.Kind == "earth" ||
			it.Facts.Terminals.Known() && it.Facts.Terminals.Value >= r.class {
			continue
		}
		t := s.air(it.Place)
		if r.plain || t > r.terminal {
			r.terminal = t
		}
		if held := s.terminalColumn(it); r.plain || held < r.held {
			r.held = held
		}
		r.plain = false
		r.atEngine = r.atEngine || it.Place != nil && it.Place.Engine
	}
	return r
}

// bundle is the factor for what lies beside a cable. Under 50 V the American set
// asks for none.
func (s *sizer) bundle(c *circuit.Cable) (factor float64, words string) {
	low := false
	if v, ok := s.highest(c.Domain); ok && c.Domain != nil && !c.Domain.AC {
		low = v < 50
	}
	factor = 1
	if c.Spec.Conduit {
		factor, words = table.InConduit, fmt.Sprintf("in conduit %g", table.InConduit)
	}
	switch {
	case s.set == table.ABYC && low:
	case c.Spec.Bundled.Known():
		f := s.set.Bundling(int(c.Spec.Bundled.Most()))
		factor *= f.Value
		words = strings.TrimPrefix(words+fmt.Sprintf(", %g together %g", float64(c.Spec.Bundled.Value), f.Value), ", ")
	case c.Spec.Free || c.Spec.Conduit:
	default:
		factor, words = table.BundlingUnset, fmt.Sprintf("4 to 6 together %g", table.BundlingUnset)
		s.notes.assume(c.ID, "taken as bundled with 3 to 5 others", "safe default")
	}
	if words == "" {
		words = "free"
	}
	return factor, words
}

// places is where a cable is: at its ends and through what it passes. nil stands
// for a place that is not stated.
func (s *sizer) places(c *circuit.Cable) []*circuit.Place {
	list := append([]*circuit.Place(nil), c.Through...)
	for _, e := range [...]circuit.End{c.From, c.To} {
		switch {
		case e.Capped != nil:
			list = append(list, e.Capped)
		case e.Item != nil:
			list = append(list, e.Item.Place)
		}
	}
	if len(list) == 0 {
		list = append(list, nil)
	}
	return list
}

// temperature of a place: stated, taken from the place around it, or the safe
// default.
func (s *sizer) temperature(p *circuit.Place) quantity.Celsius {
	for q := p; q != nil; q = q.Within {
		if q.Temperature.Known() {
			return q.Temperature.Most()
		}
	}
	t := quantity.Celsius(40)
	if p != nil && (p.Engine || p.Outside) {
		t = 60
	}
	on := "craft"
	if p != nil {
		on = p.Name
	}
	s.notes.assume(on, fmt.Sprintf("place taken to be at %g °C", float64(t)), "safe default: 40 °C, 60 °C in an engine space and in the sun")
	return t
}

// air is the temperature around a device: that of its place, but a place outside
// whose temperature is not stated is taken in the shade.
func (s *sizer) air(p *circuit.Place) quantity.Celsius {
	t := s.temperature(p)
	if p != nil && p.Outside && !p.Temperature.Known() && !p.Engine {
		return 40
	}
	return t
}

// carries is what a conductor may carry and what its temperature is reckoned by.
type carries struct {
	capacity quantity.Ampere // of all parallel conductors, after every derating
	terminal bool            // its terminals hold it lower than its insulation
	base     quantity.Ampere // at 30 °C with its company, for the temperature it runs at
	limit    quantity.Celsius
	ambient  quantity.Celsius
	basis    func() string // in words; asked for once a cable, worked with often
	missing  string        // why nothing is known
}

// carry is what a section carries in its surroundings. A cable that ends on a
// device is also held to the column of its terminals (70 °C by ISO, 75 °C by
// ABYC, where nothing is written); as devices are made for 40 °C around them, that
// column is reduced for what is above. An engine space counts once.
func (s *sizer) carry(c *circuit.Cable, r *surroundings, area quantity.SquareMM, parallel int) carries {
	column, ok := s.set.Column(r.class)
	base, found := s.set.Ampacity(area, r.class)
	if !ok || !found {
		return carries{basis: func() string { return "" }, missing: fmt.Sprintf("capacity of %s: %s has no figure for %g mm2", c.ID, s.set, round(float64(area)))}
	}
	limit := column
	if column == 85 {
		limit = min(r.class, 90)
	}
	out := carries{limit: limit, ambient: r.ambient, base: quantity.Ampere(float64(base.Value) * r.bundle * float64(parallel))}
	place, why, allowed := s.hot(column, limit, r.ambient, r.engine)
	if !allowed {
		if !r.stated {
			out.missing = "insulation class of " + c.ID + " (60 °C is not allowed in an engine space)"
		}
		out.basis = func() string { return "insulation of the 60 °C class is not allowed in an engine space" }
		return out
	}
	out.capacity = quantity.Ampere(float64(out.base) * place)
	out.basis = func() string {
		words := fmt.Sprintf("%s, %g °C column, %s%s", s.set, float64(column), r.bundled, why())
		if parallel > 1 {
			words += fmt.Sprintf(", %d parallel", parallel)
		}
		return words
	}
	if held := r.held; !r.plain && r.class > held {
		t, found := s.set.Ampacity(area, held)
		factor := warm(held, r.terminal)
		if f, ok := s.set.EngineSpace(held); r.atEngine && ok {
			factor = min(factor, f.Value)
		}
		if at := quantity.Ampere(float64(t.Value) * factor * float64(parallel)); found && at < out.capacity {
			out.capacity, out.terminal = at, true
			out.basis = func() string {
				return fmt.Sprintf("%s, held to the %g °C column by its terminals at %g °C", s.set, float64(held), float64(r.terminal))
			}
		}
	}
	if amps, basis, ok := s.reference(c, r, area, parallel); ok && amps < out.capacity {
		out.capacity, out.basis = amps, basis
	}
	return out
}

// reference is what a mains cable carries by the reference methods of IEC
// 60364-5-52: clipped, or in conduit, in its ambient and its company. Boats have
// the table of their own set; where the two disagree the lower is taken.
func (s *sizer) reference(c *circuit.Cable, r *surroundings, area quantity.SquareMM, parallel int) (quantity.Ampere, func() string, bool) {
	if c.Domain == nil || !c.Domain.AC || s.set != table.ISO {
		return 0, nil, false
	}
	in := table.Installation{Insulation: "pvc", Method: "C", Multicore: true, Loaded: 2}
	if r.class >= 90 && r.plain {
		in.Insulation = "xlpe"
	}
	if c.Spec.Conduit {
		in.Method = "B2"
	}
	if c.Domain.Phases == 3 {
		in.Loaded = 3
	}
	circuits := 3 // unsaid: 4 to 6 conductors together
	switch {
	case c.Spec.Bundled.Known():
		circuits = int(math.Ceil(float64(c.Spec.Bundled.Most()) / float64(in.Loaded)))
	case c.Spec.Free || c.Spec.Conduit:
		circuits = 1
	}
	amps, ok := table.AmpacityAC(in, area)
	ambient, ok2 := table.AmbientAC(in.Insulation, r.ambient)
	group, ok3 := table.GroupingAC(circuits)
	if !ok || !ok2 || !ok3 {
		return 0, nil, false
	}
	basis := func() string {
		return fmt.Sprintf("IEC 60364-5-52 method %s, %s, %g °C %g, %d circuits %g: lower than %s", in.Method, in.Insulation, float64(r.ambient), ambient.Value, circuits, group.Value, s.set)
	}
	return quantity.Ampere(float64(amps.Value) * ambient.Value * group.Value * float64(parallel)), basis, true
}

// made is the air temperature that devices and their terminals are made for.
const made = 40

// warm is the factor on a terminal's column for air above 40 °C.
func warm(column, air quantity.Celsius) float64 {
	switch {
	case air <= made:
		return 1
	case air >= column:
		return 0
	}
	return math.Sqrt(float64(column-air) / float64(column-made))
}

// terminalColumn is the column that a thing's terminals allow: the hottest that is
// not above what is written, and of what says nothing the usual one.
func (s *sizer) terminalColumn(it *circuit.Item) quantity.Celsius {
	if it.Facts.Terminals.Known() {
		if column, ok := s.set.Column(it.Facts.Terminals.Value); ok {
			return column
		}
	}
	if s.set == table.ABYC {
		return 75
	}
	return 70
}

// hot is the factor of a place: by its temperature, in an engine space the lower
// of that and the table's, once.
func (s *sizer) hot(column, limit, ambient quantity.Celsius, engine bool) (factor float64, why func() string, allowed bool) {
	factor = table.Ambient(limit, ambient)
	if !engine {
		return factor, func() string {
			if factor == 1 {
				return ""
			}
			return fmt.Sprintf(", %g °C %.3g", float64(ambient), factor)
		}, true
	}
	f, ok := s.set.EngineSpace(column)
	if !ok {
		return 0, nil, false
	}
	factor = min(factor, f.Value)
	return factor, func() string { return fmt.Sprintf(", engine space %.3g", factor) }, true
}

// heat is the temperature at which a conductor runs with a current.
func (k carries) heat(amps float64) quantity.Celsius {
	if k.base <= 0 {
		return max(k.limit, k.ambient)
	}
	x := amps / float64(k.base)
	rise := float64(k.limit-30) * float64(x*x)
	return k.ambient + quantity.Celsius(min(rise, 400)) // beyond 400 K the conductor is lost in any case
}

// perMetre is the resistance in ohm of a metre of one conductor at 20 °C, for
// drop: of the stated make, or the worse one.
func (s *sizer) perMetre(c *circuit.Cable, area quantity.SquareMM) (float64, bool) {
	tinned := c.Spec.Tinned != circuit.No
	if c.Spec.Tinned == circuit.Unsaid || c.Spec.Class == 0 {
		s.notes.assume(c.ID, "conductor taken as of the higher resistance: class 5, tinned", "safe default")
	}
	if c.AWG != "" || s.gauged(c) {
		return table.ResistanceAWG(area, tinned).Value, true
	}
	classes := []int{c.Spec.Class}
	if c.Spec.Class == 0 {
		classes = []int{2, 5}
	}
	worst := 0.0
	for _, class := range classes {
		r, ok := table.Resistance(area, class, tinned)
		if !ok {
			return 0, false
		}
		worst = max(worst, r.Value)
	}
	return worst, true
}

// impedance is what a resistance over a length out and back drops at most for an
// ampere. Of alternating current that is the magnitude of its impedance: by
// whatever angle the current lags, R·cosφ + X·sinφ is never more, and currents that
// are added by magnitude are never less than they are together.
func impedance(c *circuit.Cable, ohm float64, length quantity.Metre, parallel int) float64 {
	if c.Domain == nil || !c.Domain.AC {
		return ohm
	}
	return math.Hypot(ohm, table.Reactance().Value*float64(length)/float64(max(1, parallel)))
}

// loop is a cable's length out and back, at the upper end of `about`; of a
// three-phase cable √3 times one way.
func loop(c *circuit.Cable) (quantity.Metre, bool) {
	if !c.Length.Known() || c.Return.State == circuit.Unknown {
		return 0, false
	}
	out := c.Length.Most()
	switch {
	case c.InString():
		return out, true // from one member to the next: the string is the way back
	case c.Domain != nil && c.Domain.AC && c.Domain.Phases == 3:
		return out * quantity.Metre(math.Sqrt(3)), true
	case c.Return.Known():
		return out + c.Return.Most(), true
	}
	return 2 * out, true
}

// guess is a resistance by which currents share themselves before sizes are
// known. In a tree of cables it changes nothing.
func (s *sizer) guess(i int) float64 {
	c := s.cables[i]
	if s.doubt > 0 && s.unknown(i) {
		return s.doubt
	}
	l, ok := loop(c.Of)
	if !ok || l <= 0 {
		l = 1
	}
	area := c.Area.Value
	if !c.Area.Known || area <= 0 {
		area = 10
	}
	r, ok := s.perMetre(c.Of, area)
	if !ok {
		r = 0.02 / float64(area)
	}
	return max(1e-5, r*float64(l)/float64(c.Parallel))
}

func round(v float64) float64 { return math.Round(v*1000) / 1000 }
