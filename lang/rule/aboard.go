package rule

// What a craft on the water needs and its text may not say: bilge pumps by their
// word, lights, and sockets in the dry.

import (
	"fmt"
	"strings"

	"strake/lang/circuit"
	"strake/lang/diag"
)

var bilgeNotSaid = Rule{diag.Info{Rule: "bilge-pump-not-said", Severity: diag.NotVerified,
	Title:  "what may be a bilge pump, and does not say so",
	Why:    "A pump that is called a bilge pump, or that a float starts, and does not say `bilge` is judged like any other load: that it stays live, starts by itself and loses little voltage is not asked of it.",
	Source: "common practice",
	Bad:    strings.Replace(pumped("float-switch FS1 at locker: 16 A, 24 V"), ", bilge, must be live", "", 1),
	Good:   pumped("float-switch FS1 at locker: 16 A, 24 V"),
}, func(p *pass) {
	p.items(func(it *circuit.Item) {
		switch {
		case !it.Nature().Load || it.Kind == "lamp" || it.Kind == "socket" || it.Kind == "starter":
		case it.Facts.Bilge:
			p.ok(it.Ref)
		case it.Kind == "pump" && mentions(it.Label, "bilge"), mentions(it.Label, "bilge pump") && !mentions(it.Label, "alarm") && !mentions(it.Label, "panel") && !mentions(it.Label, "monitor"),
			it.Kind == "pump" && p.stopsWithout(it, p.floats()) && (it.Label == "" || it.Place != nil && within(it.Place, bilged)):
			p.unverified(it.Ref, diag.Finding{Span: it.RefSpan, Missing: fmt.Sprintf("whether %s is a bilge pump", called(it)),
				Cure: fmt.Sprintf("write `pump %s …: bilge`, or give it a label that says what it pumps", it.Ref)})
		}
	})
}}

// mentions tells whether a label holds some words, in capitals or not.
func mentions(label, words string) bool { return strings.Contains(strings.ToLower(label), words) }

// bilged tells a place that is called a bilge.
func bilged(at *circuit.Place) bool { return mentions(at.Name, "bilge") || mentions(at.Label, "bilge") }

var noPumpByItself = Rule{diag.Info{Rule: "no-bilge-pump-by-itself", Severity: diag.Advice,
	Title:  "a craft without a bilge pump that starts by itself",
	Why:    "A craft that lies on the water unattended takes rain and what its glands let in. A pump that somebody has to switch on, or none, does nothing against that. An open boat that is lifted out after use may need none.",
	Source: "ISO 15083 and common practice, from memory, verify against the standard",
	Bad:    strings.Replace(strings.Replace(pumped("switch S1 at locker: 16 A, 24 V"), "bilge, must be live", "bilge, manual", 1), "{\n", "{\n    water coastal\n", 1),
	Good:   strings.Replace(pumped("float-switch FS1 at locker: 16 A, 24 V"), "{\n", "{\n    water coastal\n", 1),
}, func(p *pass) {
	if p.Craft.Water == "" {
		return // nobody says that it floats
	}
	pumps := []*circuit.Item{}
	for _, it := range p.Items {
		if !it.Broken && (it.Facts.Bilge || it.Nature().Load && mentions(it.Label, "bilge pump")) {
			if !it.Facts.Manual || it.Facts.Automatic || it.Facts.MustBeLive || !it.Facts.Bilge {
				return // judged, or asked for, by name
			}
			pumps = append(pumps, it)
		}
	}
	f := diag.Finding{Message: "no bilge pump is written, and the craft goes on the water", Span: p.Craft.Span, Cure: "write its pump, with `bilge` and what starts it"}
	subject := "craft"
	if len(pumps) > 0 {
		subject, f.Span = pumps[0].Ref, pumps[0].RefSpan
		f.Message = fmt.Sprintf("no bilge pump starts by itself: %s run by hand alone", names(pumps))
		if len(pumps) == 1 {
			f.Message = fmt.Sprintf("no bilge pump starts by itself: %s is run by hand alone", called(pumps[0]))
		}
		f.Cure = "feed one through a float-switch from a battery, ahead of the isolator"
	}
	p.fail(subject, f)
}}

