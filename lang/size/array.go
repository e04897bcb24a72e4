package size

import (
	"strake/lang/circuit"
	"strake/lang/quantity"
	"strake/lang/table"
)

// Array is the highest voltage of one array: that of its strings with nothing
// connected, on the coldest day.
type Array struct {
	Of   *circuit.Item
	Cold quantity.Opt[quantity.Volt] // not known when the text gives no voc or no coldest
}

// arrays works out every array, in the order of System.Items.
func arrays(sys *circuit.System) []Array {
	var out []Array
	for _, it := range sys.Items {
		if it.Kind == "array" {
			out = append(out, Array{Of: it, Cold: coldVolts(sys, it)})
		}
	}
	return out
}

func coldVolts(sys *circuit.System, it *circuit.Item) quantity.Opt[quantity.Volt] {
	f, coldest := it.Facts, sys.Craft.Coldest
	if !f.Voc.Known() || !coldest.Known() {
		return quantity.Opt[quantity.Volt]{}
	}
	if open := OpenVolts(it, coldest.Least()); open.Known {
		return open
	}
	factor, known := table.ColdFactor(coldest.Least())
	if !known {
		return quantity.Opt[quantity.Volt]{}
	}
	return quantity.Some(quantity.Volt(float64(max(1, f.InSeries)) * float64(f.Voc.Most()) * factor.Value))
}

// OpenVolts is the open-circuit voltage of an array's strings at a temperature,
// where its modules say how theirs changes: Voc(T) = n·Voc·(1 + β·(T − 25)), β of
// the voltage, not of the power. What is `about` is taken at the worse end: in the
// cold as much as it may be, in the heat as little.
func OpenVolts(it *circuit.Item, t quantity.Celsius) quantity.Opt[quantity.Volt] {
	f := it.Facts
	n, voc := max(1, f.InSeries), f.Voc.Most()
	if t > 25 {
		voc = f.Voc.Least()
	}
	switch {
	case !f.Voc.Known():
	case f.VocRelK.Known():
		return quantity.Some(table.ColdRelative(n, voc, f.VocRelK.Least(), t))
	case f.VocAbsK.Known():
		return quantity.Some(table.ColdAbsolute(n, voc, f.VocAbsK.Least(), t))
	}
	return quantity.Opt[quantity.Volt]{}
}
