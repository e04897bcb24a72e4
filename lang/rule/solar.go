package rule

// Solar: cold open-circuit voltage, string fuses, isolators, regulators.

import (
	"fmt"

	"strake/lang/circuit"
	"strake/lang/diag"
	"strake/lang/quantity"
	"strake/lang/size"
	"strake/lang/table"
)

// coldVolts is the open-circuit voltage of an array's string at the coldest, or
// what is missing for it.
func (p *pass) coldVolts(it *circuit.Item) (quantity.Volt, string) {
	switch {
	case !it.Facts.Voc.Known():
		return 0, "the `voc` of one module of " + it.Ref
	case !p.Craft.Coldest.Known():
		return 0, "the coldest air, `coldest -10 degC` in the craft"
	}
	if open := size.OpenVolts(it, p.Craft.Coldest.Least()); open.Known {
		return open.Value, ""
	}
	return 0, "how the `voc` of " + it.Ref + " changes with temperature, such as `voc -0.27 %/K`"
}

// aim is the share of what a regulator stands up to which an array's cold voltage is
// comfortable (common practice).
const aim = 0.95

var arrayTooCold = Rule{diag.Info{Rule: "array-voltage-too-high", Severity: diag.Danger,
	Title:  "an array whose cold voltage is above what stands behind it",
	Why:    "Modules give more volts as they cool. On a clear frosty morning the string destroys a regulator, or arcs in a switch, that is rated for less.",
	Source: "IEC 62548 and IEC 60364-7-712, from memory; the rule as printed in trade press, 2009",
	Bad:    solar("40 V", "200 W"),
	Good:   solar("100 V", "200 W"),
}, func(p *pass) {
	p.items(func(it *circuit.Item) {
		if it.Kind != "array" {
			return
		}
		volts, missing := p.coldVolts(it)
		if missing != "" {
			p.unverified(it.Ref, diag.Finding{Span: it.RefSpan, Missing: missing})
			return
		}
		for _, t := range p.net.Reach(terminals(it), p.view) {
			o := t.Item
			if o == it || circuit.IsOutput(t.Port) || o.Kind != "regulator" && !switching(o) {
				continue
			}
			limit := o.Facts.Voltage
			if o.Kind == "regulator" {
				limit = o.Facts.InputVolt
			}
			if dev := p.deviceOf[o]; dev != nil && dev.Voltage.Known && !limit.Known() {
				limit = circuit.Fact[quantity.Volt]{Value: dev.Voltage.Value, State: circuit.Stated}
			}
			switch {
			case !limit.Known():
				p.unverified(it.Ref, diag.Finding{Span: o.RefSpan, Items: []string{o.Ref}, Missing: fmt.Sprintf("the highest voltage of %s; %s gives %s at the coldest", o.Ref, it.Ref, volts)})
			case limit.Least() < volts:
				p.fail(it.Ref, diag.Finding{
					Message: fmt.Sprintf("%s gives %s at %s, and %s stands %s", called(it), volts, p.Craft.Coldest.Least(), called(o), limit.Least()),
					Span:    it.RefSpan, Related: p.where([]*circuit.Item{o}), Items: []string{o.Ref},
					Cure: fmt.Sprintf("put fewer modules in series, or fit one for more than %s", volts)})
			case o.Kind == "regulator" && volts > limit.Least()*aim:
				p.failAs(diag.Advice, it.Ref, diag.Finding{
					Message: fmt.Sprintf("%s gives %s at %s, hardly less than the %s that %s stands", called(it), volts, p.Craft.Coldest.Least(), limit.Least(), called(o)),
					Span:    it.RefSpan, Related: p.where([]*circuit.Item{o}), Items: []string{o.Ref}, Source: "common practice",
					Cure: fmt.Sprintf("fit one for %s or more: a colder morning, or a module above its rating, is soon met", volts/aim)})
			default:
				p.ok(it.Ref)
			}
		}
	})
}}

