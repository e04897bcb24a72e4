package resolve

import (
	"fmt"
	"slices"
	"strings"

	"strake/lang/circuit"
	"strake/lang/diag"
	"strake/lang/quantity"
	"strake/lang/source"
	"strake/lang/syntax"
)

// A vocabulary is what a list may hold, and what messages call the owner of it.
// Kinds, cables, domains, places and the craft's rows all have one.
type vocabulary[T any] struct {
	owner string // "a fuse"
	words []entry[T]
}

// entry is one thing that a list may say.
type entry[T any] struct {
	name   string // what messages call it
	form   form
	states string // two entries of one list that state the same exclude each other; empty: may be repeated
	denies string // what else an entry excludes, as it states that there is none
	set    func(T, match)
}

// say is an entry of a vocabulary.
func say[T any](name, written string, set func(T, match)) entry[T] {
	return entry[T]{name: name, form: parseForm(written), states: name, set: set}
}

// vocabularyOf is the vocabulary of a kind.
func vocabularyOf(k *Kind) vocabulary[*circuit.Facts] {
	v := vocabulary[*circuit.Facts]{owner: article(k.Name)}
	for _, p := range k.Properties {
		v.words = append(v.words, entry[*circuit.Facts]{name: p.Name, form: p.form, states: p.states, set: p.set})
	}
	return v
}

// read sets what a list says. It reports every member that it cannot read and
// tells whether all could be.
func read[T any](r *resolver, v vocabulary[T], list []syntax.Property, into T) bool {
	sound := true
	said := map[string]source.Span{}
	for i := range list {
		e, m, ok := member(r, v, &list[i])
		if !ok {
			sound = false
			continue
		}
		before, twice := said[e.states]
		if !twice && e.denies != "" {
			before, twice = said[e.denies]
		}
		if twice && e.states != "" {
			cure := "keep one of the two"
			if e.name == "rating" && strings.Contains(list[i].Span.Text(), "kA") && takes(v, "breaks 1 kA") {
				cure = "write `breaks " + list[i].Span.Text() + "` for the current that it can break"
			} else if v.takesMilliamperes() {
				cure += "; a residual current is written in mA, as in `30 mA`"
			}
			f := r.say(saidTwice, list[i].Span, cure, "%s is stated twice for %s: `%s` and `%s`",
				e.name, v.owner, before.Text(), list[i].Span.Text())
			related(f, before, "stated here before")
			sound = false
			continue
		}
		said[e.states] = list[i].Span
		if e.denies != "" {
			said[e.denies] = list[i].Span
		}
		e.set(into, m)
	}
	return sound
}

// member finds what one member of a list says.
func member[T any](r *resolver, v vocabulary[T], p *syntax.Property) (entry[T], match, bool) {
	var best *miss
	var bestEntry entry[T]
	if len(p.Terms) == 0 {
		return bestEntry, match{}, false
	}
	for _, e := range v.words {
		m, why := e.form.fit(p.Terms)
		if why == nil {
			return e, m, true
		}
		if why.fitted > 0 && (best == nil || closer(why, best)) || best == nil && why.reason >= notWhole {
			best, bestEntry = why, e
		}
	}
	bare := p.Terms[0].Qty != nil && p.Terms[0].Qty.Unit == nil && len(p.Terms) == 1
	if tellTurned(r, v, p) || tellWays(r, v.owner, p) || tellUnknownUnit(r, p) || tellTradeWord(r, v, p) {
		return bestEntry, match{}, false
	}
	if best == nil || bare {
		tellUnknownMember(r, v, p)
	} else {
		tellMiss(r, v, p, bestEntry, best)
	}
	return bestEntry, match{}, false
}

// tellTurned finds a number that stands before the word that it belongs to.
func tellTurned[T any](r *resolver, v vocabulary[T], p *syntax.Property) bool {
	if len(p.Terms) != 2 || p.Terms[0].Qty == nil {
		return false
	}
	word, ok := plainWord(&p.Terms[1])
	text := word + " " + p.Terms[0].Span.Text()
	if !ok || !takes(v, text) {
		return false
	}
	f := r.say(unknownProperty, p.Span, "write `"+text+"`", "the number of `%s` stands behind the word", word)
	f.Edits = []diag.Edit{{Span: p.Span, New: text}}
	return true
}

// tellWays finds the number of a board's ways in its head.
func tellWays(r *resolver, owner string, p *syntax.Property) bool {
	if len(p.Terms) != 2 || p.Terms[0].Qty == nil || owner != article("board") {
		return false
	}
	if word, ok := plainWord(&p.Terms[1]); !ok || strings.TrimSuffix(word, "s") != "way" {
		return false
	}
	r.say(unknownProperty, p.Span, "take it out, and write `ways 1.."+p.Terms[0].Qty.Number+" is fuse` in the braces of the board", "how many ways a board has stands in a row of its own")
	return true
}

