package rule

// A drive motor's own isolator and the bond of its frame; what parts the shore's
// earth from a metal hull; what stops charging before a lithium pack opens.

import (
	"fmt"
	"slices"

	"strake/lang/circuit"
	"strake/lang/diag"
)

var motorWithoutIsolator = Rule{diag.Info{Rule: "motor-without-isolator", Severity: diag.Advice,
	Title:  "a drive motor that cannot be switched off alone",
	Why:    "With an isolator of its own somebody can work on the drive, or stop it for good, and keep the lights and the radio.",
	Source: "ISO 16315 and Boat Safety Scheme part 4, from memory, verify against the standard",
	Bad:    driving("[0.2 m 35 mm2] bus PB in house at locker: 150 A\nrun PB [link] fuse F2 at locker: class t, 125 V, breaks 20 kA, 80 A [2 m 35 mm2] motor M1 at locker: 2 kW, 60 A, precharge\nrun PB [link] fuse F3 at locker: class t, 125 V, breaks 20 kA, 20 A [2 m 6 mm2] load L1 at locker: 60 W"),
	Good:   driving("[2 m 35 mm2] motor M1 at locker: 2 kW, 60 A, precharge"),
}, func(p *pass) {
	p.items(func(it *circuit.Item) {
		if !propels(it) || !p.fed(it) {
			return
		}
		for _, o := range p.Items {
			if (o.Kind == "isolator" || o.Kind == "breaker" || o.Kind == "contactor") && o.Status.In(p.configuration) && p.isolatesAlone(o, it) {
				p.ok(it.Ref)
				return
			}
		}
		p.fail(it.Ref, diag.Finding{Message: called(it) + " has no isolator of its own", Span: it.RefSpan, Cure: "put an isolator into its feeder"})
	})
}}

// isolatesAlone tells whether a switch cuts off a motor, and no other load that
// is not a motor.
func (p *pass) isolatesAlone(o, motor *circuit.Item) bool {
	if !p.stopsWithout(motor, map[*circuit.Item]bool{o: true}) {
		return false
	}
	view := p.without(o)
	view.Through = true
	for _, t := range p.net.Reach([]circuit.Terminal{{Item: o, Port: "out"}}, view) {
		if n := t.Item.Nature(); n.Load && !propels(t.Item) || n.Converts {
			return false
		}
	}
	return true
}

var frameNotBonded = Rule{diag.Info{Rule: "frame-not-bonded", Severity: diag.Fault,
	Title:  "a drive of more than 60 V whose frame is bonded to nothing",
	Why:    "A fault in the motor makes its frame live; the shaft, the engine bed and whoever leans on them with it. The insulation monitor sees a fault to a frame only where the frame is bonded.",
	Source: "ISO 16315, from memory, verify against the standard",
	Bad:    drive96(""),
	Good:   drive96("earth E1 at locker\nbond M1 [1 m 16 mm2] E1\n"),
}, func(p *pass) {
	p.items(func(it *circuit.Item) {
		d := powerDomain(it)
		if it.Kind != "motor" && it.Kind != "controller" && it.Kind != "thruster" || d == nil || d.AC {
			return
		}
		top, ok := p.highest(d)
		switch {
		case !ok || top <= lowVolts:
		case p.caseBonded(it):
			p.ok(it.Ref)
		default:
			p.fail(it.Ref, diag.Finding{Message: fmt.Sprintf("%s runs on %s, which reaches %s, and no bond joins its frame to an earth", called(it), d.Name, top),
				Span: it.RefSpan, Cure: fmt.Sprintf("bond it, such as `bond %s [1 m 16 mm2] E1`", it.Ref)})
		}
	})
}}

// caseBonded tells whether a bond of an item's case leads to an earth.
func (p *pass) caseBonded(it *circuit.Item) bool {
	for _, c := range p.Bonds {
		for _, e := range [][2]circuit.End{{c.From, c.To}, {c.To, c.From}} {
			if e[0].Item == it && e[0].Pole == circuit.AllPoles && e[1].Item != nil && p.leadsToEarth(e[1].Item, map[*circuit.Item]bool{it: true}) {
				return true
			}
		}
	}
	return false
}

// drive96 is a drive of 96 V, with more.
func drive96(more string) string {
	return `craft "Small boat" {
    cable class 5, tinned, 105 degC, free
}
domain drive: dc 96 V, 75 V to 109.5 V, insulated
place locker "Locker": 40 degC
run battery B1 in drive at locker: lfp, 96 V, 100 Ah, resistance 15 mohm, discharge 100 A, charge 50 A, terminals 105 degC
    [0.1 m 25 mm2] fuse F1 at locker: class t, 125 V, breaks 20 kA, 80 A, 2 pole [0.1 m 25 mm2] isolator Q1 at locker: 100 A, 125 V, 2 pole, load-break
    [0.5 m 25 mm2] motor M1 at locker: 4 kW, precharge
run B1 [0.1 m 1.5 mm2] fuse F2 at locker: class t, 125 V, breaks 20 kA, 3 A, 2 pole [0.5 m 1.5 mm2] insulation-monitor IM1 at locker
` + more
}

