package syntax

import (
	"errors"
	"fmt"
	"slices"

	"github.com/alecthomas/participle/v2"
	"github.com/alecthomas/participle/v2/lexer"

	"strake/lang/diag"
	"strake/lang/source"
)

var (
	craftGrammar     = production[gCraft]()
	craftRowGrammar  = production[gCraftRow]()
	useGrammar       = production[gUse]()
	domainGrammar    = production[gDomain]()
	placeGrammar     = production[gPlace]()
	partGrammar      = production[gPart]()
	itemGrammar      = production[gItem]()
	waysGrammar      = production[gWays]()
	wayGrammar       = production[gWay]()
	wayHeadGrammar   = production[gWayHead]()
	runGrammar       = production[gRun]()
	runHeadGrammar   = production[gRunHead]()
	bracketGrammar   = production[gBracket]()
	endGrammar       = production[gEnd]()
	interlockGrammar = production[gInterlock]()
	orderGrammar     = production[gOrder]()
	sheetGrammar     = production[gSheet]()
	namedListGrammar = production[gNamedList]()
	measuredGrammar  = production[gMeasured]()
	acceptGrammar    = production[gAccept]()
)

// Parse reads a text into its tree. A statement that cannot be read is missing
// from the tree and has a finding; of a run or a way only the cable or the end
// concerned is marked broken. The tree is fit for resolving even when there
// are findings: resolving then finds the other mistakes of the text.
func Parse(file *source.File) (*File, []diag.Finding) {
	tokens, findings := respell(file, lex(file.Name, file.Text))
	p := &parser{tree: &File{Source: file}, tokens: tokens}
	p.converter.file = file
	p.findings = append(findings, scan(file, tokens)...)
	cuttings, findings := cut(file, tokens)
	p.findings = append(p.findings, findings...)
	for _, s := range cuttings {
		p.statement(s)
	}
	p.tree.Unread = p.unread
	diag.Sort(p.findings)
	return p.tree, atMost(p.findings)
}

// most is how many findings of form are told: a file that is no craft's text at
// all would have one a character.
const most = 200

func atMost(findings []diag.Finding) []diag.Finding {
	if len(findings) <= most {
		return findings
	}
	return append(findings[:most:most], InfoMore.At(diag.Finding{
		Span:    findings[most].Span,
		Message: fmt.Sprintf("%d more mistakes from here on are not listed", len(findings)-most),
		Cure:    "mend those above first; if this file is not a craft's text, give the right one",
	}))
}

type parser struct {
	converter
	tree   *File
	tokens []lexer.Token
}

// failure is where a grammar could go no further.
type failure struct {
	at int // the token; the number of tokens at their end
}

var elided = []lexer.TokenType{typeBlank, typeNewline, typeComment, typeStray}

// parse lays a grammar on tokens. Tokens that were reported already are mended
// first, so that what they stand in is read all the same.
func parse[T any](g *participle.Parser[T], tokens []lexer.Token) (*T, *failure) {
	if !hasWords(tokens) {
		return nil, &failure{at: len(tokens)}
	}
	row := &tokenRow{tokens: mend(tokens)}
	last := tokens[len(tokens)-1]
	row.end = last.Pos
	row.end.Offset = tokenEnd(last)
	peeking, err := lexer.Upgrade(row, elided...)
	if err != nil {
		panic("a row of tokens has no errors: " + err.Error())
	}
	node, err := g.ParseFromLexer(peeking)
	if err == nil {
		return node, nil
	}
	var positioned participle.Error
	if !errors.As(err, &positioned) {
		panic("the grammar gives positions: " + err.Error())
	}
	f := &failure{at: len(tokens)}
	for i, t := range tokens {
		if t.Pos.Offset >= positioned.Position().Offset && !isTrivia(t) && (t.Pos.Line != 0 || t.Pos.Column != 0) {
			f.at = i
			break
		}
	}
	return nil, f
}

