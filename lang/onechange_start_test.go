package lang_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"strake/lang/diag"
)

// A motor's start, against its fuse and its battery.
func TestAStartIsHeld(t *testing.T) {
	started := strings.Replace(driven, "motor M1 at locker: 4 kW", "motor M1 at locker: 4 kW, start 140 A", 1)
	tell(t, []change{
		{"a start that may melt its fuse", started, "start 140 A", "start 500 A", "start-opens-device", diag.NotVerified},
		{"a start that melts its fuse", started, "start 140 A", "start 1500 A", "start-opens-device", diag.Fault},
		{"a start above the battery's limit", started, "start 140 A", "start 300 A", "start-above-source", diag.NotVerified},
		{"a start far above the battery's limit", started, "start 140 A", "start 500 A", "start-above-source", diag.Fault},
		{"a start that may melt gG", strings.Replace(started, "fuse F2 at locker: class t, 160 V", "fuse F2 at locker: class gg, 250 V", 1), "start 140 A", "start 250 A", "start-opens-device", diag.NotVerified},
	})
}

// A fuse that is sold for mains, in direct current.
func TestAFuseForMainsIsAsked(t *testing.T) {
	gg := strings.Replace(driven, "fuse F2 at locker: class t, 160 V", "fuse F2 at locker: class gg, 250 V", 1)
	for _, volts := range []string{"230 V", "400 V", "500 V"} {
		tell(t, []change{{volts, gg, "class gg, 250 V", "class gg, " + volts, "mains-device-on-dc", diag.NotVerified}})
	}
	assert.False(t, found(t, strings.Replace(driven, "fuse F2 at locker: class t, 160 V", "fuse F2 at locker: class gpv, 500 V", 1), "mains-device-on-dc", diag.NotVerified), "one that is made for DC")
}
