package rule

// What an emergency stop opens, and what stays fed round it.

import (
	"fmt"
	"slices"

	"strake/lang/circuit"
	"strake/lang/diag"
)

var stopBreaksNothing = Rule{diag.Info{Rule: "stop-breaks-nothing", Severity: diag.Danger,
	Title:  "an emergency stop that opens no circuit",
	Why:    "A stop that only sends a message stops nothing when the program that listens hangs. Its contact stands in the supply of a contactor's coil, or in the circuit itself. In an enable input alone it leaves the stop to the controller, which is what may have failed: that is worth a look.",
	Source: "ISO 13850, ISO 16315 and IEC 60204-1, from memory, verify against the standard",
	Bad:    goodFeederOnBar + "run PB [2 m 25 mm2] pump P1 at locker: 60 W\nbms BM1 at locker\nstop S1 at locker\nsignal S1 [2 m] controls BM1\n",
	Good:   goodFeederOnBar + "run PB [link] fuse F2 at locker: class t, 125 V, breaks 20 kA, 10 A [2 m 10 mm2] stop S1 at locker: 20 A, 24 V [2 m 10 mm2] pump P1 at locker: 60 W\n",
}, func(p *pass) {
	p.items(func(it *circuit.Item) {
		if it.Kind != "stop" {
			return
		}
		if it.Facts.UsualOff {
			p.fail(it.Ref, diag.Finding{Message: called(it) + " usually stands open, so that pressing it opens nothing, and a broken wire would not be noticed", Span: it.RefSpan,
				Cure: "take `off` out: a stop's contact is closed until it is pressed"})
			return
		}
		if p.roundContact(it, p.view) != nil || p.fedAgainst(it, p.view) != nil {
			return // it would, were it not for another feed: stop-bypassed tells it
		}
		enable, lamp := (*circuit.Item)(nil), (*circuit.Item)(nil)
		open := p.released(it, p.view)
		breaks := len(open) > 1 || !p.contactFed(it) && p.leadsSomewhere(it)
		for _, t := range p.deadBehind(it) {
			switch o := t.Item; {
			case o == it:
			case t.Port == "enable":
				if !p.goesDark(o, open) {
					enable = o
				}
			case o.Kind == "lamp", o.Kind == "meter", o.Kind == "socket":
				lamp = o
			case o.Nature().Load, o.Nature().Converts, circuit.IsControl(t.Port):
				breaks = true
			}
		}
		for _, c := range p.signals {
			if c.From.Item == it && c.To.Item != nil && c.To.Port == "enable" && c.Action == "opens" && !p.goesDark(c.To.Item, open) {
				enable = c.To.Item
			}
		}
		for _, k := range p.Items {
			if k != it && open[k] && k.Facts.UsualOn {
				p.unverified(k.Ref, diag.Finding{Span: k.RefSpan, Items: []string{it.Ref}, Related: p.where([]*circuit.Item{it}),
					Missing: fmt.Sprintf("whether %s opens when %s takes the feed of its coil, as it says `on`", called(k), called(it)),
					Cure:    "take `on` out of what closes with its coil; what stands closed while its coil is dead is released by no stop"})
			}
		}
		cure := "take its contact through the supply of the contactor's coil"
		switch {
		case enable == nil && breaks:
			p.ok(it.Ref)
		case enable != nil: // whatever else it opens
			p.failAs(diag.Advice, it.Ref, diag.Finding{Message: fmt.Sprintf("%s acts on the enable input of %s alone: the controller has to obey", called(it), called(enable)),
				Span: it.RefSpan, Related: p.where([]*circuit.Item{enable}), Items: []string{enable.Ref}, Cure: cure + " before it as well"})
		case lamp != nil:
			p.fail(it.Ref, diag.Finding{Message: fmt.Sprintf("%s opens the circuit of %s, and stops nothing", called(it), called(lamp)),
				Span: it.RefSpan, Related: p.where([]*circuit.Item{lamp}), Items: []string{lamp.Ref}, Cure: cure})
		default:
			p.fail(it.Ref, diag.Finding{Message: called(it) + " opens no circuit", Span: it.RefSpan, Cure: cure})
		}
	})
}}

