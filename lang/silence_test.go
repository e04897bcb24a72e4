package lang_test

import (
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
		found := false
		for _, f := range lang.Compile(nil, "boat.strake", c.text).Findings {
			assert.NotEqual(t, diag.Error, f.Severity, "%s: %s", c.name, f.Message)
			found = found || f.Rule == c.rule && f.Severity <= diag.Fault
		}
		assert.True(t, found, "%s: %s", c.name, c.rule)
	}
}
