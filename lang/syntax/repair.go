package syntax

// Where a statement does not fit its grammar, a few small changes are tried at
// the place of the failure. The first that makes everything fit tells what was
// meant: it becomes the cure, and reading goes on as if it were made.

import (
	"slices"
	"strings"

	"github.com/alecthomas/participle/v2"
	"github.com/alecthomas/participle/v2/lexer"

	"strake/lang/diag"
	"strake/lang/source"
)

// repair is a change of the tokens and what it says about the text. A repair
// without a finding only saves what can be read; the finding then names no edit.
type repair struct {
	tokens  []lexer.Token
	info    diag.Info
	finding diag.Finding
}

// place is where a grammar could go no further.
type place struct {
	file    *source.File
	tokens  []lexer.Token
	at      int // the token that does not fit; len(tokens) at the end
	before  int // the token before it, -1 at the beginning
	opening string
	behind  *lexer.Token // where the tokens are a piece of a statement: what stands before them
}

// repaired finds the change that makes tokens fit, and the finding; kept is how
// many tokens it read. The node is nil when there is none.
func repaired[T any](p place, g *participle.Parser[T]) (node *T, kept int, found diag.Finding) {
	for _, r := range p.repairs() {
		if node, failed := parse(g, r.tokens); failed == nil {
			if r.finding.Span.IsZero() {
				r.info, r.finding = p.explain()
			}
			return node, len(r.tokens), r.info.At(r.finding)
		}
	}
	info, finding := p.explain()
	return nil, 0, info.At(finding)
}

func significantBefore(tokens []lexer.Token, at int) int {
	for i := at - 1; i >= 0; i-- {
		if !isTrivia(tokens[i]) {
			return i
		}
	}
	return -1
}

// repairs are the changes to try, the likeliest first.
func (p place) repairs() []repair {
	var out []repair
	out = append(out, p.statusMisspelt()...)
	if p.at == len(p.tokens) {
		return append(out, p.withoutTail()...)
	}
	out = append(out, p.marksInWay()...)
	out = append(out, p.wordMisspelt()...)
	out = append(out, p.labelFirst()...)
	out = append(out, p.ratingFirst()...)
	out = append(out, p.reservedName()...)
	out = append(out, p.wordMissing()...)
	out = append(out, p.orderOfHead()...)
	out = append(out, p.quotesMissing()...)
	out = append(out, p.zeroMissing()...)
	out = append(out, p.without()...)
	return append(out, p.withoutTail()...)
}

// respelled tells a failure at a mark that was read for another one and told
// already.
func (p place) respelled() bool {
	if p.at == len(p.tokens) || p.token().Pos.Line != 0 {
		return false
	}
	switch p.token().Type {
	case typeString, typeColon, typeComma, typeLBracket:
		return true
	}
	return false
}

func (p place) token() lexer.Token { return p.tokens[p.at] }

// asWritten is a token as the text has it.
func (p place) asWritten(t lexer.Token) string {
	if span := tokenSpan(p.file, t); span.End > span.Start {
		return span.Text()
	}
	return t.Value
}

func (p place) span() source.Span { return tokenSpan(p.file, p.token()) }

// gap is the empty span after the token before the failure.
func (p place) gap() source.Span {
	end := 0
	if p.before >= 0 {
		end = tokenEnd(p.tokens[p.before])
	}
	return source.Span{File: p.file, Start: end, End: end}
}

// statusMisspelt tries the first word as a status.
func (p place) statusMisspelt() []repair {
	first := p.tokens[0]
	if first.Type != typeWord || len(p.tokens) < 2 {
		return nil
	}
	meant := nearestReserved(first.Value, typeStatus)
	if meant == "" {
		return nil
	}
	return []repair{{p.with(0, instead(first, typeStatus, meant)), InfoMisspelt, p.didYouMean(first, meant)}}
}

