package lang_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"strake/lang"
	"strake/lang/diag"
)

// twoSupplies is shore and a generator on one board through a changeover.
const twoSupplies = `craft "Mini" { cable class 5, tinned, 105 degC, free }
domain mains: ac 230 V, 50 Hz
place locker "Locker": 30 degC
run inlet SH1 in mains at locker: 16 A [0.4 m 3G2.5] rcbo R1: 16 A, 30 mA, type a, 2 pole, curve c, breaks 6 kA, let-through 30 kA2s [1 m 3G2.5] CO1.shore
run generator G1 in mains at locker: 3.6 kVA, neutral earthed [0.4 m 3G2.5] rcbo R2: 16 A, 30 mA, type a, 2 pole, curve c, breaks 6 kA, let-through 30 kA2s [1 m 3G2.5] CO1.generator
changeover CO1 in mains at locker: 25 A, 230 V, 2 pole, break before make
run CO1.out [0.5 m 3G2.5] board AC1 in mains at locker: 25 A {
    ways 1..2 is breaker: 230 V, 2 pole, curve c, breaks 6 kA, let-through 15 kA2s
    way 1  16 A  "Heater" 2 kW  [3 m 3G2.5]
    way 2  10 A  "Socket" socket: 1 kW  [3 m 3G2.5]
}
earth E1 at locker
bond SH1 [1 m 6 mm2] E1
bond G1 [1 m 6 mm2] E1
`

// What is sound, and was accused.
func TestSoundIsNotAccused(t *testing.T) {
	for _, c := range []struct {
		name, text string
		rules      []string
	}{
		{"sources that a changeover takes one at a time", twoSupplies, []string{"device-above-cable", "bar-below-its-devices", "switch-below-its-devices", "switch-overloaded", "cable-unprotected", "short-circuit-withstand"}},
	} {
		for _, rule := range c.rules {
			assert.False(t, found(t, c.text, rule, diag.NotVerified), "%s: %s", c.name, rule)
		}
	}
	together := strings.Replace(twoSupplies, "break before make", "make before break", 1)
	assert.True(t, found(t, together, "device-above-cable", diag.Danger), "sources that a changeover joins for a moment")
}

// string24 is a bank of two batteries in a locker.
const string24 = `craft "Mini" { cable class 5, tinned, 105 degC, free }
domain house: dc 24 V, 21 V to 29.2 V
place locker "Locker": 40 degC
battery B1..B2: agm, 12 V, 110 Ah, resistance 5 mohm
bank HB in house at locker is B1..B2 in series [0.3 m 50 mm2]
run HB [0.1 m 50 mm2] fuse F1 at locker: class t, 125 V, breaks 20 kA, 100 A [0.3 m 50 mm2] isolator Q1: 200 A, 32 V, 1 pole, load-break [2 m 50 mm2] load L1: 500 W
`

// Where a bank stands, its members stand.
func TestMembersStandWhereTheirBankStands(t *testing.T) {
	lithium := strings.Replace(string24, "agm, 12 V,", "lfp, 12.8 V, series allowed, discharge 100 A,", 1)
	tell(t, []change{
		{"vented members in a closed box", string24, "agm, 12 V", "flooded, 12 V", "battery-not-aired", diag.Danger},
		{"lithium members beside an engine", lithium, "40 degC", "40 degC, engine", "lithium-too-hot", diag.Fault},
		{"lithium members in the heat", lithium, "40 degC", "65 degC", "lithium-too-hot", diag.Danger},
	})
}

// driveOfTwo is two drive motors, each on its own fuse and contactor, and the second
// fed as written.
func driveOfTwo(second string) string {
	return `craft "Mini" { cable class 5, tinned, 105 degC, free }
domain drive: dc 48 V, 44 V to 60 V
place locker "Locker": 40 degC
battery B1 in drive at locker: agm, 48 V, 200 Ah, resistance 10 mohm
run B1 [0.1 m 95 mm2] fuse F1 at locker: class t, 125 V, breaks 20 kA, 300 A [0.3 m 95 mm2] isolator Q1: 350 A, 80 V, 2 pole, load-break [0.3 m 95 mm2] bus PB: 350 A
run PB [link] fuse F2: class t, 125 V, breaks 20 kA, 110 A [0.3 m 95 mm2] isolator Q2: 250 A, 80 V, 2 pole, load-break [2 m 95 mm2] motor M1 at locker: 4 kW, precharge
motor M2 at locker: 3 kW, precharge
run ` + second + `
condition "Under way": M1 60 %
`
}

