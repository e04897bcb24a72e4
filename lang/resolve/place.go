package resolve

import (
	"strake/lang/circuit"
	"strake/lang/quantity"
	"strake/lang/syntax"
)

var placeWords = vocabulary[*circuit.Place]{owner: "a place", words: []entry[*circuit.Place]{
	say("temperature", "{degC}", func(p *circuit.Place, m match) { p.Temperature = number[quantity.Celsius](m, 0) }),
	say("temperature", "{degC} to {degC}", func(p *circuit.Place, m match) {
		p.Lowest, p.Temperature = number[quantity.Celsius](m, 0), number[quantity.Celsius](m, 1)
	}),
	say("engine", "engine", func(p *circuit.Place, _ match) { p.Engine = true }),
	say("outside", "outside", func(p *circuit.Place, _ match) { p.Outside = true }),
	say("ventilated", "ventilated", func(p *circuit.Place, _ match) { p.Ventilated = true }),
	say("wet", "wet", func(p *circuit.Place, _ match) { p.Wet = true }),
}}

// place resolves one declared place.
func (r *resolver) place(s *syntax.Place) {
	if before := r.places[s.Name.Text]; before != nil {
		r.double(s.Name, before.Span, "place")
		return
	}
	r.tellKindAsName(s.Name, "place")
	p := &circuit.Place{Name: s.Name.Text, Span: s.Name.Span}
	if s.Label != nil {
		p.Label = s.Label.Text
	}
	read(r, placeWords, s.List, p)
	if p.Lowest.Known() && p.Temperature.Known() && p.Lowest.Value >= p.Temperature.Value {
		r.say(impossibleNumber, p.Lowest.Span.Join(p.Temperature.Span), "write the lowest temperature first", "the place `%s` runs from %s down to %s", p.Name, p.Lowest.Value, p.Temperature.Value)
	}
	r.places[p.Name] = p
	r.sys.Places = append(r.sys.Places, p)
}

// nestPlaces puts places inside others. A ring of places is cut where it closes.
func (r *resolver) nestPlaces(statements []syntax.Statement) {
	each(statements, func(s *syntax.Place) {
		p := r.places[s.Name.Text]
		if s.Within == nil || p == nil || p.Span != s.Name.Span {
			return
		}
		outer := r.placeNamed(s.Within)
		for q := outer; q != nil; q = q.Within {
			if q == p {
				r.say(placeInItself, s.Within.Span, "name the place that it stands in, or leave `at` out", "the place `%s` would stand inside itself", p.Name)
				return
			}
		}
		p.Within = outer
	})
}
