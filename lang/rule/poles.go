package rule

// Bonds that land on poles: what of them is no bond at all.

import (
	"fmt"
	"slices"

	"strake/lang/circuit"
	"strake/lang/diag"
)

var polesJoined = Rule{diag.Info{Rule: "poles-joined", Severity: diag.Danger,
	Title:  "a bond between poles that are not to be joined",
	Why:    "A bond has no device in it. Between the two poles of a system it is a dead short; between two live poles it is a power cable that nothing protects; between mains and direct current it brings mains where nobody expects it. A bond from neutral to neutral of one network takes the load's current past the poles of switches and residual current devices. Negatives may be bonded to each other.",
	Source: "IEC 60364-4-43 431.1 and 33 CFR 183.455 for the live conductor that nothing protects; common practice",
	Bad:    earthedFeeder + "earth E1 at locker\nbond PB.negative [1 m 16 mm2] E1\nbond PB.positive [1 m 16 mm2] B1.negative\n",
	Good:   earthedFeeder + "earth E1 at locker\nbond PB.negative [1 m 16 mm2] E1\n",
}, func(p *pass) {
	for _, c := range p.System.Bonds {
		switch {
		case !c.Status.In(p.configuration):
		case c.From.Pole == circuit.Neutral && c.To.Pole == circuit.Neutral && c.From.Item != nil && c.To.Item != nil && p.joined(c.From.Item, c.To.Item):
			p.fail(c.ID, diag.Finding{Message: fmt.Sprintf("the bond %s gives the neutral a second way from %s to %s, past what stands between them", c.ID, called(c.From.Item), called(c.To.Item)),
				Span: c.Span, Items: []string{c.From.Item.Ref, c.To.Item.Ref}, Cure: "take the bond out: the neutral runs with its phase"})
		case !joinsPoles(c):
			if c.From.Pole != circuit.AllPoles && c.To.Pole != circuit.AllPoles {
				p.ok(c.ID)
			}
		default:
			a, b := c.From, c.To
			then, cure := p.whenJoined(a, b)
			other := fmt.Sprintf("the %s of %s", b.Pole, called(b.Item))
			if a.Item == b.Item {
				other = "its " + string(b.Pole)
			}
			p.fail(c.ID, diag.Finding{Message: fmt.Sprintf("the bond %s joins the %s of %s to %s: %s", c.ID, a.Pole, called(a.Item), other, then),
				Span: c.Span, Items: []string{a.Item.Ref, b.Item.Ref}, Cure: cure})
		}
	}
}}

// whenJoined says what comes of a bond between two poles, and what to do.
func (p *pass) whenJoined(a, b circuit.End) (then, cure string) {
	da, db := domainAt(a), domainAt(b)
	switch {
	case a.Pole == b.Pole && livePole(a):
		return "a live conductor between them that nothing protects", fmt.Sprintf("take it out; where the two are to be joined, write a `run` with a protective device at each end, as in `run %s`", a.Item.Ref)
	case da != nil && db != nil && da.AC != db.AC:
		return "alternating current on a conductor of direct current", "take the bond out"
	case p.joined(a.Item, b.Item), da != nil && db != nil && da.EarthedNegative && db.EarthedNegative:
		return "a dead short", "take the bond out"
	case a.Item.Kind == "battery" && b.Item.Kind == "battery":
		return "a dead short as soon as anything joins their other poles", fmt.Sprintf("take the bond out; batteries in series are a bank, as in `bank WB is %s, %s in series [0.2 m]`", a.Item.Ref, b.Item.Ref)
	}
	return "a dead short as soon as anything else joins the two", "take the bond out"
}

var livePoleEarthed = Rule{diag.Info{Rule: "live-pole-on-earth", Severity: diag.Danger,
	Title:  "a live pole bonded to an earth or to a case",
	Why:    "The bond puts the hull and every case that people touch at the voltage of the live pole; where the other pole is earthed it is a dead short. Only a negative or a neutral is bonded to an earth. Of a string of batteries that is the last one's negative: every other pole within it is live.",
	Source: "ISO 10133:2012 4.1 and ISO 13297:2020 6.8, from memory, verify against the standard; common practice",
	Bad:    earthedFeeder + "earth E1 at locker\nbond PB.positive [1 m 16 mm2] E1\n",
	Good:   earthedFeeder + "earth E1 at locker\nbond PB.negative [1 m 16 mm2] E1\n",
}, func(p *pass) {
	for _, c := range p.System.Bonds {
		switch {
		case !c.Status.In(p.configuration):
		case !earthsLive(c):
			if (c.From.Pole == circuit.AllPoles) != (c.To.Pole == circuit.AllPoles) {
				p.ok(c.ID)
			}
		default:
			live, other := c.From, c.To
			if !livePole(live) {
				live, other = other, live
			}
			onto := "the case of " + called(other.Item)
			if other.Item.Kind == "earth" {
				onto = called(other.Item)
			}
			which := "negative"
			if live.Pole == circuit.Phase {
				which = "neutral"
			}
			within := ""
			if live.Pole == circuit.Negative {
				within = ", which lies within its string,"
			}
			p.fail(c.ID, diag.Finding{Message: fmt.Sprintf("the bond %s puts the %s of %s%s on %s", c.ID, live.Pole, called(live.Item), within, onto),
				Span: c.Span, Items: []string{live.Item.Ref, other.Item.Ref},
				Cure: fmt.Sprintf("take it out; of a system that is to be earthed the %s is bonded, once, and a case by `bond %s` without a pole", which, live.Item.Ref)})
		}
	}
	for _, c := range p.cables {
		for _, e := range [][2]circuit.End{{c.Of.From, c.Of.To}, {c.Of.To, c.Of.From}} {
			if e[0].Item != nil && e[0].Item.Kind == "earth" {
				from := endName(e[1])
				p.fail(c.Of.ID, diag.Finding{Message: fmt.Sprintf("the run %s takes both poles, or all cores, from %s to %s", c.Of.ID, from, called(e[0].Item)),
					Span: c.Of.Span, Items: []string{e[0].Item.Ref}, Cure: "write a `bond` for what is to be earthed: a case without a pole, a negative or a neutral with it"})
			}
		}
	}
}}

