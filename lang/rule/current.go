package rule

// Currents and drops: what a cable, a bar, a source can carry or give.

import (
	"fmt"
	"slices"

	"strake/lang/circuit"
	"strake/lang/diag"
	"strake/lang/quantity"
	"strake/lang/size"
	"strake/lang/table"
)

var ampacityExceeded = Rule{diag.Info{Rule: "ampacity-exceeded", Severity: diag.Danger,
	Title:  "a cable that carries more than it holds",
	Why:    "The insulation ages in months, then burns. The capacity is taken after every derating: place, bundling, conduit, terminals.",
	Source: "ISO 13297:2020 Annex A, from memory, verify against the standard",
	Bad:    header + "run battery B1 in house at locker: agm, 12 V, 110 Ah, resistance 6 mohm [0.1 m 25 mm2] fuse F1: class t, 125 V, breaks 20 kA, 30 A [0.1 m 25 mm2] isolator Q1: 100 A, 32 V, 1 pole, load-break [2 m 4 mm2] pump P1 at locker: 600 W\n",
	Good:   goodFeeder,
}, func(p *pass) {
	for _, c := range p.cables {
		if beside := p.besideStarter(c.Of); beside > 0 && c.Ampacity.Known && below(c.Ampacity.Value, beside) {
			p.fail(c.Of.ID, diag.Finding{
				Message: fmt.Sprintf("the cable %s carries %s besides the start of its engine and holds %s (%s)", c.Of.ID, apart(beside, c.Ampacity.Value), c.Ampacity.Value, c.AmpacityBasis),
				Span:    c.Of.Span, Cure: "use a thicker cable, or lead what is no starter to the battery by a cable of its own",
			})
			continue
		}
		switch {
		case c.Of.Link || !c.DesignCurrent.Known || c.DesignCurrent.Value == 0 || p.cranking(c.Of) || p.aboveCable(c):
			continue
		case !c.Ampacity.Known:
			if !p.guardable(c) || len(c.Protection) == 0 { // else its device cannot be judged, which says it
				p.unverified(c.Of.ID, diag.Finding{Span: c.Of.Span, Missing: p.unknownOf(c)})
			}
		case below(c.Ampacity.Value, carried(c)):
			p.fail(c.Of.ID, diag.Finding{
				Message: fmt.Sprintf("the cable %s carries %s and holds %s (%s)", c.Of.ID, apart(carried(c), c.Ampacity.Value), c.Ampacity.Value, c.AmpacityBasis),
				Span:    c.Of.Span, Cure: "use a thicker cable, or leave the size out and let it be chosen",
			})
		default:
			p.ok(c.Of.ID)
		}
	}
}}

// carried is what a cable carries: its design current, or what its constant powers
// take at the voltage that the drop on the way leaves them, which is more.
func carried(c *size.Cable) quantity.Ampere {
	if c.DropCurrent.Known {
		return max(c.DesignCurrent.Value, c.DropCurrent.Value)
	}
	return c.DesignCurrent.Value
}

var dropExceeded = Rule{diag.Info{Rule: "volt-drop", Severity: diag.Fault,
	Title:  "too much voltage lost on the way to a load",
	Why:    "Lamps dim, pumps stall, electronics restart. The drop is summed from the source's terminals with the conductors warm. For navigation lights and bilge pumps it is a danger.",
	Source: "ISO 10133:2012 list of 3 % circuits, 10 % for the rest; resistance by IEC 60228",
	Bad:    header + "run battery B1 in house at locker: agm, 12 V, 75 Ah, resistance 6 mohm [0.1 m 25 mm2] fuse F1: class t, 125 V, breaks 20 kA, 30 A [0.1 m 25 mm2] isolator Q1: 100 A, 32 V, 1 pole, load-break [25 m 6 mm2] pump P1 at locker: 200 W\n",
	Good:   goodFeeder,
}, func(p *pass) {
	for _, c := range p.cables {
		if c.Of.Link || !c.Limit.Known {
			continue
		}
		// one of which the length or the size is not known leaves open all behind it,
		// wherever in the run it lies
		blind := !c.CumulativePercent.Known && !c.Resistance.Known
		if !blind && !slices.ContainsFunc(ends(c.Of), takesPower) {
			continue
		}
		switch {
		case !c.CumulativePercent.Known:
			if len(c.Missing) > 0 {
				p.unverified(c.Of.ID, diag.Finding{Span: c.Of.Span, Missing: c.Missing[0]})
			}
		case float64(c.CumulativePercent.Value) > float64(c.Limit.Value)+1e-9:
			severity := diag.Fault
			if far := c.Of.To.Item; far != nil && (far.Facts.Navigation || far.Facts.Bilge) {
				severity = diag.Danger
			}
			p.failAs(severity, c.Of.ID, diag.Finding{
				Message: fmt.Sprintf("%s is lost up to the end of the cable %s; %s is the limit", apart(c.CumulativePercent.Value, c.Limit.Value), c.Of.ID, c.Limit.Value),
				Span:    c.Of.Span, Cure: "use a thicker cable here or nearer the source, or leave sizes out and let them be chosen",
			})
		default:
			p.ok(c.Of.ID)
		}
	}
}}

