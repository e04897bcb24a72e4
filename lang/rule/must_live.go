package rule

// What must stay on while nobody is aboard.

import (
	"fmt"
	"strings"

	"strake/lang/circuit"
	"strake/lang/diag"
)

var mustLiveSwitched = Rule{diag.Info{Rule: "must-live-behind-isolator", Severity: diag.Danger,
	Title:  "a circuit that must stay live behind a switch",
	Why:    "A bilge pump behind the isolator does not run while nobody is aboard, and the craft sinks at its mooring. So it is behind a hand switch, which somebody opens, behind a device that usually stands open, and behind a relay whose coil is dead when the isolators are open.",
	Source: "Boat Safety Scheme part 3, 3.5; ISO 13297:2020 list of exceptions, from memory, verify against the standard",
	Bad:    header + "run battery B1 in house at locker: agm, 12 V, 75 Ah, resistance 6 mohm [0.1 m 25 mm2] fuse F1: class t, 125 V, breaks 20 kA, 80 A [0.1 m 25 mm2] isolator Q1: 100 A, 32 V, 1 pole, load-break [2 m 25 mm2] pump P1 at locker: 60 W, bilge, must be live\n",
	Good:   header + "run battery B1 in house at locker: agm, 12 V, 75 Ah, resistance 6 mohm, terminals 105 degC [0.1 m 10 mm2] fuse F1 at locker: class t, 125 V, breaks 20 kA, 10 A [2 m 10 mm2] pump P1 at locker: 60 W, bilge, must be live\n",
}, func(p *pass) {
	view := p.isolated()
	told := map[*circuit.Item]bool{}
	p.items(func(it *circuit.Item) {
		byHand := it.Facts.Manual && !it.Facts.Automatic
		if !it.Facts.MustBeLive && (!it.Facts.Bilge || byHand) || !p.fed(it) {
			return
		}
		if p.onBattery(it, view) {
			p.keptLive(it, byHand)
			return
		}
		subject, where := it.Ref, it.RefSpan
		whose, items := called(it), []string(nil)
		if w := it.Way; w != nil && !p.onBattery(w.Board, view) { // one message for a board that is not live
			if told[w.Board] {
				return
			}
			told[w.Board] = true
			subject, where, whose = w.Board.Ref, w.Board.RefSpan, called(it)+" on "+called(w.Board)
			for _, other := range w.Board.Board.Ways {
				if other.Load != nil && other.Load.Facts.MustBeLive {
					items = append(items, other.Load.Ref)
				}
			}
			if n := len(items) - 1; n > 0 {
				whose += fmt.Sprintf(" (and %d more)", n)
			}
		}
		demand, cure := "must be live", "feed it from a battery through a fuse of its own, ahead of the isolator"
		if !it.Facts.MustBeLive {
			demand, cure = "is a bilge pump", cure+"; a pump that is only run by hand says `manual`"
		}
		p.fail(subject, diag.Finding{
			Message: fmt.Sprintf("%s %s, and no battery feeds it when every isolator is open", whose, demand),
			Span:    where, Related: p.feeders(p.Item(subject)), Items: items, Cure: cure,
		})
	})
}}

// keptLive looks at what else may part from its battery what the isolators do
// not: hand switches, what usually stands open, relays whose coil goes dead.
func (p *pass) keptLive(it *circuit.Item, byHand bool) {
	if by := p.stoppedBy(it); by != nil && !byHand {
		p.fail(it.Ref, diag.Finding{Message: fmt.Sprintf("%s %s, and a signal of %s stops it", called(it), demanded(it), called(by)), Span: it.RefSpan,
			Related: p.where([]*circuit.Item{by}), Items: []string{by.Ref}, Cure: "let nothing but its float stop it"})
		return
	}
	view := p.isolated()
	hand := !byHand && (it.Kind != "pump" || !it.Facts.Bilge || p.startsItself(it))
	for _, o := range p.Items {
		n := o.Nature()
		switch {
		case o.Kind == "float-switch" || o.Kind == "relay":
		case hand && (o.Kind == "switch" || o.Kind == "stop"), n.Opens && o.Facts.UsualOff:
			view.Open[o] = true
		}
	}
	for range p.Items { // a relay may feed another's coil
		moved := false
		for _, o := range p.Items {
			coil := circuit.Terminal{Item: o, Port: "coil"}
			if o.Kind != "relay" || view.Open[o] || o.Facts.UsualOn || p.signalled(o) || len(p.net.Cables(coil)) == 0 || p.batteryAt(coil, view) {
				continue
			}
			view.Open[o], moved = true, true
		}
		if !moved {
			break
		}
	}
	if p.onBattery(it, view) {
		p.ok(it.Ref)
		return
	}
	by, why, cure := p.partsAlone(it, view)
	f := diag.Finding{Message: fmt.Sprintf("%s %s, and %s", called(it), demanded(it), why), Span: it.RefSpan, Cure: cure}
	if by != nil {
		f.Related, f.Items = p.where([]*circuit.Item{by}), []string{by.Ref}
	}
	p.fail(it.Ref, f)
}

