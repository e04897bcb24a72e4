// The ink of a text, measured glyph by glyph from the shipped fonts.
package main

import (
	"math"
	"strings"
	"sync"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
)

// glyph is the ink of one character in ems, from where it is set; y is up.
type glyph struct{ advance, x0, x1, down, up float64 }

func (g glyph) blank() bool { return g.x1 <= g.x0 || g.up <= g.down }

type typeface struct {
	font    *sfnt.Font
	known   map[rune]glyph
	small   float64 // height of small letters
	capital float64
}

var typefaces = sync.OnceValue(func() map[bool]*typeface {
	out := map[bool]*typeface{}
	for bold, ttf := range map[bool][]byte{false: goregular.TTF, true: gobold.TTF} {
		f, err := sfnt.Parse(ttf)
		if err != nil {
			panic(err)
		}
		face := &typeface{font: f, known: map[rune]glyph{}}
		face.small, face.capital = face.glyph('x').up, face.glyph('H').up
		out[bold] = face
	}
	return out
})

func (f *typeface) glyph(r rune) glyph {
	if g, ok := f.known[r]; ok {
		return g
	}
	var buffer sfnt.Buffer
	em := float64(f.font.UnitsPerEm())
	index, err := f.font.GlyphIndex(&buffer, r)
	if err != nil || index == 0 {
		return glyph{advance: math.NaN()}
	}
	box, advance, err := f.font.GlyphBounds(&buffer, index, fixed.I(int(em)), font.HintingNone)
	if err != nil {
		return glyph{advance: math.NaN()}
	}
	ems := func(v fixed.Int26_6) float64 { return float64(v) / 64 / em }
	g := glyph{ems(advance), ems(box.Min.X), ems(box.Max.X), -ems(box.Max.Y), -ems(box.Min.Y)}
	f.known[r] = g
	return g
}

// width of a text in ems; not a number where the font lacks a character.
func (f *typeface) width(text string) float64 {
	sum := 0.0
	for _, r := range text {
		sum += f.glyph(r).advance
	}
	return sum
}

// inkBoxes covers a text that starts at a point: a box for each glyph, so that
// a descender counts only where it is, and a band as high as small letters
// from the first to the last, so that a line between two words still runs
// through the text.
func (f *typeface) inkBoxes(text string, at point, size, stretch float64) []rect {
	var boxes []rect
	x, up := at.x, 0.0
	for _, r := range text {
		g := f.glyph(r)
		if !g.blank() {
			boxes = append(boxes, rect{x + g.x0*size*stretch, at.y - g.up*size, x + g.x1*size*stretch, at.y - g.down*size})
			up = max(up, g.up)
		}
		x += g.advance * size * stretch
	}
	if n := len(boxes); n > 1 && strings.TrimSpace(text) != "" {
		boxes = append(boxes, rect{boxes[0].x0, at.y - min(up, f.small)*size, boxes[n-1].x1, at.y})
	}
	return boxes
}
