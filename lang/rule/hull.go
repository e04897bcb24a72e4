package rule

// A metal hull and the main earth, and what parts it from the shore.

import (
	"fmt"

	"strake/lang/circuit"
	"strake/lang/diag"
)

var hullNotBonded = Rule{diag.Info{Rule: "hull-not-bonded", Severity: diag.Danger,
	Title:  "a metal hull that is not bonded, with mains aboard",
	Why:    "A cable chafed through puts the hull at mains voltage: bonded to the main earth it opens its device at once, not bonded it waits for a hand. Residual current device or not, hull, protective conductors and exposed metal are on one main earth.",
	Source: "ISO 13297:2020 6.8, from memory, verify against the standard; IEC 60364-4-41",
	Bad:    steelMains + "earth E1 \"Main earth\" at locker\nbond T1 [1 m 6 mm2] E1\nearth E2 \"Hull\" at locker\n",
	Good:   steelMains + "earth E1 \"Main earth\" at locker\nbond T1 [1 m 6 mm2] E1\nearth E2 \"Hull\" at locker\nbond E2 [1 m 16 mm2] E1\n",
}, func(p *pass) {
	main := p.mainEarth()
	if !p.metalHull() || main == nil || !p.mainsAboard() {
		return
	}
	joined := p.bondedTo(main)
	var hull *circuit.Item
	for _, it := range p.Items {
		switch {
		case !ofHull(it) || it.Broken:
		case it.Status.In(p.configuration) && joined[it]:
			p.ok(it.Ref)
			return
		case hull == nil:
			hull = it
		}
	}
	if hull == nil {
		p.unverified(main.Ref, diag.Finding{Span: main.RefSpan, Missing: fmt.Sprintf("whether %s is a point of the %s hull", called(main), p.Craft.Hull),
			Cure: fmt.Sprintf("write `hull` on it, as `earth %s: hull`, or write `earth E2 \"Hull\"` and its bond to %s", main.Ref, main.Ref)})
		return
	}
	p.fail(hull.Ref, diag.Finding{Message: fmt.Sprintf("the hull is %s, and no bond joins %s to %s", p.Craft.Hull, called(hull), called(main)), Span: hull.RefSpan,
		Items: []string{main.Ref}, Related: p.where([]*circuit.Item{main}), Cure: fmt.Sprintf("write the bond, such as `bond %s [1 m 16 mm2] %s`", hull.Ref, main.Ref)})
}}

// ofHull tells an earth that is a point of the hull, or is called so.
func ofHull(it *circuit.Item) bool {
	return it.Kind == "earth" && (it.Facts.OnHull || mentions(it.Label, "hull") || mentions(it.Label, "keel"))
}

// mainsAboard tells whether anything aboard is fed with mains.
func (p *pass) mainsAboard() bool { return len(p.acSources()) > 0 }

var galvanicBypassed = Rule{diag.Info{Rule: "galvanic-isolator-bypassed", Severity: diag.Fault,
	Title:  "a galvanic isolator with a bond beside it",
	Why:    "It parts the craft from the earth of the shore up to a volt or so, so that the hull and its anodes do not corrode. A bond of the inlet, or of a thing between the two, to the craft's earth carries that current past it.",
	Source: "ISO 13297:2020 6.9, from memory, verify against the standard; common practice",
	Bad:    isolating("16 A") + "bond SH1 [1 m 6 mm2] E1\n",
	Good:   isolating("16 A"),
}, func(p *pass) {
	p.items(func(it *circuit.Item) {
		if it.Kind != "galvanic-isolator" {
			return
		}
		before := map[*circuit.Item]bool{}
		for _, t := range p.net.Origin([]circuit.Terminal{{Item: it, Port: "in"}}, p.without(it)) {
			before[t.Item] = t.Item != it
		}
		bypassed := false
		for _, c := range p.Bonds {
			for _, e := range [][2]circuit.End{{c.From, c.To}, {c.To, c.From}} {
				if e[0].Item == nil || e[1].Item == nil || !before[e[0].Item] || e[0].Pole != circuit.AllPoles || !p.leadsToEarth(e[1].Item, map[*circuit.Item]bool{e[0].Item: true}) {
					continue
				}
				bypassed = true
				p.fail(it.Ref, diag.Finding{Message: fmt.Sprintf("the bond %s joins %s, on the shore's side of %s, to the craft's earth: nothing is parted", c.ID, called(e[0].Item), called(it)),
					Span: c.Span, Items: []string{c.ID}, Related: p.where([]*circuit.Item{it}), Cure: "take the bond out: behind the isolator the protective conductors of the craft are bonded, before it nothing is"})
			}
		}
		if !bypassed {
			p.ok(it.Ref)
		}
	})
}}
