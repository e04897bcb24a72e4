package rule

// Selectivity: which of two devices in line opens for a fault behind the second.

import (
	"fmt"

	"strake/lang/circuit"
	"strake/lang/diag"
	"strake/lang/quantity"
	"strake/lang/table"
)

var notSelective = Rule{diag.Info{Rule: "not-selective", Severity: diag.Advice,
	Title:  "two devices in line of which either may open",
	Why:    "When the device near the source opens for a fault behind the smaller one, everything goes dark. Where that takes what must not go dark (what is critical, navigation lights, bilge pumps) it is a fault. Fuses of one class are selective from a ratio of 1.6, gG fuses where the smaller lets through no more than melts the larger, fuses of two classes from 2. Two breakers are selective up to the current at which the larger begins to open at once: 3, 5 or 10 times its rating by its curve. Of mains breakers nothing is said: their fault current is the shore's, and a shore supply of 16 A leaves no room for two steps.",
	Source: "a fuse maker's guidance: 1.6 to 1; IEC 60269-2, from memory, verify against the standard; IEC 60898-1; ratio of two classes: common practice",
	Bad:    header + "run battery B1 in house at locker: agm, 12 V, 75 Ah, resistance 6 mohm, terminals 105 degC [0.1 m 25 mm2] fuse F1: class t, 125 V, breaks 20 kA, 80 A [0.1 m 25 mm2] isolator Q1: 100 A, 32 V, 1 pole, load-break [0.2 m 25 mm2] bus PB in house at locker: 100 A\nrun PB [link] fuse F2: class t, 125 V, breaks 20 kA, 80 A [2 m 25 mm2] pump P1 at locker: 60 W\nrun PB [link] fuse F3: class t, 125 V, breaks 20 kA, 30 A [2 m 10 mm2] pump P2 at locker: 60 W\n",
	Good:   goodFeeder,
}, func(p *pass) {
	p.items(func(it *circuit.Item) {
		small, ok := p.rating(it)
		if !it.Nature().Protects || !ok || p.atBattery(it) {
			return
		}
		for _, up := range p.devicesBefore(it) {
			big, known := p.rating(up)
			if !known || !p.branches(up, it) {
				continue
			}
			if why, cure := p.either(up, it, big, small); why != "" {
				severity, message, items := p.rule.Severity, fmt.Sprintf("%s of %s and %s of %s before it%s", it.Ref, small, up.Ref, big, why), []*circuit.Item{up}
				if essential := p.darkened(up, it); essential != nil {
					severity, items = diag.Fault, append(items, essential)
					message += fmt.Sprintf(": a fault behind %s may take %s with it", it.Ref, called(essential))
				}
				p.failAs(severity, it.Ref, diag.Finding{Message: message, Span: it.RefSpan, Related: p.where(items), Items: refs(items), Cure: cure})
				return
			}
		}
		p.ok(it.Ref)
	})
}}

// either says why either of two devices in line may open for a fault behind the
// second, or nothing where they are selective or no table says.
func (p *pass) either(up, it *circuit.Item, big, small quantity.Ampere) (why, cure string) {
	ratio := float64(big) / float64(small)
	fuses := 0
	for _, d := range []*circuit.Item{up, it} {
		if d.Kind == "fuse" {
			fuses++
		}
	}
	const leave = "leave it if either may open; else "
	switch {
	case fuses == 2 && up.Facts.Class == it.Facts.Class:
		melts, ok1 := table.Melts(table.Device{Kind: up.Facts.Class, Rating: big})
		lets, ok2 := table.LetThrough(table.Device{Kind: it.Facts.Class, Rating: small})
		if ok1 && ok2 && lets.Value <= melts.Value || !(ok1 && ok2) && ratio >= table.AlikeRatio {
			return "", ""
		}
		return fmt.Sprintf(", both class %s, are not selective", it.Facts.Class), leave + "take two steps between the ratings"
	case fuses == 2:
		if ratio < table.UnlikeRatio {
			return fmt.Sprintf(", class %s and class %s, are not surely selective", it.Facts.Class, up.Facts.Class), leave + "take twice the rating, or one class"
		}
	case fuses == 0:
		least, _, _ := table.Instant(quickest(up))
		dev := p.deviceOf[it]
		from := quantity.Ampere(least * float64(big))
		if dev != nil && dev.FaultMax.Known && (dev.FaultMax.Value >= from || ratio < table.BreakerRatio) {
			return fmt.Sprintf(" are selective up to %s at most", from), leave + "put a fuse in place of the larger breaker"
		}
	case up.Kind == "fuse" && ratio < table.BreakerRatio:
		return " are not surely selective", leave + "take a larger fuse"
	}
	return "", ""
}

// quickest is a breaker's curve, where none is written the one that opens first.
func quickest(it *circuit.Item) string {
	if it.Facts.Curve == "" {
		return "b"
	}
	return it.Facts.Curve
}

// darkened is a load that must not go dark, that hangs on a device and not on the one
// behind it, or nil: what the text calls critical, navigation lights, bilge pumps.
func (p *pass) darkened(up, it *circuit.Item) *circuit.Item {
	view := p.without(it)
	for _, t := range p.net.Reach([]circuit.Terminal{{Item: up, Port: "out"}}, view) {
		if o := t.Item; o.Nature().Load && !circuit.IsControl(t.Port) && o.Facts.Essential() {
			return o
		}
	}
	return nil
}

// atBattery tells a device that stands at a battery behind it: there the fault
// comes from the other side.
func (p *pass) atBattery(it *circuit.Item) bool {
	return p.batteryAt(circuit.Terminal{Item: it, Port: "out"}, p.without(it))
}

// branches tells whether anything else hangs between two devices in line: where
// nothing does, it is no matter which of them opens.
func (p *pass) branches(up, it *circuit.Item) bool {
	view := p.unfused()
	for _, t := range p.net.Reach([]circuit.Terminal{{Item: up, Port: "out"}}, view) {
		switch o := t.Item; {
		case o == up || o == it || circuit.IsControl(t.Port):
		case o.Nature().Protects, o.Nature().Load, o.Nature().Converts:
			return true
		}
	}
	return false
}

// devicesBefore are the protective devices next against the current from a device,
// where a single one stands before it: what several feed in parallel is no pair.
// Switches stand as they usually do, and what limits its own current is no feed.
func (p *pass) devicesBefore(it *circuit.Item) []*circuit.Item {
	var list []*circuit.Item
	for _, t := range p.net.Origin([]circuit.Terminal{{Item: it, Port: "in"}}, p.unfusedUsual) {
		if o := t.Item; o != it && o.Nature().Protects && t.Port == "out" && p.strongBehind(o) {
			list = append(list, o)
		}
	}
	if len(list) != 1 {
		return nil
	}
	return list
}

// strongBehind tells whether a source that does not limit itself feeds a device
// from its incoming side.
func (p *pass) strongBehind(it *circuit.Item) bool {
	view := p.without(it)
	for _, s := range p.net.Supplies(circuit.Terminal{Item: it, Port: "in"}, view) {
		if !limitsItself(s.Item) {
			return true
		}
	}
	return false
}
