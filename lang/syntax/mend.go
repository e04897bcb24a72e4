package syntax

// Marks that were reported already get the reading that is most likely meant,
// so that what they stand in is read all the same.

import (
	"slices"
	"strings"

	"github.com/alecthomas/participle/v2"
	"github.com/alecthomas/participle/v2/lexer"
)

func mend(tokens []lexer.Token) []lexer.Token {
	out := slices.Clone(tokens)
	for i := range out {
		t := &out[i]
		switch {
		case t.Type == typeDecimalComma:
			t.Type, t.Value = typeNumber, strings.Replace(t.Value, ",", ".", 1)
			if strings.ContainsAny(t.Value, "GXgx") {
				t.Type, t.Value = typeCores, strings.ToUpper(strings.TrimLeft(t.Value, "-+−"))
			}
		case t.Type == typeTimes:
			count, area := timesParts(t.Value)
			if next := significantFrom(out, i+1); next < len(out) && out[next].Type == typeUnit {
				t.Type, t.Value = typeNumber, area
			} else {
				t.Type, t.Value = typeCores, count+"X"+area
			}
		case t.Type == typeNumber && i > 0 && signFollows(out[i-1], *t):
			// Of `10-20` the second number, of `F5-3` the name.
			if out[i-1].Type == typeNumber {
				out[i-1].Type, t.Value = typeStray, strings.TrimLeft(t.Value, "-+−")
			} else {
				t.Type = typeStray
			}
		}
	}
	return out
}

func significantFrom(tokens []lexer.Token, i int) int {
	for i < len(tokens) && isTrivia(tokens[i]) {
		i++
	}
	return i
}

// within is how many tokens are searched for the place of a missing bracket:
// more is no cable.
const within = 60

// closed puts the closing bracket that was forgotten where cable and landing
// both can be read. It gives the tokens and the place behind the bracket; the
// end when there is no such place.
func closed(tokens []lexer.Token) ([]lexer.Token, int) {
	for i := 1; i < min(len(tokens), within); i++ {
		if isTrivia(tokens[i]) {
			continue
		}
		all := slices.Insert(slices.Clone(tokens), i, before(tokens[i], typeRBracket, "]"))
		if reads(bracketGrammar, all[:i+1]) && reads(endGrammar, all[i+1:]) {
			return all, i + 1
		}
	}
	return tokens, len(tokens)
}

// opened puts the opening brackets that were forgotten where what stands before
// them, and the cable, both can be read; at the first such place.
func opened[T any](tokens []lexer.Token, head *participle.Parser[T]) []lexer.Token {
	open, from := false, 0
	for close := 0; close < len(tokens); close++ {
		switch {
		case tokens[close].Type == typeLBracket:
			open = true
			continue
		case tokens[close].Type != typeRBracket:
			continue
		case open:
			open, from = false, close+1
			continue
		}
		for i := max(from+1, close-within); i < close; i++ {
			bracket := before(tokens[i], typeLBracket, "[")
			cable := append([]lexer.Token{bracket}, tokens[i:close+1]...)
			rest := tokens[from:i]
			if !opensCable(tokens[i]) || !reads(bracketGrammar, cable) ||
				from == 0 && !reads(head, rest) || from > 0 && !reads(endGrammar, rest) {
				continue
			}
			tokens = slices.Insert(slices.Clone(tokens), i, bracket)
			close++
			break
		}
		from = close + 1
	}
	return tokens
}

// opensCable tells the tokens with which a cable's words are likely to begin.
func opensCable(t lexer.Token) bool {
	return t.Type == typeNumber || t.Type == typeCores || t.Type == typeJoining && t.Value != "at"
}
