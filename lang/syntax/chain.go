package syntax

// Runs and ways: an end or a way, then cable and landing by turns. The whole
// is tried first; where it cannot be read, piece by piece, so that one broken
// cable hides nothing of the others.

import (
	"slices"

	"github.com/alecthomas/participle/v2/lexer"

	"strake/lang/diag"
)

func (p *parser) wayRow(s *cutting, tokens []lexer.Token) *Row {
	p.quiet = s.faulty
	if n, failed := parse(wayGrammar, tokens); failed == nil {
		way := p.wayHead(&n.gWayHead)
		way.Chain = p.wayChain(n.Chain)
		return &Row{Span: p.span(n), Status: p.status(n.Status), Way: way}
	}
	head, cables := divide(opened(tokens, wayHeadGrammar))
	n := take(p, s, head, wayHeadGrammar)
	if n == nil {
		p.links(s, cables, true)
		return nil
	}
	way := p.wayHead(n)
	way.Chain = p.links(s, cables, true)
	return &Row{Span: p.across(tokens), Status: p.status(n.Status), Way: way}
}

func (p *parser) runStatement(s *cutting, tokens []lexer.Token) *Run {
	if n, failed := parse(runGrammar, tokens); failed == nil {
		return p.run(n)
	}
	if inner, ok := bracketed(tokens); ok {
		n, _ := parse(runGrammar, inner.tokens)
		if !s.faulty && !reported(tokens) {
			p.findings = append(p.findings, InfoWordMissing.At(inner.finding(p)))
		}
		return p.run(n)
	}
	head, cables := divide(opened(tokens, runHeadGrammar))
	var run *Run
	before := len(p.findings)
	if n := take(p, s, head, runHeadGrammar); n != nil {
		run = p.runHead(n)
	} else {
		run = p.brokenRun(head)
	}
	run.Span = p.across(tokens)
	run.Chain = p.links(s, cables, false)
	if len(cables) == 0 && len(p.findings) == before && !s.faulty && !reported(tokens) {
		p.findings = append(p.findings, InfoNoCable.At(diag.Finding{
			Span:    run.Span,
			Message: "this " + run.Verb.Text + " has no cable",
			Cure:    "write the cable in brackets and then what it lands on: `run B1 [2 m] F1`; `[]` is a cable of which nothing is known yet",
		}))
	}
	return run
}

// brokenRun keeps the verb and the status of a run whose start cannot be read.
func (p *parser) brokenRun(head []lexer.Token) *Run {
	run := &Run{Start: Landing{Span: p.across(head), Broken: true}}
	for i, t := range head {
		word := Word{Text: t.Value, Span: tokenSpan(p.file, t)}
		switch {
		case i == 0 && t.Type == typeStatus:
			run.Status = &word
		case t.Type == typeOpening:
			run.Verb = word
			return run
		}
	}
	return run
}

// divide parts the tokens of a run or a way at each opening bracket.
func divide(tokens []lexer.Token) (head []lexer.Token, cables [][]lexer.Token) {
	start := -1
	for i, t := range tokens {
		switch {
		case t.Type != typeLBracket:
			continue
		case start < 0:
			head = tokens[:i]
		default:
			cables = append(cables, tokens[start:i])
		}
		start = i
	}
	if start < 0 {
		return tokens, nil
	}
	return head, append(cables, tokens[start:])
}

// links reads a chain piece by piece, where the whole could not be read.
func (p *parser) links(s *cutting, cables [][]lexer.Token, way bool) []Link {
	var out []Link
	for i, tokens := range cables {
		close := len(tokens)
		for j, t := range tokens {
			if t.Type == typeRBracket {
				close = j + 1
				break
			}
		}
		if tokens[close-1].Type != typeRBracket {
			tokens, close = closed(tokens)
		}
		link := Link{Cable: Bracket{Span: p.across(tokens[:close]), Broken: true}}
		if b := take(p, s, tokens[:close], bracketGrammar); b != nil {
			link.Cable = *p.bracket(b)
		}
		rest := tokens[close:]
		switch {
		case hasWords(rest):
			if end := take(p, s, rest, endGrammar); end != nil {
				link.Action, link.Land = p.word(end.Action), p.landing(end.Land)
			} else {
				link.Land = Landing{Span: p.across(rest), Broken: true}
			}
		case way && i == len(cables)-1:
		case link.Cable.Broken:
			link.Land = Landing{Span: link.Cable.Span, Broken: true}
		default:
			link.Land = p.endsOnNothing(link.Cable)
		}
		out = append(out, link)
	}
	return out
}

// missingBrackets is a run whose cable stands between its ends without brackets.
type missingBrackets struct {
	tokens   []lexer.Token // with them
	from, to lexer.Token   // the first and the last token of the cable
}

// bracketed puts a run's brackets where they were forgotten, both of them; the
// cable is the longest stretch that can be one. It is tried on runs without any.
func bracketed(tokens []lexer.Token) (missingBrackets, bool) {
	if slices.ContainsFunc(tokens, func(t lexer.Token) bool {
		return t.Type == typeLBracket || t.Type == typeRBracket || t.Type == typeColon
	}) {
		return missingBrackets{}, false
	}
	for i := 1; i < min(len(tokens), within); i++ {
		if !opensCable(tokens[i]) || tokens[i].Type == typeJoining {
			continue
		}
		for j := min(len(tokens), i+within) - 1; j > i; j-- {
			if isTrivia(tokens[j]) {
				continue
			}
			all := slices.Concat(tokens[:i], []lexer.Token{before(tokens[i], typeLBracket, "[")}, tokens[i:j],
				[]lexer.Token{before(tokens[j], typeRBracket, "]")}, tokens[j:])
			if reads(runGrammar, all) {
				last := j - 1
				for isTrivia(tokens[last]) {
					last--
				}
				return missingBrackets{all, tokens[i], tokens[last]}, true
			}
		}
	}
	return missingBrackets{}, false
}

func (m missingBrackets) finding(p *parser) diag.Finding {
	span := tokenSpan(p.file, m.from).Join(tokenSpan(p.file, m.to))
	text := "[" + span.Text() + "]"
	return diag.Finding{
		Span: span, Message: "the brackets of this cable are missing", Cure: "write `" + text + "`",
		Edits: []diag.Edit{{Span: span, New: text}},
	}
}
