package rule

// Bonds between the poles and the hull or the main earth.

import (
	"fmt"
	"strings"

	"strake/lang/circuit"
	"strake/lang/diag"
)

// bonded is a bond of one of the live poles of a domain.
type bonded struct {
	cable *circuit.Cable
	item  *circuit.Item
}

// poleBonds are the bonds that join a pole of a DC domain to something else.
func (p *pass) poleBonds(d *circuit.Domain) []bonded {
	var list []bonded
	for _, c := range p.Bonds {
		for _, e := range []circuit.End{c.From, c.To} {
			if e.Item == nil || e.Pole != circuit.Positive && e.Pole != circuit.Negative {
				continue
			}
			of := e.Item.TopBank() // the last of a string has its bank's negative
			if of.PortDomain(e.Port) == d {
				list = append(list, bonded{c, of})
				break
			}
		}
	}
	return list
}

var insulatedBonded = Rule{diag.Info{Rule: "insulated-pole-bonded", Severity: diag.Danger,
	Title:  "a pole of an insulated system that is bonded",
	Why:    "The bond is the first earth fault, made on purpose: the next one is a short circuit through the hull, and the insulation monitor never rests.",
	Source: "common practice; ISO 13297:2020 definition of an insulated system, from memory, verify against the standard",
	Bad:    insulatedFeeder + "earth E1 at locker\nbond PB.negative [1 m 16 mm2] E1\n",
	Good:   insulatedFeeder + "earth E1 at locker\nbond PB [1 m 16 mm2] E1\n",
}, func(p *pass) {
	for _, d := range p.Domains {
		if d.AC || !d.Insulated {
			continue
		}
		bonds := p.poleBonds(d)
		if len(bonds) == 0 {
			p.ok(d.Name)
		}
		for _, b := range bonds {
			p.fail(b.cable.ID, diag.Finding{
				Message: fmt.Sprintf("the bond %s joins a pole of %s to earth, and %s is insulated", b.cable.ID, called(b.item), d.Name),
				Span:    b.cable.Span, Items: []string{b.item.Ref}, Related: inDomain(d),
				Cure: "take the bond out, or bond the case: write `bond " + b.item.Ref + "` without a pole",
			})
		}
	}
}}

var earthedNegativeBonds = Rule{diag.Info{Rule: "earthed-negative-bonds", Severity: diag.Fault,
	Title:  "not exactly one bond of a negative that is to be earthed",
	Why:    "With no bond an earth fault opens nothing; with two, current runs through the hull or the bonding conductors between them and eats metal.",
	Source: "ISO 10133:2012 4.1 and ISO 13297:2020 6.8, from memory, verify against the standard",
	Bad:    earthedFeeder,
	Good:   earthedFeeder + "earth E1 at locker\nbond PB.negative [1 m 16 mm2] E1\n",
}, func(p *pass) {
	for _, d := range p.Domains {
		if d.AC || d.Insulated || !p.used(d) {
			continue
		}
		bonds := p.earthBonds(d)
		if !d.EarthedNegative && len(bonds) < 2 {
			continue // whether it is to be earthed is asked elsewhere
		}
		bare := p.unbonded(d, bonds)
		switch {
		case len(bonds) == 0:
			p.fail(d.Name, diag.Finding{Message: fmt.Sprintf("the negative of %s is to be earthed, and no bond joins it to an earth", d.Name),
				Span: d.Span, Cure: "write the bond, such as `bond PB.negative [1 m 16 mm2] E1`, or take `earthed negative` out"})
		case len(p.networks(bonds)) < len(bonds):
			severity := diag.Fault
			if p.metalHull() {
				severity = diag.Danger
			}
			p.failAs(severity, d.Name, diag.Finding{Message: fmt.Sprintf("the negative of %s is bonded %d times in one network", d.Name, len(bonds)),
				Span: bonds[1].cable.Span, Items: []string{bonds[0].cable.ID, bonds[1].cable.ID},
				Related: []diag.Related{{Span: bonds[0].cable.Span, Message: "the other bond"}}, Cure: "leave one bond in a network that is joined by conductors"})
		case bare != nil && d.EarthedNegative:
			p.fail(d.Name, diag.Finding{Message: fmt.Sprintf("the negative of %s is to be earthed, and no bond joins that of %s to an earth", d.Name, called(bare)),
				Span: d.Span, Items: []string{bare.Ref}, Related: p.where([]*circuit.Item{bare}),
				Cure: fmt.Sprintf("write its bond, such as `bond %s.negative [1 m 16 mm2] E1`: what no conductor joins is a network of its own", bare.Ref)})
		default:
			p.ok(d.Name)
		}
	}
}}

