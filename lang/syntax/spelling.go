package syntax

// What people write in another way than the language has it: dates, units,
// gauges, ranges, quotes, arrows. Where such a piece can mean one thing only it
// is said once, with the spelling to use, and reading goes on as if that stood
// there. Rows without a sign of any are not looked at twice.

import (
	"cmp"
	"fmt"
	"regexp"
	"slices"
	"strings"
	"sync"
	"unicode"
	"unicode/utf8"

	"github.com/alecthomas/participle/v2/lexer"

	"strake/lang/diag"
	"strake/lang/source"
)

// spelling is one way to write a thing that is not the language's.
type spelling struct {
	form *regexp.Regexp
	// read tells what a piece in this form means; an empty text: not here.
	read func(where, []string) reading
}

// where is what stands around a piece on its row.
type where struct {
	opening string      // the word that opens the row
	bracket bool        // within a cable
	before  lexer.Token // the word or mark before it; of no type at the beginning
	earlier lexer.Token // the one before that
	number  bool        // that is a number that takes a unit
	glued   bool        // no blank parts it from what stands before
	list    bool        // a colon opened a list before it
	label   bool        // a label stands before it
	quotes  bool        // the quotes of the row, from here on, are no pairs
	behind  string      // the rest of the row
}

// reading is what a piece means.
type reading struct {
	text    string // as the language writes it; a single blank leaves the piece out
	message string
	cure    string
	open    bool   // more than one text is possible: the cure is no edit
	each    bool   // every place is a mistake of its own
	length  int    // of the piece, where it is not all that the form took
	mark    int    // how much of the piece is shown and replaced, where it is not all
	edit    string // what is put in its place, where that is not the text
	info    *diag.Info
}

// spellings are tried in this order at the beginning of each token.
// They are made when a text first needs them: most texts never do.
var spellings = sync.OnceValue(func() []spelling {
	return slices.Concat(rowSpellings(), dateSpellings(), gaugeSpellings(), lengthSpellings(), domainSpellings(), rangeSpellings(),
		cableSpellings(), numberSpellings(), unitSpellings(), markSpellings())
})

// longestForm is a pattern that takes as much as it can: `volts`, not its `v`.
func longestForm(text string) *regexp.Regexp {
	form := regexp.MustCompile(text)
	form.Longest()
	return form
}

// respell reads the rows that hold other spellings anew, and says of each once
// what to write.
func respell(file *source.File, tokens []lexer.Token) ([]lexer.Token, []diag.Finding) {
	s := &speller{file: file, told: map[string]int{}, out: make([]lexer.Token, 0, len(tokens))}
	for from := 0; from < len(tokens); {
		to := from
		for to < len(tokens) && tokens[to].Type != typeNewline {
			to++
		}
		if suspicious(tokens[from:to]) {
			s.row(tokens[from:to])
		} else {
			s.out = append(s.out, tokens[from:to]...)
		}
		if to < len(tokens) {
			s.out = append(s.out, tokens[to])
		}
		from = to + 1
	}
	return s.out, s.findings
}

// suspicious tells a row that may hold another spelling.
func suspicious(row []lexer.Token) bool {
	dated := false
	var before lexer.Token
	opening := rowOpening(row)
	words, bracket := 0, false
	for _, t := range row {
		if t.Type != typeBlank && restless(before, t, opening, words == 1) {
			return true
		}
		words++
		switch t.Type {
		case typeBlank, typeComment:
			words--
			continue
		case typeStray, typeOpenString:
			return true
		case typeDot:
			if before.Type == typeRange {
				return true
			}
		case typeWord, typePer, typeOpening, typeJoining:
			switch {
			case slices.Contains(countedWords, t.Value):
			case before.Type == typeNumber, before.Type == typeDecimalComma, before.Type == typeTimes, before.Value == "unknown":
				return true
			case slices.Contains(linkingWords, strings.ToLower(t.Value)) && (bracket || before.Type == typeUnit || opening == "bank"):
				return true
			case gaugeWord(t.Value), t.Value == "DC", t.Value == "AC":
				return true
			case opening == "domain" && (before.Type == typeColon || before.Type == typeComma) && !slices.Contains(domainWords, t.Value):
				return true
			}
		case typeLBracket, typeRBracket:
			bracket = t.Type == typeLBracket
		case typeNumber:
			if opening == "domain" && (before.Type == typeColon || before.Type == typeNumber) {
				return true
			}
			if before.Type == typeNumber && t.Pos.Offset == tokenEnd(before) {
				return true
			}
		case typeClosing:
			dated = dated || t.Value == "dated"
		case typeDate:
			dated = false
		}
		before = t
	}
	return dated
}

