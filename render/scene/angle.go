package scene

import (
	"math"

	"strake/layout/geom"
)

// End is the point of an arc's circle at an angle in whole degrees, clockwise
// from three o'clock. The quarters are exact; elsewhere the point is rounded
// to the grid, far from where the last bit of a sine could matter.
func (a Arc) End(degrees int) geom.Point {
	switch ((degrees % 360) + 360) % 360 {
	case 0:
		return geom.Point{X: a.Centre.X + a.R, Y: a.Centre.Y}
	case 90:
		return geom.Point{X: a.Centre.X, Y: a.Centre.Y + a.R}
	case 180:
		return geom.Point{X: a.Centre.X - a.R, Y: a.Centre.Y}
	case 270:
		return geom.Point{X: a.Centre.X, Y: a.Centre.Y - a.R}
	}
	sin, cos := math.Sincos(float64(degrees) * math.Pi / 180)
	return geom.Point{X: a.Centre.X + round(float64(a.R)*cos), Y: a.Centre.Y + round(float64(a.R)*sin)}
}

// round goes through a coarse value first, so that a sine that differs in its
// last bit on another machine still gives the same hundredth of a millimetre.
func round(x float64) int { return int(math.Floor(math.Round(x*1024)/1024 + 0.5)) }
