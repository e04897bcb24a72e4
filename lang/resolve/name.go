package resolve

import (
	"fmt"
	"slices"
	"strings"

	"strake/lang/circuit"
	"strake/lang/diag"
)

// nameCables calls each cable by the items at its ends, a way's by its way.
// What ends on something unresolved is left out: its cause is told already.
func (r *resolver) nameCables() {
	s := r.sys
	touchesGhost := func(c *circuit.Cable) bool {
		return r.ghosts[c.From.Item] || r.ghosts[c.To.Item]
	}
	for _, set := range []*[]*circuit.Cable{&s.Cables, &s.Bonds, &s.Signals} {
		*set = slices.DeleteFunc(*set, touchesGhost)
	}
	names := map[string]*circuit.Cable{}
	for _, set := range [][]*circuit.Cable{s.Cables, s.Bonds, s.Signals} {
		for _, c := range set {
			r.nameCable(c)
			key := c.ID
			if flipped := c.Flipped(); flipped != "" && circuit.Compare(flipped, key) < 0 {
				key = flipped
			}
			if other := names[key]; other != nil {
				r.tellDoubleCable(c, other)
				continue
			}
			names[key] = c
			if it := r.items[c.ID]; it != nil && c.OwnRef {
				f := r.say(doubleName, c.Span, "give the cable another reference", "the cable `%s` is called like a thing", c.ID)
				related(f, it.RefSpan, "`%s`", it.Ref)
			}
		}
	}
}

func (r *resolver) nameCable(c *circuit.Cable) {
	switch {
	case c.OwnRef:
	case c.Way != nil:
		c.ID = fmt.Sprintf("%s.%d", c.Way.Board.Ref, c.Way.Number)
	default:
		c.ID = endName(c.From) + "-" + endName(c.To)
	}
}

func endName(e circuit.End) string {
	switch {
	case e.Item != nil:
		return e.Item.Ref
	case e.Untraced:
		return "untraced"
	}
	return "capped"
}

func (r *resolver) tellDoubleCable(c, other *circuit.Cable) {
	if r.brokenCables[c] || r.brokenCables[other] {
		return
	}
	free := r.freeCableRef()
	f := r.say(doubleCableName, c.Span, "", "two cables would be called `%s`", c.ID)
	words, bracket := strings.CutPrefix(c.Span.Text(), "[")
	if c.OwnRef {
		f.Message = fmt.Sprintf("two cables have the reference `%s`", c.ID)
		_, words, _ = strings.Cut(words, ":")
	}
	if !bracket {
		words = "…]" // the bracket itself was not written so
	}
	text := "[" + free + ":" + strings.TrimSuffix(" "+strings.TrimSpace(words), " ]")
	if !strings.HasSuffix(text, "]") {
		text += "]"
	}
	f.Cure = fmt.Sprintf("write a reference of its own into the brackets: `%s`", text)
	if bracket {
		f.Edits = []diag.Edit{{Span: c.Span, New: text}}
	}
	f.Items = []string{c.ID}
	related(f, other.Span, "the other one")
}

// freeCableRef is a reference that neither a thing nor a cable has, nor a
// finding proposed before.
func (r *resolver) freeCableRef() string {
	for n := 1; ; n++ {
		name := fmt.Sprintf("W%d", n)
		if r.items[name] == nil && r.sys.Cable(name) == nil && !r.used["cable "+name] {
			r.used["cable "+name] = true
			return name
		}
	}
}

// numberContacts gives each run through a stop, a switch, a float switch or a
// relay a contact of its own. What lands by name on both sides makes the first
// contact; on one side alone it joins the terminal of the contact that is there.
func (r *resolver) numberContacts() {
	passes := slices.DeleteFunc(slices.Clone(r.passes), func(p pass) bool {
		return !slices.Contains(r.sys.Cables, p.into) || !slices.Contains(r.sys.Cables, p.out)
	})
	slices.SortStableFunc(passes, func(a, b pass) int {
		if c := circuit.Compare(a.item.Ref, b.item.Ref); c != 0 {
			return c
		}
		if c := circuit.Compare(a.into.ID, b.into.ID); c != 0 {
			return c
		}
		return circuit.Compare(a.out.ID, b.out.ID)
	})
	contacts := map[*circuit.Item]int{}
	into, outOf := map[*circuit.Cable]*circuit.Item{}, map[*circuit.Cable]*circuit.Item{}
	for _, p := range passes {
		contacts[p.item]++
		into[p.into], outOf[p.out] = p.item, p.item
	}
	named := map[circuit.Terminal][]*circuit.Cable{} // what lands by name
	for _, c := range r.sys.Cables {
		for _, at := range [...]struct {
			circuit.End
			passes bool
		}{{c.From, outOf[c] == c.From.Item}, {c.To, into[c] == c.To.Item}} {
			if it := at.Item; it != nil && it.Nature().Contacts && (at.Port == "in" || at.Port == "out") && !at.passes {
				t := circuit.Terminal{Item: it, Port: at.Port}
				named[t] = append(named[t], c)
			}
		}
	}
	next := map[*circuit.Item]int{}
	for _, it := range r.sys.Items {
		n := contacts[it]
		in, out := named[circuit.Terminal{Item: it, Port: "in"}], named[circuit.Terminal{Item: it, Port: "out"}]
		switch {
		case len(in) > 0 && len(out) > 0:
			next[it] = 1
		case n > 1:
			r.tellContact(it, n, slices.Concat(in, out))
		}
	}
	for _, p := range passes {
		p.into.To.Contact = next[p.item]
		p.out.From.Contact = next[p.item]
		next[p.item]++
	}
}

