package table

import (
	"math"
	"strings"
	"sync"

	"strake/lang/quantity"
)

// Set is a set of tables and rules, as `rules` in the text names it.
type Set string

const (
	ISO  Set = "iso-13297"
	ABYC Set = "abyc-e11"
)

// SetOf is the set of a craft's `rules`; unsaid or unknown it is ISO's.
func SetOf(rules string) Set {
	if rules == string(ABYC) {
		return ABYC
	}
	return ISO
}

// capacity is a row of a set's table of single conductors in free air at 30 °C.
type capacity struct {
	class  quantity.Celsius
	area   quantity.SquareMM
	amps   float64
	source string
}

var capacitiesISO = sync.OnceValue(func() []capacity {
	var list []capacity
	for _, r := range read("ampacity_iso") {
		list = append(list, capacity{quantity.Celsius(r.number("insulation_c")), quantity.SquareMM(r.number("area_mm2")), r.number("ampere_30"), r["source"]})
	}
	return list
})

var capacitiesABYC = sync.OnceValue(func() []capacity {
	var list []capacity
	for _, r := range read("ampacity_abyc") {
		area, _ := AWG(r["awg"])
		list = append(list, capacity{quantity.Celsius(r.number("insulation_c")), area, r.number("ampere_30"), r["source"]})
	}
	return list
})

func (s Set) capacities() []capacity {
	if s == ABYC {
		return capacitiesABYC()
	}
	return capacitiesISO()
}

// Column is the column of the set's table that a conductor of an insulation
// class takes: the hottest one that is not above the class. False below the
// coolest.
func (s Set) Column(class quantity.Celsius) (quantity.Celsius, bool) {
	best := quantity.Celsius(math.Inf(-1))
	for _, c := range s.capacities() {
		if c.class <= class && c.class > best {
			best = c.class
		}
	}
	return best, !math.IsInf(float64(best), -1)
}

// Ampacity is the largest continuous current of a single conductor in free air
// at 30 °C. Between two sections of the table it is interpolated in a straight
// line, which lies below the curve; outside the table nothing is known.
func (s Set) Ampacity(area quantity.SquareMM, class quantity.Celsius) (Cited[quantity.Ampere], bool) {
	column, ok := s.Column(class)
	if !ok {
		return Cited[quantity.Ampere]{}, false
	}
	var below, above *capacity
	for _, c := range s.capacities() {
		if c.class != column {
			continue
		}
		if c.area <= area && (below == nil || c.area > below.area) {
			below = &c
		}
		if c.area >= area && (above == nil || c.area < above.area) {
			above = &c
		}
	}
	switch {
	case below == nil || above == nil:
		return Cited[quantity.Ampere]{}, false
	case below.area == above.area:
		return Cited[quantity.Ampere]{quantity.Ampere(below.amps), below.source}, true
	}
	share := float64(area-below.area) / float64(above.area-below.area)
	return Cited[quantity.Ampere]{quantity.Ampere(below.amps + float64(share*(above.amps-below.amps))), "interpolated between sections: " + below.source}, true
}

// EngineSpace is the factor of a column in an engine space; false where the
// class is not allowed there.
func (s Set) EngineSpace(column quantity.Celsius) (Cited[float64], bool) {
	for _, r := range read("engine_space") {
		if r["set"] == string(s) && quantity.Celsius(r.number("insulation_c")) == column {
			return Cited[float64]{r.number("factor"), r["source"]}, true
		}
	}
	return Cited[float64]{}, false
}

// Bundling is the factor for a number of loaded conductors together.
func (s Set) Bundling(conductors int) Cited[float64] {
	for _, r := range read("bundling") {
		if r["set"] == string(s) && conductors >= int(r.number("least")) && conductors <= int(r.number("most")) {
			return Cited[float64]{r.number("factor"), r["source"]}
		}
	}
	return Cited[float64]{1, "no factor for fewer"}
}

// Ambient is the factor for an ambient temperature other than 30 °C of a
// conductor that may reach limit: √((limit − ambient)/(limit − 30)), at most 1;
// 0 when the ambient is at the limit or above.
func Ambient(limit, ambient quantity.Celsius) float64 {
	switch {
	case ambient <= 30:
		return 1
	case ambient >= limit:
		return 0
	}
	return math.Sqrt(float64(limit-ambient) / float64(limit-30))
}

// Factors of installation that the text can say, and the one for what it does not.
const (
	InConduit     = 0.7 // computed from BS 7671 method B1 against the boat table
	BundlingUnset = 0.6 // 4 to 6 together, the stricter of the two sets
	Lagged        = 0.5 // surrounded by thermal insulation, BS 7671 523.9
)

// Installation is a reference method of IEC 60364-5-52.
type Installation struct {
	Insulation string // pvc, xlpe, flexible
	Method     string // A, B1, B2, C, F, free
	Multicore  bool
	Loaded     int // loaded conductors, 2 or 3
}

// AmpacityAC is the current of a reference method at 30 °C, of a section that
// stands in the table.
func AmpacityAC(in Installation, area quantity.SquareMM) (Cited[quantity.Ampere], bool) {
	for _, r := range read("ampacity_ac") {
		if r["insulation"] == in.Insulation && r["method"] == in.Method && (r["cores"] == "multicore") == in.Multicore &&
			int(r.number("loaded")) == in.Loaded && quantity.SquareMM(r.number("area_mm2")) == area {
			return Cited[quantity.Ampere]{quantity.Ampere(r.number("ampere_30")), r["source"]}, true
		}
	}
	return Cited[quantity.Ampere]{}, false
}

// AmbientAC is the ambient factor of IEC 60364-5-52 for pvc or xlpe: that of
// the next hotter row.
func AmbientAC(insulation string, ambient quantity.Celsius) (Cited[float64], bool) {
	for _, r := range read("ambient_ac") {
		if r["insulation"] == insulation && quantity.Celsius(r.number("ambient_c")) >= ambient {
			return Cited[float64]{r.number("factor"), r["source"]}, true
		}
	}
	return Cited[float64]{}, false
}

// GroupingAC is the factor for circuits bunched together: that of the next
// larger number.
func GroupingAC(circuits int) (Cited[float64], bool) {
	for _, r := range read("grouping_ac") {
		if int(r.number("circuits")) >= circuits {
			return Cited[float64]{r.number("factor"), r["source"]}, true
		}
	}
	return Cited[float64]{}, false
}

// DropAC is the published drop in mV per ampere and metre of a two-core cable.
func DropAC(area quantity.SquareMM, insulation string) (Cited[float64], bool) {
	for _, r := range read("drop_ac") {
		if quantity.SquareMM(r.number("area_mm2")) == area && strings.EqualFold(r["insulation"], insulation) {
			return Cited[float64]{r.number("mv_per_a_m"), r["source"]}, true
		}
	}
	return Cited[float64]{}, false
}
