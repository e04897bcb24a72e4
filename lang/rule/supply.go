package rule

// What is fed by nothing, and what cannot be switched off.

import (
	"fmt"
	"slices"

	"strake/lang/circuit"
	"strake/lang/diag"
)

var loadWithoutSource = Rule{diag.Info{Rule: "load-without-source", Severity: diag.Fault,
	Title:  "a load that no source can reach",
	Why:    "A load without a path from a source never works; usually a cable is forgotten or turned round.",
	Source: "common practice",
	Bad:    goodFeeder + "load L1 in house at locker: 20 W\n",
	Good:   goodFeeder,
}, func(p *pass) {
	told := map[*circuit.Item]bool{} // one message for what hangs together
	for _, bars := range []bool{true, false} {
		p.items(func(it *circuit.Item) {
			if n := it.Nature(); told[it] || n.Conductive != bars || !n.Load && !n.Conductive || it.Kind == "earth" {
				return
			}
			if p.fed(it) {
				p.ok(it.Ref)
				return
			}
			more := ""
			switch others := p.island(it, told); others {
			case 0:
			case 1:
				more = ", nor what hangs on it"
			default:
				more = fmt.Sprintf(", nor the %d things that hang on it", others)
			}
			p.fail(it.Ref, diag.Finding{Message: "nothing feeds " + called(it) + more, Span: it.RefSpan,
				Cure: "write the run that feeds it, or take it out"})
		})
	}
}}

var convertsNothing = Rule{diag.Info{Rule: "converter-unconnected", Severity: diag.Fault,
	Title:  "a charger or converter with nothing on one of its sides",
	Why:    "Without an input it gives nothing, and without an output it charges nothing: usually a cable is forgotten or turned round. A battery that waits for that charge goes flat.",
	Source: "common practice",
	Bad:    twoDomains + "run PB [link] fuse F2 at locker: class t, 125 V, breaks 20 kA, 40 A [1 m 10 mm2] charger CH1.in at locker: 24 V, 10 A, isolated\n",
	Good:   twoDomains + "run PB [link] fuse F2 at locker: class t, 125 V, breaks 20 kA, 40 A [1 m 10 mm2] converter CH1 at locker: 24 V, 10 A, isolated [0.3 m 4 mm2] pump P1 in winch at locker: 100 W\n",
}, func(p *pass) {
	through := p.view
	through.Through = true
	ever := circuit.View{Through: true} // what is prepared, or the owner's, is what it is there for
	p.items(func(it *circuit.Item) {
		if n := it.Nature(); !n.Converts || n.Ends != circuit.TwoEnds {
			return
		}
		in, out := circuit.Terminal{Item: it, Port: "in"}, circuit.Terminal{Item: it, Port: "out"}
		taken := false
		reached := p.net.Reach([]circuit.Terminal{out}, ever)
		for _, t := range reached {
			n := t.Item.Nature()
			taken = taken || t.Item != it && !circuit.IsControl(t.Port) && (n.Load || n.Converts || n.Stores || t.Item.Kind == "meter" || t.Item.Kind == "panel") ||
				circuit.IsControl(t.Port) || t.Item.Way != nil && t.Item.Way.Spare
		}
		switch {
		case len(p.net.Supplies(in, through)) == 0:
			p.fail(it.Ref, diag.Finding{Message: fmt.Sprintf("nothing feeds the input of %s", called(it)), Span: it.RefSpan, Cure: "write the run that feeds it, or take it out"})
		case !taken && !p.waits(reached):
			p.fail(it.Ref, diag.Finding{Message: fmt.Sprintf("nothing hangs on the output of %s", called(it)), Span: it.RefSpan, Cure: "write the run from its output, or take it out"})
		default:
			p.ok(it.Ref)
		}
	})
}}

// waits tells whether a cable that begins at one of these terminals ends capped or
// untraced: it waits for its load.
func (p *pass) waits(at []circuit.Terminal) bool {
	return slices.ContainsFunc(p.Cables, func(c *circuit.Cable) bool {
		for k, e := range [...]circuit.End{c.From, c.To} {
			far := endOf(c, 1-k)
			if t, ok := e.Terminal(); ok && (far.Capped != nil || far.Untraced) && c.Status != circuit.Removed && slices.Contains(at, t) {
				return true
			}
		}
		return false
	})
}

// fed tells whether any source reaches an item, also through what converts.
func (p *pass) fed(it *circuit.Item) bool {
	through := p.view
	through.Through = true
	for _, t := range terminals(it) {
		if !circuit.IsControl(t.Port) && p.net.Fed(t, through, nil) {
			return true
		}
	}
	return false
}

// island marks everything that hangs together with an item and counts the loads.
func (p *pass) island(it *circuit.Item, told map[*circuit.Item]bool) int {
	through := p.view
	through.Through = true
	loads := 0
	for _, t := range p.net.Reach(terminals(it), through) {
		if !told[t.Item] && t.Item != it && t.Item.Nature().Load {
			loads++
		}
		told[t.Item] = true
	}
	return loads
}