// solar is an array of some modules on a regulator of some voltage.
func solar(volts, modules string) string {
	return `craft "Small boat" {
    cable class 5, tinned, 105 degC, free
    coldest -10 degC
}
domain house: dc 12 V, 10.5 V to 14.6 V
domain sun: dc 36 V, 1 V to 45 V
place locker "Locker": 40 degC
run battery B1 in house at locker: agm, 12 V, 75 Ah, resistance 6 mohm, charge 20 A, terminals 105 degC [0.1 m 6 mm2] fuse F1 at locker: class t, 125 V, breaks 20 kA, 20 A
    [0.1 m 6 mm2] isolator Q1 at locker: 100 A, 32 V, 1 pole, load-break [0.2 m 6 mm2] bus PB in house at locker: 100 A
run array PV1 in sun at locker: ` + modules + `, voc 37.5 V, voc -0.27 %/K, isc 6 A, fuse 15 A [3 m 4 mm2] isolator Q2 at locker: 20 A, 100 V, 2 pole, load-break [0.5 m 4 mm2] regulator T1 at locker: 12 V, 15 A, input ` + volts + ` [0.2 m 6 mm2] PB
`
}

var stringFuses = Rule{diag.Info{Rule: "string-fuse-missing", Severity: diag.Danger,
	Title:  "parallel strings without string fuses",
	Why:    "The other strings feed a shaded or failed one backwards with more than its modules stand.",
	Source: "IEC 62548, worked example as printed; 1.25 times Isc by standards review",
	Bad:    solar("100 V", "200 W, 4 in parallel"),
	Good:   solar("100 V", "200 W"),
}, func(p *pass) {
	p.items(func(it *circuit.Item) {
		f := it.Facts
		if it.Kind != "array" {
			return
		}
		for _, dev := range p.firstDevices(circuit.Terminal{Item: it}) {
			if r, ok := p.rating(dev); ok && f.ModuleFuse.Known() && dev.Kind == "fuse" && below(f.ModuleFuse.Least(), r) {
				p.fail(it.Ref, diag.Finding{Message: fmt.Sprintf("%s of %s is more than the modules of %s stand, %s", called(dev), r, it.Ref, f.ModuleFuse.Least()),
					Span: dev.RefSpan, Related: p.where([]*circuit.Item{it}), Items: []string{dev.Ref}, Cure: fmt.Sprintf("fit one of at most %s in each string", f.ModuleFuse.Least())})
				return
			}
		}
		strings := p.stringsBeside(it)
		if strings < 2 {
			p.ok(it.Ref)
			return
		}
		if !f.Isc.Known() || !f.ModuleFuse.Known() {
			p.unverified(it.Ref, diag.Finding{Span: it.RefSpan, Missing: "the `isc` of one module of " + it.Ref + " and its maker's largest `fuse`"})
			return
		}
		needed, back, least, most := table.StringFuse(strings, f.Isc.Most(), f.ModuleFuse.Least())
		if !needed || len(p.firstDevices(circuit.Terminal{Item: it})) > 0 && strings == 2 {
			p.ok(it.Ref)
			return
		}
		p.fail(it.Ref, diag.Finding{Message: fmt.Sprintf("the other strings of %s can send %s into one, whose modules stand %s", called(it), back, f.ModuleFuse.Least()),
			Span: it.RefSpan, Cure: "write each string as an array of its own with a fuse in both poles" + stringFuse(least, most)})
	})
}}

// stringFuse names the fuse that strings ask for, where one is made.
func stringFuse(least, most quantity.Ampere) string {
	r, ok := table.RatingAtMost("gpv", most)
	if !ok || r.Value < least {
		return ""
	}
	return fmt.Sprintf(", of %s (%s to %s, class gpv)", r.Value, least, most)
}

// stringsBeside are the strings that stand in parallel with no device between,
// those of the array itself included.
func (p *pass) stringsBeside(it *circuit.Item) int {
	view := p.unfused()
	count, seen := max(1, it.Facts.InParallel), map[*circuit.Item]bool{it: true}
	for _, t := range p.net.Reach(terminals(it), view) {
		if t.Item.Kind == "array" && !seen[t.Item] {
			seen[t.Item] = true
			count += max(1, t.Item.Facts.InParallel)
		}
	}
	return count
}

