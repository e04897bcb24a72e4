package rule

// Ratings of protective devices and switches where they sit: voltage, breaking
// capacity, current, poles.

import (
	"fmt"

	"strake/lang/circuit"
	"strake/lang/diag"
	"strake/lang/quantity"
	"strake/lang/size"
	"strake/lang/table"
)

// switching tells the devices that interrupt: protection and switches.
func switching(it *circuit.Item) bool {
	n := it.Nature()
	return (n.Protects || n.Residual || n.Opens) && it.Kind != "float-switch" && it.Kind != "stop" && it.Kind != "relay"
}

var voltageRatingTooLow = Rule{diag.Info{Rule: "voltage-rating-too-low", Severity: diag.Danger,
	Title:  "a device rated below the highest voltage where it sits",
	Why:    "A fuse or a switch that opens above its voltage draws an arc that does not go out. What counts is the highest charging voltage, not the name of the system.",
	Source: "33 CFR 183.455 (nominal voltage); the highest voltage: common practice",
	Bad:    header + "run battery B1 in house at locker: agm, 12 V, 75 Ah, resistance 6 mohm [0.1 m 25 mm2] fuse F1: class t, 12 V, breaks 20 kA, 80 A [2 m 25 mm2] pump P1 at locker: 60 W\n",
	Good:   goodFeeder,
}, func(p *pass) {
	p.items(func(it *circuit.Item) {
		d := powerDomain(it)
		if it.Nature().Contacts {
			d = p.highestOn(it)
		}
		if !switching(it) && !it.Nature().Contacts || d == nil {
			return
		}
		top, ok := p.highest(d)
		if d.AC { // rated by the nominal voltage; what is sold for mains is taken to be made for it
			if top, ok = d.Nominal.Value, d.Nominal.Known(); !it.Facts.Voltage.Known() {
				return
			}
		}
		rated := it.Facts.Voltage.Opt()
		if dev := p.deviceOf[it]; dev != nil && !rated.Known {
			rated = dev.Voltage
		}
		switch {
		case !ok:
			p.unverified(it.Ref, diag.Finding{Span: it.RefSpan, Missing: "the voltage of the domain " + d.Name})
		case !rated.Known:
			p.unverified(it.Ref, diag.Finding{Span: it.RefSpan, Missing: "the rated DC voltage of " + it.Ref})
		case rated.Value < top:
			p.fail(it.Ref, diag.Finding{
				Message: fmt.Sprintf("%s is rated %s and sits in %s, which reaches %s", called(it), rated.Value, d.Name, top),
				Span:    it.RefSpan, Related: inDomain(d),
				Cure: fmt.Sprintf("fit one that is rated for %s %s or more", top, currentOf(d)),
			})
		default:
			p.ok(it.Ref)
		}
	})
}}

// highestOn is, of the domains whose cables land on an item's contacts, the one
// with the highest voltage: each contact may stand in another.
func (p *pass) highestOn(it *circuit.Item) *circuit.Domain {
	var most *circuit.Domain
	top := quantity.Volt(0)
	for _, c := range p.cables {
		d := c.Of.Domain
		for _, e := range []circuit.End{c.Of.From, c.Of.To} {
			if e.Item != it || circuit.IsControl(e.Port) || d == nil {
				continue
			}
			if v, ok := p.highest(d); ok && v > top {
				most, top = d, v
			}
		}
	}
	return most
}

func currentOf(d *circuit.Domain) string {
	if d.AC {
		return "AC"
	}
	return "DC"
}

var holderVoltageTooLow = Rule{diag.Info{Rule: "holder-voltage-too-low", Severity: diag.Danger,
	Title:  "a fuse holder rated below the highest voltage where it sits",
	Why:    "The fuse may be right and its holder not: the arc and the insulation are the holder's as well.",
	Source: "33 CFR 183.455 (nominal voltage); the highest voltage: common practice",
	Bad:    header + "run battery B1 in house at locker: agm, 12 V, 75 Ah, resistance 6 mohm [0.1 m 25 mm2] fuse F1: class t, 125 V, holder 12 V, breaks 20 kA, 80 A [2 m 25 mm2] pump P1 at locker: 60 W\n",
	Good:   goodFeeder,
}, func(p *pass) {
	p.items(func(it *circuit.Item) {
		d := powerDomain(it)
		if !it.Facts.Holder.Known() || d == nil {
			return
		}
		top, ok := p.highest(d)
		switch {
		case !ok:
			p.unverified(it.Ref, diag.Finding{Span: it.RefSpan, Missing: "the voltage of the domain " + d.Name})
		case it.Facts.Holder.Least() < top:
			p.fail(it.Ref, diag.Finding{
				Message: fmt.Sprintf("the holder of %s is rated %s and sits in %s, which reaches %s", called(it), it.Facts.Holder.Least(), d.Name, top),
				Span:    it.Facts.Holder.Span.Join(it.RefSpan), Cure: fmt.Sprintf("fit a holder that is rated for %s DC or more", top),
			})
		default:
			p.ok(it.Ref)
		}
	})
}}

