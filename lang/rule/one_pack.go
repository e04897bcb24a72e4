package rule

// What goes dark when one battery opens itself, and what stays live when an
// isolator is opened.

import (
	"fmt"
	"strings"

	"strake/lang/circuit"
	"strake/lang/diag"
)

var essentialOnOnePack = Rule{diag.Info{Rule: "essential-on-one-pack", Severity: diag.Advice,
	Title:  "essential loads on one battery that may open itself",
	Why:    "A lithium battery's management opens it on a cold night, an empty cell or a fault of its own, without asking. What hangs on it alone is dark then: navigation lights, the radio, the bilge pump. Another battery that can feed them, beside it, through a changeover or through a converter, answers for it.",
	Source: "ABYC E-13 as excerpted; common practice",
	Bad:    strings.Replace(onePack, "agm, 12 V, 75 Ah", "lfp, 12.8 V, 100 Ah, may disconnect, discharge 100 A, charge 50 A", 1),
	Good:   onePack,
}, func(p *pass) {
	through := p.view
	through.Through = true
	alone := map[*circuit.Item][]*circuit.Item{}
	p.items(func(it *circuit.Item) {
		if !it.Facts.Essential() && !it.Facts.MustBeLive || !it.Nature().Load {
			return
		}
		var ways []circuit.Terminal
		for _, t := range terminals(it) {
			if !circuit.IsControl(t.Port) {
				ways = append(ways, t)
			}
		}
		var stores []*circuit.Item
		for _, t := range p.net.Origin(ways, through) {
			if b := t.Item; b.Nature().Stores && !(b.Bank != nil && !b.Bank.Series) {
				stores = append(stores, b)
			}
		}
		if len(stores) == 1 && mayOpenItself(stores[0]) {
			alone[stores[0]] = append(alone[stores[0]], it)
		} else if len(stores) > 0 {
			p.ok(it.Ref)
		}
	})
	p.items(func(it *circuit.Item) { // one message for a battery
		loads := alone[it]
		if len(loads) == 0 {
			return
		}
		more, hang := "", "hangs"
		if n := len(loads) - 1; n > 0 {
			more, hang = fmt.Sprintf(" (and %d more)", n), "hang"
		}
		p.fail(it.Ref, diag.Finding{Message: fmt.Sprintf("%s%s %s on %s alone, which may open itself", called(loads[0]), more, hang, called(it)),
			Span: it.RefSpan, Related: p.where(loads[:1]), Items: refs(loads),
			Cure: "let a second battery feed them as well, beside it or through a changeover or a converter"})
	})
}}

// mayOpenItself tells a battery with a management that can open it: one that says
// so, or of lithium.
func mayOpenItself(it *circuit.Item) bool {
	if it.Bank != nil {
		for _, m := range it.Bank.Members {
			if mayOpenItself(m) {
				return true
			}
		}
	}
	return it.Facts.MayDisconnect || chemistry(it) == "lfp"
}

// onePack is a small boat with a navigation light on one battery.
const onePack = header + `run battery B1 in house at locker: agm, 12 V, 75 Ah, resistance 6 mohm, terminals 105 degC [0.1 m 25 mm2] fuse F1 at locker: class t, 125 V, breaks 20 kA, 80 A [0.1 m 25 mm2] isolator Q1 at locker: 100 A, 32 V, 1 pole, load-break [0.2 m 25 mm2] bus PB in house at locker: 100 A
run PB [link] fuse F2 at locker: class t, 125 V, breaks 20 kA, 10 A [4 m 4 mm2] lamp L1 at locker: 10 W, navigation
`

var isolatorBypassed = Rule{diag.Info{Rule: "isolator-bypassed", Severity: diag.Danger,
	Title:  "an isolator with a way round it",
	Why:    "Somebody opens it, takes the far side for dead, and works on what the same battery still feeds by the other way. What bridges an isolator only in an emergency usually stands open and says `off`.",
	Source: "IEC 60364-5-53 537, from memory, verify against the standard; ISO 13297:2020, from memory, verify against the standard",
	Bad:    bridged("isolator Q2 at locker: 100 A, 32 V, 1 pole, load-break"),
	Good:   bridged("isolator Q2 at locker: 100 A, 32 V, 1 pole, load-break, off"),
}, func(p *pass) {
	p.items(func(it *circuit.Item) {
		if it.Kind != "isolator" || it.Facts.UsualOff {
			return
		}
		view := p.withOpen(func(o *circuit.Item) bool { return o == it || o.Facts.UsualOff || p.careful(o) })
		in := p.storing(p.net.Origin([]circuit.Terminal{{Item: it, Port: "in"}}, view))
		out := p.storing(p.net.Origin([]circuit.Terminal{{Item: it, Port: "out"}}, view))
		for _, b := range p.Items {
			if !in[b] || !out[b] {
				continue
			}
			by := p.bridges(it, b, view)
			p.fail(it.Ref, diag.Finding{Message: fmt.Sprintf("%s is bridged: when it is open, %s feeds both its sides by another way", called(it), called(b)),
				Span: it.RefSpan, Related: p.where(by), Items: append([]string{b.Ref}, refs(by)...),
				Cure: "take the other way out, or let it stand open and say `off`"})
			return
		}
		p.ok(it.Ref)
	})
}}

// bridges are the things that can be opened on the other way from a battery round
// an isolator.
func (p *pass) bridges(it, battery *circuit.Item, view circuit.View) []*circuit.Item {
	var list []*circuit.Item
	for _, o := range p.Items {
		if o == it || !o.Nature().Opens || view.Open[o] {
			continue
		}
		less := view.Opening(o)
		parts := func(port string) bool {
			return !p.storing(p.net.Origin([]circuit.Terminal{{Item: it, Port: port}}, less))[battery]
		}
		if parts("in") != parts("out") {
			list = append(list, o)
		}
	}
	return list
}

// bridged is a small boat with an isolator and something round it.
func bridged(by string) string {
	return goodFeederOnBar + "run F1.out [0.1 m 25 mm2] " + by + " [0.2 m 25 mm2] PB\nrun PB [link] fuse F2 at locker: class t, 125 V, breaks 20 kA, 10 A [4 m 4 mm2] load L1 at locker: 10 W\n"
}
