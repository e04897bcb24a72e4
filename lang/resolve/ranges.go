package resolve

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"strake/lang/circuit"
	"strake/lang/diag"
	"strake/lang/syntax"
)

// namesIn is the names of a reference: one, or those of a range. A range that
// cannot be is reported and gives the names that were probably meant, so that
// nothing else is told of them.
func (r *resolver) namesIn(ref *syntax.Reference) []string {
	first := ref.First.Text
	if ref.Last == nil {
		return r.namesRunTogether(ref.First)
	}
	last := ref.Last.Text
	span := ref.First.Span.Join(ref.Last.Span)
	prefix, from := splitNumber(first)
	prefix2, to := splitNumber(last)
	switch {
	case from == "" || to == "":
		r.say(badRange, span, fmt.Sprintf("number them, as in `%s1..%s3`", prefix, prefix), "`%s..%s` is no range: both names end in a number", first, last)
		return slices.Compact([]string{first, last})
	case prefix != prefix2:
		r.say(badRange, span, fmt.Sprintf("write `%s..%s%s`", first, prefix, to), "`%s..%s` is no range: one begins with `%s`, the other with `%s`", first, last, prefix, prefix2)
	}
	a, err1 := strconv.Atoi(from)
	b, err2 := strconv.Atoi(to)
	switch {
	case err1 != nil || err2 != nil || max(a, b)-min(a, b) >= largestCount:
		r.say(badRange, span, fmt.Sprintf("write at most %d of one thing", largestCount), "`%s..%s` is too long a range", first, last)
		return []string{first}
	case a > b && prefix == prefix2:
		r.say(badRange, span, fmt.Sprintf("write `%s..%s`", last, first), "the range `%s..%s` runs downwards", first, last)
	}
	if a > b {
		a, b, from = b, a, to
	}
	var names []string
	for n := a; n <= b; n++ {
		names = append(names, prefix+pad(n, from))
	}
	return names
}

// namesRunTogether is a single name. One like F1F3 is a range that lost its
// dots: as a name it would be one thing where several are meant.
func (r *resolver) namesRunTogether(w syntax.Word) []string {
	front, last := splitNumber(w.Text)
	cut := strings.LastIndexAny(front, "0123456789") + 1
	prefix, first := splitNumber(front[:cut])
	a, err1 := strconv.Atoi(first)
	b, err2 := strconv.Atoi(last)
	if err1 != nil || err2 != nil || prefix == "" || front[cut:] != prefix || a >= b || b-a >= largestCount {
		return []string{w.Text}
	}
	if !r.togetherSaid[w.Text] {
		r.togetherSaid[w.Text] = true
		f := r.say(badRange, w.Span, fmt.Sprintf("write `%s%s..%s%s` for a range", prefix, first, prefix, last), "`%s` reads like two references in one", w.Text)
		f.Edits = []diag.Edit{{Span: w.Span, New: prefix + first + ".." + prefix + last}}
	}
	var names []string
	for n := a; n <= b; n++ {
		names = append(names, prefix+pad(n, first))
	}
	return names
}

// splitNumber parts a name from the number at its end.
func splitNumber(name string) (string, string) {
	prefix := strings.TrimRight(name, "0123456789")
	return prefix, name[len(prefix):]
}

// pad writes a number with the leading zeros of the range's first one.
func pad(n int, like string) string {
	if strings.HasPrefix(like, "0") && len(like) > 1 {
		return fmt.Sprintf("%0*d", len(like), n)
	}
	return strconv.Itoa(n)
}

// things is the items that a reference names: one, those of a range, a way's
// device, or a way's load. What is not known is a ghost.
func (r *resolver) things(ref *syntax.Reference) []*circuit.Item {
	var list []*circuit.Item
	var unknown, known []string
	for _, name := range r.namesIn(ref) {
		it := r.items[name]
		if it != nil {
			known = append(known, name)
		}
		switch {
		case it == nil:
			unknown = append(unknown, name)
			list = append(list, r.ghost(name, ref.First.Span))
		case ref.Port != nil && isNumber(ref.Port.Text):
			list = append(list, r.waysIn(it, ref)...)
		default:
			list = append(list, it)
		}
	}
	if len(unknown) > 0 {
		span := ref.First.Span
		if ref.Last != nil {
			span = span.Join(ref.Last.Span)
		}
		r.unknownThings(unknown, known, span)
	}
	return list
}

// one is the single item that a reference names where a range cannot stand.
func (r *resolver) one(ref *syntax.Reference, what string) *circuit.Item {
	list := r.things(ref)
	if len(list) > 1 {
		r.say(badRange, ref.Span, "name one thing", "%s is one thing, not the range `%s`", what, ref.Span.Text())
		return r.ghost(ref.First.Text, ref.Span)
	}
	return list[0]
}

func isNumber(s string) bool { return s != "" && s[0] >= '0' && s[0] <= '9' }
