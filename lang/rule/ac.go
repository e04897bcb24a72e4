package rule

// Mains: residual current protection, protective earth, sources that exclude
// each other, breakers at the inlet.

import (
	"fmt"

	"strake/lang/circuit"
	"strake/lang/diag"
	"strake/lang/source"
)

// acSource is one place at which mains begins: a source or the output of a converter.
type acSource struct {
	item *circuit.Item
	port string
}

func (s acSource) terminal() circuit.Terminal {
	return circuit.Terminal{Item: s.item, Port: s.port}
}

// acSources lists inlets and generators of AC domains, transformer secondaries
// and inverter outputs.
func (p *pass) acSources() []acSource {
	var list []acSource
	p.items(func(it *circuit.Item) {
		for _, port := range it.Ports {
			d := it.PortDomain(port.Name)
			if d == nil || !d.AC || circuit.IsControl(port.Name) {
				continue
			}
			switch it.Kind {
			case "inlet", "generator":
				list = append(list, acSource{it, port.Name})
			case "inverter", "inverter-charger", "transformer":
				if circuit.IsOutput(port.Name) {
					list = append(list, acSource{it, port.Name})
				}
			}
		}
	})
	return list
}

var residualMissing = Rule{diag.Info{Rule: "residual-protection-missing", Severity: diag.Danger,
	Title:  "an AC source without a residual current device",
	Why:    "Without an RCD or RCBO of 30 mA a fault to a wet hand, or to the water around the craft, is not cut off. A transformer's secondary and an inverter's output are sources of their own: the device ashore no longer sees what happens behind them.",
	Source: "ISO 13297:2020, 30 mA from memory, verify against the standard; IEC 60364-7-709",
	Bad:    mains("breaker R1 at locker: 16 A, 2 pole, breaks 6 kA"),
	Good:   mains("rcbo R1 at locker: 16 A, 30 mA, 2 pole, type a"),
}, func(p *pass) {
	p.items(func(it *circuit.Item) {
		if it.Nature().Residual && !it.Facts.Trip.Known() {
			p.unverified(it.Ref, diag.Finding{Span: it.RefSpan, Missing: fmt.Sprintf("the residual current at which %s opens, such as `30 mA`", it.Ref)})
		}
	})
	for _, s := range p.acSources() {
		view := p.withOpen(func(it *circuit.Item) bool {
			return residual(it) && (!it.Facts.Trip.Known() || it.Facts.Trip.Most() <= 0.0301)
		})
		var bare *circuit.Item
		for _, t := range p.net.Reach([]circuit.Terminal{s.terminal()}, view) {
			if n := t.Item.Nature(); t.Item != s.item && bare == nil && (n.Load || n.Converts && t.Item.Kind != "transformer") {
				bare = t.Item
			}
		}
		name := s.terminal().String()
		if bare == nil {
			p.ok(name)
			continue
		}
		p.fail(name, diag.Finding{
			Message: fmt.Sprintf("%s feeds %s with no residual current device of 30 mA between", sourceName(s), called(bare)),
			Span:    p.leaving(s), Related: p.where([]*circuit.Item{s.item, bare}), Items: []string{s.item.Ref, bare.Ref},
			Cure: fmt.Sprintf("put an rcbo of 30 mA in both poles behind %s", name),
		})
	}
}}

// leaving is where the first cable leaves a source: there the device belongs.
func (p *pass) leaving(s acSource) source.Span {
	for _, c := range p.net.Cables(s.terminal()) {
		if c.Status.In(p.configuration) {
			return c.Span
		}
	}
	return s.item.RefSpan
}

func sourceName(s acSource) string {
	if s.item.Nature().Converts {
		return fmt.Sprintf("the output of %s", called(s.item))
	}
	return called(s.item)
}

// mains is a shore supply to one socket through a device.
func mains(device string) string {
	return `craft "Small boat" {
    cable class 5, tinned, 105 degC, free
}
domain mains: ac 230 V, 50 Hz
place locker "Locker": 40 degC
run inlet SH1 in mains at locker: 16 A [0.4 m 3G2.5] ` + device + ` [3 m 3G2.5] socket X1 at locker: 500 W
earth E1 at locker
bond SH1 [1 m 6 mm2] E1
`
}

