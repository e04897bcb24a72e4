package size

import "strake/lang/circuit"

// strain is the share of the largest fault current from which on a design current
// may be more than its way delivers. A constant power is beyond its way when its
// current is more than a quarter of the short-circuit current; that of the largest
// fault is up to twice the one that counts here, and the drop in the cables, which
// a rule of its own limits, comes besides.
const strain = 1.0 / 12

// Refused is the conditions of a configuration that have no solution: loads that
// ask for more than their batteries deliver. Where nothing is under strain nothing
// is solved.
func Refused(sys *circuit.System, plan *Plan, config circuit.Configuration) []Solved {
	if !strained(plan) {
		return nil
	}
	conditions := sys.Conditions
	if len(conditions) == 0 {
		conditions = []circuit.Condition{{Name: AllOn}}
	}
	var list []Solved
	for _, c := range conditions {
		if s := newBuilder(sys, plan, c, config, len(sys.Conditions) == 0).solve(); s.Short {
			list = append(list, s)
		}
	}
	return list
}

// strained tells whether a cable that a battery feeds carries a large share of
// what the battery gives into a fault.
func strained(plan *Plan) bool {
	for _, c := range plan.Cables {
		fed := false
		for _, side := range c.Feeds {
			fed = fed || len(side.Sources) > 0 && !side.Limited
		}
		if fed && c.DesignCurrent.Known && c.FaultMax.Known && float64(c.DesignCurrent.Value) > float64(c.FaultMax.Value)*strain {
			return true
		}
	}
	// what stands between bars, without a cable of its own
	cabled := map[*circuit.Item]bool{}
	for _, c := range plan.Cables {
		if !c.Of.Link {
			cabled[c.Of.From.Item], cabled[c.Of.To.Item] = true, true
		}
	}
	for _, d := range plan.Devices {
		if !cabled[d.Of] && d.Of.Way == nil && d.Current.Known && d.FaultMax.Known && float64(d.Current.Value) > float64(d.FaultMax.Value)*strain {
			return true
		}
	}
	return false
}
