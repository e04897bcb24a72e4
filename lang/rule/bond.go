package rule

// The conductors of bonds: thick enough for the fault that they lead away.

import (
	"fmt"

	"strake/lang/circuit"
	"strake/lang/diag"
)

var bondTooThin = Rule{diag.Info{Rule: "bond-too-thin", Severity: diag.Danger,
	Title:  "a bond thinner than the fault that it must lead away asks for",
	Why:    "A fault to a case, or from a pole to earth, runs through the bond until a device opens. A bond that melts first leaves the case live. It is held against the largest live conductor on what it bonds: as thick up to 16 mm2, 16 mm2 up to 35 mm2, half beyond; 4 mm2 at least; less than that where what the device lets through is known and asks for less. Cables of DC count only where the negative is to be earthed: elsewhere no fault of theirs runs through a bond.",
	Source: "IEC 60364-5-54 table 54.2, 543.1.2 and 543.1.3, from memory, verify against the standard",
	Bad:    steelMains + "earth E1 at locker\nbond T1 [1 m 1.5 mm2] E1\n",
	Good:   steelMains + "earth E1 at locker\nbond T1 [1 m 6 mm2] E1\n",
}, func(p *pass) {
	for i := range p.bonds {
		b := &p.bonds[i]
		c := b.Of
		if c.Link {
			continue
		}
		severity := diag.Danger
		if c.From.Pole != circuit.AllPoles || c.To.Pole != circuit.AllPoles {
			severity = diag.Fault // its first fault is to an earthed pole: a device opens, or the bond does
		}
		switch {
		case !b.Area.Known:
			p.unverified(c.ID, diag.Finding{Span: c.Span, Missing: "the size of the bond " + c.ID})
		case float64(b.Area.Value) >= float64(b.Least)*(1-1e-9):
			p.ok(c.ID)
		default:
			against := "the least of a bond without a cover"
			switch {
			case b.ByHeat:
				against = fmt.Sprintf("what the device of the cable %s lets through asks for", b.Beside.ID)
			case b.Beside != nil:
				against = fmt.Sprintf("the least beside the cable %s of %s", b.Beside.ID, b.Live)
			}
			p.failAs(severity, c.ID, diag.Finding{Message: fmt.Sprintf("the bond %s is %s; %s is %s", c.ID, b.Area.Value, b.Least, against),
				Span: c.Span, Cure: fmt.Sprintf("use %s or more", b.Least)})
		}
	}
}}