// earthBonds are the bonds of a domain's poles that end on an earth.
func (p *pass) earthBonds(d *circuit.Domain) []bonded {
	var list []bonded
	for _, b := range p.poleBonds(d) {
		for _, e := range []circuit.End{b.cable.From, b.cable.To} {
			if e.Item != nil && e.Item.TopBank() != b.item && p.leadsToEarth(e.Item, map[*circuit.Item]bool{b.item: true}) {
				list = append(list, b)
				break
			}
		}
	}
	return list
}

// unbonded is a battery of a domain, or an isolated converter that feeds it, that
// no conductor joins to a bonded thing, or nil.
func (p *pass) unbonded(d *circuit.Domain, bonds []bonded) *circuit.Item {
	var bare *circuit.Item
	p.items(func(it *circuit.Item) {
		converts := it.Nature().Converts && it.Facts.Isolated && it.PortOnly("out") == d // its output is a network of its own
		if bare != nil || !converts && (!it.Nature().Stores || it.MemberOf != nil || it.Domain != d) {
			return
		}
		if converts {
			if out := (circuit.Terminal{Item: it, Port: "out"}); len(p.net.Cables(out)) > 0 && !p.bondedAt(it, "out", false) {
				bare = it
			}
			return
		}
		for _, b := range bonds {
			if p.joined(it, b.item) || it.Bank != nil && b.item.MemberOf == it {
				return
			}
		}
		bare = it
	})
	return bare
}

var earthingNotSaid = Rule{diag.Info{Rule: "earthing-not-said", Severity: diag.NotVerified,
	Title:  "a DC system of which nobody says how it is earthed",
	Why:    "Whether both poles are insulated or the negative is earthed at one point decides which poles are switched and fused, whether a monitor is needed, and what an earth fault does. With mains aboard, on a metal hull or above 60 V that cannot be left open.",
	Source: "ISO 10133:2012 4.1 as excerpted; ISO 13297:2020, from memory, verify against the standard",
	Bad:    strings.Replace(goodFeeder, "{\n", "{\n    hull steel\n", 1),
	Good:   strings.Replace(insulatedFeeder, "hull wood", "hull steel", 1),
}, func(p *pass) {
	mains := p.mainsAboard()
	for _, d := range p.Domains {
		top, ok := p.highest(d)
		if d.AC || !p.stores(d) || !mains && !p.metalHull() && !(ok && top > lowVolts) {
			continue
		}
		if d.Insulated || d.EarthedNegative {
			p.ok(d.Name)
			continue
		}
		p.unverified(d.Name, diag.Finding{Span: d.Span, Missing: fmt.Sprintf("how %s is earthed, `insulated` or `earthed negative`", d.Name)})
	}
}}

// stores tells whether a battery lies in a domain, or an isolated converter makes
// a network of its own in it.
func (p *pass) stores(d *circuit.Domain) bool {
	stored := false
	p.items(func(it *circuit.Item) {
		stored = stored || it.Nature().Stores && it.Domain == d ||
			it.Nature().Converts && it.Facts.Isolated && it.PortOnly("out") == d
	})
	return stored
}

// used tells whether anything lies in a domain.
func (p *pass) used(d *circuit.Domain) bool {
	for _, it := range p.Items {
		if it.Domain == d && it.Status.In(p.configuration) {
			return true
		}
	}
	return false
}

