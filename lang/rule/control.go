package rule

// What closes a coil and what starts a bilge pump.

import (
	"fmt"

	"strake/lang/circuit"
	"strake/lang/diag"
)

var coilNotFed = Rule{diag.Info{Rule: "coil-not-fed", Severity: diag.Fault,
	Title:  "a contactor or a relay that nothing closes",
	Why:    "Without current in its coil it stays open, and what lies behind it is dead. What is not written is not in the craft: the run to its coil, or the signal that commands it, is part of the circuit.",
	Source: "common practice",
	Bad:    goodFeederOnBar + "run PB [0.1 m 25 mm2] contactor K1 at locker: 100 A, 32 V, 1 pole, coil 12 V [2 m 25 mm2] pump P1 at locker: 60 W\n",
	Good:   goodFeederOnBar + "run PB [0.1 m 25 mm2] contactor K1 at locker: 100 A, 32 V, 1 pole, coil 12 V [2 m 25 mm2] pump P1 at locker: 60 W\nrun PB [link] fuse F2 at locker: class t, 125 V, breaks 20 kA, 3 A [1 m 1.5 mm2] switch S1 at locker: 10 A, 24 V [1 m 1.5 mm2] K1.coil\n",
}, func(p *pass) {
	through := p.view
	through.Through = true
	never := p.neverClose()
	p.items(func(it *circuit.Item) {
		if !it.HasPort("coil") || !p.cabled(it) {
			return
		}
		switch {
		case never[it]:
			by := "contacts that wait for it to close"
			if p.losesBy(circuit.Terminal{Item: it, Port: "coil"}, map[*circuit.Item]bool{it: true}) {
				by = "its own contact"
			}
			p.fail(it.Ref, diag.Finding{Message: fmt.Sprintf("the coil of %s is fed by nothing but %s, so it never closes", called(it), by), Span: it.RefSpan,
				Cure: "feed its coil from ahead of it, or write the button beside its contact that closes it first"})
		case len(p.net.Supplies(circuit.Terminal{Item: it, Port: "coil"}, through)) > 0 || p.signalled(it):
			p.ok(it.Ref)
		default:
			p.fail(it.Ref, diag.Finding{Message: fmt.Sprintf("nothing feeds the coil of %s, so it never closes", called(it)), Span: it.RefSpan,
				Cure: fmt.Sprintf("write the run that feeds its coil, such as `run DB1.8 [6 m] %s.coil`, or the signal that commands it", it.Ref)})
		}
	})
}}

// neverClose are the contactors and relays whose coils are fed by nothing but what
// they close themselves, alone or in a ring.
func (p *pass) neverClose() map[*circuit.Item]bool {
	open := p.those(func(it *circuit.Item) bool {
		coil := circuit.Terminal{Item: it, Port: "coil"}
		return it.HasPort("coil") && !it.Facts.UsualOn && it.Status.In(p.configuration) && !p.signalled(it) && p.suppliedFrom(coil, opened(p.view, nil))
	})
	for moved := true; moved; {
		moved = false
		for _, it := range p.Items {
			if open[it] && p.suppliedFrom(circuit.Terminal{Item: it, Port: "coil"}, opened(p.view, open)) {
				delete(open, it)
				moved = true
			}
		}
	}
	return open
}

// cabled tells whether power cables land on an item's contacts.
func (p *pass) cabled(it *circuit.Item) bool {
	for _, c := range p.cables {
		for _, e := range []circuit.End{c.Of.From, c.Of.To} {
			if e.Item == it && !circuit.IsControl(e.Port) {
				return true
			}
		}
	}
	return false
}

// signalled tells whether a control cable that does more than show ends on an item.
func (p *pass) signalled(it *circuit.Item) bool {
	for _, c := range p.signals {
		if c.To.Item == it && c.Action != "shows" {
			return true
		}
	}
	return false
}

var coilVoltage = Rule{diag.Info{Rule: "coil-of-another-voltage", Severity: diag.Fault,
	Title:  "a coil of another voltage than what feeds it",
	Why:    "Above its voltage a coil burns, and below it the contacts chatter or stay open.",
	Source: "common practice",
	Bad:    coiled("24 V"),
	Good:   coiled("12 V"),
}, func(p *pass) {
	p.items(func(it *circuit.Item) {
		d := it.PortOnly("coil")
		if !it.HasPort("coil") || d == nil || !d.Nominal.Known() {
			return
		}
		switch v := it.Facts.Coil; {
		case !v.Known():
			p.unverified(it.Ref, diag.Finding{Span: it.RefSpan, Missing: fmt.Sprintf("the voltage of the coil of %s, `coil %s`", it.Ref, d.Nominal.Value)})
		case alike(v.Value, d.Nominal.Value):
			p.ok(it.Ref)
		default:
			p.fail(it.Ref, diag.Finding{Message: fmt.Sprintf("the coil of %s is for %s and is fed from %s, which is %s", called(it), v.Value, d.Name, d.Nominal.Value),
				Span: it.RefSpan, Related: inDomain(d),
				Cure: fmt.Sprintf("fit a coil for %s, or feed it from %s", d.Nominal.Value, v.Value)})
		}
	})
}}

// coiled is a small boat with a contactor whose coil is for some voltage.
func coiled(volts string) string {
	return goodFeederOnBar + "run PB [0.1 m 25 mm2] contactor K1 at locker: 100 A, 32 V, 1 pole, coil " + volts + " [2 m 25 mm2] pump P1 at locker: 60 W\nrun PB [link] fuse F2 at locker: class t, 125 V, breaks 20 kA, 3 A [1 m 1.5 mm2] K1.coil\n"
}

