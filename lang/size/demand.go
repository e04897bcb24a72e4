package size

import (
	"fmt"
	"strings"

	"strake/lang/circuit"
	"strake/lang/quantity"
	"strake/lang/table"
)

const (
	assumedEfficiency     = 0.85 // of a converter of any kind, common practice
	transformerEfficiency = 0.95 // common practice
)

// AssumedCoil is what the coil of a contactor or a relay takes that does not say
// it: common practice, verify with the maker.
const AssumedCoil = quantity.Ampere(1)

// limit is the most that a supply gives: what a source of limited current, or
// an AC source by its rating, is good for. False where it is not known, or for
// a battery, which gives what its fault level says.
func (s *sizer) limit(p circuit.Supply) (quantity.Ampere, bool) {
	it, f := p.Item, &p.Item.Facts
	d := it.PortDomain(p.Port)
	byPower := func(w float64, known bool) (quantity.Ampere, bool) {
		v, ok := s.lowest(d)
		if !known || !ok || v <= 0 {
			return 0, false
		}
		return quantity.Ampere(w / float64(v) / phases(d)), true
	}
	switch {
	case it.Kind == "array":
		if !f.Isc.Known() {
			return 0, false
		}
		return table.ArrayCurrent(max(1, f.InParallel), f.Isc.Most()), true
	case p.Port == "dc":
		if f.Charge.Known() {
			return f.Charge.Most(), true
		}
	case it.Nature().Load && f.Regenerates.State != circuit.Unstated:
		return byPower(float64(f.Regenerates.Most()), f.Regenerates.Known())
	case it.Nature().Stores:
		return 0, false
	case it.Nature().Converts && p.Port == "in": // a two-way converter, backwards
		return s.inputCurrent(it)
	}
	switch {
	case it.Kind == "charger" && f.Charge.Known():
		return f.Charge.Most(), true
	case f.Current.Known():
		return f.Current.Most(), true
	case f.Apparent.Known():
		return byPower(float64(f.Apparent.Most()), true)
	}
	return byPower(float64(f.Power.Most()), f.Power.Known())
}

// phases divides a power into the currents of its phases: 1, or √3 of three.
func phases(d *circuit.Domain) float64 {
	if d != nil && d.AC && d.Phases == 3 {
		return 1.7320508075688772
	}
	return 1
}

// loadCurrent is what a load takes from its terminal at its rating: the largest
// of its continuous and its repeated current, of a starter that of its start.
func (s *sizer) loadCurrent(t circuit.Terminal) (quantity.Ampere, bool) {
	f := &t.Item.Facts
	best, known := s.steady(t)
	if i, ok := s.byPower(t, f.PeakPower); ok {
		best, known = max(best, i), true
	}
	if f.Peak.Known() {
		best, known = max(best, f.Peak.Most()), true
	}
	if t.Item.Kind == "starter" && f.Start.Known() {
		best, known = max(best, f.Start.Most()), true
	}
	if !known && t.Item.Way != nil && t.Item.Way.Load == t.Item && t.Item.Way.Device != nil {
		if r := t.Item.Way.Device.Facts.Current; r.Known() {
			s.notes.assume(t.Item.Way.Device.Ref, "load not stated: taken as the rating of its way", "common practice")
			return r.Most(), true
		}
	}
	return best, known
}

// demanded is what a terminal takes, as long as the drop on the way to it stays.
type demanded struct {
	turn    int
	amps    quantity.Ampere
	known   bool
	wanting string
}

// recall gives what was worked out of a terminal since the drops were reckoned,
// or works it out: every case and condition asks for it again.
func (s *sizer) recall(of *[]demanded, t circuit.Terminal, work func() (quantity.Ampere, bool, string)) demanded {
	i, there := s.net.Index(t)
	if there && len(*of) == 0 {
		*of = make([]demanded, len(s.terminals))
	}
	if there && (*of)[i].turn == s.turn {
		return (*of)[i]
	}
	d := demanded{turn: s.turn}
	d.amps, d.known, d.wanting = work()
	if there {
		(*of)[i] = d
	}
	return d
}