// wordMisspelt tries the word that does not fit as a reserved word that it resembles.
func (p place) wordMisspelt() []repair {
	t := p.token()
	if t.Type != typeWord {
		return nil
	}
	var out []repair
	for _, class := range []lexer.TokenType{typeJoining, typeClosing, typeStatus} {
		if meant := nearestReserved(t.Value, class); meant != "" {
			out = append(out, repair{p.with(p.at, instead(t, class, meant)), InfoMisspelt, p.didYouMean(t, meant)})
		}
	}
	if meant := diag.Nearest(t.Value, []string{"never", "only"}); meant != "" {
		out = append(out, repair{p.with(p.at, instead(t, typeWord, meant)), InfoMisspelt, p.didYouMean(t, meant)})
	}
	return out
}

func (p place) didYouMean(t lexer.Token, meant string) diag.Finding {
	return diag.Finding{
		Span:    tokenSpan(p.file, t),
		Message: "`" + t.Value + "` does not fit here",
		Cure:    "did you mean `" + meant + "`?",
		Edits:   []diag.Edit{{Span: tokenSpan(p.file, t), New: meant}},
	}
}

// nearestReserved is the reserved word of a class that a word resembles, also
// when something was merely added to it.
func nearestReserved(text string, class lexer.TokenType) string {
	var words []string
	for w, t := range reserved {
		if t == class {
			words = append(words, w)
		}
	}
	slices.Sort(words)
	if near := diag.Nearest(text, words); near != "" {
		return near
	}
	for _, w := range words {
		if rest, ok := strings.CutPrefix(strings.ToLower(text), w); ok && len(w) > 1 && len(rest) <= 2 {
			return w
		}
	}
	return ""
}

// reservedName tries a reserved word as the name that belongs here.
func (p place) reservedName() []repair {
	t := p.token()
	if !isWordy(t) || t.Type == typeWord {
		return nil
	}
	return []repair{{p.with(p.at, instead(t, typeWord, t.Value)), InfoReserved, diag.Finding{
		Span:    p.span(),
		Message: "`" + t.Value + "` is a reserved word and cannot be a name",
		Cure:    "choose another name, here and wherever it is used",
	}}}
}

