package resolve

var barKinds = []*Kind{
	row("Bars and boards", "bus", "W", "a bus bar", `bus PB "Port bus" in drive at cupboard: 400 A`, oneEnd, list(amps, volts, terminals)),
	row("Bars and boards", "stud", "X", "a bolt on which cables meet", `stud X1 "Winch stud" at bow: 250 A`, oneEnd, list(amps, volts, terminals)),
	row("Bars and boards", "board", "W", "a bar with numbered ways", `board DB1 "Instrument board" in house at cupboard: 100 A {
    ways 1..12 is fuse: class blade, 32 V, breaks 1 kA
    way 1  5 A  "Navigation lights"  lamp at mast: 48 W, navigation  [9 m]
    way 2  10 A  "Starter charger"  [2 m] charger CH9: 12 V, 8 A [0.3 m] fuse F9: 15 A [0.2 m] B9
    prepared way 6  10 A  "Bow locker"  [9 m 6 mm2] capped at bow
    owner way 7  5 A  "Cabin fan"  30 W  [6 m]
}`, oneEnd,
		list(amps, volts, poles, terminals)),
	row("Bars and boards", "shunt", "B", "a measuring resistor, in the negative", `run B9 [0.5 m 50 mm2] shunt SN1: 500 A [0.5 m 50 mm2] PB9`, twoEnds,
		list(amps, volts, terminals)),
	row("Bars and boards", "earth", "X", "an earth bar or the hull's earth point", `earth E1 "Main earth" at cupboard: hull`, oneEnd, list(amps, terminals, onHull)),
}
