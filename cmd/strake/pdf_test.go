// The PDF of every craft, read with other people's programs: the right pages,
// fonts inside, every reference to be found, and the picture of the SVG.
package main

import (
	"bytes"
	"encoding/xml"
	"errors"
	"image"
	"image/png"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"

	"strake/lang"
	"strake/layout"
	"strake/layout/geom"
	"strake/render/pdf"
	"strake/render/scene"
	"strake/render/schematic"
)

// wantProgram skips where a program is missing, and fails where it has to be there.
func wantProgram(t *testing.T, program, pkg string) {
	t.Helper()
	if _, err := exec.LookPath(program); err != nil {
		if os.Getenv("CI") != "" {
			t.Fatalf("%s is not installed, and in continuous integration it has to be", program)
		}
		t.Skipf("%s (Debian package %s) is not installed: the PDF was not read", program, pkg)
	}
}

// printedCraft are the sheets of an example and the PDF of them on disk.
type printedCraft struct {
	name   string
	result lang.Result
	sheets []scene.Sheet
	path   string
}

func printedExamples(t *testing.T) []printedCraft {
	texts := exampleTexts(t)
	folder := t.TempDir()
	var out []printedCraft
	for _, name := range sortedNames(texts) {
		r := compile(name, texts[name])
		if hasError(r.Findings) {
			continue
		}
		c := printedCraft{name: name, result: r, path: filepath.Join(folder, name+".pdf")}
		c.sheets = schematic.Draw(r.System, r.Plan, r.Findings, r.Summary, schematic.Options{Effort: layout.Quick})
		files, err := pdfPages(c.sheets)
		require.NoError(t, err)
		require.NoError(t, os.WriteFile(c.path, files[0], 0o644))
		out = append(out, c)
	}
	require.GreaterOrEqual(t, len(out), 3)
	return out
}

func output(t *testing.T, env []string, program string, args ...string) string {
	t.Helper()
	command := exec.Command(program, args...)
	command.Env = append(os.Environ(), env...)
	var said bytes.Buffer
	command.Stderr = &said
	out, err := command.Output()
	require.NoError(t, err, "%s %v: %s", program, args, said.String())
	require.Empty(t, said.String(), "%s %v", program, args)
	return string(out)
}

func TestPDFSameBytes(t *testing.T) {
	for _, c := range printedExamples(t) {
		first, err := os.ReadFile(c.path)
		require.NoError(t, err)
		var again bytes.Buffer
		require.NoError(t, pdf.Write(&again, c.sheets))
		assert.True(t, bytes.Equal(first, again.Bytes()), c.name)
	}
}

var pageSize = regexp.MustCompile(`(?m)^Page +\d+ size: +([\d.]+) x ([\d.]+) pts`)

func TestPDFPagesAndFonts(t *testing.T) {
	wantProgram(t, "pdfinfo", "poppler-utils")
	for _, c := range printedExamples(t) {
		sizes := pageSize.FindAllStringSubmatch(output(t, nil, "pdfinfo", "-l", "-1", c.path), -1)
		require.Len(t, sizes, len(c.sheets), c.name)
		for i, s := range c.sheets {
			for j, hundredths := range []int{s.Width, s.Height} {
				points, err := strconv.ParseFloat(sizes[i][j+1], 64)
				require.NoError(t, err)
				assert.InDelta(t, float64(hundredths)/2540*72, points, 0.01, "%s, sheet %d", c.name, i+1)
			}
		}
		fonts := strings.Split(strings.TrimSpace(output(t, nil, "pdffonts", c.path)), "\n")[2:]
		assert.Len(t, fonts, 2, "%s: regular and bold", c.name)
		for _, f := range fonts {
			assert.Regexp(t, `TrueType +Identity-H +yes +\S+ +yes`, f, "%s: embedded, and its characters known", c.name)
		}
	}
}

