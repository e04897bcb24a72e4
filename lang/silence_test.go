package lang_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"strake/lang"
	"strake/lang/diag"
)

// Texts that once passed in silence and must not.
func TestNoSilence(t *testing.T) {
	const cranking = `craft "Mini" { cable class 5, tinned, 105 degC }
domain house: dc 12 V, 10.5 V to 14.6 V
place locker "Locker": 30 degC
battery B1 in house at locker: agm, 12 V, 90 Ah, resistance 6 mohm
run B1 [0.2 m 50 mm2] isolator Q1 at locker: 300 A, 32 V, load-break [1 m 50 mm2] starter ST1 at locker: start 250 A
`
	const converting = `craft "Mini" { cable class 5, tinned, 105 degC, free }
domain house: dc 24 V, 21 V to 29.2 V
domain small: dc 12 V, 10.5 V to 14.6 V
domain sun: dc 60 V, 30 V to 90 V
domain mains: ac 230 V, 50 Hz
place locker "Locker": 30 degC
run battery B1 in house at locker: lfp, 25.6 V, 100 Ah, discharge 100 A, charge 50 A, resistance 10 mohm [0.1 m 35 mm2] fuse F1: 100 A, class t, 125 V, breaks 20 kA [0.1 m 35 mm2] isolator Q1: 200 A, 32 V, load-break [0.3 m 35 mm2] bus PB: 200 A
`
	cases := []struct{ name, text, rule string }{
		{"an unfused cable beside a starter's", cranking + "run B1 [3 m 2.5 mm2] isolator Q2 at locker: 20 A, 32 V, load-break [3 m 2.5 mm2] load L1 at locker: 5 A\n", "cable-unprotected"},
		{"an unfused alternator beside a starter", cranking + "alternator A1 in house at locker: 14 V, 80 A\nrun A1 [4 m 1.5 mm2] B1\n", "cable-unprotected"},
		{"a fuse too large beside a starter", cranking + "alternator A1 in house at locker: 14 V, 80 A\nrun A1 [4 m 1.5 mm2] fuse F1: 300 A, class t, 125 V, breaks 20 kA [0.1 m 1.5 mm2] B1\n", "device-above-cable"},
		{"a starter's cable that loses all", "craft \"Mini\" { cable class 5, tinned, 105 degC }\ndomain house: dc 12 V, 10.5 V to 14.6 V\nplace locker: 30 degC\nrun battery B1 in house at locker: agm, 12 V, 90 Ah, resistance 6 mohm [20 m 1.5 mm2] starter ST1 at locker: start 250 A\n", "volt-drop"},
		{"a regulator of another output", converting + "run array PV1 in sun at locker: 200 W, 2 in series, voc 37 V, voc -0.3 %/K, isc 6 A [1 m 4 mm2] regulator SR1 at locker: 12 V, 20 A, input 100 V [0.2 m 6 mm2] fuse F2: 30 A, class t, 125 V, breaks 20 kA [link] PB\n", "voltage-of-another-domain"},
		{"a converter of another input", converting + "run PB [link] fuse F2: 30 A, class t, 125 V, breaks 20 kA [1 m 6 mm2] converter CV1 at locker: 12 V, 20 A, input 48 V, isolated [1 m 6 mm2] load L1 in small at locker: 60 W\n", "voltage-of-another-domain"},
		{"an inverter/charger of another battery", converting + "run PB [link] fuse F2: 100 A, class t, 125 V, breaks 20 kA [1 m 35 mm2] INV1.dc\ninverter-charger INV1 at locker: 2 kVA, input 12 V, charge 30 A, neutral earthed when inverting\nrun INV1.out [0.4 m 3G2.5] rcbo R1: 16 A, 30 mA, 2 pole [1 m 3G2.5] socket X1 in mains at locker: 500 W\n", "voltage-of-another-domain"},
	}
	for _, c := range cases {
		assert.True(t, found(t, c.text, c.rule, diag.Fault), "%s: %s", c.name, c.rule)
	}
}

// found tells whether a rule says something of a text, at a severity or above.
func found(t *testing.T, text, rule string, least diag.Severity) bool {
	t.Helper()
	yes := false
	for _, f := range lang.Compile(nil, "boat.strake", text).Findings {
		assert.NotEqual(t, diag.Error, f.Severity, "%s: %s", rule, f.Message)
		yes = yes || f.Rule == rule && f.Severity <= least
	}
	return yes
}

