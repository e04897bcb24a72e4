package lang_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"strake/lang"
	"strake/lang/diag"
)

// craned is a small boat with a drive and a winch, each with a stop in the feed of
// its contactor's coil, a light and a radio.
const craned = onBar + `bms BM1 at locker
run PB [0.1 m 16 mm2] fuse F2 at locker: class t, 125 V, breaks 20 kA, 80 A [0.2 m 16 mm2] contactor K1 at locker: 100 A, 32 V, 1 pole, coil 12 V, coil 0.5 A [1 m 16 mm2] motor M1 "Drive" at locker: 700 W
run PB [0.1 m 16 mm2] fuse F3 at locker: class t, 125 V, breaks 20 kA, 80 A [0.2 m 16 mm2] contactor K2 at locker: 100 A, 32 V, 1 pole, coil 12 V, coil 0.5 A [1 m 16 mm2] motor M2 "Winch" at locker: 500 W
run PB [0.1 m 1.5 mm2] fuse F4 at locker: class t, 125 V, breaks 20 kA, 3 A [1 m 1.5 mm2] stop S1 at locker: 10 A, 24 V [0.2 m 1.5 mm2] switch S2 at locker: 10 A, 24 V [1 m 1.5 mm2] K1.coil
run PB [0.1 m 1.5 mm2] fuse F5 at locker: class t, 125 V, breaks 20 kA, 3 A [1 m 1.5 mm2] stop S3 at locker: 10 A, 24 V [0.2 m 1.5 mm2] switch S4 at locker: 10 A, 24 V [1 m 1.5 mm2] K2.coil
run PB [0.1 m 4 mm2] fuse F6 at locker: class t, 125 V, breaks 20 kA, 10 A [2 m 4 mm2] lamp LA1 at locker: 20 W, navigation
run PB [0.1 m 4 mm2] fuse F7 at locker: class t, 125 V, breaks 20 kA, 10 A [2 m 4 mm2] load L1 "Radio" at locker: 20 W, critical
`

// What a stop must not take with it, and what must not take its work away.
func TestAStopTakesItsMotorAndNothingElse(t *testing.T) {
	tell(t, []change{
		{"a radio through a stop's contact", craned, "[2 m 4 mm2] load L1", "[1 m 4 mm2] S3 [1 m 4 mm2] load L1", "essential-behind-stop", diag.Danger},
		{"a light behind the drive's contactor", craned, "run PB [0.1 m 4 mm2] fuse F6", "run K1.out [0.1 m 4 mm2] fuse F6", "essential-behind-stop", diag.Danger},
		{"a light on the winch's stop", craned, "[2 m 4 mm2] lamp LA1", "[1 m 4 mm2] relay KN1 at locker: 16 A, 24 V, coil 12 V, coil 0.1 A [1 m 4 mm2] lamp LA1 at locker: 20 W, navigation\nrun S3.out [1 m 1.5 mm2] KN1.coil\nrun PB [0.1 m 4 mm2] fuse F8 at locker: class t, 125 V, breaks 20 kA, 10 A [1 m 4 mm2] lamp LA2", "essential-behind-stop", diag.Danger},
		{"a light behind a converter that hangs on the winch's contactor", craned + "domain high: dc 24 V, 21 V to 29.6 V\n", "run PB [0.1 m 4 mm2] fuse F6", "run K2.out [0.1 m 4 mm2] fuse F8 at locker: class t, 125 V, breaks 20 kA, 10 A [1 m 4 mm2] converter CV1 at locker: 24 V, 3 A, input 8 A, isolated, one way [2 m 4 mm2] lamp LA3 in high at locker: 10 W, navigation\nrun PB [0.1 m 4 mm2] fuse F6", "essential-behind-stop", diag.Danger},
		{"a coil fed from behind its own contact", craned, "[0.2 m 1.5 mm2] switch S4 at locker: 10 A, 24 V [1 m 1.5 mm2] K2.coil", "[1 m 1.5 mm2] load L7 at locker: 5 W\nrun K2.out [0.1 m 1.5 mm2] fuse F8 at locker: class t, 125 V, breaks 20 kA, 3 A [W7: 1 m 1.5 mm2] K2.coil", "coil-not-fed", diag.Fault},
		{"two coils that wait for one another", strings.Replace(craned, "run PB [0.1 m 1.5 mm2] fuse F4", "run K2.out [0.1 m 1.5 mm2] fuse F4", 1), "run PB [0.1 m 1.5 mm2] fuse F5", "run K1.out [0.1 m 1.5 mm2] fuse F5", "coil-not-fed", diag.Fault},
		{"a coil fed from the far side of another's switch", craned, "bms BM1 at locker\n", "bms BM1 at locker\nrun S2.out [1 m 1.5 mm2] K2.coil\n", "stop-bypassed", diag.Danger},
		{"a signal that closes what the stop releases", craned, "bms BM1 at locker\n", "bms BM1 at locker\nsignal BM1 [1 m] closes K2\n", "stop-bypassed", diag.Danger},
		{"a signal that may close what the stop releases", craned, "bms BM1 at locker\n", "bms BM1 at locker\nsignal BM1 [1 m] controls K2\n", "stop-bypassed", diag.Advice},
		{"a contactor that stands closed", craned, "coil 12 V, coil 0.5 A [1 m 16 mm2] motor M1", "coil 12 V, coil 0.5 A, on [1 m 16 mm2] motor M1", "stop-breaks-nothing", diag.NotVerified},
		{"a stop that usually stands open", craned, "stop S3 at locker: 10 A, 24 V", "stop S3 at locker: 10 A, 24 V, off", "stop-breaks-nothing", diag.Danger},
		{"a winch whose enable alone the stop takes", craned, "[1 m 1.5 mm2] K2.coil", "[1 m 1.5 mm2] K2.coil\nrun S4.out [1 m 1.5 mm2] M3.enable\nrun PB [0.1 m 16 mm2] fuse F9 at locker: class t, 125 V, breaks 20 kA, 80 A [1 m 16 mm2] motor M3 at locker: 500 W", "stop-breaks-nothing", diag.Advice},
	})
	assert.False(t, found(t, craned, "motor-without-stop", diag.Advice))
}

