package rule

// Numbers of one thing that cannot both be right.

import (
	"fmt"

	"strake/lang/circuit"
	"strake/lang/diag"
	"strake/lang/quantity"
)

// mostApart is how far a power may be from its current times its voltage:
// efficiency, power factor and the swing of a battery's voltage lie within (common
// practice).
const mostApart = 1.6

var numbersDisagree = Rule{diag.Info{Rule: "numbers-disagree", Severity: diag.Fault,
	Title:  "two numbers of one thing that cannot both be right",
	Why:    "The smaller of the two decides its cable and its fuse: where one of them is a slip of the pen, that is too little. An array gives no more than its open voltage times its short-circuit current, and a battery sends into a short circuit what its resistance lets through: of its two numbers the worse is taken for every check, unless one is corrected.",
	Source: "common practice",
	Bad:    goodFeederOnBar + "run PB [2 m 25 mm2] load L1 at locker: 600 W, 5 A\n",
	Good:   goodFeederOnBar + "run PB [2 m 25 mm2] load L1 at locker: 60 W, 5 A\n",
}, func(p *pass) {
	p.items(func(it *circuit.Item) {
		f, n := it.Facts, it.Nature()
		if it.Kind == "array" {
			p.arrayDisagrees(it)
			return
		}
		if n.Stores {
			p.batteryDisagrees(it)
			return
		}
		d := powerDomain(it)
		if n.Converts {
			d = it.PortDomain("out")
		}
		if !n.Load && !n.Converts && !n.Source || d == nil || !d.Nominal.Known() || d.Phases > 1 || !f.Power.Known() || !f.Current.Known() {
			return
		}
		volt := d.Nominal.Value
		if n.Converts && f.Voltage.Known() {
			volt = f.Voltage.Value
		}
		watts := quantity.Watt(float64(f.Current.Value) * float64(volt))
		if most, least := max(watts, f.Power.Value), min(watts, f.Power.Value); float64(most) <= mostApart*float64(least) {
			p.ok(it.Ref)
			return
		}
		p.fail(it.Ref, diag.Finding{Message: fmt.Sprintf("%s is %s and %s; at %s that current is %s", called(it), f.Power.Value, f.Current.Value, volt, watts),
			Span: it.RefSpan, Cure: "read its plate and correct the one that is wrong"})
	})
}}

// arrayDisagrees holds an array's watts against the most that its modules' open
// voltage and short-circuit current allow.
func (p *pass) arrayDisagrees(it *circuit.Item) {
	f := it.Facts
	if !f.Power.Known() || !f.Voc.Known() || !f.Isc.Known() {
		return
	}
	most := quantity.Watt(float64(f.Voc.Value) * float64(f.Isc.Value))
	if f.Power.Value < most && float64(f.Power.Value) > 0.5*float64(most) { // a fill factor of 0.7 to 0.85 is usual
		p.ok(it.Ref)
		return
	}
	p.fail(it.Ref, diag.Finding{Message: fmt.Sprintf("one module of %s gives %s, and its voc of %s and isc of %s make %s", called(it), f.Power.Value, f.Voc.Value, f.Isc.Value, most),
		Span: it.RefSpan, Cure: "read the module's plate: the power is 0.7 to 0.85 of voc times isc"})
}

// batteryDisagrees holds a battery's declared short-circuit current against its
// resistance. A pack that limits what it gives may declare less, which is worth a
// look; more is not to be had.
func (p *pass) batteryDisagrees(it *circuit.Item) {
	f := it.Facts
	v, ok := bankVolts(it)
	if !f.Resistance.Known() || f.Resistance.Value <= 0 || !f.ShortCircuit.Known() || !ok {
		return
	}
	most := quantity.Ampere(float64(v) / float64(f.Resistance.Value))
	severity := diag.Fault
	switch declared := f.ShortCircuit.Value; {
	case float64(declared) > disagrees*float64(most):
	case float64(most) > disagrees*float64(declared):
		severity = diag.Advice
	default:
		p.ok(it.Ref)
		return
	}
	p.failAs(severity, it.Ref, diag.Finding{Message: fmt.Sprintf("%s of %s sends %s into a short circuit, as is written, and its resistance of %s lets %s through", called(it), v, f.ShortCircuit.Value, f.Resistance.Value, most),
		Span: it.RefSpan, Cure: "read its maker's sheet and correct the one that is wrong; the worse of both is taken"})
}

// disagrees is how many times one of two numbers of a fault current may be the other.
const disagrees = 1.2
