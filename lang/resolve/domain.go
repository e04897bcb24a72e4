package resolve

import (
	"slices"

	"strake/lang/circuit"
	"strake/lang/diag"
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
	list, told := r.tellCurrents(s)
	sound := read(r, domainWords, list, d) && !told
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

// tellCurrents finds voltages without their kind of current, and a kind of
// current parted from its voltage. It gives the list without them.
func (r *resolver) tellCurrents(s *syntax.Domain) (list []syntax.Property, told bool) {
	said := slices.ContainsFunc(s.List, func(p syntax.Property) bool { return currentOf(&p) != "" })
	for i := 0; i < len(s.List); i++ {
		p := &s.List[i]
		alone := len(p.Terms) == 1
		switch {
		case alone && currentOf(p) != "" && i+1 < len(s.List) && voltage(&s.List[i+1]):
			i++
			text := currentOf(p) + " " + s.List[i].Span.Text()
			span := p.Span.Join(s.List[i].Span)
			f := r.say(valueMissing, span, "write `"+text+"`", "no comma parts `%s` from its voltage", currentOf(p))
			f.Edits = []diag.Edit{{Span: span, New: text}}
			told = true
		case voltage(p) && !said:
			found := p.Terms[0].Qty.Number + " V"
			r.say(valueMissing, p.Span, "write `dc "+found+"` or `ac "+found+"`", "`%s` does not say whether it is direct or alternating current", found)
			said, told = true, true
		default:
			list = append(list, *p)
		}
	}
	return list, told
}

// currentOf is the kind of current with which a member of a domain's list begins.
func currentOf(p *syntax.Property) string {
	if word, ok := plainWord(&p.Terms[0]); ok && (word == "dc" || word == "ac") {
		return word
	}
	return ""
}

// voltage tells a member that is a single voltage.
func voltage(p *syntax.Property) bool {
	return len(p.Terms) == 1 && unitOf(p) == "V"
}
