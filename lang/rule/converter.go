package rule

// What goes into a converter against what is to come out of it.

import (
	"fmt"

	"strake/lang/circuit"
	"strake/lang/diag"
	"strake/lang/quantity"
)

var inputBelowOutput = Rule{diag.Info{Rule: "input-below-output", Severity: diag.Fault,
	Title:  "a converter whose input cannot give what its output is rated for",
	Why:    "What comes out has gone in, and a little more. Where the stated input current is too small for the output, one of the two numbers is wrong, and the feeder is sized for the wrong one. At the lowest volts the input takes most.",
	Source: "common practice",
	Bad:    twoDomains + "run PB [link] fuse F2 at locker: class t, 125 V, breaks 20 kA, 40 A [1 m 10 mm2] converter CH1 at locker: 24 V, 10 A, input 5 A, isolated [0.3 m 4 mm2] pump P1 in winch at locker: 100 W\n",
	Good:   twoDomains + "run PB [link] fuse F2 at locker: class t, 125 V, breaks 20 kA, 40 A [1 m 10 mm2] converter CH1 at locker: 24 V, 10 A, input 25 A, isolated [0.3 m 4 mm2] pump P1 in winch at locker: 100 W\n",
}, func(p *pass) {
	p.items(func(it *circuit.Item) {
		f := it.Facts
		port := "in"
		if it.Kind == "inverter-charger" {
			port = "dc"
		}
		in := it.PortOnly(port)
		out, what, known := p.givenBy(it)
		if !it.Nature().Converts || it.Kind == "regulator" || !f.Input.Known() || !known || in == nil || in.Phases > 1 {
			return
		}
		efficiency := 1.0
		if f.Efficiency.Known() && f.Efficiency.Value > 0 {
			efficiency = min(1, float64(f.Efficiency.Least()))
		}
		high, ok := p.highest(in)
		low := in.Lowest.Opt()
		if in.AC || !low.Known {
			low = in.Nominal.Opt()
		}
		if !ok || !low.Known || low.Value <= 0 {
			return
		}
		needs := quantity.Ampere(out / efficiency / float64(low.Value))
		most := float64(f.Input.Value) * efficiency * float64(high)
		severity := diag.Fault
		switch {
		case !below(f.Input.Value, needs):
			p.ok(it.Ref)
			return
		case most >= out: // at high volts it does
			severity = diag.Advice
		}
		p.failAs(severity, it.Ref, diag.Finding{
			Message: fmt.Sprintf("%s takes %s at its input, and for its %s it needs %s at %s", called(it), f.Input.Value, what, needs, low.Value),
			Span:    it.RefSpan, Cure: "read both numbers on its plate; write the input current that it takes at full output and the lowest volts"})
	})
}}

// givenBy is the power that the output of what converts is rated for, and how
// the text says it.
func (p *pass) givenBy(it *circuit.Item) (watts float64, what string, known bool) {
	f, d := it.Facts, it.PortDomain("out")
	amps, charges := chargeCurrent(it)
	volt := f.Voltage
	if !volt.Known() && d != nil {
		volt = d.Nominal
	}
	switch {
	case f.Power.Known():
		return float64(f.Power.Value), f.Power.Value.String(), true
	case f.Apparent.Known() && it.Kind != "transformer":
		return float64(f.Apparent.Value), f.Apparent.Value.String(), true
	case charges && volt.Known() && it.Kind != "inverter-charger" && (d == nil || d.Phases < 2):
		return float64(amps) * float64(volt.Value), fmt.Sprintf("%s at %s", amps, volt.Value), true
	}
	return 0, "", false
}