// tellUnknownUnit finds a number that is followed by a word like a unit.
func tellUnknownUnit(r *resolver, p *syntax.Property) bool {
	for i := 1; i < len(p.Terms); i++ {
		number := p.Terms[i-1].Qty
		word, ok := plainWord(&p.Terms[i])
		if !ok || number == nil || number.Unit != nil {
			continue
		}
		unit := unitLike(word)
		if unit == "" {
			continue
		}
		f := r.say(unknownUnit, p.Terms[i].Span, "", "`%s` is no unit", word)
		f.Cure = fmt.Sprintf("did you mean `%s`?", unit)
		f.Edits = []diag.Edit{{Span: p.Terms[i].Span, New: unit}}
		return true
	}
	return false
}

// notUnits are the words that follow plain numbers rightly.
var notUnits = []string{"pole", "poles", "phase", "phases", "in", "parallel", "times", "for", "every", "to", "way", "ways"}

// unitLike is the unit that a word was probably meant to be, or nothing.
func unitLike(word string) string {
	if slices.Contains(notUnits, word) {
		return ""
	}
	best := ""
	var all []string
	for _, u := range quantity.Units() {
		for _, s := range append([]string{u.Symbol}, u.Aliases...) {
			all = append(all, s)
			if strings.EqualFold(s, word) {
				return s
			}
			switch {
			case len(s) <= len(best):
			case len(s) > 1 && strings.HasPrefix(strings.ToLower(word), strings.ToLower(s)):
				best = s
			case len(word) <= 3 && strings.HasPrefix(word, s): // Aq is an A with something added
				best = s
			}
		}
	}
	if best != "" {
		return best
	}
	return diag.Nearest(word, all)
}

func (v vocabulary[T]) takesMilliamperes() bool {
	return slices.ContainsFunc(v.words, func(e entry[T]) bool { return e.form[0].slot == "mA" })
}

// closer tells whether a form came nearer to the terms than another.
func closer(a, b *miss) bool {
	if a.fitted != b.fitted {
		return a.fitted > b.fitted
	}
	return a.more && !b.more || a.reason > b.reason && !b.more
}

// tellMiss explains a member whose beginning is known.
func tellMiss[T any](r *resolver, v vocabulary[T], p *syntax.Property, e entry[T], why *miss) {
	example := alternatives(v.alike(e, why.fitted))
	switch {
	case why.more:
		done := source.Span{File: p.Span.File, Start: p.Span.Start, End: p.Terms[why.fitted-1].Span.End}
		f := r.say(unknownProperty, why.term.Span, "", "`%s` is complete before `%s`; members of a list are parted by commas",
			done.Text(), restOf(p, why.fitted))
		parted, ends := partedBy(v, p, why.fitted)
		if word := ofOneWord(v, p, why.fitted); word != "" { // `coil 24 V 2 A`
			f.Cure = fmt.Sprintf("write `%s, %s %s`, or take `%s` out", done.Text(), word, restOf(p, why.fitted), restOf(p, why.fitted))
			f.Edits = []diag.Edit{{Span: source.Span{File: done.File, Start: done.End, End: done.End}, New: ", " + word}}
			return
		}
		f.Cure = fmt.Sprintf("write `%s, %s`, or take `%s` out", done.Text(), parted, restOf(p, why.fitted))
		for _, end := range append([]int{done.End}, ends...) {
			f.Edits = append(f.Edits, diag.Edit{Span: source.Span{File: done.File, Start: end, End: end}, New: ","})
		}
	case why.term == nil && why.fitted == 0:
		r.say(unknownProperty, p.Span, "", "this member of the list is empty")
	case why.term == nil:
		r.say(valueMissing, p.Span, "write it in full, as in "+example, "`%s` is not complete: %s belongs after it", p.Span.Text(), why.want.wanted())
	case why.want.words != nil:
		word := termText(why.term)
		// None of the known ones may be named as if it were the same.
		f := r.say(unknownValue, why.term.Span, fmt.Sprintf("write one of these if it is what is there; otherwise leave `%s` out", p.Span.Text()),
			"`%s` is no %s that is known; known are %s", word, e.name, joined(quoted(why.want.words), "and"))
		if why.term.Label != nil && slices.ContainsFunc(why.want.words, func(w string) bool { return strings.EqualFold(w, word) }) {
			f.Cure = fmt.Sprintf("write `%s` without quotes", strings.ToLower(word))
			f.Edits = []diag.Edit{{Span: why.term.Span, New: strings.ToLower(word)}}
			return
		}
		didYouMean(f, why.term.Span, strings.ToLower(word), why.want.words)
	case why.want.word != "":
		word := termText(why.term)
		f := r.say(unknownProperty, why.term.Span, "write it as in "+example, "after `%s` the word `%s` is expected, not `%s`",
			before(p, why.fitted), why.want.word, word)
		didYouMean(f, why.term.Span, word, []string{why.want.word})
	default:
		tellNumber(r, e.name, example, why)
	}
}

