package table

import (
	"math"
	"strconv"
	"strings"
	"sync"

	"strake/lang/quantity"
)

type resistance struct {
	area   quantity.SquareMM
	class  int
	tinned bool
	perKM  float64
	source string
}

var resistances = sync.OnceValue(func() []resistance {
	var list []resistance
	for _, r := range read("resistance") {
		list = append(list, resistance{quantity.SquareMM(r.number("area_mm2")), int(r.number("class")),
			r["surface"] == "tinned", r.number("ohm_per_km_20"), r["source"]})
	}
	return list
})

// Sizes is the standard sections in mm², ascending.
func Sizes() []quantity.SquareMM {
	var sizes []quantity.SquareMM
	for _, r := range resistances() {
		if r.class == 5 && r.tinned {
			sizes = append(sizes, r.area)
		}
	}
	return sizes
}

// Resistance is the greatest resistance in ohm per metre of one copper
// conductor at 20 °C by IEC 60228. Class is 2 or 5. A section between two
// standard ones takes the resistivity of the smaller or the larger one,
// whichever gives more; outside the table nothing is known.
func Resistance(area quantity.SquareMM, class int, tinned bool) (Cited[float64], bool) {
	list := resistances()
	below, above := -1, -1
	for i, r := range list {
		if r.class != class || r.tinned != tinned {
			continue
		}
		switch {
		case r.area == area:
			return Cited[float64]{r.perKM / 1000, r.source}, true
		case r.area < area:
			below = i
		case above < 0:
			above = i
		}
	}
	if below < 0 || above < 0 {
		return Cited[float64]{}, false
	}
	rho := max(list[below].perKM*float64(list[below].area), list[above].perKM*float64(list[above].area))
	return Cited[float64]{rho / float64(area) / 1000, "interpolated: " + list[below].source}, true
}

// annealed is the resistivity of annealed copper at 20 °C in Ω·mm²/m, IEC 60028.
const annealed = 0.017241

// ResistanceAWG is the resistance in ohm per metre at 20 °C of a stranded
// conductor of an American gauge, from its section: 2 % more for stranding, 4 %
// more for tin (from memory, verify with the maker).
func ResistanceAWG(area quantity.SquareMM, tinned bool) Cited[float64] {
	r := annealed / float64(area) * 1.02
	if tinned {
		r *= 1.04
	}
	return Cited[float64]{r, "ASTM B258 section, IEC 60028 copper; stranding and tin from memory"}
}

// AtTemperature is a resistance at a temperature, from that at 20 °C: annealed
// copper, IEC 60228 and 60028.
func AtTemperature(at20 float64, t quantity.Celsius) float64 {
	return at20 * (234.5 + float64(t)) / 254.5
}

// Reactance is that of a metre of one conductor of a mains cable in ohm at 50 or
// 60 Hz, the larger of what is made.
func Reactance() Cited[float64] { return reactance() }

var reactance = sync.OnceValue(func() Cited[float64] {
	r := read("reactance")[0]
	return Cited[float64]{r.number("ohm_per_km") / 1000, r["source"]}
})

// AWG is the section of a solid conductor of an American gauge by ASTM B258:
// "36" to "1", then "1/0" to "4/0". False for any other word.
func AWG(gauge string) (quantity.SquareMM, bool) {
	d, ok := AWGDiameter(gauge)
	return quantity.SquareMM(math.Pi / 4 * d * d), ok
}

// AWGDiameter is the diameter in mm of a solid conductor of an American gauge.
func AWGDiameter(gauge string) (float64, bool) {
	n, err := strconv.Atoi(gauge)
	if zeros, of, found := strings.Cut(gauge, "/"); found && of == "0" {
		n, err = strconv.Atoi(zeros)
		if n < 1 || n > 4 {
			return 0, false
		}
		n = 1 - n
	} else if n < 1 || n > 40 {
		return 0, false
	}
	return 0.127 * math.Pow(92, float64(36-n)/39), err == nil
}

// Gauges is the American gauges of the capacity table, from thin to thick.
func Gauges() []string {
	return []string{"18", "16", "14", "12", "10", "8", "6", "4", "3", "2", "1", "1/0", "2/0", "3/0", "4/0"}
}

// CircularMils is a section in circular mils.
func CircularMils(area quantity.SquareMM) float64 {
	return float64(area) * 4 / math.Pi / (0.0254 * 0.0254)
}

// ISODrop is the simplified drop of ISO 10133 and 13297 in volt: E =
// 0.0164·I·L/S with L the whole way out and back. It is 14 to 18 % short of a
// flexible cable's and governs nothing.
func ISODrop(i quantity.Ampere, outAndBack quantity.Metre, area quantity.SquareMM) quantity.Volt {
	return quantity.Volt(0.0164 * float64(i) * float64(outAndBack) / float64(area))
}

// MilsDrop is the drop in volt by the formula of ABYC E-11 and the American drop
// tables: E = 10.75·I·L/CM, with L in feet out and back and CM the section in
// circular mils. Like ISO's it leaves out warmth and tin, and governs nothing.
func MilsDrop(i quantity.Ampere, outAndBack quantity.Metre, area quantity.SquareMM) quantity.Volt {
	feet := float64(outAndBack) / 0.3048
	return quantity.Volt(10.75 * float64(i) * feet / CircularMils(area))
}

// Minimum is the smallest section in mm² of a set: of a single conductor, or of
// a core in a sheath.
func (s Set) Minimum(core bool) Cited[quantity.SquareMM] {
	use := "single"
	if core {
		use = "core"
	}
	for _, r := range read("minimum") {
		if r["use"] == use && r["set"] == string(s) {
			return Cited[quantity.SquareMM]{quantity.SquareMM(r.number("area_mm2")), r["source"]}
		}
	}
	return Cited[quantity.SquareMM]{}
}