func (p *parser) statement(s *cutting) {
	tokens := p.tokens[s.from:s.to]
	p.quiet = s.faulty
	var node Statement
	switch openingWord(tokens) {
	case "craft":
		node = p.craftStatement(s, tokens)
	case "use":
		node = read(p, s, useGrammar, p.use)
	case "domain":
		node = read(p, s, domainGrammar, p.domain)
	case "place":
		node = read(p, s, placeGrammar, p.place)
	case "part":
		node = read(p, s, partGrammar, p.part)
	case "run", "bond", "signal":
		run := p.runStatement(s, withoutBrace(tokens))
		p.tree.Statements = append(p.tree.Statements, run)
		if s.braces {
			p.boardAtEnd(s, run)
		}
	case "interlock":
		node = read(p, s, interlockGrammar, p.interlock)
	case "order":
		node = read(p, s, orderGrammar, p.order)
	case "sheet":
		node = read(p, s, sheetGrammar, p.sheet)
	case "condition":
		node = read(p, s, namedListGrammar, p.condition)
	case "day":
		node = read(p, s, namedListGrammar, p.day)
	case "measured":
		node = read(p, s, measuredGrammar, p.measured)
	case "accept":
		node = read(p, s, acceptGrammar, p.accept)
	default:
		node = p.itemStatement(s)
	}
	if node != nil {
		p.tree.Statements = append(p.tree.Statements, node)
	}
}

// read parses a statement of one piece; nil when it cannot be read.
func read[T any, S Statement](p *parser, s *cutting, g *participle.Parser[T], convert func(*T) S) Statement {
	node := take(p, s, p.tokens[s.from:s.to], g)
	if node == nil {
		return nil
	}
	return convert(node)
}

// take parses tokens of a statement. On failure it reports, unless something
// of the statement was reported already; where one small change makes the
// tokens fit, it goes on as if that change were made, so that what the
// statement tells is not missing elsewhere.
func take[T any](p *parser, s *cutting, tokens []lexer.Token, g *participle.Parser[T]) *T {
	node, failed := parse(g, tokens)
	p.quiet = failed != nil || s.faulty
	if failed == nil {
		return node
	}
	at := place{
		file: p.file, tokens: tokens, at: failed.at, before: significantBefore(tokens, failed.at),
		opening: openingWord(p.tokens[s.from:s.to]), behind: p.behind(s, tokens),
	}
	fixed, kept, finding := repaired(at, g)
	if !s.faulty && !reported(tokens) && !at.respelled() {
		p.findings = append(p.findings, finding)
	}
	switch {
	case fixed == nil:
		p.forgo(tokens)
	case kept < failed.at: // only what stands before the failure was saved
		p.forgo(tokens[kept:])
	}
	return fixed
}

// behind is the token of the statement behind which a piece of it stands.
func (p *parser) behind(s *cutting, piece []lexer.Token) *lexer.Token {
	if len(piece) == 0 {
		return nil
	}
	i, _ := slices.BinarySearchFunc(p.tokens, piece[0].Pos.Offset, func(t lexer.Token, offset int) int { return t.Pos.Offset - offset })
	for i--; i >= s.from; i-- {
		if !isTrivia(p.tokens[i]) {
			return &p.tokens[i]
		}
	}
	return nil
}

// reported tells that a token among these has a finding of its own.
func reported(tokens []lexer.Token) bool {
	for i, t := range tokens {
		switch t.Type {
		case typeStray, typeOpenString, typeDecimalComma, typeTimes:
			return true
		case typeNumber:
			if i > 0 && signFollows(tokens[i-1], t) {
				return true
			}
		}
	}
	return false
}

// forgo keeps the words of tokens that could not be read.
func (p *parser) forgo(tokens []lexer.Token) {
	for _, t := range tokens {
		switch {
		case t.Type == typeOpenString:
			for _, inner := range lex("", t.Value[1:]) {
				if isWordy(inner) {
					p.unread = append(p.unread, Word{Text: inner.Value, Span: tokenSpan(p.file, t)})
				}
			}
		case isWordy(t):
			p.unread = append(p.unread, Word{Text: t.Value, Span: tokenSpan(p.file, t)})
		}
	}
}

func (p *parser) craftStatement(s *cutting, tokens []lexer.Token) Statement {
	n := take(p, s, tokens, craftGrammar)
	craft := &Craft{Span: tokenSpan(p.file, p.tokens[s.from])}
	if n != nil {
		craft = p.craft(n)
	}
	for _, row := range s.rows {
		if n := take(p, row, p.tokens[row.from:row.to], craftRowGrammar); n != nil {
			craft.Rows = append(craft.Rows, p.craftRow(n))
		}
	}
	craft.Span = craft.Span.Join(p.closing(s))
	return craft
}