// takesPower tells where a drop is felt: loads, what converts, boards.
func takesPower(it *circuit.Item) bool {
	n := it.Nature()
	return n.Load || n.Converts || it.Board != nil
}

var sectionTooSmall = Rule{diag.Info{Rule: "section-too-small", Severity: diag.Fault,
	Title:  "a conductor thinner than it may be",
	Why:    "A thinner conductor breaks where it moves or is pulled.",
	Source: "ISO 10133:2012 7.7 as excerpted: 1 mm2 single, 0.75 mm2 in a sheath; 33 CFR 183.425: 16 and 18 AWG",
	Bad:    header + "run battery B1 in house at locker: agm, 12 V, 75 Ah, resistance 6 mohm [0.1 m 25 mm2] fuse F1: class t, 125 V, breaks 20 kA, 2 A [2 m 0.5 mm2] pump P1 at locker: 6 W\n",
	Good:   goodFeeder,
}, func(p *pass) {
	for _, c := range p.cables {
		if c.Of.Link || !c.Area.Known || !c.Stated {
			continue
		}
		least := table.SetOf(p.Craft.Rules).Minimum(c.Of.Cores > 0).Value
		if c.Area.Value >= least {
			p.ok(c.Of.ID)
			continue
		}
		p.fail(c.Of.ID, diag.Finding{Message: fmt.Sprintf("the cable %s is %s; %s is the least", c.Of.ID, c.Area.Value, least),
			Span: c.Of.Span, Cure: fmt.Sprintf("use %s or more", least)})
	}
}}

