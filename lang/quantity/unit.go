package quantity

import (
	_ "embed"
	"encoding/csv"
	"math"
	"strconv"
	"strings"
)

// Unit is one way to write a quantity. Prefixes count: mA and MA are not alike.
type Unit struct {
	Symbol  string   // as the reference writes it: mm2
	Aliases []string // other spellings: mm²
	Base    string   // symbol of the unit in which the quantity's type counts; h/day counts seconds a day
	Name    string   // of the quantity: current

	exponent   int // of ten
	multiplier float64
}

//go:embed units.csv
var unitsFile string

var units = readUnits(unitsFile)

func readUnits(text string) []Unit {
	rows, err := csv.NewReader(strings.NewReader(text)).ReadAll()
	if err != nil {
		panic("units.csv: " + err.Error())
	}
	var out []Unit
	for _, row := range rows[1:] {
		exponent, err := strconv.Atoi(row[3])
		if err != nil {
			panic("units.csv: exponent of " + row[0])
		}
		multiplier, err := strconv.ParseFloat(row[4], 64)
		if err != nil {
			panic("units.csv: multiplier of " + row[0])
		}
		out = append(out, Unit{
			Symbol: row[0], Aliases: strings.Fields(row[1]), Base: row[2], Name: row[5],
			exponent: exponent, multiplier: multiplier,
		})
	}
	return out
}

// Units is every unit, in the order of the reference.
func Units() []Unit { return append([]Unit(nil), units...) }

// FindUnit is the unit of a spelling.
func FindUnit(text string) (Unit, bool) {
	for _, u := range units {
		if u.Symbol == text {
			return u, true
		}
		for _, a := range u.Aliases {
			if a == text {
				return u, true
			}
		}
	}
	return Unit{}, false
}

// Value is a number as written, in this unit, counted in the base unit; false
// when the text is no number or is too large to be one.
func (u Unit) Value(number string) (float64, bool) {
	if strings.ContainsAny(number, "eExXpP_iInN") { // forms of a number that the language has not
		return 0, false
	}
	v, err := strconv.ParseFloat(number+"e"+strconv.Itoa(u.exponent), 64)
	if err != nil {
		return 0, false
	}
	v = float64(v * u.multiplier)
	return v, !math.IsInf(v, 0)
}

// Plain is the unit of a number that has none.
var Plain = Unit{Name: "number", multiplier: 1}
