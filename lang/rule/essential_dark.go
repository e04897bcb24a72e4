package rule

// What must not go dark, and what else takes its feed away: a stop, a relay that
// hangs on another supply.

import (
	"fmt"
	"slices"
	"strings"

	"strake/lang/circuit"
	"strake/lang/diag"
)

var essentialStopped = Rule{diag.Info{Rule: "essential-behind-stop", Severity: diag.Danger,
	Title:  "lights, steering or what is critical go dark with an emergency stop",
	Why:    "Whoever presses a stop needs lights, radio and steering the moment after. A stop takes the feed of its motor and nothing by which the craft is steered, seen and heard. A fan or a pump with a stop of its own, which stops nothing else, is not meant.",
	Source: "ISO 13850 and ISO 16315, from memory, verify against the standard",
	Bad:    lit("stop S1 at locker: 10 A, 24 V\nrun DB1.1 [1 m 4 mm2] S1.in\nrun S1.out"),
	Good:   lit("run DB1.1"),
}, func(p *pass) {
	var needed []*circuit.Item
	p.items(func(it *circuit.Item) {
		if mustShine(it) && p.fed(it) {
			needed = append(needed, it)
		}
	})
	if len(needed) == 0 {
		return
	}
	p.items(func(stop *circuit.Item) {
		if stop.Kind != "stop" {
			return
		}
		open := p.released(stop, p.view)
		for _, c := range p.signals {
			if to := c.To.Item; c.From.Item == stop && to != nil && to.Nature().Converts && (c.Action == "stops" || c.Action == "opens") {
				open[to] = true
			}
		}
		var dark []*circuit.Item
		for _, it := range needed {
			if p.goesDark(it, open) && !p.stopOfItsOwn(it, open) {
				dark = append(dark, it)
			}
		}
		if len(dark) == 0 {
			p.ok(stop.Ref)
			return
		}
		f := diag.Finding{Span: stop.RefSpan, Items: refs(dark), Related: p.where(dark[:1]), Cure: "feed " + names(dark) + " ahead of what the stop opens"}
		f.Message = fmt.Sprintf("%s takes the feed from %s", called(stop), severally(dark))
		for _, k := range p.Items {
			if k != stop && open[k] && p.goesDark(dark[0], map[*circuit.Item]bool{k: true}) {
				f.Message = fmt.Sprintf("%s releases %s, and with it takes the feed from %s", called(stop), called(k), severally(dark))
				f.Items = append(f.Items, k.Ref)
				break
			}
		}
		p.fail(stop.Ref, f)
	})
}}

// mustShine tells what is needed when a stop has been pressed: what is essential or
// steers, and no drive motor, which the stop is for.
func mustShine(it *circuit.Item) bool {
	if !it.Nature().Load {
		return false
	}
	if it.Facts.MustBeLive || it.Facts.Bilge && (it.Facts.Automatic || !it.Facts.Manual) {
		return false // must-live-behind-isolator judges it against everything that opens
	}
	steers := mentions(it.Label, "steering")
	drives := it.Kind == "thruster" || it.Kind == "motor" && (propels(it) || !it.Facts.Power.Known() && !it.Facts.Current.Known())
	return steers || it.Facts.Essential() && !drives
}

// goesDark tells whether an item that is fed is fed no longer with these open. The
// shore is not there under way, nor the sun at night, nor an alternator at rest.
func (p *pass) goesDark(it *circuit.Item, open map[*circuit.Item]bool) bool {
	fed := false
	for _, t := range terminals(it) {
		if circuit.IsControl(t.Port) {
			continue
		}
		lasts := func(o *circuit.Item) bool {
			return o != it && (o.Nature().Stores || o.Kind == "generator" || o.Kind == "source")
		}
		if !p.net.Powered(t, opened(p.view, nil), lasts) {
			lasts = func(o *circuit.Item) bool { return o != it && o.Nature().Source }
			if !p.net.Powered(t, opened(p.view, nil), lasts) {
				continue
			}
		}
		if p.net.Powered(t, opened(p.view, open), lasts) {
			return false
		}
		fed = true
	}
	return fed
}

// stopOfItsOwn tells a fan or a pump that is all that some open things stop.
func (p *pass) stopOfItsOwn(it *circuit.Item, open map[*circuit.Item]bool) bool {
	if it.Facts.Navigation || it.Facts.Bilge || mentions(it.Label, "steering") {
		return false
	}
	return !slices.ContainsFunc(p.Items, func(o *circuit.Item) bool {
		return o != it && o.Nature().Load && o.Status.In(p.configuration) && p.goesDark(o, open)
	})
}

// severally calls the first of some items, and says how many more there are.
func severally(items []*circuit.Item) string {
	if len(items) == 1 {
		return called(items[0])
	}
	return fmt.Sprintf("%s and %d more", called(items[0]), len(items)-1)
}

