package lang_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"strake/lang/diag"
)

// A converter gives to what hangs on its own output, or is to.
func TestAConverterGivesToSomething(t *testing.T) {
	const (
		fed     = onBar + "domain radio: dc 24 V, 21 V to 31 V\nrun PB [link] fuse F2 at locker: class t, 125 V, breaks 20 kA, 60 A [1 m 16 mm2] converter CV1.in at locker: 24 V, 20 A, input 55 A, isolated, one way\n"
		pump    = "run CV1.out [1 m 6 mm2] load L1 in radio at locker: 60 W\n"
		waiting = "prepared run PB [0.2 m 10 mm2] fuse F50 at locker: class t, 125 V, breaks 20 kA, 30 A, off [4 m 10 mm2] capped at locker\n"
		own     = "prepared run CV1.out [2 m 6 mm2] capped at locker\n"
	)
	tell(t, []change{
		{"a converter without its load, beside a tail elsewhere", fed + pump + waiting, pump, "", "converter-unconnected", diag.Fault},
		{"a converter without its load, beside an untraced cable elsewhere", fed + pump + "run PB [0.2 m 10 mm2] fuse F50 at locker: class t, 125 V, breaks 20 kA, 30 A [4 m 10 mm2] untraced\n", pump, "", "converter-unconnected", diag.Fault},
	})
	assert.False(t, found(t, fed+own, "converter-unconnected", diag.Fault), "a tail on its own output waits for the load")
}

// A bank that feeds its own charger, and what keeps it from that.
func TestABankDoesNotChargeItself(t *testing.T) {
	const (
		boat = onBar + `domain mains: ac 230 V, 50 Hz
run PB [link] fuse F2 at locker: class t, 125 V, breaks 20 kA, 60 A [1 m 16 mm2] inverter INV1 at locker: 400 VA, isolated, neutral earthed [0.4 m 3G2.5] rcbo R2 at locker: 6 A, 30 mA, 2 pole, type a, curve c, breaks 6 kA [1 m 3G2.5] CO1.inverter
run inlet SH1 in mains at locker: 16 A [0.4 m 3G2.5] rcbo R1 at locker: 16 A, 30 mA, 2 pole, type a, curve c, breaks 6 kA [1 m 3G2.5] CO1.shore
changeover CO1 at locker: 16 A, 230 V, 2 pole, break before make
run CO1.out [1 m 3G2.5] bus AC1 in mains at locker: 16 A
run AC1 [1 m 3G2.5] socket X1 at locker: 1 A
earth E1 at locker
bond SH1 [1 m 6 mm2] E1
bond INV1 [1 m 16 mm2] E1
`
		output  = " charger CH1 at locker: 12 V, 10 A, isolated [0.5 m 10 mm2] fuse F3 at locker: class t, 125 V, breaks 20 kA, 40 A [link] PB\n"
		charger = "run R1.out [1 m 3G2.5]" + output
		held    = boat + "run AC1 [1 m 3G2.5] relay K1 at locker: 16 A, 250 V, 2 pole, coil 230 V [1 m 3G2.5]" + output + "run R1.out [W9: 1 m 3G2.5] K1.coil\n"
		stopped = boat + "run AC1 [1 m 3G2.5]" + output + "bms BM1 at locker\nsignal INV1 [1 m] stops CH1\n"
		two     = onBar + `domain engine: dc 12 V, 10.5 V to 14.8 V
run PB [link] fuse F2 at locker: class t, 125 V, breaks 20 kA, 40 A [1 m 10 mm2] charger CH1 at locker: 12 V, 20 A, isolated, one way [0.5 m 10 mm2] fuse F3 at locker: class t, 125 V, breaks 20 kA, 40 A [0.2 m 10 mm2] B3
battery B3 in engine at locker: agm, 12 V, 75 Ah, resistance 5 mohm
`
	)
	tell(t, []change{
		{"a charger moved to the board that the inverter feeds", boat + charger, "run R1.out [1 m 3G2.5] charger", "run AC1 [1 m 3G2.5] charger", "bank-charges-itself", diag.Fault},
		{"a relay whose coil the inverter feeds as well", held, "run R1.out [W9", "run AC1 [W9", "bank-charges-itself", diag.Fault},
		{"a signal of what only watches the bank", stopped, "signal INV1", "signal BM1", "bank-charges-itself", diag.Fault},
		{"a second charger that leads back", two, "battery B3", "run B3 [0.2 m 10 mm2] fuse F4 at locker: class t, 125 V, breaks 20 kA, 40 A [1 m 10 mm2] charger CH2 at locker: 12 V, 10 A, isolated, one way [1 m 10 mm2] fuse F5 at locker: class t, 125 V, breaks 20 kA, 40 A [link] PB\nbattery B3", "bank-charges-itself", diag.Advice},
	})
}

