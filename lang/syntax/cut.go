package syntax

// Statements are cut before anything is parsed, by rows alone: a row opens a
// statement unless it begins with `[` or the row before ended with a comma.
// So a mistake stays in its statement.

import (
	"slices"
	"strings"

	"github.com/alecthomas/participle/v2/lexer"

	"strake/lang/diag"
	"strake/lang/source"
)

// cutting is one statement before parsing, or one row in its braces.
type cutting struct {
	from, to int // tokens, trivia inside included
	braces   bool
	rows     []*cutting
	faulty   bool // something in it was reported already
	closed   int  // token after its closing brace; 0: it has none
	phantom  bool // braces without a head, opened to keep ways together
}

type cutter struct {
	file     *source.File
	tokens   []lexer.Token
	braces   []int // which tokens are braces
	findings []diag.Finding

	out   []*cutting
	brace *cutting // the statement whose braces are open
	last  *cutting // the statement that the next row may go on with
	comma bool     // it ended with a comma
}

// cut finds the statements of a text.
func cut(file *source.File, tokens []lexer.Token) ([]*cutting, []diag.Finding) {
	c := &cutter{file: file, tokens: tokens}
	for i, t := range tokens {
		if t.Type == typeLBrace || t.Type == typeRBrace {
			c.braces = append(c.braces, i)
		}
	}
	blankRow := false
	for from := 0; from < len(tokens); {
		to := from
		for to < len(tokens) && tokens[to].Type != typeNewline {
			to++
		}
		if c.significant(from, to) {
			c.row(from, to, blankRow)
			blankRow = false
		} else {
			blankRow = blankRow || !c.holds(from, to, typeComment)
		}
		from = to + 1
	}
	if c.brace != nil {
		c.reportUnclosed(nil)
	}
	return c.out, c.findings
}

func (c *cutter) significant(from, to int) bool {
	for _, t := range c.tokens[from:to] {
		if !isTrivia(t) {
			return true
		}
	}
	return false
}

func (c *cutter) holds(from, to int, kind lexer.TokenType) bool {
	for _, t := range c.tokens[from:to] {
		if t.Type == kind {
			return true
		}
	}
	return false
}

// row divides a row at its braces.
func (c *cutter) row(from, to int, afterBlank bool) {
	start := from
	for i := from; i < to; i++ {
		if c.secondStatement(start, i) {
			c.segment(start, i, afterBlank)
			start, afterBlank = i, false
		}
		switch c.tokens[i].Type {
		case typeLBrace:
			c.segment(start, i, afterBlank)
			c.open(i)
			start = i + 1
		case typeRBrace:
			c.segment(start, i, afterBlank)
			c.close(i)
			start = i + 1
		}
	}
	c.segment(start, to, afterBlank)
}

// craftRows are the words with which the rows of a craft begin: as a statement
// word does, they begin a row even after a comma.
var craftRows = map[string]bool{
	"drawing": true, "revision": true, "yard": true, "owner": true, "drawn": true, "checked": true, "state": true,
	"hull": true, "water": true, "service": true, "rules": true, "paper": true, "coldest": true, "cable": true,
}

// segment takes what stands on a row between braces.
func (c *cutter) segment(from, to int, afterBlank bool) {
	for from < to && isTrivia(c.tokens[from]) {
		from++
	}
	for from < to && isTrivia(c.tokens[to-1]) {
		to--
	}
	if from == to {
		return
	}
	opening := openingWord(c.tokens[from:to])
	begins := opening != "" || c.inCraft() && craftRows[c.tokens[from].Value] || c.isHead(from, to)
	goesOn := c.last != nil && (c.tokens[from].Type == typeLBracket || c.comma && !begins) || c.landsInNextRow(from, to, opening)
	if goesOn {
		c.last.to = to
	} else {
		c.settleBraces(from, opening, afterBlank)
		c.last = &cutting{from: from, to: to}
		if c.brace != nil && (opening == "" || opening == "way" || opening == "ways") {
			c.brace.rows = append(c.brace.rows, c.last)
		} else {
			c.out = append(c.out, c.last)
		}
	}
	c.comma = c.tokens[to-1].Type == typeComma
	c.brackets(from, to)
}

// isHead tells a row that can only be a statement of its own: a kind, a
// reference and what follows them, with a colon. No member of a list is like it.
func (c *cutter) isHead(from, to int) bool {
	var words []lexer.Token
	for _, t := range c.tokens[from:to] {
		if isTrivia(t) {
			continue
		}
		if t.Type == typeLBracket {
			return false
		}
		if words = append(words, t); t.Type == typeColon {
			break
		}
	}
	n := len(words)
	return n >= 3 && words[n-1].Type == typeColon && words[0].Type == typeWord && words[1].Type == typeWord &&
		(words[2].Type == typeColon || words[2].Type == typeString || words[2].Type == typeRange || words[2].Value == "in" || words[2].Value == "at")
}