const (
	small = `craft "Mini" {
    hull grp
    cable class 5, tinned, 105 degC, free
    coldest -10 degC
}
domain house: dc 12 V, 10.5 V to 15.6 V
place locker "Locker": 30 degC
`
	onBar = small + `battery B1 in house at locker: agm, 12 V, 100 Ah, resistance 6 mohm, charge 40 A, terminals 105 degC
run B1 [0.1 m 35 mm2] fuse F1 at locker: class t, 125 V, breaks 20 kA, 100 A [0.1 m 35 mm2] isolator Q1 at locker: 150 A, 32 V, 1 pole, load-break [0.2 m 35 mm2] bus PB in house at locker: 200 A
`
	inBoard = onBar + `run PB [link] fuse F2 at locker: class t, 125 V, breaks 20 kA, 60 A [0.5 m 16 mm2] DB1
board DB1 in house at locker: 80 A {
    ways 1..6 is fuse: class blade, 32 V, breaks 5 kA
`
	second = `[0.1 m 35 mm2] fuse F2 at locker: class t, 125 V, breaks 20 kA, 100 A [0.1 m 35 mm2] isolator Q2 at locker: 150 A, 32 V, 1 pole, load-break [0.2 m 35 mm2] PB
`
	lithium = "run battery B2 in house at locker: lfp, 12.8 V, 100 Ah, resistance 6 mohm, charge 40 A, discharge 100 A, terminals 105 degC "
	sun     = onBar + `run array PV1 at locker: 200 W, voc 37.5 V, voc -0.27 %/K, isc 6 A, fuse 15 A [3 m 4 mm2] isolator Q2 at locker: 20 A, 100 V, 2 pole, load-break [0.5 m 4 mm2] regulator T1 at locker: 12 V, 15 A, input 100 V, input 20 A [1 m 6 mm2] fuse F3 at locker: class t, 125 V, breaks 20 kA, 20 A [link] PB
`
	ashore = `craft "Mini" {
    hull wood
    cable class 5, tinned, 105 degC, free
}
domain house: dc 12 V, 10.5 V to 14.6 V
domain mains: ac 230 V, 50 Hz
place locker "Locker": 40 degC
run inlet SH1 in mains at locker: 32 A [0.4 m 3G6] rcbo R1 at locker: 32 A, type a, 30 mA, 2 pole, breaks 6 kA
    [3 m 3G6] inverter-charger INV1.in at locker: 1 kVA, charge 7 A, transfer 32 A, isolated, neutral earthed when inverting
run INV1.out [0.4 m 3G6] rcbo R2 at locker: 16 A, 30 mA, 2 pole, type a, breaks 6 kA [3 m 3G2.5] DB1
board DB1 in mains at locker: 63 A {
    ways 1..4 is breaker: 2 pole, 230 V, breaks 6 kA, curve c
    way 1 10 A "Heater" load at locker: 2 kW [3 m 3G2.5]
}
battery B1 in house at locker: agm, 12 V, 200 Ah, resistance 4 mohm, charge 20 A, terminals 105 degC
run B1 [0.1 m 50 mm2] fuse F1 at locker: class t, 125 V, breaks 20 kA, 150 A
    [0.1 m 50 mm2] isolator Q1 at locker: 200 A, 32 V, 1 pole, load-break [1 m 50 mm2] INV1.dc
earth E1 at locker
bond INV1 [1 m 6 mm2] E1
condition "Evening": SH1 on, DB1 on
`
	cranked = small + "run battery B1 in house at locker: agm, 12 V, 90 Ah, cca 800 A, resistance 4 mohm, terminals 105 degC [0.1 m 70 mm2, in conduit] isolator Q1 at locker: 400 A, 32 V, load-break [1.5 m 70 mm2, in conduit] starter ST1 at locker: 12 V, start 300 A\n"
	bilge   = small + `run battery B1 in house at locker: agm, 12 V, 75 Ah, resistance 6 mohm [0.1 m 6 mm2] fuse F1 at locker: class t, 125 V, breaks 20 kA, 10 A [2 m 6 mm2] `
)

