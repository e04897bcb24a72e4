// The parts of random craft that are not in every one of them: changeovers and
// generators, contactors with their coil circuits, parallel banks, sub-boards,
// ways that feed on, bonds and signals, work to come.
package main

import "fmt"

// contactorDrive is a motor behind a contactor whose coil is fed from a board's
// way through a stop, with a throttle that controls it.
func (g *generator) contactorDrive() {
	contactor, controller, motor, stop, board := g.ref("K"), g.ref("MC"), g.ref("M"), g.ref("ES"), g.ref("CB")
	g.line("run %s [link] class-t %s: 250 A [0.4 m 95 mm2] contactor %s \"Drive contactor\" at cupboard: 350 A, 80 V, 2 pole, coil 12 V", g.bar(), g.ref("F"), contactor)
	g.line("    [%s 95 mm2] controller %s at engine: 300 A, 80 V, precharge [0.6 m 95 mm2] motor %s \"%s\" at engine: 9 kW, 190 A",
		g.length(2, 6), controller, motor, pick(g, "Centre pod", "Shaft motor", "Manoeuvring drive, to starboard"))
	g.line("run %s [link] class-t %s: 32 A [%s 6 mm2] converter %s \"Control supply\" at cupboard: 12 V, 10 A, isolated [0.4 m 4 mm2] %s", g.bar(), g.ref("F"), g.length(1, 4), g.ref("T"), board)
	g.line("board %s \"Control board\" in low at cupboard: 32 A {\n    ways 1..4 is fuse: class blade, 32 V, breaks 1 kA\n    way 1 5 A \"Throttle panel\" 10 W [6 m]\n}", board)
	g.line("run %s.3 [6 m 1.5 mm2] stop %s \"Helm stop\" at aft: 10 A [6 m 1.5 mm2] %s.coil", board, stop, contactor)
	throttle := g.ref("TH")
	g.line("panel %s \"Throttle\" at aft\nsignal %s [6 m] controls %s.enable\n", throttle, throttle, controller)
	g.items += 13
}

// twoSupplies is shore and generator on a changeover before an inverter/charger.
func (g *generator) twoSupplies() {
	co, inverter, board := g.ref("CO"), g.ref("INV"), g.ref("ACB")
	g.line("changeover %s \"Supply changeover\" at cupboard: 25 A, 2 pole, break before make", co)
	galvanic := ""
	if g.IntN(2) == 0 {
		galvanic = fmt.Sprintf(" galvanic-isolator %s: 32 A [0.5 m 3G2.5]", g.ref("GI"))
		g.items++
	}
	g.line("run inlet %s \"Shore inlet\" in mains at aft: 16 A [0.4 m 3G2.5]%s rcbo %s: 16 A, 30 mA, 2 pole [%s 3G2.5] %s.shore", g.ref("SH"), galvanic, g.ref("R"), g.length(3, 8), co)
	generator := g.ref("G")
	g.line("run generator %s \"Generator\" in mains at engine: 4.5 kVA, neutral earthed [%s 3G2.5] rcbo %s at engine: 20 A, 30 mA, 2 pole [%s 3G2.5] %s.generator", generator, g.length(0, 2), g.ref("R"), g.length(2, 5), co)
	g.line("run %s.out [1 m 3G2.5] inverter-charger %s.in \"Inverter/charger\" at cupboard: 3 kVA, charge 35 A, neutral earthed when inverting", co, inverter)
	g.line("run %s [link] class-t %s: 125 A [%s 35 mm2] %s.dc", g.bar(), g.ref("F"), g.length(1, 3), inverter)
	g.line("run %s.out [1 m 3G4] rcbo %s at cupboard: 16 A, 30 mA, 2 pole [link] %s", inverter, g.ref("R"), board)
	g.line("board %s \"AC board\" in mains at cupboard: 32 A {\n    ways 1..5 is rcbo: 30 mA, 2 pole", board)
	g.line("    way 1 16 A \"Sockets, galley\" socket: 1.2 kW [6 m 3G2.5]\n    way 3 10 A \"Battery charger for the starter\" [4 m 3G2.5] charger %s: 12 V, 15 A [1 m 6 mm2] fuse %s: 20 A, class blade, 32 V, breaks 1 kA [0.5 m 6 mm2] battery %s \"Generator starter\" in low at engine: agm, 12 V, 70 Ah",
		g.ref("CH"), g.ref("F"), g.ref("SB"))
	g.line("}\n")
	g.items += 18
}

