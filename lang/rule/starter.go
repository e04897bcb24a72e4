package rule

// A starter's cables, which may go without a protective device, and what is asked
// of them instead.

import (
	"fmt"
	"slices"
	"strings"

	"strake/lang/circuit"
	"strake/lang/diag"
	"strake/lang/quantity"
	"strake/lang/size"
)

var starterUnprotected = Rule{diag.Info{Rule: "starter-unprotected", Severity: diag.Advice,
	Title:  "a starter's cable with nothing that ends a short circuit in it",
	Why:    "A cable that feeds nothing but a starter may go without a device, as few devices stand the start. Then nothing ends a fault in it: it draws all that the battery gives until something has burnt through. So it is short, thick enough, and in conduit or another cover throughout, clear of edges and of the exhaust; or it has a fuse that stands the start.",
	Source: "33 CFR 183.455 exempts cranking circuits, from memory, verify against the rule; cover and length: common practice",
	Bad:    cranks("[2 m 50 mm2]"),
	Good:   cranks("[2 m 50 mm2, in conduit]"),
}, func(p *pass) {
	told := map[*circuit.Item]bool{}
	for _, c := range p.cables {
		if !p.bareStarter(c) || c.Of.Spec.Conduit || p.withinReach(c.Of) {
			continue
		}
		for _, it := range p.startersOn(c.Of) {
			if told[it] {
				continue
			}
			told[it] = true
			p.fail(it.Ref, diag.Finding{Message: fmt.Sprintf("nothing protects the cable %s of %s against a short circuit", c.Of.ID, called(it)),
				Span: c.Of.Span, Items: []string{c.Of.ID}, Related: p.where([]*circuit.Item{it}),
				Cure: "lay it short and `in conduit` throughout, or put a fuse that stands the start within 0.2 m of the battery"})
		}
	}
	p.items(func(it *circuit.Item) {
		if it.Kind == "starter" && !told[it] {
			p.ok(it.Ref)
		}
	})
}}

// withinReach tells a cable no longer than may go without a device in any circuit.
func (p *pass) withinReach(c *circuit.Cable) bool {
	l, known := lengthOf(c)
	return known && float64(l) <= float64(reachDC)+1e-9
}

// bareStarter tells a starter's cable that a battery feeds through no device.
func (p *pass) bareStarter(c *size.Cable) bool {
	if c.Of.Link || !p.cranking(c.Of) {
		return false
	}
	for k := range c.Feeds {
		if len(p.unlimited(&c.Feeds[k])) > 0 {
			return true
		}
	}
	return false
}

// startersOn are the starters that a cable feeds.
func (p *pass) startersOn(c *circuit.Cable) []*circuit.Item {
	view := cut(p.view, c)
	var list []*circuit.Item
	for _, end := range [...]circuit.End{c.From, c.To} {
		if t, ok := end.Terminal(); ok && p.cranksOnly(t, c) {
			for _, r := range p.net.Reach([]circuit.Terminal{t}, view) {
				if r.Item.Kind == "starter" {
					list = append(list, r.Item)
				}
			}
		}
	}
	return list
}

var starterCableThin = Rule{diag.Info{Rule: "starter-cable-too-thin", Severity: diag.Danger,
	Title:  "a cable that does not stand its starter for half a minute",
	Why:    "A starter's cable is not held against its steady capacity, as a start is over in seconds. But somebody holds the key for half a minute when the engine does not catch, and the insulation must stand that: I²t within k²S². A start that is not written is taken as 100 A, which the smallest engine draws, and is not verified.",
	Source: "IEC 60364-4-43 434.5.2; half a minute, and 100 A at least: common practice",
	Bad:    cranks("[0.3 m 6 mm2, in conduit]"),
	Good:   cranks("[0.3 m 50 mm2, in conduit]"),
}, func(p *pass) {
	for _, c := range p.cables {
		if c.Of.Link || !p.cranking(c.Of) {
			continue
		}
		start, written := c.DropCurrent.Value, c.DropCurrent.Known
		for _, it := range p.startersOn(c.Of) {
			if !it.Facts.Start.Known() {
				written = false
				p.unverified(it.Ref, diag.Finding{Span: it.RefSpan, Items: []string{c.Of.ID}, Missing: fmt.Sprintf("what %s draws when it starts, such as `start 300 A`", it.Ref)})
			}
		}
		if !written {
			start = max(start, leastStart)
		}
		if !c.Area.Known {
			p.unverified(c.Of.ID, diag.Finding{Span: c.Of.Span, Missing: p.unknownOf(c)})
			continue
		}
		least := size.StartArea(c, start)
		if have := float64(c.Area.Value) * float64(max(1, c.Parallel)); have < float64(least)*(1-1e-9) {
			atLeast := ""
			if !written {
				atLeast = "at least "
			}
			p.fail(c.Of.ID, diag.Finding{Message: fmt.Sprintf("the cable %s of %s carries %s%s while its engine is started, and half a minute of that asks for %s", c.Of.ID, quantity.SquareMM(have), atLeast, start, least),
				Span: c.Of.Span, Cure: "use a thicker cable, or leave the size out and let it be chosen"})
			continue
		}
		p.ok(c.Of.ID)
	}
}}

