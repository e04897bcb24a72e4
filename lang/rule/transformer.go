package rule

// Transformers, galvanic isolators and what protects them.

import (
	"fmt"
	"strings"

	"strake/lang/circuit"
	"strake/lang/diag"
	"strake/lang/quantity"
	"strake/lang/table"
)

const (
	primaryShare = 1.25 // of a transformer's primary current, for the device before it (NEC 450.3, from memory)
	inrush       = 10   // times its rated current, for a moment, when it is switched on (common practice)
)

var primaryDevice = Rule{diag.Info{Rule: "transformer-device-too-large", Severity: diag.Fault,
	Title:  "a device before a transformer that is too large for it",
	Why:    "A winding that is overloaded by half heats slowly, and no fuse of its own opens. The device before the primary is at most 125 % of its current; twice that where the first devices behind the secondary hold 125 %.",
	Source: "ABYC E-11 and NEC 450.3, from memory, verify against the standard",
	Bad:    primary("rcbo R1 at locker: 40 A, 30 mA, 2 pole, curve d, type a, breaks 6 kA"),
	Good:   primary("rcbo R1 at locker: 16 A, 30 mA, 2 pole, curve d, type a, breaks 6 kA"),
}, func(p *pass) {
	p.transformers(func(it, dev *circuit.Item, rating, rated quantity.Ampere) {
		most := primaryShare * float64(rated)
		if p.guardedBehind(it) {
			most *= 2
		}
		switch {
		case float64(rating) > most*(1+1e-9):
			p.fail(it.Ref, diag.Finding{Message: fmt.Sprintf("%s takes %s at its rating, and %s before it is %s; %s is the most", called(it), rated, dev.Ref, rating, quantity.Ampere(most)),
				Span: dev.RefSpan, Items: []string{dev.Ref}, Related: p.where([]*circuit.Item{it}), Cure: "fit a smaller device"})
		default:
			p.ok(it.Ref)
		}
	})
}}

var primaryInrush = Rule{diag.Info{Rule: "transformer-inrush", Severity: diag.Advice,
	Title:  "a breaker that may open when a transformer is switched on",
	Why:    "For a moment an unloaded transformer draws ten times its current or more. A breaker of curve B or C before it then opens now and then, and nobody finds a fault.",
	Source: "common practice: ten times the rated current",
	Bad:    primary("rcbo R1 at locker: 16 A, 30 mA, 2 pole, curve b, type a, breaks 6 kA"),
	Good:   primary("rcbo R1 at locker: 16 A, 30 mA, 2 pole, curve d, type a, breaks 6 kA"),
}, func(p *pass) {
	p.transformers(func(it, dev *circuit.Item, rating, rated quantity.Ampere) {
		least, _, ok := table.Instant(dev.Facts.Curve)
		if !ok {
			return // a fuse, or a curve that is not written: its own rules ask
		}
		if float64(rated)*inrush > least*float64(rating)*(1+1e-9) {
			p.fail(it.Ref, diag.Finding{Message: fmt.Sprintf("%s draws about %s when it is switched on, and %s of %s, curve %s, may open at once from %s",
				called(it), quantity.Ampere(inrush*float64(rated)), dev.Ref, rating, dev.Facts.Curve, quantity.Ampere(least*float64(rating))),
				Span: dev.RefSpan, Items: []string{dev.Ref}, Related: p.where([]*circuit.Item{it}), Cure: inrushCure(dev)})
			return
		}
		p.ok(it.Ref)
	})
}}

// inrushCure is what helps against an inrush: a curve that a breaker has already does
// not.
func inrushCure(dev *circuit.Item) string {
	if dev.Facts.Curve == "d" {
		return "fit a transformer with a soft start, or a delay that switches it on through a resistor"
	}
	return "fit one of curve d, or a transformer with a soft start"
}

// guardedBehind tells whether the devices behind a transformer's secondary let no
// more than 125 % of its rating through.
func (p *pass) guardedBehind(it *circuit.Item) bool {
	out := circuit.Terminal{Item: it, Port: "out"}
	d := it.PortDomain("out")
	devices, sum := p.chainDevices(out), quantity.Ampere(0)
	for _, dev := range devices {
		r, ok := p.rating(dev)
		if !ok {
			return false
		}
		sum += r
	}
	return len(devices) > 0 && d != nil && d.Nominal.Known() && float64(sum)*float64(d.Nominal.Value) <= primaryShare*float64(it.Facts.Apparent.Least())*(1+1e-9)
}

// transformers calls f for each transformer with the device before it, the
// device's rating and the transformer's primary current.
func (p *pass) transformers(f func(it, dev *circuit.Item, rating, rated quantity.Ampere)) {
	p.items(func(it *circuit.Item) {
		d := it.PortDomain("in")
		if it.Kind != "transformer" || d == nil || !d.AC || !d.Nominal.Known() || d.Nominal.Value <= 0 || d.Phases == 3 || !it.Facts.Apparent.Known() {
			return
		}
		rated := quantity.Ampere(float64(it.Facts.Apparent.Least()) / float64(d.Nominal.Value))
		for _, dev := range p.lastDevices(circuit.Terminal{Item: it, Port: "in"}) {
			if rating, ok := p.rating(dev); ok {
				f(it, dev, rating, rated)
			}
		}
	})
}

// primary is a shore supply through a device and a transformer to one socket.
func primary(device string) string { return transforming(device, "25 A") }

var galvanicTooSmall = Rule{diag.Info{Rule: "galvanic-isolator-too-small", Severity: diag.Danger,
	Title:  "a galvanic isolator rated below the supply that it stands in",
	Why:    "It stands in the protective conductor: in a fault all the current goes through it. One that burns out leaves the craft without an earth.",
	Source: "ISO 13297:2020 6.9",
	Bad:    isolating("10 A"),
	Good:   isolating("16 A"),
}, func(p *pass) {
	p.items(func(it *circuit.Item) {
		if it.Kind != "galvanic-isolator" {
			return
		}
		var most quantity.Ampere
		for _, t := range terminals(it) {
			for _, s := range p.net.Supplies(t, p.view) {
				if s.Item.Kind == "inlet" && s.Item.Facts.Current.Known() {
					most = max(most, s.Item.Facts.Current.Most())
				}
			}
		}
		rating, ok := p.rating(it)
		switch {
		case most == 0:
		case !ok:
			p.unverified(it.Ref, diag.Finding{Span: it.RefSpan, Missing: "the rated current of " + it.Ref})
		case below(rating, most):
			p.fail(it.Ref, diag.Finding{Message: fmt.Sprintf("%s is rated %s in a supply of %s", called(it), rating, most),
				Span: it.RefSpan, Cure: fmt.Sprintf("fit one of %s or more that stays closed when it fails", most)})
		default:
			p.ok(it.Ref)
		}
	})
}}

// isolating is shore power with a galvanic isolator of some rating.
func isolating(rating string) string {
	return strings.Replace(mains("rcbo R1 at locker: 16 A, 30 mA, 2 pole, type a [0.2 m 3G2.5] galvanic-isolator GI1 at locker: "+rating), "bond SH1 [", "bond X1 [", 1)
}