var pumpNotStarted = Rule{diag.Info{Rule: "bilge-pump-not-started", Severity: diag.Danger,
	Title:  "a bilge pump that nothing starts when the water rises",
	Why:    "A pump that hangs on its fuse alone runs until its battery is flat, unless it has a float of its own; one behind a hand switch does not run while nobody is aboard. What must run unattended has a float switch before it, or says that it is `automatic`.",
	Source: "Boat Safety Scheme part 3, 3.5; ISO 15083, from memory, verify against the standard",
	Bad:    pumped("switch S1 at locker: 16 A, 24 V"),
	Good:   pumped("float-switch FS1 at locker: 16 A, 24 V"),
}, func(p *pass) {
	p.items(func(it *circuit.Item) {
		if !it.Facts.Bilge || it.Kind != "pump" || !p.fed(it) {
			return
		}
		float := p.startsItself(it)
		by := p.handSwitch(it)
		hand := by != nil || p.stopsWithout(it, p.those(func(o *circuit.Item) bool { return cutsOff(o) || o.Kind == "breaker" }))
		switch byHand := it.Facts.Manual && !it.Facts.Automatic; {
		case float || byHand && hand:
			p.ok(it.Ref)
		case by != nil && !byHand:
			severity := diag.Fault
			if it.Facts.MustBeLive {
				severity = diag.Danger
			}
			p.failAs(severity, it.Ref, diag.Finding{Message: fmt.Sprintf("%s runs only when somebody closes %s", called(it), called(by)), Span: it.RefSpan,
				Related: p.where([]*circuit.Item{by}), Items: []string{by.Ref},
				Cure: "feed it through a float-switch as well; a pump that is only run by hand says `manual`"})
		default:
			p.unverified(it.Ref, diag.Finding{Span: it.RefSpan,
				Missing: fmt.Sprintf("what starts %s: a float-switch before it, `automatic` where it has a float of its own, or `manual` behind a switch", it.Ref)})
		}
	})
}}

// startsItself tells whether a float, its own or one before it, or a signal starts
// a pump when the water rises.
func (p *pass) startsItself(it *circuit.Item) bool {
	if p.floated(it) || p.stopsWithout(it, p.floats()) || p.floatBesideHand(it) {
		return true
	}
	for _, t := range terminals(it) { // its own float, where that side is fed
		own := t.Port == "auto" || t.Port == "" && it.Facts.Automatic
		if own && len(p.net.Supplies(t, p.view)) > 0 {
			return true
		}
	}
	return false
}

// floatBesideHand tells whether a float feeds an item beside what a hand closes.
func (p *pass) floatBesideHand(it *circuit.Item) bool {
	view := p.withOpen(func(o *circuit.Item) bool { return o.Kind == "switch" })
	view.Through = true
	both := p.floats()
	for o := range view.Open {
		both[o] = true
	}
	for _, t := range terminals(it) {
		if !circuit.IsControl(t.Port) && p.suppliedFrom(t, view) && p.losesBy(t, both) {
			return true
		}
	}
	return false
}

// floats are the float switches, and the relays and contactors that these close.
func (p *pass) floats() map[*circuit.Item]bool {
	open := p.those(func(it *circuit.Item) bool { return it.Kind == "float-switch" })
	for _, it := range p.Items {
		if it.HasPort("coil") && p.losesBy(circuit.Terminal{Item: it, Port: "coil"}, open) {
			open[it] = true
		}
	}
	return open
}

// stopsWithout tells whether some terminal of an item is fed only through these.
func (p *pass) stopsWithout(it *circuit.Item, open map[*circuit.Item]bool) bool {
	for _, t := range terminals(it) {
		if !circuit.IsControl(t.Port) && p.losesBy(t, open) {
			return true
		}
	}
	return false
}

// losesBy tells whether a terminal that others feed no longer is with these open.
func (p *pass) losesBy(t circuit.Terminal, open map[*circuit.Item]bool) bool {
	view := p.view
	view.Through = true
	if !p.suppliedFrom(t, view) {
		return false
	}
	view.Open = open
	return !p.suppliedFrom(t, view)
}

// suppliedFrom tells whether anything but its own item feeds a terminal. In a view
// that passes what converts it is what feeds that, not its output, which is dead
// without.
func (p *pass) suppliedFrom(t circuit.Terminal, view circuit.View) bool {
	if !view.Through {
		return p.net.Fed(t, view, t.Item)
	}
	return p.net.Powered(t, view, func(it *circuit.Item) bool { return it != t.Item && it.Nature().Source })
}

// handSwitch is a switch through which alone an item is fed, or nil.
func (p *pass) handSwitch(it *circuit.Item) *circuit.Item {
	for _, o := range p.Items {
		if o.Kind == "switch" && p.stopsWithout(it, map[*circuit.Item]bool{o: true}) {
			return o
		}
	}
	return nil
}

// pumped is a small boat with a bilge pump on its battery behind a switch of some kind.
func pumped(by string) string {
	return header + "battery B1 in house at locker: agm, 12 V, 75 Ah, resistance 6 mohm, terminals 105 degC\nrun B1 [0.1 m 6 mm2] fuse F2 at locker: class t, 125 V, breaks 20 kA, 10 A [2 m 6 mm2] " + by + " [2 m 6 mm2] pump P2 at locker: 60 W, bilge, must be live\n"
}
