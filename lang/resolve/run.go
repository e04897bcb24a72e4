package resolve

import (
	"fmt"
	"slices"

	"strake/lang/circuit"
	"strake/lang/quantity"
	"strake/lang/syntax"
)

// pass is one run's way through a thing that gives each further run a contact
// of its own.
type pass struct {
	item      *circuit.Item
	into, out *circuit.Cable
}

// heir is an item described in place without a place of its own, with what
// stands before it and the cable between.
type heir struct {
	item, before *circuit.Item
	cable        *circuit.Cable
}

// run resolves one run, bond or signal.
func (r *resolver) run(s *syntax.Run) {
	ch := &chain{verb: s.Verb.Text, status: statusOf(s.Status, circuit.Fitted), links: s.Chain}
	ch.start = r.landing(&s.Start)
	r.chain(ch)
}

// chain is a row of cables with what they land on.
type chain struct {
	verb   string
	status circuit.Status
	start  landing
	links  []syntax.Link
	ways   []*circuit.Way // of a way's row: the ways
	load   *landing       // of a way: what its last cable lands on when the text names nothing
}

func (r *resolver) chain(ch *chain) {
	sided := ch.verb == "run"
	from := ch.start
	if sided {
		r.tellPole(&from)
	}
	as := starting
	var arrived []*circuit.Cable // at from, from the link before
	for i := range ch.links {
		link := &ch.links[i]
		var to landing
		switch {
		case link.Land.Span.IsZero() && !link.Land.Broken && ch.load != nil:
			to = *ch.load
		default:
			to = r.landing(&link.Land)
		}
		last := i == len(ch.links)-1
		if sided {
			r.tellPole(&to)
		}
		if !last {
			r.tellEndsHere(&to, sided)
		}
		template, sound := r.cable(&link.Cable)
		template.Verb, template.Written, template.Status = ch.verb, ch.status, ch.status
		r.action(ch, link, template)
		_, outOf, ok1 := r.ends(from, as, sided)
		toRole := passing
		if last {
			toRole = ending
		}
		into, _, ok2 := r.ends(to, toRole, sided && (last || to.dotted == nil))
		var laid []*circuit.Cable
		if ok1 && ok2 {
			laid = r.lay(template, outOf, into, link, sound)
		}
		if i == 0 {
			claimBareWays(ch.ways, laid)
		}
		r.notePasses(from, arrived, laid, as, sided)
		r.noteHeirs(from, to, laid)
		if !ok2 {
			to.broken = true // said once
		}
		from, as, arrived = to, passing, laid
	}
}

// tellPole finds a run that names a pole, and takes it as if it did not.
func (r *resolver) tellPole(l *landing) {
	if l.pole == "" || l.broken || len(l.items) == 0 {
		return
	}
	ref := l.items[0].Ref
	without := ref
	if w := l.items[0].Way; l.port != "" && (w == nil || w.Device != l.items[0]) {
		without += "." + l.port
	}
	f := r.say(runOnPole, l.poleAt, "", "a run carries both poles of a pair, or all cores of a cable; it cannot land on the %s of `%s` alone", l.pole, ref)
	f.Items = []string{ref}
	f.Cure = fmt.Sprintf("write `%s` without the pole", without)
	if l.pole == circuit.Negative {
		f.Cure += "; a device of one pole stands in the negative by `in negative`, and a negative is joined to an earth by a `bond`"
	}
	l.pole = ""
	if l.port == "" {
		l.dotted = nil
	}
}

// tellEndsHere finds a chain that goes on where it cannot.
func (r *resolver) tellEndsHere(to *landing, sided bool) {
	switch {
	case to.end != nil:
		r.say(runGoesOn, to.span, "begin a new statement with what follows", "a cable that is capped or untraced ends here, but another cable follows")
		to.broken = true
	case sided && to.dotted != nil && !to.broken && len(to.items) > 0 && r.kinds[to.items[0]] != nil:
		ref := to.items[0].Ref
		f := r.say(runGoesOn, to.dotted.Span, "", "a run ends where a port is named, but another cable follows `%s`", to.span.Text())
		if it := to.items[0]; it.HasPort("in") && it.HasPort("out") && (to.port == "in" || to.port == "out") {
			f.Cure = fmt.Sprintf("write `%s` without the dot to pass it from `in` to `out`, or begin a new run at `%s.out`", ref, ref)
		} else {
			f.Cure = "begin a new run with what follows"
		}
		to.broken = true
	}
}

// action takes a signal's verb before its end.
func (r *resolver) action(ch *chain, link *syntax.Link, c *circuit.Cable) {
	if link.Action == nil {
		return
	}
	if ch.verb != "signal" {
		r.say(actionOffSignal, link.Action.Span, "write `signal` for a control cable, or take `"+link.Action.Text+"` out", "a %s carries power or bonds; only a signal `%s` something", ch.verb, link.Action.Text)
		return
	}
	c.Action = link.Action.Text
}