// rowOpening is the word that opens a row, also when it has a capital.
func rowOpening(row []lexer.Token) string {
	if word := openingWord(row); word != "" {
		return word
	}
	if i := significantFrom(row, 0); i < len(row) && row[i].Type == typeWord && reserved[strings.ToLower(row[i].Value)] == typeOpening {
		return strings.ToLower(row[i].Value)
	}
	return ""
}

// countedWords are the words that follow a bare number rightly.
var countedWords = strings.Fields("pole phase parallel times in")

// linkingWords go with a unit, or stand between the words of a cable, where
// people write more than the language has.
var linkingWords = strings.Fields("sq squared dc ac per a x of and with length size section csa long cable wire")

// domainWords begin the members of a domain's list.
var domainWords = strings.Fields("dc ac insulated earthed")

type speller struct {
	file     *source.File
	out      []lexer.Token
	findings []diag.Finding
	told     map[string]int // by message: the finding
}

// row reads one row anew. What a spelling replaces is one token that covers it
// all, and further ones without length at its end.
func (s *speller) row(old []lexer.Token) {
	start := len(s.out)
	text := s.file.Text[old[0].Pos.Offset:tokenEnd(old[len(old)-1])]
	w := where{opening: rowOpening(old), quotes: slices.ContainsFunc(old, func(t lexer.Token) bool { return t.Type == typeOpenString })}
	pos := old[0].Pos
	for at := 0; at < len(text); {
		w.behind = text[at:]
		class, length := first(text[at:])
		if class != typeBlank && class != typeComment && class != typeString || class == typeString && (w.before.Value == "dated" || w.quotes) {
			if r, n := s.meant(w); n > 0 {
				s.say(r, pos, n)
				for i, t := range lex("", r.text) {
					if t.Type == typeBlank {
						continue
					}
					here := pos
					here.Line, here.Column = 0, n
					if i > 0 {
						here.Offset, here.Column = pos.Offset+n, 0
					}
					t.Pos = here
					s.out = append(s.out, t)
					w.see(t)
				}
				pos.Offset += n
				pos.Column += len([]rune(text[at : at+n]))
				at += n
				w.glued = true
				w.quotes = w.quotes && r.info != &InfoOpenQuote
				continue
			}
		}
		t := lexer.Token{Type: class, Value: text[at : at+length], Pos: pos}
		s.out = append(s.out, t)
		w.see(t)
		pos.Offset += length
		pos.Column += len([]rune(t.Value))
		at += length
	}
	sortWords(s.out[start:])
}

// see moves on behind a token.
func (w *where) see(t lexer.Token) {
	w.glued = t.Type != typeBlank
	switch t.Type {
	case typeBlank, typeComment:
		return
	case typeLBracket:
		w.bracket = true
	case typeRBracket:
		w.bracket, w.list = false, false
	case typeColon:
		w.list = w.list || w.opening != "way" || w.before.Type != typeNumber
	case typeString:
		w.label = true
	case typeWord, typePer:
		// The words are sorted when the whole row is there.
		if w.number && slices.Contains(units, t.Value) {
			t.Type = typeUnit
		} else if class, ok := reserved[t.Value]; ok {
			t.Type = class
		}
	}
	w.number = t.Type == typeNumber && w.before.Type != typeDot && w.before.Type != typeRange ||
		t.Type == typeDecimalComma || t.Type == typeTimes || t.Value == "unknown"
	w.earlier, w.before = w.before, t
}

