package syntax

// One function a form of statement: from the grammar's node to the tree's.

import (
	"strake/lang/diag"
	"strake/lang/source"
)

func (c *converter) craft(n *gCraft) *Craft {
	return &Craft{Span: c.span(n), Word: *c.word(n.Word), Name: *c.label(n.Name)}
}

func (c *converter) craftRow(n *gCraftRow) CraftRow {
	return CraftRow{Span: c.span(n), Key: *c.word(n.Key), List: c.list(n.List), Dated: c.date(n.Dated)}
}

func (c *converter) use(n *gUse) *Use { return &Use{Span: c.span(n), Path: *c.label(n.Path)} }

func (c *converter) domain(n *gDomain) *Domain {
	return &Domain{Span: c.span(n), Name: *c.name(n.Name), Label: c.label(n.Label), List: c.list(n.List)}
}

func (c *converter) place(n *gPlace) *Place {
	return &Place{Span: c.span(n), Name: *c.name(n.Name), Label: c.label(n.Label), Within: c.name(n.Within), List: c.list(n.List)}
}

func (c *converter) part(n *gPart) *Part {
	return &Part{Span: c.span(n), Name: *c.name(n.Name), Kind: *c.name(n.Kind), List: c.list(n.List)}
}

func (c *converter) item(n *gItem) *Item {
	i := &Item{Span: c.span(n), Status: c.status(n.Status), Head: *c.headWithReference(n.Head), Cable: c.bracket(n.Cable), Braces: n.Open}
	if n.Bank != nil {
		i.Bank = &Bank{
			Span: c.span(n.Bank), Members: c.references(n.Bank.Members),
			Form: *c.name(n.Bank.Form), Link: n.Bank.Link,
		}
	}
	return i
}

func (c *converter) ways(n *gWays) Row {
	w := &Ways{First: *c.number(n.First), Kind: *c.name(n.Kind), List: c.list(n.List)}
	w.Last = w.First
	if n.Last != nil {
		w.Last = *c.number(n.Last)
	}
	return Row{Span: c.span(n), Status: c.status(n.Status), Ways: w}
}

func (c *converter) wayHead(n *gWayHead) *Way {
	w := &Way{First: *c.number(n.First), Last: c.number(n.Last), Label: c.label(n.Label), Head: c.head(n.Head), List: c.list(n.List)}
	if n.Head != nil && n.Head.Kind.Text == "spare" && n.Head.Ref == nil {
		c.say(InfoUnreadable.At(diag.Finding{
			Span: c.span(n.Head.Kind), Message: "a spare way has no row", Cure: "take the row out: ways that are not listed are spare",
		}))
		w.Head = nil
	}
	if n.Label == nil && n.List != nil {
		c.say(InfoLabelMissing.At(diag.Finding{
			Span:    w.List[0].Span,
			Message: "what this way feeds is told without a label before it",
			Cure:    "write the way's label, as `way 1 5 A \"Cabin fan\" 30 W`",
		}))
	}
	if n.Label != nil && n.Protect == nil && len(w.List) > 0 {
		c.ratingBehindLabel(w)
	}
	for _, p := range n.Protect {
		property := Property{Span: c.span(p)}
		switch {
		case p.Taker != nil:
			property.Terms = []Term{c.wordTerm(c.name(p.Taker)), c.wordTerm(c.name(p.Taken))}
		case p.Usual != nil:
			property.Terms = []Term{c.wordTerm(c.word(p.Usual))}
		default:
			property.Terms = []Term{c.quantityTerm(p.Qty)}
			if p.Pole != nil {
				property.Terms = append(property.Terms, c.wordTerm(c.name(p.Pole)))
			}
		}
		w.Protect = append(w.Protect, property)
	}
	return w
}

