package resolve

import (
	"fmt"
	"slices"
	"strings"

	"strake/lang/circuit"
	"strake/lang/source"
	"strake/lang/syntax"
)

// landing is what a cable starts or ends on, resolved: one item or those of a
// range, and where on them.
type landing struct {
	span   source.Span
	items  []*circuit.Item
	dotted *syntax.Word // the port, pole or way that the text names
	port   string
	pole   circuit.Pole
	poleAt source.Span
	head   *syntax.Head // described in place
	end    *circuit.End // capped or untraced
	broken bool
}

// landing resolves one end of a cable.
func (r *resolver) landing(l *syntax.Landing) landing {
	out := landing{span: l.Span, broken: l.Broken}
	var ref *syntax.Reference
	switch {
	case l.Broken:
		return out
	case l.Capped != nil:
		out.end = &circuit.End{Capped: r.placeNamed(l.Capped)}
		return out
	case l.Untraced:
		out.end = &circuit.End{Untraced: true}
		return out
	case l.Head != nil:
		out.items, out.head, ref = r.heads[l.Head], l.Head, l.Head.Ref
		if ref == nil {
			out.broken = true
			return out
		}
		out.span = ref.Span
	case l.Ref != nil:
		ref, out.head = l.Ref, l.Board
		out.items = r.things(ref)
	default:
		out.broken = true
		return out
	}
	r.dots(&out, ref)
	return out
}

// dots resolves what stands after the dots of a reference.
func (r *resolver) dots(l *landing, ref *syntax.Reference) {
	if ref.Port == nil || len(l.items) == 0 {
		return
	}
	l.dotted = ref.Port
	it := l.items[0]
	kind := r.kinds[it]
	word := ref.Port.Text
	switch {
	case isNumber(word):
		if it.Way != nil && it.Way.Device == it {
			l.port = "out"
		}
		if l.head != nil {
			r.say(unknownPort, ref.Port.Span, "give it a reference without a dot", "a way belongs to its board; `%s` cannot be described as a way of another", ref.Span.Text())
		}
		if ref.Port2 == nil || ref.Port2.Text == "load" || r.ghosts[it] || kind == nil {
			return
		}
	case r.ghosts[it] || kind == nil:
		l.port = word
		return
	case isPole(word):
		l.pole, l.poleAt = circuit.Pole(word), ref.Port.Span
	default:
		for _, it := range l.items {
			if r.kinds[it] != nil && !r.takePort(it, ref.Port) {
				r.tellUnknownPort(it, ref)
				l.broken = true
				return
			}
		}
		l.port = word
	}
	if ref.Port2 != nil {
		if isPole(ref.Port2.Text) && l.pole == "" {
			l.pole, l.poleAt = circuit.Pole(ref.Port2.Text), ref.Port2.Span
		} else {
			r.say(unknownPort, ref.Port2.Span, "take it out", "`%s` is neither a port nor a pole of `%s`", ref.Port2.Text, ref.First.Text)
			l.broken = true
		}
	}
}

// takePort tells whether the item has the port. A changeover gets its positions
// from the cables that land on it.
func (r *resolver) takePort(it *circuit.Item, w *syntax.Word) bool {
	port := w.Text
	r.useOptionalPort(it, port)
	if it.HasPort(port) {
		return port != ""
	}
	if it.Kind != "changeover" || port == "in" || port == "off" || strings.HasPrefix(port, "out") || slipOfPosition(port) != "" {
		return false
	}
	r.positions[circuit.Terminal{Item: it, Port: port}] = w.Span
	it.Facts.Positions = append(it.Facts.Positions, port)
	it.Ports = append(it.Ports, circuit.Port{Name: port})
	return true
}

// slipOfPosition is the usual name of a position that a word is a slip of.
func slipOfPosition(word string) string {
	usual := []string{"shore", "generator", "inverter"}
	near := nearest(word, usual)
	if slices.Contains(usual, word) || plainlyOther(near, word) {
		return ""
	}
	return near
}

