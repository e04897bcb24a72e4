package rule

// Motors and what stands before them, and machines that charge by themselves.

import (
	"fmt"
	"strings"

	"strake/lang/circuit"
	"strake/lang/diag"
)

// propels tells a motor that is large enough to drive the craft.
func propels(it *circuit.Item) bool {
	return it.Kind == "motor" && it.Facts.Power.Known() && it.Facts.Power.Most() >= 1500
}

var motorSharesDevice = Rule{diag.Info{Rule: "motor-shares-its-device", Severity: diag.Danger,
	Title:  "a drive motor without a device of its own",
	Why:    "A fault in a lamp's cable then opens the one fuse that the motor hangs on, under way. Of two drive motors on one fuse a fault in either stops both.",
	Source: "Recreational Craft Directive annex I 5.3, ISO 16315, from memory, verify against the standard",
	Bad:    driving("[0.2 m 25 mm2] bus PB in house at locker: 150 A\nrun PB [0.5 m 25 mm2] motor M1 at locker: 2 kW, 60 A, precharge\nrun PB [0.5 m 25 mm2] load L1 \"Heater\" at locker: 200 W"),
	Good:   driving("[2 m 35 mm2] motor M1 at locker: 2 kW, 60 A, precharge"),
}, func(p *pass) {
	p.items(func(it *circuit.Item) {
		if !propels(it) || !p.fed(it) {
			return
		}
		var other, twin *circuit.Item
		for _, t := range p.net.Origin(terminals(it), p.unfused()) {
			for _, r := range p.net.Reach([]circuit.Terminal{t}, p.unfused()) {
				n := r.Item.Nature()
				switch {
				case r.Item == it || circuit.IsControl(r.Port) || !n.Load && !(n.Converts && r.Port == "in"):
				case propels(r.Item) && twin == nil:
					twin = r.Item
				case !propels(r.Item) && other == nil:
					other = r.Item
				}
			}
		}
		switch {
		case other == nil && twin == nil:
			p.ok(it.Ref)
			return
		case other == nil && circuit.Compare(twin.Ref, it.Ref) < 0:
			return // said of the other
		case other == nil:
			p.failAs(diag.Fault, it.Ref, diag.Finding{Message: fmt.Sprintf("%s and %s hang on one protective device: a fault in one stops both", called(it), called(twin)),
				Span: it.RefSpan, Related: p.where([]*circuit.Item{twin}), Items: []string{twin.Ref}, Cure: "give each a device and an isolator of its own"})
			return
		}
		p.fail(it.Ref, diag.Finding{Message: fmt.Sprintf("%s and %s hang on one protective device", called(it), called(other)),
			Span: it.RefSpan, Related: p.where([]*circuit.Item{other}), Items: []string{other.Ref}, Cure: "give the motor a device and an isolator of its own"})
	})
}}

var prechargeNotSaid = Rule{diag.Info{Rule: "precharge-missing", Severity: diag.Danger,
	Title:  "a switch that closes onto a motor controller's capacitors",
	Why:    "The controller's capacitors take hundreds of amperes for a moment: contacts weld, and then they no longer open.",
	Source: "common practice, in line with controller makers' manuals",
	Bad:    driving("[0.3 m 35 mm2] contactor K1 at locker: 150 A, 32 V, 1 pole, coil 12 V [2 m 35 mm2] motor M1 at locker: 2 kW, 60 A"),
	Good:   driving("[0.3 m 35 mm2] contactor K1 at locker: 150 A, 32 V, 1 pole, coil 12 V [2 m 35 mm2] motor M1 at locker: 2 kW, 60 A, precharge\nrun Q1.out [0.1 m 35 mm2] stud X1 at locker: 150 A\nrun X1 [link] fuse F9 at locker: class t, 125 V, breaks 20 kA, 3 A [0.3 m 1.5 mm2] stop S1 at locker: 10 A, 24 V [0.5 m 1.5 mm2] K1.coil"),
}, func(p *pass) {
	p.items(func(it *circuit.Item) {
		inverts := it.Kind == "inverter" || it.Kind == "inverter-charger"
		if it.Kind != "controller" && !propels(it) && !inverts || !p.fed(it) {
			return
		}
		side := terminals(it)
		if inverts {
			side = []circuit.Terminal{{Item: it, Port: "dc"}}
			if it.Kind == "inverter" {
				side[0].Port = "in"
			}
		}
		careful := p.those(func(o *circuit.Item) bool { return o.Facts.Precharge && o.Nature().Opens })
		charged, switches := it.Facts.Precharge || p.stopsWithout(it, careful), 0
		for _, t := range p.net.Origin(side, p.view) {
			switch {
			case inverts && (t.Item.Kind != "contactor" || !p.stopsWithout(it, map[*circuit.Item]bool{t.Item: true})):
				// an inverter is off when a hand closes its isolator
			case t.Item.Kind == "contactor" || t.Item.Kind == "isolator":
				switches++
			}
		}
		d := it.PortDomain(side[0].Port)
		switch {
		case d == nil || d.AC || switches == 0:
		case charged:
			p.ok(it.Ref)
		default:
			p.unverified(it.Ref, diag.Finding{Span: it.RefSpan, Missing: fmt.Sprintf("whether %s, or the contactor before it, has a `precharge`", it.Ref)})
		}
	})
}}

