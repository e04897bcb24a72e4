package rule

// Navigation lights by their label.

import (
	"fmt"
	"slices"

	"strake/lang/circuit"
	"strake/lang/diag"
)

var navigationNotSaid = Rule{diag.Info{Rule: "navigation-light-not-said", Severity: diag.NotVerified,
	Title:  "what may be a navigation light, and does not say so",
	Why:    "A lamp that is called a navigation light and does not say `navigation` is judged like any other: that it loses little voltage, and that it is there on the day of the handover, is not asked of it.",
	Source: "common practice; COLREG rules 20 to 23",
	Bad:    boardBoat + "    way 1 5 A \"Navigation lights\" lamp at locker: 10 W [4 m 4 mm2]\n}\n",
	Good:   boardBoat + "    way 1 5 A \"Navigation lights\" lamp at locker: 10 W, navigation [4 m 4 mm2]\n}\n",
}, func(p *pass) {
	p.items(func(it *circuit.Item) {
		if it.Kind != "lamp" && it.Kind != "load" {
			return
		}
		label := p.labels(it)
		named := slices.ContainsFunc(navigationLights, func(words string) bool { return mentions(label, words) })
		switch {
		case it.Facts.Navigation:
			p.ok(it.Ref)
		case named && !slices.ContainsFunc(aboutLights, func(words string) bool { return mentions(label, words) }):
			p.unverified(it.Ref, diag.Finding{Span: it.RefSpan, Missing: fmt.Sprintf("whether %s is a navigation light", called(it)),
				Cure: "write `navigation` among its properties, or give it a label that says what it lights"})
		}
	})
}}

// What navigation lights are called, and what only has to do with them.
var (
	navigationLights = []string{"navigation light", "navigation lamp", "nav light", "nav lamp", "navlight", "masthead light", "stern light", "sternlight", "side light", "sidelight", "steaming light", "anchor light", "tricolour", "tricolor"}
	aboutLights      = []string{"panel", "alarm", "monitor", "switch", "controller"}
)

// labels are the words by which an item is known: its label and that of its way.
func (p *pass) labels(it *circuit.Item) string {
	if w := p.wayOf(it); w != nil {
		return it.Label + " " + w.Label
	}
	return it.Label
}

// wayOf is the way that feeds an item, or nil.
func (p *pass) wayOf(it *circuit.Item) *circuit.Way {
	if it.Way != nil {
		return it.Way
	}
	for _, c := range p.Cables {
		if c.Way != nil && c.Way.Feeds() == it {
			return c.Way
		}
	}
	return nil
}