var arrayWithoutIsolator = Rule{diag.Info{Rule: "array-without-isolator", Severity: diag.Danger,
	Title:  "an array that cannot be cut off",
	Why:    "An array is live whenever there is light. Without a load-break switch in both poles nobody can work behind it by day.",
	Source: "IEC 60364-7-712, from memory, verify against the standard",
	Bad:    "craft \"Small boat\" {\n    cable class 5, tinned, 105 degC, free\n    coldest -10 degC\n}\ndomain house: dc 12 V, 10.5 V to 14.6 V\ndomain sun: dc 36 V, 1 V to 45 V\nplace locker \"Locker\": 40 degC\nrun battery B1 in house at locker: agm, 12 V, 75 Ah, resistance 6 mohm [0.1 m 6 mm2] fuse F1: class t, 125 V, breaks 20 kA, 20 A [0.2 m 6 mm2] bus PB in house at locker: 100 A\nrun array PV1 in sun at locker: 200 W, voc 37.5 V, voc -0.27 %/K, isc 6 A, fuse 15 A [3 m 4 mm2] regulator T1 at locker: 12 V, 15 A, input 100 V [0.2 m 6 mm2] PB\n",
	Good:   solar("100 V", "200 W"),
}, func(p *pass) {
	view := p.behindSwitches()
	p.items(func(it *circuit.Item) {
		if it.Kind != "array" {
			return
		}
		for _, t := range p.net.Reach(terminals(it), view) {
			if n := t.Item.Nature(); t.Item != it && (n.Load || n.Converts) {
				p.fail(it.Ref, diag.Finding{Message: fmt.Sprintf("%s runs to %s with no isolator between", called(it), called(t.Item)),
					Span: it.RefSpan, Items: []string{t.Item.Ref}, Cure: "put a load-break isolator for DC in both poles between them"})
				return
			}
		}
		var switches []*circuit.Item
		for _, t := range p.net.Reach(terminals(it), p.view) {
			if t.Item.Nature().Stores {
				switches = nil // no regulator between: the switches beyond are the bank's
				break
			}
			if t.Port == "in" && cutsOff(t.Item) {
				switches = append(switches, t.Item)
			}
		}
		p.arraySwitches(it, switches)
	})
}}

// arraySwitches holds the switches in the leads of an array to both poles, and to
// breaking load where no domain says at what voltage they sit.
func (p *pass) arraySwitches(it *circuit.Item, switches []*circuit.Item) {
	for _, q := range switches {
		d := powerDomain(q)
		switch {
		case q.Facts.Poles == 1:
			p.fail(it.Ref, diag.Finding{Message: fmt.Sprintf("%s opens one pole of %s: the other stays live as long as there is light", called(q), called(it)),
				Span: q.RefSpan, Related: p.where([]*circuit.Item{it}), Items: []string{q.Ref}, Cure: "fit a load-break isolator for DC in both poles and write `2 pole`"})
		case q.Facts.Poles == 0:
			p.unverified(it.Ref, diag.Finding{Span: q.RefSpan, Items: []string{q.Ref}, Missing: fmt.Sprintf("the poles of %s, `2 pole`", q.Ref)})
		case d == nil && q.Kind == "isolator" && q.Facts.LoadBreak == circuit.No:
			p.fail(it.Ref, diag.Finding{Message: fmt.Sprintf("%s in the leads of %s is no load-break switch", called(q), called(it)),
				Span: q.RefSpan, Related: p.where([]*circuit.Item{it}), Items: []string{q.Ref}, Cure: "fit a load-break isolator for DC in both poles"})
		case d == nil && q.Kind == "isolator" && q.Facts.LoadBreak == circuit.Unsaid:
			p.unverified(it.Ref, diag.Finding{Span: q.RefSpan, Items: []string{q.Ref}, Missing: fmt.Sprintf("whether %s is `load-break` at the array's voltage", q.Ref)})
		default:
			p.ok(it.Ref)
		}
	}
}

