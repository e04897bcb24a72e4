package rule

// What the rule set does not cover is said, once for each domain or system.

import (
	"fmt"
	"strings"

	"strake/lang/circuit"
	"strake/lang/diag"
)

var outsideRuleSet = Rule{diag.Info{Rule: "outside-rule-set", Severity: diag.NotVerified,
	Title:  "a system that the rule set does not cover",
	Why:    "ISO 13297 covers DC up to 50 V nominal and single-phase AC up to 250 V; electric propulsion is ISO 16315. Its rules are applied here all the same, as good practice.",
	Source: "ISO 13297:2020, scope",
	Bad:    "craft \"Small boat\" {\n    cable class 5, tinned, 105 degC, free\n}\ndomain drive: dc 96 V, 75 V to 109.5 V\nplace locker: 40 degC\nbattery B1 in drive at locker: lfp, 96 V, 100 Ah, resistance 15 mohm, discharge 100 A, charge 50 A\n",
	Good:   goodFeeder,
}, func(p *pass) {
	if p.Craft.Rules != "iso-13297" && p.Craft.Rules != "" {
		return
	}
	for _, d := range p.Domains {
		var why []string
		switch {
		case d.AC && d.Phases > 1:
			why = append(why, "is three-phase")
		case d.AC && d.Nominal.Known() && d.Nominal.Value > 250:
			why = append(why, "is AC above 250 V")
		case !d.AC && p.nominal(d) > 50:
			why = append(why, fmt.Sprintf("is DC above 50 V nominal (%s)", volts(p.nominal(d))))
		}
		p.items(func(it *circuit.Item) {
			if it.Kind == "motor" && powerDomain(it) == d && it.Facts.Power.Known() && it.Facts.Power.Value >= 1500 && !d.AC && len(why) < 2 {
				if !strings.Contains(strings.Join(why, " "), "propulsion") {
					why = append(why, "may feed electric propulsion")
				}
			}
		})
		if len(why) == 0 {
			continue
		}
		p.unverified(d.Name, diag.Finding{
			Message: fmt.Sprintf("outside iso-13297: %s %s; its rules are applied as good practice", d.Name, strings.Join(why, " and ")),
			Span:    d.Span, Missing: "a check against ISO 16315 or the rules for that system", Cure: "have this part checked against the standard that covers it"})
	}
}}

// nominal is the larger of what a domain is called and what its batteries are.
func (p *pass) nominal(d *circuit.Domain) float64 {
	v := float64(d.Nominal.Value)
	p.items(func(it *circuit.Item) {
		if (it.Kind == "battery" || it.Kind == "bank") && it.Domain == d {
			if b, ok := bankVolts(it); ok {
				v = max(v, float64(b))
			}
		}
	})
	return v
}

func volts(v float64) string { return fmt.Sprintf("%.4g V", v) }

var notSelective = Rule{diag.Info{Rule: "not-selective", Severity: diag.Advice,
	Title:  "two fuses in line of which either may open",
	Why:    "When the fuse near the source opens for a fault behind the smaller one, everything goes dark. Fuses of one class are selective from a ratio of 1.6.",
	Source: "a fuse maker's guidance: 1.6 to 1",
	Bad:    header + "run battery B1 in house at locker: agm, 12 V, 75 Ah, resistance 6 mohm, terminals 105 degC [0.1 m 25 mm2] fuse F1: class t, 125 V, breaks 20 kA, 80 A [0.1 m 25 mm2] isolator Q1: 100 A, 32 V, 1 pole, load-break [0.2 m 25 mm2] bus PB in house at locker: 100 A\nrun PB [link] fuse F2: class t, 125 V, breaks 20 kA, 80 A [2 m 25 mm2] pump P1 at locker: 60 W\nrun PB [link] fuse F3: class t, 125 V, breaks 20 kA, 30 A [2 m 10 mm2] pump P2 at locker: 60 W\n",
	Good:   goodFeeder,
}, func(p *pass) {
	p.items(func(it *circuit.Item) {
		if it.Kind != "fuse" {
			return
		}
		small, ok := p.rating(it)
		if !ok || p.atBattery(it) {
			return
		}
		for _, up := range p.devicesBefore(it) {
			big, known := p.rating(up)
			if up.Kind != "fuse" || !known || up.Facts.Class != it.Facts.Class || !p.branches(up, it) {
				continue
			}
			if float64(big) < 1.58*float64(small) { // 100/63 and 50/32 count: two steps of the series
				p.fail(it.Ref, diag.Finding{Message: fmt.Sprintf("%s of %s and %s of %s before it, both class %s, are not selective", it.Ref, small, up.Ref, big, it.Facts.Class),
					Span: it.RefSpan, Related: p.where([]*circuit.Item{up}), Items: []string{up.Ref},
					Cure: "leave it if either may open; else take two steps between the ratings"})
				return
			}
		}
		p.ok(it.Ref)
	})
}}

// atBattery tells a device that stands at a battery behind it: there the fault
// comes from the other side.
func (p *pass) atBattery(it *circuit.Item) bool {
	view := p.view
	view.Open = map[*circuit.Item]bool{it: true}
	for _, s := range p.net.Supplies(circuit.Terminal{Item: it, Port: "out"}, view) {
		if s.Item.Kind == "battery" || s.Item.Kind == "bank" {
			return true
		}
	}
	return false
}

// branches tells whether anything else hangs between two devices in line: where
// nothing does, it is no matter which of them opens.
func (p *pass) branches(up, it *circuit.Item) bool {
	view := p.unfused()
	for _, t := range p.net.Reach([]circuit.Terminal{{Item: up, Port: "out"}}, view) {
		switch o := t.Item; {
		case o == up || o == it || control(t.Port):
		case o.Nature().Protects, o.Nature().Load, o.Nature().Converts:
			return true
		}
	}
	return false
}

// devicesBefore are the protective devices next against the current from a device,
// where a single one stands before it: what several feed in parallel is no pair.
// Switches stand as they usually do, and what limits its own current is no feed.
func (p *pass) devicesBefore(it *circuit.Item) []*circuit.Item {
	view := p.unfused()
	for _, o := range p.Items {
		if o.Facts.UsualOff {
			view.Open[o] = true
		}
	}
	var list []*circuit.Item
	for _, t := range p.net.Origin([]circuit.Terminal{{Item: it, Port: "in"}}, view) {
		if o := t.Item; o != it && o.Nature().Protects && t.Port == "out" && p.strongBehind(o) {
			list = append(list, o)
		}
	}
	if len(list) != 1 {
		return nil
	}
	return list
}

// strongBehind tells whether a source that does not limit itself feeds a device
// from its incoming side.
func (p *pass) strongBehind(it *circuit.Item) bool {
	view := p.view
	view.Open = map[*circuit.Item]bool{it: true}
	for _, s := range p.net.Supplies(circuit.Terminal{Item: it, Port: "in"}, view) {
		if !limitsItself(s.Item) {
			return true
		}
	}
	return false
}