// meant is the first spelling that stands here, and its length.
func (s *speller) meant(w where) (reading, int) {
	for _, sp := range spellings() {
		m := sp.form.FindStringSubmatch(w.behind)
		if m == nil || !ends(w.behind, len(m[0])) {
			continue
		}
		if r := sp.read(w, m); r.text != "" && r.length > 0 {
			return r, r.length
		} else if r.text != "" {
			return r, len(m[0])
		}
	}
	return reading{}, 0
}

// ends tells whether a word may end after so much of a text.
func ends(text string, n int) bool {
	if n == 0 || n == len(text) {
		return n > 0
	}
	last, _ := utf8.DecodeLastRuneInString(text[:n])
	next, _ := utf8.DecodeRuneInString(text[n:])
	return !inWord(last) || !inWord(next) && (next != '-' || run(text[n+1:], inWord) == 0)
}

// say tells a spelling; the same one a second time is a further place of the
// first finding, and its edit.
func (s *speller) say(r reading, pos lexer.Position, n int) {
	span := source.Span{File: s.file, Start: pos.Offset, End: pos.Offset + n}
	if r.mark > 0 {
		span.End = span.Start + r.mark
	}
	edit := diag.Edit{Span: span, New: cmp.Or(r.edit, strings.TrimSpace(r.text))}
	if i, told := s.told[r.message+r.cure]; told && !r.each {
		f := &s.findings[i]
		f.Related = append(f.Related, diag.Related{Span: span, Message: "here, too"})
		if !r.open {
			f.Edits = append(f.Edits, edit)
		}
		return
	}
	f := diag.Finding{Span: span, Message: r.message, Cure: r.cure}
	if !r.open {
		f.Edits = []diag.Edit{edit}
	}
	s.told[r.message+r.cure] = len(s.findings)
	if r.info == nil {
		r.info = &InfoSpelling
	}
	s.findings = append(s.findings, r.info.At(f))
}

// written is a reading with its usual cure.
func written(text, message string, args ...any) reading {
	return reading{text: text, message: fmt.Sprintf(message, args...), cure: "write `" + text + "`"}
}

// Gauges: `2/0`, `2 awg`, `AWG 2`, `awg 2/0`.

// gaugeWord tells `AWG`, `awg2` and their like.
func gaugeWord(word string) bool {
	rest, ok := strings.CutPrefix(strings.ToLower(word), "awg")
	return ok && word != "awg" && strings.Trim(rest, "-0123456789") == ""
}

func gaugeSpellings() []spelling {
	return []spelling{
		{longestForm(`^(?i:awg)[ \t-]*([1-4])/0`), zeros},
		{longestForm(`^([1-4])/0(?:[ \t-]*(?i:awg|gauge|ga))?`), zeros},
		{longestForm(`^([0-9]{1,2}|0{3,4})[ \t]*-?(?i:awg|gauge|ga)`), gauge},
		{longestForm(`^(?i:awg)[ \t-]*([0-9]+)`), gauge},
	}
}

func zeros(w where, m []string) reading {
	if !w.bracket {
		return reading{}
	}
	text := "awg " + strings.Repeat("0", int(m[1][0]-'0'))
	return written(text, "`%s` is a gauge; it is written with the word `awg` before it and with as many noughts", m[0])
}

func gauge(w where, m []string) reading {
	text := "awg " + m[1]
	if !w.bracket || strings.Join(strings.Fields(m[0]), " ") == text || w.number {
		return reading{}
	}
	return written(text, "`%s` is a gauge; it is written with the word `awg` before it", m[0])
}

// Lengths in feet and inches, temperatures in Fahrenheit, horsepower.

const (
	feet   = `[ \t]*(?:(?i:ft|feet|foot)\.?|['′’])`
	inches = `[ \t]*(?:(?i:inch|inches|in)\b|["″”]|'')`
	digit  = `([0-9]+(?:\.[0-9]+)?)`
)