// Each text changed in one place, with what must be said of it and was not, and
// must not be said of it unchanged.
func TestOneChangeIsTold(t *testing.T) {
	load := "run PB [2 m 35 mm2] load L1 in house at locker: 500 W\n"
	earthed := strings.Replace(onBar, "15.6 V", "15.6 V, earthed negative", 1) + load + "earth E1 at locker\nbond PB.negative [1 m 16 mm2] E1\n"
	coil := onBar + "run PB [0.1 m 35 mm2] contactor K1 at locker: 150 A, 32 V, 1 pole, coil 12 V [2 m 35 mm2] load L1 in house at locker: 500 W\nrun PB [link] fuse F2 at locker: class t, 125 V, breaks 20 kA, 3 A [1 m 1.5 mm2] K1.coil\n"
	lfp := strings.Replace(onBar, "agm, 12 V, 100 Ah", "lfp, 12.8 V, 100 Ah, discharge 100 A", 1) + load
	tell(t, []change{
		{"lead beside lithium", lfp + lithium + second, "lfp, 12.8 V, 100 Ah, discharge 100 A", "agm, 12 V, 100 Ah", "batteries-unlike", diag.Danger},
		{"a large battery beside a small one", lfp + lithium + second, "12.8 V, 100 Ah, discharge", "12.8 V, 200 Ah, discharge", "batteries-unlike", diag.Fault},
		{"a battery of unsaid chemistry", lfp + lithium + second, "lfp, 12.8 V, 100 Ah, discharge", "12.8 V, 100 Ah, discharge", "batteries-unlike", diag.NotVerified},
		{"lead and lithium through a switch", lfp + lithium + strings.Replace(second, "load-break", "load-break, off", 1), "lfp, 12.8 V, 100 Ah, discharge 100 A", "agm, 12 V, 100 Ah", "batteries-unlike", diag.Advice},
		{"no main earth", ashore, "bond INV1 [1 m 6 mm2] E1\n", "", "main-earth-missing", diag.Danger},
		{"no transfer rating", ashore, ", transfer 32 A", "", "transfer-relay-overloaded", diag.NotVerified},
		{"a small transfer relay", ashore, "transfer 32 A", "transfer 16 A", "transfer-relay-overloaded", diag.Fault},
		{"a load above its way", ashore, "way 1 10 A", "way 1 6 A", "device-below-load", diag.Fault},
		{"no load break at 12 V", onBar + load, "1 pole, load-break", "1 pole, no load-break", "switch-not-load-break", diag.Fault},
		{"load break not said", onBar + load, "1 pole, load-break", "1 pole", "switch-not-load-break", diag.NotVerified},
		{"one pole in the array's leads", sun, "100 V, 2 pole", "100 V, 1 pole", "array-without-isolator", diag.Danger},
		{"no load break in the array's leads", sun, "2 pole, load-break", "2 pole, no load-break", "array-without-isolator", diag.Danger},
		{"a regulator's input too small", sun, "input 20 A", "input 5 A", "array-current-too-high", diag.Fault},
		{"a regulator's input not said", sun, ", input 20 A", "", "array-current-too-high", diag.NotVerified},
		{"a regulator far too small", sun, "12 V, 15 A", "12 V, 5 A", "regulator-below-array", diag.Advice},
		{"a coil that nothing feeds", coil, "run PB [link] fuse F2 at locker: class t, 125 V, breaks 20 kA, 3 A [1 m 1.5 mm2] K1.coil\n", "", "coil-not-fed", diag.Fault},
		{"a coil of another voltage", coil, "coil 12 V", "coil 24 V", "coil-of-another-voltage", diag.Fault},
		{"a coil of unsaid voltage", coil, ", coil 12 V", "", "coil-of-another-voltage", diag.NotVerified},
		{"a pump that nothing starts", bilge + "float-switch FS1 at locker: 16 A, 24 V [1 m 6 mm2] pump P1 at locker: 60 W, bilge, must be live\n", "float-switch FS1 at locker: 16 A, 24 V [1 m 6 mm2] ", "", "bilge-pump-not-started", diag.NotVerified},
		{"a pump behind a hand switch", bilge + "float-switch FS1 at locker: 16 A, 24 V [1 m 6 mm2] pump P1 at locker: 60 W, bilge, must be live\n", "float-switch", "switch", "bilge-pump-not-started", diag.Danger},
		{"a float switch for less volts", bilge + "float-switch FS1 at locker: 16 A, 24 V [1 m 6 mm2] pump P1 at locker: 60 W, bilge, must be live\n", "16 A, 24 V", "16 A, 6 V", "voltage-rating-too-low", diag.Danger},
		{"a float switch for less current", bilge + "float-switch FS1 at locker: 16 A, 24 V [1 m 6 mm2] pump P1 at locker: 60 W, bilge, must be live\n", "16 A, 24 V", "2 A, 24 V", "switch-overloaded", diag.Danger},
		{"lithium beside an engine", lfp, "30 degC", "30 degC, engine", "lithium-too-hot", diag.Fault},
		{"lithium in the heat", lfp, "30 degC", "65 degC", "lithium-too-hot", diag.Danger},
		{"vented lead without air", onBar + load, "agm, 12 V", "flooded, 12 V", "battery-not-aired", diag.Danger},
		{"a thin bond", earthed, "bond PB.negative [1 m 16 mm2]", "bond PB.negative [1 m 2.5 mm2]", "bond-too-thin", diag.Fault},
		{"a bond of unknown size", earthed, "bond PB.negative [1 m 16 mm2]", "bond PB.negative [1 m, unknown mm2]", "bond-too-thin", diag.NotVerified},
		{"a thin bond of mains", ashore, "bond INV1 [1 m 6 mm2]", "bond INV1 [1 m 2.5 mm2]", "bond-too-thin", diag.Danger},
		{"a negative bonded to no earth", earthed, "bond PB.negative [1 m 16 mm2] E1", "bond PB.negative [1 m 16 mm2] B1.negative", "earthed-negative-bonds", diag.Fault},
		{"a fitted tail", inBoard + "    prepared way 1  10 A \"Tail\" [3 m 4 mm2] capped at locker\n}\n", "prepared way", "way", "tail-live", diag.Fault},
		{"a way of which nothing is said", inBoard + "    way 1  10 A \"Radio\" 60 W [3 m 4 mm2]\n}\n", " 60 W", "", "load-not-said", diag.NotVerified},
		{"a bar for less than its devices", inBoard + "    way 1  30 A \"Radio\" 60 W [3 m 10 mm2]\n    way 2  30 A \"Fan\" 60 W [3 m 10 mm2]\n}\n", "house at locker: 80 A", "house at locker: 40 A", "bar-below-its-devices", diag.Danger},
		{"a switch for less than its devices", onBar + load, "150 A, 32 V", "60 A, 32 V", "switch-below-its-devices", diag.Danger},
		{"a thin link in a string", strings.Replace(small, "dc 12 V, 10.5 V to 15.6 V", "dc 24 V, 21 V to 31.2 V", 1) + "battery W1..W2 at locker: agm, 12 V, 75 Ah, resistance 6 mohm, terminals 105 degC\nbank WB in house is W1..W2 in series [0.2 m 35 mm2]\nrun WB [0.1 m 35 mm2] fuse F1 at locker: class t, 125 V, breaks 20 kA, 100 A [0.1 m 35 mm2] isolator Q1 at locker: 150 A, 48 V, 1 pole, load-break [2 m 35 mm2] motor M1 at locker: 1 kW\n", "in series [0.2 m 35 mm2]", "in series [0.2 m 2.5 mm2]", "device-above-cable", diag.Danger},
		{"a residual current device of unsaid sensitivity", ashore, "type a, 30 mA, 2 pole", "type a, 2 pole", "residual-protection-missing", diag.NotVerified},
		{"a mains charger of unsaid isolation", ashore + "run DB1.2 [1 m 3G2.5] charger CH1 at locker: 12 V, 5 A, isolated [0.2 m 4 mm2] fuse F8 at locker: class t, 125 V, breaks 20 kA, 10 A [0.1 m 4 mm2] B1\n", "5 A, isolated", "5 A", "converter-not-isolated", diag.NotVerified},
		{"a DC system of unsaid earthing", strings.Replace(strings.Replace(onBar, "15.6 V", "15.6 V, insulated", 1), "hull grp", "hull steel", 1) + load, ", insulated", "", "earthing-not-said", diag.NotVerified},
		{"a battery of unsaid voltage", onBar + load, "agm, 12 V,", "agm,", "voltage-of-another-domain", diag.NotVerified},
		{"an alternator that gives more than lithium takes", lfp + "alternator A1 in house at locker: 14 V, 35 A, short-circuit 40 A\nrun A1 [0.2 m 16 mm2] fuse F3 at locker: class t, 125 V, breaks 20 kA, 50 A [0.1 m 16 mm2] PB\n", "14 V, 35 A", "14 V, 80 A", "charge-current-too-high", diag.Danger},
		{"one pole in the second switch of an array", strings.Replace(sun, "[0.5 m 4 mm2] regulator", "[0.5 m 4 mm2] isolator Q3 at locker: 20 A, 100 V, 2 pole, load-break [0.5 m 4 mm2] regulator", 1), "isolator Q3 at locker: 20 A, 100 V, 2 pole", "isolator Q3 at locker: 20 A, 100 V, 1 pole", "array-without-isolator", diag.Danger},
		{"a motor without precharge behind a fuse on a bar", onBar + "run PB [link] fuse F2 at locker: class t, 125 V, breaks 20 kA, 80 A [2 m 35 mm2] motor M1 at locker: 2 kW, 60 A, precharge\n", ", precharge", "", "precharge-missing", diag.NotVerified},
		{"a converter that may bond a negative twice", strings.Replace(onBar, "15.6 V", "15.6 V, earthed negative", 1) + "domain radio: dc 24 V, 21 V to 31 V, earthed negative\nrun PB [link] fuse F2 at locker: class t, 125 V, breaks 20 kA, 60 A [1 m 16 mm2] converter CV1 at locker: 24 V, 10 A, isolated, one way [1 m 6 mm2] stud XR at locker: 60 A\nrun XR [1 m 6 mm2] load L1 in radio at locker: 60 W\nearth E1 at locker\nbond PB.negative [1 m 16 mm2] E1\nbond XR.negative [1 m 16 mm2] E1\n", ", isolated, one way", ", one way", "converter-not-isolated", diag.NotVerified},
		{"a charger whose output leads nowhere", onBar + "domain radio: dc 24 V, 21 V to 31 V\nrun PB [link] fuse F2 at locker: class t, 125 V, breaks 20 kA, 60 A [1 m 16 mm2] CV1.in\nconverter CV1 at locker: 24 V, 10 A, isolated, one way\nrun CV1.out [1 m 6 mm2] load L1 in radio at locker: 60 W\n", "run CV1.out [1 m 6 mm2] load L1 in radio at locker: 60 W\n", "", "converter-unconnected", diag.Fault},
		{"a battery whose board has breakers alone", strings.Replace(inBoard, "is fuse: class blade, 32 V", "is breaker: 32 V", 1) + "    way 1  10 A \"Radio\" 60 W [3 m 4 mm2]\n}\n", "[0.1 m 35 mm2] isolator Q1 at locker: 150 A, 32 V, 1 pole, load-break [0.2 m 35 mm2]", "[0.3 m 35 mm2]", "bank-without-isolator", diag.Danger},
		{"an automatic pump whose automatic side is not fed", bilge + "P1.auto\npump P1 in house at locker: 60 W, bilge, must be live, automatic, manual\nrun B1 [0.1 m 6 mm2] fuse F2 at locker: class t, 125 V, breaks 20 kA, 10 A [2 m 6 mm2] switch S1 at locker: 16 A, 24 V [2 m 6 mm2] P1.manual\n", "[2 m 6 mm2] P1.auto\n", "[2 m 6 mm2] lamp L9 at locker: 5 W\n", "bilge-pump-not-started", diag.Danger},
		{"an insulated board behind a converter without a monitor", strings.Replace(onBar, "15.6 V", "15.6 V, earthed negative", 1) + "domain radio: dc 24 V, 21 V to 31 V, insulated\nrun PB [link] fuse F2 at locker: class t, 125 V, breaks 20 kA, 60 A [1 m 16 mm2] converter CV1 at locker: 24 V, 10 A, isolated, one way [1 m 6 mm2] stud XR at locker: 60 A\nrun XR [1 m 6 mm2] load L1 in radio at locker: 60 W\nrun XR [0.5 m 1.5 mm2] insulation-monitor IM1 at locker\n", "run XR [0.5 m 1.5 mm2] insulation-monitor IM1 at locker\n", "", "insulation-monitor-missing", diag.Fault},
		{"an earthed negative behind a converter that nothing earths", strings.Replace(onBar, "15.6 V", "15.6 V, earthed negative", 1) + "domain radio: dc 24 V, 21 V to 31 V, earthed negative\nbattery B8 in radio at locker: agm, 24 V, 20 Ah\nrun PB [link] fuse F2 at locker: class t, 125 V, breaks 20 kA, 60 A [1 m 16 mm2] converter CV1 at locker: 24 V, 10 A, isolated, one way [1 m 6 mm2] stud XR at locker: 60 A\nrun XR [1 m 6 mm2] load L1 in radio at locker: 60 W\nearth E1 at locker\nbond PB.negative [1 m 16 mm2] E1\nbond XR.negative [1 m 16 mm2] E1\nbond B8.negative [1 m 16 mm2] E1\n", "bond XR.negative [1 m 16 mm2] E1\n", "", "earthed-negative-bonds", diag.Fault},
		{"a mains device below one charger behind it", strings.Replace(ashore, "charge 7 A", "charge 70 A", 1), "rcbo R1 at locker: 32 A", "rcbo R1 at locker: 4 A", "device-below-load", diag.Fault},
		{"a slip in a motor's power", onBar + "run PB [2 m 35 mm2] motor M1 in house at locker: 600 W, 50 A\n", "600 W, 50 A", "6 kW, 50 A", "numbers-disagree", diag.Fault},
		{"a slip in a module's current", sun, "isc 6 A", "isc 0.6 A", "numbers-disagree", diag.Fault},
		{"a small galvanic isolator", strings.Replace(ashore, "[3 m 3G6] inverter", "[0.5 m 3G6] galvanic-isolator GI1 at locker: 32 A [3 m 3G6] inverter", 1), "GI1 at locker: 32 A", "GI1 at locker: 16 A", "galvanic-isolator-too-small", diag.Danger},
		{"a small transformer", strings.Replace(ashore, "[3 m 3G6] inverter", "[0.5 m 3G6] transformer T1 at locker: 7.4 kVA, neutral earthed [0.4 m 3G6] rcbo R4 at locker: 32 A, type a, 30 mA, 2 pole [3 m 3G6] inverter", 1) + "bond T1 [1 m 6 mm2] E1\n", "7.4 kVA", "0.74 kVA", "transformer-device-too-large", diag.Fault},
		{"a string fuse that modules do not stand", strings.Replace(sun, "PV1 at locker: 200 W, voc 37.5 V, voc -0.27 %/K, isc 6 A, fuse 15 A [3 m 4 mm2] ", "PV1 at locker: 200 W, voc 37.5 V, voc -0.27 %/K, isc 6 A, fuse 15 A [3 m 4 mm2] fuse F7 at locker: 12 A, class gpv, 1000 V, breaks 10 kA, 2 pole [0.2 m 4 mm2] ", 1), "F7 at locker: 12 A", "F7 at locker: 32 A", "string-fuse-missing", diag.Danger},
		{"an array without a regulator", sun, "regulator T1 at locker: 12 V, 15 A, input 100 V, input 20 A [1 m 6 mm2] ", "", "array-without-regulator", diag.Danger},
		{"a small shunt", onBar + "run PB [link] fuse F2 at locker: class t, 125 V, breaks 20 kA, 60 A [0.2 m 16 mm2] shunt SH9 at locker: 100 A [1 m 16 mm2] load L1 in house at locker: 400 W\n", "SH9 at locker: 100 A", "SH9 at locker: 20 A", "switch-below-its-devices", diag.Danger},
		{"an alternator behind the isolator", onBar + "alternator A1 in house at locker: 14 V, 35 A, short-circuit 40 A\nrun A1 [0.2 m 16 mm2] fuse F3 at locker: class t, 125 V, breaks 20 kA, 50 A [0.1 m 16 mm2] B1\n", "[0.1 m 16 mm2] B1", "[0.1 m 16 mm2] PB", "alternator-behind-isolator", diag.Advice},
		{"a blade fuse for more volts than there are", inBoard + "    way 1  10 A \"Radio\" 60 W [3 m 4 mm2]\n}\n", "class blade, 32 V", "class blade, 320 V", "above-its-class", diag.Advice},
		{"a live cable in green", onBar + load, "[2 m 35 mm2] load", "[2 m 35 mm2 green] load", "colour-of-earth", diag.Fault},
		{"a domain that never charges", onBar + load, "10.5 V to 15.6 V", "10.5 V to 12.6 V", "domain-range-and-battery", diag.Fault},
		{"a domain above what lithium stands", strings.Replace(lfp, "15.6 V", "14.6 V", 1), "14.6 V", "16 V", "domain-range-and-battery", diag.Danger},
		{"a breaker of mains in a DC system", onBar + "run PB [link] breaker Q5 at locker: 20 A, 80 V, breaks 6 kA, curve c, 1 pole [2 m 10 mm2] load L1 in house at locker: 40 W\n", "20 A, 80 V", "20 A, 230 V", "mains-device-on-dc", diag.NotVerified},
		{"a residual current device in a DC system", onBar + "run PB [link] breaker Q5 at locker: 20 A, 80 V, breaks 6 kA, curve c, 1 pole [2 m 10 mm2] load L1 in house at locker: 40 W\n", "breaker Q5 at locker: 20 A", "rcbo Q5 at locker: 20 A, 30 mA", "mains-device-on-dc", diag.Danger},
		{"a monitor on an earthed pole", strings.Replace(onBar, "15.6 V", "15.6 V, insulated", 1) + "run PB [link] fuse F2 at locker: class t, 125 V, breaks 20 kA, 3 A, 2 pole [0.5 m 1.5 mm2] insulation-monitor IM1 at locker\n", "insulated", "earthed negative", "insulation-monitor-misplaced", diag.Fault},
		{"an earth that joins nothing", earthed, "bond PB.negative [1 m 16 mm2] E1\n", "", "earth-joins-nothing", diag.Advice},
		{"a converter that takes too little", onBar + "domain radio: dc 24 V, 21 V to 31 V\nrun PB [link] fuse F2 at locker: class t, 125 V, breaks 20 kA, 60 A [1 m 16 mm2] converter CV1 at locker: 24 V, 20 A, input 55 A, isolated, one way [1 m 6 mm2] load L1 in radio at locker: 60 W\n", "input 55 A", "input 5 A", "input-below-output", diag.Fault},
		{"lithium whose alternator a gauge is to stop", lfp + "bms BM1 at locker\nmeter ME1 at locker\nalternator A1 in house at locker: 14 V, 35 A, short-circuit 40 A\nrun A1 [0.2 m 16 mm2] fuse F3 at locker: class t, 125 V, breaks 20 kA, 50 A [0.1 m 16 mm2] PB\nsignal BM1 [1 m] stops A1\n", "signal BM1", "signal ME1", "alternator-on-lithium", diag.Danger},
		{"a pump that a panel is to start", bilge + "P1\npump P1 at locker: 60 W, bilge, must be live\nfloat-switch FS1 at locker: 16 A, 24 V\npanel TP1 at locker\nsignal FS1 [1 m] starts P1\n", "signal FS1", "signal TP1", "bilge-pump-not-started", diag.NotVerified},
		{"a signal to a hand isolator", coil + "bms BM1 at locker\nsignal BM1 [1 m] opens K1\n", "opens K1", "opens Q1", "signal-moves-nothing", diag.Fault},
		{"a start that is not written", cranked, ", start 300 A", "", "starter-cable-too-thin", diag.NotVerified},
		{"a thin cable of a start that is not written", strings.NewReplacer("1.5 m 70 mm2", "1.5 m 6 mm2", "start 300 A", "start 90 A").Replace(cranked), ", start 90 A", "", "starter-cable-too-thin", diag.Danger},
		{"a branch of a starter's cable without a fuse", cranked + "run Q1.out [0.1 m 6 mm2] fuse F5 at locker: class t, 125 V, breaks 20 kA, 20 A [2 m 6 mm2] load L1 at locker: 60 W\n", "fuse F5 at locker: class t, 125 V, breaks 20 kA, 20 A [2 m 6 mm2] ", "", "cable-unprotected", diag.Danger},
		{"a branch of a starter's cable with its fuse far away", cranked + "run Q1.out [0.1 m 6 mm2] fuse F5 at locker: class t, 125 V, breaks 20 kA, 20 A [2 m 6 mm2] load L1 at locker: 60 W\n", "run Q1.out [0.1 m", "run Q1.out [3 m", "fuse-beyond-reach", diag.Danger},
		{"a branch that takes more than a starter's cable holds", cranked + "run Q1.out [0.1 m 70 mm2] fuse F5 at locker: class t, 125 V, breaks 20 kA, 250 A [2 m 2 parallel 70 mm2] load L1 at locker: 60 W\n", "L1 at locker: 60 W", "L1 at locker: 290 A", "ampacity-exceeded", diag.Danger},
		{"a bilge pump that does not say so", bilge + "float-switch FS1 at locker: 16 A, 24 V [1 m 6 mm2] pump P1 \"Bilge pump\" at locker: 60 W, bilge, must be live\n", ", bilge, must be live", "", "bilge-pump-not-said", diag.NotVerified},
		{"a craft afloat whose only pump is run by hand", strings.Replace(bilge, "hull grp", "water coastal", 1) + "float-switch FS1 at locker: 16 A, 24 V [1 m 6 mm2] pump P1 at locker: 60 W, bilge\n", "float-switch FS1 at locker: 16 A, 24 V [1 m 6 mm2] pump P1 at locker: 60 W, bilge", "switch S1 at locker: 16 A, 24 V [1 m 6 mm2] pump P1 at locker: 60 W, bilge, manual", "no-bilge-pump-by-itself", diag.Advice},
		{"a float away from its pump", bilge + "float-switch FS1 at locker: 16 A, 24 V [1 m 6 mm2] pump P1 at locker: 60 W, bilge, must be live\nplace mast: 30 degC\n", "FS1 at locker", "FS1 at mast", "float-elsewhere", diag.Advice},
		{"a navigation light that was removed", inBoard + "    way 1  10 A \"Stern light\" lamp at locker: 10 W, navigation [3 m 4 mm2]\n}\n", "way 1  10", "removed way 1  10", "navigation-light-not-aboard", diag.Fault},
		{"a float beside a hand switch taken out", bilge + "float-switch FS1 at locker: 16 A, 24 V [1 m 6 mm2] P1\npump P1 at locker: 60 W, bilge, must be live\nrun F1.out [2 m 6 mm2] switch S1 at locker: 16 A, 24 V, off [1 m 6 mm2] P1\n", "float-switch FS1 at locker: 16 A, 24 V [1 m 6 mm2] ", "", "bilge-pump-not-started", diag.NotVerified},
		{"terminals of 60 °C", onBar + "run PB [2 m 6 mm2] fuse F2 at locker: class t, 125 V, breaks 20 kA, 32 A, terminals 90 degC [2 m 6 mm2] load L1 at locker: 60 W, terminals 90 degC\n", "32 A, terminals 90 degC", "32 A, terminals 60 degC", "device-above-cable", diag.Danger},
		{"terminals that say nothing", onBar + "run PB [2 m 10 mm2] fuse F2 at locker: class t, 125 V, breaks 20 kA, 70 A, terminals 90 degC [2 m 10 mm2] load L1 at locker: 60 W, terminals 90 degC\n", "70 A, terminals 90 degC", "70 A", "device-above-cable", diag.Danger},
		{"a domain far above what lead is charged with", onBar + load, "10.5 V to 15.6 V", "10.5 V to 20 V", "domain-range-and-battery", diag.Fault},
		{"gel in a domain for flooded lead", strings.NewReplacer("agm", "flooded", "15.6 V", "16.5 V").Replace(onBar) + load, "flooded, 12 V", "gel, 12 V", "domain-range-and-battery", diag.Fault},
		{"lithium where it freezes", lfp, "30 degC", "-15 degC", "lithium-too-cold", diag.Fault},
		{"an alternator many times what lead takes", cranked + "run alternator A1 in house at locker: 14 V, 80 A, short-circuit 90 A [0.2 m 35 mm2] fuse F3 at locker: class t, 125 V, breaks 20 kA, 100 A [0.1 m 35 mm2] B1\n", "cca 800 A", "charge 5 A, cca 800 A", "charge-current-too-high", diag.Advice},
		{"a start above the cold cranking current", cranked, "cca 800 A", "cca 150 A", "start-above-battery", diag.Fault},
		{"a start that its battery's resistance eats up", cranked, "resistance 4 mohm", "resistance 15 mohm", "start-above-battery", diag.Advice},
		{"vented lead in a box of which nothing is said", strings.NewReplacer("agm, 12 V", "flooded, 12 V", "house at locker: agm", "house at box: flooded", "locker \"Locker\": 30 degC", "locker \"Locker\": 30 degC, ventilated").Replace(onBar) + load + "place box \"Box\" at locker: 25 degC, ventilated\n", "25 degC, ventilated", "25 degC", "battery-not-aired", diag.NotVerified},
		{"a prepared tail on a live bolt", onBar + load + "run PB [0.2 m 10 mm2] fuse F50 at locker: class t, 125 V, breaks 20 kA, 30 A, off [0.2 m 10 mm2] stud X9 at locker: 50 A\nprepared run X9 [4 m 10 mm2] capped at locker\n", "30 A, off", "30 A", "tail-live", diag.Fault},
		{"a mains socket in the bilge", ashore + "place wet: 30 degC, wet\nrun DB1.2 [3 m 3G2.5] socket X1 at locker: 4 A\n", "socket X1 at locker", "socket X1 at wet", "mains-socket-in-the-wet", diag.Advice},
		{"a prepared run whose fuse does not say that it is out", onBar + load + "prepared run PB [0.2 m 10 mm2] fuse F50 at locker: class t, 125 V, breaks 20 kA, 30 A, off [4 m 10 mm2] capped at locker\n", "30 A, off", "30 A", "tail-live", diag.Advice},
	})
}
