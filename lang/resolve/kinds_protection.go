package resolve

import (
	"strake/lang/circuit"
	"strake/lang/quantity"
)

var (
	class  = property("class", "class {t|blade|strip|bolt|cube|nh|square-body|cartridge|gpv|gg|gr|ar}", "its construction, which says what it can break", func(f *circuit.Facts, m match) { f.Class = m.words[0] })
	holder = property("holder", "holder {V}", "voltage of its holder", func(f *circuit.Facts, m match) { f.Holder = number[quantity.Volt](m, 0) })
)

// guarding is what every protective device takes.
var guarding = list(as(volts, "voltage that it is rated for, at the current of the place"), breaks, letThrough, poles, inNegative, usualOff, usualOn, terminals)

var protectionKinds = []*Kind{
	row("Protection", "fuse", "F", "a fuse in its holder", `fuse F5: 200 A, class t, 125 V, breaks 20 kA, 2 pole`, twoEnds, list(amps, class, holder), guarding),
	row("Protection", "breaker", "F", "a circuit-breaker", `breaker CB1: 20 A, 80 V, breaks 10 kA, 2 pole, curve c`, twoEnds, list(amps, curve), guarding,
		list(polarised, unpolarised, loadBreak, noLoadBreak)),
	row("Protection", "rcd", "F", "a residual-current device without overcurrent protection", `rcd RCD1: 40 A, 30 mA, type a, 2 pole`, twoEnds,
		list(residual, amps, residualType), guarding),
	row("Protection", "rcbo", "F", "a residual-current device with overcurrent protection", `rcbo R1: 16 A, 30 mA, 2 pole, type a, curve c`, twoEnds,
		list(residual, amps, residualType, curve), guarding),
	row("Protection", "galvanic-isolator", "F", "stops galvanic current in the protective conductor", `run SH9 [0.4 m 3G2.5] galvanic-isolator GI1: 32 A [1 m 3G2.5] R9.in`, twoEnds,
		list(amps, volts, terminals)),
	row("Protection", "insulation-monitor", "B", "watches an unearthed network for its first earth fault", `insulation-monitor IM1 in drive at cupboard`, oneEnd,
		list(volts, watts, amps)),
	row("Protection", "bms", "K", "what watches cells and opens or commands the pack", `bms BM1 "Pack monitor" at locker`, oneEnd, list(volts, watts, amps)),
}