var startAboveBattery = Rule{diag.Info{Rule: "start-above-battery", Severity: diag.Fault,
	Title:  "a starter that draws more than its battery gives in the cold",
	Why:    "The cold cranking current is what a lead battery gives at -18 °C for half a minute. One below the start's current leaves the engine still on a cold morning. Where its own resistance takes more than a third of its voltage at the start, the starter hardly turns: that is worth a look.",
	Source: "EN 50342-1, from memory, verify against the standard; a third of the voltage: common practice",
	Bad:    strings.Replace(cranks("[0.3 m 50 mm2, in conduit]"), "90 Ah,", "90 Ah, cca 150 A,", 1),
	Good:   strings.Replace(cranks("[0.3 m 50 mm2, in conduit]"), "90 Ah,", "90 Ah, cca 700 A,", 1),
}, func(p *pass) {
	p.items(func(it *circuit.Item) {
		start := it.Facts.Start
		if it.Kind != "starter" || !start.Known() {
			return
		}
		var gives quantity.Ampere
		var mho float64
		var batteries []*circuit.Item
		volts, cold, inner := quantity.Volt(0), true, true
		for _, t := range p.net.Origin(terminals(it), p.view) {
			b := t.Item
			if !b.Nature().Stores || b.MemberOf != nil || slices.Contains(batteries, b) {
				continue
			}
			batteries = append(batteries, b)
			cold = cold && b.Facts.Cranking.Known()
			gives += b.Facts.Cranking.Least()
			v, ok := bankVolts(b)
			inner = inner && ok && b.Facts.Resistance.Known() && b.Facts.Resistance.Value > 0
			if inner {
				mho, volts = mho+1/float64(b.Facts.Resistance.Most()), max(volts, v)
			}
		}
		f := diag.Finding{Span: it.RefSpan, Items: refs(batteries), Related: p.where(batteries), Cure: "fit a battery that gives more for a start"}
		switch lost := float64(start.Most()) / max(mho, 1e-9); {
		case len(batteries) == 0:
		case cold && gives < start.Most():
			f.Message = fmt.Sprintf("%s draws %s when it starts, and the cold cranking current of %s is %s", called(it), start.Most(), names(batteries), gives)
			p.fail(it.Ref, f)
		case inner && lost > float64(volts)/3:
			f.Message = fmt.Sprintf("%s draws %s when it starts, and %s lost in %s by itself leaves little of %s", called(it), start.Most(), quantity.Volt(lost), names(batteries), volts)
			p.failAs(diag.Advice, it.Ref, f)
		default:
			p.ok(it.Ref)
		}
	})
}}

// leastStart is what the starter of the smallest engine draws (common practice).
const leastStart = quantity.Ampere(100)

// cranks is a starter on its battery, with the cable between its switch and itself.
func cranks(cable string) string {
	return header + "run battery B1 in house at locker: agm, 12 V, 90 Ah, resistance 3 mohm, terminals 105 degC [0.1 m 50 mm2] isolator Q1 at locker: 300 A, 32 V, 1 pole, load-break " + cable + " starter ST1 at locker: start 200 A\n"
}

