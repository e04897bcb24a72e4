package rule

// Where batteries stand: heat, and the gas that lead gives off.

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"strake/lang/circuit"
	"strake/lang/diag"
	"strake/lang/quantity"
	"strake/lang/table"
)

// hottestLithium is what lithium iron phosphate cells stand while they give current
// (cell makers' sheets, from memory).
const hottestLithium = quantity.Celsius(60)

// batteriesAt calls f for each battery with the place in which it stands.
func (p *pass) batteriesAt(f func(it *circuit.Item, at *circuit.Place)) {
	p.items(func(it *circuit.Item) {
		if it.Kind == "battery" && it.Place != nil {
			f(it, it.Place)
		}
	})
}

// within tells whether something holds of a place, or of one that it lies in.
func within(at *circuit.Place, holds func(*circuit.Place) bool) bool {
	for n := 0; at != nil && n < 8; at, n = at.Within, n+1 {
		if holds(at) {
			return true
		}
	}
	return false
}

// heat is the highest temperature that is written of a place, or of one that it
// lies in.
func heat(at *circuit.Place) (t quantity.Celsius, known bool) {
	within(at, func(q *circuit.Place) bool {
		t, known = q.Temperature.Most(), q.Temperature.Known()
		return known
	})
	return t, known
}

var lithiumTooCold = Rule{diag.Info{Rule: "lithium-too-cold", Severity: diag.Fault,
	Title:  "a lithium battery where it freezes",
	Why:    "Charged below 0 °C, lithium iron phosphate plates metal and never gives back what it lost; where it always freezes the pack stays empty. Where it may freeze, something stops what charges it: its own management, which says `may disconnect`, or a bms that signals to each charge source. A single temperature of a place is the highest that it reaches; what is `outside` gets as cold as the air of `coldest`.",
	Source: "cell makers' sheets, from memory, verify with the maker",
	Bad:    lithiumAt("-15 degC"),
	Good:   lithiumAt("40 degC"),
}, func(p *pass) {
	p.batteriesAt(func(it *circuit.Item, at *circuit.Place) {
		t, known := heat(at)
		switch {
		case chemistry(it) != "lfp":
		case known && t < 0:
			p.fail(it.Ref, diag.Finding{Message: fmt.Sprintf("%s stands at %s, where it is %s at most, and is not charged below 0 °C", called(it), at.Name, t),
				Span: it.RefSpan, Cure: "write the highest temperature of the place, or move the battery where it is warmer"})
		default:
			p.chargedInFrost(it, at, known)
		}
	})
}}

// chargedInFrost asks what stops the charge of a lithium battery where it may freeze.
func (p *pass) chargedInFrost(it *circuit.Item, at *circuit.Place, known bool) {
	low, frost := coldest(at)
	if !frost && p.Craft.Coldest.Known() && within(at, func(q *circuit.Place) bool { return q.Outside }) {
		low, frost = p.Craft.Coldest.Least(), true
	}
	var free []*circuit.Item
	held := it.Facts.MayDisconnect || it.TopBank().Facts.MayDisconnect
	freezes := frost && low < 0 && !held
	if freezes {
		for _, t := range p.net.Origin(terminals(it.TopBank()), p.view) {
			o := t.Item
			switch {
			case !charges(t) || o.Kind == "array" || slices.Contains(free, o):
			case p.heldByMonitor(o):
				held = true
			default:
				free = append(free, o)
			}
		}
	}
	switch {
	case freezes && (len(free) > 0 || !held):
		p.fail(it.Ref, diag.Finding{Message: fmt.Sprintf("%s stands at %s, where it gets as cold as %s, and nothing keeps it from being charged below 0 °C", called(it), at.Name, low),
			Span: it.RefSpan, Related: append(atPlace(at), p.where(free)...), Items: refs(free),
			Cure: "move it where it does not freeze, or write `may disconnect` where its own management opens it, or the bms that stops what charges it"})
	case known || frost:
		p.ok(it.Ref)
	}
}

// coldest is the lowest temperature that is written of a place, or of one that it
// lies in.
func coldest(at *circuit.Place) (t quantity.Celsius, known bool) {
	within(at, func(q *circuit.Place) bool {
		t, known = q.Lowest.Least(), q.Lowest.Known()
		return known || q.Temperature.Known()
	})
	return t, known
}

var lithiumTooHot = Rule{diag.Info{Rule: "lithium-too-hot", Severity: diag.Danger,
	Title:  "a lithium battery where it gets too hot",
	Why:    "Above 60 °C lithium iron phosphate cells age in weeks and may vent. An engine space reaches that at rest, after a hot stop; a fire there meets the cells: at an engine it is a fault even where the air is cooler.",
	Source: "cell makers' sheets and ABYC E-13, from memory, verify with the maker",
	Bad:    lithiumAt("45 degC, engine"),
	Good:   lithiumAt("40 degC"),
}, func(p *pass) {
	p.batteriesAt(func(it *circuit.Item, at *circuit.Place) {
		if chemistry(it) != "lfp" {
			return
		}
		t, known := heat(at)
		switch {
		case known && t > hottestLithium:
			p.fail(it.Ref, diag.Finding{Message: fmt.Sprintf("%s stands at %s, where it is %s; %s is the most", called(it), at.Name, t, hottestLithium),
				Span: it.RefSpan, Related: atPlace(at), Cure: "move it to a cooler place, or ventilate and write the temperature that is left"})
		case within(at, func(q *circuit.Place) bool { return q.Engine }):
			p.failAs(diag.Fault, it.Ref, diag.Finding{Message: fmt.Sprintf("%s stands at %s, with an engine", called(it), at.Name),
				Span: it.RefSpan, Related: atPlace(at), Cure: "move it out of the engine space"})
		default:
			p.ok(it.Ref)
		}
	})
}}