// wordMissing tries what may be missing before the token that does not fit.
func (p place) wordMissing() []repair {
	insert := func(t lexer.TokenType, text, what string) repair {
		at := p.gap()
		cure, written := "write `"+text+"` before `"+p.asWritten(p.token())+"`", " "+text
		if t == typeColon {
			cure, written = "write `:` after `"+p.asWritten(p.tokens[max(p.before, 0)])+"`", text
		}
		return repair{p.inserted(before(p.token(), t, text)), InfoWordMissing, diag.Finding{
			Span:    p.span(),
			Message: what + " is missing before `" + p.asWritten(p.token()) + "`",
			Cure:    cure,
			Edits:   []diag.Edit{{Span: at, New: written}},
		}}
	}
	if p.before < 0 {
		return nil
	}
	colon := insert(typeColon, ":", "the colon that opens a list")
	switch t := p.token(); {
	case t.Type == typeComma && !p.holds(typeColon) && p.opening != "run":
		return []repair{{p.with(p.at, instead(t, typeColon, ":")), InfoWordMissing, diag.Finding{
			Span: p.span(), Message: "a colon opens a list, not a comma", Cure: "write `:` in its place",
			Edits: []diag.Edit{{Span: p.span(), New: ":"}},
		}}}
	case t.Type == typeColon && (p.opening == "ways" || p.opening == "part"):
		return []repair{{p.with(p.at, instead(t, typeJoining, "is")), InfoWordMissing, diag.Finding{
			Span: p.span(), Message: "`is` stands before the kind, not a colon", Cure: "write `is` in its place",
			Edits: []diag.Edit{{Span: p.span(), New: " is"}},
		}}}
	case t.Type == typeLBrace && p.tokens[p.before].Type == typeColon:
		return []repair{{p.with(p.before), InfoUnreadable, diag.Finding{
			Span: tokenSpan(p.file, p.tokens[p.before]), Message: "a colon opens a list, and nothing stands behind this one", Cure: "take `:` out",
			Edits: []diag.Edit{{Span: tokenSpan(p.file, p.tokens[p.before])}},
		}}}
	case t.Type == typeString && p.tokens[p.before].Value == "accept":
		name := unquote(t.Value)
		return []repair{{p.with(p.at, instead(t, typeWord, name)), InfoWordMissing, diag.Finding{
			Span: p.span(), Message: "the name of a rule stands without quotes", Cure: "write `" + name + "`",
			Edits: []diag.Edit{{Span: p.span(), New: name}},
		}}}
	case t.Type == typeString && (p.tokens[p.before].Value == "in" || p.tokens[p.before].Value == "at"):
		name := strings.ReplaceAll(strings.ToLower(strings.TrimSpace(unquote(t.Value))), " ", "-")
		return []repair{{p.with(p.at, instead(t, typeWord, name)), InfoWordMissing, diag.Finding{
			Span: p.span(), Message: "the name of a domain or a place stands without quotes", Cure: "write `" + name + "`, or the name under which it is declared",
			Edits: []diag.Edit{{Span: p.span(), New: name}},
		}}}
	case p.tokens[p.before].Value == "capped":
		return []repair{insert(typeJoining, "at", "`at`")}
	case p.tokens[p.before].Value == "never", p.tokens[p.before].Value == "only":
		return []repair{insert(typeJoining, "with", "`with`")}
	case p.opening == "bank" && (t.Value == "series" || t.Value == "parallel"):
		return []repair{insert(typeJoining, "in", "`in`")}
	case t.Type == typeWord && !p.holds(typeColon) && slices.Contains([]string{"domain", "order", "measured"}, p.opening):
		return []repair{colon}
	case t.Type == typeWord && p.names():
		name := p.tokens[p.before].Value + "-" + t.Value
		span := tokenSpan(p.file, p.tokens[p.before]).Join(p.span())
		return []repair{{slices.Concat(p.tokens[:p.before], []lexer.Token{covering(span.Start, span.End, typeWord, name)}, p.tokens[p.at+1:]),
			InfoWordMissing, diag.Finding{
				Span: span, Message: "`" + span.Text() + "` is no name: a name is one word", Cure: "write `" + name + "`, here and wherever it is named",
				Edits: []diag.Edit{{Span: span, New: name}},
			}}}
	case t.Type == typeWord:
		// `in` or `at` may be missing, or the colon: the name alone cannot tell.
		either := diag.Finding{
			Span:    p.span(),
			Message: "`" + t.Value + "` follows without a word that says what it is",
			Cure:    "write `in` before a domain, `at` before a place, `:` before the first property",
		}
		var out []repair
		for _, w := range []string{"is", "on", "at", "in"} {
			r := insert(typeJoining, w, "`"+w+"`")
			if w == "at" || w == "in" {
				r.tokens, r.info, r.finding = p.with(p.at), InfoWordMissing, either
			}
			out = append(out, r)
		}
		return append(out, colon)
	case t.Type == typeNumber, t.Type == typeCores, t.Value == "unknown", t.Value == "about":
		return []repair{colon}
	case t.Type == typeString:
		return []repair{insert(typeClosing, "because", "`because`"), insert(typeClosing, "by", "`by`"), colon}
	case t.Type == typeDate:
		return []repair{insert(typeClosing, "dated", "`dated`")}
	}
	return nil
}

// names tells that the word before the failure is the name of a place, a domain
// or a part.
func (p place) names() bool {
	i := significantBefore(p.tokens, p.before)
	if i < 0 {
		return false
	}
	switch p.tokens[i].Value {
	case "place", "domain", "at":
		return p.tokens[i].Type != typeWord
	}
	return false
}

func (p place) holds(kind lexer.TokenType) bool {
	return slices.ContainsFunc(p.tokens, func(t lexer.Token) bool { return t.Type == kind })
}