// steady is what a load takes continuously: a stated current caps its power
// over the lowest voltage.
func (s *sizer) steady(t circuit.Terminal) (quantity.Ampere, bool) {
	d := s.recall(&s.steadily, t, func() (quantity.Ampere, bool, string) {
		amps, known := s.steadyOf(t)
		return amps, known, ""
	})
	return d.amps, d.known
}

func (s *sizer) steadyOf(t circuit.Terminal) (quantity.Ampere, bool) {
	f := &t.Item.Facts
	d := domainOf(t)
	best, known := s.byPower(t, f.Power)
	if v, ok := s.voltageAt(t); ok && f.Apparent.Known() {
		best, known = max(best, quantity.Ampere(float64(f.Apparent.Most())/float64(v)/phases(d))), true
	}
	if f.Current.Known() {
		if known {
			return min(best, f.Current.Most()), true
		}
		return f.Current.Most(), true
	}
	return best, known
}

// byPower is the current of a power at a terminal.
func (s *sizer) byPower(t circuit.Terminal, w circuit.Fact[quantity.Watt]) (quantity.Ampere, bool) {
	d := domainOf(t)
	v, ok := s.voltageAt(t)
	if !w.Known() || !ok {
		return 0, false
	}
	pf := 1.0
	if d.AC {
		if f := t.Item.Facts.PowerFactor; f.Known() && f.Value > 0 {
			pf = float64(f.Value)
		} else {
			s.notes.assume(t.Item.Ref, "power factor taken as 1", "common practice, verify with the maker")
		}
	}
	return quantity.Ampere(float64(w.Most()) / float64(v) / pf / phases(d)), true
}

// voltageAt is the voltage at which a terminal takes its power: the lowest of its
// domain, less the drop on the way to it where that is reckoned with.
func (s *sizer) voltageAt(t circuit.Terminal) (quantity.Volt, bool) {
	v, ok := s.lowest(domainOf(t))
	if !ok || v <= 0 {
		return 0, false
	}
	sag := 0.0
	if i, there := s.net.Index(t); there && s.sag != nil {
		sag = s.sag[i]
	}
	return max(v/2, v-quantity.Volt(sag)), true
}

// efficiency of a converter, stated or assumed.
func (s *sizer) efficiency(it *circuit.Item) float64 {
	if e := it.Facts.Efficiency; e.Known() && e.Value > 0 {
		return float64(e.Value)
	}
	if it.Kind == "transformer" {
		return transformerEfficiency
	}
	s.notes.assume(it.Ref, "efficiency taken as 0.85", "common practice, verify with the maker")
	return assumedEfficiency
}

// inputCurrent is what a converter takes at its input when its output gives all
// that it is rated for: at the lowest voltage of the input, the highest of an
// output that charges. A stated input current is taken as it stands.
func (s *sizer) inputCurrent(it *circuit.Item) (quantity.Ampere, bool) {
	f := &it.Facts
	if f.Input.Known() {
		return f.Input.Most(), true
	}
	in, out := it.PortDomain("in"), it.PortDomain("out")
	low, ok := s.voltageAt(circuit.Terminal{Item: it, Port: "in"})
	if !ok {
		return 0, false
	}
	power, ok := s.outputPower(it, out)
	if !ok {
		return 0, false
	}
	return quantity.Ampere(power / s.efficiency(it) / float64(low) / phases(in)), true
}

// turnedCurrent is what a converter that passes power both ways takes at its output
// when its input gives all that it is rated for.
func (s *sizer) turnedCurrent(it *circuit.Item) (quantity.Ampere, bool) {
	in, out := it.PortDomain("in"), it.PortDomain("out")
	low, ok := s.voltageAt(circuit.Terminal{Item: it, Port: "out"})
	power, known := s.outputPower(it, out)
	if v, has := s.highest(in); !known && has && it.Facts.Input.Known() {
		power, known = float64(it.Facts.Input.Most())*float64(v)*phases(in), true
	}
	if !ok || !known {
		return 0, false
	}
	return quantity.Ampere(power / s.efficiency(it) / float64(low) / phases(out)), true
}

