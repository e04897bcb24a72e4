package rule

// Fuses in warm places.

import (
	"fmt"

	"strake/lang/circuit"
	"strake/lang/diag"
	"strake/lang/quantity"
)

// Fuses are rated for the air around them (a fuse maker's guidance).
const (
	fuseAir    = 40    // °C up to which a fuse carries its rating
	fusePerDeg = 0.005 // of its rating that it loses with each K above
)

var fuseTooWarm = Rule{diag.Info{Rule: "fuse-too-warm", Severity: diag.Fault,
	Title:  "a fuse that carries too much for the heat around it",
	Why:    "A fuse loses 0.5 % of its rating with each kelvin above 40 °C, and opens one day without a fault.",
	Source: "a fuse maker's guidance: 0.5 % for each kelvin",
	Bad:    warmFuse("load L1 at hot: 78 A"),
	Good:   warmFuse("load L1 at hot: 60 A"),
}, func(p *pass) {
	p.items(func(it *circuit.Item) {
		dev := p.deviceOf[it]
		rating, ok := p.rating(it)
		air, known := heat(it.Place)
		if it.Kind != "fuse" || dev == nil || !ok || !dev.Current.Known || !known || air <= fuseAir {
			return
		}
		holds := rating * quantity.Ampere(1-float64(fusePerDeg*(float64(air)-fuseAir)))
		if below(holds, dev.Current.Value) {
			p.fail(it.Ref, diag.Finding{Message: fmt.Sprintf("%s of %s stands at %s, where it holds %s, and carries %s", called(it), rating, air, holds, dev.Current.Value),
				Span: it.RefSpan, Cure: "move it to a cooler place, or take a larger one with a cable to match"})
			return
		}
		p.ok(it.Ref)
	})
}}

// warmFuse is a small boat with a fuse of 80 A in a warm place.
func warmFuse(load string) string {
	return `craft "Small boat" {
    cable class 5, tinned, 105 degC, free
}
domain house: dc 12 V, 10.5 V to 14.6 V
place hot "Hot locker": 60 degC
battery B1 in house at hot: agm, 12 V, 75 Ah, resistance 6 mohm, terminals 105 degC
run B1 [0.1 m 25 mm2] fuse F1 at hot: class t, 125 V, breaks 20 kA, 80 A, terminals 105 degC
    [0.1 m 25 mm2] isolator Q1 at hot: 100 A, 32 V, 1 pole, load-break, terminals 105 degC
    [2 m 25 mm2] ` + load + `, terminals 105 degC
`
}
