package rule

// What is written of a thing against what its class, or its colour, says.

import (
	"fmt"
	"strings"

	"strake/lang/circuit"
	"strake/lang/diag"
	"strake/lang/table"
)

// Allowances of common practice.
const (
	mostVolts  = 2 // times what a class is made for, before a number is doubted
	mostBreaks = 5
)

var aboveItsClass = Rule{diag.Info{Rule: "above-its-class", Severity: diag.Advice,
	Title:  "a fuse of which more is written than its class is made for",
	Why:    "A slip of the pen in the voltage, or in what it breaks, hides the danger that the number is there to show. Read the marking on the link itself.",
	Source: "the classes' standards as listed in the tables, in part from memory",
	Bad:    strings.Replace(goodFeeder, "class t, 125 V, breaks 20 kA", "class blade, 32 V, breaks 20 kA", 1),
	Good:   goodFeeder,
}, func(p *pass) {
	p.items(func(it *circuit.Item) {
		f := it.Facts
		class, ok := table.Class(f.Class)
		if it.Kind != "fuse" || !ok {
			return
		}
		switch v, b := class.Value.Voltage, class.Value.Breaks; {
		case f.Voltage.Known() && v.Known && float64(f.Voltage.Value) > mostVolts*float64(v.Value):
			p.fail(it.Ref, diag.Finding{Message: fmt.Sprintf("%s is written for %s, and links of class %s are made for %s", called(it), f.Voltage.Value, f.Class, v.Value),
				Span: it.RefSpan, Cure: "read the marking on the link, and correct the voltage or the class"})
		case f.Breaks.Known() && b.Known && float64(f.Breaks.Value) > mostBreaks*float64(b.Value):
			p.fail(it.Ref, diag.Finding{Message: fmt.Sprintf("%s is written to break %s, and links of class %s break %s", called(it), f.Breaks.Value, f.Class, b.Value),
				Span: it.RefSpan, Cure: "read the marking on the link, and correct what it breaks or the class"})
		default:
			p.ok(it.Ref)
		}
	})
}}

var earthColour = Rule{diag.Info{Rule: "colour-of-earth", Severity: diag.Fault,
	Title:  "a live conductor in the colour of earth, or an earth in another",
	Why:    "Green, and green with yellow, mean protective earth to everybody who opens the cupboard. Somebody will join such a wire to the earth bar, or work on a live one.",
	Source: "IEC 60445, from memory, verify against the standard; ABYC E-11 colour table as printed",
	Bad:    strings.Replace(goodFeeder, "[2 m 25 mm2] pump", "[2 m 25 mm2 green-yellow] pump", 1),
	Good:   strings.Replace(goodFeeder, "[2 m 25 mm2] pump", "[2 m 25 mm2 red] pump", 1),
}, func(p *pass) {
	green := func(c *circuit.Cable) bool { return c.Colour == "green" || c.Colour == "green-yellow" }
	for _, c := range p.cables {
		switch {
		case c.Of.Protect && c.Of.Domain != nil && !c.Of.Domain.AC:
			p.failAs(diag.Advice, c.Of.ID, diag.Finding{Message: fmt.Sprintf("the cable %s has a protective conductor, and carries direct current", c.Of.ID), Span: c.Of.Span,
				Cure: "use a cable without one, such as `2X2.5`; the green and yellow core is never a pole"})
		case c.Of.Colour == "" || c.Of.Cores > 0: // a cable's sheath says nothing
		case green(c.Of):
			p.fail(c.Of.ID, diag.Finding{Message: fmt.Sprintf("the cable %s is %s, the colour of protective earth", c.Of.ID, c.Of.Colour), Span: c.Of.Span, Cure: "use another colour"})
		default:
			p.ok(c.Of.ID)
		}
	}
	for _, c := range p.Bonds {
		if c.Colour == "" || green(c) || c.From.Pole != circuit.AllPoles || c.To.Pole != circuit.AllPoles {
			continue
		}
		p.failAs(diag.Advice, c.ID, diag.Finding{Message: fmt.Sprintf("the bond %s is %s; a protective conductor is green with yellow", c.ID, c.Colour), Span: c.Span, Cure: "use green with yellow"})
	}
}}
