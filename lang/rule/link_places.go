package rule

// A link is a bar or a bolted joint: what it joins stands together.

import (
	"fmt"

	"strake/lang/diag"
)

var linkSpansPlaces = Rule{diag.Info{Rule: "link-spans-places", Severity: diag.Fault,
	Title:  "a bar or a bolted joint between two places",
	Why:    "A link has no length, no size, no drop and no device. What leads from one place to another is a cable: its length counts in how far a fuse stands from its source, its size in what guards it, and none of that is checked of a link.",
	Source: "common practice",
	Bad:    header + "place bow \"Bow\": 40 degC\nrun battery B1 in house at locker: agm, 12 V, 75 Ah, resistance 6 mohm, terminals 105 degC [link] fuse F1 at bow: class t, 125 V, breaks 20 kA, 80 A [0.1 m 25 mm2] isolator Q1 at bow: 100 A, 32 V, 1 pole, load-break [2 m 25 mm2] pump P1 at bow: 60 W\n",
	Good:   header + "place bow \"Bow\": 40 degC\nrun battery B1 in house at locker: agm, 12 V, 75 Ah, resistance 6 mohm, terminals 105 degC [link] fuse F1 at locker: class t, 125 V, breaks 20 kA, 80 A [0.1 m 25 mm2] isolator Q1 at locker: 100 A, 32 V, 1 pole, load-break [2 m 25 mm2] pump P1 at bow: 60 W\n",
}, func(p *pass) {
	for _, c := range p.Cables {
		if !c.Link || !c.Status.In(p.configuration) || c.From.Item == nil || c.To.Item == nil {
			continue
		}
		if !c.SpansPlaces() {
			p.ok(c.ID)
			continue
		}
		from, to := c.From.Item, c.To.Item
		p.fail(c.ID, diag.Finding{Message: fmt.Sprintf("a link joins %s at %s with %s at %s", called(from), from.Place.Name, called(to), to.Place.Name),
			Span: c.Span, Items: []string{from.Ref, to.Ref}, Cure: "write the length and the size of the cable between them, or put both into one place"})
	}
}}
