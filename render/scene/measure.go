package scene

import (
	"strings"
	"sync"
	"unicode/utf8"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
)

// Heights of capitals, ISO 3098: cable notes; references, ratings and what is
// acted on; what is switched by hand, and bars.
const (
	CapNote   = 250
	CapText   = 350
	CapSwitch = 500
)

// capPerMyriad is the height of a capital of the Go fonts, in ten-thousandths
// of the font size (1480 of 2048 units).
const capPerMyriad = 7227

// FontSize is the font size that gives capitals of that height, in hundredths
// of a millimetre. Widths are reckoned from this whole number, so that what is
// measured is what is printed.
func FontSize(capital int) int { return (capital*10000 + capPerMyriad/2) / capPerMyriad }

// Width of a text in hundredths of a millimetre, rounded up. The Go fonts have
// no kerning and no ligatures, so the sum of the advances is exact everywhere.
func Width(text string, capital int, bold bool) int {
	f := &fonts()[index(bold)]
	units := 0
	for _, r := range Clean(text) {
		units += f.advance(r)
	}
	return (units*FontSize(capital) + f.perEm - 1) / f.perEm
}

// Ascent is how far ink rises above the baseline: brackets and ascenders stand
// a little above the capitals.
func Ascent(capital int) int { return (FontSize(capital)*ascentPerMille + 999) / 1000 }

// Descent is how far ink hangs under the baseline.
func Descent(capital int) int { return (FontSize(capital)*descentPerMille + 999) / 1000 }

// Extremes of the printable ASCII glyphs of both weights, in thousandths of
// the font size; a test holds them against the font files.
const (
	ascentPerMille  = 802
	descentPerMille = 206
)

type face struct {
	font  *sfnt.Font
	perEm int
	ascii [0x7f]int // advances of the runes that most texts are made of
}

// fonts parses the two weights once; what it returns never changes.
var fonts = sync.OnceValue(func() *[2]face {
	var both [2]face
	for i, ttf := range [][]byte{goregular.TTF, gobold.TTF} {
		f, err := sfnt.Parse(ttf)
		if err != nil {
			panic("the Go fonts linked into the program are damaged: " + err.Error())
		}
		both[i] = face{font: f, perEm: int(f.UnitsPerEm())}
		for r := range both[i].ascii {
			both[i].ascii[r] = both[i].measured(rune(r))
		}
	}
	return &both
})

func index(bold bool) int {
	if bold {
		return 1
	}
	return 0
}

// has tells whether the font can print a rune.
func (f *face) has(r rune) bool {
	g, err := f.font.GlyphIndex(nil, r)
	return err == nil && g != 0
}

func (f *face) advance(r rune) int {
	if r >= 0 && int(r) < len(f.ascii) {
		return f.ascii[r]
	}
	return f.measured(r)
}

func (f *face) measured(r rune) int {
	g, err := f.font.GlyphIndex(nil, r)
	if err != nil {
		return 0
	}
	// At one pixel a unit the advance is in units of the font.
	a, err := f.font.GlyphAdvance(nil, g, fixed.I(f.perEm), font.HintingNone)
	if err != nil {
		return 0
	}
	return a.Round()
}

// missing stands for a character that the font cannot print.
const missing = '□'

// Clean makes a text printable on one line: white space becomes a blank,
// controls go, and a rune that the fonts lack becomes an empty box. It is
// idempotent; measuring and every writer go through it, so they agree.
func Clean(text string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case r >= ' ' && r < 0x7f:
			return r
		case r == '\t' || r == '\n' || r == '\r' || r == 0xa0:
			return ' '
		case r < ' ' || r >= 0x7f && r < 0xa0 || r == 0xad || r == 0xfeff || r >= 0x200b && r <= 0x200f || r >= 0x202a && r <= 0x202e || r >= 0x2066 && r <= 0x2069:
			return -1 // controls, soft hyphens, marks of direction: no ink
		case r != utf8.RuneError && fonts()[0].has(r) && fonts()[1].has(r):
			return r
		}
		return missing
	}, text)
}

// Lost lists the runes that Clean cannot keep, each once, in order of appearance.
func Lost(text string) []rune {
	var lost []rune
	for _, r := range text {
		if r != missing && Clean(string(r)) == string(missing) && !strings.ContainsRune(string(lost), r) {
			lost = append(lost, r)
		}
	}
	return lost
}

// Fit shortens a text at its end, with an ellipsis, until it is no wider than
// width. A text that fits comes back whole; where not even the ellipsis fits,
// nothing comes back.
func Fit(text string, width, capital int, bold bool) string {
	text = Clean(text)
	if Width(text, capital, bold) <= width {
		return text
	}
	runes := []rune(text)
	for n := len(runes) - 1; n >= 0; n-- {
		short := strings.TrimRight(string(runes[:n]), " ,;:") + "…"
		if Width(short, capital, bold) <= width {
			return short
		}
	}
	return ""
}

// Wrap breaks a text between words into lines no wider than width. A single
// word that is too wide is broken where it must be, so that no line is ever
// wider than width unless one rune alone is.
func Wrap(text string, width, capital int, bold bool) []string {
	var lines []string
	line := ""
	for _, word := range strings.Fields(Clean(text)) {
		joined := word
		if line != "" {
			joined = line + " " + word
		}
		if Width(joined, capital, bold) <= width {
			line = joined
			continue
		}
		if line != "" {
			lines = append(lines, line)
		}
		pieces := chop(word, width, capital, bold)
		lines = append(lines, pieces[:len(pieces)-1]...)
		line = pieces[len(pieces)-1]
	}
	if line != "" {
		lines = append(lines, line)
	}
	return lines
}

// chop cuts a word into pieces no wider than width.
func chop(word string, width, capital int, bold bool) []string {
	var pieces []string
	piece := ""
	for _, r := range word {
		if piece != "" && Width(piece+string(r), capital, bold) > width {
			pieces = append(pieces, piece)
			piece = ""
		}
		piece += string(r)
	}
	return append(pieces, piece)
}
