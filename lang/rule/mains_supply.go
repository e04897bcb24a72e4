package rule

// Mains equipment against its supply, and what the text leaves uncertain.

import (
	"fmt"

	"strake/lang/circuit"
	"strake/lang/diag"
	"strake/lang/quantity"
)

var transferOverloaded = Rule{diag.Info{Rule: "transfer-relay-overloaded", Severity: diag.Fault,
	Title:  "a transfer relay rated below the device before it",
	Why:    "The relay lets the shore's current through to everything behind; the device before it lets through more than its contacts hold.",
	Source: "common practice",
	Bad:    inverting("rcbo R1 at locker: 32 A, type a", "transfer 16 A"),
	Good:   inverting("rcbo R1 at locker: 16 A, type a", "transfer 16 A"),
}, func(p *pass) {
	p.items(func(it *circuit.Item) {
		if it.Kind != "inverter-charger" {
			return
		}
		for _, port := range it.Ports {
			if !circuit.IsInput(port.Name) {
				continue
			}
			switch fed := len(p.net.Supplies(circuit.Terminal{Item: it, Port: port.Name}, p.view)) > 0; {
			case !fed:
				continue
			case !it.Facts.Transfer.Known():
				p.unverified(it.Ref, diag.Finding{Span: it.RefSpan, Missing: fmt.Sprintf("the current of the transfer relay of %s, such as `transfer 16 A`", it.Ref)})
				return
			}
			for _, dev := range p.lastDevices(circuit.Terminal{Item: it, Port: port.Name}) {
				r, ok := p.rating(dev)
				switch {
				case !ok:
					p.unverified(it.Ref, diag.Finding{Span: dev.RefSpan, Items: []string{dev.Ref}, Missing: "the rating of " + dev.Ref})
				case below(it.Facts.Transfer.Least(), r):
					p.fail(it.Ref, diag.Finding{Message: fmt.Sprintf("the transfer relay of %s carries %s, and %s before it is %s", called(it), it.Facts.Transfer.Least(), dev.Ref, r),
						Span: dev.RefSpan, Items: []string{dev.Ref}, Related: p.where([]*circuit.Item{it}), Cure: fmt.Sprintf("fit a device of at most %s", it.Facts.Transfer.Least())})
				default:
					p.ok(it.Ref)
				}
			}
		}
	})
}}

// lastDevices are the protective devices that current passed last on its way to
// a terminal.
func (p *pass) lastDevices(t circuit.Terminal) []*circuit.Item {
	view := p.unfused()
	var list []*circuit.Item
	for _, r := range p.net.Origin([]circuit.Terminal{t}, view) {
		if r.Item.Nature().Protects && r.Port == "out" {
			list = append(list, r.Item)
		}
	}
	return list
}

// inverting is a shore supply through an inverter/charger to one socket.
func inverting(first, transfer string) string {
	return `craft "Small boat" {
    hull wood
    cable class 5, tinned, 105 degC, free
}
domain house: dc 12 V, 10.5 V to 14.6 V
domain mains: ac 230 V, 50 Hz
place locker "Locker": 40 degC
run inlet SH1 in mains at locker: 32 A [0.4 m 3G6] ` + first + `, 30 mA, 2 pole
    [3 m 3G6] inverter-charger INV1.in at locker: 1 kVA, charge 7 A, ` + transfer + `, isolated, neutral earthed when inverting
run INV1.out [0.4 m 3G6] rcbo R2 at locker: 16 A, 30 mA, 2 pole, type a [3 m 3G2.5] socket X1 at locker: 500 W
battery B1 in house at locker: agm, 12 V, 200 Ah, resistance 4 mohm, charge 20 A, terminals 105 degC
run B1 [0.1 m 50 mm2] fuse F1 at locker: class t, 125 V, breaks 20 kA, 150 A
    [0.1 m 50 mm2] isolator Q1 at locker: 200 A, 32 V, 1 pole, load-break [1 m 50 mm2] INV1.dc
earth E1 at locker
bond INV1 [1 m 6 mm2] E1
`
}

var residualTypeBlind = Rule{diag.Info{Rule: "residual-type-blind", Severity: diag.Fault,
	Title:  "a residual current device that does not see the faults of rectifiers",
	Why:    "Chargers and inverters leave direct current in an earth fault; a device of type AC may not open on it.",
	Source: "IEC 60755, from memory, verify against the standard",
	Bad:    inverting("rcbo R1 at locker: 16 A, type ac", "transfer 16 A"),
	Good:   inverting("rcbo R1 at locker: 16 A, type a", "transfer 16 A"),
}, func(p *pass) {
	p.items(func(it *circuit.Item) {
		if !it.Nature().Residual {
			return
		}
		var rectifier *circuit.Item
		for _, t := range p.net.Reach([]circuit.Terminal{{Item: it, Port: "out"}}, p.view) {
			if rectifier == nil && (t.Item.Kind == "charger" || t.Item.Kind == "inverter-charger" && !circuit.IsOutput(t.Port)) {
				rectifier = t.Item
			}
		}
		switch {
		case rectifier == nil || it.Facts.RCDType != "" && it.Facts.RCDType != "ac":
			p.ok(it.Ref)
		case it.Facts.RCDType == "ac":
			p.fail(it.Ref, diag.Finding{Message: fmt.Sprintf("%s is of type AC and guards %s, a rectifier", called(it), called(rectifier)),
				Span: it.RefSpan, Related: p.where([]*circuit.Item{rectifier}), Items: []string{rectifier.Ref}, Cure: "fit type A, or type B where the maker of the rectifier asks for it"})
		default:
			p.unverified(it.Ref, diag.Finding{Span: it.RefSpan, Items: []string{rectifier.Ref},
				Missing: fmt.Sprintf("the type of %s, `type a`, `type f` or `type b` (it guards %s)", it.Ref, rectifier.Ref)})
		}
	})
}}

