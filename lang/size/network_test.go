package size_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strake/lang/size"
)

// solvedAs gives the first condition of this name, fully equipped.
func solvedAs(t *testing.T, lines, name string) size.Solved {
	t.Helper()
	sys := resolved(t, head+lines)
	for _, s := range size.Conditions(sys, size.Size(sys)) {
		if s.Name == name && s.Configuration == "fully-equipped" {
			return s
		}
	}
	require.Fail(t, "no condition "+name)
	return size.Solved{}
}

func isDead(t *testing.T, s size.Solved, name string) {
	t.Helper()
	n := first(t, s.Nodes, "node "+name, func(n size.NodeVoltage) bool { return n.Node == name })
	assert.False(t, n.Voltage.Known, "%s is dead in %s", name, s.Name)
}

// Two packs, 150 A, resistances with their leads of 4.386 and 5.930 mΩ; then
// without load and 0.1 V apart. The figures are those of a circuit simulator for
// packs of 4 mΩ on leads of 0.386 and 1.930 mΩ.
func TestUnequalPacks(t *testing.T) {
	const packs = `battery B1 in low at cool: agm, 12.8 V, 100 Ah, resistance 4.386 mohm
battery B2 in low at cool: agm, 12.8 V, 100 Ah, resistance 5.93 mohm
run B1..B2 [link] fuse F1..F2 at cool: 200 A [link] bus PB in low at cool: 300 A
run PB [link] load L1 at cool: 150 A
condition "On": L1 on
condition "Off": L1 off
`
	s := solvedAs(t, packs, "On")
	assert.InDelta(t, 12.421816, node(t, s, "PB"), 2e-6)
	assert.InDelta(t, 86.225281, given(t, s, "B1"), 1e-3)
	assert.InDelta(t, 63.774719, given(t, s, "B2"), 1e-3)
	s = solvedAs(t, `battery B1 in low at cool: agm, 12.8 V, 100 Ah, resistance 4.386 mohm
battery B2 in low at cool: agm, 12.7 V, 100 Ah, resistance 5.93 mohm
run B1..B2 [link] fuse F1..F2 at cool: 200 A [link] bus PB in low at cool: 300 A
run PB [link] load L1 at cool: 150 A
condition "Off": L1 off
`, "Off")
	assert.InDelta(t, 12.757484, node(t, s, "PB"), 2e-6)
	assert.InDelta(t, 9.693680, given(t, s, "B1"), 1e-4)
	assert.InDelta(t, -9.693680, given(t, s, "B2"), 1e-4)
}

// What nothing feeds gives nothing: a charger that is on without its shore, what
// stands behind a transformer.
func TestNothingFromNothing(t *testing.T) {
	const lines = `battery B1 in main at cool: lfp, 51.2 V, 100 Ah, resistance 1 mohm
run inlet SH1 in mains at cool: 16 A [link] breaker F1 at cool: 16 A [link] transformer T1 at cool: 3 kVA [link] bus AB in mains at cool: 16 A
run AB [link] breaker F2 at cool: 16 A [link] charger CH1 at cool: 48 V, 20 A, efficiency 0.9, isolated, one way [link] fuse F3 at cool: 100 A [link] B1
run AB [link] breaker F4 at cool: 16 A [link] load L1 at cool: 500 W
condition "Adrift": CH1 on, L1 on
condition "Alongside": SH1 on, CH1 on, L1 on
`
	adrift := solvedAs(t, lines, "Adrift")
	assert.Zero(t, given(t, adrift, "B1"))
	assert.Zero(t, given(t, adrift, "CH1"))
	isDead(t, adrift, "AB")
	isDead(t, adrift, "L1")
	alongside := solvedAs(t, lines, "Alongside")
	assert.InDelta(t, -20, given(t, alongside, "B1"), 1e-9)
	assert.InDelta(t, 230, node(t, alongside, "AB"), 1e-9)
}

