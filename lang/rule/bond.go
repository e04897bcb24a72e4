package rule

// The conductors of bonds: thick enough for the fault that they lead away.

import (
	"fmt"

	"strake/lang/circuit"
	"strake/lang/diag"
	"strake/lang/quantity"
	"strake/lang/table"
)

// leastBond is the least section of a bond of its own without a cover.
const leastBond = quantity.SquareMM(4)

var bondTooThin = Rule{diag.Info{Rule: "bond-too-thin", Severity: diag.Danger,
	Title:  "a bond thinner than the fault that it must lead away asks for",
	Why:    "A fault to a case, or from a pole to earth, runs through the bond until a device opens. A bond that melts first leaves the case live. It is held against the largest live conductor on what it bonds: as thick up to 16 mm2, 16 mm2 up to 35 mm2, half beyond; 4 mm2 at least. Cables of DC count only where the negative is to be earthed: elsewhere no fault of theirs runs through a bond.",
	Source: "IEC 60364-5-54 table 54.2 and 543.1.3, from memory, verify against the standard",
	Bad:    steelMains + "earth E1 at locker\nbond T1 [1 m 1.5 mm2] E1\n",
	Good:   steelMains + "earth E1 at locker\nbond T1 [1 m 6 mm2] E1\n",
}, func(p *pass) {
	for _, c := range p.Bonds {
		if !c.Status.In(p.configuration) || c.Link {
			continue
		}
		live, of := p.largestLive(c)
		least := max(leastBond, table.ProtectiveConductor(live))
		area := c.Area.Value * quantity.SquareMM(max(1, c.Parallel))
		severity := diag.Danger
		if c.From.Pole != circuit.AllPoles || c.To.Pole != circuit.AllPoles {
			severity = diag.Fault // its first fault is to an earthed pole: a device opens, or the bond does
		}
		switch {
		case !c.Area.Known():
			p.unverified(c.ID, diag.Finding{Span: c.Span, Missing: "the size of the bond " + c.ID})
		case float64(area) >= float64(least)*(1-1e-9):
			p.ok(c.ID)
		default:
			against := "the least of a bond without a cover"
			if of != nil {
				against = fmt.Sprintf("the least beside the cable %s of %s", of.ID, live)
			}
			p.failAs(severity, c.ID, diag.Finding{Message: fmt.Sprintf("the bond %s is %s; %s is %s", c.ID, area, least, against),
				Span: c.Span, Cure: fmt.Sprintf("use %s or more", least)})
		}
	}
}}

// largestLive is the thickest live conductor on what a bond joins to earth, and
// its cable.
func (p *pass) largestLive(bond *circuit.Cable) (most quantity.SquareMM, of *circuit.Cable) {
	for _, c := range p.cables {
		d := c.Of.Domain
		if c.Of.Link || !c.Area.Known || d == nil || !d.AC && !d.EarthedNegative {
			continue
		}
		for _, e := range []circuit.End{bond.From, bond.To} {
			if e.Item == nil || e.Item != c.Of.From.Item && e.Item != c.Of.To.Item {
				continue
			}
			if area := c.Area.Value * quantity.SquareMM(max(1, c.Parallel)); area > most {
				most, of = area, c.Of
			}
		}
	}
	if most <= leastBond {
		return most, nil
	}
	return most, of
}
