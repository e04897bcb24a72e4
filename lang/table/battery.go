package table

import (
	"math"

	"strake/lang/quantity"
)

// Chemistry is what is taken of a battery whose maker's figures are not stated.
type Chemistry struct {
	Cell        quantity.Volt // nominal
	Highest     quantity.Volt // a cell, charging or equalising
	Lowest      quantity.Volt // a cell, end of discharge
	ColdPerK    float64       // volt a cell and kelvin below 25 °C
	ChargeC     float64       // largest charge, in multiples of the capacity
	DischargeC  float64
	Lithium     bool
	Description string
}

// ChemistryOf is a chemistry by its word: lfp, agm, gel, flooded.
func ChemistryOf(name string) (Cited[Chemistry], bool) {
	for _, r := range read("chemistry") {
		if r["chemistry"] == name {
			return Cited[Chemistry]{Chemistry{
				Cell: quantity.Volt(r.number("cell_nominal_v")), Highest: quantity.Volt(r.number("cell_highest_v")),
				Lowest: quantity.Volt(r.number("cell_lowest_v")), ColdPerK: r.number("cold_v_per_k_cell"),
				ChargeC: r.number("charge_c"), DischargeC: r.number("discharge_c"), Lithium: name == "lfp", Description: name,
			}, r["source"]}, true
		}
	}
	return Cited[Chemistry]{}, false
}

// Cells is how many cells a battery of a nominal voltage has in series.
func (c Chemistry) Cells(nominal quantity.Volt) float64 {
	return math.Round(float64(nominal / c.Cell))
}

// Ventilation is the air that a lead battery needs while it is charged hard, in
// m³/h, and the area in cm² of each of two openings that lets it through: Q =
// 0.05·n·I·C/1000 with I 20 mA/Ah of a vented battery, 8 of a sealed one, and A =
// 28·Q (published: IEC 62485-2, EN 50272-2).
func (c Chemistry) Ventilation(nominal quantity.Volt, capacity quantity.AmpereHour) (cubicMetresPerHour, squareCM float64) {
	gassing := 8.0
	if c.Description == "flooded" {
		gassing = 20
	}
	q := 0.05 * c.Cells(nominal) * gassing * float64(capacity) / 1000
	return q, 28 * q
}

// Top is the highest voltage of a battery: charging or equalising, and for lead
// the charger's compensation in the cold. The coldest temperature counts only
// when it is below 25 °C.
func (c Chemistry) Top(nominal quantity.Volt, coldest quantity.Celsius) quantity.Volt {
	n := c.Cells(nominal)
	return quantity.Volt(float64(n*float64(c.Highest)) + float64(n*c.ColdPerK*min(0, float64(coldest)-25)))
}

// Bottom is the lowest voltage of a battery in use.
func (c Chemistry) Bottom(nominal quantity.Volt) quantity.Volt {
	return quantity.Volt(c.Cells(nominal)) * c.Lowest
}
