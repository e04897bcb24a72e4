package syntax

// The parts that most of a text is made of, read by hand: each form stands
// beside it as the grammar would have it. It costs a fraction of the grammar's
// way, and gives the same places to errors: that of the first token that cannot
// be right.

import (
	"slices"

	"github.com/alecthomas/participle/v2"
	"github.com/alecthomas/participle/v2/lexer"
)

// leaf is a form of one token.
type leaf struct {
	extent
	Text string
}

func (l *leaf) take(tokens *lexer.PeekingLexer, class ...lexer.TokenType) error {
	t := tokens.Peek()
	if !slices.Contains(class, t.Type) {
		return participle.NextMatch
	}
	tokens.Next()
	l.Text, l.Pos, l.EndPos = t.Value, t.Pos, tokens.RawPeek().Pos
	return nil
}

type (
	gName     struct{ leaf } // a name or a kind: no reserved word
	gWord     struct{ leaf } // any word
	gUnit     struct{ leaf }
	gNumber   struct{ leaf }
	gDate     struct{ leaf }
	gStatus   struct{ leaf }
	gLabel    struct{ leaf }
	gCores    struct{ leaf }
	gPortWord struct{ leaf } // after a dot: a port, a pole, a way's number
)

func (l *gName) Parse(t *lexer.PeekingLexer) error     { return l.take(t, typeWord) }
func (l *gUnit) Parse(t *lexer.PeekingLexer) error     { return l.take(t, typeUnit) }
func (l *gNumber) Parse(t *lexer.PeekingLexer) error   { return l.take(t, typeNumber) }
func (l *gDate) Parse(t *lexer.PeekingLexer) error     { return l.take(t, typeDate) }
func (l *gStatus) Parse(t *lexer.PeekingLexer) error   { return l.take(t, typeStatus) }
func (l *gLabel) Parse(t *lexer.PeekingLexer) error    { return l.take(t, typeString, typeOpenString) }
func (l *gCores) Parse(t *lexer.PeekingLexer) error    { return l.take(t, typeCores) }
func (l *gPortWord) Parse(t *lexer.PeekingLexer) error { return l.take(t, typeWord, typeNumber) }
func (l *gWord) Parse(t *lexer.PeekingLexer) error {
	return l.take(t, typeWord, typeOpening, typeStatus, typeJoining)
}

// part is a form that is read by hand.
type part interface {
	Parse(*lexer.PeekingLexer) error
}

// may reads a part if it stands here.
func may[T any, P interface {
	*T
	part
}](tokens *lexer.PeekingLexer, into *P) error {
	p := P(new(T))
	switch err := p.Parse(tokens); err {
	case nil:
		*into = p
		return nil
	case participle.NextMatch:
		return nil
	default:
		return err
	}
}

// must reads a part that has to stand here.
func must[T any, P interface {
	*T
	part
}](tokens *lexer.PeekingLexer, into *P) error {
	if err := may(tokens, into); err != nil || *into != nil {
		return err
	}
	return unexpected(tokens)
}

func unexpected(tokens *lexer.PeekingLexer) error {
	return &participle.UnexpectedTokenError{Unexpected: *tokens.Peek()}
}

// passed takes a token of a type, if it stands here.
func passed(tokens *lexer.PeekingLexer, class lexer.TokenType) bool {
	if tokens.Peek().Type != class {
		return false
	}
	tokens.Next()
	return true
}

// gReference is `Word ( .. Word )? ( . port ( .. Number | . port )? )?`.
type gReference struct {
	extent
	First *gName
	tail
}

// gTermReference is a reference or a plain word of a list.
type gTermReference struct {
	extent
	First *gWord
	tail
}

// tail is what follows the first word of a reference.
type tail struct {
	Last  *gName
	Port  *gPortWord
	To    *gNumber
	Port2 *gPortWord
}

func (r *gReference) Parse(tokens *lexer.PeekingLexer) error {
	return refer(tokens, &r.First, &r.tail, &r.extent)
}

func (r *gTermReference) Parse(tokens *lexer.PeekingLexer) error {
	return refer(tokens, &r.First, &r.tail, &r.extent)
}