// Batteries are low, full or nominal as the condition says.
func TestBatteriesAsSaid(t *testing.T) {
	const lines = `battery B1 in low at cool: agm, 12 V, 100 Ah, resistance 5 mohm
run B1 [link] fuse F1 at cool: 100 A [link] load L1 at cool: 10 A
condition "Low": L1 on, batteries low
condition "Full": L1 on, batteries full
condition "Nominal": L1 on, batteries nominal
`
	for name, volts := range map[string]float64{"Low": 10.5, "Full": 14.6, "Nominal": 12} {
		assert.InDelta(t, volts-0.05, node(t, solvedAs(t, lines, name), "B1"), 1e-9, name)
	}
}

// Two pairs side by side, one above the other: 4 mΩ a battery are 2 mΩ a pair and
// 4 mΩ the whole.
func TestNestedBanks(t *testing.T) {
	s := solvedAs(t, `battery W1..W4 at cool: agm, 12 V, 100 Ah, resistance 4 mohm
bank P1 is W1..W2 in parallel each link
bank P2 is W3..W4 in parallel each link
bank SB in mid is P1, P2 in series each link
run SB [link] fuse F1 at cool: 100 A [link] load L1 at cool: 50 A
condition "On": L1 on
`, "On")
	require.Empty(t, s.Missing)
	assert.InDelta(t, 24-50*0.004, node(t, s, "SB"), 1e-6)
	assert.InDelta(t, 50, given(t, s, "SB"), 1e-9)
}

// The link between two batteries of a string is one conductor: 0.5 m of plain
// class 5 of 35 mm² at 0.554 Ω/km, 30 °C and what 60 A warm it.
func TestStringLink(t *testing.T) {
	s := solvedAs(t, `battery W1..W2 at cool: agm, 12 V, 100 Ah, resistance 4 mohm
bank SB in mid is W1..W2 in series [0.5 m 35 mm2]
run SB [link] fuse F1 at cool: 100 A [link] load L1 at cool: 60 A
condition "On": L1 on
`, "On")
	link := s.Cables[0]
	for _, c := range s.Cables {
		if c.Of.ID == "W1-W2" {
			link = c
		}
	}
	assert.InDelta(t, 60, math.Abs(float64(link.Current.Value)), 1e-9)
	ohm := float64(link.Loss.Value) / 3600
	assert.Greater(t, ohm, 0.554e-3*0.5*(234.5+30)/254.5)
	assert.Less(t, ohm, 0.554e-3*0.5*(234.5+60)/254.5)
	assert.InDelta(t, 24-60*(0.008+ohm), node(t, s, "SB"), 1e-6)
}

// A pole that goes another way counts with its own length.
func TestReturnOfItsOwn(t *testing.T) {
	drop := func(bracket string) float64 {
		s := solvedAs(t, `battery B1 in low at cool: agm, 12 V, 100 Ah, resistance 1 mohm
run B1 [link] fuse F1 at cool: 20 A [`+bracket+`] load L1 at cool: 10 A
condition "On": L1 on
`, "On")
		return node(t, s, "F1.out") - node(t, s, "L1")
	}
	assert.InEpsilon(t, drop("4 m 4 mm2")/2, drop("2 m 4 mm2"), 1e-9)
	assert.InEpsilon(t, drop("4 m 4 mm2"), drop("2 m return 6 m 4 mm2"), 1e-9)
}

// A load of 1 kW at a power factor of 0.8 takes 1250 VA of its inverter, which
// takes 1 kW over 0.9 of its battery.
func TestPowerFactor(t *testing.T) {
	s := solvedAs(t, `battery B1 in main at cool: lfp, 51.2 V, 100 Ah, resistance 1 mohm
run B1 [link] fuse F1 at cool: 100 A [link] inverter INV1 at cool: 3 kVA, efficiency 0.9 [link] breaker F2 at cool: 16 A [link] load L1 in mains at cool: 1 kW, pf 0.8
condition "On": L1 on
`, "On")
	assert.InDelta(t, 1250/230.0, given(t, s, "INV1"), 1e-6)
	volts := node(t, s, "B1")
	assert.InDelta(t, 1000/0.9, volts*given(t, s, "B1"), 1e-3)
	for _, p := range s.Sources {
		if p.Of.Ref == "INV1" {
			assert.InDelta(t, 1000, float64(p.Power.Value), 1e-3, "watts, not volt-amperes")
		}
	}
}