var withstandExceeded = Rule{diag.Info{Rule: "short-circuit-withstand", Severity: diag.Danger,
	Title:  "a fault that its device does not clear in time",
	Why:    "At the far end of a thin cable the fault current is small: the device takes its time, or never opens, while the cable heats. A fault is to be opened within 5 s and to leave no more than k²S². A breaker that guards the cable against overload and opens a small fault as one, within its time of a minute or two, is an advice.",
	Source: "IEC 60364-4-43 433.1 and 434.5.2, from memory, verify against the standard",
	Bad:    header + "run battery B1 in house at locker: agm, 12 V, 75 Ah, resistance 6 mohm [0.1 m 25 mm2] fuse F1: class blade, 32 V, breaks 5 kA, 40 A [0.1 m 25 mm2] isolator Q1: 100 A, 32 V, 1 pole, load-break [25 m 1.5 mm2] pump P1 at locker: 6 W\n",
	Good:   goodFeeder,
}, func(p *pass) {
	for _, c := range p.cables {
		if !p.guardable(c) || len(c.Protection) == 0 {
			continue
		}
		switch {
		case c.Vague != nil && !c.FaultMin.Known && (c.Of.Domain == nil || !c.Of.Domain.AC): // one message for a source
			p.unverified(c.Of.ID, diag.Finding{Span: c.Vague.RefSpan, Items: []string{c.Vague.Ref},
				Message: fmt.Sprintf("whether a fault at the far end of %s opens its device is not verified: the resistance or short-circuit current of %s is not written", c.Of.ID, c.Vague.Ref),
				Missing: "the resistance or short-circuit current of " + c.Vague.Ref})
		case c.StaysShut && len(c.Limits) > 0: // said of its source
		case c.StaysShut:
			rating, _ := p.rating(c.OpenedBy)
			p.fail(c.Of.ID, diag.Finding{
				Message: fmt.Sprintf("a fault at the far end of %s draws only %s, which does not surely open %s of %s", c.Of.ID, c.OpensAt.Value, c.OpenedBy.Ref, rating),
				Span:    c.OpenedBy.RefSpan, Related: []diag.Related{{Span: c.Of.Span, Message: "the cable " + c.Of.ID}}, Items: []string{c.OpenedBy.Ref}, Cure: "use a smaller device or a thicker cable"})
		case p.aboveCable(c): // said already
		case c.Withstand == "fails" && c.OpensIn.Known && c.OpensIn.Value > 5:
			p.fail(c.Of.ID, diag.Finding{
				Message: fmt.Sprintf("a fault at the far end of %s draws %s, and %s may take %s to open; 5 s is the most, or what the cable stands", c.Of.ID, c.OpensAt.Value, c.OpenedBy.Ref, c.OpensIn.Value),
				Span:    c.Of.Span, Items: []string{c.OpenedBy.Ref}, Cure: "use a smaller device or a thicker cable"})
		case p.onlyAsOverload(c):
			p.failAs(diag.Advice, c.Of.ID, diag.Finding{
				Message: fmt.Sprintf("a fault at the far end of %s draws only %s: %s opens as for an overload, within %s, not surely at once", c.Of.ID, c.OpensAt.Value, c.OpenedBy.Ref, c.OpensIn.Value),
				Span:    c.Of.Span, Items: []string{c.OpenedBy.Ref}, Cure: "use a smaller device, one of a curve that opens sooner, or a thicker cable"})
		case c.LetsThrough.Known && len(c.Wanting) == 0: // for certain
			p.fail(c.Of.ID, diag.Finding{
				Message: fmt.Sprintf("%s %s %s through, as is written, and the cable %s stands %s", names(c.Protection), verb(c.Protection, "lets"), c.LetsThrough.Value, c.Of.ID, c.Stands),
				Span:    c.Of.Span, Items: refs(c.Protection), Cure: fmt.Sprintf("use a thicker cable; or write what the maker's curve has at %s, where that is less", faultOf(c))})
		case c.Withstand == "fails":
			p.fail(c.Of.ID, diag.Finding{
				Message: fmt.Sprintf("a fault on %s heats it beyond its insulation before %s %s", c.Of.ID, names(c.Protection), verb(c.Protection, "opens")),
				Span:    c.Of.Span, Items: refs(c.Protection), Cure: "use a smaller or faster device or a thicker cable"})
		case c.Withstand == "ok":
			p.ok(c.Of.ID)
		case len(c.Wanting) > 0:
			span := c.Of.Span
			if w := c.Protection[0].Way; w != nil {
				span = w.Board.RefSpan // one message for a board: its devices are of one make
			}
			if c.LetsThrough.Known {
				p.unverified(c.Of.ID, diag.Finding{Span: span, Items: refs(c.Protection), Missing: c.Wanting[0],
					Message: fmt.Sprintf("%s %s %s through, as is written, and the cable %s stands %s; %s is not written", names(c.Protection), verb(c.Protection, "lets"), c.LetsThrough.Value, c.Of.ID, c.Stands, c.Wanting[0]),
					Cure:    fmt.Sprintf("use a thicker cable; or write what the maker's curve has at %s, where that is less", faultOf(c))})
				continue
			}
			p.unverified(c.Of.ID, diag.Finding{Span: span, Items: refs(c.Protection), Missing: c.Wanting[0],
				Cure: "write what the device lets through, as `let-through 12 kA2s` from its maker's curve, or use a thicker cable"})
		}
	}
}}

// faultOf is the largest fault of a cable in words.
func faultOf(c *size.Cable) string {
	if !c.FaultMax.Known {
		return "the largest fault here"
	}
	return c.FaultMax.Value.String()
}

// onlyAsOverload tells a cable whose smallest fault opens its breaker, which guards
// it against overload, as an overload would and not surely at once.
func (p *pass) onlyAsOverload(c *size.Cable) bool {
	it := c.OpenedBy
	return it != nil && it.Kind != "fuse" && c.Withstand != "fails" && c.OpensIn.Known && c.OpensIn.Value > 5
}

