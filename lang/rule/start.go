package rule

// What a motor draws when it starts, or for a while, against what feeds it.

import (
	"fmt"

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
	if op := table.Opening(d, f.Peak.Most()); f.Peak.Known() && f.PeakFor > 0 && op.Opens && op.Seconds.Known && float64(op.Seconds.Value) <= f.PeakFor.Seconds() {
		told.Message = fmt.Sprintf("%s draws %s for %s, which opens %s of %s within %s", called(it), f.Peak.Most(), quantity.Second(f.PeakFor.Seconds()), dev.Ref, rating, op.Seconds.Value)
		p.fail(it.Ref, told)
		return
	}
	p.ok(it.Ref)
}

// starting is a small boat with a pump that starts hard behind a breaker of 10 A.
func starting(start string) string {
	return goodFeederOnBar + "run PB [0.1 m 6 mm2] breaker CB1 at locker: 10 A, 32 V, breaks 3 kA, 1 pole, curve c, let-through 8 kA2s [2 m 6 mm2] pump P1 at locker: 8 A, " + start + "\n"
}

var startTooMuch = Rule{diag.Info{Rule: "start-above-source", Severity: diag.Fault,
	Title:  "a motor that starts with more than its source gives",
	Why:    "A converter limits its current and an inverter switches off when a motor asks for more at its start than it can give: the motor does not start, and what else hangs on it goes off too.",
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
				limit, _, ok := capacity(s.Item)
				if !ok || !s.Item.Nature().Converts || s.Item.Kind == "transformer" {
					return // a battery, or what no rating limits, gives a start
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