func (r *resolver) tellUnknownPort(it *circuit.Item, ref *syntax.Reference) {
	var names []string
	for _, p := range r.kinds[it].Ports {
		if p.Name != "" && !p.Optional {
			names = append(names, p.Name)
		}
	}
	word := ref.Port.Text
	f := r.say(unknownPort, ref.Port.Span, "", "%s has no `.%s`", article(string(it.Kind)), word)
	f.Items = []string{it.Ref}
	related(f, it.RefSpan, "`%s` is described here", it.Ref)
	switch {
	case it.Kind == "changeover" && word == "off":
		f.Message, f.Cure = "nothing can land on the position `off`", "name the position that the cable feeds, such as `"+it.Ref+".shore`"
	case it.Kind == "changeover" && slipOfPosition(word) != "":
		didYouMean(f, ref.Port.Span, word, []string{slipOfPosition(word)})
	case it.Kind == "changeover" && word != "in":
		didYouMean(f, ref.Port.Span, word, []string{"out"})
		f.Cure = "did you mean `.out`? a position has another name, such as `" + it.Ref + ".shore`"
	case it.Kind == "changeover":
		f.Message = "a changeover has no `.in`; each of its positions has a name of its own"
		f.Cure = "name the position that the cable feeds, such as `" + it.Ref + ".shore`"
	case len(names) == 0:
		f.Cure = "write `" + it.Ref + "` alone"
		f.Message += ": it has one terminal, and poles"
	default:
		f.Message += "; it has " + joined(append(quoted(prefixed(".", names)), "poles"), "and")
		f.Cure = "write " + alternatives(prefixed(it.Ref+".", names))
		didYouMean(f, ref.Port.Span, word, slices.Concat(names, poleNames))
	}
}

var poleNames = []string{"positive", "negative", "phase", "neutral"}

func isPole(word string) bool { return slices.Contains(poleNames, word) }

func prefixed(prefix string, words []string) []string {
	var out []string
	for _, w := range words {
		out = append(out, prefix+w)
	}
	return out
}

func dotted(names []string) string { return joined(quoted(prefixed(".", names)), "and") }

func quoted(words []string) []string {
	var out []string
	for _, w := range words {
		out = append(out, "`"+w+"`")
	}
	return out
}

// role is where in a chain a landing stands.
type role int

const (
	starting role = iota
	passing
	ending
)

// ends is the ends that a landing offers to the cable before it and to the one
// after it. sided says that power needs a side.
func (r *resolver) ends(l landing, as role, sided bool) (into, outOf []circuit.End, ok bool) {
	if l.broken {
		return nil, nil, false
	}
	if l.end != nil {
		return []circuit.End{*l.end}, []circuit.End{*l.end}, true
	}
	for _, it := range l.items {
		first := circuit.End{Item: it, Port: l.port, Pole: l.pole}
		second := first
		kind := r.kinds[it]
		if sided && l.port == "" && kind != nil && kind.Nature().Ends != circuit.OneEnd {
			through := it.HasPort("in") && it.HasPort("out")
			if as != passing || !through {
				r.tellSide(it, l, as)
				return nil, nil, false
			}
			first.Port, second.Port = "in", "out"
		}
		into, outOf = append(into, first), append(outOf, second)
	}
	return into, outOf, len(into) > 0
}

// tellSide asks on which side of a thing a run ends.
func (r *resolver) tellSide(it *circuit.Item, l landing, as role) {
	var sides []string
	for _, p := range it.Ports {
		if row := controlPort(r.kinds[it], p.Name); p.Name != "" && !row {
			sides = append(sides, it.Ref+"."+p.Name)
		}
	}
	verb := "ends on"
	switch as {
	case starting:
		verb = "starts at"
		slices.Reverse(sides)
	case passing:
		verb = "passes"
	}
	f := r.say(sideNotSaid, l.span, "", "this run %s `%s`, %s, without saying on which side", verb, it.Ref, article(string(it.Kind)))
	f.Items = []string{it.Ref}
	if len(sides) == 0 {
		f.Cure = "say where, as in `" + it.Ref + ".shore`"
		return
	}
	if it.Kind == "changeover" {
		f.Cure = "say which: " + alternatives(sides) + ", or another of its positions"
		return
	}
	likely := sides[0]
	if as == ending && it.Nature().Converts && r.landsOn(it, "in") && slices.Contains(sides, it.Ref+".out") {
		likely = it.Ref + ".out"
	}
	f.Cure = fmt.Sprintf("did you mean `%s`? otherwise %s", likely, alternatives(slices.DeleteFunc(slices.Clone(sides), func(s string) bool { return s == likely })))
	at := source.Span{File: l.span.File, Start: l.span.End, End: l.span.End}
	f.Edits = append(f.Edits, editInsert(at, strings.TrimPrefix(likely, it.Ref)))
}

// landsOn tells whether a cable already lands on a port.
func (r *resolver) landsOn(it *circuit.Item, port string) bool {
	return slices.ContainsFunc(r.sys.Cables, func(c *circuit.Cable) bool {
		return c.From.Item == it && c.From.Port == port || c.To.Item == it && c.To.Port == port
	})
}

func controlPort(k *Kind, name string) bool {
	return k != nil && slices.ContainsFunc(k.Ports, func(p PortRow) bool { return p.Name == name && p.Control })
}