var poleOfAnother = Rule{diag.Info{Rule: "pole-of-another-system", Severity: diag.Fault,
	Title:  "a pole that the system does not have",
	Why:    "Direct current has a positive and a negative, alternating current phases and a neutral. A bond on a pole that is not there joins nothing, and no check counts it.",
	Source: "common practice",
	Bad:    earthedFeeder + "earth E1 at locker\nbond PB.negative [1 m 16 mm2] E1\nbond B1.neutral [1 m 16 mm2] E1\n",
	Good:   earthedFeeder + "earth E1 at locker\nbond PB.negative [1 m 16 mm2] E1\n",
}, func(p *pass) {
	for _, c := range p.System.Bonds {
		if !c.Status.In(p.configuration) {
			continue
		}
		for _, e := range []circuit.End{c.From, c.To} {
			if e.Item == nil || e.Pole == circuit.AllPoles {
				continue
			}
			mains := e.Pole == circuit.Phase || e.Pole == circuit.Neutral
			if d := onlyKind(e, !mains); d != nil {
				its, current := "a phase and a neutral", "alternating"
				if mains {
					its, current = "a positive and a negative", "direct"
				}
				p.fail(c.ID, diag.Finding{Message: fmt.Sprintf("the bond %s lands on the %s of %s, which has none: it lies in %s, of %s current", c.ID, e.Pole, called(e.Item), d.Name, current),
					Span: c.Span, Items: []string{e.Item.Ref}, Related: inDomain(d), Cure: fmt.Sprintf("name one of its own: %s", its)})
				continue
			}
			p.ok(c.ID)
		}
	}
}}

// onlyKind is a domain where an end lies if all of those where it can lie are of
// alternating current, or all of direct, as asked; else nil.
func onlyKind(e circuit.End, ac bool) *circuit.Domain {
	if d := domainAt(e); d != nil && e.Port != "" {
		if d.AC == ac {
			return d
		}
		return nil
	}
	domains := []*circuit.Domain{domainAt(e)}
	for _, p := range e.Item.Ports {
		if !circuit.IsControl(p.Name) {
			domains = append(domains, p.Domain)
		}
	}
	domains = slices.DeleteFunc(domains, func(d *circuit.Domain) bool { return d == nil })
	if len(domains) == 0 || slices.ContainsFunc(domains, func(d *circuit.Domain) bool { return d.AC != ac }) {
		return nil
	}
	return domains[0]
}

// joinsPoles tells a bond between two poles of which one may not be joined to
// the other.
func joinsPoles(c *circuit.Cable) bool {
	a, b := c.From, c.To
	return a.Item != nil && b.Item != nil && a.Pole != circuit.AllPoles && b.Pole != circuit.AllPoles &&
		(a.Pole != b.Pole || livePole(a) || livePole(b))
}

// earthsLive tells a bond from a live pole to an earth or to a case.
func earthsLive(c *circuit.Cable) bool {
	a, b := c.From, c.To
	return a.Item != nil && b.Item != nil && (livePole(a) && b.Pole == circuit.AllPoles || livePole(b) && a.Pole == circuit.AllPoles)
}

// livePole tells a pole that is not to be bonded: a positive, a phase, and the
// negative of a battery that stands in a string before another.
func livePole(e circuit.End) bool {
	if e.Pole != circuit.Negative {
		return e.Pole == circuit.Positive || e.Pole == circuit.Phase
	}
	for it := e.Item; it.MemberOf != nil; it = it.MemberOf {
		if b := it.MemberOf.Bank; b != nil && b.Series && b.Members[len(b.Members)-1] != it {
			return true
		}
	}
	return false
}

// domainAt is the domain where an end lies, of a bank's member the bank's; nil
// where that is not known.
func domainAt(e circuit.End) *circuit.Domain {
	if d := e.Item.PortDomain(e.Port); d != nil {
		return d
	}
	return powerDomain(e.Item.TopBank())
}
