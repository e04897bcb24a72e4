package resolve

import "strake/lang/circuit"

var (
	noOff   = property("no off", "no off", "it has no position in which everything is off", func(f *circuit.Facts, _ match) { f.NoOff = true })
	usually = property("usually", "usually {word}", "the position in which it usually stands", func(f *circuit.Facts, m match) { f.Usually = m.words[0] })
)

var switchKinds = []*Kind{
	row("Switching", "isolator", "Q", "a switch by hand that makes a part of the craft dead", `isolator Q1 "Port bank isolator": 350 A, 2 pole, 80 V, load-break`, twoEnds, switching),
	row("Switching", "switch", "S", "a switch for a circuit", `switch S1 "Manual pump switch" at helm: 10 A`, twoEnds, switching),
	row("Switching", "changeover", "Q", "a switch that takes one of several supplies", `changeover CO1 "Supply changeover" at cupboard: 25 A, 2 pole, break before make`,
		[]PortRow{{Name: "out", Help: "what all positions have in common"}},
		list(as(amps, "current that it carries"), as(volts, "voltage that it is rated for"), poles, makeFirst, breakFirst, noOff, usually,
			loadBreak, noLoadBreak, terminals)),
	row("Switching", "contactor", "Q", "a switch driven by a coil", `contactor K1 "Motor contactor": 350 A, 80 V, 2 pole, coil 48 V`, ports(twoEnds, coil),
		switching, list(coilVolts, coilAmps, precharge)),
	row("Switching", "relay", "K", "a small switch driven by a coil", `relay K2: 10 A, coil 12 V, coil 150 mA`, ports(twoEnds, coil), switching, list(coilVolts, coilAmps)),
	row("Switching", "float-switch", "B", "a switch that the water closes", `float-switch FS1 at bow: 10 A`, twoEnds, switching),
	row("Switching", "stop", "S", "an emergency stop", `stop ES1 "Helm stop" at helm: 10 A`, twoEnds, switching),
}