// A charger's power factor counts on the mains side alone.
func TestChargerPowerFactor(t *testing.T) {
	s := solvedAs(t, `battery B1 in main at cool: lfp, 51.2 V, 100 Ah, resistance 1 mohm
run inlet SH1 in mains at cool: 16 A [link] breaker F2 at cool: 16 A [link] charger CH1 at cool: 48 V, 20 A, efficiency 0.9, pf 0.7, isolated, one way [link] fuse F1 at cool: 100 A [link] B1
condition "On": SH1 on, CH1 on
`, "On")
	assert.InDelta(t, 20, given(t, s, "CH1"), 1e-9)
	volts := 51.2 + 20*0.001
	assert.InDelta(t, 20*volts/0.9/0.7/230, given(t, s, "SH1"), 1e-6)
}

// Three phases of 400 V: 6 kW are 8.66 A a line; between the lines √3 times what
// one conductor drops is lost, and three times I²R in all.
func TestThreePhases(t *testing.T) {
	s := solvedAs(t, `domain power: ac 400 V, 50 Hz, 3 phase
run inlet SH1 in power at cool: 16 A [link] breaker F1 at cool: 16 A [20 m 5G2.5] load L1 at cool: 6 kW
condition "On": SH1 on, L1 on
`, "On")
	amps := current(t, s, "F1-L1")
	low := node(t, s, "L1")
	assert.InDelta(t, 6000/math.Sqrt(3)/low, amps, 1e-6)
	for _, c := range s.Cables {
		if c.Of.ID == "F1-L1" {
			ohm := float64(c.Loss.Value) / 3 / amps / amps // of one conductor
			assert.InDelta(t, 7.98e-3*20*1.1, ohm, 7.98e-3*20*0.1, "2.5 mm², plain class 5, warm")
			assert.InEpsilon(t, 400-math.Sqrt(3)*amps*ohm, low, 1e-9)
			assert.InEpsilon(t, 6000+float64(c.Loss.Value), float64(s.Sources[0].Power.Value), 1e-6)
		}
	}
}

// A transformer passes the power, and what it loses.
func TestTransformer(t *testing.T) {
	s := solvedAs(t, `domain low-mains: ac 115 V, 50 Hz
run inlet SH1 in mains at cool: 16 A [link] breaker F1 at cool: 16 A [link] transformer T1 at cool: 3 kVA, 115 V, efficiency 0.95 [link] breaker F2 at cool: 16 A [link] load L1 in low-mains at cool: 1 kW
condition "On": SH1 on, L1 on
`, "On")
	assert.InDelta(t, 1000/115.0, given(t, s, "T1"), 1e-6)
	assert.InDelta(t, 1000/0.95/230, given(t, s, "SH1"), 1e-6)
}

// A short-circuit current that is stated is the impedance of the way to a source:
// 230 V over 500 A are 0.46 Ω.
func TestSourceImpedance(t *testing.T) {
	s := solvedAs(t, `run generator G1 in mains at cool: 3 kVA, short-circuit 500 A [link] breaker F1 at cool: 16 A [link] load L1 at cool: 10 A
condition "On": G1 on, L1 on
`, "On")
	assert.InDelta(t, 230-10*0.46, node(t, s, "L1"), 1e-6)
	assert.InDelta(t, 10, given(t, s, "G1"), 1e-9)
}

