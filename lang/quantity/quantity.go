// Package quantity owns typed electrical quantities, the units in which people
// write them and the way they are printed. It knows nothing of circuits.
package quantity

// Each quantity is a float64 in its SI unit or in the unit of its name.
type (
	Volt                float64
	Ampere              float64
	Watt                float64
	VoltAmpere          float64
	Ohm                 float64
	Metre               float64
	SquareMM            float64 // mm²
	Celsius             float64
	Kelvin              float64 // a difference
	Hertz               float64
	AmpereHour          float64
	AmpereSquaredSecond float64 // what a fault leaves in a conductor
	WattHour            float64
	Second              float64
	Percent             float64 // 3 is 3 %
	PerCentK            float64 // %/K
	VoltPerK            float64
	Number              float64 // a count or a plain ratio
)

// Opt is a quantity that may not be known. Not known is printed as null or as
// a dash, never as 0.
type Opt[T ~float64] struct {
	Value T
	Known bool
}

// Some is a known quantity.
func Some[T ~float64](v T) Opt[T] { return Opt[T]{Value: v, Known: true} }
