package rule

// Solar in summer: whether a warm string still reaches its battery's voltage.

import (
	"fmt"
	"strings"

	"strake/lang/circuit"
	"strake/lang/diag"
	"strake/lang/quantity"
	"strake/lang/size"
	"strake/lang/table"
)

const (
	warmModule  = quantity.Celsius(70) // of a module in full sun, common practice
	startMargin = quantity.Volt(5)     // above its battery, before a regulator starts, common practice
)

var arrayTooWarm = Rule{diag.Info{Rule: "array-voltage-too-low", Severity: diag.Fault,
	Title:  "an array whose warm voltage is below its battery's",
	Why:    "Modules give fewer volts as they warm. A string that works below the voltage with which its battery is charged gives nothing on a hot day; most regulators want 5 V more to start in the morning, less than that is an advice. Modules are taken at 70 °C, their working voltage as 0.8 of the open-circuit one.",
	Source: "common practice; the change of the voltage is the maker's",
	Bad:    strings.Replace(solar("100 V", "200 W"), "voc 37.5 V", "voc 18 V", 1),
	Good:   solar("100 V", "200 W"),
}, func(p *pass) {
	p.items(func(it *circuit.Item) {
		open := size.OpenVolts(it, warmModule)
		if it.Kind != "array" || !open.Known {
			return // asked for where the cold voltage is
		}
		works := quantity.Volt(table.WorkingShare * float64(open.Value))
		for _, t := range p.net.Reach(terminals(it), p.view) {
			d := t.Item.PortDomain("out")
			if t.Item.Kind != "regulator" || circuit.IsOutput(t.Port) || d == nil || !d.Highest.Known() {
				continue
			}
			message := fmt.Sprintf("%s works at about %s when its modules have %s, and %s charges %s up to %s", called(it), works, warmModule, called(t.Item), d.Name, d.Highest.Value)
			finding := diag.Finding{Message: message, Span: it.RefSpan, Related: p.where([]*circuit.Item{t.Item}), Items: []string{t.Item.Ref},
				Cure: "put more modules in series, if the regulator stands their cold voltage"}
			switch {
			case works < d.Highest.Value:
				p.fail(it.Ref, finding)
			case works < d.Highest.Value+startMargin:
				finding.Message += fmt.Sprintf("; most start %s above their battery", startMargin)
				p.failAs(diag.Advice, it.Ref, finding)
			default:
				p.ok(it.Ref)
			}
		}
	})
}}