// refer reads a reference of either kind: its first word and what follows it.
func refer[T any, P interface {
	*T
	part
}](tokens *lexer.PeekingLexer, first *P, rest *tail, whole *extent) error {
	from := tokens.Peek().Pos
	if err := may(tokens, first); err != nil || *first == nil {
		return participle.NextMatch
	}
	if err := rest.read(tokens); err != nil {
		return err
	}
	whole.Pos, whole.EndPos = from, tokens.RawPeek().Pos
	return nil
}

func (r *tail) read(tokens *lexer.PeekingLexer) error {
	if passed(tokens, typeRange) {
		if err := must(tokens, &r.Last); err != nil {
			return err
		}
	}
	if !passed(tokens, typeDot) {
		return nil
	}
	if err := must(tokens, &r.Port); err != nil {
		return err
	}
	switch {
	case passed(tokens, typeRange):
		return must(tokens, &r.To)
	case passed(tokens, typeDot):
		return must(tokens, &r.Port2)
	}
	return nil
}

// gQuantity is `'about'? ( 'unknown' | Number ) Unit?`.
type gQuantity struct {
	extent
	About   bool
	Unknown bool
	Number  *gNumber
	Unit    *gUnit
}

// opensQuantity tells the tokens with which a quantity begins.
func opensQuantity(t *lexer.Token) bool {
	return t.Type == typeNumber || t.Value == "about" || t.Value == "unknown"
}

func (q *gQuantity) Parse(tokens *lexer.PeekingLexer) error {
	q.Pos = tokens.Peek().Pos
	if tokens.Peek().Value == "about" {
		q.About = true
		tokens.Next()
	}
	if tokens.Peek().Value == "unknown" {
		q.Unknown = true
		tokens.Next()
	} else if err := must(tokens, &q.Number); err != nil {
		return err
	}
	err := may(tokens, &q.Unit)
	q.EndPos = tokens.RawPeek().Pos
	return err
}

// gTerm is `Date | Cores | Label | Quantity | TermReference`, but no `is`,
// which ends a bank's list.
type gTerm struct {
	extent
	Date  *gDate
	Cores *gCores
	Label *gLabel
	Qty   *gQuantity
	Word  *gTermReference
}

func (g *gTerm) Parse(tokens *lexer.PeekingLexer) (err error) {
	t := tokens.Peek()
	switch {
	case t.Type == typeDate:
		err = must(tokens, &g.Date)
	case t.Type == typeCores:
		err = must(tokens, &g.Cores)
	case t.Type == typeString, t.Type == typeOpenString:
		err = must(tokens, &g.Label)
	case opensQuantity(t):
		err = must(tokens, &g.Qty)
	case t.Value == "is":
		err = unexpected(tokens)
	default:
		err = must(tokens, &g.Word)
	}
	g.Pos, g.EndPos = t.Pos, tokens.RawPeek().Pos
	return err
}

// gCableWord is one word of a bracket with its number or its name:
// `( 'through' | 'in' | 'bundled' | 'return' | 'class' | 'awg' ) Term | Cores |
// Quantity ( 'parallel' Quantity? )? | Word`.
type gCableWord struct {
	extent
	Taker    *gWord
	Taken    *gTerm
	Cores    *gCores
	Qty      *gQuantity
	Parallel *gName
	Each     *gQuantity
	Word     *gWord
}

func (g *gCableWord) Parse(tokens *lexer.PeekingLexer) (err error) {
	t := tokens.Peek()
	g.Pos = t.Pos
	switch {
	case takesTerm(t.Value) && isWordy(*t) && t.Type != typeClosing:
		if err = must(tokens, &g.Taker); err == nil {
			err = must(tokens, &g.Taken)
		}
	case t.Type == typeCores:
		err = must(tokens, &g.Cores)
	case opensQuantity(t):
		if err = must(tokens, &g.Qty); err == nil && tokens.Peek().Value == "parallel" {
			if err = may(tokens, &g.Parallel); err == nil && g.Parallel != nil && opensQuantity(tokens.Peek()) {
				err = must(tokens, &g.Each)
			}
		}
	default:
		err = must(tokens, &g.Word)
	}
	g.EndPos = tokens.RawPeek().Pos
	return err
}

func takesTerm(word string) bool {
	switch word {
	case "through", "in", "bundled", "return", "class", "awg":
		return true
	}
	return false
}