// networks is one bond for each network of joined conductors.
func (p *pass) networks(bonds []bonded) []bonded {
	var first []bonded
	for i, b := range bonds {
		alone := true
		for _, other := range bonds[:i] {
			alone = alone && !p.joined(b.item, other.item)
		}
		if alone {
			first = append(first, b)
		}
	}
	return first
}

// joined tells whether conductors lead from one item to the other.
func (p *pass) joined(a, b *circuit.Item) bool {
	if a == b {
		return true
	}
	for _, from := range [][2]*circuit.Item{{a, b}, {b, a}} {
		for _, t := range p.net.Reach(terminals(from[0]), p.view) {
			if t.Item == from[1] {
				return true
			}
		}
	}
	return false
}

func (p *pass) metalHull() bool { return p.Craft.Hull == "steel" || p.Craft.Hull == "aluminium" }

var mainEarthMissing = Rule{diag.Info{Rule: "main-earth-missing", Severity: diag.Danger,
	Title:  "mains aboard without a bond to the main earth",
	Why:    "Protective conductors that end on nothing lead no fault away: a metal hull or case then stands at mains voltage. One main earth takes the protective conductors, the hull and the metal that people touch, residual current device or not. An inlet that feeds nothing but an isolation transformer is exempt: its protective conductor ends there.",
	Source: "ISO 13297:2020 6.8, from memory, verify against the standard; IEC 60364-4-41",
	Bad:    steelMains,
	Good:   steelMains + "earth E1 at locker\nbond T1 [1 m 6 mm2] E1\n",
}, func(p *pass) {
	for _, s := range p.acSources() {
		if s.item.Kind == "inlet" && p.onlyFeedsTransformers(s) {
			continue
		}
		name := s.terminal().String()
		if p.earthed(s) {
			p.ok(name)
			continue
		}
		hull := ""
		if p.metalHull() {
			hull = ", and the hull is " + p.Craft.Hull
		}
		p.fail(name, diag.Finding{Message: fmt.Sprintf("no bond joins the protective conductors of %s to an earth%s", sourceName(s), hull),
			Span: s.item.RefSpan, Items: []string{s.item.Ref}, Cure: "write the bond, such as `bond " + s.item.Ref + " [1 m 6 mm2] E1`, with `earth E1`"})
	}
}}

// onlyFeedsTransformers tells an inlet whose protective conductor ends at a
// transformer's primary.
func (p *pass) onlyFeedsTransformers(s acSource) bool {
	transformers := 0
	for _, t := range p.net.Reach([]circuit.Terminal{s.terminal()}, p.view) {
		switch n := t.Item.Nature(); {
		case t.Item.Kind == "transformer" && t.Port == "in":
			transformers++
		case n.Load, n.Converts, t.Item.Kind == "board":
			return false
		}
	}
	return transformers > 0
}

var shoreEarthThrough = Rule{diag.Info{Rule: "shore-earth-through-transformer", Severity: diag.Fault,
	Title:  "the shore's protective conductor taken past an isolation transformer",
	Why:    "The transformer parts the craft from the shore's earth. A bond past it joins the hull to every other hull on the pontoon: it corrodes, and a fault ashore comes aboard.",
	Source: "ISO 13297:2020 6.8, from memory, verify against the standard; common practice",
	Bad:    steelMains + "earth E1 at locker\nbond T1 [1 m 6 mm2] E1\nbond SH1 [3 m 6 mm2] E1\n",
	Good:   steelMains + "earth E1 at locker\nbond T1 [1 m 6 mm2] E1\n",
}, func(p *pass) {
	for _, s := range p.acSources() {
		if s.item.Kind != "inlet" || !p.onlyFeedsTransformers(s) {
			continue
		}
		through := false
		for _, c := range p.Bonds {
			for _, e := range [][2]circuit.End{{c.From, c.To}, {c.To, c.From}} {
				if e[0].Item == s.item && e[1].Item != nil && p.leadsToEarth(e[1].Item, map[*circuit.Item]bool{s.item: true}) {
					through = true
					p.fail(s.item.Ref, diag.Finding{Message: fmt.Sprintf("the bond %s takes the shore's earth of %s past the transformer", c.ID, called(s.item)),
						Span: c.Span, Related: p.where([]*circuit.Item{s.item}), Items: []string{c.ID}, Cure: "take the bond out: the shore's protective conductor ends at the transformer's primary"})
				}
			}
		}
		if !through {
			p.ok(s.item.Ref)
		}
	}
}}

