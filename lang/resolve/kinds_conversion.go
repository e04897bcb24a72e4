package resolve

import (
	"strake/lang/circuit"
	"strake/lang/quantity"
)

var transfer = property("transfer", "transfer {A}", "current of its transfer relay", func(f *circuit.Facts, m match) { f.Transfer = number[quantity.Ampere](m, 0) })

// converting is what everything between two kinds of voltage takes.
var converting = list(outVolts, outAmps, outWatts, inAmps, inVolts, efficiency, idle, isolated, usualOff, usualOn, terminals)

var conversionKinds = []*Kind{
	row("Conversion", "converter", "T", "DC to DC", `converter CV1 "Port converter" at cupboard: 12 V, 40 A, input 20 A, isolated, one way`, twoEnds,
		converting, list(oneWay, bothWays)),
	row("Conversion", "charger", "T", "charges a battery, from AC or from DC", `charger CH1 "Starter charger": 12 V, 8 A`, twoEnds,
		converting, list(charge, pf, oneWay)),
	row("Conversion", "inverter", "T", "DC to AC", `inverter INV1 at cupboard: 2 kVA, input 48 V, isolated, neutral earthed`, ports(twoEnds, enable),
		list(va), converting, list(pf), neutrals),
	row("Conversion", "inverter-charger", "T", "inverter and charger with a transfer relay", `inverter-charger INV1 "Inverter/charger" at cupboard: 3 kVA, charge 35 A, transfer 16 A, isolated, neutral earthed when inverting`,
		[]PortRow{{Name: "in", Help: "AC in; `in1` and `in2` when there are two"}, {Name: "out", Help: "AC out; `out1` and `out2` when there are two"},
			{Name: "dc", Help: "the battery's side"},
			{Name: "in1", Optional: true}, {Name: "in2", Optional: true}, {Name: "out1", Optional: true}, {Name: "out2", Optional: true}},
		list(va), converting, list(charge, transfer, pf), neutrals),
	row("Conversion", "regulator", "T", "solar regulator; `input` is the array's side", `regulator SR1 at cupboard: 48 V, 35 A, input 150 V`, twoEnds, converting),
	row("Conversion", "transformer", "T", "isolation or other transformer; `neutral` is its secondary's", `transformer T1 "Isolation transformer" at cupboard: 3.6 kVA, neutral earthed`, twoEnds,
		list(va, outVolts, outAmps, inAmps, inVolts, efficiency, idle, terminals), neutrals),
	row("Conversion", "controller", "T", "a motor's controller, when it stands apart from the motor", `controller MC1 at engine-space: 300 A, 80 V, precharge`, ports(twoEnds, enable),
		list(amps, volts, watts, efficiency, regenerates, precharge, bothWays, terminals)),
}