// An alternator holds its voltage up to what it gives; beyond that the battery helps.
func TestAlternator(t *testing.T) {
	const lines = `battery B1 in low at cool: agm, 12 V, 100 Ah, resistance 5 mohm
run alternator A1 in low at cool: 14.4 V, 80 A [link] fuse F1 at cool: 100 A [link] bus PB in low at cool: 200 A
run B1 [link] fuse F2 at cool: 200 A [link] PB
run PB [link] load L1 at cool: 110 A
condition "Engine on": A1 on, L1 on
condition "Engine slow": A1 20 A, L1 on
condition "Engine off": L1 on
`
	s := solvedAs(t, lines, "Engine on")
	assert.InDelta(t, 80, given(t, s, "A1"), 1e-9)
	assert.InDelta(t, 30, given(t, s, "B1"), 1e-6)
	s = solvedAs(t, lines, "Engine slow")
	assert.InDelta(t, 20, given(t, s, "A1"), 1e-9)
	s = solvedAs(t, lines, "Engine off")
	assert.InDelta(t, 110, given(t, s, "B1"), 1e-6)
}

// An array gives what the condition says, less what its regulator loses, and no
// more than the regulator is rated for.
func TestArrayGives(t *testing.T) {
	const lines = `domain sun: dc 100 V, 60 V to 130 V
battery B1 in main at cool: lfp, 51.2 V, 100 Ah, resistance 1 mohm
run array PV1 in sun at cool: 400 W, voc 37 V, isc 13 A, 3 in series [link] regulator SR1 at cool: 48 V, 10 A, efficiency 0.95 [link] fuse F1 at cool: 60 A [link] B1
condition "Some": PV1 300 W
condition "Full": PV1 1200 W
`
	s := solvedAs(t, lines, "Some")
	assert.InDelta(t, -300*0.95/node(t, s, "B1"), given(t, s, "B1"), 1e-6)
	assert.InDelta(t, 3, given(t, s, "PV1"), 1e-6, "300 W at 100 V")
	s = solvedAs(t, lines, "Full")
	assert.InDelta(t, -10, given(t, s, "B1"), 0.01)
}

// A contactor follows its coil: open while what feeds the coil is open, closed
// with it, even when it is usually off; what the condition says of it goes first.
func TestContactorFollowsItsCoil(t *testing.T) {
	const lines = `battery B1 in low at cool: agm, 12 V, 100 Ah, resistance 5 mohm
run B1 [link] bus PB in low at cool: 200 A
run PB [link] fuse F1 at cool: 60 A [link] contactor K1 at cool: 100 A, coil 12 V [link] load L1 at cool: 40 A
run PB [link] fuse F2 at cool: 60 A [link] contactor K2 at cool: 100 A, coil 12 V, off [link] load L2 at cool: 20 A
run PB [link] fuse F3 at cool: 3 A [1 m 1.5 mm2] switch S1 at cool: 10 A [1 m 1.5 mm2] K1.coil
run PB [link] fuse F4 at cool: 3 A [1 m 1.5 mm2] switch S2 at cool: 10 A, off [1 m 1.5 mm2] K2.coil
condition "Usual": L1 on, L2 on
condition "Stopped": L1 on, L2 on, S1 off
condition "Both": L1 on, L2 on, S2 on
condition "By hand": L1 on, L2 on, S1 off, K1 on
`
	usual := solvedAs(t, lines, "Usual")
	assert.InDelta(t, 41, given(t, usual, "B1"), 1e-6, "the load and its coil of 1 A")
	isDead(t, usual, "L2")
	stopped := solvedAs(t, lines, "Stopped")
	isDead(t, stopped, "L1")
	assert.Zero(t, given(t, stopped, "B1"))
	both := solvedAs(t, lines, "Both")
	assert.InDelta(t, 40+20+2, given(t, both, "B1"), 1e-6)
	byHand := solvedAs(t, lines, "By hand")
	assert.InDelta(t, 40, given(t, byHand, "B1"), 1e-6)
}

