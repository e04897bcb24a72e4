package lang

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"strake/lang/circuit"
	"strake/lang/diag"
	"strake/lang/quantity"
	"strake/lang/size"
	"strake/lang/source"
)

// Settle writes into a craft's text what the compiler chose: the sizes of
// cables and the ratings of devices that it leaves out, the orders along bars in
// which it was drawn, and where everything stood. One bracket or one head of a range is written
// once. What stands in a shelf of parts, or cannot be placed on one spot, stays
// open. The edits do not overlap; Apply makes them.
func Settle(r Result, drawn []circuit.Order, stood []circuit.Spot) []diag.Edit {
	if r.HasErrors() || len(r.Files) == 0 {
		return nil
	}
	craft := r.Files[0]
	s := settler{craft: craft, chosen: map[source.Span]string{}}
	for i := range r.Plan.Cables {
		if c := &r.Plan.Cables[i]; c.Chosen && c.Area.Known {
			s.cable(c)
		}
	}
	for _, b := range r.Plan.Bonds {
		if b.Chosen {
			s.size(b.Of, number(float64(b.Area.Value))+" mm2")
		}
	}
	for i := range r.Plan.Devices {
		if d := &r.Plan.Devices[i]; d.Chosen && d.Rating.Known {
			s.device(d.Of, d.Rating.Value)
		}
	}
	s.orders(r.System.Orders, drawn)
	s.sheets(r.System.Spots, stood)
	slices.SortStableFunc(s.edits, func(a, b diag.Edit) int { return cmp.Compare(a.Span.Start, b.Span.Start) })
	return s.edits
}

// Apply makes edits that do not overlap, given in the order of the text.
func Apply(text string, edits []diag.Edit) string {
	var b strings.Builder
	at := 0
	for _, e := range edits {
		b.WriteString(text[at:e.Span.Start])
		b.WriteString(e.New)
		at = e.Span.End
	}
	b.WriteString(text[at:])
	return b.String()
}

// settler gathers the edits; a spot that two things share takes one.
type settler struct {
	craft  *source.File
	edits  []diag.Edit
	chosen map[source.Span]string
}

func (s *settler) write(at source.Span, what string) {
	if at.File != s.craft {
		return
	}
	at.Start = at.End
	if _, done := s.chosen[at]; done {
		return
	}
	s.chosen[at] = what
	s.edits = append(s.edits, diag.Edit{Span: at, New: what})
}

// row adds a row to a board under the one that says what protects its ways.
func (s *settler) row(under source.Span, row string) {
	end := strings.IndexByte(under.File.Text[under.End:], '\n')
	if under.File != s.craft || end < 0 {
		return
	}
	at := source.Span{File: under.File, Start: under.End + end, End: under.End + end}
	s.edits = append(s.edits, diag.Edit{Span: at, New: "\n    " + row})
}

// cable writes a size before the closing bracket.
func (s *settler) cable(sized *size.Cable) {
	c, area, parallel := sized.Of, sized.Area.Value, sized.Parallel
	size := number(float64(area)) + " mm2"
	if sized.Gauge != "" {
		size = "awg " + sized.Gauge
	}
	switch {
	case c.Domain != nil && c.Domain.AC:
		size = fmt.Sprintf("3G%s", number(float64(area)))
	case parallel > 1:
		size = fmt.Sprintf("%d parallel %s", parallel, size)
	}
	s.size(c, size)
}

// size writes what is chosen before the closing bracket of a cable.
func (s *settler) size(c *circuit.Cable, size string) {
	bracket := c.Span.Text()
	if !strings.HasSuffix(bracket, "]") {
		return // the links of a bank without a bracket of their own
	}
	at := c.Span
	at.End--
	if strings.TrimSpace(bracket[1:len(bracket)-1]) != "" {
		size = " " + size
	}
	s.write(at, size)
}

// device writes a rating at the end of a head's list, or behind a way's number.
func (s *settler) device(it *circuit.Item, rating quantity.Ampere) {
	amps := number(float64(rating)) + " A"
	if it.Way != nil && it.Way.Device == it {
		if strings.HasPrefix(it.RefSpan.Text(), "ways") { // a way that a run uses and no row lists
			s.row(it.RefSpan, fmt.Sprintf("way %d %s", it.Way.Number, amps))
			return
		}
		s.write(it.RefSpan, " "+amps)
		return
	}
	head := it.Span.Text()
	switch {
	case strings.HasSuffix(strings.TrimSpace(head), "{"):
		return
	case strings.Contains(unquoted(head), ":"):
		s.write(it.Span, ", "+amps)
	default:
		s.write(it.Span, ": "+amps)
	}
}

