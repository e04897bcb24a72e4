package rule

// Where the neutral of mains is bonded to earth, in each state of the sources.

import (
	"fmt"
	"slices"

	"strake/lang/circuit"
	"strake/lang/diag"
)

var neutralEarthBonds = Rule{diag.Info{Rule: "neutral-earth-bonds", Severity: diag.Danger,
	Title:  "not exactly one neutral-earth bond in a state of the sources",
	Why:    "Without a bond an RCD cannot see a fault to earth; with two, neutral current runs through the hull and the protective conductors. Each source is taken in turn as the one that feeds. A bond behind a residual current device leads the fault past it, and it sees nothing. A neutral that floats is allowed with all-pole switching and an insulation monitor.",
	Source: "ISO 13297:2020 6.8",
	Bad:    "craft \"Small boat\" {\n    cable class 5, tinned, 105 degC, free\n}\ndomain mains: ac 230 V, 50 Hz\nplace locker \"Locker\": 40 degC\nrun generator G1 in mains at locker: 3 kVA, neutral floating [0.4 m 3G2.5] rcbo R1 at locker: 13 A, 30 mA, 2 pole, type a [3 m 3G2.5] socket X1 at locker: 500 W\n",
	Good:   "craft \"Small boat\" {\n    cable class 5, tinned, 105 degC, free\n}\ndomain mains: ac 230 V, 50 Hz\nplace locker \"Locker\": 40 degC\nrun generator G1 in mains at locker: 3 kVA, neutral earthed [0.4 m 3G2.5] rcbo R1 at locker: 13 A, 30 mA, 2 pole, type a [3 m 3G2.5] socket X1 at locker: 500 W\nearth E1 at locker\nbond G1 [1 m 6 mm2] E1\n",
}, func(p *pass) {
	for _, s := range p.acSources() {
		f, name := s.item.Facts, s.terminal().String()
		n := p.neutralOf(s)
		// An inlet's neutral is earthed ashore, which resolve lists as an assumption;
		// what passes an inverter-charger is bonded by its relay only while it inverts.
		switch ashore := s.item.Kind == "inlet" && !f.NeutralFloating; {
		case len(n.twice) > 0:
			where := "is earthed at the source and again"
			switch {
			case ashore:
				where = "is earthed ashore and again aboard"
			case !n.own:
				where = "is earthed"
			}
			p.fail(name, diag.Finding{Message: fmt.Sprintf("on %s the neutral %s %s", sourceName(s), where, atBonds(n.twice)),
				Span: s.item.RefSpan, Related: p.atEach(n.twice), Items: bondNames(n.twice), Cure: "bond the neutral at one place only, at its source"})
		case ashore || n.own:
			p.ok(name)
		case f.NeutralFloating && n.blind != nil:
			p.fail(name, diag.Finding{Message: fmt.Sprintf("the neutral of %s is earthed %s, behind %s, which then sees no fault", sourceName(s), atBonds(n.bonds), called(n.blind)),
				Span: n.blind.RefSpan, Related: p.atEach(n.bonds), Items: append(bondNames(n.bonds), n.blind.Ref), Cure: "bond the neutral at the source, ahead of every residual current device"})
		case f.NeutralFloating && !n.bare || f.NeutralFloating && p.monitored(s):
			p.ok(name)
		case f.NeutralFloating:
			p.fail(name, diag.Finding{Message: fmt.Sprintf("on %s nothing bonds the neutral to earth: its residual current devices see no fault", sourceName(s)),
				Span: s.item.RefSpan, Cure: "bond the neutral at the source and write `neutral earthed`"})
		default:
			p.unverified(name, diag.Finding{Span: s.item.RefSpan, Items: []string{s.item.Ref},
				Missing: fmt.Sprintf("how the neutral of %s is earthed (`neutral earthed`, `neutral earthed when inverting` or `neutral floating`)", s.item.Ref)})
		}
	}
}}

// neutralBond joins a neutral to earth: in a source that says so, or along a
// bond that is written.
type neutralBond struct {
	source *circuit.Item
	cable  *circuit.Cable
	from   circuit.End // the neutral's end of the cable
}

// neutral is what bonds a source's neutral while it feeds, over the positions of
// the changeovers.
type neutral struct {
	own   bool          // in the source itself
	bonds []neutralBond // elsewhere
	twice []neutralBond // those of them that make two at a time
	bare  bool          // in some position nothing does
	blind *circuit.Item // a residual current device before the one bond, and loads behind it that no other guards
}

