package rule

// Cables that lie side by side between the same two ends.

import (
	"fmt"
	"math"

	"strake/lang/circuit"
	"strake/lang/diag"
	"strake/lang/size"
)

// mostUnlike is by how much the resistances of two parallel cables may differ: the
// hotter one of two that differ so carries a tenth more than its half (IEC
// 60364-5-52 523.7, from memory, verify against the standard).
const mostUnlike = 1.2

var parallelUnlike = Rule{diag.Info{Rule: "parallel-cables-unlike", Severity: diag.Fault,
	Title:  "parallel cables that do not share their current",
	Why:    "Current divides by resistance: of two cables between the same ends the shorter or thicker takes more than its share of the current, and of a fault's. Parallel cables are of one section, length and make.",
	Source: "IEC 60364-4-43 433.4 and IEC 60364-5-52 523.7, from memory, verify against the standard",
	Bad:    sideBySide("5 m 35 mm2"),
	Good:   sideBySide("2 m 35 mm2"),
}, func(p *pass) {
	for i, a := range p.cables {
		for _, b := range p.cables[i+1:] {
			if a.Of.Link || b.Of.Link || !sameEnds(a.Of, b.Of) {
				continue
			}
			one, ok1 := ohms(a)
			other, ok2 := ohms(b)
			switch {
			case !ok1 || !ok2: // asked for where the length or the section is
			case math.Max(one, other) <= mostUnlike*math.Min(one, other):
				p.ok(a.Of.ID)
			default:
				share := math.Max(one, other) / (one + other)
				less, more := a, b
				if one < other {
					less, more = b, a
				}
				p.fail(more.Of.ID, diag.Finding{Message: fmt.Sprintf("%s and %s lie in parallel and differ: %s takes %.0f %% of the current", more.Of.ID, less.Of.ID, more.Of.ID, 100*share),
					Span: more.Of.Span, Related: []diag.Related{{Span: less.Of.Span, Message: "the cable " + less.Of.ID}}, Items: []string{less.Of.ID},
					Cure: "make them of one section and length, or write them as one cable of several, `2 parallel …`"})
			}
		}
	}
}}

// sameEnds tells cables between the same two terminals, either way round.
func sameEnds(a, b *circuit.Cable) bool {
	from, ok1 := a.From.Terminal()
	to, ok2 := a.To.Terminal()
	first, ok3 := b.From.Terminal()
	second, ok4 := b.To.Terminal()
	return ok1 && ok2 && ok3 && ok4 && from != to && (from == first && to == second || from == second && to == first)
}

// ohms is the resistance of a cable per unit of its material.
func ohms(c *size.Cable) (float64, bool) {
	length, known := lengthOf(c.Of)
	if !known || !c.Area.Known || c.Area.Value <= 0 || length <= 0 {
		return 0, false
	}
	return float64(length) / float64(c.Area.Value) / float64(max(1, c.Parallel)), true
}

// sideBySide is a small boat with a second cable beside one of 2 m and 35 mm².
func sideBySide(cable string) string {
	return header + `run battery B1 in house at locker: agm, 12 V, 200 Ah, resistance 4 mohm, terminals 105 degC [0.1 m 50 mm2] fuse F1 at locker: class t, 125 V, breaks 20 kA, 160 A [0.1 m 50 mm2] isolator Q1 at locker: 200 A, 32 V, 1 pole, load-break [0.2 m 50 mm2] bus PB in house at locker: 250 A
bus PC in house at locker: 250 A
run PB [W1: 2 m 35 mm2] PC
run PB [W2: ` + cable + `] PC
run PC [link] fuse F2 at locker: class t, 125 V, breaks 20 kA, 60 A [1 m 16 mm2] pump P1 at locker: 500 W
`
}
