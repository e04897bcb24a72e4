package quantity

// How quantities are printed, in messages and on drawings alike. All rounding
// for the eye is here; sums use the full numbers.

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// scale is a unit that is used from a size on, with its decimals.
type scale struct {
	from     float64
	unit     string
	factor   float64 // a number in this unit is the value divided by it
	decimals int
}

// dash stands for what is not known.
const dash = "–"

func (v Volt) String() string {
	return show(float64(v), scale{10, "V", 1, 1}, scale{0.01, "V", 1, 2}, scale{0, "mV", 1e-3, 1})
}

func (v Ampere) String() string {
	return show(float64(v), scale{10e3, "kA", 1e3, 1}, scale{1e3, "kA", 1e3, 2}, scale{10, "A", 1, 1}, scale{1, "A", 1, 2}, scale{0, "mA", 1e-3, 0})
}

func (v Watt) String() string {
	return show(float64(v), scale{1e6, "MW", 1e6, 2}, scale{1e3, "kW", 1e3, 2}, scale{100, "W", 1, 0}, scale{1, "W", 1, 1}, scale{0, "mW", 1e-3, 0})
}

func (v VoltAmpere) String() string {
	return show(float64(v), scale{1e3, "kVA", 1e3, 2}, scale{0, "VA", 1, 0})
}

func (v Ohm) String() string {
	return show(float64(v), scale{1e3, "kΩ", 1e3, 2}, scale{1, "Ω", 1, 2}, scale{0.01, "mΩ", 1e-3, 1}, scale{0, "mΩ", 1e-3, 3})
}

func (v Metre) String() string { return show(float64(v), scale{0, "m", 1, 2}) }

func (v SquareMM) String() string { return show(float64(v), scale{0, "mm²", 1, 2}) }

func (v Celsius) String() string { return show(float64(v), scale{0, "°C", 1, 1}) }

func (v Kelvin) String() string { return show(float64(v), scale{0, "K", 1, 1}) }

func (v Hertz) String() string {
	return show(float64(v), scale{1e3, "kHz", 1e3, 2}, scale{0, "Hz", 1, 1})
}

func (v AmpereHour) String() string {
	return show(float64(v), scale{100, "Ah", 1, 0}, scale{0, "Ah", 1, 1})
}

func (v AmpereSquaredSecond) String() string {
	return show(float64(v), scale{1e4, "kA²s", 1e3, 0}, scale{1e3, "kA²s", 1e3, 1}, scale{0, "A²s", 1, 0})
}

func (v WattHour) String() string {
	return show(float64(v), scale{1e3, "kWh", 1e3, 2}, scale{0, "Wh", 1, 0})
}

func (v Second) String() string {
	return show(float64(v), scale{3600, "h", 3600, 2}, scale{60, "min", 60, 1}, scale{1, "s", 1, 1}, scale{0, "s", 1, 3})
}

func (v Percent) String() string {
	return show(float64(v), scale{0.1, "%", 1, 1}, scale{0, "%", 1, 2})
}

func (v PerCentK) String() string { return show(float64(v), scale{0, "%/K", 1, 3}) }

func (v VoltPerK) String() string {
	return show(float64(v), scale{0, "mV/K", 1e-3, 1}, scale{0, "V/K", 1, 1})
}

func (v Number) String() string {
	return strings.TrimSuffix(show(float64(v), scale{0, "", 1, 3}), " ")
}

// String is the quantity, or a dash when it is not known.
func (o Opt[T]) String() string {
	if !o.Known {
		return dash
	}
	return fmt.Sprint(o.Value)
}

// show takes the first scale that is small enough for the value as it will be
// rounded: 999.96 A is 1 kA and never 1000 A.
func show(v float64, scales ...scale) string {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return dash
	}
	for i, s := range scales {
		if v == 0 {
			if s.factor == 1 {
				return "0 " + s.unit
			}
			continue
		}
		if size := math.Abs(v); size < s.from && i+1 < len(scales) {
			next := scales[i+1]
			if round(size/next.factor, next.decimals)*next.factor < s.from {
				continue
			}
		}
		return decimal(v/s.factor, s.decimals) + " " + s.unit
	}
	return dash
}

func round(v float64, decimals int) float64 {
	r, err := strconv.ParseFloat(strconv.FormatFloat(v, 'f', decimals, 64), 64)
	if err != nil {
		return v
	}
	return r
}

// decimal is a number with at most so many decimals, without idle zeros. A
// half is rounded by the shortest decimal that means the number, so that 2.345
// is 2.35 although the nearest binary number lies below it.
func decimal(v float64, decimals int) string {
	nudged := v + math.Copysign(math.Abs(v)*1e-12, v)
	s := strconv.FormatFloat(nudged, 'f', decimals, 64)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	if s == "-0" {
		return "0"
	}
	return s
}