// landsInNextRow finds what the last cable of a run lands on in the row below,
// which such a row cannot hold, and takes it for it.
func (c *cutter) landsInNextRow(from, to int, opening string) bool {
	if c.last == nil || c.comma || opening != "" || c.tokens[c.last.to-1].Type != typeRBracket || !laysCables(c.openingOf(c.last)) {
		return false
	}
	first, last := c.tokens[from], c.tokens[c.last.from]
	alone, cables := 0, false
	for _, t := range c.tokens[from:to] {
		if !isTrivia(t) {
			alone++
		}
		cables = cables || t.Type == typeLBracket
	}
	indented := first.Pos.Line > 0 && last.Pos.Line > 0 && first.Pos.Column > last.Pos.Column
	if first.Type != typeWord && first.Type != typeJoining || alone > 1 && c.tokens[from+1].Type != typeDot && !cables && !indented {
		return false
	}
	end := tokenEnd(c.tokens[c.last.to-1])
	c.find(InfoEndsOnNothing, tokenSpan(c.file, first), diag.Finding{
		Message: "what the cable of the row above lands on stands in a row of its own",
		Cure:    "write `" + first.Value + "` behind the `]` of the row above; a run goes on in the next row only at a `[`",
		Edits:   []diag.Edit{{Span: source.Span{File: c.file, Start: end, End: first.Pos.Offset}, New: " "}},
	})
	return true
}

// secondStatement finds a statement that begins on the row of another one.
func (c *cutter) secondStatement(start, i int) bool {
	t := c.tokens[i]
	if t.Type != typeOpening || t.Value == "way" || t.Value == "ways" || c.brace != nil {
		return false
	}
	words, before := 0, -1
	for j := start; j < i; j++ {
		if !isTrivia(c.tokens[j]) {
			words, before = words+1, j
		}
	}
	if words < 3 || before == i-1 {
		return false
	}
	switch c.tokens[before].Type {
	case typeWord, typeUnit, typeString, typeDate:
	default:
		return false
	}
	span := source.Span{File: c.file, Start: tokenEnd(c.tokens[before]), End: t.Pos.Offset}
	if !strings.Contains(span.Text(), ";") { // a semicolon was told already
		c.find(InfoUnreadable, tokenSpan(c.file, t), diag.Finding{
			Message: "a second statement, `" + t.Value + "`, begins on this row",
			Cure:    "begin a new line before `" + t.Value + "`",
			Edits:   []diag.Edit{{Span: span, New: "\n"}},
		})
	}
	return true
}

// settleBraces opens or closes braces that the author forgot.
func (c *cutter) settleBraces(from int, opening string, afterBlank bool) {
	isWay := opening == "way" || opening == "ways"
	if c.brace != nil && c.brace.phantom && c.inCraft() && !craftRows[c.tokens[from].Value] {
		c.brace = nil
	}
	if c.brace != nil {
		closes := c.nextBrace(from) == typeRBrace
		switch {
		case closes && opening != "" && !isWay:
			c.find(InfoStatementInBraces, tokenSpan(c.file, c.tokens[from]), diag.Finding{
				Message: "`" + opening + "` stands inside braces; only the rows of " + c.inBraces() + " may stand here",
				Cure:    "move the statement below the closing `}`",
			})
		case closes || isWay:
		case opening != "" || c.inCraft() && afterBlank || !c.inCraft():
			c.reportUnclosed(&c.tokens[from])
			c.brace = nil
		}
		return
	}
	head := c.last
	switch {
	case isWay && (head == nil || c.openingOf(head) != "board" || head.braces):
		c.find(InfoWayOutside, tokenSpan(c.file, c.tokens[from]), diag.Finding{
			Message: "`" + opening + "` stands outside the braces of a board",
			Cure:    "write the board's head with an opening brace above it: `board DB1 \"Name\": 100 A {`",
		})
		c.brace = &cutting{from: from, to: from, braces: true, faulty: true, phantom: true}
	case isWay, head != nil && c.openingOf(head) == "craft" && !head.braces && opening == "" && c.nextBrace(from) == typeRBrace:
		at := tokenEnd(c.tokens[head.to-1])
		c.find(InfoBraceMissing, tokenSpan(c.file, c.tokens[head.to-1]), diag.Finding{
			Message: "an opening brace is missing at the end of this row",
			Cure:    "write ` {` after `" + c.tokens[head.to-1].Value + "`",
			Edits:   []diag.Edit{{Span: source.Span{File: c.file, Start: at, End: at}, New: " {"}},
		})
		head.braces = true
		c.brace = head
	case head != nil && c.openingOf(head) == "craft" && !head.braces && opening == "" && craftRows[c.tokens[from].Value]:
		last := c.tokens[head.to-1]
		cure := "write ` {` after the name and `}` on a row of its own below the rows"
		if last.Type == typeColon {
			head.to--
			cure = "write ` {` in the place of `:`, and `}` on a row of its own below the rows"
		}
		c.find(InfoBraceMissing, tokenSpan(c.file, last), diag.Finding{Message: "the rows of the craft do not stand in braces", Cure: cure})
		head.braces, head.phantom = true, true
		c.brace = head
	}
}

