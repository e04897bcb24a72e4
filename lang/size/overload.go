package size

import "strake/lang/circuit"

// Overloaded is the declared conditions of a configuration in which something
// that converts is asked for more than it gives, so that nothing behind it has a
// voltage.
func Overloaded(sys *circuit.System, plan *Plan, config circuit.Configuration) []Solved {
	var list []Solved
	for _, c := range sys.Conditions {
		if s := SolveCondition(sys, plan, c, config); s.Overloaded != nil {
			list = append(list, s)
		}
	}
	return list
}