// tellNumber explains a term that is not the number that is wanted.
func tellNumber(r *resolver, name, example string, why *miss) {
	found := why.term.Span.Text()
	cure := "write it as in " + example
	switch why.reason {
	case noUnit:
		r.say(unitMissing, why.term.Span, "write the unit, as in "+withNumber(example, found), "`%s` has no unit; %s needs %s", found, name, why.want.wanted())
	case otherUnit:
		r.say(wrongUnit, why.term.Span, cure, "%s needs %s, not `%s`", name, why.want.wanted(), found)
	case notWhole:
		r.say(impossibleNumber, why.term.Span, cure, "%s is a whole number from 1 to %d, not `%s`", name, largestCount, found)
	case outOfRange:
		if q := why.term.Qty; q.Unit != nil && (q.Unit.Text == "Mohm" || q.Unit.Text == "MΩ") {
			cure = fmt.Sprintf("write `%s mohm`: a small m is for thousandths, a capital M for millions", q.Number)
			f := r.say(impossibleNumber, why.term.Span, cure, "`%s` is %s million ohms, which no %s is", found, q.Number, name)
			f.Edits = []diag.Edit{{Span: q.Unit.Span, New: "mohm"}}
			return
		}
		if q := why.term.Qty; slots[why.want.slot].falls() && q.Unit != nil && strings.Trim(q.Number, "0.") != "" && !strings.HasPrefix(q.Number, "-") {
			turned := "-" + strings.TrimPrefix(q.Number, "+") + " " + q.Unit.Text
			if q.About {
				turned = "about " + turned
			}
			f := r.say(impossibleNumber, why.term.Span, "write `"+turned+"`", "`%s` cannot be: the colder a module is the higher its voltage, so %s is negative", found, name)
			f.Edits = []diag.Edit{{Span: why.term.Span, New: turned}}
			return
		}
		r.say(impossibleNumber, why.term.Span, cure, "`%s` cannot be: %s lies %s", found, name, slots[why.want.slot].limits())
	default:
		r.say(valueMissing, why.term.Span, cure, "%s needs %s, not `%s`", name, why.want.wanted(), found)
	}
}

// tellUnknownMember explains a member whose first term begins nothing that is known.
func tellUnknownMember[T any](r *resolver, v vocabulary[T], p *syntax.Property) {
	first := &p.Terms[0]
	switch {
	case first.Qty != nil && first.Qty.Unit == nil && !first.Qty.Unknown:
		found := first.Span.Text()
		list := v.numberExamples(false)
		if plain := v.numberExamples(true); len(plain) > 1 {
			list = plain
		}
		for i := range list {
			list[i] = withNumber(list[i], found)
		}
		f := r.say(unitMissing, first.Span, "write the unit, or the property that the number belongs to: "+alternatives(list),
			"`%s` has no unit, so it could be anything of %s", found, v.owner)
		if len(list) == 1 {
			f.Message = fmt.Sprintf("`%s` has no unit", found)
			f.Cure = fmt.Sprintf("write `%s`", list[0])
			f.Edits = []diag.Edit{{Span: first.Span, New: list[0]}}
		}
	case first.Qty != nil:
		what := first.Span.Text()
		if len(p.Terms) > 1 {
			what = p.Span.Text()
		}
		cure := "plain numbers of " + v.owner + " are written " + alternatives(v.plainExamples())
		if len(v.plainExamples()) == 0 {
			cure = "take it out; " + v.owner + " takes " + joined(quoted(v.examples()), "and")
		}
		r.say(wrongUnit, p.Span, cure, "%s has no plain number like `%s`", v.owner, what)
	case len(v.words) == 1 && v.words[0].form[0].words != nil:
		word, known := termText(first), v.words[0].form[0].words
		f := r.say(unknownValue, first.Span, "write one of these", "%s takes %s, not `%s`", v.owner, alternatives(known), word)
		didYouMean(f, first.Span, word, known)
	default:
		word := termText(first)
		f := r.say(unknownProperty, p.Span, "take it out; "+v.owner+" takes "+joined(quoted(v.examples()), "and"), "%s has no `%s`", v.owner, word)
		if others := otherOwners(word); len(others) > 3 {
			f.Message += "; " + joined(append(others[:2:2], "others"), "and") + " have"
		} else if len(others) > 1 {
			f.Message += "; " + joined(others, "and") + " have"
		} else if len(others) == 1 {
			f.Message += "; " + others[0] + " has"
		}
		didYouMean(f, first.Span, word, v.firstWords())
	}
}

