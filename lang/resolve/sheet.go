package resolve

import (
	"slices"
	"strconv"

	"strake/lang/circuit"
	"strake/lang/syntax"
)

// sheet resolves where things stood on a sheet. A name that nothing has any more
// is advice: it is no part of the craft.
func (r *resolver) sheet(s *syntax.Sheet) {
	number, ok := r.whole(&s.Number, 1, mostSheets)
	if !ok {
		return
	}
	for i := range s.Spots {
		k := &s.Spots[i]
		at := circuit.Spot{Sheet: number, Span: s.Span}
		x, fine := r.whole(&k.X, 0, mostMillimetres)
		y, also := r.whole(&k.Y, 0, mostMillimetres)
		if !fine || !also {
			continue
		}
		at.X, at.Y = x, y
		name := refText(&k.Of)
		if at.Cable = r.sys.Cable(name); at.Cable == nil {
			at.Item = r.sys.Item(name)
		}
		switch {
		case at.Cable == nil && at.Item == nil:
			if !r.isUnread(name) {
				r.say(notOnSheet, k.Span, "take it out, or let `strake settle` write the places anew", "nothing and no cable is called `%s`", name)
			}
		case slices.ContainsFunc(r.sys.Spots, func(o circuit.Spot) bool {
			return o.Item == at.Item && o.Cable == at.Cable && (o.Sheet == at.Sheet || at.Item != nil)
		}):
			r.say(saidTwice, k.Span, "leave one of the two", "where `%s` stands is stated twice", name)
		default:
			r.sys.Spots = append(r.sys.Spots, at)
		}
	}
}

// Bounds of numbers that no sheet exceeds.
const (
	mostSheets      = 99
	mostMillimetres = 5000
)

// whole is a whole number within bounds.
func (r *resolver) whole(w *syntax.Word, least, most int) (int, bool) {
	n, err := strconv.Atoi(w.Text)
	if err != nil || n < least || n > most {
		r.say(impossibleNumber, w.Span, "write a whole number from "+strconv.Itoa(least)+" to "+strconv.Itoa(most), "`%s` is no such number", w.Text)
		return 0, false
	}
	return n, true
}
