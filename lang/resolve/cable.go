package resolve

import (
	"math"
	"slices"
	"strconv"

	"strake/lang/circuit"
	"strake/lang/diag"
	"strake/lang/quantity"
	"strake/lang/syntax"
)

// spec is what the words of a bracket say.
type spec struct {
	cable   circuit.Cable
	through []syntax.Word
}

// Words that a cable and the craft's `cable` row have in common.
func specWords[T any](of func(T) *circuit.CableSpec) []entry[T] {
	return []entry[T]{
		say("strand class", "class {count}", func(t T, m match) { of(t).Class = m.count(0) }),
		say("tin", "tinned", func(t T, _ match) { of(t).Tinned = circuit.Yes }),
		say("tin", "plain", func(t T, _ match) { of(t).Tinned = circuit.No }),
		say("insulation", "{degC}", func(t T, m match) { of(t).Insulation = number[quantity.Celsius](m, 0) }),
		{name: "bundling", form: parseForm("free"), states: "bundling", denies: "conduit", set: func(t T, _ match) { of(t).Free = true }},
		say("bundling", "bundled {count}", func(t T, m match) { of(t).Bundled = number[quantity.Number](m, 0) }),
		{name: "bundling", form: parseForm("in conduit"), states: "conduit", set: func(t T, _ match) { of(t).Conduit = true }},
	}
}

var craftCableWords = vocabulary[*circuit.CableSpec]{owner: "the row `cable`",
	words: specWords(func(s *circuit.CableSpec) *circuit.CableSpec { return s })}

var cableWords = vocabulary[*spec]{owner: "a cable", words: append([]entry[*spec]{
	say("length", "{m}", func(s *spec, m match) { s.cable.Length = number[quantity.Metre](m, 0) }),
	say("size", "{mm2}", func(s *spec, m match) { s.cable.Area = number[quantity.SquareMM](m, 0) }),
	say("size", "{count} parallel {mm2}", func(s *spec, m match) {
		s.cable.Parallel, s.cable.Area = m.count(0), number[quantity.SquareMM](m, 1)
	}),
	say("number of conductors", "{count} parallel", func(s *spec, m match) { s.cable.Parallel = m.count(0) }),
	say("size", "awg {gauge}", func(s *spec, m match) {
		s.cable.AWG, s.cable.Area = m.words[0], number[quantity.SquareMM](m, 0)
	}),
	say("size", "{cores}", func(s *spec, m match) {
		s.cable.Cores, s.cable.Area = m.count(0), number[quantity.SquareMM](m, 1)
		s.cable.Protect = m.words[0] == "G"
	}),
	say("return", "return {m}", func(s *spec, m match) { s.cable.Return = number[quantity.Metre](m, 0) }),
	say("link", "link", func(s *spec, _ match) { s.cable.Link = true }),
	{name: "places passed", form: parseForm("through {place}"), set: func(s *spec, m match) {
		s.through = append(s.through, syntax.Word{Text: m.words[0], Span: m.last})
	}},
	say("colour", "{red|black|yellow|blue|brown|green|white|orange|grey|violet|pink|green-yellow|light-blue}", func(s *spec, m match) { s.cable.Colour = m.words[0] }),
}, specWords(func(s *spec) *circuit.CableSpec { return &s.cable.Spec })...)}

// cable resolves a bracket. One bracket for a range is one size for all, so the
// result is copied for each cable.
func (r *resolver) cable(b *syntax.Bracket) (*circuit.Cable, bool) {
	s := &spec{}
	list, told := r.tellBareNumbers(b)
	sound := !b.Broken && read(r, cableWords, list, s) && !told
	c := &s.cable
	c.Span = b.Span
	c.Parallel = max(1, c.Parallel)
	c.Blank = len(b.List) == 0 && !b.Broken
	for i := range s.through {
		c.Through = append(c.Through, r.placeNamed(&s.through[i]))
	}
	if b.Ref != nil {
		c.ID, c.OwnRef = b.Ref.Text, true
	}
	if c.Link && len(b.List) > 1 {
		r.say(linkWithSize, b.Span, "write `[link]` for a bar or a bolted joint, or take `link` out of a cable", "`link` is a bar or a bolted joint; it has no length and no size")
		sound = false
	}
	r.fillSpec(&c.Spec)
	return c, sound
}