// withNumber is an example, or several, with the number that was found in the
// place of their own.
func withNumber(example, found string) string {
	fields := strings.Split(example, " ")
	for i, word := range fields {
		if bare := strings.Trim(word, "`,"); bare != "" && strings.Trim(bare, "-.0123456789") == "" {
			fields[i] = strings.Replace(word, bare, found, 1)
		}
	}
	return strings.Join(fields, " ")
}

// alike is examples of all that begins as an entry does, up to one of its parts.
func (v vocabulary[T]) alike(e entry[T], fitted int) []string {
	list := []string{e.form.example()}
	for _, o := range v.words {
		if fitted > 0 && fitted < len(o.form) && o.form[0].word != "" && slices.EqualFunc(o.form[:fitted], e.form[:fitted], func(a, b part) bool { return a.word == b.word && a.slot == b.slot }) &&
			!slices.Contains(list, o.form.example()) {
			list = append(list, o.form.example())
		}
	}
	return list
}

func (v vocabulary[T]) examples() []string {
	var list []string
	for _, e := range v.words {
		list = append(list, e.form.example())
	}
	return list
}

// numberExamples is what of the vocabulary holds a number, or what is no more
// than a number with its unit.
func (v vocabulary[T]) numberExamples(plain bool) []string {
	var list []string
	for _, e := range v.words {
		if plain && (len(e.form) > 1 || slots[e.form[0].slot].base == "") {
			continue
		}
		if slices.ContainsFunc(e.form, func(p part) bool { return p.slot != "" && slots[p.slot].high > slots[p.slot].low }) {
			list = append(list, e.form.example())
		}
	}
	return list
}

func (v vocabulary[T]) plainExamples() []string {
	var list []string
	for _, e := range v.words {
		if e.form.plain() {
			list = append(list, e.form.example())
		}
	}
	return list
}

func (v vocabulary[T]) firstWords() []string {
	var list []string
	for _, e := range v.words {
		switch p := e.form[0]; {
		case p.word != "":
			list = append(list, p.word)
		default:
			list = append(list, p.words...)
		}
	}
	return list
}

// wanted says what belongs into a part of a form.
func (p part) wanted() string {
	switch {
	case p.word != "":
		return "`" + p.word + "`"
	case p.words != nil:
		return alternatives(p.words)
	}
	return slots[p.slot].name
}

// ofOneWord is the word with which a member begins, where numbers behind its end are
// a second member of the same word.
func ofOneWord[T any](v vocabulary[T], p *syntax.Property, from int) string {
	word, ok := plainWord(&p.Terms[0])
	again := slices.Concat(p.Terms[:1], p.Terms[from:])
	if !ok || p.Terms[from].Qty == nil || !slices.ContainsFunc(v.words, func(e entry[T]) bool { _, why := e.form.fit(again); return why == nil }) {
		return ""
	}
	return word
}

// partedBy is the terms of a member from a place on with commas where members
// end, and these ends; where no member can be read the rest stays whole.
func partedBy[T any](v vocabulary[T], p *syntax.Property, from int) (string, []int) {
	var texts []string
	var ends []int
	for from < len(p.Terms) {
		to := from
		for n := len(p.Terms); n > from && to == from; n-- {
			if slices.ContainsFunc(v.words, func(e entry[T]) bool { _, why := e.form.fit(p.Terms[from:n]); return why == nil }) {
				to = n
			}
		}
		if to == from {
			return strings.Join(append(texts, restOf(p, from)), ", "), ends
		}
		texts = append(texts, source.Span{File: p.Span.File, Start: p.Terms[from].Span.Start, End: p.Terms[to-1].Span.End}.Text())
		if to < len(p.Terms) {
			ends = append(ends, p.Terms[to-1].Span.End)
		}
		from = to
	}
	return strings.Join(texts, ", "), ends
}

// restOf and before are the terms of a member from, and up to, a place.
func restOf(p *syntax.Property, from int) string {
	return source.Span{File: p.Span.File, Start: p.Terms[from].Span.Start, End: p.Terms[len(p.Terms)-1].Span.End}.Text()
}

func before(p *syntax.Property, to int) string {
	return source.Span{File: p.Span.File, Start: p.Terms[0].Span.Start, End: p.Terms[to-1].Span.End}.Text()
}
