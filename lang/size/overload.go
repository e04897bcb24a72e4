package size

import "slices"

// Unsolved is the declared conditions of a configuration that have no solution
// although batteries and cables deliver: something that converts is asked for
// more than it gives, so that nothing behind it has a voltage, or converters
// feed one another in a ring.
func Unsolved(solutions []Solved) []Solved {
	return slices.DeleteFunc(slices.Clone(solutions), func(s Solved) bool { return s.Refused == "" || s.Short })
}