var barOverloaded = Rule{diag.Info{Rule: "bar-overloaded", Severity: diag.Fault,
	Title:  "a bar rated below what it carries",
	Why:    "A bar that runs hot loosens its own joints.",
	Source: "common practice",
	Bad:    header + "run battery B1 in house at locker: agm, 12 V, 110 Ah, resistance 6 mohm [0.1 m 25 mm2] fuse F1: class t, 125 V, breaks 20 kA, 80 A [0.1 m 25 mm2] isolator Q1: 100 A, 32 V, 1 pole, load-break [0.2 m 25 mm2] bus PB in house at locker: 20 A\nrun PB [2 m 25 mm2] pump P1 at locker: 600 W\n",
	Good:   goodFeeder,
}, func(p *pass) {
	p.items(func(it *circuit.Item) {
		dev := p.deviceOf[it]
		if !it.Nature().Conductive || dev == nil || !dev.Current.Known {
			return
		}
		rating, ok := p.rating(it)
		switch {
		case !ok:
			p.unverified(it.Ref, diag.Finding{Span: it.RefSpan, Missing: "the rated current of " + it.Ref})
		case below(rating, dev.Current.Value):
			p.fail(it.Ref, diag.Finding{Message: fmt.Sprintf("%s carries %s and is rated %s", called(it), apart(dev.Current.Value, rating), rating),
				Span: it.RefSpan, Cure: fmt.Sprintf("fit a bar that is rated for %s or more", dev.Current.Value)})
		default:
			p.ok(it.Ref)
		}
	})
}}

var dischargeExceeded = Rule{diag.Info{Rule: "battery-overdrawn", Severity: diag.Fault,
	Title:  "more current asked of a battery than it gives",
	Why:    "A lithium pack switches itself off under full load, when it is needed most; a lead battery collapses.",
	Source: "common practice; limits are the maker's",
	Bad:    "craft \"Small boat\" {\n    cable class 5, tinned, 105 degC, free\n}\ndomain house: dc 12 V, 10.5 V to 14.6 V\nplace locker: 40 degC\nrun battery B1 in house at locker: lfp, 12.8 V, 100 Ah, resistance 6 mohm, discharge 20 A, charge 50 A [0.1 m 25 mm2] fuse F1: class t, 125 V, breaks 20 kA, 80 A [0.1 m 25 mm2] isolator Q1: 100 A, 32 V, 1 pole, load-break [2 m 25 mm2] pump P1 at locker: 600 W\n",
	Good:   goodFeeder,
}, func(p *pass) {
	p.items(func(it *circuit.Item) {
		if !it.Nature().Stores || it.MemberOf != nil {
			return
		}
		drawn, _, lacks, draws := p.drawnFrom(it)
		limit := dischargeLimit(it)
		switch {
		case !draws:
		case !limit.Known():
			if chemistry(it) == "lfp" { // it switches itself off; lead only sags
				p.unverified(it.Ref, diag.Finding{Span: it.RefSpan, Missing: "the discharge limit of " + it.Ref})
			}
		case below(limit.Value, drawn):
			p.fail(it.Ref, diag.Finding{Message: fmt.Sprintf("%s gives %s, and %s is asked of it", called(it), limit.Value, apart(drawn, limit.Value)),
				Span: it.RefSpan, Cure: "fit more or stronger batteries, or write an interlock or conditions that say what never runs together"})
		case lacks != nil:
			p.unverified(it.Ref, diag.Finding{Span: it.RefSpan, Items: []string{lacks.Of.ID}, Missing: "what decides the current of " + lacks.Of.ID + ", " + p.unknownOf(lacks)})
		default:
			p.ok(it.Ref)
		}
	})
}}

// drawnFrom is what the cables and bolted devices on a battery draw from it together,
// as declared and with everything on at once; a cable of which that is not known, or
// nil; and whether anything draws. Of several cables those count behind which
// something takes current: the others charge.
func (p *pass) drawnFrom(it *circuit.Item) (drawn, allOn quantity.Ampere, lacks *size.Cable, draws bool) {
	on := p.net.Cables(circuit.Terminal{Item: it})
	for _, c := range on {
		s := p.cableOf[c]
		if s == nil || c.Bank != nil || !c.Status.In(p.configuration) || len(on) > 1 && !p.drawsBehind(c, it) {
			continue
		}
		if c.Link {
			for _, far := range ends(c) {
				if dev := p.deviceOf[far]; far != it && dev != nil && !far.Nature().Conductive && dev.Current.Known {
					draws, drawn, allOn = true, drawn+dev.Current.Value, allOn+max(dev.Current.Value, p.everythingThrough(far))
				}
			}
			continue
		}
		if !s.DesignCurrent.Known {
			continue
		}
		draws = true
		if !s.DropCurrent.Known {
			lacks = s
			continue
		}
		drawn, allOn = drawn+s.DropCurrent.Value, allOn+max(s.DropCurrent.Value, s.AllOn.Value)
	}
	return drawn, allOn, lacks, draws
}

