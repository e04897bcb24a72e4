package resolve

import (
	"slices"

	"strake/lang/circuit"
	"strake/lang/diag"
	"strake/lang/syntax"
)

// declareItem makes the items of a statement's head, and of the heads in a
// board's rows.
func (r *resolver) declareItem(s *syntax.Item) {
	r.declare(&s.Head, statusOf(s.Status, circuit.Fitted))
	for i := range s.Rows {
		row := &s.Rows[i]
		if row.Way == nil {
			continue
		}
		status := statusOf(row.Status, statusOf(s.Status, circuit.Fitted))
		if row.Way.Head != nil && row.Way.Head.Ref != nil {
			r.declare(row.Way.Head, status)
		}
		r.declareChain(row.Way.Chain, status)
	}
}

// declareRun makes the items that a run describes in place.
func (r *resolver) declareRun(s *syntax.Run) {
	status := statusOf(s.Status, circuit.Fitted)
	if s.Start.Head != nil {
		r.declare(s.Start.Head, statusOf(s.Start.Status, status))
	}
	r.declareChain(s.Chain, status)
}

func (r *resolver) declareChain(chain []syntax.Link, status circuit.Status) {
	for i := range chain {
		if land := &chain[i].Land; land.Head != nil {
			r.declare(land.Head, statusOf(land.Status, status))
		}
	}
}

// declare makes the items of one head, several when its reference is a range.
func (r *resolver) declare(h *syntax.Head, status circuit.Status) {
	if h.Ref == nil {
		r.heads[h] = []*circuit.Item{r.ghost("", h.Span)}
		return
	}
	if r.tellKindBehind(h) {
		return
	}
	model, kind := r.model(h, status)
	for _, name := range r.namesIn(h.Ref) {
		it := *model
		it.Ref = name
		it.Ports = portsOf(kind)
		if before := r.items[name]; before != nil {
			f := r.say(doubleName, h.Ref.Span, "give one of them another reference, such as `"+r.freeRef(name)+"`", "there are two things `%s`; if this is the one that is described elsewhere, write `%s` alone", name, name)
			related(f, before.RefSpan, "described here before")
			r.heads[h] = append(r.heads[h], r.ghost(name, h.Ref.Span))
			continue
		}
		if kind != nil && kindNamed(name) != nil {
			r.say(kindAsName, h.Ref.Span, "choose another reference", "`%s` is a kind, so nothing can be called so", name)
		}
		added := &it
		r.items[name] = added
		r.kinds[added] = kind
		r.sys.Items = append(r.sys.Items, added)
		r.heads[h] = append(r.heads[h], added)
	}
	if h.Ref.Port != nil && len(r.heads[h]) > 0 && kind != nil {
		r.useOptionalPort(r.heads[h][0], h.Ref.Port.Text)
	}
}

// tellKindBehind finds a kind that stands behind its reference, and mends it; and
// a thing that is described elsewhere and followed by another word, which it
// takes for that thing: then it is true.
func (r *resolver) tellKindBehind(h *syntax.Head) bool {
	word := h.Kind.Text
	if kindNamed(word) != nil || r.parts[word] != nil || h.Ref.Last != nil || h.Ref.Port != nil {
		return false
	}
	behind := h.Ref.First
	span := h.Kind.Span.Join(behind.Span)
	if kindNamed(behind.Text) != nil || r.parts[behind.Text] != nil {
		text := behind.Text + " " + word
		f := r.say(unknownKind, span, "write `"+text+"`", "the kind stands before its reference, not behind it")
		f.Edits = []diag.Edit{{Span: span, New: text}}
		h.Kind, h.Ref = behind, &syntax.Reference{Span: h.Kind.Span, First: h.Kind}
		return false
	}
	it := r.items[word]
	if it == nil {
		return false
	}
	text := word + "." + behind.Text
	f := r.say(unknownKind, behind.Span, "write a cable in brackets between two things: `"+word+" [] "+behind.Text+"`",
		"`%s` follows `%s`, which is described elsewhere; only a cable in brackets follows a reference", behind.Text, word)
	related(f, it.RefSpan, "`%s` is described here", word)
	if isPole(behind.Text) || it.HasPort(behind.Text) {
		f.Cure = "write `" + text + "`"
		f.Edits = []diag.Edit{{Span: span, New: text}}
	}
	r.heads[h] = []*circuit.Item{r.ghost(word, span)}
	return true
}

// model is the item of a head without its reference.
func (r *resolver) model(h *syntax.Head, status circuit.Status) (*circuit.Item, *Kind) {
	kind, part := r.kindOf(h.Kind)
	it := &circuit.Item{
		Status: status, Span: h.Span,
		Domain: r.domainNamed(h.Domain), DomainSaid: h.Domain != nil,
		Place: r.placeNamed(h.Place), PlaceSaid: h.Place != nil,
		Broken: kind == nil,
	}
	it.RefSpan = h.Kind.Span
	if h.Ref != nil {
		it.RefSpan = h.Ref.Span
	}
	if h.Label != nil {
		it.Label = h.Label.Text
	}
	if it.DomainSaid && it.Domain == nil {
		it.Broken = true
	}
	if kind == nil {
		return it, nil
	}
	it.Kind = circuit.Kind(kind.Name)
	it.Facts.InNegative = it.Kind == "shunt"
	if part != nil {
		it.Part = part.name.Text
		it.Facts = part.facts
		it.Facts.InNegative = it.Facts.InNegative || it.Kind == "shunt"
		it.Broken = it.Broken || part.broken
	}
	if !read(r, vocabularyOf(kind), h.List, &it.Facts) {
		it.Broken = true
	}
	return it, kind
}

// portsOf is the terminals of a new item of a kind.
func portsOf(k *Kind) []circuit.Port {
	var list []circuit.Port
	if k != nil {
		for _, p := range k.Ports {
			if !p.Optional {
				list = append(list, circuit.Port{Name: p.Name})
			}
		}
	}
	return list
}

// useOptionalPort adds a port that is there only when the text uses it. The
// second of two inputs or outputs replaces the undivided one.
func (r *resolver) useOptionalPort(it *circuit.Item, name string) {
	kind := r.kinds[it]
	if kind == nil || it.HasPort(name) {
		return
	}
	for _, p := range kind.Ports {
		if p.Name == name && p.Optional {
			it.Ports = append(it.Ports, circuit.Port{Name: name})
			order := func(q circuit.Port) int {
				return slices.IndexFunc(kind.Ports, func(row PortRow) bool { return row.Name == q.Name })
			}
			slices.SortFunc(it.Ports, func(a, b circuit.Port) int { return order(a) - order(b) })
		}
	}
}

var statuses = map[string]circuit.Status{
	"fitted": circuit.Fitted, "third-party": circuit.ThirdParty, "prepared": circuit.Prepared,
	"owner": circuit.Owner, "removed": circuit.Removed,
}

// statusOf is the status that a word states, or the one that stands otherwise.
func statusOf(w *syntax.Word, otherwise circuit.Status) circuit.Status {
	if w == nil {
		return otherwise
	}
	return statuses[w.Text]
}
