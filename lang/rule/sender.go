package rule

// Who sends a signal: what clears a danger acts by itself, without a hand.

import (
	"fmt"

	"strake/lang/circuit"
	"strake/lang/diag"
)

// heldByMonitor tells whether what watches the pack stops an item, by itself or
// through a relay.
func (p *pass) heldByMonitor(it *circuit.Item) bool {
	return p.sent(it, func(from *circuit.Item) bool { return from.Kind == "bms" }, "stops", "controls", "opens")
}

// braked tells whether something stops an item without a hand: a monitor, or a
// relay that turns with a voltage.
func (p *pass) braked(it *circuit.Item) bool {
	return p.sent(it, func(from *circuit.Item) bool {
		return from.Kind == "bms" || from.Kind == "controller" || from.Kind == "regulator" || from.HasPort("coil")
	}, "stops", "controls", "opens")
}

// floated tells whether a float starts an item by a signal.
func (p *pass) floated(it *circuit.Item) bool {
	var floats map[*circuit.Item]bool
	return p.sent(it, func(from *circuit.Item) bool {
		if floats == nil {
			floats = p.floats()
		}
		return floats[from]
	}, "", "starts", "controls", "closes")
}

// sent tells whether a signal that does one of these comes to an item from such a
// sender, or from a relay to which such a sender signals.
func (p *pass) sent(it *circuit.Item, from func(*circuit.Item) bool, actions ...string) bool {
	for _, c := range p.signals {
		if c.To.Item != it || c.From.Item == nil || !c.From.Item.Status.In(p.configuration) {
			continue
		}
		for _, a := range actions {
			if c.Action == a && (from(c.From.Item) || p.passesOn(c.From.Item, from)) {
				return true
			}
		}
	}
	return false
}

// passesOn tells a relay or a contactor that such a sender moves.
func (p *pass) passesOn(relay *circuit.Item, from func(*circuit.Item) bool) bool {
	for _, c := range p.signals {
		if relay.HasPort("coil") && c.To.Item == relay && c.Action != "shows" && c.From.Item != nil && from(c.From.Item) {
			return true
		}
	}
	return false
}

// unheeded names the sender of a signal that was written as a cure and is none.
func (p *pass) unheeded(it *circuit.Item) string {
	for _, c := range p.signals {
		if c.To.Item == it && c.Action != "shows" && c.From.Item != nil {
			return fmt.Sprintf("; the signal of %s does not, as a %s does nothing of that by itself", c.From.Item.Ref, c.From.Item.Kind)
		}
	}
	return ""
}

var signalMovesNothing = Rule{diag.Info{Rule: "signal-moves-nothing", Severity: diag.Fault,
	Title:  "a signal that is to open or close what only a hand moves",
	Why:    "A hand isolator, a switch or a fuse has no coil: a signal to it is a wire that ends on nothing, and what it is to part stays joined. A contactor or a relay has a coil; a breaker may have a release that opens it, and nothing that closes it.",
	Source: "common practice",
	Bad:    goodFeederOnBar + "run PB [2 m 25 mm2] pump P1 at locker: 60 W\nbms BM1 at locker\nsignal BM1 [1 m] opens Q1\n",
	Good:   goodFeederOnBar + "run PB [0.1 m 25 mm2] contactor K1 at locker: 100 A, 32 V, 1 pole, coil 12 V [2 m 25 mm2] pump P1 at locker: 60 W\nbms BM1 at locker\nsignal BM1 [1 m] closes K1\n",
}, func(p *pass) {
	for _, c := range p.signals {
		to := c.To.Item
		if to == nil || !to.Nature().Opens || c.To.Port == "enable" {
			continue
		}
		if moves := c.Action == "opens" || c.Action == "closes"; !moves && (to.Way != nil || c.Action == "shows" || c.Action == "") {
			continue // a way's number may stand for its load
		}
		n := to.Nature()
		release := to.Kind != "fuse" && (n.Protects || n.Residual) && (c.Action == "opens" || c.Action == "stops")
		if release || to.HasPort("coil") || to.Kind == "changeover" || to.Kind == "stop" {
			p.ok(c.ID)
			continue
		}
		p.fail(c.ID, diag.Finding{Message: fmt.Sprintf("the signal %s %s %s, which has no coil: only a hand moves it", c.ID, c.Action, called(to)),
			Span: c.Span, Items: []string{to.Ref}, Related: p.where([]*circuit.Item{to}), Cure: "fit a contactor there, or take the signal out"})
	}
}}