var breakingCapacityTooLow = Rule{diag.Info{Rule: "breaking-capacity-too-low", Severity: diag.Danger,
	Title:  "a protective device that cannot break the fault current",
	Why:    "A fuse or breaker that meets more than it can break explodes or welds. The current is the most that can flow there: every source and tie closed, cold cable, 0.9 of the battery's resistance, no contacts counted. A supply ashore that states none gives 1 kA at least, and is taken to give no more than 6 kA; a transformer 10 to 50 times its rated current, a generator 10 times at most.",
	Source: "ABYC E-11 table V as printed by a wholesaler (principle); IEC 61660-1 for the factor 0.9, from memory",
	Bad:    header + "run battery B1 in house at locker: agm, 12 V, 75 Ah, resistance 6 mohm [0.1 m 25 mm2] fuse F1: class blade, 32 V, breaks 1 kA, 40 A [2 m 25 mm2] pump P1 at locker: 60 W\n",
	Good:   goodFeeder,
}, func(p *pass) {
	p.items(func(it *circuit.Item) {
		if !it.Nature().Protects {
			return
		}
		dev, d := p.deviceOf[it], powerDomain(it)
		if dev != nil && d != nil && d.AC && !dev.FaultMax.Known && !dev.Breaks.Known {
			p.unverified(it.Ref, diag.Finding{Span: it.RefSpan, Missing: "what " + it.Ref + " can break, as `breaks 6 kA`"})
			return
		}
		if dev == nil || d == nil {
			return
		}
		if d.AC && !dev.FaultMax.Known {
			p.breaksMains(it, dev.Breaks.Value)
			return
		}
		switch {
		case !dev.FaultMax.Known && (len(dev.Missing) == 0 || p.tapsString(it)):
			return // nothing feeds it, or a tap that is said elsewhere
		case !dev.FaultMax.Known && p.byCranking(it, dev):
		case !dev.FaultMax.Known:
			p.unverified(it.Ref, diag.Finding{Span: it.RefSpan, Missing: dev.Missing[0]})
		case !dev.Breaks.Known:
			p.unverified(it.Ref, diag.Finding{Span: it.RefSpan, Missing: fmt.Sprintf("what %s can break (%s can flow there)", it.Ref, dev.FaultMax.Value),
				Cure: "write its class, or what it `breaks`" + classFor(it, dev)})
		case dev.Breaks.Value < dev.FaultMax.Value:
			p.fail(it.Ref, diag.Finding{
				Message: fmt.Sprintf("%s breaks %s, and %s can flow there", called(it), dev.Breaks.Value, apart(dev.FaultMax.Value, dev.Breaks.Value)),
				Span:    it.RefSpan, Cure: fmt.Sprintf("fit one that breaks %s or more%s", dev.FaultMax.Value, classFor(it, dev)),
			})
		default:
			p.ok(it.Ref)
		}
	})
}}

// classFor names the plainest class of fuse that would do.
func classFor(it *circuit.Item, dev *size.Device) string {
	if it.Kind != "fuse" || !dev.FaultMax.Known || !dev.NodeMax.Known {
		return ""
	}
	c, ok := table.ClassFor(dev.Rating.Value, dev.NodeMax.Value, dev.FaultMax.Value)
	if !ok {
		return ""
	}
	return fmt.Sprintf("; class %s would do, %s and %s", c.Value.Name, c.Value.Voltage.Value, c.Value.Breaks.Value)
}