var essentialOnOther = Rule{diag.Info{Rule: "essential-on-another-supply", Severity: diag.Fault,
	Title:  "what must not go dark hangs on a relay that another supply holds closed",
	Why:    "A battery feeds it, and it goes dark all the same when the shore plug is pulled or a converter is off, as the coil that closes its feed then has no current. Its coil is fed from where its contact is.",
	Source: "common practice",
	Bad:    litByRelay("coil 24 V", "CV1.out"),
	Good:   litByRelay("coil 12 V", "PB [link] fuse F4 at locker: class t, 125 V, breaks 20 kA, 3 A"),
}, func(p *pass) {
	p.items(func(it *circuit.Item) {
		if !mustShine(it) || !p.onBattery(it, p.view) {
			return
		}
		for _, t := range p.net.Origin(terminals(it), p.view) {
			k, coil := t.Item, circuit.Terminal{Item: t.Item, Port: "coil"}
			if t.Port != "in" || !k.HasPort("coil") || k.Facts.UsualOn || !p.goesDark(it, map[*circuit.Item]bool{k: true}) {
				continue
			}
			supplies := p.net.Supplies(coil, p.view)
			if len(supplies) == 0 || p.batteryAt(coil, p.view) {
				p.ok(it.Ref)
				continue
			}
			var by []*circuit.Item
			for _, s := range supplies {
				if !slices.Contains(by, s.Item) {
					by = append(by, s.Item)
				}
			}
			whose, verb := called(by[0]), "feeds"
			if len(by) > 1 {
				whose, verb = names(by), "feed"
			}
			p.fail(it.Ref, diag.Finding{Message: fmt.Sprintf("a battery feeds %s, and %s %s the coil of %s before it: without that it goes dark", called(it), whose, verb, called(k)),
				Span: it.RefSpan, Items: append([]string{k.Ref}, refs(by)...), Related: p.where([]*circuit.Item{k, by[0]}),
				Cure: fmt.Sprintf("feed the coil of %s from the battery that feeds %s", k.Ref, it.Ref)})
		}
	})
}}

// litByRelay is a small boat with a navigation light behind a relay whose coil is
// fed from somewhere.
func litByRelay(coil, from string) string {
	return twoDomains + `run PB [link] fuse F2 at locker: class t, 125 V, breaks 20 kA, 10 A [1 m 4 mm2] relay KN1 at locker: 16 A, 32 V, ` + coil + ` [4 m 4 mm2] lamp LA1 at locker: 10 W, navigation
run PB [link] fuse F3 at locker: class t, 125 V, breaks 20 kA, 20 A [1 m 6 mm2] converter CV1 in winch at locker: 24 V, 5 A, isolated, one way [1 m 4 mm2] load L1 at locker: 20 W
run ` + from + ` [1 m 1.5 mm2] KN1.coil
`
}

var essentialUsuallyDark = Rule{diag.Info{Rule: "essential-usually-dark", Severity: diag.Advice,
	Title:  "what must not go dark behind a switch that usually stands open",
	Why:    "`off` says how a switch usually stands, and conditions are reckoned so. Lights, radio and steering behind an isolator or a fuse that stands open are dead until somebody thinks of it. Where a condition has them on all the same, the text contradicts itself: that is a fault. A light's own switch or way is not meant.",
	Source: "common practice",
	Bad:    strings.Replace(lit("run DB1.1"), "1 pole, load-break", "1 pole, load-break, off", 1),
	Good:   lit("run DB1.1"),
}, func(p *pass) {
	for _, o := range p.Items {
		main := o.Kind == "isolator" || o.Nature().Protects && o.Way == nil
		if !main || !o.Facts.UsualOff || !o.Status.In(p.configuration) || o.Broken {
			continue
		}
		var dark []*circuit.Item
		p.items(func(it *circuit.Item) {
			if mustShine(it) && p.goesDark(it, map[*circuit.Item]bool{o: true}) {
				dark = append(dark, it)
			}
		})
		if len(dark) == 0 {
			p.ok(o.Ref)
			continue
		}
		f := diag.Finding{Message: fmt.Sprintf("%s usually stands open, and takes the feed from %s", called(o), severally(dark)), Span: o.RefSpan, Items: refs(dark), Related: p.where(dark[:1]),
			Cure: "take `off` out where it stands closed under way, or say by a condition when it does: `" + o.Ref + " on`"}
		severity := diag.Advice
		if c := p.runsWithout(dark, o); c != nil {
			severity = diag.Fault
			f.Message += fmt.Sprintf(", which the condition \"%s\" has on", c.Name)
			f.Related = append(f.Related, diag.Related{Span: c.Span, Message: "the condition"})
		}
		p.failAs(severity, o.Ref, f)
	}
}}

// runsWithout is a condition that has one of some items on and does not close the
// switch before it, or nil.
func (p *pass) runsWithout(items []*circuit.Item, by *circuit.Item) *circuit.Condition {
	for k := range p.Conditions {
		c := &p.Conditions[k]
		closed := slices.ContainsFunc(c.Settings, func(s circuit.Setting) bool { return s.Item == by && s.On })
		if !closed && slices.ContainsFunc(c.Settings, func(s circuit.Setting) bool {
			return !s.Off && s.Item != nil && slices.ContainsFunc(items, func(it *circuit.Item) bool {
				return s.Item == it || it.Way != nil && (s.Item == it.Way.Device || s.Item == it.Way.Board)
			})
		}) {
			return c
		}
	}
	return nil
}