func lengthSpellings() []spelling {
	return []spelling{
		{longestForm(`^` + digit + feet + `(?:[ \t]*` + digit + inches + `)?`), func(w where, m []string) reading {
			if !w.bracket && !strings.ContainsAny(m[0], "fF") {
				return reading{}
			}
			return metres(m[0], 0.3048*parsed(m[1])+0.0254*parsed(m[2]))
		}},
		{longestForm(`^` + digit + `[ \t]*(?:(?i:inch|inches)|["″”])`), func(w where, m []string) reading {
			if !w.bracket {
				return reading{}
			}
			return metres(m[0], 0.0254*parsed(m[1]))
		}},
		{longestForm(`^(-?[0-9]+(?:\.[0-9]+)?)[ \t]*(?:°[ \t]*F|(?i:deg|degrees)[ \t]*F|F|(?i:fahrenheit))`), func(_ where, m []string) reading {
			return written(fmt.Sprintf("%.0f degC", (parsed(m[1])-32)/1.8), "`%s` is in Fahrenheit; temperatures are in degrees Celsius", m[0])
		}},
		{longestForm(`^` + digit + `[ \t]*(?i:hp|bhp)`), func(_ where, m []string) reading {
			r := written(plainNumber(0.746*parsed(m[1]))+" kW", "`%s` is in horsepower; powers are in watts, and those of motors are electrical", m[0])
			r.cure += ", or the electrical power that the maker states"
			return r
		}},
	}
}

func metres(found string, length float64) reading {
	return written(plainNumber(length)+" m", "`%s` is in feet or inches; lengths are in metres", found)
}

// plainNumber is a number with at most two decimals, without idle zeros.
func plainNumber(x float64) string {
	s := fmt.Sprintf("%.2f", x)
	return strings.TrimSuffix(strings.TrimRight(s, "0"), ".")
}

// parsed is a number that a pattern has seen; 0 for none.
func parsed(s string) float64 {
	var x float64
	fmt.Sscan(s, &x)
	return x
}

// Voltages of domains: `24 V dc`, `230VAC`.

func domainSpellings() []spelling {
	return []spelling{
		{longestForm(`^` + digit + `[ \t]*(?i:v|volts?)?[ \t]*(?i:(d|a)\.?c\.?)`), current(1, 2)},
		{longestForm(`^(?i:(d|a)\.?c\.?)[ \t-]*` + digit + `[ \t]*(?i:v|volts?)?`), current(2, 1)},
		{longestForm(`^\(?[ \t]*(?i:min(?:imum)?|lowest|from)?[ \t]*` + digit + `[ \t]*(?i:v|volts?)?[ \t]*(?:` + dash + `|[, \t]*(?i:max(?:imum)?|highest|to|and)[ \t]*)` + digit + `[ \t]*(?i:v|volts?)[ \t]*\)?`), func(w where, m []string) reading {
			text := m[1] + " V to " + m[2] + " V"
			if w.opening != "domain" || !w.list || strings.Join(strings.Fields(strings.ReplaceAll(m[0], "V", " V ")), " ") == text {
				return reading{}
			}
			if w.before.Type != typeColon && w.before.Type != typeComma {
				text = ", " + text
			}
			return written(text, "`%s` is a range of voltages in another form", m[0])
		}},
		{longestForm(`^(?i:(single|one|1|three|3)[ \t-]*phase)`), func(w where, m []string) reading {
			text := map[bool]string{true: "1 phase", false: "3 phase"}[strings.Contains("single one 1", strings.ToLower(m[1]))]
			if w.opening != "domain" || !w.list || m[0] == text {
				return reading{}
			}
			if behind := strings.TrimLeft(w.behind[len(m[0]):], " \t\r"); behind != "" && behind[0] != ',' && behind[0] != '#' {
				text += ","
			}
			return written(text, "`%s` is a number of phases in another form", m[0])
		}},
		{longestForm(`^(DC|AC|Dc|Ac)`), func(w where, m []string) reading {
			if w.opening != "domain" || w.before.Type == typeOpening || w.number {
				return reading{}
			}
			return written(strings.ToLower(m[1]), "`%s` is written small", m[1])
		}},
	}
}