// byCranking judges a device by the American table, where its fault level is not
// known but the cold cranking current of every lead battery that feeds it is.
func (p *pass) byCranking(it *circuit.Item, dev *size.Device) bool {
	d := powerDomain(it)
	top, ok := p.highest(d)
	if p.Craft.Rules != string(table.ABYC) || !ok || top > 32 || !dev.Breaks.Known {
		return false
	}
	var cranking quantity.Ampere
	seen, first := map[*circuit.Item]bool{}, false
	for _, t := range terminals(it) {
		for _, s := range p.net.Supplies(t, p.view) {
			b := s.Item
			if b.Kind != "battery" || seen[b] {
				if b.Kind == "bank" {
					return false
				}
				continue
			}
			if !b.Facts.Cranking.Known() || chemistry(b) == "lfp" {
				return false
			}
			seen[b] = true
			cranking += b.Facts.Cranking.Most()
		}
		for _, b := range p.backFeed(t) {
			first = first || b.Kind == "battery"
		}
	}
	if len(seen) == 0 {
		return false
	}
	main, least, source := table.Interrupting(cranking)
	if first {
		least = main
	}
	if dev.Breaks.Value >= least {
		p.ok(it.Ref)
		return true
	}
	p.fail(it.Ref, diag.Finding{
		Message: fmt.Sprintf("%s breaks %s; %s is the least behind %s of cold cranking current", called(it), dev.Breaks.Value, least, cranking),
		Span:    it.RefSpan, Cure: fmt.Sprintf("fit one that breaks %s or more, or write the `resistance` of the batteries", least), Source: source,
	})
	return true
}

// tapsString tells a device that hangs on a member of a string, or on a bank
// that is linked wrongly.
func (p *pass) tapsString(it *circuit.Item) bool {
	for _, t := range terminals(it) {
		for _, s := range p.net.Supplies(t, p.view) {
			if m := s.Item.MemberOf; m != nil && m.Bank.Series || p.mislinked(s.Item) {
				return true
			}
		}
	}
	return false
}

var poleNotSwitched = Rule{diag.Info{Rule: "pole-not-switched", Severity: diag.Fault,
	Title:  "a device in one pole of an insulated system",
	Why:    "In a system without an earthed pole both poles are live. With one pole open or fused, a second earth fault bypasses the device. Above 60 V it is a danger.",
	Source: "33 CFR 183.455(a), 46 CFR 183.380(a), 28.860(c, d)",
	Bad:    insulated + "run battery B1 in house at locker: agm, 12 V, 75 Ah, resistance 6 mohm [0.1 m 25 mm2] fuse F1: class t, 125 V, breaks 20 kA, 80 A [2 m 25 mm2] pump P1 at locker: 60 W\n",
	Good:   insulated + "battery B1 in house at locker: agm, 12 V, 75 Ah, resistance 6 mohm, terminals 105 degC\nrun B1 [0.1 m 25 mm2] fuse F1 at locker: class t, 125 V, breaks 20 kA, 80 A, 2 pole [0.1 m 25 mm2] isolator Q1 at locker: 100 A, 32 V, 2 pole, load-break [2 m 25 mm2] pump P1 at locker: 60 W\nrun B1 [0.1 m 1.5 mm2] fuse F2: class t, 125 V, breaks 20 kA, 3 A, 2 pole [0.5 m 1.5 mm2] insulation-monitor IM1 at locker\n",
}, func(p *pass) {
	p.items(func(it *circuit.Item) {
		d := powerDomain(it)
		if !switching(it) || d == nil || d.AC || !d.Insulated || final(it) {
			return
		}
		if it.Facts.Poles >= 2 {
			p.ok(it.Ref)
			return
		}
		severity := diag.Fault
		if top, ok := p.highest(d); p.Craft.Rules == "abyc-e11" || ok && top > lowVolts {
			severity = diag.Danger
		}
		said := "is in one pole"
		if it.Facts.Poles == 0 {
			said = "is taken to be in one pole, since no poles are written,"
		}
		p.failAs(severity, it.Ref, diag.Finding{
			Message: fmt.Sprintf("%s %s of %s, which is insulated: the other pole stays live", called(it), said, d.Name),
			Span:    it.RefSpan, Cure: "fit a device in both poles and write `2 pole`",
		})
	})
}}

// final tells a switch in a final circuit, which may be in one pole.
func final(it *circuit.Item) bool { return it.Kind == "switch" }

const insulated = `craft "Small boat" {
    cable class 5, tinned, 105 degC, free
}
domain house: dc 12 V, 10.5 V to 14.6 V, insulated
place locker "Locker": 40 degC
`

