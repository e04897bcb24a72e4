package lang_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

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
			assert.False(t, found(t, c.text, c.rule, diag.Advice), "%s: %s is said of the sound text", c.name, c.rule)
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
