package lang_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"strake/lang/diag"
)

// What a status says is not in use, and is live or of which nobody says.
func TestAStatusHidesNoLiveEnd(t *testing.T) {
	const two = inBoard + "    way 1 10 A \"Heater\" [2 m 4 mm2] L1\n    prepared way 2 10 A \"Bow\" [2 m 4 mm2] capped at locker\n}\nload L1 at locker: 60 W\n" +
		"run PB [link] fuse F3 at locker: class t, 125 V, breaks 20 kA, 20 A [1 m 6 mm2] bus FB in house at locker: 20 A [1 m 6 mm2] load L2 at locker: 60 W\n"
	tell(t, []change{
		{"a prepared way on a bar that is live", two, "[2 m 4 mm2] capped at locker", "[2 m 4 mm2] FB", "prepared-cable-live", diag.Danger},
		{"a way that is on to a prepared load", two, "way 1 10 A \"Heater\" [2 m 4 mm2] L1\n    prepared way 2 10 A \"Bow\" [2 m 4 mm2] capped at locker\n}\nload L1", "way 1 10 A on \"Heater\" [2 m 4 mm2] L1\n}\nprepared load L1", "prepared-way-on", diag.Danger},
		{"a way that is on to a removed load", two, "way 1 10 A \"Heater\" [2 m 4 mm2] L1\n    prepared way 2 10 A \"Bow\" [2 m 4 mm2] capped at locker\n}\nload L1", "way 1 10 A on \"Heater\" [2 m 4 mm2] L1\n}\nremoved load L1", "cable-of-removed-thing", diag.Danger},
		{"a way to a removed load", two, "load L1", "removed load L1", "cable-of-removed-thing", diag.Advice},
		{"a removed load at the end of a run", two, "load L2", "removed load L2", "cable-of-removed-thing", diag.Advice},
		{"a prepared load on a bar", two, "load L2", "prepared load L2", "tail-live", diag.Fault},
	})
	assert.False(t, found(t, two+"removed run PB [2 m 4 mm2] load L3 at locker: 60 W\n", "cable-of-removed-thing", diag.Advice), "a run that was removed as a whole")
	assert.False(t, found(t, two+"run FB [link] fuse F4 at locker: class t, 125 V, breaks 20 kA, 20 A, off [2 m 4 mm2] prepared load L3 at locker: 60 W\n", "tail-live", diag.Advice), "a fuse that is out keeps it dead")
}