// tellContact asks on which of several contacts what lands by name on one side is
// meant to land.
func (r *resolver) tellContact(it *circuit.Item, contacts int, cables []*circuit.Cable) {
	for _, c := range cables {
		end := c.From
		if end.Item != it {
			end = c.To
		}
		joint := fmt.Sprintf("`%s [link] stud X1`", it.Ref)
		if end.Port == "in" {
			joint = fmt.Sprintf("`stud X1 [link] %s`", it.Ref)
		}
		f := r.say(contactNotSaid, c.Span, "put a stud into the run that it joins, and land it there: "+joint,
			"%s lands on `%s.%s`, and the %d runs through `%s` have a contact each: on which it lands is not said", c.ID, it.Ref, end.Port, contacts, it.Ref)
		f.Items = []string{it.Ref}
		r.brokenCables[c] = true
	}
}

// settleChangeovers puts positions into order, and gives things with two inputs
// or outputs these instead of the undivided one.
func (r *resolver) settleChangeovers() {
	used := map[circuit.Terminal]bool{}
	for _, c := range r.sys.Cables {
		for _, e := range [...]circuit.End{c.From, c.To} {
			if t, ok := e.Terminal(); ok {
				t.Contact = 0
				used[t] = true
			}
		}
	}
	for _, it := range r.sys.Items {
		switch it.Kind {
		case "changeover":
			slices.SortFunc(it.Facts.Positions, circuit.Compare)
			slices.SortFunc(it.Ports, func(a, b circuit.Port) int {
				if (a.Name == "out") != (b.Name == "out") {
					return map[bool]int{true: 1, false: -1}[a.Name == "out"]
				}
				return circuit.Compare(a.Name, b.Name)
			})
			r.usualPosition(it)
		case "inverter-charger":
			r.dropUndivided(it, used, "in", "in1", "in2")
			r.dropUndivided(it, used, "out", "out1", "out2")
		case "pump":
			r.dropUndivided(it, used, "", "auto", "manual")
			it.Facts.Automatic = it.Facts.Automatic || it.HasPort("auto")
			it.Facts.Manual = it.Facts.Manual || it.HasPort("manual")
		}
	}
}

func (r *resolver) dropUndivided(it *circuit.Item, used map[circuit.Terminal]bool, name string, parts ...string) {
	divided := slices.ContainsFunc(parts, it.HasPort)
	if divided && !used[circuit.Terminal{Item: it, Port: name}] {
		it.Ports = slices.DeleteFunc(it.Ports, func(p circuit.Port) bool { return p.Name == name })
	}
}

func (r *resolver) usualPosition(it *circuit.Item) {
	word := it.Facts.Usually
	if word == "" || word == "off" && !it.Facts.NoOff || slices.Contains(it.Facts.Positions, word) {
		return
	}
	f := r.say(unknownPort, it.Span, "name one of its positions", "the changeover `%s` has no position `%s`", it.Ref, word)
	f.Items = []string{it.Ref}
	if len(it.Facts.Positions) > 0 {
		f.Message += "; it has " + joined(quoted(it.Facts.Positions), "and")
	}
	didYouMean(f, it.Span, word, it.Facts.Positions)
	r.showPositions(f, it)
	f.Edits = nil // the word's own place is not kept
	it.Broken = true
}

// showPositions points to where a changeover got its positions from.
func (r *resolver) showPositions(f *diag.Finding, it *circuit.Item) {
	for _, p := range it.Facts.Positions {
		related(f, r.positions[circuit.Terminal{Item: it, Port: p}], "a cable lands on `.%s` here", p)
	}
}
