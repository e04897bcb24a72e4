package resolve

import (
	"strake/lang/circuit"
	"strake/lang/quantity"
	"strake/lang/syntax"
)

var domainWords = vocabulary[*circuit.Domain]{owner: "a domain", words: []entry[*circuit.Domain]{
	say("kind of current", "dc {V}", func(d *circuit.Domain, m match) { d.AC, d.Nominal = false, number[quantity.Volt](m, 0) }),
	say("kind of current", "ac {V}", func(d *circuit.Domain, m match) { d.AC, d.Nominal = true, number[quantity.Volt](m, 0) }),
	say("range", "{V0} to {V}", func(d *circuit.Domain, m match) {
		d.Lowest, d.Highest = number[quantity.Volt](m, 0), number[quantity.Volt](m, 1)
	}),
	say("frequency", "{Hz}", func(d *circuit.Domain, m match) { d.Frequency = number[quantity.Hertz](m, 0) }),
	say("phases", "{count} phase", func(d *circuit.Domain, m match) { d.Phases = m.count(0) }),
	say("earthing", "insulated", func(d *circuit.Domain, _ match) { d.Insulated = true }),
	say("earthing", "earthed negative", func(d *circuit.Domain, _ match) { d.EarthedNegative = true }),
}}

// domain resolves one declared kind of voltage.
func (r *resolver) domain(s *syntax.Domain) {
	if before := r.domains[s.Name.Text]; before != nil {
		r.double(s.Name, before.Span, "domain")
		return
	}
	r.tellKindAsName(s.Name, "domain")
	d := &circuit.Domain{Name: s.Name.Text, Span: s.Name.Span}
	if s.Label != nil {
		d.Label = s.Label.Text
	}
	sound := read(r, domainWords, s.List, d)
	if d.AC && d.Phases == 0 {
		d.Phases = 1
	}
	if d.Nominal.State == circuit.Unstated && sound {
		r.say(valueMissing, s.Span, "write its nominal voltage, as in `domain "+d.Name+": dc 12 V, 10.5 V to 14.4 V`", "the domain `%s` does not say whether it is dc or ac, and of what voltage", d.Name)
	}
	switch low, high, mid := d.Lowest, d.Highest, d.Nominal; {
	case low.Known() && high.Known() && low.Value >= high.Value:
		r.say(impossibleNumber, low.Span.Join(high.Span), "write the lowest voltage first", "the domain `%s` runs from %s down to %s", d.Name, low.Value, high.Value)
	case low.Known() && mid.Known() && (mid.Value < low.Value || mid.Value > high.Value) && high.Known():
		r.say(impossibleNumber, low.Span.Join(high.Span), "correct the nominal voltage or its range", "the nominal %s of the domain `%s` does not lie between %s and %s", mid.Value, d.Name, low.Value, high.Value)
	}
	if d.AC && d.EarthedNegative {
		r.say(unknownProperty, s.Span, "take `earthed negative` out", "the ac domain `%s` has no negative", d.Name)
	}
	r.domains[d.Name] = d
	r.sys.Domains = append(r.sys.Domains, d)
}
