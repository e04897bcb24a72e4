package resolve

import (
	"math"
	"strconv"

	"strake/lang/circuit"
	"strake/lang/quantity"
	"strake/lang/syntax"
)

// largestCount bounds whole numbers and ranges: nothing afloat has more of one thing.
const largestCount = 200

// slot is what a form's slot takes. Limits are there to catch slips of the pen:
// a number beyond them is no number of a small craft.
type slot struct {
	base      string // unit in which the quantity counts; empty: none
	name      string // "a current (A)"
	example   string
	low, high float64 // both included
	above     bool    // the low limit itself is excluded
	whole     bool
}

var slots = map[string]slot{
	"V":        {"V", "a voltage (V)", "48 V", 0, 2000, true, false},
	"V0":       {"V", "a voltage (V)", "44 V", 0, 2000, false, false},
	"A":        {"A", "a current (A)", "100 A", 0, 1e6, true, false},
	"mA":       {"A", "a current in mA", "30 mA", 0, 1e6, true, false},
	"W":        {"W", "a power (W)", "60 W", 0, 1e7, true, false},
	"VA":       {"VA", "an apparent power (VA)", "3 kVA", 0, 1e7, true, false},
	"ohm":      {"ohm", "a resistance (ohm)", "14 mohm", 0, 1000, true, false},
	"Mohm":     {"ohm", "a resistance (ohm)", "200 Mohm", 0, 1e12, true, false},
	"m":        {"m", "a length (m)", "4.2 m", 0, 1000, true, false},
	"mm2":      {"mm2", "a section (mm2)", "16 mm2", 0, 1000, true, false},
	"degC":     {"degC", "a temperature (degC)", "40 degC", -60, 300, false, false},
	"Hz":       {"Hz", "a frequency (Hz)", "50 Hz", 0, 1000, true, false},
	"Ah":       {"Ah", "a capacity (Ah)", "100 Ah", 0, 1e5, true, false},
	"A2s":      {"A2s", "a let-through (A2s)", "12 kA2s", 0, 1e9, true, false},
	"s":        {"s", "a time (s, min, h)", "3 min", 0, 1e7, true, false},
	"h/day":    {"h/day", "hours a day (h/day)", "6 h/day", 0, 86400, true, false},
	"%":        {"%", "a percentage (%)", "80 %", 0, 1000, true, false},
	"%/K":      {"%/K", "a percentage for each kelvin (%/K)", "-0.27 %/K", -5, 0, false, false},
	"V/K":      {"V/K", "millivolts for each kelvin (mV/K)", "-110 mV/K", -5, 0, false, false},
	"count":    {"", "a whole number", "2", 1, largestCount, false, true},
	"fraction": {"", "a number up to 1", "0.94", 0, 1, true, false},
	"number":   {"", "a plain number", "4", 0, 1000, false, false},
	"cores":    {name: "cores and their section, as in 3G2.5", example: "3G2.5"},
	"gauge":    {name: "a gauge from 0000 to 30", example: "2", low: 1, high: 30},
	"place":    {name: "the name of a place", example: "engine-space"},
	"word":     {name: "a word", example: "NAME"},
	"label":    {name: "a text in quotes", example: `"Name"`},
}

// falls tells a number that lies below nought: what falls as it warms.
func (s slot) falls() bool { return s.low < 0 && s.high == 0 }

func (s slot) limits() string {
	plain := func(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }
	from := "from " + plain(s.low)
	if s.above {
		from = "above " + plain(s.low)
	}
	unit := s.base
	if unit != "" {
		unit = " " + unit
	}
	if s.falls() {
		return from + unit + " and below 0"
	}
	return from + " and up to " + plain(s.high) + unit
}

// measure reads a number with its unit for a slot.
func (p part) measure(q *syntax.Quantity) (circuit.Fact[quantity.Number], reason, bool) {
	s := slots[p.slot]
	fact := circuit.Fact[quantity.Number]{Span: q.Span, State: circuit.Stated}
	unit := ""
	if q.Unit != nil {
		unit = q.Unit.Text
	}
	if p.slot == "mA" && unit != "mA" {
		return fact, otherUnit, false
	}
	unitOf, known := quantity.Plain, true
	if unit != "" {
		unitOf, known = quantity.FindUnit(unit)
	}
	switch {
	case unit == "" && s.base != "":
		return fact, noUnit, false
	case !known || unitOf.Base != s.base:
		return fact, otherUnit, false
	case q.Unknown:
		fact.State = circuit.Unknown
		return fact, 0, true
	case q.About:
		fact.State = circuit.About
	}
	value, ok := unitOf.Value(q.Number)
	switch {
	case s.whole && (!ok || value < s.low || value > s.high || value != math.Trunc(value)):
		return fact, notWhole, false
	case !ok || math.IsNaN(value) || value < s.low || value > s.high || s.above && value == s.low || s.falls() && value == 0:
		return fact, outOfRange, false
	}
	fact.Value = quantity.Number(value)
	return fact, 0, true
}
