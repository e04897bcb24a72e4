package lang_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"strake/lang"
)

// What is wired to hold one off while the other runs, and what is not.
func TestWhatEnforcesAnInterlock(t *testing.T) {
	loads := onBar + "load LA1 in house at locker: 100 W\nload LA2 in house at locker: 100 W\ninterlock LA1 never with LA2 by "
	fed := "run PB [0.1 m 6 mm2] fuse F2 at locker: class t, 125 V, breaks 20 kA, 20 A "
	second := "run PB [0.1 m 6 mm2] fuse F3 at locker: class t, 125 V, breaks 20 kA, 20 A "
	contactors := fed + "[1 m 6 mm2] contactor K1 at locker: 40 A, 32 V, 1 pole, coil 12 V [1 m 6 mm2] LA1\n" + second + "[1 m 6 mm2] contactor K2 at locker: 40 A, 32 V, 1 pole, coil 12 V [1 m 6 mm2] LA2\n"
	coil := "run PB [0.1 m 1.5 mm2] fuse F4 at locker: class t, 125 V, breaks 20 kA, 3 A [1 m 1.5 mm2] "
	for _, c := range []struct {
		name, by, wiring string
		enforced         bool
	}{
		{"a contact of a relay before one, its coil behind the other's contactor", "KR1", contactors + "relay KR1 at locker: 40 A, 32 V, coil 12 V\nrun K2.out [1 m 1.5 mm2] KR1.coil\n" + coil + "KR1.in\nrun KR1.out [1 m 1.5 mm2] K1.coil\n", true},
		{"the same with its coil on the bar", "KR1", contactors + "relay KR1 at locker: 40 A, 32 V, coil 12 V\nrun PB [1 m 1.5 mm2] KR1.coil\n" + coil + "KR1.in\nrun KR1.out [1 m 1.5 mm2] K1.coil\n", false},
		{"a contactor that the other's opens", "K1", contactors + "signal K2 [1 m] opens K1\n", true},
		{"a contactor by itself", "K1", contactors + coil + "K1.coil\n", false},
		{"a switch in the feed of both", "S1", fed + "[1 m 6 mm2] switch S1 at locker: 40 A, 32 V [1 m 6 mm2] bus PX in house at locker: 40 A\nrun PX [1 m 6 mm2] LA1\nrun PX [1 m 6 mm2] LA2\n", false},
		{"a changeover that feeds one or the other", "CO1", fed + "[1 m 6 mm2] CO1.out\nchangeover CO1 in house at locker: 40 A, 32 V, break before make, load-break\nrun CO1.a [1 m 6 mm2] LA1\nrun CO1.b [1 m 6 mm2] LA2\n", true},
		{"a relay with a contact before each, which may close together", "KR1", "relay KR1 at locker: 40 A, 32 V, coil 12 V\n" + fed + "[1 m 6 mm2] KR1.in\nrun KR1.out [1 m 6 mm2] LA1\n" + second + "[1 m 6 mm2] KR1.in\nrun KR1.out [1 m 6 mm2] LA2\n" + coil + "KR1.coil\n", false},
		{"a panel that commands both", "PN1", contactors + "panel PN1 at locker\nsignal PN1 [1 m] closes K1\nsignal PN1 [1 m] closes K2\n", true},
		{"a panel that commands one", "PN1", contactors + "panel PN1 at locker\nsignal PN1 [1 m] closes K1\n", false},
	} {
		r := lang.Compile(nil, "boat.strake", loads+c.by+"\n"+c.wiring)
		if assert.False(t, r.HasErrors(), "%s: %v", c.name, r.Findings) {
			assert.Equal(t, c.enforced, r.System.Interlocks[0].Enforced, c.name)
		}
	}
}

// Two sources that a changeover keeps apart.
func TestAChangeoverPartsSources(t *testing.T) {
	text := strings.Replace(generating, "[1 m 3G2.5] AC1\n", "[1 m 3G2.5] CO1.generator\nrun inlet SH1 in mains at locker: 16 A [0.4 m 3G2.5] rcbo R1: 13 A, 30 mA, type a, 2 pole, curve c, breaks 6 kA [1 m 3G2.5] CO1.shore\nchangeover CO1 in mains at locker: 25 A, 230 V, 2 pole, break before make\nrun CO1.out [1 m 3G2.5] AC1\ninterlock SH1 never with G1 by CO1\n", 1)
	assert.True(t, lang.Compile(nil, "boat.strake", text).System.Interlocks[0].Enforced)
	one := strings.Replace(text, "CO1.generator\n", "AC1\n", 1)
	assert.False(t, lang.Compile(nil, "boat.strake", one).System.Interlocks[0].Enforced, "one of them goes round it")
}