var isolatorOverloaded = Rule{diag.Info{Rule: "switch-overloaded", Severity: diag.Danger,
	Title:  "a switch rated below the current that it carries",
	Why:    "Its contacts heat and weld; then it no longer opens when somebody needs it.",
	Source: "ABYC E-11 11.6.1.2 as excerpted; rating against the device upstream: common practice",
	Bad:    header + "run battery B1 in house at locker: agm, 12 V, 75 Ah, resistance 6 mohm [0.1 m 25 mm2] fuse F1: class t, 125 V, breaks 20 kA, 80 A [0.1 m 25 mm2] isolator Q1: 20 A, 32 V, 1 pole, load-break [2 m 25 mm2] pump P1 at locker: 600 W\n",
	Good:   goodFeeder,
}, func(p *pass) {
	p.items(func(it *circuit.Item) {
		if n := it.Nature(); !n.Opens || n.Protects || it.Facts.Current.State == circuit.Unstated && p.deviceOf[it] == nil {
			return
		}
		dev := p.deviceOf[it]
		rating, ok := p.rating(it)
		switch {
		case dev == nil || !dev.Current.Known:
			return
		case !ok:
			p.unverified(it.Ref, diag.Finding{Span: it.RefSpan, Missing: "the rated current of " + it.Ref})
		case rating < dev.Current.Value:
			p.fail(it.Ref, diag.Finding{
				Message: fmt.Sprintf("%s carries %s and is rated %s", called(it), apart(dev.Current.Value, rating), rating),
				Span:    it.RefSpan, Cure: fmt.Sprintf("fit one that is rated for %s or more", dev.Current.Value),
			})
		case below(rating, 2*size.AssumedCoil) && p.coilsBehind(it) != nil:
			coils := p.coilsBehind(it)
			p.unverified(it.Ref, diag.Finding{Span: it.RefSpan, Items: refs(coils), Related: p.where(coils),
				Missing: fmt.Sprintf("what the coil of %s takes, for the contact of %s of %s", names(coils), it.Ref, rating),
				Cure:    fmt.Sprintf("write it, as in `%s …: coil %s`", coils[0].Ref, size.AssumedCoil)})
		default:
			p.ok(it.Ref)
		}
	})
}}

// coilsBehind are the contactors and relays that are fed through a contact alone
// and do not say what their coil takes.
func (p *pass) coilsBehind(it *circuit.Item) []*circuit.Item {
	if !it.Nature().Contacts {
		return nil
	}
	var list []*circuit.Item
	for _, o := range p.Items {
		coil := circuit.Terminal{Item: o, Port: "coil"}
		if o.HasPort("coil") && !o.Facts.CoilAmps.Known() && o.Status.In(p.configuration) && p.losesBy(coil, map[*circuit.Item]bool{it: true}) {
			list = append(list, o)
		}
	}
	return list
}

var switchNotLoadBreak = Rule{diag.Info{Rule: "switch-not-load-break", Severity: diag.Danger,
	Title:  "a DC switch that may not be opened under load",
	Why:    "A switch that cannot break direct current at the voltage where it sits holds an arc when it is opened in an emergency. At 32 V and less the arc is short, yet its contacts burn or weld: there it is a fault. Nothing written is not taken for a yes.",
	Source: "IEC 60947-3, from memory, verify against the standard",
	Bad:    "craft \"Small boat\" {\n    cable class 5, tinned, 105 degC, free\n}\ndomain drive: dc 48 V, 44 V to 58.4 V\nplace locker: 40 degC\nrun battery B1 in drive at locker: lfp, 51.2 V, 100 Ah, resistance 15 mohm, discharge 100 A, charge 50 A [0.1 m 35 mm2] fuse F1: class t, 125 V, breaks 20 kA, 100 A [0.1 m 35 mm2] isolator Q1: 200 A, 80 V, 1 pole, no load-break [2 m 35 mm2] motor M1 at locker: 2 kW\n",
	Good:   goodFeeder,
}, func(p *pass) {
	p.items(func(it *circuit.Item) {
		d := powerDomain(it)
		if it.Kind != "isolator" && it.Kind != "changeover" && it.Kind != "contactor" || d == nil || d.AC {
			return
		}
		top, ok := p.highest(d)
		low := ok && top <= 32
		severity := diag.Danger
		if low {
			severity = diag.Fault
		}
		switch {
		case it.Facts.LoadBreak == circuit.Yes || it.Kind == "contactor" && low && it.Facts.LoadBreak == circuit.Unsaid:
			p.ok(it.Ref) // a contactor is there to break its current; at more volts its maker says at how many
		case it.Facts.LoadBreak == circuit.No:
			p.failAs(severity, it.Ref, diag.Finding{Message: fmt.Sprintf("%s is no load-break switch and sits in %s, which reaches %s", called(it), d.Name, top),
				Span: it.RefSpan, Cure: "fit a load-break switch-disconnector for DC"})
		default:
			p.unverified(it.Ref, diag.Finding{Span: it.RefSpan, Missing: fmt.Sprintf("whether %s is `load-break` at %s DC", it.Ref, top)})
		}
	})
}}

// below compares ratings with a hair of room for rounding.
func below(a, b quantity.Ampere) bool { return float64(a) < float64(b)*(1-1e-9) }
