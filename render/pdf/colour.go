package pdf

import (
	"strconv"
	"strings"

	"strake/render/scene"
)

// rgb takes "#rrggbb" apart; empty and anything else is black, as in the SVG.
func rgb(c scene.Colour) (r, g, b int) {
	digits, ok := strings.CutPrefix(string(c), "#")
	if !ok || len(digits) != 6 {
		return 0, 0, 0
	}
	n, err := strconv.ParseUint(digits, 16, 24)
	if err != nil {
		return 0, 0, 0
	}
	return int(n >> 16), int(n >> 8 & 0xff), int(n & 0xff)
}