// fillSpec takes from the craft's `cable` row what a cable does not say. How it
// is laid is one statement: a cable in conduit is not free because others are.
func (r *resolver) fillSpec(s *circuit.CableSpec) {
	craft := r.sys.Craft.Cable
	if s.Class == 0 {
		s.Class = craft.Class
	}
	if s.Tinned == circuit.Unsaid {
		s.Tinned = craft.Tinned
	}
	if s.Insulation.State == circuit.Unstated {
		s.Insulation = craft.Insulation
	}
	if !s.Free && !s.Conduit && s.Bundled.State == circuit.Unstated {
		s.Free, s.Conduit, s.Bundled = craft.Free, craft.Conduit, craft.Bundled
	}
}

// gaugeArea is the section of a wire gauge in mm² by its definition, ASTM B258:
// d = 0.127 mm · 92^((36−n)/39). 00 is gauge −1, 000 −2, 0000 −3.
func gaugeArea(gauge string) (quantity.SquareMM, bool) {
	n, err := strconv.Atoi(gauge)
	if err != nil || len(gauge) > 4 {
		return 0, false
	}
	if n == 0 {
		n = 1 - len(gauge)
	} else if gauge[0] == '0' || n < 1 || n > 30 {
		return 0, false
	}
	d := 0.127 * math.Pow(92, float64(36-n)/39)
	return quantity.SquareMM(float64(math.Pi/4*d) * d), true
}

// tellBareNumbers finds numbers of a bracket that have no unit or the wrong one
// of two lengths, and gives the list without them.
func (r *resolver) tellBareNumbers(b *syntax.Bracket) (list []syntax.Property, told bool) {
	lengths, sizes := 0, 0
	for i := range b.List {
		switch unit := unitOf(&b.List[i]); {
		case b.List[i].Terms[0].Cores != nil, unit == "mm2", unit == "mm²", startsWith(&b.List[i], "awg"):
			sizes++
		case unit == "m" || unit == "cm":
			lengths++
		}
	}
	for i := 0; i < len(b.List); i++ {
		p := &b.List[i]
		q := p.Terms[0].Qty
		found := p.Span.Text()
		switch {
		case len(p.Terms) != 1 || q == nil || q.Unknown || sizes > 0 && lengths > 0:
			list = append(list, *p)
		case q.Unit != nil && q.Unit.Text == "mm" && sizes == 0 && lengths > 0:
			text := q.Number + " mm2"
			f := r.say(wrongUnit, p.Span, "write `"+text+"`", "`%s` is a second length; a section is in square millimetres", found)
			f.Edits = []diag.Edit{{Span: p.Span, New: text}}
			told = true
		case q.Unit == nil:
			if i+1 < len(b.List) && r.tellUnitInBracket(p, &b.List[i+1]) {
				i++
				told = true
				continue
			}
			length, section := found+" m", found+" mm2"
			f := r.say(unitMissing, p.Span, "write `"+length+"` for a length, `"+section+"` for the section of a core", "`%s` what? it has no unit", found)
			switch {
			case lengths > 0:
				f.Cure = "write `" + section + "` for the section of a core"
				f.Edits = []diag.Edit{{Span: p.Span, New: section}}
			case sizes > 0:
				f.Cure = "write `" + length + "` for a length"
				f.Edits = []diag.Edit{{Span: p.Span, New: length}}
			}
			told = true
		default:
			list = append(list, *p)
		}
	}
	return list, told
}

// tellUnitInBracket finds a number and a word that is meant as its unit, which
// a bracket's words without commas leave apart.
func (r *resolver) tellUnitInBracket(number, word *syntax.Property) bool {
	if w, ok := plainWord(&word.Terms[0]); !ok || len(word.Terms) != 1 || slices.Contains(cableWords.firstWords(), w) {
		return false
	}
	both := syntax.Property{Span: number.Span.Join(word.Span), Terms: slices.Concat(number.Terms, word.Terms)}
	return tellUnknownUnit(r, &both)
}

func unitOf(p *syntax.Property) string {
	if q := p.Terms[len(p.Terms)-1].Qty; q != nil && q.Unit != nil {
		return q.Unit.Text
	}
	return ""
}

func startsWith(p *syntax.Property, word string) bool {
	w, ok := plainWord(&p.Terms[0])
	return ok && w == word
}
