package lang_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"strake/lang/diag"
)

// driven is a lithium pack that drives two motors, of which conditions run one or
// the other.
const driven = `craft "Mini" {
    hull grp
    cable class 5, tinned, 105 degC, free
}
domain drive: dc 48 V, 42 V to 58.4 V
place locker "Locker": 30 degC
battery L1 in drive at locker: lfp, 51.2 V, 200 Ah, resistance 10 mohm, discharge 150 A, charge 50 A, terminals 105 degC
run L1 [0.1 m 70 mm2] fuse F1 at locker: class t, 160 V, breaks 20 kA, 200 A [0.3 m 70 mm2] isolator Q1 at locker: 250 A, 80 V, 1 pole, load-break [0.2 m 70 mm2] bus DB in drive at locker: 250 A
run DB [2 m 50 mm2] fuse F2 at locker: class t, 160 V, breaks 20 kA, 125 A [0.1 m 50 mm2] motor M1 at locker: 4 kW, precharge
run DB [2 m 50 mm2] fuse F3 at locker: class t, 160 V, breaks 20 kA, 125 A [0.1 m 50 mm2] motor M2 at locker: 4 kW, precharge
condition "One": M1 on
condition "The other": M2 on
relay KR1 at locker: 10 A, 80 V
signal M1 [1 m] controls KR1
signal KR1 [1 m] stops M2
interlock M1 never with M2 by KR1
`

// A condition that leaves something off keeps it off no more than a habit does.
func TestEverythingOnIsTold(t *testing.T) {
	tell(t, []change{
		{"an interlock taken out", driven, "interlock M1 never with M2 by KR1\n", "", "everything-on-exceeds", diag.Advice},
		{"a relay that is told of nothing", driven, "signal M1 [1 m] controls KR1\n", "", "everything-on-exceeds", diag.Advice},
		{"only a condition that runs nothing", strings.Replace(driven, "condition \"The other\": M2 on\n", "", 1), "interlock M1 never with M2 by KR1\n", "", "everything-on-exceeds", diag.Advice},
	})
	both := judged(strings.Replace(driven, "interlock M1 never with M2 by KR1\n", "", 1), "everything-on-exceeds")
	if assert.Len(t, both, 1, "one finding of one cause") {
		assert.Contains(t, both[0].Message, "gives 150 A")
	}
	assert.Empty(t, judged(strings.Replace(driven, "condition \"The other\": M2 on\n", "condition \"The other\": M1 on, M2 on\n", 1), "everything-on-exceeds"), "where a condition runs it")
}

// What an output is set to, against what it charges.
func TestAnOutputIsHeldAgainstItsDomain(t *testing.T) {
	charging := driven + "domain mains: ac 230 V, 50 Hz\nearth E1 at locker\nrun inlet SH1 in mains at locker: 16 A [0.4 m 3G2.5] rcbo R1 at locker: 16 A, 30 mA, 2 pole, type a, curve c, breaks 6 kA [1 m 3G2.5] charger CH1 at locker: 48 V, 20 A, isolated [1 m 16 mm2] fuse F4 at locker: class t, 160 V, breaks 20 kA, 40 A [0.1 m 16 mm2] DB\nbond SH1 [1 m 6 mm2] E1\nbond CH1 [1 m 6 mm2] E1\n"
	lead := strings.NewReplacer("domain drive: dc 48 V, 42 V to 58.4 V", "domain drive: dc 48 V, 42 V to 58 V", "lfp, 51.2 V", "agm, 48 V", "discharge 150 A, ", "").Replace(charging)
	tell(t, []change{
		{"above what lithium stands", charging, "CH1 at locker: 48 V", "CH1 at locker: 59.5 V", "output-voltage", diag.Danger},
		{"below what is written", charging, "CH1 at locker: 48 V", "CH1 at locker: 40 V", "output-voltage", diag.Fault},
		{"below where the battery rests", charging, "CH1 at locker: 48 V", "CH1 at locker: 50 V", "output-voltage", diag.Fault},
		{"above what lead stands", lead, "CH1 at locker: 48 V", "CH1 at locker: 59 V", "output-voltage", diag.Fault},
	})
	for _, volts := range []string{"51.2 V", "54 V", "58.4 V"} {
		assert.Empty(t, judged(strings.Replace(charging, "CH1 at locker: 48 V", "CH1 at locker: "+volts, 1), "output-voltage"), volts)
	}
}

// What a battery gives counts over all that draws from it, bolted devices too.
func TestABatteryIsHeldOverAllItsCables(t *testing.T) {
	two := small + `battery B1 in house at locker: lfp, 12.8 V, 100 Ah, resistance 6 mohm, discharge 100 A, charge 50 A, terminals 105 degC
run B1 [0.1 m 16 mm2] fuse F1 at locker: class t, 125 V, breaks 20 kA, 60 A [0.1 m 16 mm2] isolator Q1 at locker: 150 A, 32 V, 1 pole, load-break [1 m 16 mm2] load L1 in house at locker: 40 A
run B1 [0.1 m 16 mm2] fuse F2 at locker: class t, 125 V, breaks 20 kA, 60 A [0.1 m 16 mm2] isolator Q2 at locker: 150 A, 32 V, 1 pole, load-break [1 m 16 mm2] load L2 in house at locker: 40 A
`
	bolted := strings.ReplaceAll(two, "B1 [0.1 m 16 mm2] fuse", "B1 [link] fuse")
	tell(t, []change{
		{"two feeders that ask too much together", two, "discharge 100 A", "discharge 60 A", "battery-overdrawn", diag.Fault},
		{"no limit and two feeders", two, ", discharge 100 A", "", "battery-overdrawn", diag.NotVerified},
		{"fuses bolted to the post", bolted, "discharge 100 A", "discharge 60 A", "battery-overdrawn", diag.Fault},
	})
}
