package resolve

import (
	"strings"

	"strake/lang/circuit"
	"strake/lang/quantity"
	"strake/lang/source"
	"strake/lang/syntax"
)

// A form is how a property is written, as rows of the kinds' table give it:
// words that stand for themselves, and slots in braces: {A} a number in a unit
// of that quantity, {mA} the same when written in mA, {count} a whole number,
// {fraction} a number up to 1, {number} any plain one, {a|f|b} one of these
// words, {label} a quoted text, {word} any word.
type form []part

type part struct {
	word  string   // stands for itself
	slot  string   // V, A, mA, count, word …
	words []string // one of these
}

func parseForm(text string) form {
	var f form
	for _, field := range strings.Fields(text) {
		inner, isSlot := strings.CutPrefix(field, "{")
		inner = strings.TrimSuffix(inner, "}")
		switch {
		case !isSlot:
			f = append(f, part{word: field})
		case strings.Contains(inner, "|"):
			f = append(f, part{words: strings.Split(inner, "|")})
		default:
			f = append(f, part{slot: inner})
		}
	}
	return f
}

// match holds what a property's terms put into the slots of a form, in order.
type match struct {
	numbers []circuit.Fact[quantity.Number]
	words   []string
	last    source.Span // of the last term
}

// number is the i-th number of the match as a fact of a quantity.
func number[T ~float64](m match, i int) circuit.Fact[T] {
	if i >= len(m.numbers) {
		return circuit.Fact[T]{}
	}
	f := m.numbers[i]
	return circuit.Fact[T]{Value: T(f.Value), State: f.State, Span: f.Span}
}

// count is the i-th number as a whole one; 0 when it is not known.
func (m match) count(i int) int {
	if i >= len(m.numbers) || !m.numbers[i].Known() {
		return 0
	}
	return int(m.numbers[i].Value)
}

// miss says why a form does not fit some terms: how many of its parts did, and
// what is wrong at the first that does not.
type miss struct {
	fitted int
	term   *syntax.Term // nil: the list ended too early
	want   part
	reason reason
	more   bool // terms were left over
}

type reason int

const (
	otherWord reason = iota // a word where another word or a number belongs
	otherUnit
	noUnit
	notWhole
	outOfRange
)

// fit lays a form over terms.
func (f form) fit(terms []syntax.Term) (match, *miss) {
	m := match{}
	for i := range f {
		if i >= len(terms) {
			return m, &miss{fitted: i, want: f[i]}
		}
		t := &terms[i]
		m.last = t.Span
		if why, ok := f[i].take(t, &m); !ok {
			return m, &miss{fitted: i, term: t, want: f[i], reason: why}
		}
	}
	if len(terms) > len(f) {
		return m, &miss{fitted: len(f), term: &terms[len(f)], more: true}
	}
	return m, nil
}

func (p part) take(t *syntax.Term, m *match) (reason, bool) {
	word, isWord := plainWord(t)
	switch {
	case p.word != "":
		return otherWord, isWord && word == p.word
	case p.words != nil:
		for _, w := range p.words {
			if isWord && strings.EqualFold(word, w) {
				m.words = append(m.words, w)
				return 0, true
			}
		}
		return otherWord, false
	case p.slot == "word":
		if t.Word == nil && t.Date == nil && t.Label == nil && t.Qty == nil {
			return otherWord, false
		}
		m.words = append(m.words, termText(t))
		return 0, true
	case p.slot == "place":
		m.words = append(m.words, word)
		return otherWord, isWord
	case p.slot == "cores":
		return p.takeCores(t, m)
	case p.slot == "gauge":
		if t.Qty == nil || t.Qty.Unit != nil {
			return otherWord, false
		}
		area, ok := gaugeArea(t.Qty.Number)
		m.words = append(m.words, t.Qty.Number)
		m.numbers = append(m.numbers, circuit.Fact[quantity.Number]{Value: quantity.Number(area), State: circuit.Stated, Span: t.Span})
		return outOfRange, ok
	case p.slot == "label":
		if t.Label == nil {
			return otherWord, false
		}
		m.words = append(m.words, t.Label.Text)
		return 0, true
	case t.Qty == nil:
		return otherWord, false
	}
	fact, why, ok := p.measure(t.Qty)
	m.numbers = append(m.numbers, fact)
	return why, ok
}

// takeCores reads 3G2.5 or 2X2.5: how many cores, with G for a protective one,
// and the section of each.
func (p part) takeCores(t *syntax.Term, m *match) (reason, bool) {
	if t.Cores == nil {
		return otherWord, false
	}
	count, why, ok := part{slot: "count"}.measure(&syntax.Quantity{Span: t.Span, Number: t.Cores.Count})
	if !ok || count.Value < 2 {
		return why, false
	}
	area, why, ok := part{slot: "mm2"}.measure(&syntax.Quantity{Span: t.Span, Number: t.Cores.Area, Unit: &syntax.Word{Text: "mm2"}})
	m.numbers = append(m.numbers, count, area)
	m.words = append(m.words, map[bool]string{true: "G", false: "X"}[t.Cores.Protect])
	return why, ok
}

// plainWord is a term that is one word without range or dot.
func plainWord(t *syntax.Term) (string, bool) {
	if t.Word == nil || t.Word.Last != nil || t.Word.Port != nil {
		return "", false
	}
	return t.Word.First.Text, true
}

// termText is a term as it was written, without the quotes of a label.
func termText(t *syntax.Term) string {
	if t.Label != nil {
		return t.Label.Text
	}
	return t.Span.Text()
}

// example is the form as one would write it: `discharge 100 A`.
func (f form) example() string {
	var b []string
	for _, p := range f {
		switch {
		case p.word != "":
			b = append(b, p.word)
		case p.words != nil:
			b = append(b, p.words[0])
		default:
			b = append(b, slots[p.slot].example)
		}
	}
	return strings.Join(b, " ")
}

// plain tells a form that is a bare number: its property needs no name.
func (f form) plain() bool { return len(f) > 0 && f[0].slot != "" }
