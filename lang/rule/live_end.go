package rule

// Cables whose statement or whose end says that they are not in use, and that are
// live all the same, or of which nobody says whether they are still there.

import (
	"fmt"
	"strings"

	"strake/lang/circuit"
	"strake/lang/diag"
)

var preparedLive = Rule{diag.Info{Rule: "prepared-cable-live", Severity: diag.Danger,
	Title:  "a prepared cable that is live from its far end",
	Why:    "A prepared cable is drawn as not in use, and whoever goes on with the work takes it for dead because its way is open. Where its far end lies on something live it is live along its whole length, up to the open contact.",
	Source: "common practice",
	Bad:    preparedTo("FB"),
	Good:   preparedTo("capped at locker"),
}, func(p *pass) {
	for _, c := range p.Cables {
		if c.Status != circuit.Prepared || c.Link && c.Bank != nil {
			continue
		}
		var live []circuit.End
		kept := false // one end lies on what its contact, or its being only prepared, keeps dead
		for _, e := range []circuit.End{c.From, c.To} {
			switch {
			case e.Item == nil:
			case c.Way != nil && (e.Item == c.Way.Device || e.Item == c.Way.Board), !e.Item.Status.In(circuit.AsHandedOver):
				kept = true
			case p.liveNow(e):
				live = append(live, e)
			}
		}
		if len(live) == 0 || c.Way == nil && len(live) < 2 {
			if c.Way != nil && kept {
				p.ok(c.ID)
			}
			continue
		}
		to := live[len(live)-1].Item
		f := diag.Finding{Message: fmt.Sprintf("the cable %s is `prepared`, and ends on %s, which is live: so is the cable", c.ID, called(to)), Span: c.Span,
			Items: refs(ends(c)), Related: p.where([]*circuit.Item{to}), Cure: fmt.Sprintf("end it `capped at` a place until it is used, or feed %s by nothing else", to.Ref)}
		p.fail(c.ID, f)
	}
}}

// liveNow tells whether something feeds an end as the craft is handed over, with
// what usually stands open left so.
func (p *pass) liveNow(e circuit.End) bool {
	t, ok := e.Terminal()
	view := p.usually()
	view.Through, view.Configuration = true, circuit.AsHandedOver
	return ok && len(p.net.Supplies(t, view)) > 0
}

var removedEnd = Rule{diag.Info{Rule: "cable-of-removed-thing", Severity: diag.Advice,
	Title:  "a cable that is in use and ends on something that was removed",
	Why:    "With the thing the cable counts as taken out, and vanishes from the checks and the schedule. Often it stays behind the lining, live at its end. One that stays ends `capped at` a place, where it is checked; one that is gone is `removed` too. Where its way is said to be `on` it is a danger.",
	Source: "common practice",
	Bad:    removedAt("run PB [link] fuse F2"),
	Good:   removedAt("removed run PB [link] fuse F2"),
}, func(p *pass) {
	for _, c := range p.Cables {
		if c.Status != circuit.Removed || c.Written == circuit.Removed {
			continue
		}
		near, gone := c.From, c.To.Item
		if near.Item != nil && near.Item.Status == circuit.Removed {
			near, gone = c.To, c.From.Item
		}
		if gone == nil || near.Item == nil || near.Item.Status == circuit.Removed || gone.Status != circuit.Removed || !p.liveNow(near) {
			continue
		}
		f := diag.Finding{Span: c.Span, Items: refs(ends(c)), Related: p.where([]*circuit.Item{gone})}
		if near.Item.Facts.UsualOn {
			f.Message = fmt.Sprintf("%s is removed, and %s, which feeds the cable %s to it, is `on`: whatever is left of it is live", called(gone), near.Item.Ref, c.ID)
			f.Cure = "take `on` out, and write `removed` before the way or the run; a cable that stays ends `capped at` a place"
			p.failAs(diag.Danger, c.ID, f)
			continue
		}
		f.Message = fmt.Sprintf("%s is removed, and whether the cable %s to it was taken out too is not said; what feeds it is live", called(gone), c.ID)
		f.Cure = "write `removed` before its run or way as well; a cable that stays ends `capped at` a place"
		p.fail(c.ID, f)
	}
}}

// preparedTo is a small boat with a prepared way that ends somewhere, and a bar that
// is fed otherwise.
func preparedTo(end string) string {
	return strings.Replace(boardBoat, "[0.2 m 25 mm2] DB1", "[0.2 m 25 mm2] bus PB in house at locker: 100 A [0.1 m 25 mm2] DB1", 1) +
		"    prepared way 1 10 A \"Bow\" [2 m 6 mm2] " + end + `
}
run PB [link] fuse F2 at locker: class t, 125 V, breaks 20 kA, 20 A [2 m 6 mm2] bus FB in house at locker: 20 A [1 m 6 mm2] load L2 at locker: 20 W
`
}

// removedAt is a small boat with a load that was removed from the end of a run.
func removedAt(run string) string {
	return goodFeederOnBar + run + " at locker: class t, 125 V, breaks 20 kA, 20 A [2 m 6 mm2] removed load L2 at locker: 20 W\n"
}