// current reads a voltage and the kind of its current.
func current(number, kind int) func(where, []string) reading {
	return func(w where, m []string) reading {
		found := strings.TrimSpace(m[0])
		if w.opening != "domain" || w.before.Type == typeOpening || w.number {
			return reading{}
		}
		unit := ""
		if strings.ContainsAny(strings.TrimRight(found, "dDaAcC. "), "vV") {
			unit = " V"
		}
		text := strings.ToLower(m[kind]) + "c " + m[number] + unit
		if strings.Join(strings.Fields(found), " ") == text || strings.ReplaceAll(found, " ", "") == strings.ReplaceAll(text, " ", "") && found[0] > '9' && strings.Contains(found, " ") {
			return reading{}
		}
		if unit == "" {
			text += " V"
		}
		return written(text, "`%s` is a kind of current and its voltage, in another form", found)
	}
}

// Ranges: of ways, of references.

const dash = `[ \t]*(?:-|–|—|−|…|\.\.\.?)[ \t]*`

func rangeSpellings() []spelling {
	return []spelling{
		{longestForm(`^([0-9]{1,3})(?:` + dash + `|[ \t]*[&/][ \t]*|[ \t]+(?:to|and|thru|through)[ \t]+)([0-9]{1,3})`), func(w where, m []string) reading {
			text := m[1] + ".." + m[2]
			if w.before.Value != "way" && w.before.Value != "ways" || strings.ReplaceAll(m[0], " ", "") == text {
				return reading{}
			}
			return written(text, "`%s` is a range of ways; two points stand between the first and the last", m[0])
		}},
		{longestForm(`^(\pL+)([0-9]+)(?:[ \t]*(?:–|—|−|…|\.\.\.)[ \t]*|[ \t]+(?:-|to|thru|through)[ \t]+)(\pL*)([0-9]+)`), func(w where, m []string) reading {
			if w.bracket || w.glued && w.before.Type != typeColon || m[3] != "" && m[3] != m[1] || parsed(m[2]) >= parsed(m[4]) ||
				slices.Contains([]string{"run", "bond", "signal", "measured", "accept"}, w.opening) {
				return reading{}
			}
			return written(m[1]+m[2]+".."+m[1]+m[4], "`%s` is a range; two points stand between the first and the last", m[0])
		}},
	}
}

// Units, behind a number.

// otherUnits are spellings of units, in small letters; the longer ones first.
var otherUnits = []struct{ unit, name, forms string }{
	{"mm2", "sections", `mm2|mm²|sq\.?[ \t]*mm|mm[ \t]*(?:sq\b\.?|squared|\^2|\*\*2|²)|mmsq|qmm|mmq|square[ \t-]*(?:mm|millimet(?:re|er)s?)`},
	{"%/K", "changes with temperature", `(?:%|percent)[ \t]*(?:/|per)[ \t]*(?:k|c|°c|ºc|˚c|degc|deg(?:ree)?|kelvin)`},
	{"mV/K", "changes with temperature", `mv[ \t]*(?:/|per)[ \t]*(?:k|c|°c|ºc|˚c|degc|deg(?:ree)?|kelvin)`},
	{"V/K", "changes with temperature", `v[ \t]*(?:/|per)[ \t]*(?:c|°c|ºc|˚c|degc|deg(?:ree)?|kelvin)`},
	{"h/day", "hours of a day", `(?:h|hrs?|hours?)[ \t]*(?:/|per|a)[ \t]*(?:d|day)`},
	{"Ah", "capacities", `amp(?:ere)?s?[ \t-]*(?:h|hrs?|hours?)|a\.?h\.?`},
	{"Wh", "energies", `w(?:att)?[ \t-]*(?:h|hrs?|hours?)`},
	{"kWh", "energies", `kw[ \t-]*(?:h|hrs?|hours?)`},
	{"kVA", "apparent powers", `kva`},
	{"VA", "apparent powers", `va`},
	{"kW", "powers", `kw|kilowatts?`},
	{"W", "powers", `w|watts?`},
	{"kA", "currents", `ka|kiloamps?`},
	{"mA", "currents", `milliamps?`},
	{"A", "currents", `a(?:mps?|mperes?)?(?:[ \t]*[ad]c)?`},
	{"mV", "voltages", `millivolts?`},
	{"V", "voltages", `v(?:olts?)?(?:[ \t]*[ad]c)?`},
	{"mohm", "resistances", `milli[ \t-]*ohms?|mohms?`},
	{"ohm", "resistances", `ohms?`},
	{"Hz", "frequencies", `hz|hertz`},
	{"degC", "temperatures", `(?:°|º|˚|deg(?:ree)?s?\.?)[ \t]*(?:c|celsius)?|c|celsius`},
	{"m", "lengths", `m|mtrs?|met(?:re|er)s?`},
	{"mm", "lengths", `mm|millimet(?:re|er)s?`},
	{"cm", "lengths", `cm|centimet(?:re|er)s?`},
	{"min", "times", `min(?:ute)?s?`},
	{"h", "times", `h|hrs?|hours?`},
	{"s", "times", `sec(?:ond)?s?`},
	{"%", "shares", `percent|per[ \t]cent|pct`},
	{"day", "times", `days?`},
}

