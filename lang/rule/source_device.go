package rule

// A generator or an inverter against the device behind it.

import (
	"fmt"

	"strake/lang/circuit"
	"strake/lang/diag"
	"strake/lang/quantity"
)

// sourceMargin is how far a device behind a source of mains may lie above what that
// gives: the next rating that is made (common practice).
const sourceMargin = 1.25

var sourceBelowDevice = Rule{diag.Info{Rule: "device-above-source", Severity: diag.Fault,
	Title:  "a generator or an inverter that gives less than the device behind it passes",
	Why:    "The device never opens for an overload: a generator is overloaded until its windings burn or its engine stalls, where it has no device of its own. An inverter limits itself and switches off, and all that hangs on it: that is worth a look.",
	Source: "IEC 60364-5-55 551, from memory, verify against the standard; common practice",
	Bad:    generated("1.5 kVA"),
	Good:   generated("3.6 kVA"),
}, func(p *pass) {
	for _, s := range p.acSources() {
		it, d, f := s.item, s.item.PortDomain(s.port), s.item.Facts
		if it.Kind != "generator" && it.Kind != "inverter" || !d.Nominal.Known() || d.Nominal.Value <= 0 || d.Phases > 1 {
			continue
		}
		gives := f.Current.Least()
		switch {
		case f.Current.Known():
		case f.Apparent.Known():
			gives = quantity.Ampere(float64(f.Apparent.Least()) / float64(d.Nominal.Value))
		case f.Power.Known():
			gives = quantity.Ampere(float64(f.Power.Least()) / float64(d.Nominal.Value))
		default:
			continue
		}
		for _, dev := range p.chainDevices(s.terminal()) {
			r, ok := p.rating(dev)
			switch {
			case !ok:
			case !below(sourceMargin*gives, r):
				p.ok(it.Ref)
			default:
				severity := diag.Fault
				if it.Kind == "inverter" {
					severity = diag.Advice
				}
				p.failAs(severity, it.Ref, diag.Finding{Message: fmt.Sprintf("%s gives %s, and the device behind it, %s, is %s: it never opens for an overload", called(it), gives, dev.Ref, r),
					Span: dev.RefSpan, Items: []string{dev.Ref}, Related: p.where([]*circuit.Item{it}), Cure: fmt.Sprintf("fit a device of at most %s, the next rating above what it gives", sourceMargin*gives)})
			}
		}
	}
}}

// generated is a generator of some power with a socket.
func generated(power string) string {
	return `craft "Small boat" {
    cable class 5, tinned, 105 degC, free
}
domain mains: ac 230 V, 50 Hz
place locker "Locker": 40 degC
run generator G1 in mains at locker: ` + power + `, neutral earthed [0.4 m 3G2.5] rcbo R1 at locker: 16 A, 30 mA, 2 pole, type a, curve c, breaks 6 kA [3 m 3G2.5] socket X1 at locker: 500 W
earth E1 at locker
bond G1 [1 m 6 mm2] E1
`
}
