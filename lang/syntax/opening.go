package syntax

// Statements and rows whose opening word is misspelt or missing.

import (
	"slices"
	"strings"

	"github.com/alecthomas/participle/v2"
	"github.com/alecthomas/participle/v2/lexer"

	"strake/lang/diag"
	"strake/lang/source"
)

// misspeltOpening reads a statement that opens with no known word as what it
// was meant to be, if that is clear, and says so.
func (p *parser) misspeltOpening(s *cutting) (Statement, bool) {
	tokens := p.tokens[s.from:s.to]
	first := s.from
	if node, done := p.openedByList(s, tokens); done {
		return node, true
	}
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
	if t.Type == typeString && s.braces {
		with := p.insertWord(s, tokens, "craft", "the word that opens this statement is missing")
		return p.craftStatement(s, with), true
	}
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
	tokens[i-s.from] = instead(tokens[i-s.from], typeOpening, opening)
	return readsAs(opening, tokens)
}

// readsAs tells whether tokens can be read as a statement that they open.
func readsAs(opening string, tokens []lexer.Token) bool {
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
	case "sheet":
		return reads(sheetGrammar, tokens)
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
	p.tokens[i] = instead(t, class, meant)
}

// withoutVerb reads a statement that has cables but no verb as a run.
func (p *parser) withoutVerb(s *cutting, tokens []lexer.Token) (Statement, bool) {
	head, cables := divide(tokens)
	if len(cables) == 0 || slices.ContainsFunc(head, func(t lexer.Token) bool { return t.Value == "is" }) {
		return nil, false
	}
	with := p.insertWord(s, tokens, "run", "cables stand in this statement, but it does not open with run, bond or signal")
	return p.runStatement(s, with), true
}

// openedByList reads a statement that lacks its opening word, where it holds what
// only one statement does: conditions of things, a day's sun, a domain's volts, a
// place's heat, a reading with its date, what never runs with another, or nothing
// but references.
func (p *parser) openedByList(s *cutting, tokens []lexer.Token) (Statement, bool) {
	opening := openingBy(tokens)
	if opening == "" || s.braces || !readsAs(opening, slices.Insert(slices.Clone(tokens), 0, before(tokens[0], typeOpening, opening))) {
		return nil, false
	}
	with := p.insertWord(s, tokens, opening, "the word that opens this statement is missing")
	switch opening {
	case "condition":
		return p.condition(take(p, s, with, namedListGrammar)), true
	case "day":
		return p.day(take(p, s, with, namedListGrammar)), true
	case "domain":
		return p.domain(take(p, s, with, domainGrammar)), true
	case "place":
		return p.place(take(p, s, with, placeGrammar)), true
	case "interlock":
		return p.interlock(take(p, s, with, interlockGrammar)), true
	case "measured":
		return p.measured(take(p, s, with, measuredGrammar)), true
	}
	return p.order(take(p, s, with, orderGrammar)), true
}

var (
	dayWords   = strings.Fields("sun yield times")
	placeWords = strings.Fields("degC to engine outside ventilated wet")
)

// openingBy is the word that a row without one needs, by its name and its list.
func openingBy(tokens []lexer.Token) string {
	var row, list []lexer.Token
	colon := 0
	for _, t := range tokens {
		switch {
		case isTrivia(t):
		case colon > 0:
			list = append(list, t)
		case t.Type == typeColon:
			colon = len(row)
		case len(row) == 1 && (t.Value == "never" || t.Value == "only"):
			return "interlock"
		case len(row) == 2: // a head: most rows end here
			return ""
		default:
			row = append(row, t)
		}
	}
	if colon == 0 || len(list) == 0 {
		return ""
	}
	holds := func(words []string) bool {
		return slices.ContainsFunc(list, func(t lexer.Token) bool { return slices.Contains(words, t.Value) })
	}
	only := func(fits func(lexer.Token) bool) bool {
		return !slices.ContainsFunc(list, func(t lexer.Token) bool { return t.Type != typeComma && !fits(t) })
	}
	switch named := row[0].Type == typeWord && (colon == 1 || colon == 2 && row[1].Type == typeString); {
	case row[0].Type == typeString && colon == 1 && (holds(dayWords) || slices.ContainsFunc(list, func(t lexer.Token) bool { return t.Type == typeString })):
		return "day"
	case row[0].Type == typeString && colon == 1:
		return "condition"
	case !named:
	case list[0].Value == "dc", list[0].Value == "ac":
		return "domain"
	case holds(strings.Fields("dated")) && colon == 1:
		return "measured"
	case holds(placeWords) && only(func(t lexer.Token) bool { return t.Type == typeNumber || slices.Contains(placeWords, t.Value) }):
		return "place"
	case colon == 1 && len(list) > 2 && upper(row[0].Value) && only(func(t lexer.Token) bool { return t.Type == typeWord && upper(t.Value) }):
		return "order"
	}
	return ""
}

// rowWithoutWord reads a row of a board that opens with its number.
func (p *parser) rowWithoutWord(s *cutting, tokens []lexer.Token) (*Row, bool) {
	isStatus := tokens[0].Type == typeStatus
	first := significantFrom(tokens, 0)
	if isStatus {
		first = significantFrom(tokens, 1)
	}
	if first >= len(tokens) || tokens[first].Type != typeNumber {
		return nil, false
	}
	const what = "a row of a board opens with `way` or `ways`"
	if slices.ContainsFunc(tokens, func(t lexer.Token) bool { return t.Type == typeJoining && t.Value == "is" }) {
		return p.waysRow(s, p.insertWord(s, tokens, "ways", what)), true
	}
	return p.wayRow(s, p.insertWord(s, tokens, "way", what)), true
}

// insertWord puts the opening word that is missing before the first word of a
// statement, behind a status, and says so.
func (p *parser) insertWord(s *cutting, tokens []lexer.Token, opening, what string) []lexer.Token {
	at := 0
	if tokens[0].Type == typeStatus && significantFrom(tokens, 1) < len(tokens) {
		at = significantFrom(tokens, 1)
	}
	if !s.faulty && !reported(tokens) {
		span := tokenSpan(p.file, tokens[at])
		p.findings = append(p.findings, InfoOpeningMissing.At(diag.Finding{
			Span:    span,
			Message: what,
			Cure:    "write `" + opening + "` before `" + tokens[at].Value + "`",
			Edits:   []diag.Edit{{Span: source.Span{File: p.file, Start: span.Start, End: span.Start}, New: opening + " "}},
		}))
	}
	s.faulty = true
	return slices.Insert(slices.Clone(tokens), at, before(tokens[at], typeOpening, opening))
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