var stopBypassed = Rule{diag.Info{Rule: "stop-bypassed", Severity: diag.Danger,
	Title:  "a stop with a way round it",
	Why:    "A coil that is fed a second time holds its contactor closed when the stop is pressed, and a motor that is fed round the contactor runs on. What bridges a stop only in an emergency, and usually stands open, is worth a look: while it is closed the stop stops nothing.",
	Source: "ISO 13850, ISO 16315 and IEC 60204-1, from memory, verify against the standard",
	Bad:    stopped("run PB [link] fuse F8 at locker: class t, 125 V, breaks 20 kA, 3 A [0.5 m 1.5 mm2] switch S2 at locker: 10 A, 80 V [0.5 m 1.5 mm2] K1.coil"),
	Good:   stopped(""),
}, func(p *pass) {
	p.items(func(it *circuit.Item) {
		if it.Kind != "stop" {
			return
		}
		usual := p.stopsUsually()
		for _, state := range []struct {
			view     circuit.View
			severity diag.Severity
			when     string
		}{{usual, diag.Danger, ""}, {p.view, diag.Advice, ", while what usually stands open is closed"}} {
			f := diag.Finding{Span: it.RefSpan}
			bridge, feed, motor := p.roundContact(it, state.view), p.fedAgainst(it, state.view), p.runsOn(it, state.view)
			held, by, surely := p.heldClosed(it, state.view)
			switch {
			case bridge != nil:
				f.Message, f.Items = fmt.Sprintf("%s is bridged: when it is open its far side stays live through %s", called(it), called(bridge)), []string{bridge.Ref}
				f.Cure = "take every feed of what it stops through its contacts"
				f.Related = p.where([]*circuit.Item{bridge})
			case feed != nil:
				f.Message, f.Items = fmt.Sprintf("a signal of %s is to open %s, and the run to its coil feeds it all the same", called(it), called(feed)), []string{feed.Ref}
				f.Cure = fmt.Sprintf("take the run to %s.coil through the contact of %s", feed.Ref, it.Ref)
				f.Related = p.where([]*circuit.Item{feed})
			case held != nil:
				does := "closes"
				if !surely {
					does = "may close"
				}
				f.Message, f.Items = fmt.Sprintf("%s takes the feed of the coil of %s, and a signal of %s %s it all the same", called(it), called(held), called(by), does), []string{held.Ref, by.Ref}
				f.Cure = fmt.Sprintf("take what %s does through the contact of %s too, or let it `opens` %s", by.Ref, it.Ref, held.Ref)
				f.Related = p.where([]*circuit.Item{held, by})
			case motor != nil:
				f.Message, f.Items = fmt.Sprintf("%s opens its contactor, and %s stays fed round it", called(it), called(motor)), []string{motor.Ref}
				f.Cure = "take every feed of the motor through contactors that the stop releases"
				f.Related = append(p.where([]*circuit.Item{motor}), p.feeders(motor)...)
			default:
				continue
			}
			f.Message += state.when
			severity := state.severity
			if bridge == nil && feed == nil && held != nil && !surely {
				severity = diag.Advice
			}
			p.failAs(severity, it.Ref, f)
			return
		}
		p.ok(it.Ref)
	})
}}

// stopsUsually is the view in which stops are judged: what a hand leaves open is.
func (p *pass) stopsUsually() circuit.View {
	return p.withOpen(func(o *circuit.Item) bool {
		return o.Facts.UsualOff && o.Nature().Opens && o.Kind != "relay" && o.Kind != "contactor" && o.Kind != "stop"
	})
}

// released is the stop with the contactors and relays that open when it does:
// those whose coil it parts from every feed, those that it commands to open
// where nothing else feeds their coil, and what these release in turn.
func (p *pass) released(stop *circuit.Item, from circuit.View) map[*circuit.Item]bool {
	open := map[*circuit.Item]bool{stop: true}
	for _, c := range p.signals {
		if to := c.To.Item; c.From.Item == stop && c.Action == "opens" && to != nil && (to.HasPort("coil") || to.Nature().Protects && to.Kind != "fuse") &&
			!p.suppliedFrom(circuit.Terminal{Item: to, Port: "coil"}, opened(from, open)) {
			open[to] = true
		}
	}
	for range p.Items { // one contactor may feed another's coil
		moved := false
		for _, it := range p.Items {
			coil := circuit.Terminal{Item: it, Port: "coil"}
			if open[it] || !it.HasPort("coil") || !p.suppliedFrom(coil, opened(from, nil)) || p.suppliedFrom(coil, opened(from, open)) {
				continue
			}
			open[it], moved = true, true
		}
		if !moved {
			break
		}
	}
	return open
}