// lay makes the cables between two rows of ends: in step, gathered or spread.
func (r *resolver) lay(template *circuit.Cable, from, to []circuit.End, link *syntax.Link, sound bool) []*circuit.Cable {
	n := max(len(from), len(to))
	if len(from) != len(to) && len(from) != 1 && len(to) != 1 {
		r.say(unlikeRanges, link.Cable.Span, "make the ranges equally long, or put a bus between them",
			"%s cannot be joined to %s one by one", plural(len(from), "thing"), plural(len(to), "thing"))
		return nil
	}
	var laid []*circuit.Cable
	for i := range n {
		c := *template
		c.Through = slices.Clone(template.Through)
		c.From, c.To = from[min(i, len(from)-1)], to[min(i, len(to)-1)]
		if r.selfJoined(&c, link) {
			continue
		}
		c.Status = max(c.Status, endStatus(c.From), endStatus(c.To))
		added := &c
		laid = append(laid, added)
		if !sound {
			r.brokenCables[added] = true
		}
		r.claimWay(added, link)
		switch c.Verb {
		case "bond":
			r.sys.Bonds = append(r.sys.Bonds, added)
		case "signal":
			r.sys.Signals = append(r.sys.Signals, added)
		default:
			r.sys.Cables = append(r.sys.Cables, added)
		}
	}
	if template.OwnRef && len(laid) > 1 {
		r.say(doubleCableName, link.Cable.Ref.Span, "take the reference out of the bracket, or write the runs one by one", "one reference, `%s`, cannot call %s", template.ID, plural(len(laid), "cable"))
		for _, c := range laid {
			c.ID, c.OwnRef = "", false
		}
	}
	return laid
}

// selfJoined finds a cable that joins a terminal with itself.
func (r *resolver) selfJoined(c *circuit.Cable, link *syntax.Link) bool {
	if c.From.Item == nil || c.From.Item != c.To.Item || r.ghosts[c.From.Item] {
		return false
	}
	if c.From.Port != c.To.Port && c.Verb == "run" || c.From.Pole != c.To.Pole {
		return false
	}
	r.say(joinsItself, link.Cable.Span, "name what the other end lands on", "this cable begins and ends on `%s`", c.From.Item.Ref)
	return true
}

func endStatus(e circuit.End) circuit.Status {
	if e.Item == nil {
		return circuit.Fitted
	}
	return e.Item.Status
}

// claimWay makes a cable that lands on a way's outgoing side that way's cable.
func (r *resolver) claimWay(c *circuit.Cable, link *syntax.Link) {
	for _, e := range [...]circuit.End{c.From, c.To} {
		if c.Verb != "run" || e.Item == nil || e.Item.Way == nil || e.Item.Way.Device != e.Item || e.Port != "out" {
			continue
		}
		w := e.Item.Way
		if w.Cable != nil {
			f := r.say(wayHasCable, link.Cable.Span, "use a spare way, or put a bar behind this one", "way %s has a cable already, and a way has one", e.Item.Ref)
			f.Items = []string{e.Item.Ref}
			related(f, w.Cable.Span, "its cable")
			r.brokenCables[c] = true
			return
		}
		w.Cable, c.Way = c, w
		w.Status = max(w.Status, c.Status)
	}
}

// claimBareWays gives their cables to ways without a device.
func claimBareWays(ways []*circuit.Way, laid []*circuit.Cable) {
	for i, w := range ways {
		if w.Device == nil && i < len(laid) {
			w.Cable, laid[i].Way = laid[i], w
			w.Status = max(w.Status, laid[i].Status)
		}
	}
}

// notePasses remembers which cables go through one contact.
func (r *resolver) notePasses(at landing, arrived, left []*circuit.Cable, as role, sided bool) {
	if !sided || as != passing {
		return
	}
	for _, it := range at.items {
		if !it.Nature().Contacts {
			continue
		}
		p := pass{item: it}
		for _, c := range arrived {
			if c.To.Item == it {
				p.into = c
			}
		}
		for _, c := range left {
			if c.From.Item == it {
				p.out = c
			}
		}
		if p.into != nil && p.out != nil {
			r.passes = append(r.passes, p)
		}
	}
}

// noteHeirs remembers the items that may stand where the one before them stands.
func (r *resolver) noteHeirs(from, to landing, laid []*circuit.Cable) {
	if to.head == nil || to.head.Place != nil {
		return
	}
	for _, c := range laid {
		if it := c.To.Item; it != nil && c.From.Item != nil && slices.Contains(to.items, it) {
			r.heirs = append(r.heirs, heir{it, c.From.Item, c})
		}
	}
}

// nearby is how long a cable may be for an item described in place to stand
// where the one before it stands.
const nearby quantity.Metre = 1

// inheritPlaces gives items described in place the place of the one before, in
// rounds, so that the order of statements does not matter.
func (r *resolver) inheritPlaces() {
	slices.SortStableFunc(r.heirs, func(a, b heir) int {
		if c := circuit.Compare(a.item.Ref, b.item.Ref); c != 0 {
			return c
		}
		return circuit.Compare(a.before.Ref, b.before.Ref)
	})
	for {
		found := map[*circuit.Item]heir{}
		for _, h := range r.heirs {
			near := h.cable.Link || h.cable.Length.Known() && h.cable.Length.Value <= nearby
			if _, has := found[h.item]; !has && h.item.Place == nil && h.before.Place != nil && near && !r.ghosts[h.item] {
				found[h.item] = h
			}
		}
		if len(found) == 0 {
			return
		}
		for it, h := range found {
			it.Place = h.before.Place
		}
		for _, h := range r.heirs {
			if found[h.item] == h {
				r.assumed(h.item.Ref, fmt.Sprintf("stands at %s with the thing before it, as no place is stated and the cable between is no longer than %s", h.before.Place.Name, nearby), commonPractice, h.item.Span)
			}
		}
	}
}
