package scene

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"strake/layout/geom"
)

func TestBounds(t *testing.T) {
	pen := Pen{Width: 50}
	text := Text{At: geom.Point{X: 1000, Y: 2000}, Cap: 350, Text: "Q1"}
	w := Width("Q1", 350, false)
	right, middle := text, text
	right.Anchor, middle.Anchor = Right, Middle
	for name, c := range map[string]struct {
		node   Node
		expect geom.Rect
	}{
		"line":      {Line{Pen: pen, Points: []geom.Point{{X: 100, Y: 900}, {X: 300, Y: 400}}}, geom.Rect{X0: 75, Y0: 375, X1: 325, Y1: 925}},
		"ellipse":   {Circle{Pen: pen, Centre: geom.Point{X: 500, Y: 500}, RX: 100, RY: 200}, geom.Rect{X0: 375, Y0: 275, X1: 625, Y1: 725}},
		"half":      {Arc{Pen: pen, Centre: geom.Point{X: 0, Y: 0}, R: 100, From: 180, To: 360}, geom.Rect{X0: -125, Y0: -125, X1: 125, Y1: 25}},
		"quarter":   {Arc{Pen: pen, Centre: geom.Point{X: 0, Y: 0}, R: 100, From: 0, To: 90}, geom.Rect{X0: -25, Y0: -25, X1: 125, Y1: 125}},
		"left":      {text, geom.Rect{X0: 1000, Y0: 2000 - Ascent(350), X1: 1000 + w, Y1: 2000 + Descent(350)}},
		"right":     {right, geom.Rect{X0: 1000 - w, Y0: 2000 - Ascent(350), X1: 1000, Y1: 2000 + Descent(350)}},
		"middle":    {middle, geom.Rect{X0: 1000 - w/2, Y0: 2000 - Ascent(350), X1: 1000 - w/2 + w, Y1: 2000 + Descent(350)}},
		"no points": {Line{Pen: pen}, geom.Rect{}},
		"no text":   {Text{At: geom.Point{X: 10, Y: 10}, Cap: 350}, geom.Rect{}},
		"group":     {&Group{Shift: geom.Point{X: 1000}, Nodes: []Node{Line{Pen: pen, Points: []geom.Point{{X: 100, Y: 900}, {X: 300, Y: 400}}}, Line{}}}, geom.Rect{X0: 1075, Y0: 375, X1: 1325, Y1: 925}},
	} {
		assert.Equal(t, c.expect, Bounds(c.node), name)
	}
}

func TestArcEnds(t *testing.T) {
	a := Arc{Centre: geom.Point{X: 10, Y: 20}, R: 1000}
	for degrees, expect := range map[int]geom.Point{
		0: {X: 1010, Y: 20}, 90: {X: 10, Y: 1020}, -90: {X: 10, Y: -980}, 450: {X: 10, Y: 1020}, 180: {X: -990, Y: 20},
		30: {X: 876, Y: 520}, 45: {X: 717, Y: 727},
	} {
		assert.Equal(t, expect, a.End(degrees), "%d degrees", degrees)
	}
}