// driving is a small boat of 36 V with something behind its isolator.
func driving(tail string) string {
	return strings.NewReplacer("dc 12 V, 10.5 V to 14.6 V", "dc 36 V, 30 V to 43.8 V", "32 V", "80 V", "24 V", "80 V", "coil 12 V", "coil 36 V").Replace(header + `battery B1 in house at locker: agm, 36 V, 200 Ah, resistance 9 mohm, terminals 105 degC
run B1 [0.1 m 35 mm2] fuse F1 at locker: class t, 125 V, breaks 20 kA, 100 A
    [0.1 m 35 mm2] isolator Q1 at locker: 150 A, 32 V, 1 pole, load-break
    ` + tail + "\n")
}

var alternatorOnLithium = Rule{diag.Info{Rule: "alternator-on-lithium", Severity: diag.Danger,
	Title:  "an alternator straight on a lithium bank that may open itself",
	Why:    "When the pack opens, the alternator's voltage jumps and takes its diodes, and what hangs on the bank, with it. While it runs, a cold lithium bank also draws more than an alternator stands for long.",
	Source: "common practice, in line with ABYC E-13 as quoted",
	Bad:    alternating(""),
	Good:   strings.Replace(alternating("bms BM1 at locker\nsignal BM1 [1 m] stops A1\n"), "[0.1 m 16 mm2] PB", "[0.1 m 16 mm2] B1", 1),
}, func(p *pass) {
	p.items(func(it *circuit.Item) {
		if it.Kind != "alternator" {
			return
		}
		switch lithium := p.charged(terminals(it), true); {
		case lithium == nil:
			p.ok(it.Ref)
		case p.heldByMonitor(it):
			p.ok(it.Ref)
		default:
			p.fail(it.Ref, diag.Finding{Message: fmt.Sprintf("%s charges %s directly, and nothing stops it before the pack opens%s", called(it), called(lithium), p.unheeded(it)),
				Span: it.RefSpan, Related: p.where([]*circuit.Item{lithium}), Items: []string{lithium.Ref},
				Cure: "charge through a converter, or let the bms stop it: `signal BM1 [1 m] stops " + it.Ref + "`"})
		}
	})
}}

var alternatorSwitched = Rule{diag.Info{Rule: "alternator-behind-isolator", Severity: diag.Advice,
	Title:  "an alternator that an isolator parts from its battery",
	Why:    "Opened while the engine runs, the isolator leaves the alternator without a battery: its voltage jumps and takes its diodes with it. Its cable goes to the battery's side, through a fuse of its own, or the isolator breaks its field as well.",
	Source: "common practice, in line with alternator makers' manuals",
	Bad:    alternating("bms BM1 at locker\nsignal BM1 [1 m] stops A1\n"),
	Good:   strings.Replace(alternating("bms BM1 at locker\nsignal BM1 [1 m] stops A1\n"), "[0.1 m 16 mm2] PB", "[0.1 m 16 mm2] B1", 1),
}, func(p *pass) {
	p.items(func(it *circuit.Item) {
		if it.Kind != "alternator" {
			return
		}
		stores := func(view circuit.View) *circuit.Item {
			for _, t := range p.net.Reach(terminals(it), view) {
				if t.Item.Nature().Stores {
					return t.Item
				}
			}
			return nil
		}
		battery := stores(p.view)
		switch {
		case battery == nil:
		case stores(p.isolated()) != nil:
			p.ok(it.Ref)
		default:
			p.fail(it.Ref, diag.Finding{Message: fmt.Sprintf("an isolator between %s and %s can be opened while it runs", called(it), called(battery)),
				Span: it.RefSpan, Related: p.where([]*circuit.Item{battery}), Items: []string{battery.Ref}, Cure: "run its cable to the battery's side of the isolator, through a fuse at the battery"})
		}
	})
}}

