package demand

import (
	"fmt"
	"slices"
	"strings"

	"strake/lang/circuit"
	"strake/lang/quantity"
	"strake/lang/size"
)

// Day is what a day takes out of the banks and what the sun brings, in one
// configuration.
type Day struct {
	Name          string
	Configuration circuit.Configuration
	Sun           quantity.Opt[quantity.Second] // hours of full sun
	Yield         quantity.Opt[quantity.Percent]
	Harvests      []Harvest
	Solar         quantity.Opt[quantity.WattHour] // all arrays together
	Parts         []Part
	Demand        quantity.Opt[quantity.WattHour] // out of the banks, without the sun
	Hours         float64                         // of the timetable
	Balance       quantity.Opt[quantity.WattHour] // sun less demand
	Store         quantity.Opt[quantity.WattHour] // usable, of the banks that are drawn upon
	Lasts         quantity.Opt[quantity.Number]   // days from full without sun or other charge
	Lacks         quantity.Opt[quantity.Number]   // days from full with the sun; not known when the sun is enough
	Runs          []Running                       // hours of other sources that make up what is short
	Missing       []string
	Notes         []string
}

// Harvest is what one array brings in the day.
type Harvest struct {
	Of     *circuit.Item
	Energy quantity.Opt[quantity.WattHour]
}

// Part is what a condition, or a load with its own hours, takes in the day.
type Part struct {
	Name   string
	Hours  float64
	Power  quantity.Opt[quantity.Watt] // out of the banks
	Energy quantity.Opt[quantity.WattHour]
}

// Running is how long a source has to run a day.
type Running struct {
	From  []*circuit.Item
	Power quantity.Watt // into the banks, at their nominal voltage
	Hours float64
}

// day works a day out. Its conditions are solved without what their arrays give:
// the sun is counted by the day's own hours.
func (r Report) day(sys *circuit.System, plan *size.Plan, d circuit.Day, config circuit.Configuration) Day {
	out := Day{Name: d.Name, Configuration: config, Sun: d.Sun.Opt(), Yield: d.Yield.Opt()}
	out.harvest(sys, d)
	drawn := map[*Bank]bool{}
	on := map[*circuit.Item]float64{} // hours
	complete := true
	for _, p := range d.Parts {
		i := slices.IndexFunc(sys.Conditions, func(c circuit.Condition) bool { return c.Name == p.Condition })
		if i < 0 {
			continue // told already
		}
		hours := float64(max(1, p.Times)) * float64(p.Length) / hour
		s := size.SolveCondition(sys, plan, dark(sys.Conditions[i]), config)
		part := Part{Name: p.Condition, Hours: hours, Power: r.power(s, drawn)}
		if !part.Power.Known {
			complete = false
			out.miss(fmt.Sprintf("what the banks give in %q", p.Condition))
			for _, m := range s.Missing {
				out.miss(m)
			}
		}
		for _, t := range s.Takers {
			on[t.Of.Item] += hours
		}
		out.Hours += hours
		out.add(part)
	}
	if out.Hours > 24 {
		out.Notes = append(out.Notes, fmt.Sprintf("its conditions take %.4g hours together", out.Hours))
	}
	complete = r.rest(sys, plan, config, &out, drawn) && complete
	complete = r.ownHours(sys, plan, config, &out, on, drawn) && complete
	if complete {
		total := 0.0
		for _, p := range out.Parts {
			total += float64(p.Energy.Value)
		}
		out.Demand = quantity.Some(quantity.WattHour(total))
	}
	out.conclude(r, drawn)
	return out
}

// dark is a condition without its arrays.
func dark(c circuit.Condition) circuit.Condition {
	c.Settings = slices.DeleteFunc(slices.Clone(c.Settings), func(s circuit.Setting) bool { return s.Item != nil && s.Item.Kind == "array" })
	return c
}

