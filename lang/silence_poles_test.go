package lang_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"strake/lang"
	"strake/lang/diag"
)

// Texts in which a pole is joined to what it must not be, each changed in one
// place from one of which the rule says nothing.
func TestPolesAreTold(t *testing.T) {
	load := "run PB [2 m 35 mm2] load L1 in house at locker: 500 W\n"
	domain := "domain house: dc 12 V, 10.5 V to 15.6 V"
	bonded := strings.Replace(onBar, domain, domain+", earthed negative", 1) + load + "earth E1 at locker\nbond B1.negative [1 m 16 mm2] E1\n"
	starting := bonded + "domain engine: dc 12 V, 10.5 V to 15.6 V, earthed negative\nbattery B9 in engine at locker: agm, 12 V, 75 Ah, resistance 6 mohm, terminals 105 degC\nbond B9.negative [1 m 16 mm2] E1\nmeter ME1 at locker\n"
	mains := ashore + "bond INV1 [N1: 1 m 6 mm2] E1\n"
	series := strings.Replace(small, "dc 12 V, 10.5 V to 15.6 V", "dc 24 V, 21 V to 31.2 V, earthed negative", 1) + "battery W1..W2 at locker: agm, 12 V, 75 Ah, resistance 6 mohm, terminals 105 degC\nbank WB in house is W1..W2 in series [0.2 m 35 mm2]\nrun WB [0.1 m 35 mm2] fuse F1 at locker: class t, 125 V, breaks 20 kA, 100 A [0.1 m 35 mm2] isolator Q1 at locker: 150 A, 48 V, 1 pole, load-break [2 m 35 mm2] motor M1 at locker: 1 kW\nearth E1 at locker\nbond W2.negative [1 m 16 mm2] E1\n"
	tell(t, []change{
		{"both poles of a bar", bonded, "bond B1.negative", "bond PB.positive [1 m 16 mm2] PB.negative\nbond B1.negative", "poles-joined", diag.Danger},
		{"both poles of what a bar feeds", bonded, "bond B1.negative", "bond L1.positive [1 m 16 mm2] B1.negative\nbond B1.negative", "poles-joined", diag.Danger},
		{"a positive and the negative of another system", starting, "meter", "bond PB.positive [1 m 16 mm2] B9.negative\nmeter", "poles-joined", diag.Danger},
		{"two positives", starting, "meter", "bond PB.positive [1 m 16 mm2] B9.positive\nmeter", "poles-joined", diag.Danger},
		{"a phase and its neutral", mains, "[N1:", "[N1: 1 m 6 mm2] E1\nbond DB1.phase [1 m 6 mm2] DB1.neutral\nbond INV1 [N2:", "poles-joined", diag.Danger},
		{"a phase and a negative", mains, "[N1:", "[N1: 1 m 6 mm2] E1\nbond DB1.phase [1 m 6 mm2] B1.negative\nbond INV1 [N2:", "poles-joined", diag.Danger},
		{"a neutral past its residual current device", mains, "[N1:", "[N1: 1 m 6 mm2] E1\nbond INV1.out.neutral [1 m 6 mm2] DB1.neutral\nbond INV1 [N2:", "poles-joined", diag.Danger},
		{"a positive on an earth", bonded, "bond B1.negative", "bond B1.positive", "live-pole-on-earth", diag.Danger},
		{"a positive on an earth is no bond of the negative", bonded, "bond B1.negative", "bond B1.positive", "earthed-negative-bonds", diag.Fault},
		{"a positive on a case", bonded, "bond B1.negative", "bond PB.positive [W9: 1 m 16 mm2] L1\nbond B1.negative", "live-pole-on-earth", diag.Danger},
		{"a phase on an earth", mains, "[N1:", "[N1: 1 m 6 mm2] E1\nbond DB1.phase [1 m 6 mm2] E1\nbond INV1 [N2:", "live-pole-on-earth", diag.Danger},
		{"the middle of a string on an earth", series, "bond W2.negative", "bond W1.negative", "live-pole-on-earth", diag.Danger},
		{"a run on an earth", bonded, "bond B1.negative", "run PB [1 m 35 mm2] E1\nbond B1.negative", "live-pole-on-earth", diag.Danger},
		{"a neutral of direct current", bonded, "bond B1.negative", "bond B1.neutral", "pole-of-another-system", diag.Fault},
		{"a sense lead without a fuse", starting, "[1 m 16 mm2] E1\nmeter", "[1 m 16 mm2] E1\nsignal B9 [4 m 1 mm2] shows ME1\nmeter", "sense-lead-unprotected", diag.Danger},
		{"a sense lead of which no size is written", starting, "[1 m 16 mm2] E1\nmeter", "[1 m 16 mm2] E1\nsignal B9 [4 m] shows ME1\nmeter", "sense-lead-unprotected", diag.NotVerified},
		{"a sense lead on a bar with a large fuse before it", starting, "[1 m 16 mm2] E1\nmeter", "[1 m 16 mm2] E1\nsignal PB [4 m 1 mm2] shows ME1\nmeter", "sense-lead-unprotected", diag.Danger},
		{"a sense lead's fuse too far away", starting + "signal B9 [0.1 m 1 mm2] fuse F9 at locker: class blade, 32 V, 2 A [4 m 1 mm2] shows ME1\n", "signal B9 [0.1 m", "signal B9 [2 m", "sense-lead-unprotected", diag.Danger},
		{"a sense lead's fuse too large", starting + "signal B9 [0.1 m 1 mm2] fuse F9 at locker: class blade, 32 V, 2 A [4 m 1 mm2] shows ME1\n", "32 V, 2 A", "32 V, 30 A", "sense-lead-unprotected", diag.Danger},
	})
	short := strings.Replace(bonded, "bond B1.negative", "bond PB.positive [1 m 6 mm2] B1.negative\nbond B1.negative", 1)
	assert.False(t, found(t, short, "bond-too-thin", diag.NotVerified), "no cure makes a short thicker")
	assert.False(t, found(t, short, "earthed-negative-bonds", diag.NotVerified), "a short is no second bond of the negative")
}

// A run has no pole: what it would join there has no single meaning.
func TestRunOnAPole(t *testing.T) {
	for _, c := range [][2]string{
		{"run B1 [", "run B1.negative ["},
		{"run B1 [", "run B1.positive ["},
		{"[0.2 m 35 mm2] bus PB in house at locker: 200 A\n", "[0.2 m 35 mm2] PB.negative\nbus PB in house at locker: 200 A\n"},
		{"run DB1.2 [", "run DB1.2.phase ["},
		{"run DB1.2 [", "run DB1.neutral ["},
	} {
		text := onBar + "run PB [2 m 35 mm2] load L1 in house at locker: 500 W\n"
		if strings.Contains(c[0], "DB1") {
			text = ashore + "run DB1.2 [1 m 3G2.5] load L8 at locker: 60 W\n"
		}
		if !assert.Contains(t, text, c[0]) {
			continue
		}
		for _, f := range lang.Compile(nil, "boat.strake", text).Findings {
			assert.NotEqual(t, diag.Error, f.Severity, f.Message)
		}
		told := false
		for _, f := range lang.Compile(nil, "boat.strake", strings.Replace(text, c[0], c[1], 1)).Findings {
			told = told || f.Rule == "run-on-a-pole" && f.Severity == diag.Error
		}
		assert.True(t, told, c[1])
	}
}