// houseBank is a parallel bank with a shunt, a bar and a board with a sub-board.
func (g *generator) houseBank() {
	n := g.ref("H")
	members, bar, board, sub := 2+g.IntN(3), "HX"+n, g.ref("DB"), g.ref("DB")
	g.line("battery %sA1..%sA%d at locker: agm, 12 V, 120 Ah\nbank %s \"House bank\" in low is %sA1..%sA%d in parallel [0.3 m 50 mm2]", n, n, members, n, n, n, members)
	g.line("run %s [0.3 m 50 mm2] fuse %s: 200 A, class bolt, 58 V, breaks 10 kA [0.4 m 50 mm2] isolator %s \"House isolator\" at cupboard: 300 A, 48 V [0.4 m 50 mm2] shunt %s: 500 A [link] bus %s \"House bar\" in low at cupboard: 300 A",
		n, g.ref("F"), g.ref("Q"), g.ref("SN"), bar)
	g.line("run alternator %s \"Alternator\" in low at engine: 14.4 V, 80 A [%s 35 mm2] fuse %s: 125 A, class bolt, 58 V, breaks 5 kA [link] %s", g.ref("A"), g.length(2, 4), g.ref("F"), bar)
	g.line("run %s [link] fuse %s: 80 A, class bolt, 58 V, breaks 5 kA [%s 25 mm2] %s", bar, g.ref("F"), g.length(1, 4), board)
	g.line("board %s \"House board\" in low at cupboard: 100 A {", board)
	ways := 6 + g.IntN(20)
	g.ways(ways)
	g.line("}")
	g.line("run %s.%d [%s 10 mm2] %s\nboard %s \"Bow board\" in low at bow: 40 A {", board, ways, g.length(4, 9), sub, sub)
	g.ways(3 + g.IntN(4))
	g.line("}\n")
	g.items += members + 10
}

// windAndMonitors are small things: a wind source, a meter, monitors, bonds.
func (g *generator) windAndMonitors() {
	bar := g.bar()
	earth, monitor := g.ref("E"), g.ref("BM")
	g.line("run source %s \"Wind generator\" in main at aft: 400 W [%s 10 mm2] class-t %s: 32 A [link] %s", g.ref("WG"), g.length(4, 9), g.ref("F"), bar)
	g.line("run %s [link] fuse %s: 2 A, class blade, 80 V, breaks 1 kA [%s 1 mm2] meter %s \"Bank monitor\" at aft: 1 W", bar, g.ref("F"), g.length(3, 6), g.ref("ME"))
	g.line("earth %s \"Main earth\" at engine\nbms %s \"Pack monitor\" at locker\ninsulation-monitor %s in main at cupboard", earth, monitor, g.ref("IM"))
	g.line("bond M1 [1 m 16 mm2] %s\nsignal %s [4 m] shows %s\n", earth, monitor, "ME1")
	g.items += 7
}

// toCome is what is prepared, planned by the owner, of others, removed or unknown.
func (g *generator) toCome() {
	bar := g.bar()
	g.line("prepared run %s [link] class-t %s: 63 A, off [%s 16 mm2] capped at bow", bar, g.ref("F"), g.length(5, 9))
	g.line("owner run %s [link] class-t %s: 80 A [%s 16 mm2] load %s \"Watermaker\" at engine: 1.2 kW", bar, g.ref("F"), g.length(3, 7), g.ref("L"))
	g.line("third-party run %s [link] class-t %s: 63 A [%s 16 mm2] load %s \"Deck crane of the hirer\" at aft: 900 W", bar, g.ref("F"), g.length(3, 9), g.ref("L"))
	if g.IntN(2) == 0 {
		g.line("run %s [link] class-t %s: 63 A [] untraced", bar, g.ref("F"))
	}
	g.line("")
	g.items += 8
}

// chain is one long row of things, more than a sheet is high.
func (g *generator) chain() {
	g.line("run %s [link] class-t %s: 125 A [0.5 m 35 mm2] isolator %s \"Pump isolator\" at cupboard: 200 A, 2 pole, 80 V [0.4 m 35 mm2] shunt %s: 200 A [0.4 m 35 mm2] contactor %s at cupboard: 200 A, 80 V, 2 pole, coil 48 V",
		g.bar(), g.ref("F"), g.ref("Q"), g.ref("SN"), g.ref("K"))
	g.line("    [3 m 35 mm2] stud %s \"Stern stud\" at aft: 200 A [1 m 35 mm2] switch %s \"Deck switch\" at aft: 150 A, 80 V [2 m 35 mm2] pump %s \"Fire pump and deck wash\" at aft: 3 kW\n",
		g.ref("X"), g.ref("S"), g.ref("P"))
	g.items += 7
}