// opened is a view with more open, that also passes what converts.
func opened(view circuit.View, open map[*circuit.Item]bool) circuit.View {
	all := map[*circuit.Item]bool{}
	for it, yes := range view.Open {
		all[it] = yes
	}
	for it, yes := range open {
		all[it] = all[it] || yes
	}
	view.Open, view.Through = all, true
	return view
}

// contacts are the terminals of a stop in pairs, in and out of each contact.
func (p *pass) contacts(stop *circuit.Item) [][2]circuit.Terminal {
	var pairs [][2]circuit.Terminal
	for _, t := range p.net.Terminals() {
		if t.Item == stop && t.Port == "in" {
			pairs = append(pairs, [2]circuit.Terminal{t, {Item: stop, Port: "out", Contact: t.Contact}})
		}
	}
	return pairs
}

// contactFed tells whether anything feeds a contact of a stop.
func (p *pass) contactFed(stop *circuit.Item) bool {
	for _, pair := range p.contacts(stop) {
		if p.suppliedFrom(pair[0], opened(p.view, nil)) || p.suppliedFrom(pair[1], opened(p.view, nil)) {
			return true
		}
	}
	return false
}

// deadBehind is what has lost its feed when a stop is open.
func (p *pass) deadBehind(stop *circuit.Item) []circuit.Terminal {
	var list []circuit.Terminal
	alone := map[*circuit.Item]bool{stop: true}
	for _, pair := range p.contacts(stop) {
		for _, side := range pair {
			if p.suppliedFrom(side, opened(p.view, alone)) {
				continue
			}
			for _, t := range p.net.Reach([]circuit.Terminal{side}, opened(p.view, alone)) {
				if p.losesBy(t, alone) {
					list = append(list, t)
				}
			}
		}
	}
	return list
}

// leadsSomewhere tells whether a contact, though nothing feeds it yet, leads to a
// coil or a load.
func (p *pass) leadsSomewhere(stop *circuit.Item) bool {
	for _, pair := range p.contacts(stop) {
		for _, r := range p.net.Reach(pair[:], p.view) {
			if r.Item != stop && r.Port != "enable" && (circuit.IsControl(r.Port) || r.Item.Nature().Load && r.Item.Kind != "lamp") {
				return true
			}
		}
	}
	return false
}

// roundContact is what leads round a contact that is open, or feeds the coil on
// its far side from elsewhere; nil where nothing does.
func (p *pass) roundContact(stop *circuit.Item, from circuit.View) *circuit.Item {
	open := opened(from, map[*circuit.Item]bool{stop: true})
	for _, pair := range p.contacts(stop) {
		near, far := p.net.Supplies(pair[0], open), p.net.Supplies(pair[1], open)
		if len(near) == 0 || len(far) == 0 {
			continue
		}
		coil := slices.ContainsFunc(p.net.Reach(pair[1:], open), func(t circuit.Terminal) bool { return t.Port == "coil" })
		for _, s := range far {
			if !coil && !slices.Contains(near, s) {
				continue
			}
			round := s.Item
			for _, step := range p.net.Path(circuit.Terminal{Item: s.Item, Port: s.Port}, pair[1], open) {
				if step.Through != nil && step.Through.Nature().Opens {
					round = step.Through // the last before the far side
				}
			}
			return round
		}
	}
	return nil
}

// fedAgainst is a contactor that a signal of a stop is to open while a run feeds
// its coil whether the stop is pressed or not, or nil.
func (p *pass) fedAgainst(stop *circuit.Item, from circuit.View) *circuit.Item {
	for _, c := range p.signals {
		to := c.To.Item
		if c.From.Item == stop && c.Action == "opens" && to != nil && to.HasPort("coil") &&
			p.suppliedFrom(circuit.Terminal{Item: to, Port: "coil"}, opened(from, map[*circuit.Item]bool{stop: true})) {
			return to
		}
	}
	return nil
}

// heldClosed is a contactor that a stop would release, and what closes it by a
// signal, or may as far as is said, whether the stop is pressed or not; nil where
// nothing does.
func (p *pass) heldClosed(stop *circuit.Item, from circuit.View) (held, by *circuit.Item, surely bool) {
	open := p.released(stop, from)
	for _, c := range p.signals {
		source, to := c.From.Item, c.To.Item
		if source == nil || to == nil || source == stop || !open[to] || c.Action == "opens" || c.Action == "stops" || c.Action == "shows" || p.goesDark(source, open) {
			continue
		}
		if c.Action == "closes" || c.Action == "starts" {
			return to, source, true
		}
		if held == nil {
			held, by = to, source
		}
	}
	return held, by, false
}

