package resolve

import (
	"fmt"
	"slices"

	"strake/lang/circuit"
	"strake/lang/quantity"
	"strake/lang/source"
	"strake/lang/syntax"
)

// settingWords is what a condition may say of a thing.
var settingWords = vocabulary[*circuit.Setting]{owner: "a thing in a condition", words: []entry[*circuit.Setting]{
	say("on", "on", func(s *circuit.Setting, _ match) { s.On = true }),
	say("off", "off", func(s *circuit.Setting, _ match) { s.Off = true }),
	say("a share", "{%}", func(s *circuit.Setting, m match) { s.Percent = number[quantity.Percent](m, 0) }),
	say("watts", "{W}", func(s *circuit.Setting, m match) { s.Power = number[quantity.Watt](m, 0) }),
	say("amps", "{A}", func(s *circuit.Setting, m match) { s.Current = number[quantity.Ampere](m, 0) }),
	say("charge", "charge {A}", func(s *circuit.Setting, m match) { s.Charge, s.Current = true, number[quantity.Ampere](m, 0) }),
	say("gives", "gives {W}", func(s *circuit.Setting, m match) { s.Gives, s.Power = true, number[quantity.Watt](m, 0) }),
	say("gives", "gives {A}", func(s *circuit.Setting, m match) { s.Gives, s.Current = true, number[quantity.Ampere](m, 0) }),
}}

var batteryWords = vocabulary[*circuit.Setting]{owner: "`batteries`", words: []entry[*circuit.Setting]{
	say("charge", "{low|full|nominal}", func(s *circuit.Setting, m match) { s.Batteries = m.words[0] }),
}}

// condition resolves a named operating condition.
func (r *resolver) condition(s *syntax.Condition) {
	for _, other := range r.sys.Conditions {
		if other.Name == s.Name.Text {
			f := r.say(doubleName, s.Name.Span, "give one of them another name", "there are two conditions `%s`", s.Name.Text)
			related(f, other.Span, "the other one")
			return
		}
	}
	c := circuit.Condition{Name: s.Name.Text, Span: s.Span}
	set := map[string]source.Span{}
	for i := range s.List {
		for _, setting := range r.setting(&s.List[i]) {
			key := "batteries"
			if setting.Item != nil {
				key = setting.Item.Ref
			}
			if before, twice := set[key]; twice {
				f := r.say(saidTwice, s.List[i].Span, "keep one of the two", "this condition says twice what `%s` does", key)
				related(f, before, "stated here before")
				continue
			}
			set[key] = s.List[i].Span
			c.Settings = append(c.Settings, setting)
		}
	}
	slices.SortStableFunc(c.Settings, func(a, b circuit.Setting) int { return circuit.Compare(settingKey(a), settingKey(b)) })
	r.sys.Conditions = append(r.sys.Conditions, c)
}

func settingKey(s circuit.Setting) string {
	if s.Item == nil {
		return ""
	}
	return s.Item.Ref
}

// setting resolves one member of a condition, which may name a range.
func (r *resolver) setting(p *syntax.Property) []circuit.Setting {
	if len(p.Terms) == 0 || p.Terms[0].Word == nil {
		r.say(unknownSetting, p.Span, "write what it belongs to, as in `M1 60 %` or `DB1 on`", "`%s` does not begin with a thing", p.Span.Text())
		return nil
	}
	ref := p.Terms[0].Word
	rest := syntax.Property{Span: p.Span, Terms: p.Terms[1:]}
	model := circuit.Setting{Span: p.Span}
	if len(rest.Terms) == 0 {
		r.say(unknownSetting, p.Span, "write what it does, as in `"+ref.Span.Text()+" on` or `"+ref.Span.Text()+" 60 %`", "`%s` does not say what it does", p.Span.Text())
		if ref.First.Text != "batteries" {
			r.things(ref)
		}
		return nil
	}
	rest.Span = source.Span{File: p.Span.File, Start: rest.Terms[0].Span.Start, End: p.Span.End}
	if ref.First.Text == "batteries" && r.items["batteries"] == nil {
		if !read(r, batteryWords, []syntax.Property{rest}, &model) {
			return nil
		}
		return []circuit.Setting{model}
	}
	ok := read(r, settingWords, []syntax.Property{rest}, &model)
	var list []circuit.Setting
	for _, it := range r.things(ref) {
		if r.ghosts[it] || !ok {
			continue
		}
		s := model
		s.Item = it
		if ref.Port != nil && !isNumber(ref.Port.Text) {
			if !it.HasPort(ref.Port.Text) && !(it.Kind == "changeover" && ref.Port.Text == "off" && !it.Facts.NoOff) {
				r.tellNoPosition(it, ref)
				continue
			}
			s.Port = ref.Port.Text
		}
		list = append(list, s)
	}
	return list
}