// orderOfHead tries `in DOMAIN` behind `at PLACE`, and a label behind either.
func (p place) orderOfHead() []repair {
	t := p.token()
	switch {
	case t.Value == "in" && p.before > 0:
		at := p.before // at PLACE … in DOMAIN
		for at >= 0 && p.tokens[at].Value != "at" {
			at--
		}
		name := p.at + 1
		for name < len(p.tokens) && isTrivia(p.tokens[name]) {
			name++
		}
		if at < 0 || name >= len(p.tokens) {
			return nil
		}
		var swapped []lexer.Token
		swapped = append(swapped, p.tokens[:at]...)
		swapped = append(swapped, p.tokens[p.at:name+1]...)
		swapped = append(swapped, p.tokens[at:p.at]...)
		swapped = append(swapped, p.tokens[name+1:]...)
		text := func(from, to int) string {
			return p.file.Text[p.tokens[from].Pos.Offset:tokenEnd(p.tokens[to])]
		}
		whole := tokenSpan(p.file, p.tokens[at]).Join(tokenSpan(p.file, p.tokens[name]))
		right := text(p.at, name) + " " + text(at, p.before)
		return []repair{{swapped, InfoHeadOrder, diag.Finding{
			Span:    p.span().Join(tokenSpan(p.file, p.tokens[name])),
			Message: "the domain stands after the place",
			Cure:    "write `" + right + "`",
			Edits:   []diag.Edit{{Span: whole, New: right}},
		}}}
	case t.Type == typeString:
		return []repair{{p.with(p.at), InfoHeadOrder, diag.Finding{
			Span:    p.span(),
			Message: "the label " + t.Value + " does not fit here",
			Cure:    "a label stands right after the reference or the name: `" + shape(p.opening) + "`",
		}}}
	}
	return nil
}

// labelFirst tries a label that stands before the reference behind it.
func (p place) labelFirst() []repair {
	if p.token().Type != typeWord || p.before < 1 || p.tokens[p.before].Type != typeString {
		return nil
	}
	label, ref := p.tokens[p.before], p.token()
	right := ref.Value + " " + label.Value
	whole := tokenSpan(p.file, label).Join(tokenSpan(p.file, ref))
	// As they are read in another order than they stand, the first covers both.
	swapped := slices.Concat(p.tokens[:p.before], []lexer.Token{
		covering(whole.Start, whole.End, typeWord, ref.Value),
		covering(whole.End, whole.End, typeString, label.Value),
	}, p.tokens[p.at+1:])
	return []repair{{swapped, InfoHeadOrder, diag.Finding{
		Span:    tokenSpan(p.file, label),
		Message: "the label " + label.Value + " stands before the reference",
		Cure:    "write `" + right + "`",
		Edits:   []diag.Edit{{Span: whole, New: right}},
	}}}
}

// ratingFirst tries a number with its unit that stands before the kind and the
// reference that it belongs to.
func (p place) ratingFirst() []repair {
	var at []int // the number, its unit, the kind, the reference, what follows
	for i := p.at; i < len(p.tokens) && len(at) < 5; i++ {
		if !isTrivia(p.tokens[i]) {
			at = append(at, i)
		}
	}
	if len(at) < 4 || p.token().Type != typeNumber || p.tokens[at[1]].Type != typeUnit || p.tokens[at[2]].Type != typeWord || p.tokens[at[3]].Type != typeWord {
		return nil
	}
	number, unit, kind, ref := p.tokens[at[0]], p.tokens[at[1]], p.tokens[at[2]], p.tokens[at[3]]
	right := kind.Value + " " + ref.Value + ": " + number.Value + " " + unit.Value
	rest, whole := at[3]+1, tokenSpan(p.file, number).Join(tokenSpan(p.file, ref))
	if len(at) > 4 && p.tokens[at[4]].Type == typeColon {
		rest, whole = at[4]+1, whole.Join(tokenSpan(p.file, p.tokens[at[4]]))
		right += ","
	}
	// As they are read in another order than they stand, the first covers all.
	end := whole.End
	tokens := append(slices.Clone(p.tokens[:p.at]), covering(whole.Start, end, typeWord, kind.Value),
		covering(end, end, typeWord, ref.Value), covering(end, end, typeColon, ":"),
		covering(end, end, typeNumber, number.Value), covering(end, end, typeUnit, unit.Value))
	if strings.HasSuffix(right, ",") {
		tokens = append(tokens, covering(end, end, typeComma, ","))
	}
	return []repair{{append(tokens, p.tokens[rest:]...), InfoHeadOrder, diag.Finding{
		Span:    tokenSpan(p.file, number).Join(tokenSpan(p.file, unit)),
		Message: "`" + number.Value + " " + unit.Value + "` stands before the kind; what is said of a thing stands behind a colon",
		Cure:    "write `" + right + "`",
		Edits:   []diag.Edit{{Span: whole, New: right}},
	}}}
}

