package lang_test

import (
	"strings"
	"testing"

	"strake/lang/diag"
)

// steel is shore power behind a transformer on a steel hull, bonded.
const steel = `craft "Mini" {
    hull steel
    cable class 5, tinned, 105 degC, free
}
domain mains: ac 230 V, 50 Hz
place locker "Locker": 30 degC
earth E1 "Main earth" at locker
earth E2 "Hull" at locker
bond T1 [1 m 6 mm2] E1
bond E2 [1 m 16 mm2] E1
run inlet SH1 in mains at locker: 16 A, short-circuit 3 kA [0.4 m 3G2.5] rcbo R1 at locker: 16 A, 30 mA, type a, 2 pole, curve c, breaks 6 kA
    [3 m 3G2.5] transformer T1 in mains at locker: 3.6 kVA, neutral earthed [0.4 m 3G2.5] rcbo R2 at locker: 16 A, 30 mA, type a, 2 pole, curve c, breaks 6 kA [3 m 3G2.5] socket X1 at locker: 500 W
`

// A metal hull is on the main earth, and nothing leads round a galvanic isolator.
func TestTheHullIsOnTheMainEarth(t *testing.T) {
	isolated := strings.NewReplacer("transformer T1 in mains at locker: 3.6 kVA, neutral earthed [0.4 m 3G2.5] rcbo R2", "galvanic-isolator GI1 at locker: 16 A [0.4 m 3G2.5] rcbo R2", "bond T1", "bond X1").Replace(steel)
	tell(t, []change{
		{"the hull's bond taken out", steel, "bond E2 [1 m 16 mm2] E1\n", "", "hull-not-bonded", diag.Danger},
		{"the hull's bond removed", steel, "bond E2 [", "removed bond E2 [", "hull-not-bonded", diag.Danger},
		{"the hull's bond the owner's", steel, "bond E2 [", "owner bond E2 [", "hull-not-bonded", diag.Danger},
		{"no word of the hull", steel, "earth E2 \"Hull\" at locker\n", "earth E2 \"Mast foot\" at locker\n", "hull-not-bonded", diag.NotVerified},
		{"a bond beside the galvanic isolator", isolated, "bond X1 [", "bond SH1 [", "galvanic-isolator-bypassed", diag.Fault},
	})
}

// What mains devices may have to break, where nobody wrote what their supply gives.
func TestMainsDevicesBreakWhatMayFlow(t *testing.T) {
	unsaid := strings.Replace(steel, ", short-circuit 3 kA", "", 1)
	generator := strings.Replace(generating, "breaks 6 kA [1 m", "breaks 1.5 kA [1 m", 1)
	tell(t, []change{
		{"less than any pontoon gives", unsaid, "type a, 2 pole, curve c, breaks 6 kA\n", "type a, 2 pole, curve c, breaks 1 kA\n", "breaking-capacity-too-low", diag.Fault},
		{"less than a pontoon may give", unsaid, "type a, 2 pole, curve c, breaks 6 kA\n", "type a, 2 pole, curve c, breaks 3 kA\n", "breaking-capacity-too-low", diag.NotVerified},
		{"less than a transformer may give", unsaid, "curve c, breaks 6 kA [3 m", "curve c, breaks 500 A [3 m", "breaking-capacity-too-low", diag.NotVerified},
		{"less than a transformer gives", unsaid, "curve c, breaks 6 kA [3 m", "curve c, breaks 100 A [3 m", "breaking-capacity-too-low", diag.Fault},
		{"less than a generator may give", generator, "breaks 1.5 kA [1 m", "breaks 100 A [1 m", "breaking-capacity-too-low", diag.NotVerified},
	})
}

// Of two numbers of one battery the worse counts, and they are told.
func TestABatteryThatContradictsItself(t *testing.T) {
	tell(t, []change{
		{"far more than its resistance lets through", driven, "resistance 10 mohm", "resistance 10 mohm, short-circuit 30 kA", "numbers-disagree", diag.Fault},
		{"and counts", driven, "resistance 10 mohm", "resistance 10 mohm, short-circuit 30 kA", "breaking-capacity-too-low", diag.Danger},
		{"far less", driven, "resistance 10 mohm", "resistance 10 mohm, short-circuit 1 kA", "numbers-disagree", diag.Advice},
	})
}

// A bank that nothing charges, beside one that is.
func TestABankIsCharged(t *testing.T) {
	const reserve = small + `domain mains: ac 230 V, 50 Hz
battery B1..B2 in house at locker: agm, 12 V, 75 Ah, resistance 6 mohm, charge 15 A, terminals 105 degC
run B1..B2 [0.1 m 25 mm2] fuse F1..F2 at locker: class t, 125 V, breaks 20 kA, 60 A [0.1 m 25 mm2] isolator Q1..Q2 at locker: 100 A, 32 V, 1 pole, load-break [0.2 m 25 mm2] bus PB1..PB2 in house at locker: 100 A
run inlet SH1 in mains at locker: 16 A [0.4 m 3G2.5] rcbo R1 at locker: 16 A, 30 mA, 2 pole, type a [1 m 3G2.5] charger CH1 at locker: 12 V, 8 A, isolated [1 m 4 mm2] fuse F4 at locker: class t, 125 V, breaks 20 kA, 10 A [0.1 m 4 mm2] PB1
run PB2 [0.1 m 6 mm2] fuse F3 at locker: class t, 125 V, breaks 20 kA, 15 A [2 m 6 mm2] load L1 at locker: 60 W
run PB1 [0.1 m 16 mm2] fuse F5 at locker: class t, 125 V, breaks 20 kA, 60 A [0.1 m 16 mm2] relay KV1 at locker: 120 A, 32 V, coil 12 V [0.1 m 16 mm2] fuse F6 at locker: class t, 125 V, breaks 20 kA, 60 A [0.1 m 16 mm2] PB2
earth E1 at locker
bond SH1 [1 m 6 mm2] E1
`
	tell(t, []change{
		{"the charging relay taken out", reserve, "relay KV1", "removed relay KV1", "bank-not-charged", diag.Advice},
		{"and a radio hangs on it", strings.Replace(reserve, "locker: 60 W\n", "locker: 60 W, critical\n", 1), "relay KV1", "removed relay KV1", "bank-not-charged", diag.Fault},
	})
}