func unitSpellings() []spelling {
	var list []spelling
	for _, u := range otherUnits {
		list = append(list, spelling{longestForm(`^(?i:` + u.forms + `)`), func(w where, m []string) reading {
			found := m[0]
			if !w.number || slices.Contains(units, found) {
				return reading{}
			}
			if class, word := reserved[found]; word && class != typeWord {
				return reading{}
			}
			r := written(u.unit, "`%s` is no unit here; %s are written in `%s`", found, u.name, u.unit)
			if u.unit == "mohm" && found[0] == 'M' {
				r.cure, r.open = "write `mohm` for thousandths of an ohm, `Mohm` for millions of ohms", true
			}
			return r
		}})
	}
	return list
}

// Quotes, arrows and other marks.

const curly = `“”„‟«»″`

func markSpellings() []spelling {
	return []spelling{
		{longestForm(`^"[^"\n]*"?`), openQuote},
		{longestForm(`^[^"\n\[\]{}:,#]+"`), missingQuote},
		{longestForm(`^[` + curly + `]([^` + curly + `"\n]*)[` + curly + `"]`), quoted},
		{longestForm(`^"([^` + curly + `"\n]*)[` + curly + `]`), quoted},
		{longestForm(`^['‘’‚‛` + "`" + `´]([^'‘’` + "`" + `´"\n]*)['‘’` + "`" + `´]`), quoted},
		{longestForm(`^(?:[-–—=]*(?:>|»|→|➔|➜)+|[-–—]{1,3})`), arrow},
		{longestForm(`^to\b`), arrow},
		{longestForm(`^(?:@|&|\+|x|×|of|and|with|length|size|section|csa|long|cable|wire)`), func(w where, m []string) reading {
			switch {
			case w.bracket && w.before.Type != typeLBracket && !w.glued:
				return reading{text: " ", message: "`" + m[0] + "` says nothing of a cable", cure: "take `" + m[0] + "` out"}
			case w.opening == "bank" && (m[0] == "&" || m[0] == "and" || m[0] == "+"):
				return reading{text: ",", message: "the members of a bank are parted by commas, not by `" + m[0] + "`", cure: "write `,` in its place"}
			}
			return reading{}
		}},
		{longestForm(`^(?:[-–—]{1,3}|=|\))`), wayMark},
		{longestForm(`^=`), func(w where, _ []string) reading {
			if w.list {
				return outOf("`=` means nothing here", "take it out")
			}
			return reading{text: ":", message: "`=` means nothing here; a colon opens a list", cure: "write `:`"}
		}},
		{longestForm(`^;`), func(w where, _ []string) reading {
			w.behind = strings.TrimLeft(w.behind[1:], " \t\r")
			if w.behind == "" || w.behind[0] == '#' {
				return outOf("`;` means nothing here; a statement ends with its line", "take it out")
			}
			if reserved[firstWord(w.behind)] == typeOpening {
				r := outOf("`;` means nothing here; a statement ends with its line", "begin a new line in its place")
				r.edit = "\n"
				return r
			}
			if !w.list {
				return reading{text: ":", message: "`;` means nothing here; a colon opens a list", cure: "write `:`"}
			}
			return reading{text: ",", message: "`;` means nothing here; a comma parts the members of a list", cure: "write `,`; a second statement goes on a line of its own"}
		}},
		{longestForm(`^…`), func(where, []string) reading { return written("..", "`…` is one mark; a range has two points") }},
	}
}

