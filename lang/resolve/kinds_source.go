package resolve

import (
	"strake/lang/circuit"
	"strake/lang/quantity"
)

var (
	chemistry     = property("chemistry", "{lfp|agm|gel|flooded}", "lithium iron phosphate, or lead in one of its forms", func(f *circuit.Facts, m match) { f.Chemistry = m.words[0] })
	capacity      = property("capacity", "{Ah}", "rated capacity", func(f *circuit.Facts, m match) { f.Capacity = number[quantity.AmpereHour](m, 0) })
	resistance    = property("resistance", "resistance {ohm}", "inner resistance, with its own switch and links", func(f *circuit.Facts, m match) { f.Resistance = number[quantity.Ohm](m, 0) })
	cranking      = property("cold cranking current", "cca {A}", "cold cranking current of a lead battery", func(f *circuit.Facts, m match) { f.Cranking = number[quantity.Ampere](m, 0) })
	usable        = property("usable", "usable {%}", "share of the capacity that is used", func(f *circuit.Facts, m match) { f.Usable = number[quantity.Percent](m, 0) })
	seriesAllowed = property("series allowed", "series allowed", "its maker permits it in a series string", func(f *circuit.Facts, _ match) { f.SeriesAllowed = true })
	mayDisconnect = property("may disconnect", "may disconnect", "it can open itself", func(f *circuit.Facts, _ match) { f.MayDisconnect = true })
	deadPins      = property("dead pins", "dead pins", "its pins are dead while nothing is plugged in", func(f *circuit.Facts, _ match) { f.DeadPins = true })

	voc        = property("open-circuit voltage", "voc {V}", "of one module, at 25 °C", func(f *circuit.Facts, m match) { f.Voc = number[quantity.Volt](m, 0) })
	vocPercent = property("change of open-circuit voltage", "voc {%/K}", "with temperature, negative", func(f *circuit.Facts, m match) { f.VocRelK = number[quantity.PerCentK](m, 0) }).or("voc change")
	vocVolts   = property("change of open-circuit voltage in volts", "voc {V/K}", "with temperature, negative", func(f *circuit.Facts, m match) { f.VocAbsK = number[quantity.VoltPerK](m, 0) }).or("voc change")
	isc        = property("short-circuit current", "isc {A}", "of one module", func(f *circuit.Facts, m match) { f.Isc = number[quantity.Ampere](m, 0) })
	moduleFuse = property("module fuse", "fuse {A}", "largest fuse that the module's maker allows", func(f *circuit.Facts, m match) { f.ModuleFuse = number[quantity.Ampere](m, 0) })
	inSeries   = property("in series", "{count} in series", "modules of one string", func(f *circuit.Facts, m match) { f.InSeries = m.count(0) })
	inParallel = property("in parallel", "{count} in parallel", "strings side by side", func(f *circuit.Facts, m match) { f.InParallel = m.count(0) })
)

// storing is what batteries and banks take.
var storing = list(chemistry, as(volts, "nominal voltage"), capacity, discharge, charge, resistance, shortC, cranking, usable,
	seriesAllowed, mayDisconnect, terminals)

var sourceKinds = []*Kind{
	row("Sources", "battery", "G", "one battery or pack", `battery B1 "House battery" in house at locker: lfp, 12.8 V, 100 Ah, discharge 100 A, charge 50 A, resistance 8 mohm`, oneEnd, storing),
	row("Sources", "bank", "G", "batteries in series or in parallel, as one", `bank WB "Winch pair" in winch is W1..W2 in series [0.3 m 50 mm2]`, oneEnd, storing),
	row("Sources", "array", "G", "solar modules; the watts are one module's", `array PV1 "Cabin roof" at roof: 400 W, voc 37.2 V, voc -0.27 %/K, isc 13.8 A, fuse 25 A, 3 in series, 2 in parallel`, oneEnd,
		list(as(watts, "power of one module"), voc, vocPercent, vocVolts, isc, moduleFuse, inSeries, inParallel, terminals)),
	row("Sources", "alternator", "G", "an engine's alternator", `alternator A1 in house at engine-space: 14.4 V, 80 A`, oneEnd,
		list(volts, amps, watts, shortC, mayDisconnect, terminals)),
	row("Sources", "generator", "G", "a generating set", `generator G1 "Generator" in mains at engine-space: 4.5 kVA, neutral earthed`,
		ports(oneEnd, PortRow{Name: "start", Help: "its remote start", Control: true}),
		list(va, watts, volts, amps, pf, shortC, usualOff, usualOn, terminals), neutrals),
	row("Sources", "source", "G", "a wind or water generator, or any other source", `source WG1 "Wind generator" in house at stern: 400 W`, oneEnd,
		list(watts, amps, volts, shortC, terminals)),
	row("Sources", "inlet", "X", "where shore power, or a charger ashore, is plugged in", `inlet SH1 "Shore inlet" in mains at quarter: 16 A`, oneEnd,
		list(amps, volts, poles, shortC, deadPins, terminals), neutrals),
}