func alternating(more string) string {
	return `craft "Small boat" {
    cable class 5, tinned, 105 degC, free
}
domain house: dc 12 V, 10.5 V to 14.6 V
place locker "Locker": 40 degC
battery B1 in house at locker: lfp, 12.8 V, 200 Ah, resistance 4 mohm, discharge 200 A, charge 100 A, terminals 105 degC
run B1 [0.1 m 35 mm2] fuse F1 at locker: class t, 125 V, breaks 20 kA, 100 A
    [0.1 m 35 mm2] isolator Q1 at locker: 150 A, 32 V, 1 pole, load-break [0.2 m 35 mm2] bus PB in house at locker: 150 A
alternator A1 in house at locker: 14.4 V, 50 A, short-circuit 50 A
run A1 [0.1 m 16 mm2] fuse F2 at locker: class t, 125 V, breaks 20 kA, 70 A [1 m 16 mm2] fuse F3 at locker: class t, 125 V, breaks 20 kA, 70 A [0.1 m 16 mm2] PB
` + more
}

var inletPinsLive = Rule{diag.Info{Rule: "inlet-pins-live", Severity: diag.Danger,
	Title:  "a charging inlet whose pins are live from the bank",
	Why:    "With the plug out, the bank stands on open pins within reach of hands, keys and rain.",
	Source: "common practice",
	Bad:    inletOf(""),
	Good:   inletOf(", dead pins"),
}, func(p *pass) {
	p.items(func(it *circuit.Item) {
		d := powerDomain(it)
		if it.Kind != "inlet" || d == nil || d.AC {
			return
		}
		var bank *circuit.Item
		for _, t := range terminals(it) {
			for _, s := range p.net.Supplies(t, p.view) {
				if bank == nil && s.Item.Nature().Stores {
					bank = s.Item
				}
			}
		}
		if bank == nil || it.Facts.DeadPins {
			p.ok(it.Ref)
			return
		}
		p.fail(it.Ref, diag.Finding{Message: fmt.Sprintf("%s stands live on the pins of %s, and nothing says that they are dead while nothing is plugged in", called(bank), called(it)),
			Span: it.RefSpan, Related: p.where([]*circuit.Item{bank}), Items: []string{bank.Ref},
			Cure: "fit an inlet with a contact that only a plug closes and write `dead pins`"})
	})
}}

func inletOf(more string) string {
	return goodFeederOnBar + `run inlet CS1 "Charge socket" in house at locker: 20 A, 2 pole, short-circuit 20 A` + more + ` [0.5 m 6 mm2] fuse F3 at locker: class t, 125 V, breaks 20 kA, 20 A [0.1 m 6 mm2] PB
`
}

const goodFeederOnBar = header + `battery B1 in house at locker: agm, 12 V, 75 Ah, resistance 6 mohm, terminals 105 degC
run B1 [0.1 m 25 mm2] fuse F1 at locker: class t, 125 V, breaks 20 kA, 80 A
    [0.1 m 25 mm2] isolator Q1 at locker: 100 A, 32 V, 1 pole, load-break
    [0.2 m 25 mm2] bus PB in house at locker: 100 A
`

var reserveShared = Rule{diag.Info{Rule: "must-live-battery-shared", Severity: diag.Danger,
	Title:  "a circuit that must stay live on a battery that other things empty",
	Why:    "The pump runs only while there is charge: a lamp that was left on, or a night of heating, empties its battery. Keep a reserve, or give it a battery of its own.",
	Source: "common practice",
	Bad:    goodFeederOnBar + "run PB [link] fuse F2 at locker: class t, 125 V, breaks 20 kA, 30 A [2 m 10 mm2] load L1 \"Heater\" at locker: 200 W\nrun B1 [0.1 m 6 mm2] fuse F3 at locker: class t, 125 V, breaks 20 kA, 10 A [2 m 6 mm2] pump P1 at locker: 60 W, bilge, must be live\n",
	Good:   goodFeeder,
}, func(p *pass) {
	told := map[*circuit.Item]bool{} // one message for a battery
	p.items(func(it *circuit.Item) {
		if !it.Facts.MustBeLive {
			return
		}
		for _, t := range terminals(it) {
			for _, s := range p.net.Supplies(t, p.isolated()) {
				if !s.Item.Nature().Stores || told[s.Item] {
					continue
				}
				told[s.Item] = true
				if other := p.empties(s.Item); other != nil {
					p.fail(s.Item.Ref, diag.Finding{Message: fmt.Sprintf("%s must be live on %s, which %s can empty", called(it), called(s.Item), called(other)),
						Span: s.Item.RefSpan, Related: p.where([]*circuit.Item{it, other}), Items: []string{it.Ref, other.Ref},
						Cure: "give it a battery of its own, or let the others open at a reserve"})
					continue
				}
				p.ok(s.Item.Ref)
			}
		}
	})
}}

// empties is a load on a battery that is neither critical nor must be live, or nil.
func (p *pass) empties(battery *circuit.Item) *circuit.Item {
	for _, t := range p.net.Reach(terminals(battery), p.view) {
		if o := t.Item; o.Nature().Load && !circuit.IsControl(t.Port) && !o.Facts.MustBeLive && !o.Facts.Bilge && !o.Facts.Critical && o.Kind != "starter" {
			return o
		}
	}
	return nil
}