// wayMark is a mark behind the number of a way, which has none.
func wayMark(w where, m []string) reading {
	if w.opening != "way" || w.before.Type != typeNumber || w.list || w.label {
		return reading{}
	}
	return reading{text: " ", message: "`" + m[0] + "` means nothing behind the number of a way", cure: "take it out"}
}

// endsLabel is what no label is likely to hold: a mark, a number with its unit,
// the word before a domain or a place.
var endsLabel = sync.OnceValue(func() *regexp.Regexp {
	return regexp.MustCompile(`[\[\]{}:,]|\s+[0-9.]+\s*(?:[kmM]?[VAW]|[kM]?VA|Ah|mm2|m)\b|\s+(?:in|at)\s`)
})

// openQuote reads a label whose closing quote is missing as ending before the
// first thing that no label holds.
func openQuote(w where, m []string) reading {
	inner := strings.TrimSuffix(m[0][1:], `"`)
	closed := len(inner)+2 == len(m[0])
	if !w.quotes || closed && !strings.ContainsAny(inner, "[]{") && !strings.Contains(inner, ": ") {
		return reading{}
	}
	if w.list && !closed {
		return reading{text: " ", length: 1, info: &InfoOpenQuote, each: true, message: "this quote belongs to no label", cure: "take it out"}
	}
	if at := endsLabel().FindStringIndex(inner); at != nil {
		inner = inner[:at[0]]
	}
	inner = strings.TrimRight(inner, " \t\r")
	if inner == "" {
		return reading{}
	}
	return reading{
		text: `"` + inner + `"`, length: 1 + len(inner), info: &InfoOpenQuote, each: true,
		message: "this label has no closing quote", cure: "write `\"` after the last word of the label: `\"" + inner + "\"`",
	}
}

// missingQuote reads words before a lone closing quote as a label, where one may
// begin.
func missingQuote(w where, m []string) reading {
	inner := strings.TrimSuffix(m[0], `"`)
	behind := w.behind[len(m[0]):]
	mayBegin := w.before.Type == typeWord && w.earlier.Type == typeWord || w.before.Type == typeWord && w.earlier.Type == typeOpening ||
		w.opening == "way" && (w.before.Type == typeNumber || w.before.Type == typeUnit)
	if !w.quotes || w.glued || w.list || w.bracket || !mayBegin || run(inner, unicode.IsLetter) == 0 || w.number && slices.Contains(units, strings.Fields(inner)[0]) || strings.TrimRight(inner, " \t") != inner ||
		behind != "" && !strings.ContainsAny(behind[:1], " \t\r:[") {
		return reading{}
	}
	return reading{
		text: `"` + inner + `"`, info: &InfoOpenQuote, each: true,
		message: "this label has no opening quote", cure: "write `\"` before the first word of the label: `\"" + inner + "\"`",
	}
}

func quoted(w where, m []string) reading {
	if w.glued && w.before.Type == typeNumber {
		return reading{} // feet or inches
	}
	label := `"` + m[1] + `"`
	return reading{text: label, message: "labels stand in straight double quotes, not like " + m[0], cure: "write `" + label + "`"}
}

