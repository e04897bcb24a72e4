package lang_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"strake/lang"
	"strake/lang/diag"
)

// What is sound and was once accused, beside what is not.
func TestOneCauseIsTheOneAccused(t *testing.T) {
	const bypass = craned + "run PB [0.1 m 1.5 mm2] fuse F8 at locker: class t, 125 V, breaks 20 kA, 3 A [1 m 1.5 mm2] switch S9 at locker: 10 A, 24 V [1 m 1.5 mm2] K1.coil\n"
	assert.True(t, found(t, bypass, "stop-bypassed", diag.Danger))
	for _, rule := range []string{"short-circuit-withstand", "protected-at-one-end-only", "device-above-cable"} {
		assert.False(t, found(t, bypass, rule, diag.Fault), "two small fuses to one coil: %s", rule)
	}

	const string24 = small + `domain serv: dc 24 V, 21 V to 29.6 V, earthed negative
battery N1..N2 at locker: agm, 12 V, 100 Ah, resistance 4 mohm, terminals 105 degC
bank SB in serv is N1..N2 in series [0.3 m 50 mm2]
run SB [0.1 m 35 mm2] fuse F1 at locker: class t, 125 V, breaks 20 kA, 100 A [0.1 m 35 mm2] isolator Q1 at locker: 150 A, 48 V, 1 pole, load-break [0.2 m 35 mm2] bus PB in serv at locker: 200 A
run PB [0.1 m 4 mm2] fuse F2 at locker: class t, 125 V, breaks 20 kA, 10 A [2 m 4 mm2] load L1 at locker: 20 W
earth E1 at locker
bond N2.negative [1 m 16 mm2] E1
`
	text := strings.Replace(string24, "domain house: dc 12 V, 10.5 V to 15.6 V\n", "", 1)
	assert.False(t, found(t, text, "earthed-negative-bonds", diag.NotVerified), "the last of a string has its bank's negative")
	tell(t, []change{
		{"a bond within a string", text, "N2.negative", "N1.negative", "live-pole-on-earth", diag.Danger},
		{"a bond at the last battery, and another at the bar", text, "bond N2", "bond PB.negative [1 m 16 mm2] E1\nbond N2", "earthed-negative-bonds", diag.Fault},
	})
}

// Of a changeover that does not say how it changes over one thing is asked.
func TestAChangeoverIsAskedOnce(t *testing.T) {
	text := strings.Replace(generating, "[1 m 3G2.5] AC1\n", "[1 m 3G2.5] CO1.generator\nbond SH1 [1 m 6 mm2] E1\nrun inlet SH1 in mains at locker: 16 A [0.4 m 3G2.5] rcbo R1: 13 A, 30 mA, type a, 2 pole, curve c, breaks 6 kA [1 m 3G2.5] CO1.shore\nchangeover CO1 in mains at locker: 25 A, 230 V, 2 pole\nrun CO1.out [1 m 3G2.5] AC1\n", 1)
	var of []string
	for _, f := range lang.Compile(nil, "boat.strake", text).Findings {
		if f.Severity <= diag.Fault {
			of = append(of, f.Message)
		}
	}
	assert.Empty(t, of)
	assert.True(t, found(t, text, "ac-sources-in-parallel", diag.NotVerified))
	assert.True(t, found(t, strings.Replace(text, "230 V, 2 pole\nrun CO1", "230 V, 2 pole, make before break\nrun CO1", 1), "ac-sources-in-parallel", diag.Danger))
}

// What stands outside gets as cold as the air.
func TestLithiumFreezesOutside(t *testing.T) {
	pack := strings.Replace(onBar, "agm, 12 V, 100 Ah", "lfp, 12.8 V, 100 Ah, discharge 100 A", 1)
	tell(t, []change{{"a pack on deck in winter", pack, "Locker\": 30 degC", "Locker\": 40 degC, outside", "lithium-too-cold", diag.Fault}})
}