var shoreEarthUnparted = Rule{diag.Info{Rule: "shore-earth-on-metal-hull", Severity: diag.Advice,
	Title:  "the shore's earth straight on a metal hull",
	Why:    "The protective conductor of the shore joins the hull to every other hull on the pontoon, and the less noble metal dissolves. A galvanic isolator or an isolation transformer parts them.",
	Source: "two articles on galvanic isolators; common practice",
	Bad:    onSteel(""),
	Good:   onSteel("galvanic-isolator GI1 at locker: 32 A [0.5 m 3G2.5] "),
}, func(p *pass) {
	for _, s := range p.acSources() {
		if s.item.Kind != "inlet" || !p.metalHull() || p.onlyFeedsTransformers(s) {
			continue
		}
		view := p.withOpen(func(it *circuit.Item) bool {
			return it.Kind == "galvanic-isolator" && it.Status.In(p.configuration)
		})
		var bare *circuit.Item
		for _, t := range p.net.Reach([]circuit.Terminal{s.terminal()}, view) {
			if n := t.Item.Nature(); bare == nil && (n.Load || n.Converts && t.Item.Kind != "transformer") {
				bare = t.Item
			}
		}
		if bare == nil {
			p.ok(s.item.Ref)
			continue
		}
		p.fail(s.item.Ref, diag.Finding{Message: fmt.Sprintf("the earth of %s reaches %s with no galvanic isolator between, and the hull is %s", called(s.item), called(bare), p.Craft.Hull),
			Span: s.item.RefSpan, Items: []string{bare.Ref}, Cure: "put a galvanic-isolator behind the inlet's breaker, or an isolation transformer"})
	}
}}

// onSteel is a shore supply to one socket on a steel hull.
func onSteel(between string) string {
	return `craft "Small boat" {
    hull steel
    cable class 5, tinned, 105 degC, free
}
domain mains: ac 230 V, 50 Hz
place locker "Locker": 40 degC
run inlet SH1 in mains at locker: 16 A [0.4 m 3G2.5] rcbo R1 at locker: 16 A, 30 mA, 2 pole, type a [0.5 m 3G2.5] ` + between + `socket X1 at locker: 500 W
earth E1 at locker
bond X1 [1 m 6 mm2] E1
`
}

var chargeNotStopped = Rule{diag.Info{Rule: "charge-not-stopped", Severity: diag.NotVerified,
	Title:  "a charge source that nothing stops before a lithium pack opens itself",
	Why:    "A pack that is too full or too cold opens. A solar regulator or a wind generator that still runs then lifts the bar to its own voltage, and what hangs there with it. Its monitor stops the charge first. Where it stops some of the sources of a bank and not a charger, that is worth a look: a cell that is too full is filled further.",
	Source: "common practice, in line with ABYC E-13 as quoted",
	Bad:    sunOnLithium(""),
	Good:   sunOnLithium("bms BM1 at locker\nsignal BM1 [1 m] stops T1\n"),
}, func(p *pass) {
	p.items(func(it *circuit.Item) {
		d := powerDomain(it)
		if it.Kind == "charger" || it.Kind == "inverter-charger" {
			p.chargerStopped(it)
			return
		}
		if it.Kind != "regulator" && !(it.Kind == "source" && d != nil && !d.AC) {
			return
		}
		at := terminals(it)
		if it.Kind == "regulator" {
			at = []circuit.Terminal{{Item: it, Port: "out"}}
		}
		switch lithium := p.charged(at, true); {
		case lithium == nil:
		case p.heldByMonitor(it):
			p.ok(it.Ref)
		default:
			p.unverified(it.Ref, diag.Finding{Span: it.RefSpan, Items: []string{lithium.Ref}, Related: p.where([]*circuit.Item{lithium}),
				Missing: fmt.Sprintf("what stops %s before %s opens itself, such as `signal BM1 [2 m] stops %s`", it.Ref, lithium.Ref, it.Ref), Cure: "write the bms that stops it, and its signal" + p.unheeded(it)})
		}
	})
}}