// lithiumAt is a small boat with a lithium battery in a place of some kind.
func lithiumAt(place string) string {
	return "craft \"Small boat\" {\n    cable class 5, tinned, 105 degC, free\n}\ndomain house: dc 12 V, 10.5 V to 14.6 V\nplace box: " + place + "\nplace locker: 40 degC\n" +
		"battery B1 in house at box: lfp, 12.8 V, 100 Ah, resistance 6 mohm, discharge 100 A, charge 50 A\n" +
		"run B1 [0.1 m 25 mm2] fuse F1 at locker: class t, 125 V, breaks 20 kA, 80 A [0.1 m 25 mm2] isolator Q1 at locker: 100 A, 32 V, 1 pole, load-break [2 m 25 mm2] pump P1 at locker: 60 W\n"
}

// muchCharge is the charging power from which a lead battery needs its room aired
// (a code of practice for small inland passenger vessels).
const muchCharge = quantity.Watt(2000)

var batteryNotAired = Rule{diag.Info{Rule: "battery-not-aired", Severity: diag.Danger,
	Title:  "a battery that gasses in a place without ventilation",
	Why:    "Charged, a vented battery gives off hydrogen, and one spark in a closed box is enough. A sealed one does so when it is charged hard: from 2 kW its place is aired too.",
	Source: "IEC 62485-2 formulae; Recreational Craft Directive annex I 5.3; the 2 kW of a code of practice for small inland passenger vessels",
	Bad:    aired(""),
	Good:   aired(", ventilated"),
}, func(p *pass) {
	p.batteriesAt(func(it *circuit.Item, at *circuit.Place) {
		kind, top := chemistry(it), it.TopBank()
		if kind == "lfp" || kind == "" {
			return
		}
		var watts quantity.Watt
		if v, ok := p.highest(top.Domain); ok {
			for _, t := range p.net.Origin(terminals(top), p.view) {
				if amps, ok := chargeCurrent(t.Item); ok && t.Item.Nature().Converts && chargePort(t.Item, t.Port) {
					watts += quantity.Watt(float64(amps) * float64(v))
				}
			}
		}
		aired := within(at, func(q *circuit.Place) bool { return q.Ventilated || q.Outside })
		why := "is vented"
		switch {
		case kind != "flooded" && watts <= muchCharge:
			return
		case kind == "flooded" && aired && !at.Ventilated && !at.Outside:
			p.unverified(it.Ref, diag.Finding{Span: it.RefSpan, Related: atPlace(at),
				Missing: fmt.Sprintf("whether %s, in which %s stands and which lies in a ventilated place, is itself `ventilated`", at.Name, it.Ref)})
			return
		case aired:
			fan := p.fanGone(at)
			if fan == nil {
				p.ok(it.Ref)
				return
			}
			p.unverified(it.Ref, diag.Finding{Span: it.RefSpan, Items: []string{fan.Ref}, Related: p.where([]*circuit.Item{fan}),
				Missing: fmt.Sprintf("whether %s, in which %s stands, is aired without %s, which is `%s`", at.Name, it.Ref, called(fan), fan.Status),
				Cure:    "see that air gets in low and out high without it, and take its line out; or fit a fan before the craft is handed over"})
			return
		case kind != "flooded":
			why = fmt.Sprintf("can be charged with %s", watts)
		}
		p.fail(it.Ref, diag.Finding{Message: fmt.Sprintf("%s %s, and its place %s is not ventilated", called(it), why, at.Name),
			Span: it.RefSpan, Related: atPlace(at), Cure: "lead air in low and out high" + airFor(top) + ", and write `ventilated` on the place"})
	})
}}

// fanGone is a fan of a place that is not there, where no other one is; nil where there
// is none, or one that runs.
func (p *pass) fanGone(at *circuit.Place) *circuit.Item {
	var gone *circuit.Item
	for _, it := range p.Items {
		label := p.labels(it)
		airs := it.Facts.Blower || mentions(label, "fan") || mentions(label, "blower") || mentions(label, "ventilat")
		if !it.Nature().Load || !airs || it.Broken || it.Place == nil || it.Place != at && (at.Label == "" || !mentions(label, strings.ToLower(at.Label))) {
			continue
		}
		if it.Status.In(p.configuration) {
			return nil
		}
		gone = it
	}
	return gone
}

// airFor says how much air a battery needs, where its capacity is written.
func airFor(it *circuit.Item) string {
	v, known := bankVolts(it)
	hours, stated := bankHours(it)
	c, ok := table.ChemistryOf(chemistry(it))
	if !known || !stated || !ok {
		return ""
	}
	q, area := c.Value.Ventilation(v, hours)
	return fmt.Sprintf(", %.2g m³/h for this one: openings of %.0f cm² each", q, math.Ceil(area))
}

// aired is a small boat with a vented battery in a place of some kind.
func aired(place string) string {
	return "craft \"Small boat\" {\n    cable class 5, tinned, 105 degC, free\n}\ndomain house: dc 12 V, 10.5 V to 16 V\nplace locker: 40 degC" + place + "\n" +
		"battery B1 in house at locker: flooded, 12 V, 75 Ah, resistance 8 mohm, terminals 105 degC\n" +
		"run B1 [0.1 m 25 mm2] fuse F1 at locker: class t, 125 V, breaks 20 kA, 80 A [0.1 m 25 mm2] isolator Q1 at locker: 100 A, 32 V, 1 pole, load-break [2 m 25 mm2] pump P1 at locker: 60 W\n"
}
