package rule

// What was measured aboard, against what it should be.

import (
	"fmt"

	"strake/lang/circuit"
	"strake/lang/diag"
	"strake/lang/quantity"
)

// How far a drop that was measured may lie from the sum of the conductors alone:
// a fifth, and what joints and the meter make (common practice).
const (
	readingSpread = 1.2
	readingSlack  = quantity.Volt(0.05)
	readingShort  = 0.5 // below it the cable is not the one that is written
)

// The least that an insulation test may find, and the longest that a residual
// device may take at its rated current and at five times it (IEC 60364-6 and IEC
// 61008-1, from memory, verify against the standards; the low one of insulation, and
// that of a bond, are common practice).
const (
	leastInsulation     = quantity.Ohm(1e6)
	leastInsulationLow  = quantity.Ohm(0.1e6) // of direct current up to 60 V, to the hull
	mostContinuity      = quantity.Ohm(1)
	residualOpens       = quantity.Second(0.3)
	residualOpensAtFive = quantity.Second(0.04)
)

var readingDisagrees = Rule{diag.Info{Rule: "reading-disagrees", Severity: diag.Fault,
	Title:  "a measured value that is not what it should be",
	Why:    "A drop far above that of the conductors is a bad joint, which gets hot where nobody looks; one far below it is another cable than the one that is written. An insulation that has gone, a residual device that is slow, a wrong polarity, a function test that failed: whoever wrote the value down found a defect, and the rest of the text does not show it.",
	Source: "IEC 60364-6 table 6.1 and 61.3, times of IEC 61008-1, from memory, verify against the standards; a fifth about the computed drop, 0.1 Mohm and 1 ohm: common practice",
	Bad:    goodFeeder + "measured Q1-P1: drop 2 V at 5 A by \"JM\" dated 2026-11-18\n",
	Good:   goodFeeder + "measured Q1-P1: drop 0.02 V at 5 A by \"JM\" dated 2026-11-18\n",
}, func(p *pass) {
	for i := range p.Readings {
		m := &p.Readings[i]
		if !m.Judged() || m.Cable != nil && !m.Cable.Status.In(p.configuration) || m.Item != nil && !m.Item.Status.In(p.configuration) {
			continue
		}
		name, on, d := readAt(m)
		say := func(severity diag.Severity, cure, message string, args ...any) {
			p.failAs(severity, name, diag.Finding{Message: fmt.Sprintf("%s %s was measured: ", m.What, m.Value) + fmt.Sprintf(message, args...), Span: m.Span, Related: on, Cure: cure})
		}
		value := func(i int) float64 {
			if i < len(m.Numbers) {
				return float64(m.Numbers[i].Value)
			}
			return 0
		}
		switch m.What {
		case "drop":
			p.dropRead(m, name, quantity.Volt(value(0)), quantity.Ampere(value(1)), say)
		case "polarity":
			if m.Word == "wrong" {
				say(diag.Danger, "change the conductors over, and measure again", "%s is wired the wrong way round", name)
				continue
			}
			p.ok(name)
		case "function":
			if m.Word == "wrong" {
				say(diag.Fault, "find out why, and test it again", "%s does not do what it is for", name)
				continue
			}
			p.ok(name)
		case "insulation":
			least := leastInsulation
			if top, known := p.highest(d); d != nil && !d.AC && known && top <= lowVolts {
				least = leastInsulationLow
			}
			if found := quantity.Ohm(value(0)); found < least {
				say(diag.Fault, "look for the leak: part by part, with the rest disconnected", "%s is the least for %s", least, name)
				continue
			}
			p.ok(name)
		case "continuity":
			if quantity.Ohm(value(0)) > mostContinuity {
				say(diag.Fault, "clean and tighten its joints, and measure again", "%s is the most that a bond or a protective conductor may have", mostContinuity)
				continue
			}
			p.ok(name)
		case "trip":
			p.tripRead(m, name, quantity.Second(value(0)), quantity.Ampere(value(1)), say)
		}
	}
}}

// dropRead holds a measured drop against that of the cable's conductors.
func (p *pass) dropRead(m *circuit.Reading, name string, volts quantity.Volt, amps quantity.Ampere, say func(diag.Severity, string, string, ...any)) {
	c := p.cableOf[m.Cable]
	switch {
	case c == nil || c.Of.Link:
		return
	case amps <= 0:
		p.unverified(name, diag.Finding{Span: m.Span, Missing: "the current at which the drop of " + name + " was measured", Cure: "write it, as in `drop 0.4 V at 200 A`"})
		return
	case !c.Resistance.Known:
		p.unverified(name, diag.Finding{Span: m.Span, Missing: p.unknownOf(c)})
		return
	}
	made := quantity.Volt(float64(c.Resistance.Value) * float64(amps))
	switch {
	case float64(volts) > readingSpread*float64(made)+float64(readingSlack):
		say(diag.Fault, "look for a bad joint, a longer way or a thinner cable than written; feel for heat under load", "the conductors of %s lose %s at %s", name, made, amps)
	case float64(volts) < readingShort*float64(made)-float64(readingSlack):
		say(diag.Advice, "measure the length and read the section off the cable", "the conductors of %s lose %s at %s; it is shorter or thicker than written", name, made, amps)
	default:
		p.ok(name)
	}
}

// tripRead holds the time in which a residual device opened against the most that
// it may take at that current.
func (p *pass) tripRead(m *circuit.Reading, name string, took quantity.Second, at quantity.Ampere, say func(diag.Severity, string, string, ...any)) {
	if m.Item == nil || !m.Item.Nature().Residual || !m.Item.Facts.Trip.Known() {
		return
	}
	rated := m.Item.Facts.Trip.Value
	most := residualOpens
	if float64(at) >= 5*float64(rated)*(1-1e-9) {
		most = residualOpensAtFive
	}
	switch {
	case at > 0 && float64(at) < float64(rated)*(1-1e-9):
		say(diag.Advice, "measure it at its rated current and at five times it", "below %s it need not open at all", rated)
	case took > most:
		say(diag.Danger, "replace it", "%s is the most at that current", most)
	default:
		p.ok(name)
	}
}

// readAt is what a reading was taken on: its name, where it is written, its domain.
func readAt(m *circuit.Reading) (string, []diag.Related, *circuit.Domain) {
	if m.Cable != nil {
		return m.Cable.ID, []diag.Related{{Span: m.Cable.Span, Message: "the cable " + m.Cable.ID}}, m.Cable.Domain
	}
	return m.Item.Ref, []diag.Related{{Span: m.Item.RefSpan, Message: called(m.Item)}}, powerDomain(m.Item)
}
