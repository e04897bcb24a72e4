package rule

// What only everything on at once asks too much of, where conditions are declared.

import (
	"fmt"
	"slices"
	"strings"

	"strake/lang/circuit"
	"strake/lang/diag"
	"strake/lang/quantity"
	"strake/lang/source"
)

var everythingOn = Rule{diag.Info{Rule: "everything-on-exceeds", Severity: diag.Advice,
	Title:  "more than a battery, a device or a cable holds, with everything on",
	Why:    "The declared conditions say what runs together, and what they leave off can still be switched on. Where nothing parts it, one day everything runs: a battery switches itself off, a device opens, or a cable that no device guards at its capacity gets hot.",
	Source: "common practice",
	Bad:    conditioned("condition \"Moored\": DB1 off\n"),
	Good:   conditioned("signal KR1 [1 m] stops DB1.1.load\nsignal DB1.2 [1 m] controls KR1\ninterlock DB1.1.load never with DB1.2.load by KR1\ncondition \"Moored\": DB1 off\n"),
}, func(p *pass) {
	if len(p.Conditions) == 0 {
		return // then everything on is what all is held against
	}
	var causes []overAsked
	add := func(o overAsked) {
		if i := slices.IndexFunc(causes, func(c overAsked) bool { return c.loads == o.loads }); i >= 0 {
			causes[i].join(o)
			return
		}
		causes = append(causes, o)
	}
	p.items(func(it *circuit.Item) {
		limit := dischargeLimit(it)
		if !it.Nature().Stores || it.MemberOf != nil || !limit.Known() {
			return
		}
		if drawn, allOn, _, _ := p.drawnFrom(it); below(limit.Value, allOn) && !below(limit.Value, drawn) {
			add(overAsked{p.loadsAt(terminals(it), p.view), it.Ref, it.RefSpan, called(it) + ", which gives " + limit.Value.String(), allOn, limit.Value, nil})
		}
	})
	p.items(func(it *circuit.Item) {
		dev, d := p.deviceOf[it], powerDomain(it)
		if n := it.Nature(); dev == nil || !dev.Rating.Known || dev.Chosen || n.Conductive || n.Residual && !n.Protects || d == nil {
			return
		}
		asked, passes, out := p.everythingThrough(it), dev.Rating.Value, circuit.Terminal{Item: it, Port: "out"}
		if !below(passes, asked) || dev.Current.Known && below(passes, dev.Current.Value) {
			return // told of what runs together
		}
		if one, _ := p.largestThrough(it, passes); one != nil || d.AC && (p.supplyBelow(it, passes*1.25) || !below(passes, p.demand(out)-p.socketsOn(out))) {
			return // told by itself, or of the supply as a whole; of a socket nobody knows what is plugged in
		}
		add(overAsked{p.loadsAt([]circuit.Terminal{out}, p.without(it)), it.Ref, it.RefSpan, called(it) + " of " + passes.String(), asked, passes, nil})
	})
	for _, c := range p.cables {
		if c.Of.Link || !c.AllOn.Known || !c.Ampacity.Known || !below(c.Ampacity.Value, c.AllOn.Value) || p.cranking(c.Of) || p.aboveCable(c) ||
			c.ProtectionRating.Known && !below(c.Ampacity.Value, c.ProtectionRating.Value) || c.DesignCurrent.Known && below(c.Ampacity.Value, c.DesignCurrent.Value) {
			continue
		}
		loads := ""
		for k, e := range [...]circuit.End{c.Of.From, c.Of.To} {
			if t, ok := e.Terminal(); ok && (k == 0 || loads != "") {
				view := cut(p.view, c.Of)
				if own := p.loadsAt([]circuit.Terminal{t}, view); loads == "" || own != "" && len(own) < len(loads) {
					loads = own
				}
			}
		}
		add(overAsked{loads, c.Of.ID, c.Of.Span, fmt.Sprintf("the cable %s, which holds %s", c.Of.ID, c.Ampacity.Value), c.AllOn.Value, c.Ampacity.Value, nil})
	}
	if len(causes) == 0 {
		p.ok("craft")
	}
	for _, o := range causes {
		p.fail(o.subject, diag.Finding{
			Message: fmt.Sprintf("with everything on %s is asked of %s%s; no condition runs that together, and nothing parts it", apart(o.amps, o.holds), o.said, o.besides()),
			Span:    o.span, Items: o.others,
			Cure: "part what never runs together by an interlock that something enforces, or write the condition in which it does run and size for that"})
	}
}}

// overAsked is a thing of which everything on asks too much, with the loads that ask.
type overAsked struct {
	loads       string
	subject     string
	span        source.Span
	said        string
	amps, holds quantity.Ampere
	others      []string
}

// join adds another thing of which the same loads ask.
func (o *overAsked) join(other overAsked) {
	if other.subject != o.subject {
		o.others = append(o.others, other.subject)
	}
}

func (o *overAsked) besides() string {
	if len(o.others) == 0 {
		return ""
	}
	return ", and too much of " + strings.Join(o.others, ", ")
}

// everythingThrough is what the cables on a device carry with everything on.
func (p *pass) everythingThrough(it *circuit.Item) quantity.Ampere {
	var most quantity.Ampere
	for _, port := range []string{"in", "out"} {
		for _, c := range p.net.Cables(circuit.Terminal{Item: it, Port: port}) {
			if s := p.cableOf[c]; s != nil && !c.Link && s.AllOn.Known {
				most = max(most, s.AllOn.Value)
			}
		}
	}
	return most
}

// loadsAt names the loads that current from here gets to.
func (p *pass) loadsAt(from []circuit.Terminal, view circuit.View) string {
	var list []string
	for _, t := range p.net.Reach(from, view) {
		if p.taken(t) > 0 {
			list = append(list, t.Item.Ref)
		}
	}
	return strings.Join(list, " ")
}

// conditioned is a battery that feeds two loads which together ask too much of it,
// with a relay and more.
func conditioned(more string) string {
	return strings.NewReplacer("agm, 12 V, 75 Ah, resistance 6 mohm", "lfp, 12.8 V, 100 Ah, resistance 6 mohm, discharge 60 A").Replace(boardBoat) + `    way 1 50 A "Heater" load at locker: 40 A [1 m 16 mm2]
    way 2 50 A "Blower" load at locker: 35 A [1 m 16 mm2]
}
relay KR1 at locker: 16 A, 32 V
` + more
}
