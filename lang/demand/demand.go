// Package demand owns what a craft takes in each of its operating conditions:
// the solved networks, the load of every bar and way with what is left of it
// and what binds, how long the banks last, how they are charged, and what a day
// takes and brings. It knows neither the text's form nor how anything is
// printed, and judges nothing: severities are the rules'.
package demand

import (
	"slices"
	"strings"

	"strake/lang/circuit"
	"strake/lang/quantity"
	"strake/lang/size"
)

// Report is all that is worked out of a craft's demand. What is not known has
// Known false, and the fact that it lacks is named.
type Report struct {
	Conditions []Condition // the declared ones, or everything on; then charging
	Faults     []size.NodeFault
	Banks      []*Bank
	Boards     []Diversity
	Days       []Day

	Assumptions []circuit.Assumption // defaults that were used, besides those of the plan
}

// Condition is one operating condition in one configuration.
type Condition struct {
	size.Solved
	Charging []*circuit.Item // of a charging situation: its sources
	Lowest   *Low            // the node that has the least of its domain's nominal voltage
	Banks    []Endurance
}

// Low is a node's voltage in percent of its domain's nominal.
type Low struct {
	size.NodeVoltage
	Share quantity.Percent
}

var configurations = []circuit.Configuration{circuit.AsHandedOver, circuit.FullyEquipped}

// New works out every condition of a craft that was sized.
func New(sys *circuit.System, plan *size.Plan) Report {
	r := Report{Faults: plan.Faults, Banks: banks(sys), Boards: diversities(sys, plan)}
	for _, b := range r.Banks {
		r.Assumptions = append(r.Assumptions, b.Assumed...)
	}
	for _, s := range size.Conditions(sys, plan) {
		r.Conditions = append(r.Conditions, r.condition(s, nil))
		r.Assumptions = append(r.Assumptions, s.Assumptions...)
	}
	for _, config := range configurations {
		for _, s := range size.Charging(sys, plan, config) {
			c := r.condition(s.Solved, s.From)
			r.Assumptions = append(r.Assumptions, s.Assumptions...)
			c.restrict()
			for i := range c.Banks {
				c.Banks[i].Givers = givers(sys, c.Solved, c.Banks[i].Of)
			}
			r.Conditions = append(r.Conditions, c)
		}
	}
	days := slices.Clone(sys.Days)
	slices.SortStableFunc(days, func(a, b circuit.Day) int { return month(a.Name) - month(b.Name) })
	for _, d := range days {
		for _, config := range configurations {
			r.Days = append(r.Days, r.day(sys, plan, d, config))
		}
	}
	return r
}

// month is the number of the month that a day is named for, or 0.
func month(name string) int {
	for i, m := range []string{"jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec"} {
		if strings.HasPrefix(strings.ToLower(name), m) {
			return i + 1
		}
	}
	return 0
}

// Refused tells whether a condition has no solution: more is asked than can be
// delivered.
func (r Report) Refused() bool {
	return slices.ContainsFunc(r.Conditions, func(c Condition) bool { return c.Refused != "" })
}

func (r Report) condition(s size.Solved, from []*circuit.Item) Condition {
	c := Condition{Solved: s, Charging: from, Lowest: lowest(s)}
	for _, b := range r.Banks {
		if b.Of.Status.In(s.Configuration) {
			c.Banks = append(c.Banks, b.endurance(s))
		}
	}
	return c
}

// lowest finds where the voltage is lowest in relation to its domain's nominal,
// among what takes power.
func lowest(s size.Solved) *Low {
	var least *Low
	for _, n := range s.Nodes {
		d := n.Of.Item.PortDomain(n.Of.Port)
		if !slices.ContainsFunc(s.Takers, func(t size.TakerCurrent) bool { return t.Of == n.Of }) || !n.Voltage.Known || d == nil || !d.Nominal.Known() || d.Nominal.Value <= 0 {
			continue
		}
		share := quantity.Percent(100 * float64(n.Voltage.Value) / float64(d.Nominal.Value))
		if least == nil || share < least.Share {
			least = &Low{n, share}
		}
	}
	return least
}
