package syntax

// The tokens. The lexer is total: a stray character is a token as well, so that
// joining the tokens always gives back the text and such a character costs its
// own statement only. Words are then sorted by their place: a known unit after
// a number is a Unit, the reserved words get types of their own so that no name
// can be one of them.

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/alecthomas/participle/v2/lexer"

	"strake/lang/source"
)

// The types of tokens; participle wants them below its end of file.
const (
	typeNewline lexer.TokenType = lexer.EOF - 1 - iota
	typeBlank
	typeComment
	typeString
	typeOpenString
	typeDate
	typeDecimalComma
	typeCores
	typeTimes
	typeNumber
	typeRange
	typeDot
	typePer
	typeWord
	typeColon
	typeComma
	typeLBracket
	typeRBracket
	typeLBrace
	typeRBrace
	typeStray

	// Types that the second look gives to words.
	typeUnit
	typeOpening // opens a statement
	typeStatus
	typeJoining // reserved words inside a statement
	typeClosing // by, dated, because: they end a list
)

// symbols are the names of the types in the grammar.
var symbols = map[string]lexer.TokenType{
	"EOF":          lexer.EOF,
	"Newline":      typeNewline,
	"Blank":        typeBlank,
	"Comment":      typeComment,
	"String":       typeString,
	"OpenString":   typeOpenString,
	"Date":         typeDate,
	"DecimalComma": typeDecimalComma,
	"Cores":        typeCores,
	"Times":        typeTimes,
	"Number":       typeNumber,
	"Range":        typeRange,
	"Dot":          typeDot,
	"Per":          typePer,
	"Word":         typeWord,
	"Colon":        typeColon,
	"Comma":        typeComma,
	"LBracket":     typeLBracket,
	"RBracket":     typeRBracket,
	"LBrace":       typeLBrace,
	"RBrace":       typeRBrace,
	"Stray":        typeStray,
	"Unit":         typeUnit,
	"Opening":      typeOpening,
	"Status":       typeStatus,
	"Joining":      typeJoining,
	"Closing":      typeClosing,
}

// reserved gives the type of each reserved word. Kinds are reserved too, but
// which words are kinds is not known here.
var reserved = func() map[string]lexer.TokenType {
	words := map[string]lexer.TokenType{}
	for _, class := range []struct {
		t     lexer.TokenType
		words string
	}{
		{typeOpening, "craft use domain place part run bond signal interlock order sheet condition day measured accept way ways"},
		{typeStatus, "fitted third-party prepared owner removed"},
		{typeJoining, "in at is to with on capped untraced link unknown about opens closes starts stops controls shows"},
		{typeClosing, "by dated because"},
	} {
		for _, w := range strings.Fields(class.words) {
			words[w] = class.t
		}
	}
	return words
}()

// units are the spellings that are read as a unit when they follow a number.
// The package quantity says what each means; a test there holds the two
// lists against each other.
var units = strings.Fields(`V mV kV A mA kA W mW kW MW VA kVA MVA Ah mAh kAh A2s A²s kA2s kA²s Wh kWh
	ohm mohm kohm Mohm Ω mΩ kΩ MΩ Ω mΩ kΩ MΩ Hz kHz m cm mm km mm2 mm² s min h ms day days
	degC °C K % %/K mV/K V/K h/day`)

// Units is every spelling that the lexer reads as a unit.
func Units() []string { return slices.Clone(units) }

// sortWords looks at each word's neighbours on its row.
func sortWords(tokens []lexer.Token) {
	var before, beforeThat lexer.TokenType // the significant tokens before, on this row
	beforeText := ""
	for i := range tokens {
		t := &tokens[i]
		switch t.Type {
		case typeNewline:
			before, beforeThat, beforeText = 0, 0, ""
			continue
		case typeBlank, typeComment:
			continue
		case typeWord, typePer:
			number := before == typeNumber && beforeThat != typeDot && beforeThat != typeRange ||
				before == typeDecimalComma || before == typeTimes
			if (number || beforeText == "unknown") && slices.Contains(units, t.Value) {
				t.Type = typeUnit
			} else if class, ok := reserved[t.Value]; ok && before != typeDot {
				t.Type = class
			}
		}
		before, beforeThat, beforeText = t.Type, before, t.Value
	}
}

func isTrivia(t lexer.Token) bool {
	return t.Type == typeBlank || t.Type == typeNewline || t.Type == typeComment
}

func isWordy(t lexer.Token) bool {
	switch t.Type {
	case typeWord, typeOpening, typeStatus, typeJoining, typeClosing:
		return true
	}
	return false
}

// tokenEnd is where a token of the text ends. A token that was put in has no
// line, and in the place of its column how much of the text it stands for.
func tokenEnd(t lexer.Token) int {
	if t.Pos.Line == 0 {
		return t.Pos.Offset + t.Pos.Column
	}
	return t.Pos.Offset + len(t.Value)
}

// instead is a token that stands for another one of the text.
func instead(t lexer.Token, class lexer.TokenType, text string) lexer.Token {
	return covering(t.Pos.Offset, tokenEnd(t), class, text)
}

// before is a token that is missing in the text before another one.
func before(t lexer.Token, class lexer.TokenType, text string) lexer.Token {
	return covering(t.Pos.Offset, t.Pos.Offset, class, text)
}

// covering is a token that stands for a stretch of the text.
func covering(start, end int, class lexer.TokenType, text string) lexer.Token {
	return lexer.Token{Type: class, Value: text, Pos: lexer.Position{Offset: start, Column: end - start}}
}

func tokenSpan(f *source.File, t lexer.Token) source.Span {
	return source.Span{File: f, Start: t.Pos.Offset, End: tokenEnd(t)}
}

// definition hands the grammar the names of all token types.
type definition struct{ symbols map[string]lexer.TokenType }

func (d definition) Symbols() map[string]lexer.TokenType { return d.symbols }

func (definition) Lex(string, io.Reader) (lexer.Lexer, error) {
	return nil, fmt.Errorf("statements are parsed from tokens, never from a reader")
}

// tokenRow feeds the tokens of one statement to the grammar.
type tokenRow struct {
	tokens []lexer.Token
	next   int
	end    lexer.Position
}

func (r *tokenRow) Next() (lexer.Token, error) {
	if r.next == len(r.tokens) {
		return lexer.EOFToken(r.end), nil
	}
	r.next++
	return r.tokens[r.next-1], nil
}
