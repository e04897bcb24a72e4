package rule

// Signal cables that begin on something live: sense leads.

import (
	"fmt"
	"slices"

	"strake/lang/circuit"
	"strake/lang/diag"
	"strake/lang/quantity"
	"strake/lang/size"
	"strake/lang/table"
)

var senseLead = Rule{diag.Info{Rule: "sense-lead-unprotected", Severity: diag.Danger,
	Title:  "a signal cable on a live pole without a protective device that it holds",
	Why:    "A thin wire on a battery's post or on a bar burns like any other when it is chafed through, whatever little current it was laid for. It has a fuse of its own at the post or the bar, small enough for it. What begins at a lithium battery is taken as its data where no section is written; a section may be that of a wire on its post, and is asked about. What begins at a shunt, a monitor, a panel or a management system is theirs to guard.",
	Source: "ISO 13297:2020 12.1 to 12.3 as published in part, position from memory, verify against the standard; 33 CFR 183.455",
	Bad:    goodFeeder + "signal B1 [4 m 1 mm2] shows ME1\nmeter ME1 at locker\n",
	Good:   goodFeeder + "signal B1 [0.1 m 1 mm2] fuse F9 at locker: class blade, 32 V, 2 A [4 m 1 mm2] shows ME1\nmeter ME1 at locker\n",
}, func(p *pass) {
	for _, c := range p.signals {
		for k, e := range [...]circuit.End{c.From, c.To} {
			if senses(c, e, k == 0) {
				p.senseLead(c, e, endOf(c, 1-k))
			}
		}
	}
}}

// senses tells an end of a signal that is a wire on a live pole: a pole that is
// named, or where the signal comes from, or may, a battery's post or a bar.
func senses(c *circuit.Cable, e circuit.End, first bool) bool {
	if e.Item == nil || e.Port != "" || e.Pole == circuit.Negative || e.Pole == circuit.Neutral {
		return false
	}
	switch e.Item.Kind {
	case "bus", "stud", "board":
		return e.Pole != circuit.AllPoles || first || c.Action == ""
	case "battery", "bank":
		return e.Pole != circuit.AllPoles || first && (!carriesData(e.Item) || c.Area.State != circuit.Unstated)
	}
	return false
}

// carriesData tells a battery of which a signal may be the data of its electronics.
func carriesData(it *circuit.Item) bool { return chemistry(it) == "lfp" }

func (p *pass) senseLead(c *circuit.Cable, at, far circuit.End) {
	from, ok := at.Terminal()
	if !ok {
		return
	}
	bare := p.bareAt(from)
	into, known := p.letInto(from)
	if len(bare) == 0 && known && into == 0 {
		p.ok(c.ID) // nothing feeds it
		return
	}
	holds, sure := holdsAtMost(p.Craft.Rules, c)
	fused := far.Item != nil && far.Item.Nature().Protects
	length, said := lengthOf(c)
	limit, why := size.Reach(c)
	name := endName(at)
	switch {
	case fused && !said:
		p.unverified(c.ID, diag.Finding{Span: c.Span, Items: []string{far.Item.Ref}, Missing: "the length between " + name + " and " + far.Item.Ref})
	case fused && float64(length) > float64(limit)+1e-9:
		p.fail(c.ID, diag.Finding{Message: fmt.Sprintf("%s stands %s along the signal cable from %s; %s is the most %s", far.Item.Ref, length, name, limit, why),
			Span: c.Span, Items: []string{far.Item.Ref}, Cure: fmt.Sprintf("move the device to within %s of %s", limit, name)})
	case fused:
		rating, rated := p.rating(far.Item)
		p.held(c, []*circuit.Item{far.Item}, rating, rated, holds, sure)
	case len(bare) > 0 && !c.Area.Known():
		p.unverified(c.ID, diag.Finding{Span: c.Span, Items: refs(bare), Related: p.where(bare),
			Message: fmt.Sprintf("the signal cable %s begins at %s, which is live, and nothing is written that protects it", c.ID, name),
			Missing: "the fuse of the signal cable, or where it takes its signal from",
			Cure:    fmt.Sprintf("write its fuse, as in `signal %s [0.1 m 1 mm2] fuse F99: 2 A [3 m 1 mm2] …`, or name the sensor that it begins at", at.Item.Ref)})
	case len(bare) > 0 && at.Pole == circuit.AllPoles && carriesData(at.Item):
		p.unverified(c.ID, diag.Finding{Span: c.Span, Items: refs(bare), Related: p.where(bare),
			Message: fmt.Sprintf("the signal cable %s begins at %s and has a section: it may be a wire on its post, and nothing protects it", c.ID, name),
			Missing: "whether the signal cable " + c.ID + " is data or a wire on a post",
			Cure:    fmt.Sprintf("where it is a wire, write its fuse, as in `signal %s.positive [0.1 m 1 mm2] fuse F99: 2 A [3 m 1 mm2] …`; where it is data, leave its section out", at.Item.Ref)})
	case len(bare) > 0:
		p.fail(c.ID, diag.Finding{Message: fmt.Sprintf("nothing protects the signal cable %s at %s, where %s can feed it", c.ID, name, names(bare)),
			Span: c.Span, Items: refs(bare), Related: p.where(bare), Cure: fmt.Sprintf("put a small fuse into it within %s of %s", limit, name)})
	default:
		p.held(c, []*circuit.Item{at.Item}, into, known, holds, sure)
	}
}