// runsOn is a motor behind a contactor that a stop releases, which what does not
// limit its own current still feeds, or nil.
func (p *pass) runsOn(stop *circuit.Item, from circuit.View) *circuit.Item {
	open := p.released(stop, from)
	view := opened(from, open)
	view.Through = false
	for _, k := range p.Items {
		if !open[k] || k.Kind != "contactor" {
			continue
		}
		var motor *circuit.Item
		nearest := 0
		from := circuit.Terminal{Item: k, Port: "out"}
		for _, t := range p.net.Reach([]circuit.Terminal{from}, view) {
			if (t.Item.Kind == "motor" || t.Item.Kind == "thruster") && !circuit.IsControl(t.Port) && slices.ContainsFunc(p.net.Supplies(t, view), func(s circuit.Supply) bool { return !s.Limited && s.Item != t.Item }) {
				if steps := len(p.net.Path(from, t, view)); motor == nil || steps < nearest { // others may hang on the bar that feeds it
					motor, nearest = t.Item, steps
				}
			}
		}
		if motor != nil {
			return motor
		}
	}
	return nil
}

var coilUnstoppable = Rule{diag.Info{Rule: "motor-without-stop", Severity: diag.Advice,
	Title:  "a drive motor's contactor that no stop releases",
	Why:    "With a stop in the coil's supply the drive can be killed from the helm without a program.",
	Source: "ISO 16315, from memory, verify against the standard",
	Bad:    driving("[0.2 m 35 mm2] bus PB in house at locker: 150 A\nrun PB [0.1 m 35 mm2] contactor K1 at locker: 150 A, 32 V, 1 pole, coil 12 V [2 m 35 mm2] motor M1 at locker: 2 kW, 60 A, precharge\nrun PB [link] fuse F9 at locker: class t, 125 V, breaks 20 kA, 3 A [0.5 m 1.5 mm2] K1.coil"),
	Good:   stopped(""),
}, func(p *pass) {
	p.items(func(it *circuit.Item) {
		if !propels(it) {
			return
		}
		var contactors []*circuit.Item
		for _, t := range p.net.Origin(terminals(it), p.unfused()) {
			if o := t.Item; o.Kind == "contactor" && t.Port == "in" {
				contactors = append(contactors, o)
			}
		}
		stopped, told := false, false
		for _, stop := range p.Items {
			if len(contactors) == 0 || stop.Kind != "stop" || !stop.Status.In(p.configuration) {
				continue
			}
			open := p.released(stop, p.stopsUsually())
			stopped = stopped || slices.ContainsFunc(contactors, func(k *circuit.Item) bool { return open[k] })
			told = told || p.roundContact(stop, p.stopsUsually()) != nil && p.wouldRelease(stop, contactors)
		}
		switch {
		case len(contactors) == 0 || !stopped && told: // stop-bypassed tells what keeps it from being one
		case stopped:
			p.ok(it.Ref)
		default:
			p.fail(it.Ref, diag.Finding{Message: fmt.Sprintf("no stop releases %s, the contactor of %s", names(contactors), called(it)),
				Span: contactors[0].RefSpan, Items: refs(contactors), Cure: "take the coil's supply through a stop at the helm"})
		}
	})
}}

// wouldRelease tells whether a contact of a stop leads to the coil of one of some
// contactors.
func (p *pass) wouldRelease(stop *circuit.Item, contactors []*circuit.Item) bool {
	for _, pair := range p.contacts(stop) {
		for _, t := range p.net.Reach(pair[1:], p.without(stop)) {
			if t.Port == "coil" && slices.Contains(contactors, t.Item) {
				return true
			}
		}
	}
	return false
}

// stopped is a drive whose contactor a stop releases, with more.
func stopped(more string) string {
	return driving("[0.2 m 35 mm2] bus PB in house at locker: 150 A\nrun PB [0.1 m 35 mm2] contactor K1 at locker: 150 A, 32 V, 1 pole, coil 12 V [2 m 35 mm2] motor M1 at locker: 2 kW, 60 A, precharge\nrun PB [link] fuse F9 at locker: class t, 125 V, breaks 20 kA, 3 A [0.5 m 1.5 mm2] stop S1 at locker: 10 A, 24 V [0.5 m 1.5 mm2] K1.coil\n" + more)
}