var cableUntraced = Rule{diag.Info{Rule: "cable-untraced", Severity: diag.NotVerified,
	Title:  "a cable of which nobody knows where it ends",
	Why:    "What it feeds, or what feeds it, is not known: nothing behind it is checked, and it may be live.",
	Source: "common practice",
	Bad:    goodFeeder + "run Q1.out [2 m 25 mm2] untraced\n",
	Good:   goodFeeder,
}, func(p *pass) {
	for _, c := range p.cables {
		if c.Of.From.Untraced || c.Of.To.Untraced {
			p.unverified(c.Of.ID, diag.Finding{Span: c.Of.Span, Missing: "where the cable " + c.Of.ID + " ends",
				Cure: "trace it, or take it out; until then treat it as live"})
		}
	}
}}

var numberNotCertain = Rule{diag.Info{Rule: "number-not-certain", Severity: diag.NotVerified,
	Title:  "a number that is written as `about`",
	Why:    "The sums take the worse of 20 % more or less; the number itself nobody has measured.",
	Source: "common practice",
	Bad:    header + "battery B1 in house at locker: agm, 12 V, 75 Ah, resistance 6 mohm, terminals 105 degC\nrun B1 [0.1 m 25 mm2] fuse F1 at locker: class t, 125 V, breaks 20 kA, 80 A [0.1 m 25 mm2] isolator Q1 at locker: 100 A, 32 V, 1 pole, load-break [about 2 m 25 mm2] pump P1 at locker: 60 W\n",
	Good:   goodFeeder,
}, func(p *pass) {
	for _, c := range p.cables {
		if of := c.Of; of.Length.State == circuit.About || of.Area.State == circuit.About || of.Return.State == circuit.About {
			p.unverified(of.ID, diag.Finding{Span: of.Span, Missing: "the measured length and size of the cable " + of.ID})
		}
	}
	p.items(func(it *circuit.Item) {
		if f := it.Facts; about(f.Voltage) || about(f.Current) || about(f.Power) || about(f.Apparent) || about(f.Input) || about(f.Capacity) ||
			about(f.Resistance) || about(f.ShortCircuit) || about(f.Discharge) || about(f.Charge) || about(f.Breaks) || about(f.Peak) || about(f.Isc) || about(f.Voc) {
			p.unverified(it.Ref, diag.Finding{Span: it.RefSpan, Missing: "the numbers of " + it.Ref + " that are written as `about`"})
		}
	})
}}

func about[T ~float64](f circuit.Fact[T]) bool { return f.State == circuit.About }

var sourceOverloaded = Rule{diag.Info{Rule: "source-overloaded", Severity: diag.Advice,
	Title:  "more is asked of a mains supply than it gives",
	Why:    "With everything on, its breaker opens, ashore or aboard. What never runs together can be written as an interlock that something enforces; a habit keeps nothing off.",
	Source: "common practice",
	Bad:    mains("rcbo R1 at locker: 16 A, 30 mA, 2 pole, type a") + "run R1.out [2 m 3G2.5] load H1 \"Heater\" at locker: 4 kW\n",
	Good:   mains("rcbo R1 at locker: 16 A, 30 mA, 2 pole, type a"),
}, func(p *pass) {
	for _, s := range p.acSources() {
		it, d := s.item, s.item.PortDomain(s.port)
		if it.Nature().Converts {
			continue // its output is held against its load elsewhere
		}
		most, known := it.Facts.Current.Least(), it.Facts.Current.Known()
		if !known && it.Facts.Apparent.Known() && d.Nominal.Known() && d.Nominal.Value > 0 && d.Phases < 2 {
			most, known = quantity.Ampere(float64(it.Facts.Apparent.Least())/float64(d.Nominal.Value)), true
		}
		switch asked := p.demand(s.terminal()) - p.socketsOn(s.terminal()) + p.throughTransformers(s.terminal()); {
		case !known || asked == 0:
		case below(most, asked):
			p.fail(it.Ref, diag.Finding{Message: fmt.Sprintf("%s gives %s, and %s is asked of it with everything on", called(it), most, asked),
				Span: it.RefSpan, Cure: "write an interlock between what never runs together, with the relay that enforces it, or set a charger lower"})
		default:
			p.ok(it.Ref)
		}
	}
}}

// throughTransformers is what the transformers that a terminal feeds take for all that
// hangs on them, sockets aside.
func (p *pass) throughTransformers(t circuit.Terminal) quantity.Ampere {
	var sum quantity.Ampere
	for _, r := range p.net.Reach([]circuit.Terminal{t}, p.view) {
		if r.Item.Kind != "transformer" || r.Port != "in" {
			continue
		}
		in, out, at := r.Item.PortDomain("in"), r.Item.PortDomain("out"), circuit.Terminal{Item: r.Item, Port: "out"}
		if in == nil || out == nil || !in.Nominal.Known() || !out.Nominal.Known() || in.Nominal.Value <= 0 {
			continue
		}
		sum += (p.demand(at) - p.socketsOn(at)) * quantity.Ampere(float64(out.Nominal.Value)/float64(in.Nominal.Value))
	}
	return sum
}

// socketsOn is what demand counts for sockets, of which nobody knows what is
// plugged in.
func (p *pass) socketsOn(t circuit.Terminal) quantity.Ampere {
	var sum quantity.Ampere
	for _, r := range p.net.Reach([]circuit.Terminal{t}, p.view) {
		if r.Item.Kind == "socket" {
			sum += p.taken(r)
		}
	}
	return sum
}
