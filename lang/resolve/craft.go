package resolve

import (
	"slices"
	"strings"

	"strake/lang/circuit"
	"strake/lang/diag"
	"strake/lang/quantity"
	"strake/lang/syntax"
)

// craftWords are the rows of the craft's braces.
var craftWords = []struct {
	key    string
	sample string
	help   string
	form   vocabulary[*circuit.Craft]
}{
	{"drawing", `PW-E-01`, "number of the drawing", text("drawing", func(c *circuit.Craft, s string) { c.Drawing = s })},
	{"revision", `B dated 2026-11-20`, "letter of the revision, with its date", text("revision", func(c *circuit.Craft, s string) { c.Revision = s })},
	{"yard", `"Pellmere Yard"`, "who builds", text("yard", func(c *circuit.Craft, s string) { c.Yard = s })},
	{"owner", `"A. Pintle"`, "whose craft it is", text("owner", func(c *circuit.Craft, s string) { c.Owner = s })},
	{"drawn", `"JM"`, "who drew the sheet", text("drawn", func(c *circuit.Craft, s string) { c.Drawn = s })},
	{"checked", `"TR"`, "who checked the sheet", text("checked", func(c *circuit.Craft, s string) { c.Checked = s })},
	{"state", `design`, "design, as-built or draft", choice("state", "design|as-built|draft", func(c *circuit.Craft, s string) { c.State = s })},
	{"hull", `aluminium`, "what the hull is made of", choice("hull", "aluminium|steel|grp|wood|other", func(c *circuit.Craft, s string) { c.Hull = s })},
	{"water", `coastal`, "where it goes", choice("water", "inland|sheltered|coastal|offshore", func(c *circuit.Craft, s string) { c.Water = s })},
	{"service", `commercial`, "commercial or private", choice("service", "commercial|private", setService)},
	{"rules", `iso-13297`, "the set of tables and rules used", choice("rules", "iso-13297|abyc-e11", func(c *circuit.Craft, s string) { c.Rules = s })},
	{"paper", `A3`, "size of the sheet; unsaid is the smallest that fits", choice("paper", "A4|A3|A2", func(c *circuit.Craft, s string) { c.Paper = s })},
	{"coldest", `-10 degC`, "coldest air outside, which the solar modules see", vocabulary[*circuit.Craft]{owner: "the row `coldest`", words: []entry[*circuit.Craft]{
		say("coldest", "{degC}", func(c *circuit.Craft, m match) { c.Coldest = number[quantity.Celsius](m, 0) })}}},
}

func setService(c *circuit.Craft, s string) {
	c.Service = s
	if s == "private" {
		c.Service = ""
	}
}

func text(key string, set func(*circuit.Craft, string)) vocabulary[*circuit.Craft] {
	take := func(c *circuit.Craft, m match) { set(c, m.words[0]) }
	return vocabulary[*circuit.Craft]{owner: "the row `" + key + "`", words: []entry[*circuit.Craft]{
		say(key, "{label}", take), say(key, "{word}", take)}}
}

func choice(key, words string, set func(*circuit.Craft, string)) vocabulary[*circuit.Craft] {
	return vocabulary[*circuit.Craft]{owner: "the row `" + key + "`", words: []entry[*circuit.Craft]{
		say(key, "{"+words+"}", func(c *circuit.Craft, m match) { set(c, m.words[0]) })}}
}

// craft resolves the craft's own rows. Without a craft statement the defaults stand.
func (r *resolver) craft(statements []syntax.Statement) {
	c := &r.sys.Craft
	var first *syntax.Craft
	each(statements, func(s *syntax.Craft) {
		if first != nil {
			f := r.say(secondCraft, s.Span, "keep one of the two", "a text describes one craft; `%s` is a second one", s.Name.Text)
			related(f, first.Span, "the first one")
			return
		}
		first = s
		c.Name, c.Span = s.Name.Text, s.Span
		rows := map[string]syntax.CraftRow{}
		for _, row := range s.Rows {
			if before, twice := rows[row.Key.Text]; twice {
				f := r.say(saidTwice, row.Span, "keep one of the two", "the craft has two rows `%s`", row.Key.Text)
				related(f, before.Span, "stated here before")
				continue
			}
			rows[row.Key.Text] = row
			r.craftRow(row)
		}
	})
	if c.Rules == "" {
		c.Rules = "iso-13297"
		r.assumed("craft", "tables and rules are those of iso-13297, as no `rules` row says otherwise", "", c.Span)
	}
}

func (r *resolver) craftRow(row syntax.CraftRow) {
	c := &r.sys.Craft
	if row.Dated != nil && row.Key.Text == "revision" {
		c.Dated = row.Dated.Text
	} else if row.Dated != nil {
		r.say(unknownProperty, row.Dated.Span, "take `dated` out", "the row `%s` takes no date; the row `revision` does", row.Key.Text)
	}
	if row.Key.Text == "cable" {
		read(r, craftCableWords, row.List, &c.Cable)
		return
	}
	names := []string{"cable"}
	for _, w := range craftWords {
		names = append(names, w.key)
		if w.key != row.Key.Text {
			continue
		}
		if len(row.List) == 0 {
			r.say(valueMissing, row.Span, "write it in full, as in `"+w.key+" "+w.sample+"`, or take the row out", "the row `%s` says nothing", w.key)
			return
		}
		if !r.tellLooseWords(w.form, row) {
			read(r, w.form, row.List, c)
		}
		return
	}
	f := r.say(unknownCraftRow, row.Key.Span, "take the row out", "the craft has no row `%s`; it has %s", row.Key.Text, joined(names, "and"))
	didYouMean(f, row.Key.Span, row.Key.Text, names)
	if row.Key.Text == "date" {
		f.Cure = "write the date behind the revision, as in `revision A dated 2026-11-20`"
		f.Edits = nil
	}
}

// tellLooseWords finds a name of several words without its quotes, or a word
// with a blank in the place of its hyphen.
func (r *resolver) tellLooseWords(form vocabulary[*circuit.Craft], row syntax.CraftRow) bool {
	if len(row.List) != 1 || len(row.List[0].Terms) < 2 {
		return false
	}
	span := row.List[0].Span
	var words []string
	for i := range row.List[0].Terms {
		words = append(words, termText(&row.List[0].Terms[i]))
	}
	text := `"` + span.Text() + `"`
	if known := form.words[0].form[0].words; known != nil {
		if text = strings.ToLower(strings.Join(words, "-")); !slices.Contains(known, text) {
			return false
		}
	} else if form.words[0].form[0].slot != "label" {
		return false
	}
	f := r.say(unknownValue, span, "write `"+text+"`", "`%s` is not one word", span.Text())
	f.Edits = []diag.Edit{{Span: span, New: text}}
	return true
}

// commonPractice is the source of a default that no standard states.
const commonPractice = "common practice"
