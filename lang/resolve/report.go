package resolve

import (
	"fmt"
	"slices"
	"strings"
	"unicode"

	"strake/lang/circuit"
	"strake/lang/diag"
	"strake/lang/source"
	"strake/lang/syntax"
)

// say makes a finding of a kind. cure may be empty.
func (r *resolver) say(info diag.Info, span source.Span, cure, message string, args ...any) *diag.Finding {
	r.findings = append(r.findings, info.At(diag.Finding{
		Message: fmt.Sprintf(message, args...),
		Span:    span,
		Cure:    cure,
	}))
	return &r.findings[len(r.findings)-1]
}

// related adds a second place to a finding.
func related(f *diag.Finding, span source.Span, message string, args ...any) {
	if !span.IsZero() {
		f.Related = append(f.Related, diag.Related{Span: span, Message: fmt.Sprintf(message, args...)})
	}
}

// nearest is the candidate that a word was probably meant to be. Short words
// have no near ones by their letters alone, but one or two letters too many or
// too few at the end are a slip.
func nearest(word string, candidates []string) string {
	for _, c := range candidates {
		longer, shorter := c, word
		if len(longer) < len(shorter) {
			longer, shorter = shorter, longer
		}
		rest, ok := strings.CutPrefix(longer, shorter)
		if ok && shorter != "" && rest != "" && len(rest) <= 2 && strings.IndexFunc(rest, func(r rune) bool { return !unicode.IsLetter(r) }) < 0 {
			return c
		}
	}
	return diag.Nearest(word, candidates)
}

// didYouMean is the cure for a misspelt word, with its edit; empty when nothing is near.
func didYouMean(f *diag.Finding, span source.Span, word string, candidates []string) string {
	near := nearest(word, candidates)
	if near == "" {
		return ""
	}
	f.Cure = fmt.Sprintf("did you mean `%s`?", near)
	f.Edits = []diag.Edit{{Span: span, New: near}}
	return near
}

// ghost stands for a thing that could not be resolved. Cables may land on it;
// they are left out at the end.
func (r *resolver) ghost(ref string, span source.Span) *circuit.Item {
	it := &circuit.Item{Ref: ref, Broken: true, Span: span, RefSpan: span}
	r.ghosts[it] = true
	return it
}

// isUnread tells a word that stands where nothing could be read: what seems to
// be missing may well be described there.
func (r *resolver) isUnread(word string) bool { return r.unread[word] }

// unknownThings says once for each name that nothing has it; names of one range
// are one mistake, known are those of the range that there are.
func (r *resolver) unknownThings(names, known []string, span source.Span) {
	var fresh []string
	for _, name := range names {
		if i, ok := r.missing[name]; ok {
			if at := &r.findings[i]; len(at.Related) == 0 || at.Related[len(at.Related)-1].Span != span {
				related(at, span, "`%s` stands here, too", name)
			}
		} else if !r.isUnread(name) {
			fresh = append(fresh, name)
		}
	}
	if len(fresh) == 0 {
		return
	}
	name := fresh[0]
	f := r.say(unknownName, span, fmt.Sprintf("describe `%s` where it first stands, or correct the name", name),
		"nothing here is called %s", alternatives(fresh))
	near, alike := r.nearestThing(name), r.alikeThing(name)
	kinds, _ := tradeKind(name)
	switch {
	case len(kinds) == 1 && near == nil && len(known) == 0 && name == strings.ToLower(name):
		f.Cure = fmt.Sprintf("a thing has a reference, a letter and digits: describe it, as in `%s %s9 \"%s\"`, and write `%s9` here", kinds[0], strings.ToUpper(kinds[0][:1]), strings.ToUpper(name[:1])+name[1:], strings.ToUpper(kinds[0][:1]))
	case len(known) > 0:
		f.Cure = fmt.Sprintf("there %s; correct the range, or describe `%s`", are(known), name)
	case near != nil && len(fresh) == 1:
		f.Cure = fmt.Sprintf("did you mean `%s`?", near.Ref)
		f.Edits = []diag.Edit{{Span: span, New: near.Ref}}
		related(f, near.RefSpan, "`%s` is described here", near.Ref)
	case near != nil:
		related(f, near.RefSpan, "`%s` is described here", near.Ref)
	case r.places[name] != nil:
		f.Message = fmt.Sprintf("`%s` is a place; a thing that stands there is meant here", name)
		related(f, r.places[name].Span, "the place")
	case r.domains[name] != nil:
		f.Message = fmt.Sprintf("`%s` is a domain; only cables join things, so a bus or another thing is meant here", name)
		related(f, r.domains[name].Span, "the domain")
	case alike != nil && len(fresh) == 1:
		// No edit: P2 may well be a second pump that is not described yet.
		f.Cure = fmt.Sprintf("did you mean `%s`? if not, describe `%s` where it first stands", alike.Ref, name)
		related(f, alike.RefSpan, "`%s` is described here", alike.Ref)
	}
	for _, name := range fresh {
		r.missing[name] = len(r.findings) - 1
	}
}