// arrow reads what stands for a cable between two things of a run.
func arrow(w where, m []string) reading {
	found := strings.TrimSpace(m[0])
	if !slices.Contains([]string{"run", "bond", "signal"}, w.opening) || w.bracket || w.before.Type == typeOpening {
		return reading{}
	}
	behind := strings.TrimLeft(w.behind[len(m[0]):], " \t")
	switch {
	case w.before.Type == typeRBracket || strings.HasPrefix(behind, "["):
		return reading{text: " ", message: "`" + found + "` means nothing beside a cable; the brackets alone are the cable", cure: "take `" + found + "` out"}
	case behind != "" && behind[0] >= '0' && behind[0] <= '9' && found != "to":
		return reading{} // a sign
	case w.number || w.before.Type == typeUnit && found == "to" || w.before.Type == typeColon || w.before.Type == typeComma || behind == "":
		return reading{}
	}
	return reading{
		text: " [] ", message: "`" + found + "` stands where a cable belongs; a cable is written in brackets between its two ends",
		cure: "write `[]` in its place, with length and size in it when they are known: `[2 m 16 mm2]`",
	}
}

// A date in another form than year, month and day.

var months = []string{"jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec"}

const monthForm = `((?i:jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec)[a-z]*)`

func dateSpellings() []spelling {
	return []spelling{
		{longestForm(`^"?([0-9]{4})([-./])([0-9]{1,2})[-./]([0-9]{1,2})"?`), func(w where, m []string) reading {
			if m[0] == m[1]+"-"+m[3]+"-"+m[4] && len(m[3]) == 2 && len(m[4]) == 2 {
				return reading{}
			}
			return date(w, m[0], m[1], [2]string{m[3], m[4]})
		}},
		{longestForm(`^"?([0-9]{1,2})[-./]([0-9]{1,2})[-./]([0-9]{4}|[0-9]{2})"?`), func(w where, m []string) reading {
			if len(m[3]) == 2 && w.before.Value != "dated" && w.opening != "" {
				return reading{}
			}
			year := m[3]
			if len(year) == 2 {
				year = "20" + year
			}
			return date(w, m[0], year, [2]string{m[2], m[1]}, [2]string{m[1], m[2]})
		}},
		{longestForm(`^"?([0-9]{1,2})(?:st|nd|rd|th)?[ \t./-]*` + monthForm + `[ \t.,/-]*([0-9]{4})"?`), func(w where, m []string) reading {
			return date(w, m[0], m[3], [2]string{monthNumber(m[2]), m[1]})
		}},
		{longestForm(`^"?` + monthForm + `[ \t.]*([0-9]{1,2})(?:st|nd|rd|th)?[ \t,]*([0-9]{4})"?`), func(w where, m []string) reading {
			return date(w, m[0], m[3], [2]string{monthNumber(m[1]), m[2]})
		}},
	}
}

func monthNumber(name string) string {
	return fmt.Sprint(1 + slices.Index(months, strings.ToLower(name[:3])))
}

// longest is how many days a month can have.
var longest = [...]int{31, 29, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31}

// date reads a year with its possible months and days.
func date(w where, found, year string, monthDays ...[2]string) reading {
	if w.bracket || w.glued && w.before.Type != typeColon || w.before.Type == typeDot {
		return reading{}
	}
	var read []string
	for _, md := range monthDays {
		month, day := int(parsed(md[0])), int(parsed(md[1]))
		if month < 1 || month > 12 || day < 1 || day > longest[month-1] {
			continue
		}
		if iso := fmt.Sprintf("%s-%02d-%02d", year, month, day); !slices.Contains(read, iso) {
			read = append(read, iso)
		}
	}
	if len(read) == 0 {
		return reading{}
	}
	lead := ""
	if w.opening == "" && w.before.Value != "dated" && w.before.Value != "date" {
		lead = "dated " // a row of the craft
	}
	r := written(lead+read[0], "`%s` is no date here; a date is year, month and day, in figures", found)
	r.each = true
	if len(read) > 1 {
		name := func(iso string) string {
			return "`" + lead + iso + "` for " + strings.TrimLeft(iso[8:], "0") + " " + monthNames[int(parsed(iso[5:7]))-1]
		}
		r.open = true
		r.cure = "write " + name(read[0]) + " or " + name(read[1])
	}
	return r
}

var monthNames = []string{"January", "February", "March", "April", "May", "June", "July", "August", "September", "October", "November", "December"}