// Two drive motors on one fuse are two faults: one stops both, and both draw through it.
func TestDriveMotorsOnOneFuse(t *testing.T) {
	apart := driveOfTwo("PB [link] fuse F3: class t, 125 V, breaks 20 kA, 110 A [2 m 95 mm2] isolator Q3: 250 A, 80 V, 2 pole, load-break [1 m 95 mm2] M2")
	tell(t, []change{
		{"two drive motors behind one isolator", apart, "run PB [link] fuse F3: class t, 125 V, breaks 20 kA, 110 A [2 m 95 mm2] isolator Q3: 250 A, 80 V, 2 pole, load-break", "run Q2.out", "motor-shares-its-device", diag.Fault},
		{"a fuse below the two motors together", apart, "run PB [link] fuse F3: class t, 125 V, breaks 20 kA, 110 A [2 m 95 mm2] isolator Q3: 250 A, 80 V, 2 pole, load-break", "run Q2.out", "device-below-load", diag.Fault},
	})
}

// Lengths that are not written, or that a link hides, leave open what hangs on them.
func TestLengthsThatAreNotWritten(t *testing.T) {
	far := strings.Replace(onBar, "place locker", "place bow \"Bow\": 30 degC\nplace box \"Box\" at locker: 30 degC\nplace locker", 1) + "run PB [link] fuse F2 at locker: class t, 125 V, breaks 20 kA, 60 A [2 m 16 mm2] load L1 in house at locker: 40 A\n"
	unfused := far + "bus PX in house at locker: 100 A\nrun B1 [link] PX\nrun PX [0.1 m 2.5 mm2] fuse F4 at bow: class t, 125 V, breaks 20 kA, 10 A [1 m 2.5 mm2] load L2 in house at bow: 5 A, must be live\n"
	pump := bilge + "float-switch FS1 at locker: 16 A, 24 V [1 m 6 mm2] pump P1 at locker: 60 W, bilge, must be live\n"
	tell(t, []change{
		{"a length left out in mid-run", pump, "[2 m 6 mm2] float", "[6 mm2] float", "volt-drop", diag.NotVerified},
		{"a size that is unknown in mid-run", pump, "[2 m 6 mm2] float", "[2 m, unknown mm2] float", "volt-drop", diag.NotVerified},
		{"a link to another place", far, "F2 at locker", "F2 at bow", "link-spans-places", diag.Fault},
		{"a link from a bank to a bar far off", unfused, "PX in house at locker", "PX in house at bow", "fuse-beyond-reach", diag.NotVerified},
	})
	assert.False(t, found(t, strings.Replace(far, "F2 at locker", "F2 at box", 1), "link-spans-places", diag.Advice), "a place within another")
}

// A starter may go without a fuse; what is asked of it instead is told.
func TestStarterWithoutAFuse(t *testing.T) {
	starter := small + `battery B1 in house at locker: agm, 12 V, 90 Ah, resistance 3 mohm, terminals 105 degC
run B1 [0.2 m 50 mm2] fuse F1 at locker: 250 A, class t, 125 V, breaks 20 kA [0.1 m 50 mm2] isolator Q1 at locker: 300 A, 32 V, 1 pole, load-break [1 m 50 mm2] starter ST1 at locker: start 200 A
`
	tell(t, []change{
		{"a starter's cable without a fuse", starter, "fuse F1 at locker: 250 A, class t, 125 V, breaks 20 kA [0.1 m 50 mm2] ", "", "starter-unprotected", diag.Advice},
		{"a starter's cable too thin to hold the key", starter, "[1 m 50 mm2] starter", "[0.2 m 4 mm2] starter", "starter-cable-too-thin", diag.Danger},
		{"a battery of unsaid chemistry", starter, "agm, ", "", "chemistry-not-said", diag.NotVerified},
		{"members of unsaid chemistry", string24, "agm, ", "", "chemistry-not-said", diag.NotVerified},
	})
	covered := strings.Replace(starter, "[0.2 m 50 mm2] fuse F1 at locker: 250 A, class t, 125 V, breaks 20 kA [0.1 m 50 mm2] isolator Q1 at locker: 300 A, 32 V, 1 pole, load-break [1 m 50 mm2]", "[0.2 m 50 mm2] isolator Q1 at locker: 300 A, 32 V, 1 pole, load-break [1 m 50 mm2, in conduit]", 1)
	assert.NotEqual(t, starter, covered)
	assert.False(t, found(t, covered, "starter-unprotected", diag.Advice), "a starter's cable in conduit")
}