// nearestThing is the item that a name was probably meant to be, or nil.
func (r *resolver) nearestThing(name string) *circuit.Item {
	var refs []string
	for _, it := range r.sys.Items {
		refs = append(refs, it.Ref)
		if strings.EqualFold(it.Ref, name) {
			return it
		}
	}
	if near := nearest(name, refs); near != "" && !plainlyOther(near, name) {
		return r.sys.Item(near)
	}
	return nil
}

// alikeThing is the item whose reference differs from a name by one sign of the
// same sort behind the first, as WB from WV and P1 from P2; the first in natural
// order, so that the text's own order does not matter.
func (r *resolver) alikeThing(name string) *circuit.Item {
	var best *circuit.Item
	for _, it := range r.sys.Items {
		if oneSignOff(it.Ref, name) && (best == nil || circuit.Compare(it.Ref, best.Ref) < 0) {
			best = it
		}
	}
	return best
}

func oneSignOff(a, b string) bool {
	x, y := []rune(a), []rune(b)
	if len(x) != len(y) || x[0] != y[0] {
		return false
	}
	off := 0
	for i := range x {
		switch {
		case x[i] == y[i]:
		case unicode.IsDigit(x[i]) != unicode.IsDigit(y[i]):
			return false
		default:
			off++
		}
	}
	return off == 1
}

// are says which of a range there are.
func are(known []string) string {
	if len(known) == 1 {
		return "is only `" + known[0] + "`"
	}
	return "are " + joined(quoted(known), "and")
}

// editInsert puts a text in at a place.
func editInsert(at source.Span, text string) diag.Edit { return diag.Edit{Span: at, New: text} }

// alternatives prints words as `a`, `b` or `c`.
func alternatives(words []string) string {
	quoted := make([]string, len(words))
	for i, w := range words {
		quoted[i] = "`" + w + "`"
	}
	return joined(quoted, "or")
}

func joined(words []string, last string) string {
	switch len(words) {
	case 0:
		return "nothing"
	case 1:
		return words[0]
	}
	return strings.Join(words[:len(words)-1], ", ") + " " + last + " " + words[len(words)-1]
}

// article is the word with `a` or `an` before it.
func article(word string) string {
	if word != "" && strings.ContainsRune("aeiouAEIOU", rune(word[0])) && !strings.HasPrefix(word, "unit") || word == "rcd" || word == "rcbo" {
		return "an " + word
	}
	return "a " + word
}

// plural is a count with its noun.
func plural(n int, noun string) string {
	if n == 1 {
		return fmt.Sprintf("%d %s", n, noun)
	}
	return fmt.Sprintf("%d %ss", n, noun)
}

// place finds a place that an item names. One that is not declared is made,
// unless it looks like a misspelt one.
func (r *resolver) placeNamed(w *syntax.Word) *circuit.Place {
	if w == nil {
		return nil
	}
	r.used["place "+w.Text] = true
	if p := r.places[w.Text]; p != nil {
		return p
	}
	var declared []string
	for _, p := range r.sys.Places {
		if !p.Undeclared {
			declared = append(declared, p.Name)
		}
	}
	p := &circuit.Place{Name: w.Text, Undeclared: true, Span: w.Span}
	r.places[w.Text] = p
	near := nearest(w.Text, declared)
	if near == "" || r.isUnread(w.Text) || plainlyOther(near, w.Text) {
		r.sys.Places = append(r.sys.Places, p)
		return p
	}
	f := r.say(unknownPlace, w.Span, "", "no place is called `%s`", w.Text)
	f.Cure = fmt.Sprintf("did you mean `%s`? if it is another place, declare it: `place %s`", near, w.Text)
	f.Edits = []diag.Edit{{Span: w.Span, New: near}}
	related(f, r.places[near].Span, "`%s` is declared here", near)
	r.used["place "+near] = true
	return p
}

