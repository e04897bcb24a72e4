package syntax

// From the grammar's nodes to the tree's.

import (
	"strings"

	"strake/lang/diag"
	"strake/lang/source"
)

type converter struct {
	file     *source.File
	findings []diag.Finding
	unread   []Word // for File.Unread
	quiet    bool   // what is converted was reported already
}

func (c *converter) say(f diag.Finding) {
	if !c.quiet {
		c.findings = append(c.findings, f)
	}
}

func (e extent) reach() extent { return e }

type spanned interface{ reach() extent }

func (c *converter) span(n spanned) source.Span {
	e := n.reach()
	// Where words were read in another order than they stand, an end may lie before its start.
	return source.Span{File: c.file, Start: e.Pos.Offset, End: max(e.Pos.Offset, e.EndPos.Offset)}
}

func (c *converter) name(n *gName) *Word {
	if n == nil {
		return nil
	}
	return &Word{Text: n.Text, Span: c.span(n)}
}

func (c *converter) word(n *gWord) *Word {
	if n == nil {
		return nil
	}
	return &Word{Text: n.Text, Span: c.span(n)}
}

func (c *converter) number(n *gNumber) *Word {
	if n == nil {
		return nil
	}
	return &Word{Text: n.Text, Span: c.span(n)}
}

func (c *converter) date(n *gDate) *Word {
	if n == nil {
		return nil
	}
	return &Word{Text: n.Text, Span: c.span(n)}
}

func (c *converter) status(n *gStatus) *Word {
	if n == nil {
		return nil
	}
	return &Word{Text: n.Text, Span: c.span(n)}
}

func (c *converter) port(n *gPortWord) *Word {
	if n == nil {
		return nil
	}
	return &Word{Text: n.Text, Span: c.span(n)}
}

func (c *converter) label(n *gLabel) *Label {
	if n == nil {
		return nil
	}
	return &Label{Text: unquote(n.Text), Span: c.span(n)}
}

// unquote takes the quotes off; a label that was left open has only the first.
func unquote(s string) string {
	s = strings.TrimPrefix(s, `"`)
	return strings.TrimSuffix(strings.TrimRight(s, "\r"), `"`)
}

func (c *converter) reference(n *gReference) *Reference {
	if n == nil {
		return nil
	}
	r := &Reference{
		Span: c.span(n), First: *c.name(n.First), Last: c.name(n.Last),
		Port: c.port(n.Port), Port2: c.port(n.Port2), To: c.number(n.To),
	}
	return r
}

func (c *converter) references(list []*gReference) []Reference {
	var out []Reference
	for _, n := range list {
		out = append(out, *c.reference(n))
	}
	return out
}

func (c *converter) quantity(n *gQuantity) *Quantity {
	q := &Quantity{Span: c.span(n), About: n.About, Unknown: n.Unknown}
	if n.Number != nil {
		q.Number = strings.Replace(n.Number.Text, "−", "-", 1)
	}
	if n.Unit != nil {
		q.Unit = &Word{Text: n.Unit.Text, Span: c.span(n.Unit)}
	}
	return q
}

func (c *converter) cores(n *gCores) *Cores {
	cores := &Cores{Span: c.span(n)}
	mark := strings.IndexAny(n.Text, "GX") // the token's own pattern has exactly one
	cores.Count, cores.Protect, cores.Area = n.Text[:mark], n.Text[mark] == 'G', n.Text[mark+1:]
	return cores
}

func (c *converter) term(n *gTerm) Term {
	t := Term{Span: c.span(n)}
	switch {
	case n.Date != nil:
		t.Date = c.date(n.Date)
	case n.Cores != nil:
		t.Cores = c.cores(n.Cores)
	case n.Label != nil:
		t.Label = c.label(n.Label)
	case n.Qty != nil:
		t.Qty = c.quantity(n.Qty)
	default:
		w := n.Word
		t.Word = &Reference{
			Span: c.span(w), First: *c.word(w.First), Last: c.name(w.Last),
			Port: c.port(w.Port), Port2: c.port(w.Port2), To: c.number(w.To),
		}
	}
	return t
}

func (c *converter) wordTerm(w *Word) Term {
	return Term{Span: w.Span, Word: &Reference{Span: w.Span, First: *w}}
}

func (c *converter) quantityTerm(n *gQuantity) Term {
	return Term{Span: c.span(n), Qty: c.quantity(n)}
}

func (c *converter) list(list []*gProperty) []Property {
	var out []Property
	for _, p := range list {
		property := Property{Span: c.span(p)}
		for _, t := range p.Terms {
			property.Terms = append(property.Terms, c.term(t))
		}
		out = append(out, property)
	}
	return out
}

func (c *converter) head(n *gHead) *Head {
	if n == nil {
		return nil
	}
	h := &Head{
		Span: c.span(n), Kind: *c.name(n.Kind), Ref: c.reference(n.Ref), Label: c.label(n.Label),
		Domain: c.name(n.Domain), Place: c.name(n.Place), List: c.list(n.List),
	}
	for i := range h.List {
		c.placeInList(h, &h.List[i])
	}
	return h
}