// TestPDFIsSearchable finds every text of every sheet, and with them every reference.
func TestPDFIsSearchable(t *testing.T) {
	wantProgram(t, "pdftotext", "poppler-utils")
	for _, c := range printedExamples(t) {
		whole := ""
		for i, sheet := range pages(t, c.result, layout.Quick) {
			page := strconv.Itoa(i + 1)
			found := letters(output(t, nil, "pdftotext", "-raw", "-f", page, "-l", page, c.path, "-"))
			for _, text := range textsOf(t, sheet) {
				assert.Contains(t, found, letters(text), "%s, sheet %s", c.name, page)
			}
			whole += " " + output(t, nil, "pdftotext", "-f", page, "-l", page, c.path, "-")
		}
		words := map[string]bool{}
		for _, w := range strings.Fields(whole) {
			words[strings.Trim(w, ",;:()")] = true
		}
		for _, it := range c.result.System.Items {
			if it.Way == nil { // a way bears its number inside its board
				assert.True(t, words[it.Ref], "%s: %s is not found", c.name, it.Ref)
			}
		}
	}
}

// letters drops blanks: a reader guesses at them from gaps.
func letters(text string) string { return strings.Join(strings.Fields(text), "") }

// textsOf reads the texts of an SVG.
func textsOf(t *testing.T, sheet string) []string {
	var out []string
	d := xml.NewDecoder(strings.NewReader(sheet))
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			require.NotEmpty(t, out)
			return out
		}
		require.NoError(t, err)
		if start, ok := token.(xml.StartElement); ok && start.Name.Local == "text" {
			var text string
			require.NoError(t, d.DecodeElement(&text, &start))
			out = append(out, text)
		}
	}
}

// roundedAway is how many pixels of a whole sheet two painters may round apart:
// fewer than the least mark that TestPicturesAreTold moves.
const roundedAway = 2

// TestPDFShowsThePictureOfTheSVG paints both at 150 dots an inch. A pixel at
// least half dark in one must have one with some ink within a pixel in the
// other. The mistaken examples are left out: their ink is of the same kinds.
func TestPDFShowsThePictureOfTheSVG(t *testing.T) {
	p := newPainters(t)
	for _, c := range printedExamples(t) {
		if strings.Contains(c.name, "-mistakes") || testing.Short() && !strings.Contains(c.name, "first") {
			continue
		}
		for i, sheet := range pages(t, c.result, layout.Quick) {
			a, b := p.svg(t, sheet), p.pdf(t, c.path, i+1)
			require.Equal(t, a.size, b.size)
			require.Greater(t, a.count(), 10_000, "%s, sheet %d: there is a picture", c.name, i+1)
			assert.LessOrEqual(t, a.strayFrom(b), roundedAway, "%s, sheet %d: pixels that only the SVG has", c.name, i+1)
			assert.LessOrEqual(t, b.strayFrom(a), roundedAway, "%s, sheet %d: pixels that only the PDF has", c.name, i+1)
		}
	}
}

// TestPicturesAreTold holds the comparison itself to its task: a mark moved by
// half a millimetre, or a line a little too long, is seen in either direction.
func TestPicturesAreTold(t *testing.T) {
	p := newPainters(t)
	line := func(x1 int) scene.Node {
		return scene.Line{Pen: scene.SymbolPen, Points: []geom.Point{{X: 1000, Y: 1000}, {X: x1, Y: 1000}}}
	}
	text := func(x int) scene.Node {
		return scene.Text{At: geom.Point{X: x, Y: 3000}, Cap: scene.CapNote, Text: "50 mm²"}
	}
	for name, c := range map[string]struct {
		svg, pdf scene.Node
		alike    bool
	}{
		"same line":   {line(3000), line(3000), true},
		"longer line": {line(3000), line(3060), false},
		"same text":   {text(1000), text(1000), true},
		"moved text":  {text(1000), text(1050), false},
	} {
		sheet := func(n scene.Node) scene.Sheet {
			return scene.Sheet{Width: 5000, Height: 5000, Groups: []*scene.Group{{Nodes: []scene.Node{n}}}}
		}
		one, err := svgPages([]scene.Sheet{sheet(c.svg)})
		require.NoError(t, err)
		other, err := pdfPages([]scene.Sheet{sheet(c.pdf)})
		require.NoError(t, err)
		path := filepath.Join(p.folder, "told.pdf")
		require.NoError(t, os.WriteFile(path, other[0], 0o644))
		a, b := p.svg(t, string(one[0])), p.pdf(t, path, 1)
		assert.Equal(t, c.alike, a.strayFrom(b)+b.strayFrom(a) <= roundedAway, name)
	}
}