var arrayCurrentTooHigh = Rule{diag.Info{Rule: "array-current-too-high", Severity: diag.Fault,
	Title:  "an array that gives more current than its regulator's input stands",
	Why:    "A regulator cuts off at its output what the battery does not take, so an array larger than its rating is common. Its input has a limit of its own, which the array's short-circuit current must not pass: a reversed lead or a failed transistor meets all of it. In strong light over snow or water a module gives a quarter more.",
	Source: "IEC 62548 and IEC 60364-7-712, from memory, verify against the standard; the limit is the maker's",
	Bad:    solar("100 V, input 5 A", "200 W"),
	Good:   solar("100 V, input 15 A", "200 W"),
}, func(p *pass) {
	p.items(func(it *circuit.Item) {
		if it.Kind != "regulator" {
			return
		}
		var arrays []*circuit.Item
		var isc quantity.Ampere
		for _, t := range p.net.Origin([]circuit.Terminal{{Item: it, Port: "in"}}, p.view) {
			o := t.Item
			if o.Kind != "array" {
				continue
			}
			if !o.Facts.Isc.Known() {
				p.unverified(it.Ref, diag.Finding{Span: o.RefSpan, Items: []string{o.Ref}, Missing: "the `isc` of one module of " + o.Ref})
				return
			}
			arrays = append(arrays, o)
			isc += o.Facts.Isc.Most() * quantity.Ampere(max(1, o.Facts.InParallel))
		}
		limit, strong := it.Facts.Input, table.ArrayCurrent(1, isc)
		switch {
		case len(arrays) == 0:
		case !limit.Known():
			p.unverified(it.Ref, diag.Finding{Span: it.RefSpan, Items: refs(arrays), Missing: fmt.Sprintf("the short-circuit current that the input of %s stands, such as `input 50 A` (%s can give %s)", it.Ref, names(arrays), strong)})
		case below(limit.Least(), strong):
			severity := diag.Fault
			if !below(limit.Least(), isc) {
				severity = diag.Advice
			}
			p.failAs(severity, it.Ref, diag.Finding{Message: fmt.Sprintf("the input of %s stands %s, and %s can give %s, %s in strong light", called(it), limit.Least(), names(arrays), isc, strong),
				Span: it.RefSpan, Related: p.where(arrays), Items: refs(arrays), Cure: "put fewer strings in parallel, or fit a regulator for more"})
		default:
			p.ok(it.Ref)
		}
	})
}}

var regulatorBelowArray = Rule{diag.Info{Rule: "regulator-below-array", Severity: diag.Advice,
	Title:  "a regulator that passes less than its array gives",
	Why:    "In full sun the regulator holds back what is more than its rating. That harms nothing, and it is often meant; where it is not, part of the array is bought for nothing.",
	Source: "common practice",
	Bad:    solar("100 V, input 15 A", "400 W"),
	Good:   solar("100 V, input 15 A", "200 W"),
}, func(p *pass) {
	p.items(func(it *circuit.Item) {
		top, ok := p.highest(it.PortDomain("out"))
		if it.Kind != "regulator" || !it.Facts.Current.Known() || !ok {
			return
		}
		var watts quantity.Watt
		for _, t := range p.net.Origin([]circuit.Terminal{{Item: it, Port: "in"}}, p.view) {
			if f := t.Item.Facts; t.Item.Kind == "array" && f.Power.Known() {
				watts += f.Power.Most() * quantity.Watt(max(1, f.InSeries)*max(1, f.InParallel))
			}
		}
		most := quantity.Watt(float64(it.Facts.Current.Least()) * float64(top))
		switch {
		case watts == 0:
		case float64(watts) > float64(most)*(1+1e-9):
			p.fail(it.Ref, diag.Finding{Message: fmt.Sprintf("%s passes %s, which is %s at %s, and its array gives %s", called(it), it.Facts.Current.Least(), most, top, watts),
				Span: it.RefSpan, Cure: "leave it if that is meant; else fit a larger regulator"})
		default:
			p.ok(it.Ref)
		}
	})
}}

var arrayWithoutRegulator = Rule{diag.Info{Rule: "array-without-regulator", Severity: diag.Danger,
	Title:  "an array straight on a battery or a load",
	Why:    "Nothing ends the charge when the battery is full: lead boils dry, a lithium pack opens, and then the array's open voltage stands on everything that hangs there.",
	Source: "common practice; ABYC A-31, from memory, verify against the standard",
	Bad:    goodFeederOnBar + "run array PV1 in house at locker: 100 W, voc 22 V, voc -0.3 %/K, isc 6 A [2 m 4 mm2] isolator Q2 at locker: 20 A, 100 V, 2 pole, load-break [0.5 m 4 mm2] fuse F2 at locker: class t, 125 V, breaks 20 kA, 10 A [link] PB\n",
	Good:   solar("100 V, input 15 A", "200 W"),
}, func(p *pass) {
	p.items(func(it *circuit.Item) {
		if it.Kind != "array" {
			return
		}
		for _, t := range p.net.Reach(terminals(it), p.view) {
			o := t.Item
			if n := o.Nature(); circuit.IsControl(t.Port) || !n.Load && !n.Stores && !(n.Converts && o.Kind != "regulator" && !circuit.IsOutput(t.Port)) {
				continue
			}
			p.fail(it.Ref, diag.Finding{Message: fmt.Sprintf("%s reaches %s through no regulator", called(it), called(o)),
				Span: it.RefSpan, Related: p.where([]*circuit.Item{o}), Items: []string{o.Ref}, Cure: "put a regulator between them"})
			return
		}
		p.ok(it.Ref)
	})
}}