// held compares what is let into a signal cable with what it holds.
func (p *pass) held(c *circuit.Cable, by []*circuit.Item, lets quantity.Ampere, known bool, holds quantity.Ampere, sure bool) {
	switch {
	case !known:
		p.unverified(c.ID, diag.Finding{Span: c.Span, Items: refs(by), Missing: "what " + names(by) + " lets into the signal cable " + c.ID})
	case holds == 0:
		p.unverified(c.ID, diag.Finding{Span: c.Span, Items: refs(by), Missing: "the size of the signal cable " + c.ID})
	case below(holds, lets):
		p.fail(c.ID, diag.Finding{Message: fmt.Sprintf("%s can let %s into the signal cable %s, which holds %s at most", names(by), lets, c.ID, holds),
			Span: c.Span, Items: refs(by), Related: p.where(by), Cure: fmt.Sprintf("put a fuse of less than %s into it where it begins", holds)})
	case !sure:
		p.unverified(c.ID, diag.Finding{Span: c.Span, Items: refs(by), Missing: "a size of the signal cable " + c.ID + " of which a capacity is published"})
	default:
		p.ok(c.ID)
	}
}

// bareAt are the sources from which current comes to a terminal through no device.
func (p *pass) bareAt(t circuit.Terminal) []*circuit.Item {
	var list []*circuit.Item
	for _, o := range p.net.Origin([]circuit.Terminal{t}, p.unfused()) {
		if n := o.Item.Nature(); n.Source && !limitsItself(o.Item) && o.Item.Status.In(p.configuration) && !slices.Contains(list, o.Item) {
			list = append(list, o.Item)
		}
	}
	return list
}

// letInto is the most that the devices round a terminal let into a further cable
// there: the sum of what each cable on it brings.
func (p *pass) letInto(t circuit.Terminal) (quantity.Ampere, bool) {
	var sum quantity.Ampere
	for _, c := range p.cables {
		for k := range c.Feeds {
			f := &c.Feeds[1-k]
			if at, ok := endOf(c.Of, k).Terminal(); !ok || at != t || len(f.Sources) == 0 {
				continue
			}
			switch {
			case f.Rating.Known:
				sum += f.Rating.Value
			case f.Limit.Known:
				sum += f.Limit.Value
			default:
				return 0, false
			}
		}
	}
	return sum, true
}

// holdsAtMost is what a signal cable carries by itself in free air at 30 °C, of a
// section thinner than the table's least what that carries, and then not sure;
// 0 where its section is not known. Insulation that is not stated is of 60 °C.
func holdsAtMost(rules string, c *circuit.Cable) (quantity.Ampere, bool) {
	if !c.Area.Known() {
		return 0, false
	}
	class := quantity.Celsius(60)
	if c.Spec.Insulation.Known() {
		class = c.Spec.Insulation.Value
	}
	set := table.SetOf(rules)
	if amps, ok := set.Ampacity(c.Area.Least(), class); ok {
		return amps.Value, true
	}
	for _, area := range table.Sizes() {
		if amps, ok := set.Ampacity(area, class); ok && area >= c.Area.Least() {
			return amps.Value, false
		}
	}
	return 0, false
}
