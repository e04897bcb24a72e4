package lang_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"strake/lang"
	"strake/lang/diag"
)

// change is a sound text, a change in one place, and what must be said of it then.
type change struct {
	name, text, from, to, rule string
	least                      diag.Severity
}

func tell(t *testing.T, changes []change) {
	t.Helper()
	for _, c := range changes {
		if assert.Contains(t, c.text, c.from, c.name) {
			assert.False(t, found(t, c.text, c.rule, diag.NotVerified), "%s: %s is said of the sound text", c.name, c.rule)
			changed := strings.Replace(c.text, c.from, c.to, 1)
			assert.True(t, found(t, changed, c.rule, c.least), "%s: %s", c.name, c.rule)
		}
	}
}

const generating = `craft "Mini" {
    hull grp
    cable class 5, tinned, 105 degC, free
}
domain mains: ac 230 V, 50 Hz
place locker "Locker": 30 degC
earth E1 at locker
bond G1 [1 m 6 mm2] E1
run generator G1 in mains at locker: 3.6 kVA, neutral earthed [0.4 m 3G2.5] rcbo R2: 13 A, 30 mA, type a, 2 pole, curve c, breaks 6 kA [1 m 3G2.5] AC1
board AC1 in mains at locker: 16 A {
    ways 1..2 is breaker: 230 V, 2 pole, curve c, breaks 6 kA
    way 1  10 A  "Heater" 2 kW  [3 m 3G2.5]
}
`

// What bonds a neutral, told and not told.
func TestNeutralIsBondedOnce(t *testing.T) {
	floating := strings.NewReplacer("neutral earthed", "neutral floating", "bond G1 [", "bond G1.neutral [N1: 1 m 6 mm2] E1\nbond G1 [").Replace(generating)
	ahead := strings.NewReplacer("neutral earthed", "neutral floating", "rcbo R2: 13 A, 30 mA, type a", "breaker R2: 13 A", "is breaker:", "is rcbo: 30 mA, type a,").Replace(generating) + "bond AC1.neutral [1 m 6 mm2] E1\n"
	changeover := strings.Replace(generating, "[1 m 3G2.5] AC1\n", "[1 m 3G2.5] CO1.generator\nrun inlet SH1 in mains at locker: 16 A [0.4 m 3G2.5] rcbo R1: 13 A, 30 mA, type a, 2 pole, curve c, breaks 6 kA [1 m 3G2.5] CO1.shore\nchangeover CO1 in mains at locker: 25 A, 230 V, 2 pole, break before make\nrun CO1.out [1 m 3G2.5] AC1\n", 1)
	tell(t, []change{
		{"a second bond at the board", generating, "earth E1 at locker\n", "earth E1 at locker\nbond AC1.neutral [1 m 6 mm2] E1\n", "neutral-earth-bonds", diag.Danger},
		{"a second bond to a case", generating, "earth E1 at locker\n", "earth E1 at locker\nbond AC1.neutral [N2: 1 m 6 mm2] G1\n", "neutral-earth-bonds", diag.Danger},
		{"a second bond behind a changeover", changeover, "earth E1 at locker\n", "earth E1 at locker\nbond CO1.neutral [1 m 6 mm2] E1\n", "neutral-earth-bonds", diag.Danger},
		{"a bond taken out", floating, "bond G1.neutral [N1: 1 m 6 mm2] E1\n", "", "neutral-earth-bonds", diag.Danger},
		{"a bond behind the residual current device", floating, "bond G1.neutral [N1", "bond AC1.neutral [N1", "neutral-earth-bonds", diag.Danger},
		{"a bond at a board ahead of its residual current devices", ahead, "bond AC1.neutral [1 m 6 mm2] E1\n", "", "neutral-earth-bonds", diag.Danger},
		{"the source's own bond, written out, and another", strings.Replace(generating, "bond G1 [", "bond G1.neutral [N1: 1 m 6 mm2] E1\nbond G1 [", 1), "earth E1 at locker\n", "earth E1 at locker\nbond AC1.neutral [1 m 6 mm2] E1\n", "neutral-earth-bonds", diag.Danger},
	})
}

