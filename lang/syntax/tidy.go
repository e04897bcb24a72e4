package syntax

// The canonical layout of a text. Only blanks change: the layout is worked out
// from the tokens and the line breaks alone, never remembered, so that a text
// whose blanks were squeezed comes out as it was.

import (
	"slices"
	"strings"
	"unicode/utf8"

	"github.com/alecthomas/participle/v2/lexer"

	"strake/lang/diag"
	"strake/lang/source"
)

// Tidy lays a text out and says what Parse finds in it. Comments stay where
// they are; of several blank rows one stays.
func Tidy(file *source.File) (string, []diag.Finding) {
	_, findings := Parse(file)
	text := layOut(file)
	if !slices.Equal(meaning(file.Text), meaning(text)) {
		return file.Text, findings // blanks that hold a faulty row's words apart
	}
	if len(findings) > 0 {
		// In a faulty text a blank may be what makes the difference.
		laid := source.NewFile(file.Name, text)
		if _, after := Parse(laid); !slices.Equal(kinds(findings), kinds(after)) || layOut(laid) != text {
			return file.Text, findings
		}
	}
	return text, findings
}

func layOut(file *source.File) string {
	rows := printRows(file, lex(file.Name, file.Text))
	align(rows)
	return join(rows)
}

func kinds(findings []diag.Finding) []string {
	var out []string
	for _, f := range findings {
		out = append(out, f.Rule)
	}
	slices.Sort(out)
	return out
}

// meaning is the tokens without blanks.
func meaning(text string) []string {
	var out []string
	for _, t := range lex("", text) {
		switch t.Type {
		case typeBlank, typeNewline:
		case typeComment, typeOpenString:
			out = append(out, strings.TrimRight(t.Value, " \t\r"))
		default:
			out = append(out, t.Value)
		}
	}
	return out
}

// printRow is one row on its way to paper: cells that may be aligned with those
// of its neighbours, and a comment.
type printRow struct {
	indent  int
	cells   []cell
	comment string
	blank   bool
	group   any // rows of one group, not parted by a blank row, are aligned
}

// cell is a column of a row. Its width is not counted when it is wider than
// its limit: one long cable does not push all the others aside.
type cell struct {
	text  string
	limit int
	gap   int // blanks after the column
	right bool
}

func printRows(file *source.File, tokens []lexer.Token) []*printRow {
	layout := depths(file, tokens)
	var rows []*printRow
	for from := 0; from < len(tokens); {
		to := from
		for to < len(tokens) && tokens[to].Type != typeNewline {
			to++
		}
		rows = append(rows, layout.row(tokens, from, to))
		from = to + 1
	}
	// A comment on a row of its own stands as the next row of code does.
	indent := 0
	for i := len(rows) - 1; i >= 0; i-- {
		switch r := rows[i]; {
		case r.blank:
		case len(r.cells) == 0:
			r.indent = indent
		default:
			indent = r.indent
		}
	}
	return rows
}

// depths knows where statements begin.
type rowLayout struct {
	starts map[int]*cutting // by first token
	inside map[*cutting]*cutting
	all    []*cutting
}

func depths(file *source.File, tokens []lexer.Token) *rowLayout {
	l := &rowLayout{starts: map[int]*cutting{}, inside: map[*cutting]*cutting{}}
	cuttings, _ := cut(file, tokens)
	for _, s := range cuttings {
		l.starts[s.from] = s
		l.all = append(l.all, s)
		for _, row := range s.rows {
			l.starts[row.from] = row
			l.inside[row] = s
			l.all = append(l.all, row)
		}
	}
	slices.SortStableFunc(l.all, func(a, b *cutting) int { return a.from - b.from })
	return l
}

const step = 4

func (l *rowLayout) row(tokens []lexer.Token, from, to int) *printRow {
	r := &printRow{}
	var code []int
	for i := from; i < to; i++ {
		switch tokens[i].Type {
		case typeBlank:
		case typeComment:
			r.comment = strings.TrimRight(tokens[i].Value, " \t\r\f\v\u00A0\uFEFF")
		default:
			code = append(code, i)
		}
	}
	if len(code) == 0 {
		r.blank = r.comment == ""
		return r
	}
	first := code[0]
	words := func(list []int, limit, gap int) cell { return cell{text: spell(tokens, list), limit: limit, gap: gap} }
	s := l.starts[first]
	switch {
	case s == nil && tokens[first].Type == typeRBrace:
		r.cells = []cell{words(code, 0, 0)}
	case s == nil:
		s = l.holding(first)
		r.indent = step
		if l.inside[s] != nil {
			r.indent += step
		}
		if close := slices.IndexFunc(code, func(i int) bool { return tokens[i].Type == typeRBracket }); tokens[first].Type == typeLBracket && close >= 0 {
			r.group = s
			r.cells = []cell{words(code[:close+1], 18, 2), words(code[close+1:], 0, 0)}
		} else {
			r.cells = []cell{words(code, 0, 0)}
		}
	case l.inside[s] != nil && openingWord(tokens[l.inside[s].from:l.inside[s].to]) == "craft":
		r.indent = step
		r.group = l.inside[s]
		r.cells = []cell{words(code[:1], 16, 2), words(code[1:], 0, 0)}
	case l.inside[s] != nil:
		r.indent = step
		if openingWord(tokens[s.from:s.to]) == "way" {
			r.group = l.inside[s]
			r.cells = wayCells(tokens, code)
		} else {
			r.cells = []cell{words(code, 0, 0)}
		}
	default:
		word := tokens[first].Value
		if (word == "domain" || word == "place" || word == "part") && len(code) > 2 && tokens[code[2]].Type != typeColon {
			r.group = word
			r.cells = []cell{words(code[:2], 30, 1), words(code[2:], 0, 0)}
		} else {
			r.cells = []cell{words(code, 0, 0)}
		}
	}
	return r
}

