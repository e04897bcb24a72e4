package rule

// What a transformer draws when it is switched on.

import (
	"fmt"

	"strake/lang/circuit"
	"strake/lang/diag"
	"strake/lang/quantity"
	"strake/lang/table"
)

// inrush is how many times its rated current a transformer draws for a moment when
// it is switched on.
const inrush = 10

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
				Span: dev.RefSpan, Items: []string{dev.Ref}, Related: p.where([]*circuit.Item{it}), Cure: "fit one of curve d, or a transformer with a soft start"})
			return
		}
		p.ok(it.Ref)
	})
}}

// transformers calls f for each transformer with the device before it, the
// device's rating and the transformer's primary current.
func (p *pass) transformers(f func(it, dev *circuit.Item, rating, rated quantity.Ampere)) {
	p.items(func(it *circuit.Item) {
		d := it.PortDomain("in")
		if it.Kind != "transformer" || d == nil || !d.AC || !d.Nominal.Known() || d.Nominal.Value <= 0 || d.Phases == 3 || !it.Facts.Apparent.Known() {
			return
		}
		rated := quantity.Ampere(float64(it.Facts.Apparent.Value) / float64(d.Nominal.Value))
		for _, dev := range p.lastDevices(circuit.Terminal{Item: it, Port: "in"}) {
			if rating, ok := p.rating(dev); ok {
				f(it, dev, rating, rated)
			}
		}
	})
}

// primary is a shore supply through a device and a transformer to one socket.
func primary(device string) string { return transforming(device, "25 A") }
