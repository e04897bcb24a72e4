package quantity_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strake/lang/quantity"
	"strake/lang/source"
	"strake/lang/syntax"
)

func TestUnitsCount(t *testing.T) {
	for _, c := range []struct {
		number, unit, base string
		want               float64
	}{
		{"30", "mA", "A", 0.03}, {"1", "kA", "A", 1000}, {"14", "mohm", "ohm", 0.014}, {"14", "mΩ", "ohm", 0.014},
		{"35", "mA", "A", 0.035}, {"50", "mm2", "mm2", 50}, {"50", "mm²", "mm2", 50}, {"3.6", "kVA", "VA", 3600},
		{"3", "min", "s", 180}, {"6", "h/day", "h/day", 21600}, {"-0.27", "%/K", "%/K", -0.27}, {"-100", "mV/K", "V/K", -0.1},
		{"105", "degC", "degC", 105}, {"105", "°C", "degC", 105}, {"35", "cm", "m", 0.35}, {"010", "V", "V", 10},
	} {
		u, ok := quantity.FindUnit(c.unit)
		require.True(t, ok, c.unit)
		v, ok := u.Value(c.number)
		require.True(t, ok)
		assert.Equal(t, c.want, v, "%s %s", c.number, c.unit)
		assert.Equal(t, c.base, u.Base)
	}
}

func TestPrefixesCount(t *testing.T) {
	for _, text := range []string{"MA", "ma", "v", "Mm", "KW", "amp", "AWG", ""} {
		_, ok := quantity.FindUnit(text)
		assert.False(t, ok, "%q is no unit", text)
	}
}

func TestNumbersThatAreNone(t *testing.T) {
	u, _ := quantity.FindUnit("V")
	for _, text := range []string{"", "-", "1e3", "0x10", "inf", "NaN", "1_000", "1,5", string(make([]byte, 400))} {
		_, ok := u.Value(text)
		assert.False(t, ok, "%q", text)
	}
}

func TestEverySpellingIsOneUnit(t *testing.T) {
	seen := map[string]string{}
	for _, u := range quantity.Units() {
		for _, s := range append([]string{u.Symbol}, u.Aliases...) {
			assert.Empty(t, seen[s], "%s is written twice", s)
			seen[s] = u.Symbol
		}
		base, ok := quantity.FindUnit(u.Base)
		require.True(t, ok, "base of %s", u.Symbol)
		assert.Equal(t, u.Base, base.Base)
		assert.Equal(t, u.Name, base.Name, u.Symbol)
	}
}

// The lexer keeps the spellings that it reads as units, this package what they
// mean: neither may know one that the other does not.
func TestLexerReadsTheSameUnits(t *testing.T) {
	for _, u := range quantity.Units() {
		for _, s := range append([]string{u.Symbol}, u.Aliases...) {
			file, findings := syntax.Parse(source.NewFile("t", "part x is fuse: 1 "+s+"\n"))
			require.Empty(t, findings, s)
			terms := file.Statements[0].(*syntax.Part).List[0].Terms
			require.Len(t, terms, 1, "%s is not read as a unit", s)
			assert.Equal(t, s, terms[0].Qty.Unit.Text)
		}
	}
	for _, s := range syntax.Units() {
		_, ok := quantity.FindUnit(s)
		assert.True(t, ok, "the lexer reads %s as a unit", s)
	}
}