// outputPower is what a converter gives at its rating, in watt.
func (s *sizer) outputPower(it *circuit.Item, out *circuit.Domain) (float64, bool) {
	f := &it.Facts
	amps := f.Current
	if it.Kind == "charger" && f.Charge.Known() {
		amps = f.Charge
	}
	switch {
	case f.Apparent.Known():
		return float64(f.Apparent.Most()), true
	case f.Power.Known():
		return float64(f.Power.Most()), true
	case !amps.Known():
		return 0, false
	}
	v, ok := s.outputVoltage(it, out)
	return float64(amps.Most()) * float64(v) * phases(out), ok
}

// outputVoltage is the voltage at which a converter gives its rating: stated, or
// the highest of the domain that it feeds.
func (s *sizer) outputVoltage(it *circuit.Item, out *circuit.Domain) (quantity.Volt, bool) {
	v, ok := s.highest(out)
	if out != nil && out.AC {
		v, ok = out.Nominal.Value, out.Nominal.Known()
	}
	if it.Facts.Voltage.Known() && (!ok || it.Kind == "converter") {
		return it.Facts.Voltage.Value, true
	}
	return v, ok
}

// inverting is what an inverter-charger takes from its battery at full output.
func (s *sizer) inverting(it *circuit.Item) (quantity.Ampere, bool) {
	f := &it.Facts
	low, ok := s.voltageAt(circuit.Terminal{Item: it, Port: "dc"})
	power := float64(f.Apparent.Most())
	if !f.Apparent.Known() {
		power = float64(f.Power.Most())
	}
	if !ok || power <= 0 {
		return 0, false
	}
	return quantity.Ampere(power / s.efficiency(it) / float64(low)), true
}

// charging is what an inverter-charger's charger takes from its AC side.
func (s *sizer) charging(it *circuit.Item, port string) (quantity.Ampere, bool) {
	f := &it.Facts
	v, ok := s.highest(it.PortDomain("dc"))
	low, ok2 := s.voltageAt(circuit.Terminal{Item: it, Port: port})
	if !ok || !ok2 || !f.Charge.Known() {
		return 0, false
	}
	return quantity.Ampere(float64(f.Charge.Most()) * float64(v) / s.efficiency(it) / float64(low)), true
}

// demand is what a terminal takes with everything at its rating. Known tells
// whether it takes anything that has a number; wanting names the fact that is
// missing where it takes something without one.
func (s *sizer) demand(t circuit.Terminal, transfer bool) (amps quantity.Ampere, wanting string) {
	of := &s.whenInverting
	if transfer {
		of = &s.whenPassing
	}
	d := s.recall(of, t, func() (quantity.Ampere, bool, string) {
		amps, wanting := s.demandOf(t, transfer)
		return amps, true, wanting
	})
	return d.amps, d.wanting
}

func (s *sizer) demandOf(t circuit.Terminal, transfer bool) (amps quantity.Ampere, wanting string) {
	it := t.Item
	i, ok := quantity.Ampere(0), true
	switch {
	case it.Nature().Load && t.Port != "enable":
		i, ok = s.loadCurrent(t)
		wanting = "power or current of " + it.Ref
	case it.Kind == "inverter-charger" && t.Port == "dc":
		if !transfer {
			i, ok = s.inverting(it)
		}
		wanting = "power of " + it.Ref
	case it.Kind == "inverter-charger" && (t.Port == "in" || t.Port == "in1"):
		i, ok = s.charging(it, t.Port)
		wanting = "charge current of " + it.Ref
	case it.Kind == "inverter-charger":
	case it.Nature().Converts && t.Port == "in":
		if it.Kind != "regulator" { // its array pushes
			i, ok = s.inputCurrent(it)
		}
		wanting = "rating of " + it.Ref
	case t.Port == "coil" && it.Facts.CoilAmps.Known():
		i = it.Facts.CoilAmps.Most()
	case t.Port == "coil":
		s.notes.assume(it.Ref, fmt.Sprintf("coil taken as %s", AssumedCoil), "common practice, verify with the maker")
		i = AssumedCoil
	case it.Nature().Ends == circuit.OneEnd && (it.Facts.Power.Known() || it.Facts.Current.Known()) && isShow(it.Kind):
		i, ok = s.loadCurrent(t)
	}
	if ok {
		return i, ""
	}
	return 0, wanting
}

// isShow tells the kinds that take a little power to show or to watch.
func isShow(k circuit.Kind) bool {
	return strings.Contains(" meter panel bms insulation-monitor ", " "+string(k)+" ")
}
