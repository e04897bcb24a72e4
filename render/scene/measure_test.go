package scene

import (
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/image/font"
	"golang.org/x/image/math/fixed"
	"pgregory.net/rapid"
)

// Advances in units of the font (2048 an em), read off the font's own table.
func TestWidth(t *testing.T) {
	for _, c := range []struct {
		text   string
		cap    int
		bold   bool
		expect int
	}{
		{"", CapText, false, 0},
		{"0", CapText, false, (1139*484 + 2047) / 2048},
		{"0000000000", CapText, false, (11390*484 + 2047) / 2048},
		{"0", CapNote, true, (1139*346 + 2047) / 2048},
		{"0", CapSwitch, false, (1139*692 + 2047) / 2048},
	} {
		assert.Equal(t, c.expect, Width(c.text, c.cap, c.bold), "%q", c.text)
	}
	assert.Greater(t, Width("Bilge pump", CapText, true), Width("Bilge pump", CapText, false), "bold is wider")
	assert.Equal(t, Width("1", CapText, false), Width("8", CapText, false), "figures are tabular")
}

// The capitals of a text have the height asked for, to a hundredth.
func TestCapHeight(t *testing.T) {
	for i, f := range fonts() {
		for _, capital := range []int{CapNote, CapText, CapSwitch} {
			g, err := f.font.GlyphIndex(nil, 'H')
			require.NoError(t, err)
			b, _, err := f.font.GlyphBounds(nil, g, fixed.I(f.perEm), font.HintingNone)
			require.NoError(t, err)
			height := -b.Min.Y.Round() * FontSize(capital) / f.perEm
			assert.InDelta(t, capital, height, 1, "weight %d", i)
		}
	}
}

// No printable ASCII glyph leaves the band that Ascent and Descent promise.
func TestAscentAndDescent(t *testing.T) {
	for i, f := range fonts() {
		for r := '!'; r <= '~'; r++ {
			g, err := f.font.GlyphIndex(nil, r)
			require.NoError(t, err)
			b, _, err := f.font.GlyphBounds(nil, g, fixed.I(f.perEm), font.HintingNone)
			require.NoError(t, err)
			assert.LessOrEqual(t, -b.Min.Y.Floor()*1000, ascentPerMille*f.perEm, "%q rises too high in weight %d", r, i)
			assert.LessOrEqual(t, b.Max.Y.Ceil()*1000, descentPerMille*f.perEm, "%q hangs too low in weight %d", r, i)
		}
	}
}

func TestClean(t *testing.T) {
	for text, expect := range map[string]string{
		"Bilge pump":       "Bilge pump",
		"two\nlines\tand":  "two lines and",
		"4 mm² at 0.5 Ω":   "4 mm² at 0.5 Ω",
		"48→12 V ≤ 40 A °": "48→12 V ≤ 40 A °",
		"bell\a":           "bell",
		"船 pump":           "□ pump",
		"⚡":                "□",
		"😀":                "□",
		"bad \xff byte":    "bad □ byte",
		"a\u200bb\u202ec":  "abc",
	} {
		assert.Equal(t, expect, Clean(text))
	}
	assert.Equal(t, []rune{'船', '⚡'}, Lost("船⚡船 pump"))
	assert.Empty(t, Lost("Ärger, Ωmega, Żółw"))
}

func TestCleanIsIdempotent(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.String().Draw(t, "text")
		once := Clean(text)
		assert.True(t, utf8.ValidString(once))
		assert.Equal(t, once, Clean(once))
		assert.Equal(t, Width(text, CapText, false), Width(once, CapText, false))
	})
}

func TestFit(t *testing.T) {
	assert.Equal(t, "Port pod", Fit("Port pod", 5000, CapText, false))
	short := Fit("Forward bilge pump, port", 3000, CapText, false)
	assert.Equal(t, "Forward bil…", short)
	assert.Empty(t, Fit("Forward", 10, CapText, false))
}

func TestWrap(t *testing.T) {
	assert.Equal(t, []string{"Switch off,", "lock, prove", "dead with a", "meter."}, Wrap("Switch off, lock, prove dead with a meter.", 2600, CapText, false))
	assert.Empty(t, Wrap("  ", 2600, CapText, false))
}

func TestWrapAndFitKeepTheWidth(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := strings.Join(rapid.SliceOf(rapid.StringMatching(`[A-Za-z0-9²,]{1,14}`)).Draw(t, "words"), " ")
		width := rapid.IntRange(600, 6000).Draw(t, "width")
		bold := rapid.Bool().Draw(t, "bold")
		lines := Wrap(text, width, CapText, bold)
		for _, line := range lines {
			assert.LessOrEqual(t, Width(line, CapText, bold), width)
		}
		assert.Equal(t, strings.ReplaceAll(text, " ", ""), strings.ReplaceAll(strings.Join(lines, ""), " ", ""), "no letter is lost")
		assert.LessOrEqual(t, Width(Fit(text, width, CapText, bold), CapText, bold), width)
	})
}

func BenchmarkWidth(b *testing.B) {
	for b.Loop() {
		Width("4 × 215 W 50 mm² 0.8 %", CapNote, false)
	}
}