// A contact stands what a coil takes, and a coil says what that is.
func TestAContactStandsItsCoil(t *testing.T) {
	coil := onBar + `run PB [link] fuse F3 at locker: class t, 125 V, breaks 20 kA, 80 A [0.3 m 35 mm2] contactor K1 at locker: 150 A, 32 V, 1 pole, coil 12 V, coil 3 A, load-break [2 m 35 mm2] motor M1 at locker: 800 W
run PB [link] fuse F2 at locker: class t, 125 V, breaks 20 kA, 5 A [2 m 2.5 mm2] switch S1 at locker: 10 A, 32 V [2 m 2.5 mm2] K1.coil
`
	tell(t, []change{
		{"a foot switch below what the coil takes", coil, "S1 at locker: 10 A", "S1 at locker: 2 A", "switch-overloaded", diag.Danger},
		{"a small foot switch before a coil that says nothing", strings.Replace(coil, "coil 3 A", "coil 800 mA", 1), "S1 at locker: 10 A, 32 V [2 m 2.5 mm2] K1.coil\n", "S1 at locker: 1 A, 32 V [2 m 2.5 mm2] K2.coil\nrelay K2 at locker: 10 A, 32 V, coil 12 V\nrun F2.out [2 m 2.5 mm2] K2.in\nrun K2.out [2 m 2.5 mm2] K1.coil\n", "switch-overloaded", diag.NotVerified},
	})
	assert.False(t, found(t, strings.NewReplacer("coil 3 A", "coil 800 mA", "S1 at locker: 10 A", "S1 at locker: 1 A").Replace(coil), "switch-overloaded", diag.NotVerified), "a coil that says that it takes less")
}

// A signal from a lithium battery is its data until it looks like a wire.
func TestASenseLeadOnALithiumPost(t *testing.T) {
	data := strings.Replace(onBar, "agm, 12 V, 100 Ah", "lfp, 12.8 V, 100 Ah, discharge 100 A", 1) + "meter ME1 at locker\nsignal B1 [4 m] shows ME1\n"
	tell(t, []change{
		{"a section", data, "[4 m]", "[4 m 1 mm2]", "sense-lead-unprotected", diag.NotVerified},
		{"a pole", data, "signal B1 [4 m]", "signal B1.positive [4 m 1 mm2]", "sense-lead-unprotected", diag.Danger},
	})
}

