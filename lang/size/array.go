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
	f, coldest, n := it.Facts, sys.Craft.Coldest, max(1, it.Facts.InSeries)
	switch {
	case !f.Voc.Known() || !coldest.Known():
		return quantity.Opt[quantity.Volt]{}
	case f.VocRelK.Known():
		return quantity.Some(table.ColdRelative(n, f.Voc.Value, f.VocRelK.Value, coldest.Value))
	case f.VocAbsK.Known():
		return quantity.Some(table.ColdAbsolute(n, f.Voc.Value, f.VocAbsK.Value, coldest.Value))
	}
	factor, known := table.ColdFactor(coldest.Value)
	if !known {
		return quantity.Opt[quantity.Volt]{}
	}
	return quantity.Some(quantity.Volt(float64(n) * float64(f.Voc.Value) * factor.Value))
}
