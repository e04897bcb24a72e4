package resolve

var barKinds = []*Kind{
	row("Bars and boards", "bus", "W", "a bus bar", `bus PB "Port bus" in drive at cupboard: 400 A`, oneEnd, list(amps, volts, terminals)),
	row("Bars and boards", "stud", "X", "a bolt on which cables meet", `stud X1 "Winch stud" at bow: 250 A`, oneEnd, list(amps, volts, terminals)),
	row("Bars and boards", "board", "W", "a bar with numbered ways", `board DB1 "Instrument board" in house at cupboard: 100 A`, oneEnd,
		list(amps, volts, poles, terminals)),
	row("Bars and boards", "shunt", "B", "a measuring resistor, in the negative unless it is said otherwise", `run B1 [0.5 m 50 mm2] shunt SN1: 500 A [0.5 m 50 mm2] PB`, twoEnds,
		list(amps, volts, inNegative, terminals)),
	row("Bars and boards", "earth", "X", "an earth bar or the hull's earth point", `earth E1 "Main earth" at cupboard`, oneEnd, list(amps, terminals)),
}