// What starts the engine is kept from what runs the house down.
func TestAStartersBatteryStandsAlone(t *testing.T) {
	const link = `run Q1.out [0.1 m 50 mm2] fuse F4 at locker: class t, 125 V, breaks 20 kA, 125 A [0.1 m 50 mm2] isolator Q3 at locker: 150 A, 32 V, 1 pole, load-break, off [0.2 m 50 mm2] fuse F5 at locker: class t, 125 V, breaks 20 kA, 125 A [0.1 m 50 mm2] PB
`
	two := strings.Replace(cranked, "starter ST1", "bus SB in house at locker: 400 A [link] starter ST1", 1) + `battery B2 in house at locker: agm, 12 V, 90 Ah, resistance 4 mohm, terminals 105 degC
run B2 [0.1 m 35 mm2] fuse F2 at locker: class t, 125 V, breaks 20 kA, 125 A [0.1 m 35 mm2] isolator Q2 at locker: 150 A, 32 V, 1 pole, load-break [0.2 m 35 mm2] bus PB in house at locker: 200 A
run PB [0.2 m 10 mm2] fuse F3 at locker: class t, 125 V, breaks 20 kA, 30 A [2 m 10 mm2] load L1 at locker: 60 W
` + link
	relay := strings.Replace(two, "isolator Q3 at locker: 150 A, 32 V, 1 pole, load-break, off", "contactor K3 at locker: 150 A, 32 V, 1 pole, load-break, coil 12 V [0.2 m 50 mm2] isolator Q3 at locker: 150 A, 32 V, 1 pole, load-break", 1) + "run PB [0.2 m 1.5 mm2] fuse F6 at locker: class t, 125 V, breaks 20 kA, 3 A [1 m 1.5 mm2] switch S3 at locker: 10 A, 24 V, off [1 m 1.5 mm2] K3.coil\n"
	tell(t, []change{
		{"an emergency link that stands closed", two, "load-break, off", "load-break", "starter-bank-shared", diag.Fault},
		{"a cable round the relay in the link", relay, "run PB [0.2 m 10 mm2]", "run F4.out [0.2 m 50 mm2] Q3.in\nrun PB [0.2 m 10 mm2]", "starter-bank-shared", diag.Fault},
	})
	pack := small + `battery B1..B2 in house at locker: agm, 12 V, 90 Ah, resistance 4 mohm, cca 800 A, terminals 105 degC
run B1..B2 [0.1 m 70 mm2] fuse F1..F2 at locker: class t, 125 V, breaks 20 kA, 300 A [0.1 m 70 mm2] bus PB in house at locker: 600 A
run PB [0.1 m 70 mm2] isolator Q1 at locker: 400 A, 32 V, load-break [1.5 m 70 mm2, in conduit] starter ST1 at locker: 12 V, start 300 A
run PB [0.2 m 10 mm2] fuse F3 at locker: class t, 125 V, breaks 20 kA, 30 A [2 m 10 mm2] load L1 at locker: 60 W
`
	assert.False(t, found(t, pack, "starter-bank-shared", diag.Advice), "two batteries on one bar are one bank")
}

// One pack, or a second one behind it; one way past an isolator, or none.
func TestASecondBatteryAnswers(t *testing.T) {
	const light = `run PB [link] fuse F3 at locker: class t, 125 V, breaks 20 kA, 10 A [4 m 4 mm2] lamp L1 at locker: 10 W, navigation
`
	boat := onBar + light
	other := strings.Replace(boat, "agm, 12 V", "lfp, 12.8 V", 1) + `domain spare: dc 12 V, 10.5 V to 14.8 V
run battery B2 in spare at locker: agm, 12 V, 60 Ah, resistance 8 mohm [0.1 m 10 mm2] fuse F8 at locker: class t, 125 V, breaks 20 kA, 30 A [0.1 m 10 mm2] isolator Q8 at locker: 50 A, 32 V, load-break [1 m 10 mm2] converter CV1 at locker: 12 V, 15 A, isolated, one way [1 m 6 mm2] fuse F9 at locker: class t, 125 V, breaks 20 kA, 20 A [link] PB
`
	bridge := boat + "run F1.out [0.1 m 35 mm2] isolator Q2 at locker: 150 A, 32 V, 1 pole, load-break, off [0.2 m 35 mm2] PB\n"
	spare := boat + "run battery B2 in house at locker: agm, 12 V, 100 Ah, resistance 6 mohm, charge 40 A " + second
	tell(t, []change{
		{"lithium instead of lead", boat, "agm, 12 V", "lfp, 12.8 V, may disconnect", "essential-on-one-pack", diag.Advice},
		{"the converter from another battery taken out", other, " converter CV1 at locker: 12 V, 15 A, isolated, one way [1 m 6 mm2] fuse F9 at locker: class t, 125 V, breaks 20 kA, 20 A [link] PB\n", " load L9 at locker: 20 W\n", "essential-on-one-pack", diag.Advice},
		{"an isolator round an isolator", bridge, "load-break, off", "load-break", "isolator-bypassed", diag.Danger},
		{"a second battery's isolator moved to the first", spare, "run battery B2 in house at locker: agm, 12 V, 100 Ah, resistance 6 mohm, charge 40 A [0.1 m 35 mm2] fuse F2", "run F1.out [0.1 m 35 mm2] fuse F2", "isolator-bypassed", diag.Danger},
	})
}

