package symbol_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strake/layout/geom"
	"strake/render/scene"
	"strake/render/symbol"
)

// forms walks every symbol of the picture in every pose.
func forms(t *testing.T, check func(name string, s symbol.Symbol, pose symbol.Pose, f symbol.Form)) {
	t.Helper()
	for _, e := range entries() {
		s, ok := symbol.For(e.name, e.v)
		require.True(t, ok, e.name)
		for _, pose := range symbol.Poses {
			check(fmt.Sprintf("%s, pose %d", e.words, pose), s, pose, s.Form(pose))
		}
	}
}

func upright(p symbol.Pose) bool { return p == symbol.Upright || p == symbol.Turned }

// All ink lies within the box, but for half a stroke at the two ends of the
// axis, where a wire lands.
func TestInkWithinTheBox(t *testing.T) {
	forms(t, func(name string, _ symbol.Symbol, pose symbol.Pose, f symbol.Form) {
		room := f.Box
		if upright(pose) {
			room.Y0, room.Y1 = room.Y0-18, room.Y1+18
			assert.Zero(t, f.Box.Y0, name)
		} else {
			room.X0, room.X1 = room.X0-18, room.X1+18
			assert.Zero(t, f.Box.X0, name)
		}
		require.NotEmpty(t, f.Nodes, name)
		for _, n := range f.Nodes {
			assert.True(t, room.Holds(scene.Bounds(n)), "%s: %v leaves %v", name, scene.Bounds(n), room)
		}
	})
}

// Every port lies on the side that it names, and no two share a place.
func TestPortsOnTheirSides(t *testing.T) {
	forms(t, func(name string, _ symbol.Symbol, _ symbol.Pose, f symbol.Form) {
		seen := map[geom.Point]bool{}
		for _, p := range f.Ports {
			assert.False(t, seen[p.At], "%s: two ports at %v", name, p.At)
			seen[p.At] = true
			gap := map[symbol.Side]int{
				symbol.Top: p.At.Y - f.Box.Y0, symbol.Bottom: f.Box.Y1 - p.At.Y,
				symbol.LeftSide: p.At.X - f.Box.X0, symbol.RightSide: f.Box.X1 - p.At.X,
			}[p.Side]
			assert.True(t, gap >= 0 && gap <= 18, "%s: port %s is %d off its side", name, p.Name, gap)
		}
	})
}

// What stands in a chain has its ends on the axis, in the order of the pose.
func TestChainsAreStraight(t *testing.T) {
	forms(t, func(name string, s symbol.Symbol, pose symbol.Pose, f symbol.Form) {
		if _, changeover := f.Port("in"); !s.TwoEnds() || !changeover {
			return
		}
		in, ok := f.Port("in")
		require.True(t, ok, name)
		out, ok := f.Port("out")
		require.True(t, ok, name)
		length := geom.Point{X: f.Box.X1}
		if upright(pose) {
			length = geom.Point{Y: f.Box.Y1}
		}
		first, last := in.At, out.At
		if pose == symbol.Turned || pose == symbol.LevelTurned || pose == symbol.RowTurned {
			first, last = last, first
		}
		assert.Equal(t, geom.Point{}, first, name)
		assert.Equal(t, length, last, name)
	})
}

// In a row the wire always comes from the board.
func TestRowsMeetTheBoard(t *testing.T) {
	for _, name := range symbol.Names() {
		s, _ := symbol.For(name, symbol.Variant{})
		for pose, side := range map[symbol.Pose]symbol.Side{symbol.RowPose: symbol.LeftSide, symbol.RowTurned: symbol.RightSide} {
			f := s.Form(pose)
			if len(f.Ports) == 0 {
				continue
			}
			if _, changeover := f.Port("in2"); changeover {
				continue
			}
			p, _ := f.Port("")
			assert.Equal(t, side, p.Side, "%s in pose %d", name, pose)
			assert.Zero(t, p.At.Y, name)
		}
	}
}

// The text beside an upright symbol starts right of all its ink.
func TestNoteStandsClear(t *testing.T) {
	forms(t, func(name string, _ symbol.Symbol, pose symbol.Pose, f symbol.Form) {
		if upright(pose) {
			assert.GreaterOrEqual(t, f.Note.X-f.Box.X1, 80, name)
		}
	})
}

// A symbol's own letters touch none of its strokes.
func TestLettersStandClear(t *testing.T) {
	forms(t, func(name string, _ symbol.Symbol, _ symbol.Pose, f symbol.Form) {
		for _, n := range f.Nodes {
			text, ok := n.(scene.Text)
			if !ok {
				continue
			}
			ink := geom.Rect{X0: text.At.X - scene.Width(text.Text, text.Cap, text.Bold)/2, X1: text.At.X + scene.Width(text.Text, text.Cap, text.Bold)/2, Y0: text.At.Y - text.Cap, Y1: text.At.Y}
			for _, other := range f.Nodes {
				if l, ok := other.(scene.Line); ok && !l.Closed {
					assert.False(t, ink.Meets(scene.Bounds(l)), "%s: %q touches %v", name, text.Text, scene.Bounds(l))
				}
			}
		}
	})
}

func TestPortNames(t *testing.T) {
	for _, c := range []struct {
		name  string
		v     symbol.Variant
		ports []string
	}{
		{"battery", symbol.Variant{}, []string{"positive", "negative"}},
		{"inverter-charger", symbol.Variant{}, []string{"dc", "in", "in1", "in2", "out", "out1", "out2"}},
		{"changeover", symbol.Variant{Ways: []string{"shore", "generator"}}, []string{"shore", "generator", "out"}},
		{"contactor", symbol.Variant{}, []string{"in", "out", "coil"}},
		{"relay", symbol.Variant{}, []string{"in", "out", "coil"}},
		{"motor", symbol.Variant{}, []string{"", "in", "enable"}},
		{"pump", symbol.Variant{}, []string{"", "auto", "manual"}},
		{"generator", symbol.Variant{}, []string{"", "out", "start"}},
		{"controller", symbol.Variant{}, []string{"in", "out", "enable"}},
	} {
		s, ok := symbol.For(c.name, c.v)
		require.True(t, ok)
		for _, port := range c.ports {
			_, ok := s.Form(symbol.Upright).Port(port)
			assert.True(t, ok, "%s.%s", c.name, port)
		}
	}
	s, _ := symbol.For("fuse", symbol.Variant{})
	_, ok := s.Form(symbol.Upright).Port("coil")
	assert.False(t, ok, "a fuse has no coil")
}

// Poles are strokes: one a pole, none for a single one.
func TestPoles(t *testing.T) {
	count := func(poles int) int {
		s, _ := symbol.For("isolator", symbol.Variant{Poles: poles})
		return len(s.Form(symbol.Upright).Nodes)
	}
	assert.Equal(t, count(0), count(1))
	assert.Equal(t, count(0)+2, count(2))
	assert.Equal(t, count(0)+3, count(3))
}