// drawsBehind tells whether anything takes current behind a cable, as seen from one of
// its ends.
func (p *pass) drawsBehind(c *circuit.Cable, from *circuit.Item) bool {
	view := cut(p.view, c)
	for _, e := range [...]circuit.End{c.From, c.To} {
		if t, ok := e.Terminal(); ok && t.Item != from {
			for _, r := range p.net.Reach([]circuit.Terminal{t}, view) {
				if r.Item != from && p.taken(r) > 0 {
					return true
				}
			}
		}
	}
	return false
}

// dischargeLimit is a battery's, or of a series string its weakest member's.
func dischargeLimit(it *circuit.Item) circuit.Fact[quantity.Ampere] {
	return batteryLimit(it, func(it *circuit.Item) circuit.Fact[quantity.Ampere] { return it.Facts.Discharge })
}

// batteryLimit is a battery's limit, or of a bank that states none that of its members.
func batteryLimit(it *circuit.Item, said func(*circuit.Item) circuit.Fact[quantity.Ampere]) circuit.Fact[quantity.Ampere] {
	if own := said(it); it.Bank == nil || own.Known() {
		return atLeast(own)
	}
	var least circuit.Fact[quantity.Ampere]
	for _, m := range it.Bank.Members {
		limit := batteryLimit(m, said)
		if !limit.Known() {
			return limit
		}
		if !least.Known() || limit.Value < least.Value {
			least = limit
		}
	}
	if !it.Bank.Series {
		least.Value *= quantity.Ampere(len(it.Bank.Members))
	}
	return least
}

// atLeast is a limit at the lower end of what `about` leaves open.
func atLeast(f circuit.Fact[quantity.Ampere]) circuit.Fact[quantity.Ampere] {
	f.Value = f.Least()
	if f.State == circuit.About {
		f.State = circuit.Stated
	}
	return f
}

var chargeExceeded = Rule{diag.Info{Rule: "charge-current-too-high", Severity: diag.Fault,
	Title:  "charge sources that give more than the bank takes",
	Why:    "Above its limit a lithium pack opens while its chargers run, and their voltage jumps; a lead battery gasses. A danger for lithium. Lead takes of an alternator what it will, for a while well above its limit; many times the limit is worth a look.",
	Source: "common practice; limits are the maker's",
	Bad:    twoDomains + "run PB [link] fuse F2: class t, 125 V, breaks 20 kA, 60 A [1 m 16 mm2] converter CH1 at locker: 24 V, 25 A, isolated [0.3 m 10 mm2] fuse F3: class t, 125 V, breaks 20 kA, 30 A [0.1 m 10 mm2] battery W1 in winch at locker: lfp, 25.6 V, 50 Ah, resistance 8 mohm, discharge 50 A, charge 10 A\n",
	Good:   goodFeeder,
}, func(p *pass) {
	p.items(func(it *circuit.Item) {
		limit := chargeLimit(it)
		if !it.Nature().Stores || it.MemberOf != nil {
			return
		}
		start := terminals(it)
		sum, banks, turning := quantity.Ampere(0), limit.Value, quantity.Ampere(0)
		var sources []*circuit.Item
		for _, t := range p.net.Origin(start, p.view) {
			o := t.Item
			switch {
			case o == it || o.MemberOf != nil:
			case o.Nature().Stores:
				if l := chargeLimit(o); l.Known() {
					banks += l.Value // what is in parallel shares
				}
			case o.Nature().Limited && chargePort(o, t.Port):
				if a, ok := chargeCurrent(o); ok {
					sum += a
					sources = append(sources, o)
				}
			case circuit.IsControl(t.Port) || !p.pushes(o, chemistry(it)):
				if a, ok := pushed(o, t.Port); ok && o.Kind == "alternator" {
					turning += a
				}
			default:
				if a, ok := pushed(o, t.Port); ok {
					sum += a
					sources = append(sources, o)
				}
			}
		}
		switch {
		case len(sources) == 0 && !(limit.Known() && float64(turning) > leadTakes*float64(banks)):
			return
		case limit.Known() && banks >= sum && float64(turning) > leadTakes*float64(banks):
			p.failAs(diag.Advice, it.Ref, diag.Finding{Message: fmt.Sprintf("the alternator gives %s, and the bank of %s takes %s", turning, it.Ref, banks),
				Span: it.RefSpan, Cure: "see whether the limit is the maker's; if it is, fit a larger battery or a regulator that limits the current"})
		case !limit.Known():
			p.unverified(it.Ref, diag.Finding{Span: it.RefSpan, Items: refs(sources), Missing: fmt.Sprintf("the charge limit of %s (%s can give %s)", it.Ref, names(sources), sum)})
		case below(banks, sum):
			severity := diag.Fault
			if chemistry(it) == "lfp" {
				severity = diag.Danger
			}
			p.failAs(severity, it.Ref, diag.Finding{Message: fmt.Sprintf("%s %s, and the bank of %s takes %s", names(sources), giveTogether(sources, sum), it.Ref, banks),
				Span: it.RefSpan, Related: p.where(sources), Items: refs(sources), Cure: "set a charger lower and write what it is set to, or write an interlock"})
		default:
			p.ok(it.Ref)
		}
	})
}}

