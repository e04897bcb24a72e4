package syntax

// The lexer. What a token is is written beside it as a pattern; the test holds
// the two against each other. It is written by hand because it is the first
// thing that each run does to each character: patterns took longer to build and
// to run than everything else that reads.

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/alecthomas/participle/v2/lexer"
)

// lex cuts a text into tokens, trivia kept, and sorts the words.
func lex(name, text string) []lexer.Token {
	tokens := make([]lexer.Token, 0, len(text)/4+1)
	pos := lexer.Position{Filename: name, Line: 1, Column: 1}
	for pos.Offset < len(text) {
		class, length := first(text[pos.Offset:])
		t := lexer.Token{Type: class, Value: text[pos.Offset : pos.Offset+length], Pos: pos}
		tokens = append(tokens, t)
		pos.Offset += length
		if class == typeNewline {
			pos.Line, pos.Column = pos.Line+1, 1
		} else {
			pos.Column += utf8.RuneCountInString(t.Value)
		}
	}
	sortWords(tokens)
	return tokens
}

// first is the token with which a text begins, and its length.
func first(s string) (lexer.TokenType, int) {
	switch c := s[0]; {
	case c == '\n':
		return typeNewline, 1
	case blank(s) > 0:
		n := blank(s)
		for more := blank(s[n:]); more > 0; more = blank(s[n:]) {
			n += more
		}
		return typeBlank, n
	case c == '#': // #[^\n]*
		return typeComment, row(s)
	case c == '"': // "[^"\n]*", or without the second quote
		end := row(s)
		if close := strings.IndexByte(s[1:end], '"'); close >= 0 {
			return typeString, close + 2
		}
		return typeOpenString, end
	case c == '.' && strings.HasPrefix(s, ".."):
		return typeRange, 2
	case c == '%' && strings.HasPrefix(s, "%/K"):
		return typePer, len("%/K")
	case c == '%':
		return typePer, 1
	case strings.HasPrefix(s, "°C"), strings.HasPrefix(s, "°F"):
		return typePer, len("°C")
	}
	if class, n := numeric(s); n > 0 {
		return class, n
	}
	if class, n := wordy(s); n > 0 {
		return class, n
	}
	if class, ok := marks[s[0]]; ok {
		return class, 1
	}
	_, n := utf8.DecodeRuneInString(s)
	return typeStray, n
}

var marks = map[byte]lexer.TokenType{
	'.': typeDot, ':': typeColon, ',': typeComma,
	'[': typeLBracket, ']': typeRBracket, '{': typeLBrace, '}': typeRBrace,
}

// row is the length of what stands before the end of the line.
func row(s string) int {
	if n := strings.IndexByte(s, '\n'); n >= 0 {
		return n
	}
	return len(s)
}

// blank is the length of one of [ \t\r\f\v\x{A0}\x{FEFF}], or of the blanks
// of other widths that word processors put before units: \x{2000}-\x{200B},
// \x{202F}, \x{205F}, \x{3000}.
func blank(s string) int {
	switch {
	case s == "":
		return 0
	case s[0] == ' ', s[0] == '\t', s[0] == '\r', s[0] == '\f', s[0] == '\v':
		return 1
	case strings.HasPrefix(s, "\u00A0"):
		return len("\u00A0")
	case strings.HasPrefix(s, "\uFEFF"):
		return len("\uFEFF")
	case s[0] == 0xE2, s[0] == 0xE3:
		if r, n := utf8.DecodeRuneInString(s); r >= 0x2000 && r <= 0x200B || r == 0x202F || r == 0x205F || r == 0x3000 {
			return n
		}
	}
	return 0
}

// numeric reads a date, a number or what is made of two numbers.
func numeric(s string) (lexer.TokenType, int) {
	sign := 0
	switch {
	case s[0] == '-', s[0] == '+':
		sign = 1
	case strings.HasPrefix(s, "−"):
		sign = len("−")
	}
	whole := digits(s[sign:])
	if whole == 0 {
		return 0, 0
	}
	end := sign + whole
	rest := s[end:]
	if sign == 0 && whole == 4 && isDate(rest) { // [0-9]{4}-[0-9]{2}-[0-9]{2}
		return typeDate, len("2026-11-20")
	}
	// [-+−]?([0-9]+[GXgx])?[0-9]+,[0-9]+
	if n := after(rest, ","); n > 0 {
		return typeDecimalComma, end + n
	}
	if n := after(rest, "GXgx"); n > 0 {
		if m := after(rest[n:], ","); m > 0 {
			return typeDecimalComma, end + n + m
		}
	}
	if sign == 0 {
		// [0-9]+[GX][0-9]+(\.[0-9]+)?
		if n := after(rest, "GX"); n > 0 {
			return typeCores, end + n + after(rest[n:], ".")
		}
		// [0-9]+([gx×*]|[ \t]+[x×*][ \t]+)[0-9]+(\.[0-9]+)?
		if n := times(rest); n > 0 {
			return typeTimes, end + n + after(rest[n:], ".")
		}
	}
	return typeNumber, end + after(rest, ".") // [-+−]?[0-9]+(\.[0-9]+)?
}

func digits(s string) int {
	n := 0
	for n < len(s) && s[n] >= '0' && s[n] <= '9' {
		n++
	}
	return n
}

func isDate(s string) bool {
	return len(s) >= 6 && s[0] == '-' && digits(s[1:3]) == 2 && s[3] == '-' && digits(s[4:6]) == 2
}

// after is the length of one of these marks and the digits behind it; 0 without digits.
func after(s, marks string) int {
	if s == "" || strings.IndexByte(marks, s[0]) < 0 {
		return 0
	}
	if n := digits(s[1:]); n > 0 {
		return n + 1
	}
	return 0
}

// times is the length of a sign of multiplication, with blanks on both sides or
// on none, and the digits behind it.
func times(s string) int {
	before := indent(s)
	n, sign := before, s[before:]
	switch {
	case strings.HasPrefix(sign, "x"), strings.HasPrefix(sign, "*"), before == 0 && strings.HasPrefix(sign, "g"):
		n++
	case strings.HasPrefix(sign, "×"):
		n += len("×")
	default:
		return 0
	}
	behind := indent(s[n:])
	if (before > 0) != (behind > 0) {
		return 0
	}
	n += behind
	if d := digits(s[n:]); d > 0 {
		return n + d
	}
	return 0
}

func indent(s string) int { return len(s) - len(strings.TrimLeft(s, " \t")) }

// wordy reads a word, \pL[\pL\pM\pN_]*(-[\pL\pM\pN_]+)*, or a unit with a
// stroke, \pL+/\pL+.
func wordy(s string) (lexer.TokenType, int) {
	letters := run(s, unicode.IsLetter)
	if letters == 0 {
		return 0, 0
	}
	if letters < len(s) && s[letters] == '/' {
		if n := run(s[letters+1:], unicode.IsLetter); n > 0 {
			return typePer, letters + 1 + n
		}
	}
	n := letters + run(s[letters:], inWord)
	for n < len(s) && s[n] == '-' {
		more := run(s[n+1:], inWord)
		if more == 0 {
			break
		}
		n += 1 + more
	}
	return typeWord, n
}

func inWord(r rune) bool {
	return r == '_' || unicode.IsLetter(r) || unicode.IsMark(r) || unicode.IsNumber(r)
}

// run is the length of the characters of a kind with which a text begins.
func run(s string, of func(rune) bool) int {
	for i, r := range s {
		if !of(r) {
			return i
		}
	}
	return len(s)
}
