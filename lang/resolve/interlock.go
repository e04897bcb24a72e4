package resolve

import (
	"slices"

	"strake/lang/circuit"
	"strake/lang/syntax"
)

// interlock resolves what may not, or must, run together.
func (r *resolver) interlock(s *syntax.Interlock) {
	lock := circuit.Interlock{Span: s.Span, First: r.sound(r.things(&s.First)), Second: r.sound(r.things(&s.Second))}
	switch s.Word.Text {
	case "never":
	case "only":
		lock.Only = true
	default:
		f := r.say(unknownValue, s.Word.Span, "write `never with` or `only with`", "things are interlocked `never with` or `only with` each other, not `%s with`", s.Word.Text)
		didYouMean(f, s.Word.Span, s.Word.Text, []string{"never", "only"})
		return
	}
	if s.By != nil {
		if by := r.one(s.By, "what enforces an interlock"); !r.ghosts[by] {
			lock.By = by
		}
	}
	if len(lock.First) == 0 || len(lock.Second) == 0 {
		return
	}
	for _, it := range lock.First {
		if slices.Contains(lock.Second, it) {
			r.say(interlockedWithItself, s.Second.Span, "name another thing", "`%s` is interlocked with itself", it.Ref)
			return
		}
	}
	r.sys.Interlocks = append(r.sys.Interlocks, lock)
}

// enforce tells the interlocks that something wired enforces from habits.
func (r *resolver) enforce() {
	if len(r.sys.Interlocks) == 0 {
		return
	}
	net := circuit.NewNet(r.sys)
	for i := range r.sys.Interlocks {
		r.sys.Interlocks[i].Enforced = net.Enforces(r.sys.Interlocks[i])
	}
}

// sound is a list without what could not be resolved.
func (r *resolver) sound(items []*circuit.Item) []*circuit.Item {
	return slices.DeleteFunc(slices.Clone(items), func(it *circuit.Item) bool { return r.ghosts[it] })
}

// order resolves the author's order along a bar.
func (r *resolver) order(s *syntax.Order) {
	bar := r.one(&s.Bar, "the bar of an order")
	o := circuit.Order{Bar: bar, Span: s.Span}
	for i := range s.Items {
		for _, it := range r.things(&s.Items[i]) {
			switch {
			case r.ghosts[it]:
			case slices.Contains(o.Items, it):
				r.say(saidTwice, s.Items[i].Span, "name it once", "`%s` stands twice in the order along `%s`", it.Ref, bar.Ref)
			default:
				o.Items = append(o.Items, it)
			}
		}
	}
	if r.ghosts[bar] {
		return
	}
	if !bar.Nature().Conductive {
		f := r.say(notABar, s.Bar.Span, "name a bus, a stud or a board", "`%s` is %s, along which nothing has an order", bar.Ref, article(string(bar.Kind)))
		related(f, bar.RefSpan, "`%s` is described here", bar.Ref)
		return
	}
	for _, other := range r.sys.Orders {
		if other.Bar == bar {
			f := r.say(saidTwice, s.Span, "make one statement of the two", "the order along `%s` is stated twice", bar.Ref)
			related(f, other.Span, "stated here before")
			return
		}
	}
	r.sys.Orders = append(r.sys.Orders, o)
}
