package table

import "strake/lang/quantity"

// Returned is what a chemistry gives back of what was put in.
type Returned struct {
	Usable quantity.Percent // of the capacity, where nothing is stated
	Ampere float64          // ampere-hours out of one put in
}

// ReturnedOf is that of a chemistry by its word: lfp, agm, gel, flooded.
func ReturnedOf(name string) (Cited[Returned], bool) {
	for _, r := range read("energy") {
		if r["chemistry"] == name {
			return Cited[Returned]{Returned{quantity.Percent(r.number("usable_percent")), r.number("ampere_hour_efficiency")}, r["source"]}, true
		}
	}
	return Cited[Returned]{}, false
}
