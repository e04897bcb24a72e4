package rule

// Circuits that end on nothing, or on something of which nothing is said.

import (
	"fmt"

	"strake/lang/circuit"
	"strake/lang/diag"
)

var tailLive = Rule{diag.Info{Rule: "tail-live", Severity: diag.Fault,
	Title:  "a fitted cable that ends on nothing and is live",
	Why:    "Its end is capped, but nothing keeps it dead: whoever cuts the cap off to go on with the work meets what its device lets through. A tail that waits for its load is `prepared`: its contact is off, and the checks count it apart. On a bar or a bolt there is no contact, and the word keeps nothing dead.",
	Source: "common practice",
	Bad:    boardBoat + "    way 1 10 A \"Bow locker\" [4 m 6 mm2] capped at locker\n}\n",
	Good:   boardBoat + "    prepared way 1 10 A \"Bow locker\" [4 m 6 mm2] capped at locker\n}\n",
}, func(p *pass) {
	for _, c := range p.cables {
		of := c.Of
		near, far := of.From, of.To
		if near.Item == nil || awaited(near.Item) {
			near, far = far, near
		}
		upTo := "its capped end"
		switch {
		case far.Capped != nil:
		case far.Item != nil && awaited(far.Item) && of.Status == circuit.Prepared && near.Item != nil && !awaited(near.Item):
			upTo = called(far.Item) + ", which is only prepared"
		default:
			continue
		}
		waits := of.Status != circuit.Fitted && of.Status != circuit.ThirdParty
		if waits && !p.boltedOn(near) && (near.Item == nil || near.Item.Way != nil || of.Status != circuit.Prepared) {
			continue // a way of its board keeps it dead
		}
		t, ok := near.Terminal()
		view := p.usually()
		view.Through = true
		if !ok || len(p.net.Supplies(t, view)) == 0 {
			p.ok(of.ID)
			continue
		}
		if waits && !p.boltedOn(near) {
			p.failAs(diag.Advice, of.ID, diag.Finding{Message: fmt.Sprintf("the cable %s waits for its load, and nothing says that %s stands open", of.ID, called(near.Item)), Span: of.Span, Items: refs(ends(of)),
				Cure: fmt.Sprintf("leave the link of %s out, and write `off` on it", near.Item.Ref)})
			continue
		}
		p.fail(of.ID, diag.Finding{Message: fmt.Sprintf("the cable %s is live up to %s", of.ID, upTo), Span: of.Span, Items: refs(ends(of)),
			Cure: "write `prepared` where it waits for its load, and open its way; or `off` on the device that keeps it dead"})
	}
}}

// awaited tells a thing that is only prepared and takes power, or gives it.
func awaited(it *circuit.Item) bool {
	return it.Status == circuit.Prepared && it.Way == nil && !it.Nature().Opens && !it.Nature().Conductive
}

// boltedOn tells whether a prepared cable begins on what is aboard and opens
// nothing: a bar, a bolt, a battery.
func (p *pass) boltedOn(near circuit.End) bool {
	it := near.Item
	return it != nil && it.Way == nil && !it.Nature().Opens && (it.Status == circuit.Fitted || it.Status == circuit.ThirdParty)
}

var loadNotSaid = Rule{diag.Info{Rule: "load-not-said", Severity: diag.NotVerified,
	Title:  "a way of which nobody says what hangs on it",
	Why:    "The sums take a way without a load for one of its rating, and list that as assumed. Whether it draws so much, or something hangs on it at all, nobody has said; a cable that ends on nothing is a live tail.",
	Source: "common practice",
	Bad:    boardBoat + "    way 1 10 A \"Bow locker\" [4 m 6 mm2]\n}\n",
	Good:   boardBoat + "    way 1 10 A \"Bow locker\" 40 W [4 m 6 mm2]\n}\n",
}, func(p *pass) {
	p.items(func(it *circuit.Item) {
		w, f := it.Way, it.Facts
		if w == nil || w.Load != it || w.Device == nil || it.Kind == "socket" || it.Status == circuit.Owner {
			return
		}
		if own := w.Device.Facts.Current; !f.Current.Known() || f.Current.Span != own.Span { // resolve gives it its way's
			p.ok(it.Ref)
			return
		}
		ref := w.Device.Ref
		p.unverified(ref, diag.Finding{Span: it.RefSpan, Items: []string{it.Ref}, Missing: "what " + ref + " feeds, in watts or amperes",
			Cure: "write its load, such as `40 W`; a tail that waits for one is `prepared` and ends `capped at` a place"})
	})
}}
