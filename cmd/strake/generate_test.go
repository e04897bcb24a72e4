// A generator of random but realistic craft, as text: what the whole-program
// tests draw besides the examples. The same seed gives the same text.
package main

import (
	"fmt"
	"math/rand/v2"
	"strings"
)

// generator writes one craft; items counts what will be drawn (devices and bars).
type generator struct {
	*rand.Rand
	b       strings.Builder
	items   int
	numbers map[string]int // the next number of each letter
	bars    []string       // bars of the main voltage that take another feeder
}

// randomCraft makes a craft of about the wanted number of items.
func randomCraft(seed uint64, wanted int) string {
	g := &generator{Rand: rand.New(rand.NewPCG(seed, 4711)), numbers: map[string]int{}}
	g.head(seed)
	g.bank("P", "Port")
	if wanted > 50 && g.IntN(2) == 0 {
		g.bank("S", "Starboard")
		g.tie()
	}
	g.motor()
	g.board12()
	extras := []func(){g.motor, g.solar, g.thruster, g.shore, g.board24, g.heavyLoad, g.starterSet, g.board12,
		g.contactorDrive, g.twoSupplies, g.houseBank, g.windAndMonitors, g.toCome, g.chain}
	for _, i := range g.Perm(len(extras)) {
		if g.items >= wanted-6 {
			break
		}
		extras[i]()
	}
	for g.items < wanted-12 {
		if g.IntN(2) == 0 {
			g.board12()
		} else {
			g.heavyLoad()
		}
	}
	return g.b.String()
}

func (g *generator) line(format string, args ...any) { fmt.Fprintf(&g.b, format+"\n", args...) }

// ref takes the next reference with a letter.
func (g *generator) ref(letter string) string {
	g.numbers[letter]++
	return fmt.Sprintf("%s%d", letter, g.numbers[letter])
}

func pick[T any](g *generator, from ...T) T { return from[g.IntN(len(from))] }

func (g *generator) length(least, most int) string {
	return fmt.Sprintf("%d.%d m", least+g.IntN(most-least+1), 1+g.IntN(9))
}

func (g *generator) head(seed uint64) {
	g.line("craft %q {\n    drawing  RC-%d\n    revision A dated 2026-11-20\n    yard     \"Pellmere Yard\"\n    state    design", fmt.Sprintf("Random craft %d", seed), seed)
	g.line("    hull     %s\n    rules    iso-13297\n    cable    class 5, tinned, 105 degC, free\n    coldest  -10 degC\n}\n", pick(g, "aluminium", "steel", "grp"))
	g.line("domain main: dc 48 V, 44 V to 58.4 V, insulated\ndomain mid: dc 24 V, 21 V to 29.6 V\ndomain low: dc 12 V, 10.5 V to 14.6 V\ndomain sun: dc 100 V, 60 V to 130 V\ndomain mains: ac 230 V, 50 Hz\n")
	g.line("place locker \"Battery locker\": 40 degC\nplace cupboard \"Electrical cupboard\": 40 degC\nplace engine \"Engine space\": 50 degC, engine\nplace bow \"Bow\": 40 degC\nplace aft \"Stern\": outside\n")
	g.line("part class-t is fuse: class t, 125 V, breaks 20 kA, 2 pole\npart pack is battery: lfp, 51.2 V, 100 Ah, discharge 100 A, charge 50 A, resistance 16 mohm\n")
}

// bank is a number of packs on a bar, through a main fuse and an isolator onto a main bar.
func (g *generator) bank(letter, side string) {
	packs := 2 + g.IntN(4)
	bar := "PB" + letter
	g.line("pack B%s1..B%s%d \"%s pack\" in main at locker", letter, letter, packs, side)
	g.line("run B%s1..B%s%d [%s 50 mm2] class-t FB%s1..FB%s%d: 125 A [%s 50 mm2] bus PX%s \"%s bank bar\" in main at locker: 600 A",
		letter, letter, packs, g.length(0, 1), letter, letter, packs, g.length(0, 1), letter, side)
	g.line("    [link] class-t FM%s: 400 A [1 m 2 parallel 70 mm2] isolator QB%s \"%s bank isolator\" at cupboard: 500 A, 2 pole, 80 V, load-break", letter, letter, side)
	g.line("    [0.6 m 2 parallel 70 mm2] bus %s \"%s bar\" in main at cupboard: 600 A\n", bar, side)
	g.bars = append(g.bars, bar)
	g.items += 2*packs + 4
}