// What was measured is held against what it should be.
func TestReadingsAreHeld(t *testing.T) {
	read := onBar + "run PB [2 m 35 mm2] load L1 in house at locker: 500 W\nmeasured PB-L1: drop 0.09 V at 40 A, insulation 2 Mohm at 250 V, polarity right by \"JM\" dated 2026-11-18\n"
	mains := ashore + "measured R1: trip 0.02 s at 150 mA, function right by \"JM\" dated 2026-11-18\nmeasured INV1-E1: continuity 0.1 ohm by \"JM\" dated 2026-11-18\n"
	tell(t, []change{
		{"a drop far above the sum", read, "drop 0.09 V", "drop 0.6 V", "reading-disagrees", diag.Fault},
		{"a drop far below the sum", read, "drop 0.09 V at 40 A", "drop 0.05 V at 120 A", "reading-disagrees", diag.Advice},
		{"a drop at no current", read, " at 40 A", "", "reading-disagrees", diag.NotVerified},
		{"an insulation that has gone", read, "insulation 2 Mohm", "insulation 20 kohm", "reading-disagrees", diag.Fault},
		{"a polarity that was found wrong", read, "polarity right", "polarity wrong", "reading-disagrees", diag.Danger},
		{"a residual device that is slow", mains, "trip 0.02 s", "trip 0.2 s", "reading-disagrees", diag.Danger},
		{"a function that was found wrong", mains, "function right", "function wrong", "reading-disagrees", diag.Fault},
		{"a bond with a bad joint", mains, "continuity 0.1 ohm", "continuity 4 ohm", "reading-disagrees", diag.Fault},
	})
}

// What switches on the wrong pole, breaks one way alone, or charges without an end.
func TestSwitchesAndWind(t *testing.T) {
	pump := bilge + "float-switch FS1 at locker: 16 A, 24 V, 1 pole [1 m 6 mm2] pump P1 at locker: 60 W, bilge, must be live\n"
	gives := onBar + "run PB [0.1 m 35 mm2] contactor K1 at locker: 150 A, 32 V, 1 pole, coil 12 V [2 m 35 mm2] motor M1 in house at locker: 500 W, regenerates 100 W\n"
	wind := onBar + "source WG1 in house at locker: 120 W, 10 A, short-circuit 20 A\nrun WG1 [0.1 m 6 mm2] regulator SR1 at locker: 12 V, 10 A, input 50 V [0.1 m 6 mm2] fuse F3 at locker: class t, 125 V, breaks 20 kA, 20 A [link] PB\n"
	tell(t, []change{
		{"a float switch in the negative", pump, "24 V, 1 pole", "24 V, 1 pole, in negative", "device-in-negative", diag.Fault},
		{"a polarised contactor before a motor that gives back", gives, "coil 12 V", "coil 12 V, polarised", "polarised-breaker-both-ways", diag.Danger},
		{"a wind generator without a regulator", wind, "regulator SR1 at locker: 12 V, 10 A, input 50 V", "fuse F9 at locker: class t, 125 V, breaks 20 kA, 20 A", "source-unregulated", diag.NotVerified},
	})
}