// What is written as about counts at its worse end in every check.
func TestAboutIsTakenAtItsWorseEnd(t *testing.T) {
	lithium := small + "battery B2 in house at locker: lfp, 12.8 V, 100 Ah, resistance 6 mohm, charge 40 A, discharge 100 A\nrun B2 [0.1 m 35 mm2] fuse F1 at locker: class t, 125 V, breaks 20 kA, 100 A [0.1 m 35 mm2] isolator Q1 at locker: 150 A, 32 V, 1 pole, load-break [0.2 m 35 mm2] bus PB in house at locker: 200 A\nrun PB [1 m 10 mm2] load L1 at locker: 60 W\n"
	lithium = strings.Replace(lithium, "locker \"Locker\": 30 degC", "locker \"Locker\": 52 degC", 1)
	regulated := strings.Replace(sun, "isc 6 A", "isc 13.5 A", 1)
	tell(t, []change{
		{"heat", lithium, "52 degC", "about 52 degC", "lithium-too-hot", diag.Danger},
		{"the current of modules", regulated, "isc 13.5 A", "isc about 13.5 A", "array-current-too-high", diag.Advice},
		{"the input of a regulator", regulated, "input 20 A", "input about 20 A", "array-current-too-high", diag.Advice},
		{"the open-circuit voltage of modules", strings.Replace(sun, "voc 37.5 V", "voc 85 V", 1), "voc 85 V", "voc about 85 V", "array-voltage-too-high", diag.Danger},
		{"the charge limit of a pack", strings.Replace(sun, "agm, 12 V, 100 Ah, resistance 6 mohm, charge 40 A", "lfp, 12.8 V, 100 Ah, resistance 6 mohm, discharge 100 A, charge 16 A", 1), "charge 16 A", "charge about 16 A", "charge-current-too-high", diag.Danger},
		{"the start of an engine", strings.Replace(cranked, "cca 800 A", "cca 310 A", 1), "start 300 A", "start about 300 A", "start-above-battery", diag.Fault},
	})
}

// Parallel cables share only when they are alike.
func TestParallelCablesAreAlike(t *testing.T) {
	pair := onBar + "bus PC in house at locker: 200 A\nrun PB [W1: 2 m 35 mm2] PC\nrun PC [W2: 2 m 35 mm2] PB\nrun PC [link] fuse F2 at locker: class t, 125 V, breaks 20 kA, 60 A [1 m 16 mm2] load L1 at locker: 200 W\n"
	tell(t, []change{
		{"one longer", pair, "W2: 2 m", "W2: 3 m", "parallel-cables-unlike", diag.Fault},
		{"one thinner", pair, "W2: 2 m 35 mm2", "W2: 2 m 25 mm2", "parallel-cables-unlike", diag.Fault},
	})
}

// Lithium is not charged where it freezes, unless something stops that.
func TestLithiumInTheFrost(t *testing.T) {
	pack := strings.NewReplacer("agm, 12 V, 100 Ah", "lfp, 12.8 V, 100 Ah, discharge 100 A, may disconnect", "locker \"Locker\": 30 degC", "locker \"Locker\": -10 degC to 30 degC").Replace(sun)
	watched := strings.Replace(pack, ", may disconnect", "", 1) + "bms BM1 at locker\nsignal BM1 [1 m] stops T1\n"
	warm := strings.NewReplacer(", may disconnect", "", "-10 degC to 30 degC", "30 degC").Replace(pack)
	tell(t, []change{
		{"a pack that does not open itself", pack, ", may disconnect", "", "lithium-too-cold", diag.Fault},
		{"a regulator that nothing stops", watched, "signal BM1 [1 m] stops T1\n", "signal BM1 [1 m] shows T1\n", "lithium-too-cold", diag.Fault},
		{"a place that may freeze", warm, "\"Locker\": 30 degC", "\"Locker\": -5 degC to 30 degC", "lithium-too-cold", diag.Fault},
		{"a place outside", warm, "\"Locker\": 30 degC", "\"Locker\": 30 degC, outside", "lithium-too-cold", diag.Fault},
	})
	started := watched + "domain mains: ac 230 V, 50 Hz\nrun generator G1 in mains at locker: 1.5 kVA, neutral earthed [0.4 m 3G2.5] rcbo R9 at locker: 16 A, 30 mA, 2 pole, type a [1 m 3G2.5] socket X9 at locker: 100 W\n" +
		"run PB [0.1 m 1.5 mm2] fuse F9 at locker: class t, 125 V, breaks 20 kA, 3 A [1 m 1.5 mm2] G1.start\n"
	assert.False(t, found(t, started, "lithium-too-cold", diag.Fault), "a generator does not charge by its start")
	assert.True(t, found(t, strings.Replace(started, "stops T1", "shows T1", 1), "lithium-too-cold", diag.Fault))
}