// earthed tells whether the protective conductors of a source end on an earth:
// some bond of a case, or of the earth terminal, on what is fed by it.
func (p *pass) earthed(s acSource) bool {
	fed := map[*circuit.Item]bool{s.item: true}
	for _, t := range p.net.Reach([]circuit.Terminal{s.terminal()}, p.view) {
		fed[t.Item] = true
	}
	for _, c := range p.Bonds {
		for _, e := range [][2]circuit.End{{c.From, c.To}, {c.To, c.From}} {
			if e[0].Item != nil && e[1].Item != nil && fed[e[0].Item] && e[0].Pole == circuit.AllPoles && p.leadsToEarth(e[1].Item, map[*circuit.Item]bool{}) {
				return true
			}
		}
	}
	return false
}

// leadsToEarth follows bonds to an earth.
func (p *pass) leadsToEarth(it *circuit.Item, seen map[*circuit.Item]bool) bool {
	if it.Kind == "earth" {
		return true
	}
	seen[it] = true
	for _, c := range p.Bonds {
		for _, e := range [][2]circuit.End{{c.From, c.To}, {c.To, c.From}} {
			if e[0].Item == it && e[1].Item != nil && !seen[e[1].Item] && p.leadsToEarth(e[1].Item, seen) {
				return true
			}
		}
	}
	return false
}

// earthedFeeder is a small boat whose negative is to be earthed.
const earthedFeeder = `craft "Small boat" {
    cable class 5, tinned, 105 degC, free
}
domain house: dc 12 V, 10.5 V to 14.6 V, earthed negative
place locker "Locker": 40 degC
battery B1 in house at locker: agm, 12 V, 75 Ah, resistance 6 mohm, terminals 105 degC
run B1 [0.1 m 25 mm2] fuse F1 at locker: class t, 125 V, breaks 20 kA, 80 A
    [0.1 m 25 mm2] isolator Q1 at locker: 100 A, 32 V, 1 pole, load-break
    [0.2 m 25 mm2] bus PB at locker: 100 A
run PB [2 m 25 mm2] pump P1 at locker: 60 W
`

// insulatedFeeder is the same with both poles insulated, on a wooden hull.
const insulatedFeeder = `craft "Small boat" {
    hull wood
    cable class 5, tinned, 105 degC, free
}
domain house: dc 12 V, 10.5 V to 14.6 V, insulated
place locker "Locker": 40 degC
battery B1 in house at locker: agm, 12 V, 75 Ah, resistance 6 mohm, terminals 105 degC
run B1 [0.1 m 25 mm2] fuse F1 at locker: class t, 125 V, breaks 20 kA, 80 A, 2 pole
    [0.1 m 25 mm2] isolator Q1 at locker: 100 A, 32 V, 2 pole, load-break
    [0.2 m 25 mm2] bus PB at locker: 100 A
run PB [2 m 25 mm2] pump P1 at locker: 60 W
insulation-monitor IM1 in house at locker
`

// steelMains is shore power behind a transformer on a steel hull.
const steelMains = `craft "Small boat" {
    hull steel
    cable class 5, tinned, 105 degC, free
}
domain mains: ac 230 V, 50 Hz
place locker "Locker": 40 degC
run inlet SH1 in mains at locker: 16 A
    [0.4 m 3G2.5] rcbo R1 at locker: 16 A, 30 mA, 2 pole, type a
    [3 m 3G2.5]   transformer T1 in mains at locker: 3.6 kVA, 230 V, neutral earthed
    [0.4 m 3G2.5] rcbo R2 at locker: 16 A, 30 mA, 2 pole, type a
    [3 m 3G2.5]   socket X1 at locker: 500 W
`
