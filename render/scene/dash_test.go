package scene

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"strake/layout/geom"
)

// inked tells whether a dash covers a place along a line, and a little to both
// sides of it.
func inked(dashes []int, at, whole int) bool {
	if dashes == nil {
		return true
	}
	sum := 0
	for i, d := range dashes {
		if i%2 == 1 && max(sum, at-20) < min(sum+d, at+20) && at >= 0 && at <= whole {
			return false
		}
		sum += d
	}
	return true
}

func TestDashesLeaveNoGapWhereLinesMeet(t *testing.T) {
	pens := []Pen{LinkPen, SignalPen, WirePen(MainDC).Prepared(), WirePen(MainDC).Owners(), WirePen(MainDC).Removed()}
	for s := range WireStyle(WireStyles) {
		pens = append(pens, WirePen(s))
	}
	for _, pen := range pens {
		for first := 20; first < 4000; first += 37 {
			for _, second := range []int{50, 333, 1250, 5015} {
				l := Line{Pen: pen, Points: []geom.Point{{}, {X: first}, {X: first, Y: -second}}, Met: []geom.Point{{X: first / 3}, {X: first, Y: -second / 2}, {X: 7, Y: 9}}}
				dashes := l.Dashes()
				if len(pen.Dash) == 0 {
					assert.Nil(t, dashes)
					continue
				}
				sum := 0
				for _, d := range dashes {
					assert.GreaterOrEqual(t, d, 0)
					sum += d
				}
				if dashes != nil {
					assert.Equal(t, first+second, sum)
					assert.Equal(t, 1, len(dashes)%2)
				}
				for _, at := range []int{0, first / 3, first, first + second/2, first + second} {
					assert.True(t, inked(dashes, at, first+second), "%v at %d of %d and %d", pen, at, first, second)
				}
			}
		}
	}
}

// TestDashesKeepTheirPattern holds every whole dash and gap of a long line to
// within 15 % of the pattern, the ends and what is met apart.
func TestDashesKeepTheirPattern(t *testing.T) {
	for s := range WireStyle(WireStyles) {
		pen := WirePen(s)
		if len(pen.Dash) == 0 {
			continue
		}
		for length := 1000; length < 9000; length += 13 {
			dashes := Line{Pen: pen, Points: []geom.Point{{}, {Y: length}}}.Dashes()
			for i := 1; i+1 < len(dashes); i++ {
				want := float64(pen.Dash[i%len(pen.Dash)])
				assert.InDelta(t, want, float64(dashes[i]), want*0.15+1.1, "%v over %d", pen.Dash, length)
			}
			period := 0
			for _, d := range pen.Dash {
				period += d
			}
			assert.LessOrEqual(t, dashes[0], pen.Dash[0]/2+period/2, "%v over %d", pen.Dash, length)
		}
	}
}