var starterBankShared = Rule{diag.Info{Rule: "starter-bank-shared", Severity: diag.Fault,
	Title:  "a starter's battery that stands in parallel with another bank at all times",
	Why:    "What runs at anchor empties both, and then the engine does not start, which would charge them. A switch that joins them in an emergency usually stands open and says `off`; a relay that joins them while they are charged, a changeover, or a converter between them keeps the start. Batteries that gather on one bar by equal ways are one bank, and are not meant.",
	Source: "common practice",
	Bad:    paralleled("isolator Q3 at locker: 150 A, 32 V, 1 pole, load-break"),
	Good:   paralleled("charger CH1 at locker: 12 V, 60 A, input 80 A, isolated, one way"),
}, func(p *pass) {
	usual := p.withOpen(func(it *circuit.Item) bool {
		return it.Facts.UsualOff || it.Kind == "changeover" || it.HasPort("coil") || p.careful(it)
	})
	p.items(func(it *circuit.Item) {
		if it.Kind != "starter" {
			return
		}
		near, far := p.banksBy(it, usual)
		switch {
		case near == nil:
		case far == nil:
			p.ok(it.Ref)
		default:
			p.fail(near.Ref, diag.Finding{
				Message: fmt.Sprintf("%s starts %s and stands in parallel with %s at all times: what runs on one empties both", called(near), called(it), called(far)),
				Span:    near.RefSpan, Related: p.where([]*circuit.Item{far, it}), Items: []string{far.Ref, it.Ref},
				Cure: "part them by a switch that usually stands open and says `off`, by a relay that closes while they are charged, or charge one from the other through a converter"})
		}
	})
}}

// banksBy is the battery that stands nearest to a starter, and one that stands
// farther off beside loads; nil where there is none.
func (p *pass) banksBy(starter *circuit.Item, view circuit.View) (near, far *circuit.Item) {
	at := circuit.Terminal{Item: starter}
	steps := map[*circuit.Item]int{}
	var banks []*circuit.Item
	for _, t := range p.net.Origin([]circuit.Terminal{at}, view) {
		if it := t.Item; it.Nature().Stores && it.MemberOf == nil && t.Port == "" {
			banks = append(banks, it)
			steps[it] = len(p.net.Path(t, at, view))
			if near == nil || steps[it] < steps[near] {
				near = it
			}
		}
	}
	serves := slices.ContainsFunc(p.net.Reach([]circuit.Terminal{at}, view), func(t circuit.Terminal) bool {
		n := t.Item.Nature()
		return t.Item != starter && !circuit.IsControl(t.Port) && (n.Load && t.Item.Kind != "starter" || n.Converts && circuit.IsInput(t.Port))
	})
	for _, it := range banks {
		if serves && steps[it] > steps[near] && !p.gatheredWith(near, it, at, view) {
			return near, it
		}
	}
	return near, nil
}

// gatheredWith tells batteries that gather, as one bank, on a bar by which the
// first of them feeds a terminal.
func (p *pass) gatheredWith(a, b *circuit.Item, at circuit.Terminal, view circuit.View) bool {
	return slices.ContainsFunc(p.net.Path(circuit.Terminal{Item: a}, at, view), func(st circuit.Step) bool {
		packs := st.To.Item.Packs
		return slices.Contains(packs, a) && slices.Contains(packs, b)
	})
}

// paralleled is a small boat with a starter's battery and a house battery, and
// something between them.
func paralleled(by string) string {
	return header + `battery B1..B2 in house at locker: agm, 12 V, 90 Ah, cca 800 A, resistance 4 mohm, terminals 105 degC
run B1 [0.1 m 70 mm2, in conduit] isolator Q1 at locker: 400 A, 32 V, 1 pole, load-break [1.5 m 70 mm2, in conduit] starter ST1 at locker: 12 V, start 200 A
run B2 [0.1 m 35 mm2] fuse F2 at locker: class t, 125 V, breaks 20 kA, 125 A [0.1 m 35 mm2] isolator Q2 at locker: 150 A, 32 V, 1 pole, load-break [0.2 m 35 mm2] bus PB in house at locker: 200 A
run PB [0.2 m 10 mm2] fuse F3 at locker: class t, 125 V, breaks 20 kA, 30 A [2 m 10 mm2] load L1 at locker: 60 W
run Q1.out [0.1 m 50 mm2] fuse F4 at locker: class t, 125 V, breaks 20 kA, 125 A [0.1 m 50 mm2] ` + by + ` [0.2 m 50 mm2] fuse F5 at locker: class t, 125 V, breaks 20 kA, 125 A [0.1 m 50 mm2] PB
`
}
