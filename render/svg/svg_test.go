package svg

import (
	"bytes"
	"encoding/xml"
	"errors"
	"flag"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"strake/layout/geom"
	"strake/render/scene"
)

var update = flag.Bool("update", false, "write the golden drawing anew")

// small is a sheet with one of everything, and with texts that try to break out.
func small() scene.Sheet {
	main := scene.WirePen(scene.MainDC)
	return scene.Sheet{
		Width: 10000, Height: 5050, Title: `Pintlewick <PW-E-01> & "B"`, Desc: "Single-line schematic",
		Groups: []*scene.Group{
			{Class: "sheet", Nodes: []scene.Node{
				&scene.Group{Class: "frame", Nodes: []scene.Node{
					scene.Line{Pen: scene.FramePen, Closed: true, Points: []geom.Point{{X: 100, Y: 100}, {X: 9900, Y: 100}, {X: 9900, Y: 4950}, {X: 100, Y: 4950}}},
				}},
				scene.Line{Closed: true, Fill: scene.Black, Points: []geom.Point{{X: 6000, Y: 300}, {X: 9700, Y: 300}, {X: 9700, Y: 1100}, {X: 6000, Y: 1100}}},
				scene.Text{At: geom.Point{X: 7850, Y: 850}, Cap: scene.CapText, Anchor: scene.Middle, Bold: true, Colour: scene.White, Text: "STILL LIVE"},
			}},
			{Class: "bus", Item: "PB", Title: "PB 48 V", Nodes: []scene.Node{
				scene.Line{Pen: scene.BarPen(scene.MainDC), Points: []geom.Point{{X: 500, Y: 2000}, {X: 5000, Y: 2000}}},
			}},
			{Class: "cable prepared", Item: "F5-M1", From: "F5", To: "M1", Nodes: []scene.Node{
				scene.Line{Pen: main.Prepared(), Points: []geom.Point{{X: 1000, Y: 2000}, {X: 1000, Y: 4000}}},
				scene.Line{Pen: main}, // no points: no ink
				scene.Line{Pen: main, Points: []geom.Point{{X: 1, Y: 1}}},
				scene.Text{At: geom.Point{X: 1180, Y: 2400}, Cap: scene.CapNote, Text: "50 mm² 4.2 m"},
			}},
			{Class: "device motor", Item: `"><script>alert(1)</script>`, Title: "M1 & <co>", Shift: geom.Point{X: 1000, Y: 4000}, Nodes: []scene.Node{
				scene.Circle{Pen: scene.SymbolPen, Centre: geom.Point{Y: 300}, RX: 300, RY: 300},
				scene.Circle{Pen: scene.SymbolPen, Centre: geom.Point{Y: 300}, RX: 170, RY: 70},
				scene.Arc{Pen: scene.ThinPen, Centre: geom.Point{Y: 300}, R: 100, From: 180, To: 360},
				scene.Arc{Pen: scene.ThinPen, Centre: geom.Point{Y: 300}, R: 100, From: 0, To: 270},
				scene.Arc{Pen: scene.ThinPen, Centre: geom.Point{Y: 300}, R: 50, From: 0, To: 360},
				scene.Text{At: geom.Point{X: 500, Y: 400}, Cap: scene.CapText, Anchor: scene.Right, Text: "a < b & \"c\" 船\x00"},
				scene.Text{Cap: scene.CapText},
			}},
		},
	}
}

func draw(t require.TestingT, s scene.Sheet) string {
	var b bytes.Buffer
	require.NoError(t, Write(&b, s))
	return b.String()
}

var fontData = regexp.MustCompile(`base64,[A-Za-z0-9+/=]+`)

func TestGolden(t *testing.T) {
	got := fontData.ReplaceAllString(draw(t, small()), "base64,…")
	path := filepath.Join("testdata", "small.svg")
	if *update {
		require.NoError(t, os.WriteFile(path, []byte(got), 0o644))
	}
	want, err := os.ReadFile(path)
	require.NoError(t, err)
	require.Equal(t, string(want), got, "after a wanted change: go test ./render/svg -update")
}

