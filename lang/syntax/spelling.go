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
	nested  bool        // a word stands glued to the end of a label
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
	return slices.Concat(rowSpellings(), kindSpellings(), dateSpellings(), gaugeSpellings(), lengthSpellings(), domainSpellings(), rangeSpellings(),
		cableSpellings(), numberSpellings(), unitSpellings(), markSpellings())
})

// decimal is a number in these patterns.
const decimal = `([0-9]+(?:\.[0-9]+)?)`

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
	return dated || nests(row)
}

// nests tells a row in which a word, or one more label, stands glued to the end of a
// label: a quote within it closed it too early.
func nests(row []lexer.Token) bool {
	for i := 1; i < len(row); i++ {
		if t := row[i].Type; row[i-1].Type == typeString && (t == typeWord || t == typeNumber || t == typeString || t == typeStray || t == typeJoining || t == typeUnit || t == typeOpenString) {
			return true
		}
	}
	return false
}

// rowOpening is the word that opens a row, also when it has a capital.
func rowOpening(row []lexer.Token) string {
	if word := openingWord(row); word != "" {
		return word
	}
	if i := significantFrom(row, 0); i < len(row) && row[i].Type == typeWord && reserved[strings.ToLower(row[i].Value)] == typeOpening {
		return strings.ToLower(row[i].Value)
	}
	if openingBy(row) == "domain" {
		return "domain"
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
	w := where{opening: rowOpening(old), quotes: slices.ContainsFunc(old, func(t lexer.Token) bool { return t.Type == typeOpenString }), nested: nests(old)}
	pos := old[0].Pos
	for at := 0; at < len(text); {
		w.behind = text[at:]
		class, length := first(text[at:])
		if class != typeBlank && class != typeComment && class != typeString || class == typeString && (w.before.Value == "dated" || w.quotes || w.nested) {
			if r, n := s.meant(w); n > 0 {
				s.say(r, pos, n)
				for i, t := range lex("", r.text) {
					if t.Type == typeBlank {
						continue
					}
					start, end := pos.Offset, pos.Offset+n
					if i > 0 {
						start = end
					}
					t = covering(start, end, t.Type, t.Value)
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

// restless tells tokens that only these spellings have, beside the usual ones.
func restless(before, t lexer.Token, opening string, first bool) bool {
	switch t.Type {
	case typeNumber, typeDecimalComma:
		mark := strings.IndexAny(t.Value, ".,")
		return mark > 0 && mark == len(t.Value)-4 || before.Type == typeNumber && len(t.Value) == 3
	case typeTimes, typePer:
		return true
	case typeColon:
		return opening == "bank" || first && (craftRows[strings.ToLower(before.Value)] || reserved[strings.ToLower(before.Value)] == typeOpening)
	case typeLBracket:
		return before.Type == typeComma
	case typeComma:
		return before.Type == typeRBracket
	case typeOpening:
		return t.Value == before.Value
	case typeClosing:
		return before.Type == typeComma || first && craftRows[strings.ToLower(before.Value)]
	case typeJoining, typeWord:
		small := strings.ToLower(t.Value)
		switch {
		case t.Value == before.Value, kindsOfTwoWords[before.Value+" "+t.Value] != "", first && strings.HasPrefix(t.Value, "way"):
		case upper(t.Value) && (before.Type == typeLBracket || opening == "way" && (before.Type == typeUnit || before.Type == typeNumber)):
		case t.Value == "to" && (before.Type != typeUnit || opening != "domain"):
		case t.Value == "from", t.Value == "via", t.Value == "past", t.Value == "thru", strings.HasPrefix(small, "ø"), before.Type == typeDot:
		case strings.HasPrefix(small, "tb"), strings.HasPrefix(small, "unk") && t.Value != "unknown": // not known
		case strings.HasSuffix(t.Value, "ca"), len(t.Value) >= 3 && strings.HasPrefix("approximately", t.Value): // not certain
		case opening == "interlock", opening == "condition" && before.Type == typeWord:
		default:
			return false
		}
		return true
	}
	return false
}