func (c *cutter) open(i int) {
	if c.last == nil || c.brace != nil {
		c.find(InfoBraceStray, tokenSpan(c.file, c.tokens[i]), diag.Finding{
			Message: "nothing can open braces here; a `{` stands at the end of the head of a craft or a board",
			Cure:    "take the `{` out, or write the head before it",
		})
		return
	}
	c.last.braces, c.last.to = true, i+1
	c.brace, c.last, c.comma = c.last, nil, false
}

func (c *cutter) close(i int) {
	if c.brace == nil {
		c.find(InfoBraceStray, tokenSpan(c.file, c.tokens[i]), diag.Finding{
			Message: "this `}` closes nothing",
			Cure:    "take it out",
			Edits:   []diag.Edit{{Span: tokenSpan(c.file, c.tokens[i])}},
		})
	} else {
		c.brace.closed = i + 1
	}
	c.brace, c.last, c.comma = nil, nil, false
}

// reportUnclosed lays the finding on the brace and all that stands in it, so
// that it covers the row where the closing brace belongs.
func (c *cutter) reportUnclosed(next *lexer.Token) {
	if c.brace.phantom {
		return
	}
	f := diag.Finding{
		Message: "the braces of " + c.inBraces() + " are not closed",
		Cure:    "write `}` on a row of its own after the last row",
	}
	span := tokenSpan(c.file, c.tokens[c.brace.to-1])
	span.End = len(c.file.Text)
	if next != nil {
		f.Related = []diag.Related{{Span: tokenSpan(c.file, *next), Message: "the next statement begins here"}}
		span.End = next.Pos.Offset
	}
	c.find(InfoBraceNotClosed, span, f)
}

// brackets reports brackets of one row that are not pairs.
func (c *cutter) brackets(from, to int) {
	open := -1
	for i := from; i < to; i++ {
		switch c.tokens[i].Type {
		case typeLBracket:
			if open >= 0 {
				c.bracketNotClosed(open)
			}
			open = i
		case typeRBracket:
			if open < 0 {
				c.last.faulty = true
				c.find(InfoBracketStray, tokenSpan(c.file, c.tokens[i]), diag.Finding{
					Message: "this `]` closes no bracket",
					Cure:    "write `[` before the first word of the cable, or take the `]` out",
				})
			}
			open = -1
		}
	}
	if open >= 0 {
		c.bracketNotClosed(open)
	}
}

func (c *cutter) bracketNotClosed(open int) {
	c.last.faulty = true
	c.find(InfoBracketNotClosed, tokenSpan(c.file, c.tokens[open]), diag.Finding{
		Message: "the bracket of this cable is not closed on its row",
		Cure:    "write `]` after the last word of the cable; a pair of brackets never crosses a line",
	})
}

// nextBrace is the kind of the first brace from a token on; 0 when there is none.
func (c *cutter) nextBrace(from int) lexer.TokenType {
	i, _ := slices.BinarySearch(c.braces, from)
	if i == len(c.braces) {
		return 0
	}
	return c.tokens[c.braces[i]].Type
}

func (c *cutter) inCraft() bool { return c.openingOf(c.brace) == "craft" }

func (c *cutter) inBraces() string {
	if c.inCraft() {
		return "the craft"
	}
	return "a board"
}

func (c *cutter) openingOf(s *cutting) string {
	if s == nil {
		return ""
	}
	return openingWord(c.tokens[s.from:s.to])
}

func (c *cutter) find(info diag.Info, span source.Span, f diag.Finding) {
	f.Span = span
	c.findings = append(c.findings, info.At(f))
}

// laysCables tells the words that open a statement of cables between its ends.
func laysCables(opening string) bool {
	return opening == "run" || opening == "bond" || opening == "signal"
}

// openingWord is the word that opens the statement, after a status; empty when
// the row does not begin with one. `bank` and `board` are kinds that open one.
func openingWord(tokens []lexer.Token) string {
	for i, t := range tokens {
		switch {
		case isTrivia(t):
		case t.Type == typeOpening, t.Type == typeWord && (t.Value == "bank" || t.Value == "board"):
			return t.Value
		case t.Type == typeStatus && i == 0:
		default:
			return ""
		}
	}
	return ""
}