// placeInList reports `at PLACE` behind a property, and reads it as the head's.
func (c *converter) placeInList(h *Head, p *Property) {
	for i := 1; i+1 < len(p.Terms); i++ {
		at, name := p.Terms[i].Word, p.Terms[i+1].Word
		if at == nil || at.First.Text != "at" || name == nil {
			continue
		}
		before := h.Kind.Span
		for _, s := range []source.Span{referenceSpan(h.Ref), labelSpan(h.Label), wordSpan(h.Domain), wordSpan(h.Place)} {
			before = before.Join(s)
		}
		text := "at " + name.First.Text
		out := diag.Edit{Span: source.Span{File: c.file, Start: p.Terms[i-1].Span.End, End: name.Span.End}}
		f := diag.Finding{
			Span:    at.Span.Join(name.Span),
			Message: "a second place stands after the properties",
			Cure:    "take `" + text + "` out",
			Edits:   []diag.Edit{out},
		}
		if h.Place == nil {
			h.Place = &name.First
			f.Message, f.Cure = "the place stands after the properties", "write `"+text+"` before the colon"
			f.Edits = []diag.Edit{{Span: source.Span{File: c.file, Start: before.End, End: before.End}, New: " " + text}, out}
		}
		c.say(InfoHeadOrder.At(f))
		p.Terms = append(p.Terms[:i:i], p.Terms[i+2:]...)
		return
	}
}

func referenceSpan(r *Reference) source.Span {
	if r == nil {
		return source.Span{}
	}
	return r.Span
}

func labelSpan(l *Label) source.Span {
	if l == nil {
		return source.Span{}
	}
	return l.Span
}

func wordSpan(w *Word) source.Span {
	if w == nil {
		return source.Span{}
	}
	return w.Span
}

// headWithReference is a head where only a way's may do without a reference.
func (c *converter) headWithReference(n *gHead) *Head {
	h := c.head(n)
	switch {
	case h == nil:
	case h.Ref == nil:
		c.unread = append(c.unread, h.Kind)
		c.say(withoutReference(h))
	case c.rangeWithHyphen(h.Ref):
	case h.Ref.First.Text != plain(h.Ref.First.Text):
		old, cured := h.Ref.First.Text, plain(h.Ref.First.Text)
		c.say(InfoReferenceForm.At(diag.Finding{
			Span:    h.Ref.First.Span,
			Message: "`" + old + "` cannot be a reference: it is a letter, then letters and digits only",
			Cure:    "write `" + cured + "`, here and wherever it is named",
			Edits:   []diag.Edit{{Span: h.Ref.First.Span, New: cured}},
		}))
		c.unread = append(c.unread, h.Ref.First)
		h.Ref.First.Text = cured
	}
	return h
}

// rangeWithHyphen reports W1-W3 in a head, and reads it as a range.
func (c *converter) rangeWithHyphen(r *Reference) bool {
	first, last, ok := strings.Cut(r.First.Text, "-")
	prefix := strings.TrimRight(first, "0123456789")
	from := first[len(prefix):]
	to := strings.TrimPrefix(last, prefix)
	if !ok || r.Last != nil || prefix == "" || from == "" || to == "" || strings.Trim(to, "0123456789") != "" || len(from) > len(to) || len(from) == len(to) && from >= to {
		return false
	}
	text := first + ".." + prefix + to
	c.say(InfoSpelling.At(diag.Finding{
		Span:    r.First.Span,
		Message: "`" + r.First.Text + "` is a range; two points stand between the first and the last",
		Cure:    "write `" + text + "`",
		Edits:   []diag.Edit{{Span: r.First.Span, New: text}},
	}))
	r.First.Text, r.Last = first, &Word{Text: prefix + to, Span: r.First.Span}
	return true
}

// withoutReference says what a head with one word lacks: its reference, its
// kind, or a right spelling.
func withoutReference(h *Head) diag.Finding {
	word := h.Kind.Text
	if meant := diag.Nearest(word, []string{"capped", "untraced"}); meant != "" {
		return InfoMisspelt.At(diag.Finding{
			Span:    h.Kind.Span,
			Message: "`" + word + "` does not fit here",
			Cure:    "did you mean `" + meant + "`?",
			Edits:   []diag.Edit{{Span: h.Kind.Span, New: meant}},
		})
	}
	if strings.ToLower(word) != word {
		return InfoNoReference.At(diag.Finding{
			Span:    h.Kind.Span,
			Message: "`" + word + "` is described here without its kind",
			Cure:    "write the kind before it, as `fuse " + word + "`; what is described elsewhere is named here by its reference alone",
		})
	}
	return InfoNoReference.At(diag.Finding{
		Span:    h.Kind.Span,
		Message: "this `" + word + "` has no reference",
		Cure:    "write a reference after the kind, as `" + word + " X1`",
	})
}

// plain is a name without what a reference may not hold.
func plain(s string) string { return noJoints.Replace(s) }

var noJoints = strings.NewReplacer("-", "", "_", "")

func (c *converter) bracket(n *gBracket) *Bracket {
	if n == nil {
		return nil
	}
	b := &Bracket{Span: c.span(n), Ref: c.name(n.Ref)}
	for _, w := range n.List {
		p := Property{Span: c.span(w)}
		switch {
		case w.Taker != nil:
			p.Terms = []Term{c.wordTerm(c.word(w.Taker)), c.term(w.Taken)}
		case w.Cores != nil:
			p.Terms = []Term{{Span: c.span(w.Cores), Cores: c.cores(w.Cores)}}
		case w.Qty != nil:
			p.Terms = []Term{c.quantityTerm(w.Qty)}
			if w.Parallel != nil {
				p.Terms = append(p.Terms, c.wordTerm(c.name(w.Parallel)))
			}
			if w.Each != nil {
				p.Terms = append(p.Terms, c.quantityTerm(w.Each))
			}
		default:
			p.Terms = []Term{c.wordTerm(c.word(w.Word))}
		}
		b.List = append(b.List, p)
	}
	return b
}

func (c *converter) landing(n *gLanding) Landing {
	if n == nil {
		return Landing{}
	}
	return Landing{
		Span: c.span(n), Status: c.status(n.Status), Head: c.headWithReference(n.Head), Ref: c.reference(n.Ref),
		Capped: c.name(n.Capped), Untraced: n.Untraced,
	}
}
