package table_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"strake/lang/quantity"
	"strake/lang/table"
)

// A battery of 53.6 V and 12 mΩ with 6 µH in its loop, solved with ngspice: the
// fault current rises to its end by 1-e^(-Rt/L). The checks take it as there at
// once. That holds as long as nothing that they take from a table opens so soon
// that the current is still on its way.
func TestAFaultHasRisenBeforeAnythingOpens(t *testing.T) {
	const volts, ohms, henry = 53.6, 0.012, 6e-6
	rises := func(seconds float64) float64 { return volts / ohms * (1 - math.Exp(-seconds*ohms/henry)) }
	for _, v := range []struct{ seconds, amps float64 }{{0.5e-3, 2823.5}, {1e-3, 3862.2}, {1.1513e-3, 0.9 * 4466.7}, {1, 4466.7}} {
		assert.InEpsilon(t, v.amps, rises(v.seconds), 1e-3)
	}
	soonest := math.Inf(1)
	for _, kind := range []string{"t", "gg", "gpv", "blade", "strip", "bolt", "nh", "curve-b", "curve-c", "curve-d"} {
		for _, rating := range table.Ratings("iec-60269") {
			for _, times := range []quantity.Ampere{2, 5, 10, 30, 100, 1000} {
				if op := table.Opening(table.Device{Kind: kind, Rating: rating.Value}, times*rating.Value); op.Opens && op.Seconds.Known {
					soonest = min(soonest, float64(op.Seconds.Value))
				}
			}
		}
	}
	assert.Less(t, soonest, 1.0, "some device opens at once")
	assert.Greater(t, rises(soonest), 0.999*volts/ohms, "the current is there when the soonest opens, after %g s", soonest)
}