// power is what all banks give together, by their nominal voltage, what charges
// another bank deducted; the banks that give are noted.
func (r Report) power(s size.Solved, drawn map[*Bank]bool) quantity.Opt[quantity.Watt] {
	watts := 0.0
	for _, b := range r.Banks {
		if !b.Of.Status.In(s.Configuration) {
			continue
		}
		e := b.endurance(s)
		if !e.Current.Known || !b.Voltage.Known {
			return quantity.Opt[quantity.Watt]{}
		}
		amps := float64(e.Current.Value)
		if amps < 0 {
			amps *= b.Efficiency // what is lost in it does not come out again
		} else if amps > 1e-6 {
			drawn[b] = true
		}
		watts += amps * float64(b.Voltage.Value)
	}
	return quantity.Some(quantity.Watt(watts))
}

// rest adds what draws in the hours that no condition has: with nothing named,
// converters idle, coils and monitors. The banks are taken as full, so that none
// charges another all that time; what they give is counted in watts.
func (r Report) rest(sys *circuit.System, plan *size.Plan, config circuit.Configuration, out *Day, drawn map[*Bank]bool) bool {
	hours := 24 - out.Hours
	if hours <= 1e-9 {
		return true
	}
	s := size.SolveCondition(sys, plan, circuit.Condition{Settings: []circuit.Setting{{Batteries: "full"}}}, config)
	part := Part{Name: "at rest", Hours: hours, Power: quantity.Some(quantity.Watt(0))}
	for _, b := range r.Banks {
		if !b.Of.Status.In(config) {
			continue
		}
		e := b.endurance(s)
		if !e.Power.Known {
			part.Power.Known = false
			break
		}
		if e.Power.Value > 1e-6 && len(givers(sys, s, b.Of)) == 0 { // else what holds it full gives the most of it
			drawn[b] = true
		}
		part.Power.Value += e.Power.Value
	}
	var takes, silent []string
	for _, t := range s.Takers {
		if t.Power.Known && t.Power.Value > 0 {
			takes = append(takes, t.Of.String())
		}
	}
	for _, c := range s.Sources {
		switch f := c.Of.Facts.Idle; {
		case !c.Of.Nature().Converts || slices.Contains(silent, c.Of.Ref) || !c.Current.Known:
		case f.Known():
			takes = append(takes, c.Of.Ref)
		case c.Of.Kind != "regulator" && c.Of.Kind != "transformer" && c.Of.Kind != "charger":
			silent = append(silent, c.Of.Ref)
		}
	}
	if len(takes) > 0 {
		out.Notes = append(out.Notes, "at rest: "+strings.Join(takes, ", "))
	}
	if len(silent) > 0 {
		out.Notes = append(out.Notes, "not written, and not counted: idle of "+strings.Join(silent, ", "))
	}
	if !part.Power.Known {
		out.miss("what the banks give at rest")
		for _, m := range s.Missing {
			out.miss(m)
		}
	}
	if !part.Power.Known || part.Power.Value > 1e-6 {
		out.add(part)
	}
	return part.Power.Known
}

// ownHours adds the loads that state how long they run in a day, for what the
// conditions leave of it. Without a timetable every load has to say.
func (r Report) ownHours(sys *circuit.System, plan *size.Plan, config circuit.Configuration, out *Day, on map[*circuit.Item]float64, drawn map[*Bank]bool) bool {
	var silent []string
	complete := true
	var base quantity.Opt[quantity.Watt]
	for _, it := range sys.Items {
		if !it.Nature().Load || !it.Status.In(config) || it.Domain == nil {
			continue
		}
		h := it.Facts.HoursPerDay
		if !h.Known() {
			if out.Hours == 0 || h.State == circuit.Unknown {
				silent = append(silent, strings.TrimSuffix(it.Ref, ".load"))
			}
			continue
		}
		left := float64(h.Value)/hour - on[it]
		if left <= 1e-9 {
			continue
		}
		if !base.Known {
			base = r.power(size.SolveCondition(sys, plan, circuit.Condition{}, config), map[*Bank]bool{})
		}
		s := size.SolveCondition(sys, plan, circuit.Condition{Settings: []circuit.Setting{{Item: it, On: true}}}, config)
		part := Part{Name: called(it), Hours: left}
		if with := r.power(s, drawn); with.Known && base.Known {
			part.Power = quantity.Some(with.Value - base.Value)
		} else {
			complete = false
			out.miss("what the banks give to " + it.Ref)
		}
		out.add(part)
	}
	if len(silent) > 0 {
		complete = false
		out.miss("hours in a day of " + strings.Join(silent, ", ") + ", or conditions with their hours")
	}
	return complete && len(out.Parts) > 0
}

