package schematic

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"strake/render/scene"
)

func TestNumber(t *testing.T) {
	for v, want := range map[float64]string{0: "0", 2.5: "2.5", 95: "95", 0.35: "0.35", 4.4999: "4.5", 1234: "1234", 12.04: "12", 0.0004: "0.0004"} {
		assert.Equal(t, want, number(v))
	}
}

func TestNumbersKeepTheirUnits(t *testing.T) {
	assert.Equal(t, []string{"2 × 12 V", "75 Ah", "in", "series"}, pieces("2 × 12 V 75 Ah in series"))
	assert.Equal(t, []string{"up", "to", "58.4 V,", "Port", "hull"}, pieces("up to 58.4 V, Port hull"))
}

func TestNothingIsLostInWrapping(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.StringMatching(`([a-zA-Z0-9×.]{1,12} ){0,9}[AVm]?`).Draw(t, "text")
		width := rapid.IntRange(500, 6000).Draw(t, "width")
		joined := ""
		for _, l := range wrapped(text, width, 250, false) {
			assert.LessOrEqual(t, l.width(), width)
			joined += l[0].text
		}
		assert.Equal(t, squeeze(scene.Clean(text)), squeeze(joined))
	})
}

func squeeze(s string) string {
	out := ""
	for _, r := range s {
		if r != ' ' {
			out += string(r)
		}
	}
	return out
}

func TestZones(t *testing.T) {
	for _, p := range []paper{a4, a3, a2} {
		for _, side := range [][3]int{{filing, p.width - margin, p.width / 2}, {margin, p.height - margin, p.height / 2}} {
			edges := divide(side[0], side[1], side[2])
			assert.Contains(t, edges, side[2], "the middle divides two fields")
			for i := 1; i < len(edges); i++ {
				w := edges[i] - edges[i-1]
				assert.GreaterOrEqual(t, w, zone/2)
				assert.Less(t, w, zone*3/2+1)
			}
		}
	}
}