// ratingBehindLabel reports what protects a way where what it feeds belongs, and
// reads it as if it stood before the label.
func (c *converter) ratingBehindLabel(w *Way) {
	terms := w.List[0].Terms
	if len(terms) < 2 || terms[0].Qty == nil || terms[0].Qty.Unit == nil || terms[0].Qty.Unit.Text != "A" || terms[1].Qty == nil {
		return
	}
	rating := terms[0].Span
	text := rating.Text()
	at := source.Span{File: c.file, Start: w.Label.Span.Start, End: w.Label.Span.Start}
	c.say(InfoHeadOrder.At(diag.Finding{
		Span:    rating,
		Message: "`" + text + "` protects the way and stands behind its label; behind it stands what the way feeds",
		Cure:    "write `" + text + " " + w.Label.Span.Text() + "`",
		Edits:   []diag.Edit{{Span: at, New: text + " "}, {Span: source.Span{File: c.file, Start: rating.Start, End: terms[1].Span.Start}}},
	}))
	w.Protect = append(w.Protect, Property{Span: rating, Terms: terms[:1:1]})
	w.List[0].Terms = terms[1:]
	w.List[0].Span.Start = terms[1].Span.Start
}

func (c *converter) wayChain(chain []*gWayLink) []Link {
	var out []Link
	for i, l := range chain {
		land := c.landing(l.Land)
		if l.Land == nil && i < len(chain)-1 {
			land = c.endsOnNothing(*c.bracket(l.Cable))
		}
		out = append(out, Link{Cable: *c.bracket(l.Cable), Land: land})
	}
	return out
}

// endsOnNothing reports a cable after which nothing is said.
func (c *converter) endsOnNothing(cable Bracket) Landing {
	c.say(InfoEndsOnNothing.At(diag.Finding{
		Span:    cable.Span,
		Message: "this cable ends on nothing",
		Cure:    "write after it what it lands on, or `capped at PLACE` for an end made safe, or `untraced`",
	}))
	return Landing{Span: cable.Span, Broken: true}
}

func (c *converter) run(n *gRun) *Run {
	r := c.runHead(&n.gRunHead)
	r.Span = c.span(n)
	for _, l := range n.Chain {
		r.Chain = append(r.Chain, Link{Cable: *c.bracket(l.Cable), Action: c.word(l.Action), Land: c.landing(l.Land)})
	}
	return r
}

func (c *converter) runHead(n *gRunHead) *Run {
	return &Run{Span: c.span(n), Status: c.status(n.Status), Verb: *c.word(n.Verb), Start: c.landing(n.Start)}
}

func (c *converter) interlock(n *gInterlock) *Interlock {
	return &Interlock{
		Span: c.span(n), First: *c.reference(n.First), Word: *c.name(n.Word),
		Second: *c.reference(n.Second), By: c.reference(n.By),
	}
}

func (c *converter) order(n *gOrder) *Order {
	return &Order{Span: c.span(n), Bar: *c.reference(n.Bar), Items: c.references(n.Items)}
}

func (c *converter) sheet(n *gSheet) *Sheet {
	s := &Sheet{Span: c.span(n), Number: *c.number(n.Number)}
	for _, k := range n.Spots {
		s.Spots = append(s.Spots, Spot{Span: c.span(k), Of: *c.reference(k.Of), X: *c.number(k.X), Y: *c.number(k.Y)})
	}
	return s
}

func (c *converter) condition(n *gNamedList) *Condition {
	return &Condition{Span: c.span(n), Name: *c.label(n.Name), List: c.list(n.List)}
}

func (c *converter) day(n *gNamedList) *Day {
	return &Day{Span: c.span(n), Name: *c.label(n.Name), List: c.list(n.List)}
}

// closers gives the author and the date that close a statement; a second of
// either is the author's slip and the last one counts.
func (c *converter) closers(list []*gCloser) (by *Label, dated *Word) {
	for _, n := range list {
		if n.By != nil {
			by = c.label(n.By)
		} else {
			dated = c.date(n.Dated)
		}
	}
	return by, dated
}

func (c *converter) measured(n *gMeasured) *Measured {
	m := &Measured{Span: c.span(n), Of: *c.reference(n.Of), List: c.list(n.List)}
	m.By, m.Dated = c.closers(n.Close)
	return m
}

func (c *converter) accept(n *gAccept) *Accept {
	a := &Accept{Span: c.span(n), Rule: *c.name(n.Rule), On: *c.reference(n.On), Because: *c.label(n.Because)}
	a.By, a.Dated = c.closers(n.Close)
	return a
}