// called is how a day names a load: by its way and label where it is on one.
func called(it *circuit.Item) string {
	if it.Way != nil && it.Way.Device != nil {
		return strings.TrimSpace(it.Way.Device.Ref + " " + it.Way.Label)
	}
	return strings.TrimSpace(it.Ref + " " + it.Label)
}

func (d *Day) add(p Part) {
	if p.Power.Known {
		p.Energy = quantity.Some(quantity.WattHour(float64(p.Power.Value) * p.Hours))
	}
	d.Parts = append(d.Parts, p)
}

func (d *Day) miss(fact string) {
	if !slices.Contains(d.Missing, fact) {
		d.Missing = append(d.Missing, fact)
	}
}

// harvest is each array's rated power by the hours of full sun and the yield.
func (d *Day) harvest(sys *circuit.System, day circuit.Day) {
	total, known := 0.0, true
	for _, it := range sys.Items {
		if it.Kind != "array" || !it.Status.In(d.Configuration) {
			continue
		}
		h := Harvest{Of: it}
		f := it.Facts
		switch {
		case day.Sun.State == circuit.Unstated:
		case !day.Sun.Known():
			d.miss("sun of the day")
		case !day.Yield.Known():
			d.miss(fmt.Sprintf("yield of day %q", day.Name))
		case !f.Power.Known():
			d.miss("power of " + it.Ref)
		default:
			h.Energy = quantity.Some(Harvested(quantity.Watt(float64(f.Power.Value)*float64(max(1, f.InSeries)*max(1, f.InParallel))), day.Sun.Value, day.Yield.Value))
		}
		known = known && h.Energy.Known
		total += float64(h.Energy.Value)
		d.Harvests = append(d.Harvests, h)
	}
	if day.Sun.State != circuit.Unstated && known && len(d.Harvests) > 0 {
		d.Solar = quantity.Some(quantity.WattHour(total))
	}
}

// Harvested is what modules of a rated power bring by hours of full sun and a
// yield that has all losses in it.
func Harvested(rated quantity.Watt, sun quantity.Second, yield quantity.Percent) quantity.WattHour {
	return quantity.WattHour(float64(rated) * float64(sun) / hour * float64(yield) / 100)
}

// conclude holds what the day takes against what it brings.
func (d *Day) conclude(r Report, drawn map[*Bank]bool) {
	store, known := 0.0, true
	for _, b := range r.Banks {
		if drawn[b] {
			known = known && b.Energy.Known
			store += float64(b.Energy.Value)
			for _, m := range b.Missing {
				d.miss(m)
			}
		}
	}
	if known && store > 0 {
		d.Store = quantity.Some(quantity.WattHour(store))
	}
	if !d.Demand.Known || d.Demand.Value <= 0 {
		return
	}
	if d.Store.Known {
		d.Lasts = quantity.Some(quantity.Number(d.Store.Value / d.Demand.Value))
	}
	short := float64(d.Demand.Value)
	if d.Solar.Known {
		d.Balance = quantity.Some(d.Solar.Value - d.Demand.Value)
		short = -float64(d.Balance.Value)
	} else if d.Sun.Known {
		return // how much the sun brings is not known, nor then what is short
	}
	if short <= 0 {
		return
	}
	if d.Store.Known {
		d.Lacks = quantity.Some(quantity.Number(float64(d.Store.Value) / short))
	}
	for _, c := range r.Conditions {
		if len(c.Charging) != 1 || c.Configuration != d.Configuration || c.Charging[0].Kind == "array" {
			continue
		}
		watts := 0.0
		for _, e := range c.Banks {
			if drawn[e.Bank] && e.Charge.Known && e.Voltage.Known {
				watts += float64(e.Charge.Value) * float64(e.Voltage.Value) * e.Efficiency
			}
		}
		if watts > 0 {
			d.Runs = append(d.Runs, Running{c.Charging, quantity.Watt(watts), short / watts})
		}
	}
}
