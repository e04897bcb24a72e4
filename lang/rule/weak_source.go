package rule

// Sources that limit their own current and what stands behind them.

import (
	"fmt"
	"slices"

	"strake/lang/circuit"
	"strake/lang/diag"
)

var sourceTooWeak = Rule{diag.Info{Rule: "source-too-weak-for-its-devices", Severity: diag.Advice,
	Title:  "a source that gives too little to open the devices behind it",
	Why:    "A converter limits its own current. Behind one of 20 A a fuse of 15 A never opens: a fault pulls the whole bar down and stays until the converter gives up, and everything else on the bar goes dark with it. Nothing burns as long as each device guards its cable against overload.",
	Source: "IEC 60364-4-43, from memory, verify against the standard",
	Bad:    twoDomains + "run PB [link] fuse F2: class t, 125 V, breaks 20 kA, 40 A [1 m 10 mm2] converter CH1 at locker: 24 V, 10 A, isolated, one way [0.3 m 10 mm2] bus PW in winch at locker: 100 A\nrun PW [link] fuse F3: class blade, 32 V, breaks 1 kA, 10 A [2 m 4 mm2] pump P1 at locker: 100 W\n",
	Good:   twoDomains + "run PB [link] fuse F2: class t, 125 V, breaks 20 kA, 40 A [1 m 10 mm2] converter CH1 at locker: 24 V, 10 A, isolated, one way [0.3 m 10 mm2] bus PW in winch at locker: 100 A\nrun PW [link] fuse F3: class blade, 32 V, breaks 1 kA, 3 A [2 m 4 mm2] pump P1 at locker: 48 W\n",
}, func(p *pass) {
	type group struct {
		source  *circuit.Item
		devices []*circuit.Item
		cables  []string
	}
	var groups []*group
	for _, c := range p.cables {
		d := c.Of.Domain
		if len(c.Limits) == 0 || len(c.Protection) == 0 || d == nil || d.AC || !p.guardable(c) {
			continue
		}
		source := c.Limits[0]
		if source.Kind == "array" {
			continue // made to stand its short-circuit current for ever
		}
		switch {
		case !c.StaysShut:
			p.ok(source.Ref)
			continue
		case p.aboveCable(c):
			continue // a danger, said of its device: what never opens it burns the cable
		}
		i := slices.IndexFunc(groups, func(g *group) bool { return g.source == source })
		if i < 0 {
			i = len(groups)
			groups = append(groups, &group{source: source})
		}
		g := groups[i]
		g.cables = append(g.cables, c.Of.ID)
		for _, it := range c.Protection {
			if !slices.Contains(g.devices, it) {
				g.devices = append(g.devices, it)
			}
		}
	}
	for _, g := range groups {
		p.fail(g.source.Ref, diag.Finding{
			Message: fmt.Sprintf("%s gives too little to open %s: a fault behind them is not cut off, and pulls down what else hangs on it", called(g.source), names(g.devices)),
			Span:    g.source.RefSpan, Items: refs(g.devices), Related: p.where(g.devices),
			Cure: "use smaller devices, or put a battery on the bar; else leave it, as the cables carry what it gives"})
	}
}}