// demanded says why an item has to be live.
func demanded(it *circuit.Item) string {
	if it.Facts.MustBeLive {
		return "must be live"
	}
	return "is a bilge pump"
}

// stoppedBy is what stops an item, or opens a relay before it, by a signal, and is
// no float; nil where nothing does.
func (p *pass) stoppedBy(it *circuit.Item) *circuit.Item {
	floats := p.floats()
	for _, c := range p.signals {
		from, to := c.From.Item, c.To.Item
		if from == nil || to == nil || floats[from] || c.Action != "stops" && c.Action != "opens" {
			continue
		}
		if to == it || to.HasPort("coil") && p.goesDark(it, map[*circuit.Item]bool{to: true}) {
			return from
		}
	}
	return nil
}

// partsAlone is what of the open things in a view parts an item from its battery
// by itself, and how a finding says so; nil where it takes several.
func (p *pass) partsAlone(it *circuit.Item, view circuit.View) (by *circuit.Item, why, cure string) {
	for _, o := range p.Items {
		if !view.Open[o] || cutsOff(o) || !p.stopsWithout(it, map[*circuit.Item]bool{o: true}) {
			continue
		}
		switch {
		case o.Kind == "relay":
			return o, fmt.Sprintf("the coil of %s before it goes dead when isolators and hand switches are open", called(o)),
				"feed the coil, and the float that closes it, from the same battery ahead of the isolator"
		case o.Facts.UsualOff:
			return o, called(o) + " before it is `off`", "take `off` out, and see that it stands closed"
		}
		return o, called(o) + " before it can be opened by hand",
			"lead its feed round the switch: a switch feeds only the manual side of a pump"
	}
	return nil, "no battery feeds it when what can be opened by hand is open", "feed it from a battery through a fuse of its own, and nothing that a hand opens"
}

// batteryAt tells whether a battery feeds a terminal in a view.
func (p *pass) batteryAt(t circuit.Terminal, view circuit.View) bool {
	for _, s := range p.net.Supplies(t, view) {
		if s.Item.Nature().Stores {
			return true
		}
	}
	return false
}

var pumpNotAboard = Rule{diag.Info{Rule: "bilge-pump-not-aboard", Severity: diag.Fault,
	Title:  "a bilge pump that is not there, and no other in its place",
	Why:    "What the owner is to fit, and what is only prepared, does not pump on the day the craft is handed over; what was removed never does. Another bilge pump in the same place answers for it.",
	Source: "ISO 15083 and common practice, from memory, verify against the standard",
	Bad:    strings.Replace(pumped("float-switch FS1 at locker: 16 A, 24 V"), "run B1", "owner run B1", 1),
	Good:   pumped("float-switch FS1 at locker: 16 A, 24 V"),
}, func(p *pass) {
	for _, it := range p.Items {
		if it.Kind != "pump" || !it.Facts.Bilge || it.Broken || it.Facts.Manual && !it.Facts.Automatic && !it.Facts.MustBeLive {
			continue
		}
		if p.aboard(it, func(o *circuit.Item) bool {
			near := it.Status == circuit.Removed || it.Place == nil || o.Place == nil || o.Place == it.Place
			return o.Kind == "pump" && o.Facts.Bilge && near
		}) {
			p.ok(it.Ref)
			continue
		}
		where := " is aboard"
		if it.Place != nil && it.Status != circuit.Removed {
			where = " stands at " + it.Place.Name
		}
		p.fail(it.Ref, diag.Finding{Message: fmt.Sprintf("%s is `%s`, and no other bilge pump%s", called(it), it.Status, where), Span: it.RefSpan,
			Cure: "fit it before the craft is handed over, or fit another that stays"})
	}
}}
