package demand_test

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"strake/lang"
	"strake/lang/demand"
)

// What cannot be delivered is always found by the checks too: as such, or as the
// drop in the cables that makes it so.
func TestChecksFindWhatIsRefused(t *testing.T) {
	refused := 0
	rapid.Check(t, func(rt *rapid.T) {
		r := rand.New(rand.NewPCG(rapid.Uint64().Draw(rt, "seed"), 41))
		text := head
		for i := range 1 + r.IntN(3) {
			text += fmt.Sprintf("run battery B%d in low at cool: agm, 12 V, 100 Ah, resistance %d mohm [%.1f m 35 mm2] fuse F%d at cool: 200 A, class t [link] PB\n", i+1, 3+r.IntN(80), 0.2+2*r.Float64(), i+1)
		}
		text += "bus PB in low at cool: 400 A\n"
		for i := range 1 + r.IntN(4) {
			text += fmt.Sprintf("run PB [%.1f m 25 mm2] load L%d at cool: %d W\n", 0.2+3*r.Float64(), i+1, 50+r.IntN(900))
		}
		c := lang.Compile(nil, "craft.strake", text)
		require.False(t, c.HasErrors(), "%v", c.Findings)
		if !demand.New(c.System, c.Plan).Refused() {
			return
		}
		refused++
		found := false
		for _, f := range c.Findings {
			found = found || f.Rule == "power-not-delivered" || f.Rule == "volt-drop"
		}
		assert.True(t, found, text)
	})
	assert.Positive(t, refused, "some were refused")
}

// What is linked to a battery without a cable or a device asks too much all the
// same: 12 V behind 200 mΩ deliver 10.8²/0.8 = 145.8 W.
func TestLinkedToTheBattery(t *testing.T) {
	for _, link := range []string{"[link]", "[link] bus PB in low at cool: 400 A [link]"} {
		c := lang.Compile(nil, "craft.strake", head+"battery B1 in low at cool: agm, 12 V, 20 Ah, resistance 200 mohm\nrun B1 "+link+" load L1 at cool: 900 W\n")
		require.False(t, c.HasErrors(), "%v", c.Findings)
		found := 0
		for _, f := range c.Findings {
			if f.Rule == "power-not-delivered" {
				found++
			}
		}
		assert.Equal(t, 1, found, link)
	}
}