// tellUndeclared finds places that are named alone, in a craft that declares others.
func (r *resolver) tellUndeclared() {
	if !slices.ContainsFunc(r.sys.Places, func(p *circuit.Place) bool { return !p.Undeclared }) {
		return
	}
	for _, p := range r.sys.Places {
		if p.Undeclared {
			r.say(placeNotDeclared, p.Span, fmt.Sprintf("declare it with its temperature, as in `place %s: 30 degC`, or name a place that is declared", p.Name),
				"the place `%s` is not declared; it counts at 40 °C", p.Name)
		}
	}
}

// plainlyOther tells names that differ by their number, as hold1 and hold2 do:
// these are two names, not a slip.
func plainlyOther(a, b string) bool {
	x, n := splitNumber(a)
	y, m := splitNumber(b)
	return x == y && n != m
}

// domainNamed finds a domain that an item names.
func (r *resolver) domainNamed(w *syntax.Word) *circuit.Domain {
	if w == nil {
		return nil
	}
	r.used["domain "+w.Text] = true
	if d, ok := r.domains[w.Text]; ok {
		if i, told := r.missing["domain "+w.Text]; d == nil && told {
			related(&r.findings[i], w.Span, "`%s` stands here, too", w.Text)
		}
		return d
	}
	if r.isUnread(w.Text) {
		return nil
	}
	var names []string
	for _, d := range r.sys.Domains {
		names = append(names, d.Name)
	}
	f := r.say(unknownDomain, w.Span, fmt.Sprintf("declare it, as in `domain %s: dc 12 V, 10.5 V to 14.4 V`", w.Text), "no domain is called `%s`", w.Text)
	if near := didYouMean(f, w.Span, w.Text, names); near != "" {
		related(f, r.domains[near].Span, "`%s` is declared here", near)
		r.used["domain "+near] = true
	} else if r.places[w.Text] != nil {
		f.Message += "; `in` names a domain, `at` a place"
		f.Cure = fmt.Sprintf("write `at %s`", w.Text)
	}
	r.missing["domain "+w.Text] = len(r.findings) - 1
	r.domains[w.Text] = nil
	return nil
}

// tellCases finds references that differ by case alone.
func (r *resolver) tellCases() {
	byFolded := map[string]*circuit.Item{}
	for _, it := range r.sys.Items {
		folded := strings.ToLower(it.Ref)
		if other := byFolded[folded]; other != nil {
			f := r.say(namesDifferByCase, it.RefSpan, fmt.Sprintf("call it `%s`, or another name", r.freeRef(it.Ref)),
				"`%s` and `%s` differ by case alone, and would be mistaken for each other on a label", it.Ref, other.Ref)
			f.Edits = []diag.Edit{{Span: it.RefSpan, New: r.freeRef(it.Ref)}}
			related(f, other.RefSpan, "`%s`", other.Ref)
			continue
		}
		byFolded[folded] = it
	}
}

// freeRef is a reference like this one that nothing has.
func (r *resolver) freeRef(like string) string {
	prefix := strings.TrimRight(like, "0123456789")
	for n := 2; ; n++ {
		name := fmt.Sprintf("%s%d", prefix, n)
		if !slices.ContainsFunc(r.sys.Items, func(it *circuit.Item) bool { return strings.EqualFold(it.Ref, name) }) {
			return name
		}
	}
}

// tellUnused finds names of the craft's own file that nothing uses.
func (r *resolver) tellUnused() {
	for _, d := range r.sys.Domains {
		if !r.used["domain "+d.Name] {
			r.unused("domain", d.Name, d.Span)
		}
	}
	for _, p := range r.sys.Places {
		if !p.Undeclared && !r.used["place "+p.Name] {
			r.unused("place", p.Name, p.Span)
		}
	}
	for _, p := range r.ownParts() {
		if !r.used["part "+p.name.Text] {
			r.unused("part", p.name.Text, p.name.Span)
		}
	}
}

func (r *resolver) unused(what, name string, span source.Span) {
	if r.isUnread(name) {
		return // a statement that could not be read may use it
	}
	r.say(nameNotUsed, span, fmt.Sprintf("take the line out, or write the %s where it belongs", what), "nothing uses the %s `%s`", what, name)
}