var inletBreaker = Rule{diag.Info{Rule: "inlet-breaker-too-large", Severity: diag.Danger,
	Title:  "a breaker larger than the inlet or the source that it guards",
	Why:    "The inlet, its lead and its plug carry no more than they are made for; a larger breaker lets them burn.",
	Source: "ISO 13297:2020 13.2.2; IEC 60364-7-709, from memory, verify against the standard",
	Bad:    mains("rcbo R1 at locker: 25 A, 30 mA, 2 pole, type a"),
	Good:   mains("rcbo R1 at locker: 16 A, 30 mA, 2 pole, type a"),
}, func(p *pass) {
	p.items(func(it *circuit.Item) {
		if d := powerDomain(it); it.Kind != "inlet" || !it.Facts.Current.Known() || d == nil || !d.AC {
			return
		}
		for _, t := range terminals(it) {
			for _, st := range p.chainDevices(t) {
				r, ok := p.rating(st)
				switch {
				case !ok:
					p.unverified(it.Ref, diag.Finding{Span: st.RefSpan, Items: []string{st.Ref}, Missing: "the rating of " + st.Ref})
				case r > it.Facts.Current.Least():
					p.fail(it.Ref, diag.Finding{Message: fmt.Sprintf("%s is %s, and the device behind it, %s, is %s", called(it), it.Facts.Current.Least(), st.Ref, r),
						Span: st.RefSpan, Items: []string{st.Ref}, Cure: fmt.Sprintf("fit a device of at most %s", it.Facts.Current.Least())})
				default:
					p.ok(it.Ref)
				}
			}
		}
	})
}}

// chainDevices are the protective devices that stand in the chain behind a
// source, before any bar.
func (p *pass) chainDevices(t circuit.Terminal) []*circuit.Item {
	view := p.unfused()
	for _, o := range p.Items {
		for _, l := range terminals(o) {
			if o != t.Item && o.Nature().Conductive {
				for _, c := range p.net.Cables(l) {
					view = cut(view, c)
				}
			}
		}
	}
	var list []*circuit.Item
	for _, r := range p.net.Reach([]circuit.Terminal{t}, view) {
		if r.Item.Nature().Protects && r.Port == "in" {
			list = append(list, r.Item)
		}
	}
	return list
}

// cut is a view with one cable more cut.
func cut(view circuit.View, c *circuit.Cable) circuit.View {
	if view.Cut == nil {
		view.Cut = map[*circuit.Cable]bool{}
	}
	view.Cut[c] = true
	return view
}

// firstDevices are the protective devices that current from a terminal meets first.
func (p *pass) firstDevices(t circuit.Terminal) []*circuit.Item {
	view := p.unfused()
	var list []*circuit.Item
	for _, r := range append(p.net.Reach([]circuit.Terminal{t}, view), t) {
		if r.Item.Nature().Protects && r.Port == "in" {
			list = append(list, r.Item)
		}
	}
	return list
}

var acPole = Rule{diag.Info{Rule: "ac-pole-not-switched", Severity: diag.Danger,
	Title:  "a mains device in one pole",
	Why:    "Where the polarity of the supply is not sure, a device in one pole may sit in the neutral and leave the phase on.",
	Source: "ISO 13297:2020 13.1.1, 13.1.2",
	Bad:    mains("rcbo R1 at locker: 16 A, 30 mA, 1 pole, type a"),
	Good:   mains("rcbo R1 at locker: 16 A, 30 mA, 2 pole, type a"),
}, func(p *pass) {
	p.items(func(it *circuit.Item) {
		d := powerDomain(it)
		if d == nil || !d.AC || !switching(it) || it.Kind == "switch" {
			return
		}
		switch {
		case it.Facts.Poles >= 2:
			p.ok(it.Ref)
		case it.Facts.Poles == 0:
			p.unverified(it.Ref, diag.Finding{Span: it.RefSpan, Missing: fmt.Sprintf("the poles of %s, `2 pole`", it.Ref)})
		default:
			p.fail(it.Ref, diag.Finding{Message: fmt.Sprintf("%s opens one pole of %s", called(it), d.Name),
				Span: it.RefSpan, Cure: "fit a device in both poles and write `2 pole`"})
		}
	})
}}

var protectiveEarthMissing = Rule{diag.Info{Rule: "protective-earth-missing", Severity: diag.Danger,
	Title:  "a mains cable without a protective conductor",
	Why:    "A metal case that a phase touches stays live if nothing leads the fault away. The conductor ends only at a transformer's primary.",
	Source: "IEC 60364-5-54; ISO 13297:2020, from memory, verify against the standard",
	Bad:    "craft \"Small boat\" {\n    cable class 5, tinned, 105 degC, free\n}\ndomain mains: ac 230 V, 50 Hz\nplace locker \"Locker\": 40 degC\nrun inlet SH1 in mains at locker: 16 A [0.4 m 2X2.5] rcbo R1 at locker: 16 A, 30 mA, 2 pole, type a [3 m 3G2.5] socket X1 at locker: 500 W\n",
	Good:   mains("rcbo R1 at locker: 16 A, 30 mA, 2 pole, type a"),
}, func(p *pass) {
	for _, c := range p.cables {
		d := c.Of.Domain
		if d == nil || !d.AC || c.Of.Link {
			continue
		}
		switch {
		case c.Of.Protect:
			p.ok(c.Of.ID)
		case c.Of.Cores > 0:
			p.fail(c.Of.ID, diag.Finding{Message: fmt.Sprintf("the mains cable %s has no protective conductor", c.Of.ID),
				Span: c.Of.Span, Cure: fmt.Sprintf("use %dG in place of %dX", c.Of.Cores+1, c.Of.Cores)})
		default:
			p.unverified(c.Of.ID, diag.Finding{Span: c.Of.Span, Missing: "its cores, such as `3G2.5`"})
		}
	}
}}

