package pdf

import (
	"bytes"
	"errors"
	"io"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"strake/layout/geom"
	"strake/render/scene"
)

// some is a page with one of everything, and with what could trip a writer.
func some(text string) scene.Sheet {
	return scene.Sheet{
		Width: 10000, Height: 5050, Title: text, Desc: text,
		Groups: []*scene.Group{{Shift: geom.Point{X: 1000, Y: 1000}, Nodes: []scene.Node{
			scene.Line{Pen: scene.WirePen(scene.MainAC), Points: []geom.Point{{X: 500, Y: 2000}, {X: 5000, Y: 2000}}},
			scene.Line{Closed: true, Fill: scene.Black, Points: []geom.Point{{}, {X: 700}, {X: 700, Y: 300}}},
			scene.Line{Pen: scene.ThinPen}, // no points: no ink
			scene.Line{Pen: scene.ThinPen, Points: []geom.Point{{X: 1, Y: 1}}},
			scene.Circle{Pen: scene.SymbolPen, Centre: geom.Point{Y: 300}, RX: 300, RY: 170},
			scene.Arc{Pen: scene.ThinPen, Centre: geom.Point{Y: 300}, R: 100, To: 270},
			&scene.Group{Shift: geom.Point{X: 5, Y: 5}, Nodes: []scene.Node{
				scene.Text{Cap: scene.CapText, Anchor: scene.Middle, Bold: true, Colour: "#ffffff", Text: text},
				scene.Text{Cap: scene.CapNote, Anchor: scene.Right, Text: text},
			}},
		}}},
	}
}

func write(t require.TestingT, sheets ...scene.Sheet) []byte {
	var b bytes.Buffer
	require.NoError(t, Write(&b, sheets))
	return b.Bytes()
}

func TestSameBytes(t *testing.T) {
	first := write(t, some("50 mm² 4.2 m"), some("(Ω)"))
	assert.Equal(t, first, write(t, some("50 mm² 4.2 m"), some("(Ω)")))
	assert.NotEqual(t, first, write(t, some("50 mm² 4.3 m"), some("(Ω)")))
}

func TestAnyText(t *testing.T) {
	for _, text := range []string{"", "😀", "\xff\xe2", "船 (a\\) \x00", "{nb}"} {
		assert.True(t, bytes.HasPrefix(write(t, some(text)), []byte("%PDF-")), "%q", text)
	}
	rapid.Check(t, func(t *rapid.T) {
		whole := write(t, some(rapid.String().Draw(t, "text")))
		assert.True(t, bytes.HasSuffix(bytes.TrimSpace(whole), []byte("%%EOF")))
	})
}

func TestColours(t *testing.T) {
	for c, want := range map[scene.Colour][3]int{
		"": {}, scene.Black: {}, "#a3121f": {0xa3, 0x12, 0x1f}, "#FFFFFF": {255, 255, 255}, "red": {}, "#12345": {}, "#+12345": {},
	} {
		r, g, b := rgb(c)
		assert.Equal(t, want, [3]int{r, g, b}, string(c))
	}
}

func TestNothingToWrite(t *testing.T) {
	assert.ErrorContains(t, Write(io.Discard, nil), "no sheet")
	assert.ErrorContains(t, Write(io.Discard, []scene.Sheet{{Width: 100, Height: 100}, {}}), "cannot be drawn")
}

// full fails as a full disk does.
type full struct{}

func (full) Write([]byte) (int, error) { return 0, errors.New("disk full") }

func TestWriteError(t *testing.T) {
	assert.EqualError(t, Write(full{}, []scene.Sheet{some("x")}), "disk full")
}
