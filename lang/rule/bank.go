package rule

// Batteries that work together: members of a bank, and banks on one bar.

import (
	"fmt"

	"strake/lang/circuit"
	"strake/lang/diag"
	"strake/lang/quantity"
)

var membersUnlike = Rule{diag.Info{Rule: "batteries-unlike", Severity: diag.Fault,
	Title:  "unlike batteries in one bank or on one bar",
	Why:    "Batteries of different chemistry, voltage or capacity that stand together do not share: the weaker are over-discharged or overcharged. Different chemistry in parallel is a danger: one is charged by the other, past what it takes, through milliohms. What joins two batteries only when somebody closes a switch that usually stands open is worth a look.",
	Source: "common practice, in line with battery makers' manuals",
	Bad:    header + "battery B1 at locker: agm, 12 V, 75 Ah, resistance 6 mohm, terminals 105 degC\nbattery B2 at locker: agm, 12 V, 110 Ah, resistance 6 mohm, terminals 105 degC\nbank HB in house is B1, B2 in parallel [0.2 m 35 mm2]\nrun HB [0.1 m 35 mm2] fuse F1: class t, 125 V, breaks 20 kA, 80 A [2 m 35 mm2] pump P1 at locker: 60 W\n",
	Good:   pair("series"),
}, func(p *pass) {
	p.items(func(it *circuit.Item) {
		if it.Bank == nil || len(it.Bank.Members) < 2 {
			return
		}
		first := it.Bank.Members[0]
		for _, m := range it.Bank.Members[1:] {
			what := unlike(first, m)
			if what == "" {
				continue
			}
			severity := diag.Fault
			if what == "chemistry" && !it.Bank.Series {
				severity = diag.Danger
			}
			p.failAs(severity, it.Ref, diag.Finding{
				Message: fmt.Sprintf("%s and %s of %s differ in %s: %s and %s", first.Ref, m.Ref, called(it), what, figure(first, what), figure(m, what)),
				Span:    it.RefSpan, Related: p.where([]*circuit.Item{first, m}), Items: []string{first.Ref, m.Ref},
				Cure: "use batteries of one make, age and capacity",
			})
			return
		}
		p.ok(it.Ref)
	})
	p.unlikeInParallel()
}}

// unlikeInParallel looks at batteries that stand apart in the text and that
// conductors join: on one bar each through its fuse, or through switches.
func (p *pass) unlikeInParallel() {
	var banks []*circuit.Item
	p.items(func(it *circuit.Item) {
		if it.Nature().Stores && it.MemberOf == nil && !p.mislinked(it) {
			banks = append(banks, it)
		}
	})
	usual := p.usually()
	for i, a := range banks {
		always, sometimes := p.beside(a, usual), p.beside(a, p.view)
		for _, b := range banks[i+1:] {
			if !sometimes[b] {
				continue
			}
			what := unlike(a, b)
			switch {
			case what == "" && (chemistry(a) == "") != (chemistry(b) == ""):
				without, other := a, b
				if chemistry(a) != "" {
					without, other = b, a
				}
				p.unverified(without.Ref, diag.Finding{Span: without.RefSpan, Items: []string{a.Ref, b.Ref}, Missing: fmt.Sprintf("the chemistry of %s, which stands beside %s", without.Ref, other.Ref)})
				continue
			case what == "" || !always[b] && what == "capacity": // a link for emergencies between house and starter
				p.ok(a.Ref)
				continue
			}
			severity, how, cure := diag.Fault, "are joined", "charge one from the other through a converter, or use batteries of one make, age and capacity"
			switch {
			case !always[b]:
				severity, how = diag.Advice, "are joined when every switch is closed"
			case what == "chemistry":
				severity = diag.Danger
			case what == "capacity":
				cure += "; a link for emergencies that usually stands open says `off`"
			}
			p.failAs(severity, a.Ref, diag.Finding{
				Message: fmt.Sprintf("%s and %s %s and differ in %s: %s and %s", called(a), called(b), how, what, figure(a, what), figure(b, what)),
				Span:    a.RefSpan, Related: p.where([]*circuit.Item{b}), Items: []string{b.Ref}, Cure: cure,
			})
		}
	}
}

// beside are the batteries that conductors join to one.
func (p *pass) beside(it *circuit.Item, view circuit.View) map[*circuit.Item]bool {
	found := map[*circuit.Item]bool{}
	for _, t := range p.net.Origin(terminals(it), view) {
		found[t.Item] = t.Item != it
	}
	return found
}

// usually is the view with the switches open that usually are, that a lock holds
// or that a person turns from one battery to another.
func (p *pass) usually() circuit.View {
	return p.withOpen(func(it *circuit.Item) bool {
		return it.Facts.UsualOff || it.Kind == "changeover" || p.careful(it)
	})
}

// unlike names the first thing in which two batteries or banks differ.
func unlike(a, b *circuit.Item) string {
	x, y := chemistry(a), chemistry(b)
	if x != y && x != "" && y != "" {
		return "chemistry"
	}
	if v, known := bankVolts(a); known {
		if w, known := bankVolts(b); known && v != w {
			return "voltage"
		}
	}
	if v, known := bankHours(a); known {
		if w, known := bankHours(b); known && v != w {
			return "capacity"
		}
	}
	return ""
}

// figure is what a battery has of that in which it differs.
func figure(it *circuit.Item, what string) string {
	switch what {
	case "chemistry":
		return chemistry(it)
	case "voltage":
		v, _ := bankVolts(it)
		return v.String()
	}
	c, _ := bankHours(it)
	return c.String()
}

// bankHours is the capacity of a battery, of a string that of its weakest member.
func bankHours(it *circuit.Item) (sum quantity.AmpereHour, known bool) {
	if it.Bank == nil || it.Facts.Capacity.Known() {
		return it.Facts.Capacity.Value, it.Facts.Capacity.Known()
	}
	for i, m := range it.Bank.Members {
		c, ok := bankHours(m)
		switch {
		case !ok:
			return 0, false
		case it.Bank.Series && i > 0:
			sum = min(sum, c)
		default:
			sum += c
		}
	}
	return sum, len(it.Bank.Members) > 0
}