// quotesMissing tries a word as the label that belongs here.
func (p place) quotesMissing() []repair {
	t := p.token()
	if !isWordy(t) || p.before < 0 || !strings.HasSuffix(p.belongsAfter(p.tokens[p.before]), "in quotes") {
		return nil
	}
	label := `"` + t.Value + `"`
	info, f := p.explain()
	f.Cure = "write `" + label + "`"
	f.Edits = []diag.Edit{{Span: p.span(), New: label}}
	return []repair{{p.with(p.at, instead(t, typeString, label)), info, f}}
}

// marksInWay tries a way's row without the commas and colons before its label
// or its load: it has none there.
func (p place) marksInWay() []repair {
	if p.opening != "way" || p.token().Type != typeComma && p.token().Type != typeColon {
		return nil
	}
	var tokens []lexer.Token
	var edits []diag.Edit
	labelled := false
	for i, t := range p.tokens {
		mark := t.Type == typeComma || t.Type == typeColon
		if mark && (!labelled || p.tokens[significantBefore(p.tokens, i)].Type == typeString) {
			edits = append(edits, diag.Edit{Span: tokenSpan(p.file, t)})
			continue
		}
		labelled = labelled || t.Type == typeString
		tokens = append(tokens, t)
	}
	_, f := p.explain()
	f.Message = "`" + p.token().Value + "` stands in the row of a way before what it feeds; number, rating, label and load follow without marks"
	f.Cure = "take `" + p.token().Value + "` out: `" + shape("way") + "`"
	f.Edits = edits
	return []repair{{tokens, InfoUnreadable, f}}
}

// zeroMissing tries `.5` as 0.5.
func (p place) zeroMissing() []repair {
	t := p.token()
	if t.Type != typeDot || p.at+1 >= len(p.tokens) || p.tokens[p.at+1].Type != typeNumber {
		return nil
	}
	number := p.tokens[p.at+1]
	whole := instead(t, typeNumber, "0."+number.Value)
	return []repair{{
		slices.Concat(p.tokens[:p.at], []lexer.Token{whole}, p.tokens[p.at+2:]), InfoUnreadable,
		diag.Finding{
			Span:    p.span().Join(tokenSpan(p.file, number)),
			Message: "a number begins with a figure, not with its point",
			Cure:    "write " + whole.Value,
			Edits:   []diag.Edit{{Span: p.span(), New: "0."}},
		},
	}}
}

// without tries to leave the token out.
func (p place) without() []repair {
	t := p.token()
	r := repair{tokens: p.with(p.at)}
	switch t.Type {
	case typeColon, typeComma, typeRBracket, typeDot, typeRange, typeLBrace:
		info, f := p.explain()
		f.Cure = "take `" + t.Value + "` out"
		f.Edits = []diag.Edit{{Span: p.span()}}
		r.info, r.finding = info, f
	}
	return []repair{r}
}

// withoutTail tries to leave out what stands from before the failure to the
// end, so that what was said before it counts.
func (p place) withoutTail() []repair {
	var out []repair
	end := p.at
	for range 3 {
		for end > 0 && isTrivia(p.tokens[end-1]) {
			end--
		}
		if end > 0 {
			out = append(out, repair{tokens: p.tokens[:end]})
		}
		end--
	}
	return out
}

// with replaces the token at i, or takes it out.
func (p place) with(i int, replacement ...lexer.Token) []lexer.Token {
	return slices.Concat(p.tokens[:i], replacement, p.tokens[i+1:])
}

func (p place) inserted(t lexer.Token) []lexer.Token {
	return slices.Concat(p.tokens[:p.at], []lexer.Token{t}, p.tokens[p.at:])
}