// painters turn drawings into pictures.
type painters struct {
	folder string
	env    []string
}

func newPainters(t *testing.T) painters {
	wantProgram(t, "pdftoppm", "poppler-utils")
	wantProgram(t, "rsvg-convert", "librsvg2-bin")
	folder := t.TempDir()
	return painters{folder, []string{"FONTCONFIG_FILE=" + goFontsOnly(t, folder)}}
}

func (p painters) svg(t *testing.T, sheet string) bitmap {
	path := filepath.Join(p.folder, "sheet.svg")
	require.NoError(t, os.WriteFile(path, []byte(sheet), 0o644))
	output(t, p.env, "rsvg-convert", "--unlimited", "-d", "150", "-p", "150", "-b", "white", "-o", path+".png", path)
	return readInk(t, path+".png")
}

func (p painters) pdf(t *testing.T, path string, page int) bitmap {
	n, picture := strconv.Itoa(page), filepath.Join(p.folder, "page")
	output(t, nil, "pdftoppm", "-r", "150", "-png", "-f", n, "-l", n, "-singlefile", path, picture)
	return readInk(t, picture+".png")
}

// goFontsOnly writes the fonts that the SVG embeds to where its painter, which
// cannot read embedded ones, finds them and no others.
func goFontsOnly(t *testing.T, folder string) string {
	fonts, config := filepath.Join(folder, "fonts"), filepath.Join(folder, "fonts.conf")
	require.NoError(t, os.Mkdir(fonts, 0o755))
	require.NoError(t, os.WriteFile(filepath.Join(fonts, "regular.ttf"), goregular.TTF, 0o644))
	require.NoError(t, os.WriteFile(filepath.Join(fonts, "bold.ttf"), gobold.TTF, 0o644))
	text := `<?xml version="1.0"?><!DOCTYPE fontconfig SYSTEM "fonts.dtd"><fontconfig><dir>` + fonts + `</dir><cachedir>` + folder + `/cache</cachedir></fontconfig>`
	require.NoError(t, os.WriteFile(config, []byte(text), 0o644))
	return config
}

// bitmap is how dark each pixel of a picture is.
type bitmap struct {
	size image.Point
	dark []uint8
}

// Half dark is certain ink; lightly dark is where a painter may have put some.
const certainInk, someInk = 128, 24

func readInk(t *testing.T, path string) bitmap {
	f, err := os.Open(path)
	require.NoError(t, err)
	defer f.Close()
	picture, err := png.Decode(f)
	require.NoError(t, err)
	var pix []uint8 // four bytes a pixel, none of them transparent
	switch p := picture.(type) {
	case *image.NRGBA:
		pix = p.Pix
	case *image.RGBA:
		pix = p.Pix
	default:
		require.Fail(t, "a painter wrote another kind of picture", "%T", picture)
	}
	m := bitmap{picture.Bounds().Size(), make([]uint8, len(pix)/4)}
	for i := range m.dark {
		r, g, b := int(pix[4*i]), int(pix[4*i+1]), int(pix[4*i+2])
		m.dark[i] = uint8(255 - (299*r+587*g+114*b)/1000)
	}
	return m
}

func (m bitmap) count() int {
	n := 0
	for _, d := range m.dark {
		if d >= certainInk {
			n++
		}
	}
	return n
}

// strayFrom counts the certain ink that has no ink of the other within a pixel.
func (m bitmap) strayFrom(other bitmap) int {
	n := 0
	for i, d := range m.dark {
		if d >= certainInk && !other.near(i%m.size.X, i/m.size.X) {
			n++
		}
	}
	return n
}

func (m bitmap) near(x, y int) bool {
	for v := max(0, y-1); v <= min(m.size.Y-1, y+1); v++ {
		for u := max(0, x-1); u <= min(m.size.X-1, x+1); u++ {
			if m.dark[v*m.size.X+u] >= someInk {
				return true
			}
		}
	}
	return false
}
