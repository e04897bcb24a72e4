package table

import (
	"math"
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

// column is the capacities of single conductors of one insulation class in free
// air at 30 °C, by ascending section.
type column struct {
	class quantity.Celsius
	rows  []capacity
}

type capacity struct {
	area   quantity.SquareMM
	amps   float64
	source string
}

var (
	columnsISO = sync.OnceValue(func() []column {
		return columns("ampacity_iso", func(r row) quantity.SquareMM { return quantity.SquareMM(r.number("area_mm2")) })
	})
	columnsABYC = sync.OnceValue(func() []column {
		return columns("ampacity_abyc", func(r row) quantity.SquareMM {
			area, _ := AWG(r["awg"])
			return area
		})
	})
)

// columns reads a table whose rows stand by column and ascending section.
func columns(name string, area func(row) quantity.SquareMM) []column {
	var list []column
	for _, r := range read(name) {
		class := quantity.Celsius(r.number("insulation_c"))
		if len(list) == 0 || list[len(list)-1].class != class {
			list = append(list, column{class: class})
		}
		c := &list[len(list)-1]
		c.rows = append(c.rows, capacity{area(r), r.number("ampere_30"), r["source"]})
	}
	return list
}

func (s Set) columns() []column {
	if s == ABYC {
		return columnsABYC()
	}
	return columnsISO()
}

// column is the column of an insulation class: the hottest that is not above it.
func (s Set) column(class quantity.Celsius) (column, bool) {
	best := column{}
	for _, c := range s.columns() {
		if c.class <= class && c.class > best.class {
			best = c
		}
	}
	return best, len(best.rows) > 0
}

// Column is the class of the column that a conductor takes: the hottest one that
// is not above its own. False below the coolest.
func (s Set) Column(class quantity.Celsius) (quantity.Celsius, bool) {
	c, ok := s.column(class)
	return c.class, ok
}

// Ampacity is the largest continuous current of a single conductor in free air
// at 30 °C. Between two sections of the table it is interpolated in a straight
// line, which lies below the curve; outside the table nothing is known.
func (s Set) Ampacity(area quantity.SquareMM, class quantity.Celsius) (Cited[quantity.Ampere], bool) {
	c, ok := s.column(class)
	if !ok || area < c.rows[0].area {
		return Cited[quantity.Ampere]{}, false
	}
	for i, above := range c.rows {
		switch {
		case above.area == area:
			return Cited[quantity.Ampere]{quantity.Ampere(above.amps), above.source}, true
		case above.area > area:
			below := c.rows[i-1]
			share := float64(area-below.area) / float64(above.area-below.area)
			return Cited[quantity.Ampere]{quantity.Ampere(below.amps + float64(share*(above.amps-below.amps))), "interpolated between sections: " + below.source}, true
		}
	}
	return Cited[quantity.Ampere]{}, false
}

// spaced is a row's key: a set with the class of a column.
type spaced struct {
	set    Set
	column quantity.Celsius
}

var engineSpaces = sync.OnceValue(func() map[spaced]Cited[float64] {
	m := map[spaced]Cited[float64]{}
	for _, r := range read("engine_space") {
		m[spaced{Set(r["set"]), quantity.Celsius(r.number("insulation_c"))}] = Cited[float64]{r.number("factor"), r["source"]}
	}
	return m
})

// EngineSpace is the factor of a column in an engine space; false where the
// class is not allowed there.
func (s Set) EngineSpace(column quantity.Celsius) (Cited[float64], bool) {
	f, ok := engineSpaces()[spaced{s, column}]
	return f, ok
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
)

// Installation is a reference method of IEC 60364-5-52.
type Installation struct {
	Insulation string // pvc, xlpe, flexible
	Method     string // A, B1, B2, C, F, free
	Multicore  bool
	Loaded     int // loaded conductors, 2 or 3
}

// installed is a row's key: a reference method with a section.
type installed struct {
	Installation
	area quantity.SquareMM
}

var ampacitiesAC = sync.OnceValue(func() map[installed]Cited[quantity.Ampere] {
	m := map[installed]Cited[quantity.Ampere]{}
	for _, r := range read("ampacity_ac") {
		in := Installation{r["insulation"], r["method"], r["cores"] == "multicore", int(r.number("loaded"))}
		m[installed{in, quantity.SquareMM(r.number("area_mm2"))}] = Cited[quantity.Ampere]{quantity.Ampere(r.number("ampere_30")), r["source"]}
	}
	return m
})

// AmpacityAC is the current of a reference method at 30 °C, of a section that
// stands in the table.
func AmpacityAC(in Installation, area quantity.SquareMM) (Cited[quantity.Ampere], bool) {
	a, ok := ampacitiesAC()[installed{in, area}]
	return a, ok
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
