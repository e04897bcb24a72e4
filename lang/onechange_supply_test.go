package lang_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"strake/lang/diag"
)

// A converter gives to what hangs on its own output, or is to.
func TestAConverterGivesToSomething(t *testing.T) {
	const (
		fed     = onBar + "domain radio: dc 24 V, 21 V to 31 V\nrun PB [link] fuse F2 at locker: class t, 125 V, breaks 20 kA, 60 A [1 m 16 mm2] converter CV1.in at locker: 24 V, 20 A, input 55 A, isolated, one way\n"
		pump    = "run CV1.out [1 m 6 mm2] load L1 in radio at locker: 60 W\n"
		waiting = "prepared run PB [0.2 m 10 mm2] fuse F50 at locker: class t, 125 V, breaks 20 kA, 30 A, off [4 m 10 mm2] capped at locker\n"
		own     = "prepared run CV1.out [2 m 6 mm2] capped at locker\n"
	)
	tell(t, []change{
		{"a converter without its load, beside a tail elsewhere", fed + pump + waiting, pump, "", "converter-unconnected", diag.Fault},
		{"a converter without its load, beside an untraced cable elsewhere", fed + pump + "run PB [0.2 m 10 mm2] fuse F50 at locker: class t, 125 V, breaks 20 kA, 30 A [4 m 10 mm2] untraced\n", pump, "", "converter-unconnected", diag.Fault},
	})
	assert.False(t, found(t, fed+own, "converter-unconnected", diag.Fault), "a tail on its own output waits for the load")
}