// holding is the statement that goes on at a token.
func (l *rowLayout) holding(token int) *cutting {
	i, found := slices.BinarySearchFunc(l.all, token, func(s *cutting, token int) int { return s.from - token })
	if !found {
		i--
	}
	if i < 0 {
		return nil
	}
	return l.all[i]
}

// wayCells are the columns of a way: its number, what protects, label, what is
// fed, cables.
func wayCells(tokens []lexer.Token, code []int) []cell {
	var columns [5][]int
	column := 0
	for k, i := range code {
		t := tokens[i]
		switch {
		case t.Type == typeLBracket:
			column = 4
		case column == 0 && k > 0 && isWayNumber(tokens, code[:k]) && t.Type != typeRange:
			column = 1
		}
		switch {
		case column != 1 && column != 2:
		case column == 1 && t.Type == typeString:
			column = 2
		case column == 2, isWordy(t) && !slices.Contains([]string{"pole", "curve", "type", "class"}, t.Value):
			column = 3
		}
		columns[column] = append(columns[column], i)
	}
	limits := [5]int{20, 20, 34, 40, 0}
	var cells []cell
	for k, list := range columns {
		cells = append(cells, cell{text: spell(tokens, list), limit: limits[k], gap: 2, right: k == 1})
	}
	return cells
}

// isWayNumber tells that the words before end with a way's number or range.
func isWayNumber(tokens []lexer.Token, before []int) bool {
	if tokens[before[len(before)-1]].Type != typeNumber {
		return false
	}
	return tokens[before[0]].Type == typeOpening || len(before) > 2
}

// spell writes tokens with the blanks that belong between them.
func spell(tokens []lexer.Token, list []int) string {
	var b strings.Builder
	for k, i := range list {
		if k > 0 && blankBetween(tokens, list[k-1], i) {
			b.WriteByte(' ')
		}
		b.WriteString(strings.TrimRight(tokens[i].Value, " \t\r"))
	}
	return b.String()
}

func blankBetween(tokens []lexer.Token, before, after int) bool {
	a, b := tokens[before], tokens[after]
	asWritten := after > before+1
	for _, t := range []lexer.TokenType{typeStray, typeDot, typeRange, typeOpenString, typeDecimalComma, typeTimes} {
		if a.Type == t || b.Type == t {
			return asWritten
		}
	}
	switch {
	case b.Type == typeComma, b.Type == typeColon, b.Type == typeRBracket, a.Type == typeLBracket:
		return false
	case b.Type == typeNumber && signFollows(a, b):
		return asWritten
	}
	return true
}

// align widens the cells of neighbouring rows of one group to common columns,
// and sets the comments of neighbouring rows below each other.
func align(rows []*printRow) {
	code := slices.DeleteFunc(slices.Clone(rows), func(r *printRow) bool { return !r.blank && len(r.cells) == 0 })
	for from := 0; from < len(code); {
		to := from + 1
		for to < len(code) && code[from].group != nil && code[to].group == code[from].group {
			to++
		}
		alignCells(code[from:to])
		from = to
	}
	for from := 0; from < len(rows); {
		to := from + 1
		for to < len(rows) && carriesComment(rows[from]) && carriesComment(rows[to]) {
			to++
		}
		if carriesComment(rows[from]) {
			alignComments(rows[from:to])
		}
		from = to
	}
}

func carriesComment(r *printRow) bool { return r.comment != "" && len(r.cells) > 0 }

func alignCells(rows []*printRow) {
	for column := range rows[0].cells {
		widest, used := 0, false
		for _, r := range rows {
			c := r.cells[column]
			used = used || c.text != ""
			if n := utf8.RuneCountInString(c.text); n <= c.limit {
				widest = max(widest, n)
			}
		}
		for _, r := range rows {
			c := &r.cells[column]
			if !used || column == len(r.cells)-1 {
				continue
			}
			n := utf8.RuneCountInString(c.text)
			pad := strings.Repeat(" ", max(0, widest-n))
			if c.right {
				c.text = pad + c.text
			} else {
				c.text += pad
			}
			c.text += strings.Repeat(" ", c.gap)
		}
	}
}

func alignComments(rows []*printRow) {
	widest := 0
	for _, r := range rows {
		widest = max(widest, utf8.RuneCountInString(r.code()))
	}
	for _, r := range rows {
		pad := widest - utf8.RuneCountInString(r.code())
		r.comment = strings.Repeat(" ", pad+2) + r.comment
	}
}

func (r *printRow) code() string {
	var b strings.Builder
	b.WriteString(strings.Repeat(" ", r.indent))
	for _, c := range r.cells {
		b.WriteString(c.text)
	}
	return strings.TrimRight(b.String(), " ")
}

// join writes the rows, with no blank row at the ends or inside a brace's edge
// and never two together.
func join(rows []*printRow) string {
	var b strings.Builder
	pending, last := false, ""
	for _, r := range rows {
		if r.blank {
			pending = true
			continue
		}
		row := strings.TrimRight(r.code()+r.comment, " ")
		if len(r.cells) == 0 {
			row = strings.Repeat(" ", r.indent) + r.comment
		}
		if pending && b.Len() > 0 && !strings.HasSuffix(last, "{") && !strings.HasPrefix(row, "}") {
			b.WriteByte('\n')
		}
		pending = false
		b.WriteString(row + "\n")
		last = row
	}
	return b.String()
}
