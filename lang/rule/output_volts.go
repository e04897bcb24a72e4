package rule

// The voltage to which a source charges, against the range of what it feeds.

import (
	"fmt"
	"math"

	"strake/lang/circuit"
	"strake/lang/diag"
	"strake/lang/quantity"
)

var outputVoltage = Rule{diag.Info{Rule: "output-voltage", Severity: diag.Fault,
	Title:  "an output set above the highest voltage of its domain, or too low to charge",
	Why:    "Every device is held against the domain's highest voltage, and its batteries stand no more: a charger that is set above it overcharges them, which with lithium is a danger. One that is set below the voltage at which its battery rests never charges it. A voltage by which systems go, such as 12 V or 48 V, is taken for the name of the system and not for what the output is set to.",
	Source: "common practice",
	Bad:    twoDomains + "run PB [link] fuse F2 at locker: class t, 125 V, breaks 20 kA, 40 A [1 m 10 mm2] converter CH1 at locker: 30 V, 10 A, isolated, one way [0.3 m 4 mm2] pump P1 in winch at locker: 100 W\n",
	Good:   twoDomains + "run PB [link] fuse F2 at locker: class t, 125 V, breaks 20 kA, 40 A [1 m 10 mm2] converter CH1 at locker: 28 V, 10 A, isolated, one way [0.3 m 4 mm2] pump P1 in winch at locker: 100 W\n",
}, func(p *pass) {
	p.items(func(it *circuit.Item) {
		at, n := circuit.Terminal{Item: it}, it.Nature()
		switch {
		case n.Converts && n.Ends == circuit.TwoEnds:
			at.Port = "out"
		case it.Kind != "alternator" && it.Kind != "generator" && it.Kind != "source":
			return
		}
		d, set := it.PortDomain(at.Port), it.Facts.Voltage
		if d == nil || d.AC || !set.Known() || !d.Nominal.Known() || !alike(set.Value, d.Nominal.Value) || nameOfSystem(set.Value, d) {
			return // far off it is told as of another domain
		}
		reached := []circuit.Terminal{at}
		fail := func(severity diag.Severity, battery *circuit.Item, gives quantity.Volt, said, cure string) {
			f := diag.Finding{Message: fmt.Sprintf("%s gives %s, and %s", called(it), gives, said), Span: it.RefSpan, Related: inDomain(d), Cure: cure}
			if battery != nil {
				f.Items, f.Related = []string{battery.Ref}, p.where([]*circuit.Item{battery})
			}
			p.failAs(severity, it.Ref, f)
		}
		lithium, lead := p.charged(reached, true), p.charged(reached, false)
		if top, ok := p.highest(d); ok && set.Most() > top {
			if lithium != nil {
				fail(diag.Danger, lithium, set.Most(), fmt.Sprintf("%s, with lithium in it, is written up to %s", d.Name, top), fmt.Sprintf("set it to at most %s and write what it is set to", top))
				return
			}
			fail(diag.Fault, lead, set.Most(), fmt.Sprintf("%s is written up to %s", d.Name, top), fmt.Sprintf("set it to at most %s, or correct the domain where what lies in it stands more", top))
			return
		}
		for _, battery := range []*circuit.Item{lithium, lead} {
			if battery == nil {
				continue
			}
			if rests, ok := bankVolts(battery); ok && set.Least() < rests && alike(set.Value, rests) {
				fail(diag.Fault, battery, set.Least(), fmt.Sprintf("%s rests at %s or more: it is never charged", called(battery), rests), "set it to the voltage of a charge and write that, or fit one for this battery")
				return
			}
		}
		if low := d.Lowest; low.Known() && set.Least() < low.Value {
			fail(diag.Fault, nil, set.Least(), fmt.Sprintf("%s is written down to %s", d.Name, low.Value), "set it higher, or correct the domain")
			return
		}
		p.ok(it.Ref)
	})
}}

// nameOfSystem tells a voltage by which a system goes rather than one that an output
// is set to: that by which its domain goes, or a whole number of lead batteries of
// 12 V within the domain's range.
func nameOfSystem(v quantity.Volt, d *circuit.Domain) bool {
	blocks := float64(v) / 12
	within := (!d.Lowest.Known() || v >= d.Lowest.Value) && (!d.Highest.Known() || v <= d.Highest.Value)
	return v == d.Nominal.Value || within && blocks == math.Round(blocks) && float64(v) >= 0.9*float64(d.Nominal.Value)
}
