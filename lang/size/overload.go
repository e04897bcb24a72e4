package size

import "strake/lang/circuit"

// Unsolved is the declared conditions of a configuration that have no solution
// although batteries and cables deliver: something that converts is asked for
// more than it gives, so that nothing behind it has a voltage, or converters
// feed one another in a ring.
func Unsolved(sys *circuit.System, plan *Plan, config circuit.Configuration) []Solved {
	var list []Solved
	for _, c := range sys.Conditions {
		if s := SolveCondition(sys, plan, c, config); s.Refused != "" && !s.Short {
			list = append(list, s)
		}
	}
	return list
}