// What keeps a bilge pump from running while nobody is aboard.
func TestABilgePumpIsKeptLive(t *testing.T) {
	pump := bilge + "float-switch FS1 at locker: 16 A, 24 V [1 m 6 mm2] pump P1 at locker: 60 W, bilge, must be live\n"
	relay := bilge + `relay K5 at locker: 16 A, 32 V, coil 12 V [1 m 6 mm2] pump P1 at locker: 60 W, bilge, must be live
run B1 [0.1 m 6 mm2] fuse F2 at locker: class t, 125 V, breaks 20 kA, 5 A [2 m 6 mm2] float-switch FS1 at locker: 16 A, 24 V [1 m 6 mm2] K5.coil
`
	alarm := bilge + "load L1 at locker: 5 W, must be live\n"
	second := pump + "run B1 [0.1 m 6 mm2] fuse F2 at locker: class t, 125 V, breaks 20 kA, 10 A [2 m 6 mm2] owner pump P2 at locker: 60 W, bilge, must be live, automatic\n"
	tell(t, []change{
		{"its fuse is off", pump, "10 A [2 m", "10 A, off [2 m", "must-live-behind-isolator", diag.Danger},
		{"a hand switch, off, before the float", pump, "float-switch FS1", "switch S1: 16 A, 24 V, off [1 m 6 mm2] float-switch FS1", "must-live-behind-isolator", diag.Danger},
		{"a hand switch before the float", pump, "float-switch FS1", "switch S1: 16 A, 24 V [1 m 6 mm2] float-switch FS1", "must-live-behind-isolator", diag.Danger},
		{"a hand switch behind the float", pump, "[1 m 6 mm2] pump", "[1 m 6 mm2] switch S1: 16 A, 24 V [1 m 6 mm2] pump", "must-live-behind-isolator", diag.Danger},
		{"a hand switch before an alarm", alarm, "load L1", "switch S1 at locker: 16 A, 24 V [1 m 6 mm2] load L1", "must-live-behind-isolator", diag.Danger},
		{"a float whose relay hangs behind an isolator", relay, "5 A [2 m 6 mm2]", "5 A [1 m 6 mm2] isolator Q9 at locker: 16 A, 32 V, load-break [1 m 6 mm2]", "must-live-behind-isolator", diag.Danger},
		{"a pump that the owner fits", pump, "pump P1", "owner pump P1", "bilge-pump-not-aboard", diag.Fault},
		{"a pump that is only prepared", pump, "run battery", "prepared run battery", "bilge-pump-not-aboard", diag.Fault},
		{"a pump that was removed", pump, "pump P1", "removed pump P1", "bilge-pump-not-aboard", diag.Fault},
		{"both pumps of a place the owner's", second, "pump P1", "owner pump P1", "bilge-pump-not-aboard", diag.Fault},
	})
	sound := bilge + "P1.auto\npump P1 in house at locker: 60 W, bilge, must be live, automatic, manual\nrun B1 [0.1 m 6 mm2] fuse F2 at locker: class t, 125 V, breaks 20 kA, 10 A [2 m 6 mm2] switch S1 at locker: 16 A, 24 V, off [2 m 6 mm2] P1.manual\n"
	assert.False(t, found(t, sound, "must-live-behind-isolator", diag.Advice), "a switch before the manual side alone")
}