var floatElsewhere = Rule{diag.Info{Rule: "float-elsewhere", Severity: diag.Advice,
	Title:  "a float switch that stands where its pump does not",
	Why:    "The float starts the pump when the water has reached the float. Away from the pump it never does, or does too late; rain on deck is not the water that the pump takes.",
	Source: "common practice",
	Bad:    strings.Replace(pumped("float-switch FS1 at mast: 16 A, 24 V"), "battery B1", "place mast \"Mast\": 30 degC\nbattery B1", 1),
	Good:   pumped("float-switch FS1 at locker: 16 A, 24 V"),
}, func(p *pass) {
	p.items(func(it *circuit.Item) {
		if !it.Facts.Bilge || it.Place == nil {
			return
		}
		for _, o := range p.Items {
			if o.Kind != "float-switch" || o.Place == nil || !p.stopsWithout(it, map[*circuit.Item]bool{o: true}) {
				continue
			}
			near := within(o.Place, func(at *circuit.Place) bool { return at == it.Place || bilged(at) }) || within(it.Place, func(at *circuit.Place) bool { return at == o.Place })
			if near {
				p.ok(o.Ref)
				continue
			}
			p.fail(o.Ref, diag.Finding{Message: fmt.Sprintf("%s stands at %s, and %s, which it starts, at %s", called(o), o.Place.Name, called(it), it.Place.Name),
				Span: o.RefSpan, Items: []string{it.Ref}, Related: p.where([]*circuit.Item{it}), Cure: "fit it where the water gathers, by the pump, and write that place; one that lies within another says so: `place sump at bilge`"})
		}
	})
}}

var lightNotAboard = Rule{diag.Info{Rule: "navigation-light-not-aboard", Severity: diag.Fault,
	Title:  "a navigation light that is not there, and no other in its place",
	Why:    "What the owner is to fit, and what is only prepared, does not shine on the day the craft is handed over; what was removed never does. Another navigation light in the same place answers for it.",
	Source: "COLREG rules 20 to 23; common practice",
	Bad:    lit("owner run DB1.1"),
	Good:   lit("run DB1.1"),
}, func(p *pass) {
	for _, it := range p.Items {
		if !it.Facts.Navigation || it.Broken || it.Kind == "pump" {
			continue
		}
		if p.aboard(it, func(o *circuit.Item) bool { return o.Facts.Navigation && o.Place == it.Place }) {
			p.ok(it.Ref)
			continue
		}
		where := ""
		if it.Place != nil {
			where = " at " + it.Place.Name
		}
		p.fail(it.Ref, diag.Finding{Message: fmt.Sprintf("%s is `%s`, and no other navigation light is fed%s", called(it), it.Status, where), Span: it.RefSpan,
			Cure: "fit it before the craft is handed over, or fit another that stays"})
	}
}}

// aboard tells whether an item is there, or a fed one that answers for it.
func (p *pass) aboard(it *circuit.Item, answers func(*circuit.Item) bool) bool {
	found := it.Status.In(p.configuration)
	p.items(func(o *circuit.Item) {
		found = found || answers(o) && p.fed(o)
	})
	return found
}

// lit is a small boat with a navigation light at the end of some run.
func lit(run string) string {
	return boardBoat + "    way 1 5 A \"Stern light\"\n}\n" + run + " [4 m 4 mm2] lamp LA1 at locker: 10 W, navigation\n"
}

var mainsInTheWet = Rule{diag.Info{Rule: "mains-socket-in-the-wet", Severity: diag.Advice,
	Title:  "a mains socket in a place that gets wet",
	Why:    "A plug is pulled and held with wet hands there, and a common socket lets water in. It stands in a dry place, or is of a kind with a cover that keeps jets out.",
	Source: "IEC 60364-7-709 and IEC 60529, from memory, verify against the standard",
	Bad:    wetSocket,
	Good:   strings.Replace(wetSocket, "degC, wet", "degC", 1),
}, func(p *pass) {
	p.items(func(it *circuit.Item) {
		d := powerDomain(it)
		if it.Kind != "socket" || d == nil || !d.AC || it.Place == nil {
			return
		}
		if !within(it.Place, func(at *circuit.Place) bool { return at.Wet }) {
			p.ok(it.Ref)
			return
		}
		p.fail(it.Ref, diag.Finding{Message: fmt.Sprintf("%s of %s stands at %s, which gets wet", called(it), d.Name, it.Place.Name), Span: it.RefSpan,
			Cure: "move it to a dry place, or see that it keeps jets out with its plug in and out"})
	})
}}

// wetSocket is a socket on shore power where it gets wet.
const wetSocket = `craft "Small boat" {
    cable class 5, tinned, 105 degC, free
}
domain mains: ac 230 V, 50 Hz
place locker "Locker": 40 degC
place cockpit "Cockpit": 30 degC, wet
run inlet SH1 in mains at locker: 16 A [0.4 m 3G2.5] rcbo R1 at locker: 16 A, 30 mA, 2 pole, type a [3 m 3G2.5] socket X1 at cockpit: 4 A
earth E1 at locker
bond SH1 [1 m 6 mm2] E1
`
