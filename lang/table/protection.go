package table

import (
	"math"
	"sync"

	"strake/lang/quantity"
)

// FuseClass is what a fuse of a construction is good for where its own list
// does not say: the worst of its class. A zero voltage or breaking capacity is
// not known.
type FuseClass struct {
	Name    string
	Series  string // of ratings
	Voltage quantity.Opt[quantity.Volt]
	Breaks  quantity.Opt[quantity.Ampere]
}

// Class is a fuse's class by its word in the text.
func Class(name string) (Cited[FuseClass], bool) {
	for _, r := range read("fuse_classes") {
		if r["class"] != name {
			continue
		}
		c := FuseClass{Name: name, Series: r["series"]}
		if r["dc_volt"] != "" {
			c.Voltage = quantity.Some(quantity.Volt(r.number("dc_volt")))
		}
		if r["breaks_a"] != "" {
			c.Breaks = quantity.Some(quantity.Ampere(r.number("breaks_a")))
		}
		return Cited[FuseClass]{c, r["source"]}, true
	}
	return Cited[FuseClass]{}, false
}

// byCost is the classes of fuses from the plainest to the strongest, without
// those whose voltage or breaking capacity no table gives.
var byCost = []string{"blade", "strip", "bolt", "t", "nh"}

// ClassFor is the plainest class of fuse with a rating of at least so much, for a
// DC voltage and a fault current. False where none has.
func ClassFor(rating quantity.Ampere, volt quantity.Volt, fault quantity.Ampere) (Cited[FuseClass], bool) {
	for _, name := range byCost {
		c, ok := Class(name)
		if _, has := RatingAtLeast(c.Value.Series, rating); ok && has && c.Value.Voltage.Value >= volt && c.Value.Breaks.Value >= fault {
			return c, true
		}
	}
	return Cited[FuseClass]{}, false
}

var ratings = sync.OnceValue(func() map[string][]Cited[quantity.Ampere] {
	series := map[string][]Cited[quantity.Ampere]{}
	for _, r := range read("ratings") {
		series[r["series"]] = append(series[r["series"]], Cited[quantity.Ampere]{quantity.Ampere(r.number("ampere")), r["source"]})
	}
	return series
})

// Ratings is the standard rated currents of a series, ascending; nil for an
// unknown one. Series: iec-60269, mcb, blade, strip, bolt, class-t,
// gpv, marine-breaker, switch, bar.
func Ratings(series string) []Cited[quantity.Ampere] { return ratings()[series] }

// RatingAtLeast is the smallest rating of a series that is not below a current.
func RatingAtLeast(series string, least quantity.Ampere) (Cited[quantity.Ampere], bool) {
	for _, r := range Ratings(series) {
		if r.Value >= least {
			return r, true
		}
	}
	return Cited[quantity.Ampere]{}, false
}

// RatingAtMost is the largest rating of a series that is not above a current.
func RatingAtMost(series string, most quantity.Ampere) (Cited[quantity.Ampere], bool) {
	var best Cited[quantity.Ampere]
	for _, r := range Ratings(series) {
		if r.Value <= most {
			best = r
		}
	}
	return best, best.Value > 0
}

// Lengths of conductor from a source to its device (ISO 13297:2020 12.1, of
// alternating current 13.2.2, from memory, verify against the standard; a covered
// run, to which the standard sets no end, is held to 1 m here).
const (
	ReachBare    = quantity.Metre(0.2)
	ReachCovered = quantity.Metre(1.0) // in conduit or another cover throughout
	ReachAC      = quantity.Metre(0.5) // from an inlet, a generator, a transformer
)

// Adiabatic is the constant k of a use, in A·√s/mm². Uses: pvc-70,
// pvc-70-over-300, pvc-90, xlpe-90, rubber-60, rubber-85, pvc-separate,
// xlpe-separate, pvc-105, xlpe-105.
func Adiabatic(use string) (Cited[float64], bool) {
	for _, r := range read("adiabatic") {
		if r["use"] == use {
			return Cited[float64]{r.number("k"), r["source"]}, true
		}
	}
	return Cited[float64]{}, false
}

// WithstandArea is the section in mm² of a conductor of constant k (A·√s/mm²)
// that stands an energy in A²s: √(I²t)/k. It holds for faults of up to 5 s.
func WithstandArea(energy quantity.AmpereSquaredSecond, k float64) quantity.SquareMM {
	return quantity.SquareMM(math.Sqrt(float64(energy)) / k)
}

// FaultEnergy is what a current leaves in a conductor in a time, I²t. Below 0.1 s the
// device's let-through counts instead.
func FaultEnergy(i quantity.Ampere, t quantity.Second) quantity.AmpereSquaredSecond {
	return quantity.AmpereSquaredSecond(float64(i) * float64(i) * float64(t))
}

// ProtectiveConductor is the section of a protective conductor beside a live
// one by IEC 60364-5-54 Table 54.2 (from memory, verify against the standard).
func ProtectiveConductor(live quantity.SquareMM) quantity.SquareMM {
	switch {
	case live <= 16:
		return live
	case live <= 35:
		return 16
	}
	return live / 2
}

// Interrupting is what ABYC E-11 Table V-A asks a main and a branch device on
// lead batteries to break, by their cold cranking amperes.
func Interrupting(cca quantity.Ampere) (main, branch quantity.Ampere, source string) {
	for _, r := range read("interrupting") {
		main, branch, source = quantity.Ampere(r.number("main_a")), quantity.Ampere(r.number("branch_a")), r["source"]
		if r["cca_most"] != "" && float64(cca) <= r.number("cca_most") {
			return
		}
	}
	return
}

// Ratios of ratings from which two devices in line are selective: fuses of one class
// from two steps of the series, which 100/63 and 50/32 are (a fuse maker's guidance:
// 1.6 to 1), fuses of two classes from twice, a fuse before a breaker from 1.6
// (common practice).
const (
	AlikeRatio   = 1.58
	UnlikeRatio  = 2.0
	BreakerRatio = 1.6
)
