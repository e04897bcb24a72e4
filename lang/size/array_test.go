package size

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"strake/lang/circuit"
	"strake/lang/quantity"
)

func TestColdArray(t *testing.T) {
	stated := func(v float64) circuit.Fact[quantity.Volt] {
		return circuit.Fact[quantity.Volt]{Value: quantity.Volt(v), State: circuit.Stated}
	}
	it := &circuit.Item{Ref: "PV1", Kind: "array"}
	sys := &circuit.System{Items: []*circuit.Item{it}}
	assert.False(t, arrays(sys)[0].Cold.Known, "nothing is stated")
	it.Facts.Voc, it.Facts.InSeries = stated(37.2), 3
	it.Facts.VocRelK = circuit.Fact[quantity.PerCentK]{Value: -0.27, State: circuit.Stated}
	assert.False(t, arrays(sys)[0].Cold.Known, "the coldest day is not stated")
	sys.Craft.Coldest = circuit.Fact[quantity.Celsius]{Value: -10, State: circuit.Stated}
	assert.InDelta(t, 122.1, float64(arrays(sys)[0].Cold.Value), 0.1)
	it.Facts.VocRelK = circuit.Fact[quantity.PerCentK]{}
	assert.Greater(t, float64(arrays(sys)[0].Cold.Value), 111.6, "by the table when the module's own figure is not stated")
}