// sunOnLithium is a solar regulator on a lithium battery, with more.
func sunOnLithium(more string) string {
	return `craft "Small boat" {
    cable class 5, tinned, 105 degC, free
    coldest -10 degC
}
domain house: dc 12 V, 10.5 V to 14.6 V
domain sun: dc 36 V, 1 V to 45 V
place locker "Locker": 40 degC
run battery B1 in house at locker: lfp, 12.8 V, 100 Ah, resistance 6 mohm, discharge 100 A, charge 50 A, terminals 105 degC [0.1 m 6 mm2] fuse F1 at locker: class t, 125 V, breaks 20 kA, 20 A
    [0.1 m 6 mm2] isolator Q1 at locker: 100 A, 32 V, 1 pole, load-break [0.2 m 6 mm2] bus PB in house at locker: 100 A
run array PV1 in sun at locker: 200 W, voc 37.5 V, voc -0.27 %/K, isc 6 A, fuse 15 A [3 m 4 mm2] isolator Q2 at locker: 20 A, 100 V, 2 pole, load-break [0.5 m 4 mm2] regulator T1 at locker: 12 V, 15 A, input 100 V, input 20 A [0.2 m 6 mm2] PB
` + more
}

// chargerStopped tells of a charger of lithium that no monitor stops, where one stops
// another source of the same bank.
func (p *pass) chargerStopped(it *circuit.Item) {
	lithium := p.charged([]circuit.Terminal{chargeTerminal(it)}, true)
	if lithium == nil {
		return
	}
	if p.heldByMonitor(it) {
		p.ok(it.Ref)
		return
	}
	for _, t := range p.net.Origin(terminals(lithium), p.view) {
		if o := t.Item; o != it && charges(t) && p.heldByMonitor(o) {
			p.failAs(diag.Advice, it.Ref, diag.Finding{Message: fmt.Sprintf("a monitor stops %s before %s is too full, and nothing stops %s", called(o), called(lithium), called(it)),
				Span: it.RefSpan, Items: []string{o.Ref, lithium.Ref}, Related: p.where([]*circuit.Item{o}), Cure: fmt.Sprintf("write the signal that stops it, such as `signal BM1 [2 m] stops %s`, or open its feed by a contactor", it.Ref)})
			return
		}
	}
}

// forgotten tells of the lithium packs that gather with watched ones on one bar and
// that no management is said to watch.
func (p *pass) forgotten(bms *circuit.Item, watched []*circuit.Item) {
	seen := slices.Clone(watched)
	for _, o := range p.Items {
		if o.Kind == "bms" && o != bms && o.Status.In(p.configuration) {
			more, _ := p.WatchedBy(o)
			seen = append(seen, more...)
		}
	}
	for _, bar := range p.Items {
		if !slices.ContainsFunc(bar.Packs, func(b *circuit.Item) bool { return slices.Contains(watched, b) }) {
			continue
		}
		for _, b := range bar.Packs {
			if chemistry(b) == "lfp" && b.Status.In(p.configuration) && !slices.Contains(seen, b) {
				p.unverified(b.Ref, diag.Finding{Span: b.RefSpan, Items: []string{bms.Ref}, Related: p.where([]*circuit.Item{bms}),
					Missing: fmt.Sprintf("what watches %s, beside which %s watches %s", called(b), bms.Ref, names(watched)),
					Cure:    fmt.Sprintf("write its signal, such as `signal %s [1 m] %s`", b.Ref, bms.Ref)})
			}
		}
	}
}

var monitorWatchesNothing = Rule{diag.Info{Rule: "monitor-watches-nothing", Severity: diag.NotVerified,
	Title:  "a battery management of which nobody says what it watches",
	Why:    "What it stops and opens hangs on what it is told. One that stands where no lithium battery stands, and to which no battery has a signal, is told nothing: the charge that it is to stop goes on. Where it stands beside lithium batteries, and nothing else is said, it is taken to watch these, which is listed as assumed.",
	Source: "common practice",
	Bad:    sunOnLithium("place helm: 30 degC\nbms BM1 at helm\nsignal BM1 [1 m] stops T1\n"),
	Good:   sunOnLithium("place helm: 30 degC\nbms BM1 at helm\nsignal B1 [2 m] BM1\nsignal BM1 [1 m] stops T1\n"),
}, func(p *pass) {
	p.items(func(it *circuit.Item) {
		if it.Kind != "bms" {
			return
		}
		if watched, said := p.WatchedBy(it); len(watched) > 0 {
			p.ok(it.Ref)
			if said {
				p.forgotten(it, watched)
			}
			return
		}
		p.unverified(it.Ref, diag.Finding{Span: it.RefSpan, Missing: "which battery " + called(it) + " watches",
			Cure: fmt.Sprintf("write its signal, such as `signal B1 [1 m] %s`", it.Ref)})
	})
}}
