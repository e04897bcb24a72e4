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
	Why:    "ISO 13297 covers DC up to 50 V nominal and single-phase AC up to 250 V; electric propulsion is ISO 16315. ABYC E-11 stops at the same direct voltage, and propulsion is ABYC E-30. The rules of the set are applied here all the same, as good practice.",
	Source: "ISO 13297:2020, scope",
	Bad:    "craft \"Small boat\" {\n    cable class 5, tinned, 105 degC, free\n}\ndomain drive: dc 96 V, 75 V to 109.5 V\nplace locker: 40 degC\nbattery B1 in drive at locker: lfp, 96 V, 100 Ah, resistance 15 mohm, discharge 100 A, charge 50 A\n",
	Good:   goodFeeder,
}, func(p *pass) {
	set, scope, other := "iso-13297", "ISO 13297:2020, scope", "ISO 16315"
	if p.Craft.Rules == "abyc-e11" {
		set, scope, other = "abyc-e11", "ABYC E-11 and 33 CFR 183 subpart I, scope, from memory, verify against the standard", "ABYC E-30"
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
			if propels(it) && powerDomain(it) == d && !d.AC && len(why) < 2 {
				if !strings.Contains(strings.Join(why, " "), "propulsion") {
					why = append(why, "may feed electric propulsion")
				}
			}
		})
		if len(why) == 0 {
			continue
		}
		p.unverified(d.Name, diag.Finding{
			Message: fmt.Sprintf("outside %s: %s %s; its rules are applied as good practice", set, d.Name, strings.Join(why, " and ")),
			Span:    d.Span, Source: scope, Missing: fmt.Sprintf("a check against %s or the rules for that system", other), Cure: "have this part checked against the standard that covers it"})
	}
}}

// nominal is the larger of what a domain is called and what its batteries are.
func (p *pass) nominal(d *circuit.Domain) float64 {
	v := float64(d.Nominal.Value)
	p.items(func(it *circuit.Item) {
		if it.Nature().Stores && it.Domain == d {
			if b, ok := bankVolts(it); ok {
				v = max(v, float64(b))
			}
		}
	})
	return v
}

func volts(v float64) string { return fmt.Sprintf("%.4g V", v) }
