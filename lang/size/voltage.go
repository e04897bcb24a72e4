package size

import (
	"strake/lang/circuit"
	"strake/lang/quantity"
	"strake/lang/table"
)

// lowest is the lowest voltage of a domain in normal use: stated, or by its
// batteries, or for lead 10.5 V in 12 V; of AC its nominal.
func (s *sizer) lowest(d *circuit.Domain) (quantity.Volt, bool) {
	switch {
	case d == nil:
		return 0, false
	case d.Lowest.Known() && d.Lowest.Value > 0:
		return d.Lowest.Least(), true
	case !d.Nominal.Known():
		return 0, false
	case d.AC:
		return d.Nominal.Least(), true
	}
	low := d.Nominal.Least() * 10.5 / 12
	for _, it := range s.sys.Items {
		if it.Domain == d && it.Kind == "battery" && it.Facts.Voltage.Known() {
			if c, ok := table.ChemistryOf(it.Facts.Chemistry); ok {
				low = min(low, c.Value.Bottom(it.Facts.Voltage.Value))
			}
		}
	}
	s.notes.assume(d.Name, "lowest voltage taken from the chemistry of its batteries, or 10.5 V in 12 V", "from memory, verify with the maker")
	return low, true
}

// Highest is the highest voltage of a domain: stated, or by its batteries with
// their equalising charge and the charger's compensation at the coldest, or the
// lead-acid maximum. Of AC it is the nominal voltage and 10 % more.
func Highest(sys *circuit.System, d *circuit.Domain) (quantity.Volt, bool) {
	switch {
	case d == nil:
		return 0, false
	case d.Highest.Known():
		return d.Highest.Most(), true
	case !d.Nominal.Known():
		return 0, false
	case d.AC:
		return d.Nominal.Most() * 1.1, true
	}
	coldest := coldestOf(sys)
	top := quantity.Volt(0)
	for _, it := range sys.Items {
		if it.Domain != d || !it.Nature().Stores || !it.Facts.Voltage.Known() {
			continue
		}
		if c, ok := table.ChemistryOf(it.Facts.Chemistry); ok {
			top = max(top, c.Value.Top(it.Facts.Voltage.Value, coldest))
		}
	}
	if top == 0 {
		lead, _ := table.ChemistryOf("flooded")
		top = lead.Value.Top(d.Nominal.Most(), coldest)
	}
	return top, true
}

// coldestOf is the lowest temperature of a craft, -20 °C where it says none.
func coldestOf(sys *circuit.System) quantity.Celsius {
	if sys.Craft.Coldest.Known() {
		return sys.Craft.Coldest.Least()
	}
	return -20
}

func (s *sizer) highest(d *circuit.Domain) (quantity.Volt, bool) {
	if d != nil && !d.AC && !d.Highest.Known() && d.Nominal.Known() {
		s.notes.assume(d.Name, "highest voltage taken from the chemistry of its batteries, with the charger's rise in the cold", "from memory, verify with the maker")
	}
	return Highest(s.sys, d)
}

// ownVoltage is the highest or the lowest voltage of a battery that stands in no
// domain, as one of a string that is tapped: by its own numbers and its chemistry.
func (s *sizer) ownVoltage(it *circuit.Item, highest bool) (quantity.Volt, bool) {
	chemistry, ok := table.ChemistryOf(it.Facts.Chemistry)
	if !ok || !it.Facts.Voltage.Known() {
		return 0, false
	}
	if !highest {
		return chemistry.Value.Bottom(it.Facts.Voltage.Least()), true
	}
	return chemistry.Value.Top(it.Facts.Voltage.Most(), coldestOf(s.sys)), true
}

// domainOf is the domain of a terminal.
func domainOf(t circuit.Terminal) *circuit.Domain {
	return t.Item.PortDomain(t.Port)
}