var bankWithoutIsolator = Rule{diag.Info{Rule: "bank-without-isolator", Severity: diag.Danger,
	Title:  "a battery that no switch can cut off",
	Why:    "In a fire or a fault the battery goes on feeding. A small battery that feeds nothing but fused circuits which may bypass the isolator (bilge pumps, alarms) is exempt.",
	Source: "Boat Safety Scheme part 3, 3.5; ISO 13297:2020, from memory, verify against the standard",
	Bad:    header + "battery B1 in house at locker: agm, 12 V, 75 Ah, resistance 6 mohm, terminals 105 degC\nrun B1 [0.1 m 25 mm2] fuse F1 at locker: class t, 125 V, breaks 20 kA, 80 A [2 m 25 mm2] pump P1 at locker: 60 W\n",
	Good:   goodFeeder,
}, func(p *pass) {
	told := map[*circuit.Item]bool{}
	p.items(func(it *circuit.Item) {
		if !it.Nature().Stores || it.MemberOf != nil || told[it] {
			return
		}
		told[it] = true
		var bare *circuit.Item
		for _, t := range p.net.Reach(terminals(it), p.behindSwitches()) {
			n := t.Item.Nature()
			switch {
			case t.Item == it, circuit.IsControl(t.Port), t.Item.Kind == "meter", t.Item.Kind == "bms", t.Item.Kind == "insulation-monitor", t.Item.Kind == "panel":
				continue
			case mayBypass(t.Item) || n.Converts && onlySupplies(t):
				continue
			case bare == nil && (n.Load || n.Converts && !circuit.IsOutput(t.Port)):
				bare = t.Item
			}
		}
		if bare == nil {
			p.ok(it.Ref)
			return
		}
		p.fail(it.Ref, diag.Finding{
			Message: fmt.Sprintf("%s feeds %s with no isolator between", called(it), called(bare)),
			Span:    it.RefSpan, Related: append(p.where([]*circuit.Item{bare}), p.feeders(bare)...), Items: []string{bare.Ref},
			Cure: fmt.Sprintf("put an isolator between %s and all that may not bypass one", it.Ref),
		})
	})
}}

// behindSwitches is the view with every isolator, changeover and breaker open.
func (p *pass) behindSwitches() circuit.View {
	return p.withOpen(cutsOff)
}

// cutsOff tells the switches by which a person makes a bank dead. The breakers of
// a board's ways do not: its bar stays live.
func cutsOff(it *circuit.Item) bool {
	return it.Kind == "isolator" || it.Kind == "changeover" || it.Kind == "breaker" && it.Way == nil
}

// mayBypass tells what may stay live past the isolator, if it has a fuse of its own.
func mayBypass(it *circuit.Item) bool { return it.Facts.Bilge || it.Facts.MustBeLive }

func onlySupplies(t circuit.Terminal) bool { return circuit.IsOutput(t.Port) }

// feeders are the cables through which current comes to an item.
func (p *pass) feeders(it *circuit.Item) []diag.Related {
	var list []diag.Related
	for _, t := range terminals(it) {
		if circuit.IsControl(t.Port) {
			continue
		}
		for _, st := range p.net.Upstream(t, p.view) {
			if st.Cable != nil && len(p.net.Supplies(st.To, p.view)) > 0 {
				list = append(list, diag.Related{Span: st.Cable.Span, Message: "the cable " + st.Cable.ID})
			}
		}
	}
	return list
}

// onBattery tells whether a battery feeds an item in a view.
func (p *pass) onBattery(it *circuit.Item, view circuit.View) bool {
	for _, t := range terminals(it) {
		if p.batteryAt(t, view) {
			return true
		}
	}
	return false
}

var preparedOn = Rule{diag.Info{Rule: "prepared-way-on", Severity: diag.Danger,
	Title:  "a prepared way that is switched on",
	Why:    "Its cable ends in a locker or behind a lining: whoever drills there meets a live tail.",
	Source: "common practice",
	Bad:    boardBoat + "    prepared way 1 10 A on \"Bow locker\" [4 m 6 mm2] capped at locker\n}\n",
	Good:   boardBoat + "    prepared way 1 10 A \"Bow locker\" [4 m 6 mm2] capped at locker\n}\n",
}, func(p *pass) {
	for _, it := range p.Items { // a prepared tail is there in both configurations
		waits := it.Status == circuit.Prepared || it.Way != nil && it.Way.Device == it && it.Way.Status == circuit.Prepared
		if !waits || !it.Nature().Opens || it.Broken {
			continue
		}
		if !it.Facts.UsualOn {
			p.ok(it.Ref)
			continue
		}
		p.fail(it.Ref, diag.Finding{Message: fmt.Sprintf("%s is only prepared and is switched on: its tail is live", called(it)),
			Span: it.RefSpan, Cure: "open it, lock it and take `on` out"})
	}
}}

// boardBoat is a small boat up to its board's first way.
const boardBoat = header + `battery B1 in house at locker: agm, 12 V, 75 Ah, resistance 6 mohm, terminals 105 degC
run B1 [0.1 m 25 mm2] fuse F1 at locker: class t, 125 V, breaks 20 kA, 80 A
    [0.1 m 25 mm2] isolator Q1 at locker: 100 A, 32 V, 1 pole, load-break
    [0.2 m 25 mm2] DB1
board DB1 in house at locker: 100 A {
    ways 1..4 is fuse: class t, 125 V, breaks 20 kA
`