// What lands by name beside a run through a contact joins that contact; of several
// the text has to say which.
func TestALandingByNameJoinsTheContact(t *testing.T) {
	fed := craned + "run S2.out [1 m 1.5 mm2] lamp L9 at locker: 1 W\n"
	assert.False(t, found(t, fed, "load-without-source", diag.Fault), "the telltale hangs on the key's contact")
	two := craned + "run PB [0.1 m 1.5 mm2] fuse F9 at locker: class t, 125 V, breaks 20 kA, 3 A [1 m 1.5 mm2] S2 [1 m 1.5 mm2] lamp L8 at locker: 1 W\nrun S2.out [1 m 1.5 mm2] lamp L9 at locker: 1 W\n"
	told := 0
	for _, f := range lang.Compile(nil, "boat.strake", two).Findings {
		if f.Rule == "contact-not-said" {
			told++
			assert.Equal(t, "S2-L9 lands on `S2.out`, and the 2 runs through `S2` have a contact each: on which it lands is not said", f.Message)
		}
	}
	assert.Equal(t, 1, told)
}

// A bilge pump that something else than its float stops, or whose float is not where
// the water is.
func TestNothingButItsFloatStopsABilgePump(t *testing.T) {
	const pumping = bilge + "float-switch FS1 at locker: 16 A, 24 V [1 m 6 mm2] pump P1 at locker: 60 W, bilge, must be live\nplace deck: 30 degC, wet\nrelay KR1 at locker: 16 A, 24 V, coil 12 V\n"
	tell(t, []change{
		{"a relay of something else", pumping, "relay KR1", "signal KR1 [1 m] stops P1\nrelay KR1", "must-live-behind-isolator", diag.Danger},
		{"a float on deck", pumping, "FS1 at locker", "FS1 at deck", "float-elsewhere", diag.Advice},
	})
}

// Two converters back to back send power round in a circle.
func TestConvertersInACircle(t *testing.T) {
	const circle = onBar + `domain drive: dc 24 V, 21 V to 29.6 V
run battery B2 in drive at locker: agm, 24 V, 60 Ah, resistance 12 mohm, charge 20 A, terminals 105 degC [0.1 m 16 mm2] fuse F3 at locker: class t, 125 V, breaks 20 kA, 50 A [0.1 m 16 mm2] isolator Q3 at locker: 100 A, 48 V, 1 pole, load-break [0.2 m 16 mm2] bus DB in drive at locker: 100 A
run DB [link] fuse F4 at locker: class t, 125 V, breaks 20 kA, 20 A [1 m 10 mm2] converter CV1 at locker: 14 V, 10 A, input 10 A, isolated, one way [1 m 10 mm2] fuse F5 at locker: class t, 125 V, breaks 20 kA, 20 A [link] PB
`
	tell(t, []change{{"a converter back beside another", circle, "run DB [link]", "run PB [link] fuse F6 at locker: class t, 125 V, breaks 20 kA, 20 A [1 m 10 mm2] converter CV2 at locker: 28 V, 5 A, input 12 A, isolated, one way [1 m 10 mm2] fuse F7 at locker: class t, 125 V, breaks 20 kA, 20 A [link] DB\nrun DB [link]", "bank-charges-itself", diag.Fault}})
}
