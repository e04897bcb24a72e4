package rule

// What a motor draws when it starts, or for a while, against what feeds it.

import (
	"fmt"
	"slices"

	"strake/lang/circuit"
	"strake/lang/diag"
	"strake/lang/quantity"
	"strake/lang/table"
)

// surge is how many times its rating an inverter gives for the time of a start
// (common practice); a converter that limits its current gives no more than that.
const surge = 2

var startOpensDevice = Rule{diag.Info{Rule: "start-opens-device", Severity: diag.Fault,
	Title:  "a device that opens when its motor starts or works hard for a while",
	Why:    "A motor draws several times its current when it starts. A breaker of curve B may open at once from 3 times its rating, C from 5, D from 10; a fuse melts when the current lasts.",
	Source: "IEC 60898-1; fuse times from memory, verify against ISO 8820 and IEC 60269",
	Bad:    starting("start 60 A"),
	Good:   starting("start 30 A"),
}, func(p *pass) {
	p.items(func(it *circuit.Item) {
		f := it.Facts
		if !it.Nature().Load || it.Kind == "starter" || !f.Start.Known() && (!f.Peak.Known() || f.PeakFor == 0) {
			return
		}
		for _, t := range terminals(it) {
			if circuit.IsControl(t.Port) {
				continue
			}
			var feeding []*circuit.Item
			for _, dev := range p.lastDevices(t) {
				if p.strongBehind(dev) {
					feeding = append(feeding, dev)
				}
			}
			if len(feeding) != 1 {
				continue // side by side they share
			}
			if rating, ok := p.rating(feeding[0]); ok && rating > 0 {
				p.starts(it, feeding[0], rating)
			}
		}
	})
}}

// starts judges one device before a motor.
func (p *pass) starts(it, dev *circuit.Item, rating quantity.Ampere) {
	f := it.Facts
	told := diag.Finding{Span: dev.RefSpan, Items: []string{dev.Ref}, Related: p.where([]*circuit.Item{it}), Cure: "take a larger or slower device, with a cable to match"}
	kind := dev.Facts.Class
	if dev.Kind != "fuse" {
		curve := quickest(dev)
		kind = "curve-" + curve
		if least, _, ok := table.Instant(curve); ok && f.Start.Known() && float64(f.Start.Most()) > least*float64(rating) {
			told.Message = fmt.Sprintf("%s draws %s when it starts, and %s of %s, curve %s, may open at once from %s", called(it), f.Start.Most(), dev.Ref, rating, curve, rating*quantity.Ampere(least))
			p.fail(it.Ref, told)
			return
		}
	}
	// What a fuse does at a start that lasts a second, and any device at a peak
	// that lasts longer than it stays shut.
	d := table.Device{Kind: kind, Rating: rating}
	if op := table.Opening(d, f.Start.Most()); f.Start.Known() && dev.Kind == "fuse" && op.Opens && op.Seconds.Known && op.Seconds.Value <= 0.5 {
		told.Message = fmt.Sprintf("%s draws %s when it starts, which opens %s of %s within %s", called(it), f.Start.Most(), dev.Ref, rating, op.Seconds.Value)
		p.fail(it.Ref, told)
		return
	}
	if f.Start.Known() && dev.Kind == "fuse" && p.startMelts(it, dev, d) {
		return
	}
	if op := table.Opening(d, f.Peak.Most()); f.Peak.Known() && f.PeakFor > 0 && op.Opens && op.Seconds.Known && float64(op.Seconds.Value) <= f.PeakFor.Seconds() {
		told.Message = fmt.Sprintf("%s draws %s for %s, which opens %s of %s within %s", called(it), f.Peak.Most(), quantity.Second(f.PeakFor.Seconds()), dev.Ref, rating, op.Seconds.Value)
		p.fail(it.Ref, told)
		return
	}
	p.ok(it.Ref)
}

// usualStart is how long a start lasts of which no time is written, in seconds, and
// surelyMelts how many times its rating opens any fuse within it; holdsStart is how
// many times a fuse of a class holds for so long (common practice: blade and strip by
// the least of their times; verify with the maker's curve).
const (
	usualStart  = 1
	surelyMelts = 10
	anyFuse     = 3
)

var holdsStart = map[string]float64{"blade": 1.5, "strip": 3}

// startMelts tells of a fuse that may melt while its motor starts, and tells whether
// it did.
func (p *pass) startMelts(it, dev *circuit.Item, d table.Device) bool {
	start := float64(it.Facts.Start.Most())
	multiple := start / float64(d.Rating)
	told := diag.Finding{Span: dev.RefSpan, Items: []string{dev.Ref}, Related: p.where([]*circuit.Item{it}), Cure: "take a larger or slower device, with a cable to match, or a motor with a soft start"}
	if multiple >= surelyMelts {
		told.Message = fmt.Sprintf("%s draws %s when it starts, which opens %s of %s before it has started", called(it), it.Facts.Start.Most(), dev.Ref, d.Rating)
		p.fail(it.Ref, told)
		return true
	}
	holds := holdsStart[d.Kind]
	if holds == 0 {
		holds = anyFuse
	}
	if m, ok := table.Melts(d); ok {
		if start*start*usualStart < float64(m.Value) {
			return false
		}
	} else if multiple <= holds {
		return false
	}
	told.Message = fmt.Sprintf("whether %s of %s holds while %s starts with %s is not verified: no time of the start is known, and within a second it may melt", dev.Ref, d.Rating, called(it), it.Facts.Start.Most())
	told.Missing = fmt.Sprintf("that the curve of %s holds %s for the time of a start", dev.Ref, it.Facts.Start.Most())
	told.Cure = "hold the start against the curve of the fuse's maker, and accept it by name where it holds; or take a larger or slower one"
	p.unverified(it.Ref, told)
	return true
}