// Of two that an interlock keeps apart the named one runs, else the larger; a
// habit keeps nothing apart, and a relay that is wired to nothing, or is told of neither, is no more. Of `only with` the first waits for the second.
func TestInterlocksInConditions(t *testing.T) {
	const lines = `battery B1 in low at cool: agm, 12 V, 100 Ah, resistance 5 mohm
run B1 [link] bus PB in low at cool: 200 A
run PB [link] DB1
board DB1 in low at cool: 100 A {
    ways 1..6 is fuse: class blade
    way 1 10 A "A" load LA at cool: 8 A [link]
    way 2 10 A "B" load LB at cool: 6 A [link]
    way 3 10 A "C" load LC at cool: 4 A [link]
    way 4 10 A "D" load LD at cool: 3 A [link]
}
relay KR1 at cool: 16 A
interlock LA never with LB by KR1
interlock LC only with LA by KR1
interlock LD never with LA
interlock LD never with LB by KR2
relay KR2 at cool: 16 A
signal LA [1 m] controls KR1
signal KR1 [1 m] stops LB
signal KR1 [1 m] stops LC
condition "Board": DB1 on
condition "Named": DB1 on, LB on
`
	board := solvedAs(t, lines, "Board")
	assert.InDelta(t, 8+4+3, given(t, board, "B1"), 1e-6)
	assert.Equal(t, []string{"LB is left off: it never runs with LA (KR1)"}, board.Notes)
	named := solvedAs(t, lines, "Named")
	assert.InDelta(t, 6+3, given(t, named, "B1"), 1e-6, "without A, C does not run either")
	assert.Len(t, named.Notes, 2)
}

// A pump with a motor of its own for two ways of feeding it takes its current once.
func TestPumpFedTwice(t *testing.T) {
	s := solvedAs(t, `battery B1 in low at cool: agm, 12 V, 100 Ah, resistance 5 mohm
run B1 [link] fuse F1 at cool: 10 A [link] float-switch FS1 at cool: 16 A [link] P1.auto
run B1 [link] fuse F2 at cool: 10 A [link] switch S1 at cool: 16 A [link] P1.manual
pump P1 in low at cool: 5 A, bilge, automatic, manual
condition "On": P1 on
`, "On")
	assert.InDelta(t, 5, given(t, s, "B1"), 1e-6)
}

// A mains cable drops its impedance times the current, which no power factor
// exceeds: of 70 mm² the reactance of 0.1 Ω/km counts.
func TestReactance(t *testing.T) {
	c := cable(t, worked(t, `run inlet SH1 in mains at cool: 63 A [link] breaker F1 at cool: 63 A [20 m 3G70] load L1 at cool: 12 kW, pf 0.9
`), "F1-L1")
	const x = 40 * 0.1e-3
	r := math.Sqrt(float64(c.Resistance.Value)*float64(c.Resistance.Value) - x*x)
	cold := 40 * 0.272e-3 // class 5 plain, IEC 60228
	assert.Greater(t, r, cold*(234.5+30)/254.5)
	assert.Less(t, r, cold*(234.5+60)/254.5)
	worst := 0.0
	for degrees := 0.0; degrees <= 90; degrees++ {
		phi := degrees / 180 * math.Pi
		worst = max(worst, r*math.Cos(phi)+x*math.Sin(phi))
	}
	assert.LessOrEqual(t, worst, float64(c.Resistance.Value)*(1+1e-12))
	assert.InEpsilon(t, worst, float64(c.Resistance.Value), 1e-3)
	assert.Greater(t, float64(c.Resistance.Value), r*1.05, "resistance alone would be short by a twentieth")
	assert.InEpsilon(t, float64(c.Resistance.Value)*float64(c.DropCurrent.Value), float64(c.Drop.Value), 1e-12)
}

