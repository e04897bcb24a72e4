package lang_test

import (
	"strings"
	"testing"

	"strake/lang/diag"
)

// watching is an insulated lithium bank with a monitor of its insulation, one of its
// cells, and two charge sources that this stops.
const watching = `craft "Mini" {
    hull wood
    cable class 5, tinned, 105 degC, free
    coldest -10 degC
}
domain drive: dc 24 V, 21 V to 29.2 V, insulated
domain sun: dc 36 V, 1 V to 45 V, insulated
domain mains: ac 230 V, 50 Hz
place locker "Locker": 30 degC
place helm "Helm": 30 degC
battery L1..L2 in drive at locker: lfp, 25.6 V, 100 Ah, resistance 10 mohm, discharge 100 A, charge 50 A, terminals 105 degC
run L1..L2 [0.1 m 35 mm2] fuse F1..F2 at locker: class t, 125 V, breaks 20 kA, 100 A, 2 pole [0.2 m 35 mm2] bus DP in drive at locker: 300 A
run DP [0.2 m 70 mm2] isolator Q1 at locker: 250 A, 48 V, 2 pole, load-break [0.2 m 70 mm2] bus DB in drive at locker: 300 A
run DB [0.1 m 16 mm2] fuse F3 at locker: class t, 125 V, breaks 20 kA, 60 A, 2 pole [0.1 m 16 mm2] isolator Q2 at locker: 100 A, 48 V, 2 pole, load-break [2 m 16 mm2] load LA1 at locker: 500 W
run DB [0.1 m 6 mm2] fuse F4 at locker: class t, 125 V, breaks 20 kA, 20 A, 2 pole [2 m 6 mm2] load LA2 at locker: 100 W
run DB [0.1 m 1.5 mm2] fuse F8 at locker: class t, 125 V, breaks 20 kA, 3 A, 2 pole [0.5 m 1.5 mm2] insulation-monitor IM1 at locker
run inlet SH1 in mains at locker: 16 A [0.4 m 3G2.5] rcbo R1 at locker: 16 A, 30 mA, 2 pole, type a, curve c, breaks 6 kA [1 m 3G2.5] charger CH1 at locker: 24 V, 20 A, isolated [1 m 6 mm2] fuse F5 at locker: class t, 125 V, breaks 20 kA, 30 A, 2 pole [0.1 m 6 mm2] DB
run array PV1 in sun at locker: 200 W, voc 37.5 V, voc -0.27 %/K, isc 6 A, fuse 15 A [3 m 4 mm2] isolator Q3 at locker: 20 A, 100 V, 2 pole, load-break [0.5 m 4 mm2] regulator T1 at locker: 24 V, 15 A, isolated, input 100 V, input 20 A [1 m 6 mm2] fuse F6 at locker: class t, 125 V, breaks 20 kA, 30 A, 2 pole [0.1 m 6 mm2] DB
bms BM1 at helm
signal L1..L2 [2 m] BM1
signal BM1 [2 m] stops T1
signal BM1 [2 m] stops CH1
earth E1 at locker
bond SH1 [1 m 6 mm2] E1
bond CH1 [1 m 6 mm2] E1
`

// What watches, and is told nothing or sees nothing.
func TestWhatWatchesSees(t *testing.T) {
	joined := strings.Replace(watching, "run L1..L2 [0.1 m 35 mm2] fuse F1..F2 at locker: class t, 125 V, breaks 20 kA, 100 A, 2 pole [", "run L1..L2 [0.1 m 35 mm2] fuse F1..F2 at locker: class t, 125 V, breaks 20 kA, 100 A, 2 pole [0.1 m 35 mm2] contactor K1..K2 at locker: 150 A, 48 V, 2 pole, coil 24 V, precharge, load-break [", 1)
	tell(t, []change{
		{"a monitor behind one load's isolator", watching, "run DB [0.1 m 1.5 mm2] fuse F8", "run Q2.out [0.1 m 1.5 mm2] fuse F8", "insulation-monitor-blind", diag.Fault},
		{"a monitor whose fuse is off", watching, "3 A, 2 pole [0.5 m", "3 A, 2 pole, off [0.5 m", "insulation-monitor-blind", diag.Fault},
		{"a battery management that no battery tells anything", watching, "signal L1..L2 [2 m] BM1\n", "", "monitor-watches-nothing", diag.NotVerified},
		{"a pack that it is told nothing of", watching, "signal L1..L2 [2 m] BM1\n", "signal L1 [2 m] BM1\n", "monitor-watches-nothing", diag.NotVerified},
		{"a charger that it does not stop", watching, "signal BM1 [2 m] stops CH1\n", "", "charge-not-stopped", diag.Advice},
		{"packs that hand switches join", joined, "contactor K1..K2 at locker: 150 A, 48 V, 2 pole, coil 24 V, precharge, load-break", "isolator K1..K2 at locker: 150 A, 48 V, 2 pole, load-break", "tie-closes-unequal-banks", diag.Advice},
	})
}

// A source of mains that gives less than its device passes.
func TestADeviceIsNotAboveItsSource(t *testing.T) {
	tell(t, []change{
		{"a generator", generating, "3.6 kVA", "1.5 kVA", "device-above-source", diag.Fault},
		{"a shore inlet behind whose transformer too much hangs", strings.Replace(steel, "3.6 kVA", "6 kVA", 1), "at locker: 500 W", "at locker: 500 W\nrun R2.out [3 m 3G2.5] load L2 at locker: 4 kW", "source-overloaded", diag.Advice},
	})
}

// What a label says and the properties do not.
func TestALabelIsRead(t *testing.T) {
	lights := inBoard + "    way 1 5 A \"Navigation lights\" lamp NL1 at locker: 10 W, navigation [4 m 4 mm2]\n}\n"
	fan := strings.NewReplacer("30 degC\n", "30 degC, ventilated\n", "agm, 12 V", "flooded, 12 V").Replace(inBoard) + "    way 1 5 A \"Locker fan\" load at locker: 10 W [4 m 4 mm2]\n}\n"
	tell(t, []change{
		{"a navigation light that does not say so", lights, ", navigation", "", "navigation-light-not-said", diag.NotVerified},
		{"a fan that was removed", fan, "way 1 5 A", "removed way 1 5 A", "battery-not-aired", diag.NotVerified},
		{"a fan that the owner fits", fan, "way 1 5 A", "owner way 1 5 A", "battery-not-aired", diag.NotVerified},
		{"high voltage under the American rules", strings.Replace(watching, "craft \"Mini\" {\n", "craft \"Mini\" {\n    rules abyc-e11\n", 1), "domain sun: dc 36 V, 1 V to 45 V", "domain sun: dc 90 V, 1 V to 140 V", "outside-rule-set", diag.NotVerified},
	})
}