// What a stop opens, and what stays fed round it.
func TestAStopStops(t *testing.T) {
	drive := onBar + `run PB [link] fuse F3 at locker: class t, 125 V, breaks 20 kA, 80 A [0.3 m 35 mm2] contactor K1 at locker: 150 A, 32 V, 1 pole, coil 12 V, precharge, load-break [2 m 35 mm2] motor M1 at locker: 800 W
run PB [link] fuse F2 at locker: class t, 125 V, breaks 20 kA, 5 A [2 m 2.5 mm2] stop ES1 at locker: 10 A, 32 V [2 m 2.5 mm2] K1.coil
`
	lamp := "run PB [link] fuse F4 at locker: class t, 125 V, breaks 20 kA, 5 A [2 m 2.5 mm2] lamp L1 at locker: 5 W\n"
	signal := drive + "relay K2 at locker: 16 A, 32 V, coil 12 V\n"
	tell(t, []change{
		{"a switch round the contactor", drive, "run PB [link] fuse F2", "run F3.out [0.3 m 35 mm2] isolator QB at locker: 150 A, 32 V, load-break [2 m 35 mm2] M1\nrun PB [link] fuse F2", "stop-bypassed", diag.Danger},
		{"a switch, usually off, round the contactor", drive, "run PB [link] fuse F2", "run F3.out [0.3 m 35 mm2] isolator QB at locker: 150 A, 32 V, load-break, off [2 m 35 mm2] M1\nrun PB [link] fuse F2", "stop-bypassed", diag.Advice},
		{"a second feed of the coil", drive, "run PB [link] fuse F2", "run PB [link] fuse F5 at locker: class t, 125 V, breaks 20 kA, 5 A [2 m 2.5 mm2] switch S5 at locker: 10 A, 32 V [2 m 2.5 mm2] K1.coil\nrun PB [link] fuse F2", "stop-bypassed", diag.Danger},
		{"a second feed of the coil from another battery", drive, "run PB [link] fuse F2", "run battery B2 in house at locker: agm, 12 V, 20 Ah [0.1 m 2.5 mm2] fuse F5 at locker: class t, 125 V, breaks 20 kA, 5 A [2 m 2.5 mm2] K1.coil\nrun PB [link] fuse F2", "stop-bypassed", diag.Danger},
		{"a signal against a coil that a run feeds", drive, "stop ES1 at locker: 10 A, 32 V [2 m 2.5 mm2] K1.coil\n", "K1.coil\nstop ES1 at locker: 10 A, 32 V\nsignal ES1 [2 m] opens K1.coil\n", "stop-bypassed", diag.Danger},
		{"a stop in a lamp's circuit", drive + lamp, "stop ES1 at locker: 10 A, 32 V [2 m 2.5 mm2] K1.coil\nrun PB [link] fuse F4 at locker: class t, 125 V, breaks 20 kA, 5 A [2 m 2.5 mm2] ", "K1.coil\nrun PB [link] fuse F4 at locker: class t, 125 V, breaks 20 kA, 5 A [2 m 2.5 mm2] stop ES1 at locker: 10 A, 32 V [2 m 2.5 mm2] ", "stop-breaks-nothing", diag.Danger},
		{"a stop that acts on an enable input alone", drive, "stop ES1 at locker: 10 A, 32 V [2 m 2.5 mm2] K1.coil\n", "K1.coil\nstop ES1 at locker: 10 A, 32 V\nsignal ES1 [2 m] opens M1.enable\n", "stop-breaks-nothing", diag.Advice},
		{"a stop beside the feed of the coil", strings.Replace(signal, "800 W", "2 kW", 1), "stop ES1 at locker: 10 A, 32 V [2 m 2.5 mm2] K1.coil\n", "K1.coil\nrun PB [2 m 2.5 mm2] stop ES1 at locker: 10 A, 32 V [2 m 2.5 mm2] K2.coil\n", "motor-without-stop", diag.Advice},
	})
	enable := strings.Replace(drive, "stop ES1 at locker: 10 A, 32 V [2 m 2.5 mm2] K1.coil\n", "K1.coil\nstop ES1 at locker: 10 A, 32 V\nsignal ES1 [2 m] opens M1.enable\n", 1)
	assert.False(t, found(t, enable, "stop-breaks-nothing", diag.Fault), "an enable input is weaker than a coil, not nothing")
	two := strings.Replace(drive, "[2 m 2.5 mm2] K1.coil", "[2 m 2.5 mm2] stop ES2 at locker: 10 A, 32 V [2 m 2.5 mm2] K1.coil", 1)
	both := drive + "signal ES1 [2 m] opens M1.enable\n"
	for _, text := range []string{two, both} {
		assert.False(t, found(t, text, "stop-bypassed", diag.Advice), text)
		assert.False(t, found(t, text, "stop-breaks-nothing", diag.Advice), text)
	}
}

// A module that gives less volts the colder it is does not exist: with the sign
// lost the array's highest voltage would be taken for its lowest.
func TestTheSignOfAModule(t *testing.T) {
	for _, change := range []string{"voc 0.27 %/K", "voc 0 %/K", "voc 100 mV/K", "voc -0.27 %/K"} {
		errors := 0
		for _, f := range lang.Compile(nil, "boat.strake", strings.Replace(sun, "voc -0.27 %/K", change, 1)).Findings {
			if f.Severity == diag.Error {
				errors++
				assert.Equal(t, "impossible-number", f.Rule, change)
			}
		}
		assert.Equal(t, !strings.Contains(change, "-"), errors == 1, change)
	}
}