// A converter that passes power both ways gives at its input where nothing else
// feeds that: 10 A at 48 V are 480 W, over 0.9 of the 12 V battery.
func TestBothWays(t *testing.T) {
	const lines = `battery B1 in main at cool: lfp, 51.2 V, 100 Ah, resistance 1 mohm
battery B2 in low at cool: agm, 12 V, 100 Ah, resistance 5 mohm
run B1 [link] fuse F1 at cool: 100 A [link] isolator Q1 at cool: 100 A [link] bus PB in main at cool: 100 A
run B2 [link] fuse F2 at cool: 100 A [link] CH1.out
run PB [link] converter CH1.in at cool: 14 V, 60 A, efficiency 0.9, both ways
run PB [link] fuse F4 at cool: 20 A [link] load L1 at cool: 10 A
`
	s := solvedAs(t, lines+"condition \"Away\": L1 on, Q1 off\n", "Away")
	volts := node(t, s, "L1")
	assert.InDelta(t, 48, volts, 1e-9, "it holds its input's domain")
	assert.InDelta(t, 10, given(t, s, "CH1"), 1e-9)
	assert.InDelta(t, 480/0.9, node(t, s, "CH1.out")*given(t, s, "B2"), 1e-3)
	assert.Zero(t, given(t, s, "B1"))
	assert.NotEmpty(t, s.Notes)
	s = solvedAs(t, lines+"condition \"Usual\": L1 on\n", "Usual")
	assert.Negative(t, given(t, s, "B2"), "from its input it charges")
	assert.Greater(t, given(t, s, "B1"), 10.0)
}

// Two alternating supplies on one conductor: what each gives is not known, nor
// anything that hangs on it.
func TestTwoSuppliesOnOneConductor(t *testing.T) {
	for name, second := range map[string]string{
		"a generator": "run generator G1 in mains at cool: 3 kVA [link] breaker F2 at cool: 16 A [link] AB\n",
		"an inverter": "battery B1 in main at cool: lfp, 51.2 V, 100 Ah, resistance 1 mohm\nrun B1 [link] fuse F3 at cool: 100 A [link] inverter G1 at cool: 3 kVA, efficiency 0.9 [link] breaker F2 at cool: 16 A [link] AB\n",
	} {
		lines := "run inlet SH1 in mains at cool: 16 A [link] breaker F1 at cool: 16 A [link] bus AB in mains at cool: 32 A\n" + second + "run AB [link] breaker F4 at cool: 10 A [link] load L1 at cool: 1 kW\n"
		s := solvedAs(t, lines+"condition \"Both\": SH1 on, G1 on, L1 on\n", "Both")
		isDead(t, s, "L1")
		assert.NotEmpty(t, s.Missing, name)
		s = solvedAs(t, lines+"condition \"One\": SH1 on, G1 off, L1 on\n", "One")
		assert.InDelta(t, 230, node(t, s, "L1"), 1e-9, name)
		s = solvedAs(t, lines+"condition \"Other\": G1 on, F1 off, L1 on\n", "Other")
		assert.InDelta(t, 230, node(t, s, "L1"), 1e-9, name)
	}
}

// Of two inverter-chargers the one that is fed passes, the other inverts.
func TestOnePassesOneInverts(t *testing.T) {
	s := solvedAs(t, `battery B1 in main at cool: lfp, 51.2 V, 100 Ah, resistance 1 mohm
run B1 [link] fuse F1 at cool: 200 A [link] bus PB in main at cool: 200 A
run PB [link] INV1.dc
run PB [link] INV2.dc
run inlet SH1 in mains at cool: 16 A [link] breaker F2 at cool: 16 A [link] inverter-charger INV1.in at cool: 3 kVA, efficiency 0.9, charge 30 A
run INV1.out [link] breaker F3 at cool: 16 A [link] load L1 in mains at cool: 500 W
run inlet SH2 in mains at cool: 16 A [link] breaker F4 at cool: 16 A [link] inverter-charger INV2.in at cool: 3 kVA, efficiency 0.9, charge 30 A
run INV2.out [link] breaker F5 at cool: 16 A [link] load L2 in mains at cool: 700 W
condition "Half": SH1 on, L1 on, L2 on
`, "Half")
	assert.InDelta(t, 500/230.0, given(t, s, "SH1"), 1e-6)
	assert.InDelta(t, 700/0.9, node(t, s, "B1")*given(t, s, "B1"), 1e-3)
}