func TestSameBytes(t *testing.T) { assert.Equal(t, draw(t, small()), draw(t, small())) }

func TestNothingEscapes(t *testing.T) {
	got := draw(t, small())
	assert.NotContains(t, got, "<script")
	for _, outside := range []string{"http://", "https://", "url(#", "@import"} {
		rest := strings.ReplaceAll(got, `xmlns="http://www.w3.org/2000/svg"`, "")
		rest = strings.ReplaceAll(rest, `xmlns:xlink="http://www.w3.org/1999/xlink"`, "")
		assert.NotContains(t, rest, outside, "nothing is fetched from outside")
	}
	assert.Contains(t, got, `width="100mm"`)
	assert.Contains(t, got, `height="50.5mm"`)
	assert.Contains(t, got, `viewBox="0 0 10000 5050"`)
}

func TestWellFormedWhateverTheText(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		any := rapid.String()
		s := scene.Sheet{Width: 100, Height: 100, Title: any.Draw(t, "title"), Desc: any.Draw(t, "desc"), Groups: []*scene.Group{{
			Class: any.Draw(t, "class"), Item: any.Draw(t, "item"), From: any.Draw(t, "from"), To: any.Draw(t, "to"), Title: any.Draw(t, "tooltip"),
			Nodes: []scene.Node{
				scene.Text{Cap: 250, Text: any.Draw(t, "text"), Colour: scene.Colour(any.Draw(t, "colour"))},
				scene.Line{Pen: scene.Pen{Width: 1, Colour: scene.Colour(any.Draw(t, "pen"))}, Points: []geom.Point{{}, {X: 1}}},
			},
		}}}
		groups, texts := parse(t, draw(t, s))
		assert.Equal(t, 1, groups)
		assert.LessOrEqual(t, texts, 1)
	})
}

// parse reads the drawing as XML and counts groups and texts.
func parse(t require.TestingT, text string) (groups, texts int) {
	d := xml.NewDecoder(strings.NewReader(text))
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			return groups, texts
		}
		require.NoError(t, err)
		start, ok := token.(xml.StartElement)
		if !ok {
			continue
		}
		seen := map[string]bool{}
		for _, a := range start.Attr {
			require.False(t, seen[a.Name.Space+a.Name.Local], "attribute %s twice", a.Name.Local)
			seen[a.Name.Space+a.Name.Local] = true
		}
		switch start.Name.Local {
		case "g":
			groups++
		case "text":
			texts++
		case "script", "image", "a", "use", "foreignObject":
			require.Fail(t, "element not allowed", start.Name.Local)
		}
	}
}

// full fails after some bytes, as a full disk does.
type full struct{ left int }

func (f *full) Write(b []byte) (int, error) {
	if len(b) > f.left {
		return f.left, errors.New("disk full")
	}
	f.left -= len(b)
	return len(b), nil
}

func TestWriteErrors(t *testing.T) {
	whole := len(draw(t, small()))
	for _, room := range []int{0, 10, 5000, whole - 1} {
		assert.EqualError(t, Write(&full{room}, small()), "disk full", "room for %d bytes", room)
	}
	assert.NoError(t, Write(&full{whole}, small()))
}

func TestEmptySheet(t *testing.T) {
	assert.ErrorContains(t, Write(io.Discard, scene.Sheet{}), "cannot be drawn")
}

// TestOutsideReaders lets the programs that people print with read the drawing.
func TestOutsideReaders(t *testing.T) {
	path := filepath.Join(t.TempDir(), "small.svg")
	require.NoError(t, os.WriteFile(path, []byte(draw(t, small())), 0o644))
	for _, reader := range [][]string{
		{"xmllint", "--nonet", "--noout", path},
		{"rsvg-convert", "-f", "png", "-o", path + ".png", path},
	} {
		program, err := exec.LookPath(reader[0])
		if err != nil {
			t.Logf("%s is not installed", reader[0])
			continue
		}
		out, err := exec.Command(program, reader[1:]...).CombinedOutput()
		require.NoError(t, err, "%s: %s", reader[0], out)
		require.Empty(t, string(out), reader[0])
	}
}