// An inverter behind a changeover stands alone when it feeds.
func TestAnInverterIsHeldAgainstItsLoad(t *testing.T) {
	boat := strings.Replace(small, "dc 12 V, 10.5 V to 15.6 V", "dc 24 V, 21 V to 31.2 V", 1) + `domain mains: ac 230 V, 50 Hz
battery B1 in house at locker: agm, 24 V, 300 Ah, resistance 5 mohm
run B1 [0.1 m 70 mm2] fuse F1 at locker: class t, 125 V, breaks 20 kA, 160 A [0.2 m 70 mm2] isolator Q1: 200 A, 32 V, 1 pole, load-break [1 m 70 mm2] inverter INV1 at locker: 3 kW, input 24 V, isolated, neutral earthed [0.4 m 3G4] rcbo R3: 13 A, 30 mA, type a, 2 pole, curve c, breaks 6 kA [1 m 3G4] CO1.inverter
run inlet SH1 in mains at locker: 16 A [0.4 m 3G4] rcbo R1: 13 A, 30 mA, type a, 2 pole, curve c, breaks 6 kA [1 m 3G4] CO1.shore
changeover CO1 in mains at locker: 25 A, 230 V, 2 pole, break before make, usually inverter
run CO1.out [0.5 m 3G6] board AC1 in mains at locker: 40 A {
    ways 1..2 is breaker: 230 V, 2 pole, curve c, breaks 6 kA
    way 1  10 A  "Heater" 2 kW  [3 m 3G2.5]
}
`
	declared := boat + "condition \"Warm\": AC1 on\n"
	tell(t, []change{
		{"a small inverter behind a changeover", boat, "3 kW, input", "300 W, input", "output-overloaded", diag.Fault},
		{"a small inverter in a condition", declared, "3 kW, input", "300 W, input", "no-solution", diag.Fault},
		{"a condition that asks for more", declared, "AC1 on", "AC1.1.load 3.5 kW", "no-solution", diag.Fault},
		{"an inverter too small for anything", boat + "condition \"Away\": AC1 off\n", "3 kW, input", "300 W, input", "output-overloaded", diag.Fault},
	})
}