// leadTakes is how many times its charge limit an alternator may give before a
// lead battery on it is worth a look (common practice).
const leadTakes = 4

// giveTogether is what one source gives, or several together.
func giveTogether(sources []*circuit.Item, sum quantity.Ampere) string {
	if len(refs(sources)) > 1 {
		return fmt.Sprintf("give %s together", sum)
	}
	return fmt.Sprintf("gives %s", sum)
}

func chemistry(it *circuit.Item) string {
	if it.Bank != nil && len(it.Bank.Members) > 0 && it.Facts.Chemistry == "" {
		return chemistry(it.Bank.Members[0])
	}
	return it.Facts.Chemistry
}

// pushes tells what charges besides chargers: a charger ashore, and into lithium,
// which takes all that comes, an alternator, a wind generator, a motor that gives
// back. Lead takes from these what it will.
func (p *pass) pushes(o *circuit.Item, into string) bool {
	d := powerDomain(o)
	switch {
	case d == nil || d.AC:
		return false
	case o.Kind == "inlet":
		return true
	}
	return into == "lfp" && (o.Kind == "alternator" || o.Kind == "source" || o.Kind == "generator" || o.Facts.Regenerates.Known())
}

// pushed is what such a source gives.
func pushed(o *circuit.Item, port string) (quantity.Ampere, bool) {
	f := o.Facts
	switch {
	case f.Regenerates.Known():
		return amperesAt(float64(f.Regenerates.Most()), o.PortDomain(port)), true
	case f.Current.Known():
		return f.Current.Most(), true
	case f.Power.Known():
		return amperesAt(float64(f.Power.Most()), o.PortDomain(port)), true
	}
	return 0, false
}

// chargeTerminal is where what converts gives direct current to a battery.
func chargeTerminal(it *circuit.Item) circuit.Terminal {
	if it.Kind == "inverter-charger" {
		return circuit.Terminal{Item: it, Port: "dc"}
	}
	return circuit.Terminal{Item: it, Port: "out"}
}

func chargePort(it *circuit.Item, port string) bool {
	if it.Kind == "inverter-charger" {
		return port == "dc"
	}
	return circuit.IsOutput(port)
}

// chargeCurrent is what a charger, converter or regulator gives.
func chargeCurrent(it *circuit.Item) (quantity.Ampere, bool) {
	if it.Facts.Charge.Known() {
		return it.Facts.Charge.Most(), true
	}
	return it.Facts.Current.Most(), it.Facts.Current.Known() && it.Kind != "inverter" && it.Kind != "inverter-charger"
}

// chargeLimit is a battery's, or of a series string its weakest member's.
func chargeLimit(it *circuit.Item) circuit.Fact[quantity.Ampere] {
	return batteryLimit(it, func(it *circuit.Item) circuit.Fact[quantity.Ampere] { return it.Facts.Charge })
}