var sourcesParallel = Rule{diag.Info{Rule: "ac-sources-in-parallel", Severity: diag.Danger,
	Title:  "two AC sources on one conductor",
	Why:    "Two sources that are not synchronised feed one another: fire, and live pins on the shore plug.",
	Source: "Boat Safety Scheme 3.9.1; ISO 13297, from memory, verify against the standard",
	Bad:    mains("rcbo R1 at locker: 16 A, 30 mA, 2 pole, type a") + "run generator G1 in mains at locker: 3 kVA, neutral earthed [0.4 m 3G2.5] rcbo R2 at locker: 13 A, 30 mA, 2 pole, type a [1 m 3G2.5] X1\n",
	Good:   mains("rcbo R1 at locker: 16 A, 30 mA, 2 pole, type a"),
}, func(p *pass) {
	sources := p.acSources()
	for i, s := range sources {
		for _, other := range sources[i+1:] {
			if s.item == other.item {
				continue
			}
			name, items := s.terminal().String(), []string{s.item.Ref, other.item.Ref}
			if met := p.meet(s, other, p.positions(true)); met != nil {
				p.fail(name, diag.Finding{
					Message: fmt.Sprintf("%s and %s meet at %s", sourceName(s), sourceName(other), called(met)),
					Span:    other.item.RefSpan, Related: p.where([]*circuit.Item{s.item, met}), Items: append(items, met.Ref),
					Cure: "put a changeover between them that breaks both poles before it makes",
				})
				continue
			}
			if met := p.meet(s, other, p.positions(false)); met != nil {
				between := p.unsaidChangeover(met)
				p.unverified(name, diag.Finding{Span: between.RefSpan, Items: append(items, between.Ref), Related: p.where([]*circuit.Item{s.item, other.item}),
					Missing: fmt.Sprintf("whether %s, which parts %s from %s, is `break before make`", between.Ref, s.item.Ref, other.item.Ref)})
				continue
			}
			p.ok(name)
		}
	}
}}

// unsaidChangeover is the first changeover that does not say how it changes
// over, or else where two sources meet.
func (p *pass) unsaidChangeover(met *circuit.Item) *circuit.Item {
	for _, it := range p.Items {
		if it.Kind == "changeover" && it.Facts.MakeFirst == circuit.Unsaid && it.Status.In(p.configuration) {
			return it
		}
	}
	return met
}

// meet is where two sources come together at the same time, or nil. The relay
// of an inverter-charger lets its input through or inverts, never both.
func (p *pass) meet(a, b acSource, views []circuit.View) *circuit.Item {
	for _, view := range views {
		view.Open = map[*circuit.Item]bool{a.item: true, b.item: true}
		reached := map[circuit.Terminal]bool{}
		for _, t := range p.net.Reach([]circuit.Terminal{a.terminal()}, view) {
			reached[t] = true
		}
		for _, t := range p.net.Reach([]circuit.Terminal{b.terminal()}, view) {
			if reached[t] {
				return t.Item
			}
		}
	}
	return nil
}

// positions are the views with each changeover in each of its positions: those
// that break before they make, and of those that do not say it when they are
// given the benefit of the doubt.
func (p *pass) positions(doubt bool) []circuit.View {
	views := []circuit.View{p.view}
	p.items(func(it *circuit.Item) {
		if it.Kind != "changeover" || it.Facts.MakeFirst == circuit.Yes || it.Facts.MakeFirst == circuit.Unsaid && !doubt {
			return
		}
		var more []circuit.View
		for _, v := range views {
			for _, port := range it.Ports {
				if port.Name == "out" || circuit.IsControl(port.Name) {
					continue
				}
				w := v
				w.Position = map[*circuit.Item]string{it: port.Name}
				for other, at := range v.Position {
					w.Position[other] = at
				}
				more = append(more, w)
			}
		}
		if len(more) > 0 {
			views = more
		}
	})
	return views
}