func (g *generator) tie() {
	g.line("run PBP [link] class-t FT1: 200 A [0.5 m 70 mm2] isolator QT \"Bus tie\" at cupboard: 350 A, 2 pole, 80 V, off [%s 70 mm2] class-t FT2: 200 A [link] PBS\n", g.length(4, 8))
	g.items += 3
}

func (g *generator) bar() string { return g.bars[g.IntN(len(g.bars))] }

func (g *generator) motor() {
	amps := pick(g, 110, 170, 205)
	g.line("run %s [link] class-t %s: %d A [0.4 m 95 mm2] isolator %s \"%s\" at cupboard: 350 A, 2 pole, 80 V [%s 95 mm2] motor %s \"%s\" at engine: %d W, %d A\n",
		g.bar(), g.ref("F"), pick(g, 250, 300), g.ref("Q"), pick(g, "Motor isolator", "Drive isolator"), g.length(2, 6), g.ref("M"),
		pick(g, "Main motor", "Port pod", "Starboard pod", "Drive"), amps*48, amps)
	g.items += 3
}

func (g *generator) heavyLoad() {
	g.line("run %s [link] class-t %s: %d A [%s 16 mm2] %s %s \"%s\" at %s: %d W\n",
		g.bar(), g.ref("F"), pick(g, 63, 80), g.length(2, 9), pick(g, "load", "pump"), g.ref("L"),
		pick(g, "Windlass", "Hydraulic pump", "Deck crane", "Water heater", "Air compressor"), pick(g, "bow", "aft", "engine"), 600+100*g.IntN(12))
	g.items += 2
}

func (g *generator) solar() {
	array, bar := g.ref("PV"), g.bar()
	g.line("run array %s \"%s\" in sun at aft: 400 W, 3 in series, 2 in parallel, voc 37.2 V, voc -0.27 %%/K, isc 13.8 A, fuse 25 A", array, pick(g, "Roof array", "Deck array"))
	g.line("    [%s 6 mm2] isolator %s \"Array isolator\" at cupboard: 63 A, 2 pole, 250 V, load-break [1 m 6 mm2] regulator %s at cupboard: 48 V, 60 A, input 150 V", g.length(4, 9), g.ref("Q"), g.ref("T"))
	g.line("    [%s 16 mm2] class-t %s: 80 A [link] %s\n", g.length(1, 3), g.ref("F"), bar)
	g.items += 4
}

func (g *generator) thruster() {
	n := g.ref("W")
	g.line("battery %sA1..%sA2 at bow: agm, 12 V, 100 Ah\nbank %s \"Thruster pair\" in mid is %sA1..%sA2 in series [0.3 m 70 mm2]", n, n, n, n, n)
	g.line("run %s [0.3 m 70 mm2] class-t %s: 300 A [0.3 m 70 mm2] isolator %s \"Thruster isolator\" at bow: 300 A, 48 V [%s 70 mm2] thruster %s \"%s\" at bow: 5 kW, 230 A for 3 min every 30 min\n",
		n, g.ref("F"), g.ref("Q"), g.length(1, 3), g.ref("M"), pick(g, "Bow thruster", "Stern thruster"))
	g.items += 6
}

// shore is inlet, transformer, inverter/charger and an AC board.
func (g *generator) shore() {
	inverter, board := g.ref("INV"), g.ref("ACB")
	g.line("run inlet %s \"Shore inlet\" in mains at aft: 16 A [0.4 m 3G2.5] rcbo %s: 16 A, 30 mA, 2 pole [%s 3G2.5] transformer %s \"Isolation transformer\" at cupboard: 3.6 kVA, neutral earthed",
		g.ref("SH"), g.ref("R"), g.length(3, 8), g.ref("TR"))
	g.line("    [0.4 m 3G2.5] rcbo %s: 16 A, 30 mA, 2 pole [1 m 3G2.5] inverter-charger %s.in \"Inverter/charger\" at cupboard: 3 kVA, charge 35 A, neutral earthed when inverting", g.ref("R"), inverter)
	g.line("run %s.out [1 m 3G4] rcbo %s at cupboard: 16 A, 30 mA, 2 pole [link] %s", inverter, g.ref("R"), board)
	g.line("run %s [link] class-t %s: 125 A [%s 35 mm2] %s.dc\n", g.bar(), g.ref("F"), g.length(1, 3), inverter)
	ways := 3 + g.IntN(4)
	g.line("board %s \"AC board\" in mains at cupboard: 32 A {\n    ways 1..%d is rcbo: 30 mA, 2 pole", board, ways)
	for i := 1; i < ways; i++ {
		g.line("    way %d %d A \"%s\" %s: %d W [%s 3G2.5]", i, pick(g, 10, 16), pick(g, "Sockets, saloon", "Sockets, galley", "Water heater", "Workshop"), pick(g, "socket", "load"), 500+100*g.IntN(10), g.length(2, 9))
	}
	g.line("}\n")
	g.items += 7 + 2*ways
}

