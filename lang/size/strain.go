package size

import (
	"slices"

	"strake/lang/circuit"
)

// strain is the share of the largest fault current from which on a design current
// may be more than its way delivers. A constant power is beyond its way when its
// current is more than a quarter of the short-circuit current; that of the largest
// fault is up to twice the one that counts here, and the drop in the cables, which
// a rule of its own limits, comes besides.
const strain = 1.0 / 12

// Refused is the conditions of a configuration that have no solution: loads that
// ask for more than their batteries deliver. Where nothing is under strain nothing
// is solved.
func Refused(sys *circuit.System, plan *Plan, solutions func() []Solved) []Solved {
	if !strained(sys, plan) {
		return nil
	}
	return slices.DeleteFunc(slices.Clone(solutions()), func(s Solved) bool { return !s.Short })
}

// strained tells whether a cable that a battery feeds, or what hangs on one node,
// carries a large share of what the battery gives into a fault.
func strained(sys *circuit.System, plan *Plan) bool {
	s := newSizer(sys)
	w := s.wire(situation{config: circuit.FullyEquipped}, func(int) float64 { return least }, nil)
	amps := make([]float64, w.nodes)
	for _, t := range w.order {
		i, _ := s.demand(t, false)
		amps[w.node[t]] += float64(i)
	}
	for k, i := range w.cable {
		if i < 0 {
			continue
		}
		c := plan.Cables[i]
		fed := false
		for _, side := range c.Feeds {
			fed = fed || len(side.Sources) > 0 && !side.Limited
		}
		if fed && c.DesignCurrent.Known && c.FaultMax.Known && float64(c.DesignCurrent.Value) > float64(c.FaultMax.Value)*strain {
			return true
		}
		for _, n := range [...]int{w.branches[k].From, w.branches[k].To} { // what comes in goes out again
			amps[n] += float64(c.DesignCurrent.Value) / 2
		}
	}
	for _, l := range plan.Faults {
		if n, ok := w.node[l.Of]; ok && l.Max.Known && amps[n] > float64(l.Max.Value)*strain {
			return true
		}
	}
	return false
}
