package diag

// Findings for a terminal: place, severity, rule and message, the row of the
// text with the span underlined, what explains it and what to do.

import (
	"fmt"
	"strings"
	"unicode"

	"golang.org/x/text/width"

	"strake/lang/source"
)

// Options of the terminal that is printed to.
type Options struct {
	Width  int // columns; 0: rows are never broken
	Colour bool
}

// Text is the findings in their given order, and the last line.
func Text(findings []Finding, summary Summary, options Options) string {
	p := &printer{Options: options}
	for _, f := range findings {
		p.finding(f)
	}
	p.b.WriteString(LastLine(findings, summary))
	p.b.WriteByte('\n')
	return p.b.String()
}

type printer struct {
	Options
	b strings.Builder
}

const (
	tabWidth = 4
	indent   = "    "
)

var inks = map[Severity]string{
	Error: "1;31", Danger: "1;31", Fault: "1;33", Advice: "1;36", NotVerified: "1;35",
}

func (p *printer) ink(code, text string) string {
	if !p.Colour || text == "" {
		return text
	}
	return "\x1b[" + code + "m" + text + "\x1b[0m"
}

func (p *printer) finding(f Finding) {
	severity := f.Severity.String()
	if f.Accepted != "" {
		severity += ", accepted"
	}
	place := Place(f.Span)
	if place != "" {
		place += ": "
	}
	// The message is broken by what is seen; ink is laid on afterwards.
	lead := place + severity + " " + f.Rule + ": "
	lines := fold(lead+f.Message, p.Width, indent)
	inked := p.ink("1", place) + p.ink(inks[f.Severity], severity+" "+f.Rule) + ": "
	p.b.WriteString(strings.Replace(strings.Join(lines, "\n"), lead, inked, 1) + "\n")
	p.snippet(f.Span, inks[f.Severity])
	for _, r := range f.Related {
		place := Place(r.Span)
		if place != "" {
			place += ": "
		}
		p.note("see", place+r.Message)
		p.snippet(r.Span, "1;34")
	}
	p.note("not known", f.Missing)
	p.note("cure", f.Cure)
	p.note("holds", configurationName(f.Configuration))
	p.note("source", f.Source)
	p.note("accepted", f.Accepted)
	p.b.WriteByte('\n')
}

func configurationName(c string) string {
	switch c {
	case "as-handed-over":
		return "as handed over"
	case "fully-equipped":
		return "fully equipped"
	}
	return c
}

func (p *printer) note(name, text string) {
	if text == "" {
		return
	}
	lead := indent + name + ": "
	lines := fold(lead+text, p.Width, indent+indent)
	p.b.WriteString(strings.Replace(strings.Join(lines, "\n"), lead, indent+p.ink("1", name+":")+" ", 1) + "\n")
}

// Place is `file:line:column`, empty for a span that stands nowhere.
func Place(s source.Span) string {
	if s.IsZero() {
		return ""
	}
	at := s.From()
	return fmt.Sprintf("%s:%d:%d", visible(s.File.Name), at.Line, at.Column)
}

// snippet is the row in which a span begins, with the span underlined.
func (p *printer) snippet(s source.Span, ink string) {
	if s.IsZero() {
		return
	}
	from, to := s.From(), s.To()
	row := s.File.Line(from.Line)
	margin := fmt.Sprintf("%5d | ", from.Line)
	before := cells(row, from.Column-1)
	end := cells(row, len([]rune(row)))
	if to.Line == from.Line {
		end = cells(row, to.Column-1)
	}
	length := max(end-before, 1)
	text := flat(row)
	if room := p.Width - len(margin); p.Width > 0 && room >= 20 && textWidth(text) > room {
		text, before, length = window(text, before, length, room)
	}
	p.b.WriteString(strings.TrimRight(margin+text, " ") + "\n")
	blank := strings.Repeat(" ", len(margin)-2) + "| " + strings.Repeat(" ", before)
	p.b.WriteString(blank + p.ink(ink, strings.Repeat("^", length)) + "\n")
}

// window cuts a long row so that the span's beginning is seen.
func window(text string, before, length, room int) (string, int, int) {
	const dots = "…"
	start := 0
	if before+min(length, room/2) > room-1 {
		start = before - room/3
	}
	var b strings.Builder
	if start > 0 {
		b.WriteString(dots)
	}
	at, first := 0, -1
	for _, r := range text {
		w := runeWidth(r)
		if at >= start && at-start+w <= room-2 {
			if first < 0 {
				first = at
			}
			b.WriteRune(r)
		}
		at += w
	}
	if at-start > room-2 {
		b.WriteString(dots)
	}
	shift := 0
	if start > 0 {
		shift = first - 1
	}
	before = max(before-shift, 0)
	return b.String(), before, max(1, min(length, room-1-before))
}

// flat is a row with its tabs spread and everything that a terminal would act
// upon made harmless.
func flat(row string) string {
	var b strings.Builder
	at := 0
	for _, r := range row {
		if r == '\t' {
			n := tabWidth - at%tabWidth
			b.WriteString(strings.Repeat(" ", n))
			at += n
			continue
		}
		r = harmless(r)
		b.WriteRune(r)
		at += runeWidth(r)
	}
	return b.String()
}

func visible(text string) string {
	return strings.Map(harmless, text)
}

// harmless replaces control characters and those that turn the direction of writing.
func harmless(r rune) rune {
	if unicode.IsControl(r) || unicode.Is(unicode.Bidi_Control, r) || unicode.Is(unicode.Zl, r) || unicode.Is(unicode.Zp, r) {
		return '\uFFFD'
	}
	return r
}

// cells is how many columns the first n characters of a row take.
func cells(row string, n int) int {
	at := 0
	for _, r := range row {
		if n == 0 {
			break
		}
		n--
		if r == '\t' {
			at += tabWidth - at%tabWidth
		} else {
			at += runeWidth(harmless(r))
		}
	}
	return at
}

func textWidth(text string) int {
	n := 0
	for _, r := range text {
		n += runeWidth(r)
	}
	return n
}

func runeWidth(r rune) int {
	switch {
	case unicode.In(r, unicode.Mn, unicode.Me, unicode.Cf):
		return 0
	case width.LookupRune(r).Kind() == width.EastAsianWide, width.LookupRune(r).Kind() == width.EastAsianFullwidth:
		return 2
	}
	return 1
}

// fold breaks a text at blanks so that no row is wider than the terminal,
// where its words allow it.
func fold(text string, columns int, hanging string) []string {
	text = visible(text)
	if columns <= 0 || textWidth(text) <= columns {
		return []string{text}
	}
	var rows []string
	row := ""
	for i, word := range strings.Split(text, " ") {
		switch {
		case i == 0:
			row = word
		case strings.TrimSpace(row) != "" && textWidth(row)+1+textWidth(word) > columns:
			rows = append(rows, row)
			row = hanging + word
		default:
			row += " " + word
		}
	}
	return append(rows, row)
}
