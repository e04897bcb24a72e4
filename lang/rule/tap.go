package rule

import (
	"fmt"
	"slices"

	"strake/lang/circuit"
	"strake/lang/diag"
	"strake/lang/quantity"
	"strake/lang/size"
)

var oneEndOnly = Rule{diag.Info{Rule: "protected-at-one-end-only", Severity: diag.Danger,
	Title:  "a cable whose only device is at the end away from the source",
	Why:    "What stands at the far end opens for an overload that runs through it, but not for a fault in the cable itself: that draws all that the devices behind the bar let through. A tie between two banks needs a fuse at each end, and a thin cable on a bar has its fuse at the bar.",
	Source: "33 CFR 183.455; ISO 13297:2020 12.1 to 12.3, position from memory, verify against the standard",
	Bad:    tapped("[2 m 6 mm2] fuse F2 at locker: class t, 125 V, breaks 20 kA, 30 A [0.1 m 6 mm2]"),
	Good:   tapped("[0.1 m 6 mm2] fuse F2 at locker: class t, 125 V, breaks 20 kA, 30 A [2 m 6 mm2]"),
}, func(p *pass) {
	type tap struct {
		c   *size.Cable
		end int
		far quantity.Metre
	}
	var chains []tap // of each chain of cables up to one set of devices the longest
	for _, c := range p.cables {
		if !p.guardable(c) || !c.Ampacity.Known {
			continue
		}
		for k := range c.Feeds {
			f := &c.Feeds[k]
			if len(f.Sources) == 0 || f.Limited || len(p.unlimited(f)) > 0 || !f.Rating.Known || len(f.Devices) == 0 {
				continue
			}
			if p.aboveCable(c) {
				continue // said already
			}
			if len(f.Ahead) == 0 || !below(c.Ampacity.Value, f.Rating.Value) {
				p.ok(c.Of.ID)
				continue
			}
			far, known := p.lengthAhead(c.Of, k)
			limit, _ := size.Reach(c.Of)
			switch {
			case !known:
				p.unverified(c.Of.ID, diag.Finding{Span: c.Of.Span, Items: refs(f.Ahead), Missing: "the length between " + endName(endOf(c.Of, k)) + " and " + names(f.Ahead)})
			case float64(far) <= float64(limit)+1e-9:
				p.ok(c.Of.ID)
			default:
				same := func(t tap) bool { return slices.Equal(t.c.Feeds[t.end].Ahead, f.Ahead) }
				if i := slices.IndexFunc(chains, same); i < 0 {
					chains = append(chains, tap{c, k, far})
				} else if far > chains[i].far {
					chains[i] = tap{c, k, far}
				}
			}
		}
	}
	for _, t := range chains {
		c, f := t.c, &t.c.Feeds[t.end]
		limit, why := size.Reach(c.Of)
		p.fail(c.Of.ID, diag.Finding{
			Message: fmt.Sprintf("at %s nothing protects the cable %s: %s %s %s into it, it holds %s, and %s %s %s away; %s is the most %s",
				endName(endOf(c.Of, t.end)), c.Of.ID, names(f.Devices), verb(f.Devices, "lets"), apart(f.Rating.Value, c.Ampacity.Value), c.Ampacity.Value, names(f.Ahead), verb(f.Ahead, "stands"), t.far, limit, why),
			Span: c.Of.Span, Related: p.where(slices.Concat(f.Devices, f.Ahead)), Items: refs(f.Ahead),
			Cure: fmt.Sprintf("put a device of at most %s into it within %s of %s", c.Ampacity.Value, limit, endName(endOf(c.Of, t.end))),
		})
	}
}}

func endOf(c *circuit.Cable, k int) circuit.End { return [2]circuit.End{c.From, c.To}[k] }

// lengthAhead is the longest way along a cable, from one of its ends, and on to
// the first protective devices.
func (p *pass) lengthAhead(c *circuit.Cable, k int) (quantity.Metre, bool) {
	longest, known := lengthOf(c)
	from, ok := endOf(c, 1-k).Terminal()
	if !ok {
		return longest, known
	}
	view := cut(p.view, c)
	at := map[circuit.Terminal]quantity.Metre{from: longest}
	for queue := []circuit.Terminal{from}; len(queue) > 0; queue = queue[1:] {
		here := queue[0]
		for _, st := range p.net.Downstream(here, view) {
			if _, seen := at[st.To]; seen || st.Through != nil && st.Through.Nature().Protects {
				continue
			}
			far := at[here]
			if st.Cable != nil {
				l, ok := lengthOf(st.Cable)
				far, known = far+l, known && ok
			}
			at[st.To] = far
			longest = max(longest, far)
			queue = append(queue, st.To)
		}
	}
	return longest, known
}

// lengthBack is the longest way from a cable's end back to some sources, past
// no protective device.
func (p *pass) lengthBack(c *circuit.Cable, k int, sources []*circuit.Item) (quantity.Metre, bool) {
	from, ok := endOf(c, k).Terminal()
	if !ok {
		return 0, false
	}
	longest, known := quantity.Metre(0), true
	view := cut(p.view, c)
	at := map[circuit.Terminal]quantity.Metre{from: 0}
	sure := map[circuit.Terminal]bool{from: true}
	for queue := []circuit.Terminal{from}; len(queue) > 0; queue = queue[1:] {
		here := queue[0]
		if slices.Contains(sources, here.Item) {
			longest, known = max(longest, at[here]), known && sure[here]
		}
		for _, st := range p.net.Upstream(here, view) {
			if _, seen := at[st.To]; seen || st.Through != nil && st.Through.Nature().Protects {
				continue
			}
			far, certain := at[here], sure[here]
			if st.Cable != nil && !p.cranking(st.Cable) { // a starter's cable is held to rules of its own: a branch begins where it leaves it
				l, ok := lengthOf(st.Cable)
				far, certain = far+l, certain && ok
			}
			at[st.To], sure[st.To] = far, certain
			queue = append(queue, st.To)
		}
	}
	return longest, known
}

// lengthOf is a cable's length, at the longer end of `about`. A link has none, but
// one that leads to another place has a length that is not written.
func lengthOf(c *circuit.Cable) (quantity.Metre, bool) {
	if c.Link {
		return 0, !c.SpansPlaces()
	}
	l := c.Length.Most()
	if c.Return.Known() {
		l = max(l, c.Return.Most())
	}
	return l, c.Length.Known()
}

// tapped is a small boat with a bar and one feeder on it.
func tapped(feeder string) string {
	return header + `battery B1 in house at locker: agm, 12 V, 75 Ah, resistance 6 mohm, terminals 105 degC
run B1 [0.1 m 25 mm2] fuse F1 at locker: class t, 125 V, breaks 20 kA, 80 A
    [0.1 m 25 mm2] isolator Q1 at locker: 100 A, 32 V, 1 pole, load-break
    [0.2 m 25 mm2] bus PB at locker: 100 A
run PB ` + feeder + ` pump P1 at locker: 60 W
`
}