var consumers = []string{
	`"Navigation lights" lamp at bow: 24 W, navigation`, `"Bilge pump" pump at aft: 60 W, bilge`, `"Radio" load at cupboard: 25 W`,
	`"Fridge" load at cupboard: 60 W`, `"Cabin lights" lamp at cupboard: 40 W`, `"Chart table" socket at cupboard: 60 W`,
	`"Water pump" pump at engine: 72 W`, `"Deck lights" lamp at aft: 80 W`, `"Horn" load at bow: 48 W`, `"Heater fan" load at cupboard: 90 W`,
	`"Echo sounder" load at bow: 12 W`, `"Anchor light" lamp at aft: 5 W, navigation`,
}

// ways writes a board's rows: in use, prepared, the owner's, and spare ones at the end.
func (g *generator) ways(ways int) {
	g.line("    ways 1..%d is fuse: class blade, 32 V, breaks 1 kA", ways)
	for i := 1; i <= ways-1-g.IntN(3); i++ {
		switch g.IntN(8) {
		case 0:
			g.line("    prepared way %d 10 A \"Bow locker\" [%s 6 mm2] capped at bow", i, g.length(5, 9))
		case 1:
			g.line("    owner way %d 5 A \"Cabin fan\" 30 W [%s]", i, g.length(3, 7))
		default:
			g.line("    way %d %d A %s [%s]", i, pick(g, 5, 10, 15), consumers[g.IntN(len(consumers))], g.length(2, 9))
		}
		g.items++
	}
	g.items += ways
}

func (g *generator) board12() {
	board := g.ref("DB")
	g.line("run %s [link] class-t %s: 32 A [%s 6 mm2] converter %s \"Converter\" at cupboard: 12 V, 40 A, isolated [%s 16 mm2] %s",
		g.bar(), g.ref("F"), g.length(1, 4), g.ref("T"), g.length(0, 2), board)
	g.line("board %s \"%s\" in low at cupboard: 100 A {", board, pick(g, "12 V board", "Instrument board", "Bridge board", "Cabin board"))
	g.ways(5 + g.IntN(8))
	g.line("}\n")
	g.items += 3
}

func (g *generator) board24() {
	board := g.ref("EB")
	g.line("run %s [0.3 m 25 mm2] isolator %s \"24 V isolator\" at cupboard: 100 A, 2 pole, 80 V [link] class-t %s: 63 A [1 m 16 mm2] converter %s at cupboard: 24 V, 50 A, isolated [0.5 m 16 mm2] %s",
		g.bar(), g.ref("Q"), g.ref("F"), g.ref("T"), board)
	g.line("board %s \"24 V board\" in mid at cupboard: 100 A {", board)
	g.ways(4 + g.IntN(8))
	g.line("}\n")
	g.items += 4
}

// starterSet is an island of its own: a battery, an isolator and a starter, with a bilge pump that is always live.
func (g *generator) starterSet() {
	battery := g.ref("SB")
	g.line("run battery %s \"Starter battery\" in low at engine: agm, 12 V, 70 Ah [0.3 m 50 mm2] isolator %s \"Starter isolator\" at engine: 200 A, 32 V [0.8 m 50 mm2] starter %s \"Starter\" at engine: 2 kW", battery, g.ref("Q"), g.ref("ST"))
	g.line("run %s [0.2 m 2.5 mm2] fuse %s: 10 A, class bolt, 32 V, breaks 5 kA [4 m 2.5 mm2] pump %s \"Aft bilge pump\" at aft: 60 W, bilge, must be live\n", battery, g.ref("F"), g.ref("P"))
	g.items += 5
}