// A kind in two words is one mistake, and its cure is the kind.
func TestKindsInTwoWords(t *testing.T) {
	for _, text := range []string{
		bilge + "FS1 [1 m 6 mm2] pump P1 at locker: 60 W, bilge, must be live\nfloat switch FS1 at locker: 16 A, 24 V\n",
		bilge + "float switch FS1 at locker: 16 A, 24 V [1 m 6 mm2] pump P1 at locker: 60 W, bilge, must be live\n",
	} {
		said := lang.Compile(nil, "boat.strake", text).Findings
		if assert.Len(t, said, 1) {
			assert.Equal(t, "write `float-switch`", said[0].Cure)
		}
	}
}

// An inverter draws its rating some day, whatever the conditions leave of it.
func TestInverterAboveItsFuse(t *testing.T) {
	inverting := strings.Replace(onBar, "place locker", "domain mains: ac 230 V, 50 Hz\nplace locker", 1) + `run PB [link] fuse F2 at locker: class t, 125 V, breaks 20 kA, 100 A [1 m 35 mm2] inverter INV1 at locker: 700 VA, isolated, neutral floating [1 m 3G2.5] rcbo R1 at locker: 6 A, 30 mA, type a, 2 pole, breaks 6 kA, let-through 30 kA2s [1 m 3G2.5] socket X1 in mains at locker: 100 W
condition "Evening": X1 on
`
	tell(t, []change{{"a fuse far below its inverter", inverting, "20 kA, 100 A [1 m 35 mm2]", "20 kA, 20 A [1 m 35 mm2]", "device-below-load", diag.Fault}})
}

// A cable keeps its size through a float switch, though the drop asks for it before
// the switch alone.
func TestOneSizeThroughAContact(t *testing.T) {
	plan := planned(t, small+"run battery B1 in house at locker: agm, 12 V, 75 Ah, resistance 6 mohm, terminals 105 degC [0.1 m] fuse F1 at locker: class t, 125 V, breaks 20 kA, 10 A [5 m] float-switch FS1 at locker: 16 A, 24 V [0.5 m] pump P1 at locker: 60 W, bilge, must be live\n")
	before, behind := cableOf(t, plan, "F1-FS1"), cableOf(t, plan, "FS1-P1")
	assert.Greater(t, float64(before.Area.Value), 1.0)
	assert.Equal(t, before.Area, behind.Area)
	assert.Equal(t, "alike", behind.GovernedBy)
}

// A let-through that is written and too much is told with its number.
func TestLetThroughIsReadOut(t *testing.T) {
	ways := strings.Replace(inBoard, "is fuse: class blade, 32 V, breaks 5 kA", "is breaker: 32 V, breaks 5 kA, curve c, let-through 6 kA2s", 1) + "    way 1  5 A \"Radio\" 30 W [3 m 1 mm2]\n}\n"
	tell(t, []change{{"a breaker that lets too much through, behind a fuse", ways, "let-through 6 kA2s", "let-through 8 kA2s", "short-circuit-withstand", diag.NotVerified}})
	for _, f := range lang.Compile(nil, "boat.strake", strings.Replace(ways, "let-through 6 kA2s", "let-through 8 kA2s", 1)).Findings {
		if f.Rule == "short-circuit-withstand" {
			assert.Contains(t, f.Message, "8 kA²s")
			assert.Contains(t, f.Message, "7.7 kA²s")
		}
	}
}

// What is known of a string is not called unknown for a cable that is removed, or
// one that has its fuse bolted on.
func TestStringsAndTheirTaps(t *testing.T) {
	tap := string24 + "run HB [0.1 m 2.5 mm2] fuse F2 at locker: class t, 125 V, breaks 20 kA, 10 A [1 m 2.5 mm2] load L2 at locker: 5 A, must be live\n"
	for _, changed := range []string{
		strings.Replace(tap, "run HB [0.1 m 2.5 mm2]", "run HB [link]", 1),
		strings.Replace(tap, "run HB [0.1 m 2.5 mm2]", "removed run HB [0.1 m 2.5 mm2]", 1),
	} {
		assert.NotEqual(t, tap, changed)
		assert.False(t, found(t, changed, "device-above-cable", diag.NotVerified))
		assert.True(t, found(t, strings.Replace(changed, "in series [0.3 m 50 mm2]", "in series [0.3 m 10 mm2]", 1), "device-above-cable", diag.Danger))
	}
}
