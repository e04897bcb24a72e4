package scene

import (
	"fmt"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Wires must be apart without colour, and turn black in a copy at half threshold.
func TestWirePens(t *testing.T) {
	seen := map[string]WireStyle{}
	for s := range WireStyle(WireStyles) {
		p := WirePen(s)
		look := fmt.Sprint(p.Width, p.Dash)
		other, double := seen[look]
		assert.False(t, double, "style %d looks like %d without colour", s, other)
		seen[look] = s
		for _, pen := range []Pen{p, p.Prepared(), p.Owners(), p.Removed(), BarPen(s)} {
			period := 0
			for _, d := range pen.Dash {
				period += d
			}
			assert.LessOrEqual(t, period, 600, "style %d: a pattern that long cannot be told in a short wire", s)
			assert.Zero(t, len(pen.Dash)%2)
			assert.Less(t, luminance(t, pen.Colour), 0.5, "style %d prints black", s)
		}
	}
}

func luminance(t *testing.T, c Colour) float64 {
	t.Helper()
	require.Len(t, string(c), 7)
	n, err := strconv.ParseUint(string(c[1:]), 16, 32)
	require.NoError(t, err)
	return (0.299*float64(n>>16) + 0.587*float64(n>>8&255) + 0.114*float64(n&255)) / 255
}
