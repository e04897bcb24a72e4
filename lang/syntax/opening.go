package syntax

// Statements and rows whose opening word is misspelt or missing.

import (
	"slices"
	"strings"

	"github.com/alecthomas/participle/v2"
	"github.com/alecthomas/participle/v2/lexer"

	"strake/lang/diag"
)

// misspeltOpening reads a statement that opens with no known word as what it
// was meant to be, if that is clear, and says so.
func (p *parser) misspeltOpening(s *cutting) (Statement, bool) {
	tokens := p.tokens[s.from:s.to]
	first := s.from
	if _, failed := parse(itemGrammar, tokens); failed == nil && p.tokens[first].Value == strings.ToLower(p.tokens[first].Value) &&
		nearestReserved(p.tokens[first].Value, typeOpening) == "" {
		return nil, false
	}
	next := s.from + 1
	for next < s.to && isTrivia(p.tokens[next]) {
		next++
	}
	switch t := p.tokens[first]; {
	case t.Type == typeStatus && next < s.to:
		first = next
	case t.Type == typeWord && next < s.to && p.tokens[next].Type == typeOpening:
		// `prepard run …`
		if meant := nearestReserved(t.Value, typeStatus); meant != "" {
			p.replace(s, s.from, typeStatus, meant, "statement")
			return p.restated(s)
		}
	}
	t := p.tokens[first]
	if t.Type != typeWord {
		return nil, false
	}
	if meant := nearestReserved(t.Value, typeOpening); meant != "" && p.fits(s, first, meant) {
		p.replace(s, first, typeOpening, meant, "statement")
		return p.restated(s)
	}
	return p.withoutVerb(s, tokens)
}

// restated reads a statement anew after its opening word was replaced.
func (p *parser) restated(s *cutting) (Statement, bool) {
	before := len(p.tree.Statements)
	p.statement(s)
	if len(p.tree.Statements) == before {
		return nil, true
	}
	node := p.tree.Statements[before]
	p.tree.Statements = p.tree.Statements[:before]
	return node, true
}

// fits tells whether the statement can be read with this opening word.
func (p *parser) fits(s *cutting, i int, opening string) bool {
	tokens := slices.Clone(p.tokens[s.from:s.to])
	tokens[i-s.from] = word(tokens[i-s.from], typeOpening, opening)
	switch opening {
	case "craft":
		return reads(craftGrammar, tokens)
	case "use":
		return reads(useGrammar, tokens)
	case "domain":
		return reads(domainGrammar, tokens)
	case "place":
		return reads(placeGrammar, tokens)
	case "part":
		return reads(partGrammar, tokens)
	case "run", "bond", "signal":
		return reads(runGrammar, tokens)
	case "interlock":
		return reads(interlockGrammar, tokens)
	case "order":
		return reads(orderGrammar, tokens)
	case "condition", "day":
		return reads(namedListGrammar, tokens)
	case "measured":
		return reads(measuredGrammar, tokens)
	case "accept":
		return reads(acceptGrammar, tokens)
	}
	return false
}

func reads[T any](g *participle.Parser[T], tokens []lexer.Token) bool {
	_, failed := parse(g, tokens)
	return failed == nil
}

// replace puts the word that was meant in the place of a token and says so.
func (p *parser) replace(s *cutting, i int, class lexer.TokenType, meant, what string) {
	t := p.tokens[i]
	if !s.faulty {
		p.findings = append(p.findings, InfoMisspelt.At(diag.Finding{
			Span:    tokenSpan(p.file, t),
			Message: "no " + what + " opens with `" + t.Value + "`" + capitalNote(t.Value, meant),
			Cure:    "did you mean `" + meant + "`?",
			Edits:   []diag.Edit{{Span: tokenSpan(p.file, t), New: meant}},
		}))
	}
	p.tokens[i] = word(t, class, meant)
}

// withoutVerb reads a statement that has cables but no verb as a run.
func (p *parser) withoutVerb(s *cutting, tokens []lexer.Token) (Statement, bool) {
	head, cables := divide(tokens)
	if len(cables) == 0 || slices.ContainsFunc(head, func(t lexer.Token) bool { return t.Value == "is" }) {
		return nil, false
	}
	at := 0
	if tokens[0].Type == typeStatus && len(tokens) > 2 {
		at = 2 // behind the blank
	}
	verb := word(tokens[at], typeOpening, "run")
	if !s.faulty && !reported(tokens) {
		p.findings = append(p.findings, InfoRunWord.At(diag.Finding{
			Span:    tokenSpan(p.file, tokens[at]),
			Message: "cables stand in this statement, but it does not open with run, bond or signal",
			Cure:    "write `run` before `" + tokens[at].Value + "`, or `bond`, or `signal`",
			Edits:   []diag.Edit{{Span: tokenSpan(p.file, tokens[at]), New: "run " + tokens[at].Value}},
		}))
	}
	s.faulty = true
	return p.runStatement(s, slices.Concat(tokens[:at], []lexer.Token{verb}, tokens[at:])), true
}

// misspeltRow mends the first words of a board's row, if it is clear what they
// were meant to be.
func (p *parser) misspeltRow(s *cutting) bool {
	first := s.from
	next := s.from + 1
	for next < s.to && isTrivia(p.tokens[next]) {
		next++
	}
	t := p.tokens[first]
	if t.Type == typeWord && next < s.to && p.tokens[next].Type == typeOpening {
		if meant := nearestReserved(t.Value, typeStatus); meant != "" {
			p.replace(s, first, typeStatus, meant, "row of a board")
			return openingWord(p.tokens[s.from:s.to]) == "way" || openingWord(p.tokens[s.from:s.to]) == "ways"
		}
	}
	if t.Type == typeStatus && next < s.to {
		t, first = p.tokens[next], next
	}
	if t.Type != typeWord {
		return false
	}
	meant := nearestReserved(t.Value, typeOpening)
	if meant != "way" && meant != "ways" {
		return false
	}
	p.replace(s, first, typeOpening, meant, "row of a board")
	return true
}

func capitalNote(text, meant string) string {
	if strings.ToLower(text) == meant {
		return "; these words are written small"
	}
	return ""
}