// orders states the order along each bar that has none, or one that leaves
// something out: in place of the author's statement, else after the last one.
func (s *settler) orders(stated, drawn []circuit.Order) {
	end := len(strings.TrimRight(s.craft.Text, " \t\r\n"))
	lead := "\n\n"
	for _, o := range stated {
		if o.Span.File == s.craft {
			end, lead = endOfLine(s.craft.Text, o.Span.End), "\n"
		}
	}
	var fresh strings.Builder
	for _, o := range drawn {
		refs := make([]string, len(o.Items))
		for i, it := range o.Items {
			refs[i] = it.Ref
		}
		line := fmt.Sprintf("order %s: %s", o.Bar.Ref, strings.Join(refs, ", "))
		i := slices.IndexFunc(stated, func(a circuit.Order) bool { return a.Bar == o.Bar })
		if i < 0 {
			fresh.WriteString(lead + line)
			lead = "\n"
			continue
		}
		missing := slices.ContainsFunc(o.Items, func(it *circuit.Item) bool { return !slices.Contains(stated[i].Items, it) })
		if missing && stated[i].Span.File == s.craft {
			s.edits = append(s.edits, diag.Edit{Span: stated[i].Span, New: line})
		}
	}
	if fresh.Len() > 0 {
		at := source.Span{File: s.craft, Start: end, End: end}
		s.edits = append(s.edits, diag.Edit{Span: at, New: fresh.String()})
	}
}

// nearBy is how many millimetres from where the text says a thing may stand for
// that to be left as it is.
const nearBy = 10

// sheets states where everything stands, all of it anew if anything stands
// elsewhere or is new, so that no two states are mixed.
func (s *settler) sheets(stated, drawn []circuit.Spot) {
	if len(drawn) == 0 || circuit.SameSpots(stated, drawn, nearBy) {
		return
	}
	text := s.craft.Text
	end := len(strings.TrimRight(text, " \t\r\n"))
	var spans []source.Span
	for _, o := range stated {
		if !slices.Contains(spans, o.Span) {
			spans = append(spans, o.Span)
		}
	}
	rows := sheetRows(drawn)
	lead := "\n\n"
	if len(spans) > 0 { // in place of what stood there
		slices.SortFunc(spans, func(a, b source.Span) int { return a.Start - b.Start })
		s.edits = append(s.edits, diag.Edit{Span: spans[0], New: strings.Join(rows, "\n")})
		for _, old := range spans[1:] {
			old.Start, old.End = lineStart(text, old.Start), min(len(text), endOfLine(text, old.End)+1)
			s.edits = append(s.edits, diag.Edit{Span: old})
		}
		return
	}
	s.edits = append(s.edits, diag.Edit{Span: source.Span{File: s.craft, Start: end, End: end}, New: lead + strings.Join(rows, "\n")})
}

// sheetRows are the statements of places: one for each sheet and each kind of
// name, so that a thing more changes one row.
func sheetRows(spots []circuit.Spot) []string {
	letters := func(s circuit.Spot) string {
		return strings.TrimRight(strings.SplitN(s.Name(), "-", 2)[0], "0123456789.")
	}
	spots = slices.Clone(spots)
	slices.SortStableFunc(spots, func(a, b circuit.Spot) int {
		return cmp.Or(a.Sheet-b.Sheet, cmp.Compare(letters(a), letters(b)), circuit.Compare(a.Name(), b.Name()))
	})
	var rows []string
	for i, k := range spots {
		spot := fmt.Sprintf("%s %d %d", k.Name(), k.X, k.Y)
		if i > 0 && spots[i-1].Sheet == k.Sheet && letters(spots[i-1]) == letters(k) {
			rows[len(rows)-1] += ", " + spot
			continue
		}
		rows = append(rows, fmt.Sprintf("sheet %d in mm: %s", k.Sheet, spot))
	}
	return rows
}

func lineStart(text string, at int) int { return strings.LastIndexByte(text[:at], '\n') + 1 }

func endOfLine(text string, from int) int {
	if i := strings.IndexByte(text[from:], '\n'); i >= 0 {
		return from + i
	}
	return len(text)
}

// unquoted is a head without its label, in which a colon may stand.
func unquoted(head string) string {
	parts := strings.Split(head, `"`)
	for i := 1; i < len(parts); i += 2 {
		parts[i] = ""
	}
	return strings.Join(parts, "")
}

func number(v float64) string { return strconv.FormatFloat(v, 'g', 6, 64) }
