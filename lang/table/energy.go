package table

import "strake/lang/quantity"

// Energy is what a chemistry gives back of what was put in.
type Energy struct {
	Usable quantity.Percent // of the capacity, where nothing is stated
	Ampere float64          // ampere-hours out of one put in
}

// EnergyOf is that of a chemistry by its word: lfp, agm, gel, flooded.
func EnergyOf(name string) (Cited[Energy], bool) {
	for _, r := range read("energy") {
		if r["chemistry"] == name {
			return Cited[Energy]{Energy{quantity.Percent(r.number("usable_percent")), r.number("ampere_hour_efficiency")}, r["source"]}, true
		}
	}
	return Cited[Energy]{}, false
}
