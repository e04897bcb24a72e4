package table

import (
	"math"

	"strake/lang/quantity"
)

// WorkingShare is the working voltage of a module over its open-circuit voltage
// (common practice).
const WorkingShare = 0.8

// ColdRelative is the open-circuit voltage of modules in series at a
// temperature, from their voltage at 25 °C and its change in %/K (negative).
func ColdRelative(inSeries int, voc quantity.Volt, change quantity.PerCentK, t quantity.Celsius) quantity.Volt {
	return quantity.Volt(float64(inSeries) * float64(voc) * (1 + float64(float64(change)/100*(float64(t)-25))))
}

// ColdAbsolute is the same with the change of one module in V/K.
func ColdAbsolute(inSeries int, voc quantity.Volt, change quantity.VoltPerK, t quantity.Celsius) quantity.Volt {
	return quantity.Volt(float64(inSeries) * (float64(voc) + float64(float64(change)*(float64(t)-25))))
}

// ColdFactor is what the open-circuit voltage is multiplied by when the
// module's own figure is not stated. Below −40 °C nothing is known; above 24 °C
// it is 1.
func ColdFactor(t quantity.Celsius) (Cited[float64], bool) {
	if t >= 25 {
		return Cited[float64]{1, "no rise above 25 °C"}, true
	}
	whole := math.Floor(float64(t))
	for _, r := range read("cold_pv") {
		if whole >= r.number("from_c") && whole <= r.number("to_c") {
			return Cited[float64]{r.number("factor"), r["source"]}, true
		}
	}
	return Cited[float64]{}, false
}

// ArrayCurrent is the current for which an array's cables are made: 1.25 times
// the short-circuit current of its strings (IEC 62548, from memory).
func ArrayCurrent(strings int, isc quantity.Ampere) quantity.Ampere {
	return quantity.Ampere(1.25 * float64(strings) * float64(isc))
}

// StringFuse tells whether strings in parallel need a fuse each, as the others
// can send more back into one than its modules allow, (N−1)·1.25·Isc, and between
// which ratings it lies: 1.5 to 2.4 times Isc, at most what the module allows. All
// in ampere (IEC 62548, as a published worked example; 1.25 from memory).
func StringFuse(strings int, isc, module quantity.Ampere) (needed bool, back, least, most quantity.Ampere) {
	back = ArrayCurrent(strings-1, isc)
	return back > module, back, quantity.Ampere(1.5 * float64(isc)), min(quantity.Ampere(2.4*float64(isc)), module)
}