// closing is the span of a statement's closing brace, if it has one.
func (p *parser) closing(s *cutting) source.Span {
	if s.closed == 0 {
		return source.Span{}
	}
	return tokenSpan(p.file, p.tokens[s.closed-1])
}

func (p *parser) itemStatement(s *cutting) Statement {
	if node, done := p.misspeltOpening(s); done {
		return node
	}
	n := take(p, s, p.tokens[s.from:s.to], itemGrammar)
	var item *Item
	if n != nil {
		item = p.item(n)
	}
	if item == nil {
		p.boardRows(s)
		return nil
	}
	item.Rows, item.Braces = p.boardRows(s), s.braces
	item.Span = item.Span.Join(p.closing(s))
	return item
}

// withoutBrace takes the opening brace off the end of a statement's tokens.
func withoutBrace(tokens []lexer.Token) []lexer.Token {
	for i := len(tokens) - 1; i >= 0; i-- {
		switch {
		case isTrivia(tokens[i]):
		case tokens[i].Type == typeLBrace:
			return tokens[:i]
		default:
			return tokens
		}
	}
	return tokens
}

// boardAtEnd makes a statement of its own of a board that a run ends on and
// describes in place, with its rows; the run then lands on its reference.
func (p *parser) boardAtEnd(s *cutting, run *Run) {
	var last *Landing
	if n := len(run.Chain); n > 0 {
		last = &run.Chain[n-1].Land
	}
	rows := p.boardRows(s)
	if last == nil || last.Head == nil || last.Head.Ref == nil {
		brace := p.tokens[s.to-1]
		if !s.faulty && (last == nil || !last.Broken) {
			p.findings = append(p.findings, InfoBraceStray.At(diag.Finding{
				Span:    tokenSpan(p.file, brace),
				Message: "rows in braces belong to a board, and this run does not end on the head of one",
				Cure:    "write the board as a statement of its own: `board DB1 \"Name\": 100 A {`, and end the run on `DB1`",
			}))
		}
		return
	}
	board := &Item{Span: run.Span, Status: last.Status, Head: *last.Head, Rows: rows, Braces: true}
	if board.Status == nil {
		board.Status = run.Status
	}
	last.Head, last.Ref, last.Board = nil, board.Head.Ref, &board.Head
	p.tree.Statements = append(p.tree.Statements, board)
}

// boardRows reads the rows in a statement's braces.
func (p *parser) boardRows(s *cutting) []Row {
	guarded := true
	var rows []Row
	for _, row := range s.rows {
		if r := p.boardRow(row); r != nil {
			rows = append(rows, *r)
		} else if openingWord(p.tokens[row.from:row.to]) == "ways" {
			guarded = false
		}
	}
	if !guarded {
		// What protects the ways could not be read, so their ratings rate nothing.
		for i := range rows {
			if rows[i].Way != nil {
				rows[i].Way.Protect = nil
			}
		}
	}
	return rows
}

func (p *parser) boardRow(s *cutting) *Row {
	tokens := p.tokens[s.from:s.to]
	switch openingWord(tokens) {
	case "ways":
		return p.waysRow(s, tokens)
	case "way":
		return p.wayRow(s, tokens)
	}
	if p.misspeltRow(s) {
		return p.boardRow(s)
	}
	if row, done := p.rowWithoutWord(s, tokens); done {
		return row
	}
	if !s.faulty && !reported(tokens) {
		p.findings = append(p.findings, notAWay(p.file, tokens))
	}
	p.forgo(tokens)
	return nil
}

func (p *parser) waysRow(s *cutting, tokens []lexer.Token) *Row {
	n := take(p, s, tokens, waysGrammar)
	if n == nil {
		return nil
	}
	row := p.ways(n)
	return &row
}

func hasWords(tokens []lexer.Token) bool {
	for _, t := range tokens {
		if !isTrivia(t) && t.Type != typeStray {
			return true
		}
	}
	return false
}

// across is the span of tokens without the trivia at their ends.
func (p *parser) across(tokens []lexer.Token) source.Span {
	var span source.Span
	for _, t := range tokens {
		if !isTrivia(t) {
			span = span.Join(tokenSpan(p.file, t))
		}
	}
	return span
}