// An interlock relaxes a check only where something that is wired enforces it.
func TestAnInterlockIsEnforced(t *testing.T) {
	board := `craft "Mini" {
    hull grp
    cable class 5, tinned, 105 degC, free
}
domain mains: ac 230 V, 50 Hz
place locker "Locker": 30 degC
run inlet SH1 in mains at locker: 16 A [0.4 m 3G2.5] rcbo R1: 16 A, 30 mA, type a, 2 pole, curve c, breaks 6 kA [1 m 3G2.5] transformer T1 at locker: 3.6 kVA, neutral earthed [0.4 m 3G2.5] rcbo R2: 16 A, 30 mA, type a, 2 pole, curve c, breaks 6 kA [1 m 3G2.5] AC1
board AC1 in mains at locker: 16 A {
    ways 1..2 is breaker: 230 V, 2 pole, curve c, breaks 6 kA
    way 1  16 A  "Heater"  load HT1 at locker: 3 kW  [3 m 3G2.5]
    way 2  16 A  "Boiler"  [1 m 3G2.5] relay KX at locker: 20 A, 250 V, 2 pole [3 m 3G2.5] load HT2 at locker: 3 kW
}
earth E1 at locker
bond T1 [1 m 6 mm2] E1
signal AC1.1 [1 m] opens KX
interlock HT1 never with HT2 by KX
`
	signalled := strings.NewReplacer("[1 m 3G2.5] relay KX at locker: 20 A, 250 V, 2 pole [3 m 3G2.5] load HT2", "load HT2", "3 kW\n}", "3 kW  [3 m 3G2.5]\n}", "signal AC1.1 [1 m] opens KX", "relay KX at locker: 20 A, 250 V, 2 pole\nsignal AC1.1 [1 m] opens KX\nsignal KX [1 m] stops HT2").Replace(board)
	tie := `craft "Mini" { cable class 5, tinned, 105 degC, free }
domain house: dc 12 V, 10.5 V to 14.6 V
place locker "Locker": 40 degC
battery B1..B2 in house at locker: lfp, 12.8 V, 100 Ah, resistance 6 mohm, discharge 200 A, charge 100 A
run B1..B2 [0.1 m 50 mm2] fuse F1..F2 at locker: class t, 125 V, breaks 20 kA, 150 A [0.1 m 50 mm2] isolator Q1..Q2 at locker: 160 A, 32 V, 1 pole, load-break [0.2 m 50 mm2] bus PB1..PB2 in house at locker: 250 A
run PB1..PB2 [1 m 35 mm2] load L1..L2 at locker: 100 W
run PB1 [0.1 m 50 mm2] fuse F3 at locker: class t, 125 V, breaks 20 kA, 150 A [0.1 m 50 mm2] isolator QT at locker: 160 A, 32 V, 1 pole, load-break [0.1 m 50 mm2] PB2
relay KT at locker: 10 A, 32 V
interlock QT only with L1 by KT
signal KT [1 m] opens QT
signal L1 [1 m] controls KT
`
	tell(t, []change{
		{"a relay taken out of the feed", board, "[1 m 3G2.5] relay KX at locker: 20 A, 250 V, 2 pole [3 m 3G2.5] load HT2 at locker: 3 kW\n}", "[3 m 3G2.5] load HT2 at locker: 3 kW\n}\nrelay KX at locker: 20 A, 250 V, 2 pole", "output-overloaded", diag.Fault},
		{"a relay taken out of the feed, told", board, "[1 m 3G2.5] relay KX at locker: 20 A, 250 V, 2 pole [3 m 3G2.5] load HT2 at locker: 3 kW\n}", "[3 m 3G2.5] load HT2 at locker: 3 kW\n}\nrelay KX at locker: 20 A, 250 V, 2 pole", "interlock-not-enforced", diag.NotVerified},
		{"a signal taken out", signalled, "signal KX [1 m] stops HT2\n", "", "output-overloaded", diag.Fault},
		{"a habit", board, " by KX", "", "output-overloaded", diag.Fault},
		{"a habit before a mains supply", signalled, " by KX", "", "output-overloaded", diag.Fault},
		{"a tie that a habit keeps open", tie, " by KT", "", "tie-closes-unequal-banks", diag.Danger},
		{"a relay that is not told of the other", board, "signal AC1.1 [1 m] opens KX\n", "", "interlock-not-enforced", diag.NotVerified},
		{"a relay that is not told of the other keeps nothing off", board, "signal AC1.1 [1 m] opens KX\n", "", "output-overloaded", diag.Fault},
		{"a tie whose relay is told of nothing", tie, "signal L1 [1 m] controls KT\n", "", "tie-closes-unequal-banks", diag.Danger},
		{"a coil that an interlock names and nothing feeds", board, "signal AC1.1 [1 m] opens KX\n", "", "coil-not-fed", diag.Fault},
		{"a tie that a relay without a wire keeps open", tie, "signal KT [1 m] opens QT\n", "", "tie-closes-unequal-banks", diag.Danger},
	})
	bare := strings.NewReplacer("transformer T1 at locker: 3.6 kVA, neutral earthed [0.4 m 3G2.5] rcbo R2: 16 A, 30 mA, type a, 2 pole, curve c, breaks 6 kA [1 m 3G2.5] ", "", "bond T1", "bond SH1").Replace(board)
	tell(t, []change{{"a habit on a shore supply", bare, " by KX", "", "source-overloaded", diag.Advice}})
}

// Earths are one, and mains does not stand on a battery.
func TestOneEarthAndIsolation(t *testing.T) {
	earths := generating + "earth E2 at locker\nbond AC1 [1 m 6 mm2] E2\nbond E2 [1 m 6 mm2] E1\n"
	hull := strings.Replace(earths, "hull grp", "hull steel", 1)
	through := strings.Replace(earths, "bond E2 [1 m 6 mm2] E1\n", "bond AC1 [1 m 6 mm2] E1\n", 1)
	tell(t, []change{
		{"an earth of its own", earths, "bond E2 [1 m 6 mm2] E1\n", "", "earths-not-joined", diag.Danger},
		{"an earth of its own on a metal hull", hull, "bond E2 [1 m 6 mm2] E1\n", "", "earths-not-joined", diag.NotVerified},
		{"a case that joined two earths", through, "bond AC1 [1 m 6 mm2] E1\n", "", "earths-not-joined", diag.Danger},
		{"a source bonded to an earth of its own", strings.Replace(earths, "bond E2 [1 m 6 mm2] E1", "bond AC1 [1 m 6 mm2] E1", 1), "bond AC1 [1 m 6 mm2] E1", "load L9 in mains at locker\nbond L9 [1 m 6 mm2] E1", "earths-not-joined", diag.Danger},
		{"an inverter/charger of unsaid isolation", ashore, ", isolated", "", "converter-not-isolated", diag.NotVerified},
	})
}
