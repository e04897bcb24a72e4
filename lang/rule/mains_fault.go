package rule

// What a device before mains equipment may have to break where nobody wrote the
// short-circuit current of its supply.

import (
	"fmt"

	"strake/lang/circuit"
	"strake/lang/diag"
	"strake/lang/quantity"
)

// Short-circuit currents of supplies that state none (common practice): what any
// supply ashore gives, and what a pontoon seldom exceeds; those of a transformer of 10
// and of 2 % impedance and those of a generator, in multiples of what they are rated for.
const (
	leastAshore, mostAshore           = quantity.Ampere(1000), quantity.Ampere(6000)
	leastTransformed, mostTransformed = 10, 50
	leastGenerated, mostGenerated     = 2, 10
)

// breaksMains judges a device of which the largest fault is not known, since a supply
// of it states none: a breaking capacity below what such a supply gives at least is a
// fault, one below what it may give is not verified.
func (p *pass) breaksMains(it *circuit.Item, breaks quantity.Ampere) {
	var least, most quantity.Ampere
	var of, open *circuit.Item
	for _, t := range terminals(it) {
		if circuit.IsControl(t.Port) {
			continue
		}
		for _, s := range p.net.Supplies(t, p.view) {
			low, high := faultFrom(s)
			if low > least {
				least, of = low, s.Item
			}
			if high > most {
				most, open = high, s.Item
			}
		}
	}
	switch {
	case open == nil: // nothing feeds it
	case below(breaks, least) || of != nil && of.Kind == "inlet" && breaks <= least:
		p.failAs(diag.Fault, it.Ref, diag.Finding{Message: fmt.Sprintf("%s breaks %s, and %s sends %s and more into a short circuit", called(it), breaks, called(of), least),
			Span: it.RefSpan, Items: []string{of.Ref}, Related: p.where([]*circuit.Item{of}), Cure: fmt.Sprintf("fit one that breaks %s or more", most), Source: "common practice"})
	case below(breaks, most):
		span := it.RefSpan
		if it.Way != nil {
			span = it.Way.Board.RefSpan // one message for a board: its devices are of one make
		}
		cure := fmt.Sprintf("fit one that breaks %s or more", most)
		if open.Kind == "inlet" || open.Kind == "generator" {
			cure = fmt.Sprintf("write it, as in `%s …: short-circuit 3 kA`, or %s", open.Ref, cure)
		}
		p.unverified(it.Ref, diag.Finding{Span: span, Items: []string{open.Ref}, Related: p.where([]*circuit.Item{open}), Source: "common practice",
			Message: fmt.Sprintf("whether %s breaks what can flow there is not verified: it breaks %s, and %s, of which no short-circuit current is written, may send %s", it.Ref, breaks, called(open), most),
			Missing: "the short-circuit current of " + open.Ref, Cure: cure})
	default:
		p.ok(it.Ref)
	}
}

// faultFrom bounds what a supply sends into a short circuit at its own terminals.
func faultFrom(s circuit.Supply) (least, most quantity.Ampere) {
	f, d := s.Item.Facts, s.Item.PortDomain(s.Port)
	rated := f.Current.Most()
	if !f.Current.Known() && f.Apparent.Known() && d != nil && d.Nominal.Known() && d.Nominal.Value > 0 {
		rated = quantity.Ampere(float64(f.Apparent.Most()) / float64(d.Nominal.Value))
	}
	switch kind := s.Item.Kind; {
	case f.ShortCircuit.Known():
		return f.ShortCircuit.Least(), f.ShortCircuit.Most()
	case kind == "inlet":
		return leastAshore, mostAshore
	case rated == 0:
		return 0, mostAshore
	case kind == "transformer":
		return leastTransformed * rated, min(mostAshore, mostTransformed*rated)
	case kind == "generator":
		return leastGenerated * rated, mostGenerated * rated
	}
	return 0, leastGenerated * rated
}