// starting is a small boat with a pump that starts hard behind a breaker of 10 A.
func starting(start string) string {
	return goodFeederOnBar + "run PB [0.1 m 6 mm2] breaker CB1 at locker: 10 A, 32 V, breaks 3 kA, 1 pole, curve c, let-through 8 kA2s [2 m 6 mm2] pump P1 at locker: 8 A, " + start + "\n"
}

var startTooMuch = Rule{diag.Info{Rule: "start-above-source", Severity: diag.Fault,
	Title:  "a motor that starts with more than its source gives",
	Why:    "A converter limits its current and an inverter switches off when a motor asks for more at its start than it can give: the motor does not start, and what else hangs on it goes off too. So does a battery that switches itself off: what it gives for a second is its maker's to say, and seldom more than three times what it gives all the time.",
	Source: "common practice: an inverter gives twice its rating for a start, a converter no more than its rating",
	Bad:    twoDomains + "run PB [link] fuse F2: class t, 125 V, breaks 20 kA, 40 A [1 m 10 mm2] converter CH1 at locker: 24 V, 10 A, isolated, one way [0.3 m 6 mm2] pump P1 in winch at locker: 5 A, start 24 A\n",
	Good:   twoDomains + "run PB [link] fuse F2: class t, 125 V, breaks 20 kA, 40 A [1 m 10 mm2] converter CH1 at locker: 24 V, 10 A, isolated, one way [0.3 m 6 mm2] pump P1 in winch at locker: 5 A, start 9 A\n",
}, func(p *pass) {
	p.items(func(it *circuit.Item) {
		start := it.Facts.Start
		if !it.Nature().Load || it.Kind == "starter" || !start.Known() {
			return
		}
		var gives quantity.Ampere
		var sources []*circuit.Item
		for _, t := range terminals(it) {
			if circuit.IsControl(t.Port) {
				continue
			}
			for _, s := range p.net.Supplies(t, p.view) {
				if s.Item.Nature().Stores {
					p.startOnBatteries(it, t)
					return
				}
				limit, _, ok := capacity(s.Item)
				if !ok || !s.Item.Nature().Converts || s.Item.Kind == "transformer" {
					return // what no rating limits gives a start
				}
				if s.Item.Kind == "inverter" || s.Item.Kind == "inverter-charger" {
					limit *= surge
				}
				gives += limit
				sources = append(sources, s.Item)
			}
		}
		switch {
		case len(sources) == 0:
		case below(gives, start.Value):
			p.fail(it.Ref, diag.Finding{Message: fmt.Sprintf("%s draws %s when it starts, and %s gives %s for so long", called(it), start.Value, names(sources), gives),
				Span: it.RefSpan, Items: refs(sources), Related: p.where(sources), Cure: "fit a stronger source, or a motor with a soft start"})
		default:
			p.ok(it.Ref)
		}
	})
}}

// batterySurge is how many times its limit of discharge a battery that switches
// itself off may give for a second, at most (common practice).
const batterySurge = 3

// startOnBatteries holds a start against what the batteries behind a terminal give
// together, where each says it.
func (p *pass) startOnBatteries(it *circuit.Item, t circuit.Terminal) {
	var gives quantity.Ampere
	var batteries []*circuit.Item
	for _, s := range p.net.Supplies(t, p.view) {
		b := s.Item.TopBank()
		limit := dischargeLimit(b)
		switch {
		case !b.Nature().Stores || slices.Contains(batteries, b):
			continue // what charges beside them gives little to a start
		case !limit.Known():
			return
		}
		batteries, gives = append(batteries, b), gives+limit.Value
	}
	start := it.Facts.Start.Most()
	told := diag.Finding{Span: it.RefSpan, Items: refs(batteries), Related: p.where(batteries), Cure: "fit a motor with a soft start, or batteries that give more"}
	switch {
	case !below(gives, start):
		p.ok(it.Ref)
	case below(batterySurge*gives, start):
		told.Message = fmt.Sprintf("%s draws %s when it starts, and %s %s all the time", called(it), start, names(batteries), giveTogether(batteries, gives))
		p.fail(it.Ref, told)
	default:
		told.Message = fmt.Sprintf("whether %s %s %s for a second is not verified: %s draws that when it starts, and %s is the limit all the time", names(batteries), verb(batteries, "gives"), start, called(it), gives)
		told.Missing = "what " + names(batteries) + " " + verb(batteries, "gives") + " for a second"
		p.unverified(it.Ref, told)
	}
}
