package resolve

import (
	"fmt"

	"strake/lang/circuit"
	"strake/lang/source"
	"strake/lang/syntax"
)

// readingWords is what can be measured, and acceptance tests ask for.
var readingWords = vocabulary[none]{owner: "a reading", words: []entry[none]{
	said("drop", "drop {V} at {A}"), said("drop", "drop {V}"),
	said("voltage", "voltage {V}"), said("current", "current {A}"),
	said("insulation", "insulation {Mohm} at {V}"), said("insulation", "insulation {Mohm}"),
	said("continuity", "continuity {ohm}"), said("resistance", "resistance {ohm}"), said("loop", "loop {ohm}"),
	said("trip", "trip {s} at {A}"), said("trip", "trip {s}"),
	said("polarity", "polarity {right|wrong}"), said("temperature", "temperature {degC}"), said("function", "function {right|wrong}"),
}}

// none: a reading is kept as it is written, nothing is set.
type none struct{}

func said(name, written string) entry[none] { return say(name, written, func(none, match) {}) }

// measured resolves readings that were taken.
func (r *resolver) measured(s *syntax.Measured) {
	subjects := r.subjects(&s.Of)
	if len(subjects) == 0 {
		return
	}
	for i := range s.List {
		p := &s.List[i]
		e, m, ok := member(r, readingWords, p)
		if !ok {
			continue
		}
		word := ""
		if len(m.words) > 0 {
			word = m.words[0]
		}
		for _, of := range subjects {
			r.sys.Readings = append(r.sys.Readings, circuit.Reading{
				Cable: of.cable, Item: of.item, What: e.name, Value: restOf(p, 1), Numbers: m.numbers, Word: word, By: labelText(s.By), Dated: wordText(s.Dated), Span: p.Span,
			})
		}
	}
}

// subject is what a reading or an acceptance is about: a cable or an item.
type subject struct {
	cable *circuit.Cable
	item  *circuit.Item
}

func (s subject) name() string {
	if s.cable != nil {
		return s.cable.ID
	}
	return s.item.Ref
}

// subjects finds what a reading or an acceptance is about. A way's name is its
// cable when it has one.
func (r *resolver) subjects(ref *syntax.Reference) []subject {
	name := refText(ref)
	if ref.Last == nil && ref.To == nil {
		if c := r.sys.Cable(name); c != nil {
			return []subject{{cable: c}}
		}
		if it := r.sys.Item(name); it != nil {
			return []subject{{item: it}}
		}
		if ref.Port == nil {
			r.unknownCable(name, ref.First.Span)
			return nil
		}
	}
	var list []subject
	for _, it := range r.things(ref) {
		if r.ghosts[it] {
			continue
		}
		if c := r.sys.Cable(it.Ref); c != nil {
			list = append(list, subject{cable: c})
		} else {
			list = append(list, subject{item: it})
		}
	}
	return list
}

// unknownCable says that nothing and no cable has a name.
func (r *resolver) unknownCable(name string, span source.Span) {
	if i, ok := r.missing[name]; ok {
		related(&r.findings[i], span, "`%s` stands here, too", name)
		return
	}
	if r.isUnread(name) {
		return
	}
	f := r.say(unknownName, span, "name a cable by the things at its ends, as in `F5-M1`, or a thing by its reference", "no cable and no thing is called `%s`", name)
	var names []string
	for _, set := range [][]*circuit.Cable{r.sys.Cables, r.sys.Bonds, r.sys.Signals} {
		for _, c := range set {
			names = append(names, c.ID)
			if flipped := c.Flipped(); flipped != "" {
				names = append(names, flipped)
			}
		}
	}
	for _, it := range r.sys.Items {
		names = append(names, it.Ref)
	}
	didYouMean(f, span, name, names)
	r.missing[name] = len(r.findings) - 1
}

// accept resolves a finding that somebody accepts by name.
func (r *resolver) accept(s *syntax.Accept) {
	var names []string
	if name := refText(&s.On); name == "craft" || r.places[name] != nil || r.domains[name] != nil {
		r.used["place "+name], r.used["domain "+name] = true, true
		names = append(names, name)
	} else {
		for _, of := range r.subjects(&s.On) {
			names = append(names, of.name())
		}
	}
	if s.By == nil || s.Dated == nil {
		missing := "who accepts it"
		if s.By != nil {
			missing = "when it was accepted"
		}
		r.say(acceptanceUnsigned, s.Span, fmt.Sprintf("end it with %s", acceptanceEnd), "this acceptance does not say %s", missing)
		return
	}
	for _, name := range names {
		r.sys.Acceptances = append(r.sys.Acceptances, circuit.Acceptance{
			Rule: s.Rule.Text, On: name, Because: s.Because.Text, By: labelText(s.By), Dated: wordText(s.Dated), Span: s.Span,
		})
	}
}

const acceptanceEnd = "`by \"JM\" dated 2026-11-20`"

// refText is a reference as it is written, without blanks.
func refText(ref *syntax.Reference) string {
	text := ref.First.Text
	if ref.Port != nil {
		text += "." + ref.Port.Text
	}
	if ref.Port2 != nil {
		text += "." + ref.Port2.Text
	}
	return text
}

func labelText(l *syntax.Label) string {
	if l == nil {
		return ""
	}
	return l.Text
}

func wordText(w *syntax.Word) string {
	if w == nil {
		return ""
	}
	return w.Text
}