// neutralOf looks along a source's own conductors: as far as current from it
// gets without passing a transformer. A bond in an inverter-charger that follows
// its relay is open while another source feeds.
func (p *pass) neutralOf(s acSource) neutral {
	f := s.item.Facts
	n := neutral{own: f.NeutralEarthed || f.NeutralWhenInverting}
	ashore := s.item.Kind == "inlet" && !f.NeutralFloating
	written := p.writtenNeutralBonds()
	views := p.positions(true)
	for _, view := range views {
		var here []neutralBond
		feeds := len(views) == 1
		reached := p.net.Reach([]circuit.Terminal{s.terminal()}, view)
		for _, t := range reached {
			it := t.Item
			feeds = feeds || it.Nature().Load || it.Nature().Converts && it != s.item && !circuit.IsOutput(t.Port)
			fixed := it != s.item && it.Facts.NeutralEarthed && !(it.Kind == "transformer" && t.Port == "in")
			if fixed && !slices.ContainsFunc(here, func(b neutralBond) bool { return b.source == it }) {
				here = append(here, neutralBond{source: it})
			}
		}
		for _, b := range written {
			switch {
			case !slices.ContainsFunc(reached, b.lands):
			case b.lands(s.terminal()) && !ashore:
				n.own = true // the source's own, written out
			default:
				here = append(here, b)
			}
		}
		for _, b := range here {
			if !slices.Contains(n.bonds, b) {
				n.bonds = append(n.bonds, b)
			}
		}
		first := 1
		if n.own || ashore {
			first = 0
		}
		if len(here) > first {
			n.twice = here
		}
		if len(here) == 0 && feeds {
			n.bare = true
		}
		if len(here) == 1 && here[0].cable != nil && n.blind == nil {
			n.blind = p.blinded(s, here[0], view)
		}
	}
	return n
}

// blinded is a residual current device through which alone a source reaches the
// bond of its neutral, where something behind the bond has no other; or nil.
func (p *pass) blinded(s acSource, b neutralBond, view circuit.View) *circuit.Item {
	guarded := view
	guarded.Open = p.those(residual)
	var from []circuit.Terminal
	for _, port := range b.from.Item.Ports {
		if t := (circuit.Terminal{Item: b.from.Item, Port: port.Name}); b.lands(t) {
			from = append(from, t)
		}
	}
	if !slices.ContainsFunc(p.net.Reach(from, guarded), func(t circuit.Terminal) bool {
		n := t.Item.Nature()
		return n.Load || n.Converts && !circuit.IsOutput(t.Port)
	}) {
		return nil
	}
	for _, it := range p.Items {
		if !it.Nature().Residual {
			continue
		}
		alone := view
		alone.Open = map[*circuit.Item]bool{it: true}
		if !slices.ContainsFunc(p.net.Reach([]circuit.Terminal{s.terminal()}, alone), b.lands) {
			return it
		}
	}
	return nil
}

// writtenNeutralBonds are the bonds from a neutral to an earth, or to a case,
// which the protective conductors join to one.
func (p *pass) writtenNeutralBonds() []neutralBond {
	var list []neutralBond
	for _, c := range p.Bonds {
		for _, e := range [][2]circuit.End{{c.From, c.To}, {c.To, c.From}} {
			if e[0].Item != nil && e[0].Pole == circuit.Neutral && e[1].Item != nil && e[1].Pole == circuit.AllPoles {
				list = append(list, neutralBond{cable: c, from: e[0]})
			}
		}
	}
	return list
}

// lands tells whether a written bond lands on a terminal. A transformer's neutral
// is its secondary's; of other things with two sides both are meant where the
// text says none.
func (b neutralBond) lands(t circuit.Terminal) bool {
	return b.from.Item == t.Item && !circuit.IsControl(t.Port) && (b.from.Port == t.Port || b.from.Port == "" && !(t.Item.Kind == "transformer" && t.Port == "in"))
}

func atBonds(bonds []neutralBond) string {
	var text string
	for i, b := range bonds {
		switch {
		case i > 0 && i == len(bonds)-1:
			text += " and "
		case i > 0:
			text += ", "
		}
		if b.cable != nil {
			text += "by the bond " + b.cable.ID
			continue
		}
		text += "at " + called(b.source)
	}
	return text
}

func bondNames(bonds []neutralBond) []string {
	var list []string
	for _, b := range bonds {
		if b.cable != nil {
			list = append(list, b.cable.ID)
			continue
		}
		list = append(list, b.source.Ref)
	}
	return list
}

func (p *pass) atEach(bonds []neutralBond) []diag.Related {
	var list []diag.Related
	for _, b := range bonds {
		if b.cable != nil {
			list = append(list, diag.Related{Span: b.cable.Span, Message: "the bond " + b.cable.ID})
			continue
		}
		list = append(list, p.where([]*circuit.Item{b.source})...)
	}
	return list
}

// monitored tells whether an insulation monitor hangs on the source's conductors.
func (p *pass) monitored(s acSource) bool {
	for _, t := range p.net.Reach([]circuit.Terminal{s.terminal()}, p.view) {
		if t.Item.Kind == "insulation-monitor" {
			return true
		}
	}
	return false
}
