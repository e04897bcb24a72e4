package syntax

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/alecthomas/participle/v2/lexer"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// patterns are what the lexer is written after: the first that fits is the token.
var patterns = lexer.MustSimple([]lexer.SimpleRule{
	{Name: "Newline", Pattern: `\n`},
	{Name: "Blank", Pattern: `[ \t\r\f\v\x{A0}\x{FEFF}\x{2000}-\x{200B}\x{202F}\x{205F}\x{3000}]+`},
	{Name: "Comment", Pattern: `#[^\n]*`},
	{Name: "String", Pattern: `"[^"\n]*"`},
	{Name: "OpenString", Pattern: `"[^\n]*`},
	{Name: "Date", Pattern: `[0-9]{4}-[0-9]{2}-[0-9]{2}`},
	{Name: "DecimalComma", Pattern: `[-+−]?([0-9]+[GXgx])?[0-9]+,[0-9]+`},
	{Name: "Cores", Pattern: `[0-9]+[GX][0-9]+(\.[0-9]+)?`},
	{Name: "Times", Pattern: `[0-9]+([gx×*]|[ \t]+[x×*][ \t]+)[0-9]+(\.[0-9]+)?`},
	{Name: "Number", Pattern: `[-+−]?[0-9]+(\.[0-9]+)?`},
	{Name: "Range", Pattern: `\.\.`},
	{Name: "Dot", Pattern: `\.`},
	{Name: "Per", Pattern: `%/K|%|°[CF]|\pL+/\pL+`},
	{Name: "Word", Pattern: `\pL[\pL\pM\pN_]*(?:-[\pL\pM\pN_]+)*`},
	{Name: "Colon", Pattern: `:`},
	{Name: "Comma", Pattern: `,`},
	{Name: "LBracket", Pattern: `\[`},
	{Name: "RBracket", Pattern: `\]`},
	{Name: "LBrace", Pattern: `\{`},
	{Name: "RBrace", Pattern: `\}`},
	{Name: "Stray", Pattern: `(?s:.)`},
})

// byPatterns cuts a text by the patterns.
func byPatterns(t require.TestingT, text string) []lexer.Token {
	names := map[lexer.TokenType]string{}
	for name, class := range patterns.Symbols() {
		names[class] = name
	}
	l, err := patterns.LexString("craft", text)
	require.NoError(t, err)
	tokens, err := lexer.ConsumeAll(l)
	require.NoError(t, err)
	tokens = tokens[:len(tokens)-1] // without the end of file
	for i := range tokens {
		tokens[i].Type = symbols[names[tokens[i].Type]]
	}
	sortWords(tokens)
	return tokens
}

func TestLexerFollowsPatterns(t *testing.T) {
	t.Run("examples", func(t *testing.T) {
		files, err := filepath.Glob("../../examples/*.strake")
		require.NoError(t, err)
		require.NotEmpty(t, files)
		for _, name := range files {
			text, err := os.ReadFile(name)
			require.NoError(t, err)
			assert.Equal(t, byPatterns(t, string(text)), lex("craft", string(text)), name)
		}
	})
	// Texts of the pieces in which tokens differ find each other sooner than characters do.
	piece := rapid.SampledFrom([]string{
		"1", "25", "2026", "-11", "-20", ",", ".", "..", "-", "+", "−", "G", "X", "g", "x", "×", "*", " ", "\t", "\n", "\r",
		"mm2", "Ω", "é", "e\u0301", "½", "_", "a", "/", "%", "/K", "°", "°C", "\"", "#", "[", "]", "{", "}", ":", ";", "\xff", "\u00A0", "\u2009", "\u200B", "\u202F", "\u3000", "\uFEFF", "\uFFFD",
	})
	t.Run("pieces", rapid.MakeCheck(func(t *rapid.T) {
		text := ""
		for _, p := range rapid.SliceOfN(piece, 0, 12).Draw(t, "pieces") {
			text += p
		}
		require.Equal(t, byPatterns(t, text), lex("craft", text), "%q", text)
	}))
}