func (r *resolver) tellNoPosition(it *circuit.Item, ref *syntax.Reference) {
	var names []string
	for _, p := range it.Ports {
		if p.Name != "" {
			names = append(names, p.Name)
		}
	}
	f := r.say(unknownPort, ref.Port.Span, "write `"+it.Ref+"` alone", "`%s` has no `.%s`", it.Ref, ref.Port.Text)
	if len(names) > 0 {
		f.Message += "; it has " + dotted(names)
		f.Cure = "name one of these"
	}
	f.Items = []string{it.Ref}
	didYouMean(f, ref.Port.Span, ref.Port.Text, names)
	r.showPositions(f, it)
}

var dayWords = vocabulary[*circuit.Day]{owner: "a day", words: []entry[*circuit.Day]{
	say("sun", "sun {s}", func(d *circuit.Day, m match) { d.Sun = number[quantity.Second](m, 0) }),
	say("yield", "yield {%}", func(d *circuit.Day, m match) { d.Yield = number[quantity.Percent](m, 0) }),
	{name: "condition with its time", form: parseForm("{label} {count} times {s}"), set: func(d *circuit.Day, m match) {
		d.Parts = append(d.Parts, circuit.DayPart{Condition: m.words[0], Times: m.count(0), Length: number[quantity.Second](m, 1).Value})
	}},
	{name: "condition with its time", form: parseForm("{label} {s}"), set: func(d *circuit.Day, m match) {
		d.Parts = append(d.Parts, circuit.DayPart{Condition: m.words[0], Times: 1, Length: number[quantity.Second](m, 0).Value})
	}},
}}

// dayPart remembers where a day names a condition.
type dayPart struct {
	name string
	span source.Span
}

// day resolves a day's sun, or a timetable.
func (r *resolver) day(s *syntax.Day) {
	for _, other := range r.sys.Days {
		if other.Name == s.Name.Text {
			f := r.say(doubleName, s.Name.Span, "give one of them another name", "there are two days `%s`", s.Name.Text)
			related(f, other.Span, "the other one")
			return
		}
	}
	d := circuit.Day{Name: s.Name.Text, Span: s.Span}
	read(r, dayWords, s.List, &d)
	for _, p := range s.List {
		if len(p.Terms) > 0 && p.Terms[0].Label != nil {
			r.daysSaid = append(r.daysSaid, dayPart{p.Terms[0].Label.Text, p.Terms[0].Span})
		}
	}
	r.sys.Days = append(r.sys.Days, d)
}

// tellUnknownConditions finds conditions that a day names and nothing declares.
func (r *resolver) tellUnknownConditions() {
	var names []string
	for _, c := range r.sys.Conditions {
		names = append(names, c.Name)
	}
	for _, p := range r.daysSaid {
		if slices.Contains(names, p.name) {
			continue
		}
		if i, told := r.missing["condition "+p.name]; told {
			related(&r.findings[i], p.span, "`%s` stands here, too", p.name)
			continue
		}
		r.missing["condition "+p.name] = len(r.findings)
		f := r.say(unknownName, p.span, fmt.Sprintf("declare it, as in `condition \"%s\": M1 60 %%`", p.name), "no condition is called `%s`", p.name)
		if near := didYouMean(f, p.span, p.name, names); near != "" {
			f.Cure = fmt.Sprintf("did you mean `\"%s\"`?", near)
			f.Edits[0].New = `"` + near + `"`
		}
	}
}
