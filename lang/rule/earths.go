package rule

// Earths: what is bonded to each, and several in one craft.

import (
	"fmt"
	"strings"

	"strake/lang/circuit"
	"strake/lang/diag"
)

var earthsNotJoined = Rule{diag.Info{Rule: "earths-not-joined", Severity: diag.Fault,
	Title:  "an earth that no bond joins to the main earth",
	Why:    "What is bonded to an earth of its own stands at another voltage than the rest when a fault lifts it, and a person touches both. With mains aboard the fault may not even open its device. There is one main earth: the one to which most is bonded; every other is joined to it. On a metal hull the hull may be what joins them, where both are points of it: then that is to be written.",
	Source: "ISO 13297:2020 6.8, from memory, verify against the standard; IEC 60364-4-41 411.3.1.2, from memory",
	Bad:    strings.Replace(steelMains, "steel", "grp", 1) + "earth E1 at locker\nearth E2 at locker\nbond T1 [1 m 6 mm2] E1\nbond X1 [1 m 6 mm2] E2\n",
	Good:   strings.Replace(steelMains, "steel", "grp", 1) + "earth E1 at locker\nearth E2 at locker\nbond T1 [1 m 6 mm2] E1\nbond X1 [1 m 6 mm2] E2\nbond E2 [1 m 6 mm2] E1\n",
}, func(p *pass) {
	main := p.mainEarth()
	if main == nil {
		return
	}
	joined := p.bondedTo(main)
	p.items(func(it *circuit.Item) {
		if it.Kind != "earth" || it == main || p.bondsOn(it) == 0 {
			return // one that joins nothing is told by itself
		}
		missing := fmt.Sprintf("what joins %s to %s, such as `bond %s [2 m 16 mm2] %s`", it.Ref, main.Ref, it.Ref, main.Ref)
		switch {
		case joined[it]:
			p.ok(it.Ref)
		case p.metalHull():
			p.unverified(it.Ref, diag.Finding{Span: it.RefSpan, Items: []string{main.Ref}, Related: p.where([]*circuit.Item{main}), Missing: missing})
		default:
			severity := diag.Fault
			if p.mainsAboard() {
				severity = diag.Danger
			}
			p.failAs(severity, it.Ref, diag.Finding{Message: fmt.Sprintf("no bond joins %s to %s", called(it), called(main)),
				Span: it.RefSpan, Items: []string{main.Ref}, Related: p.where([]*circuit.Item{main}),
				Cure: fmt.Sprintf("join them, such as `bond %s [2 m 16 mm2] %s`, or bond everything to %s", it.Ref, main.Ref, main.Ref)})
		}
	})
}}

// mainEarth is the earth to which most is bonded, the first of several; nil
// where nothing is bonded to any.
func (p *pass) mainEarth() *circuit.Item {
	var main *circuit.Item
	most := 0
	p.items(func(it *circuit.Item) {
		if n := p.bondsOn(it); it.Kind == "earth" && n > most {
			main, most = it, n
		}
	})
	return main
}

// bondsOn counts the bonds that land on an item.
func (p *pass) bondsOn(it *circuit.Item) int {
	count := 0
	for _, c := range p.Bonds {
		if c.From.Item == it || c.To.Item == it {
			count++
		}
	}
	return count
}

// bondedTo is what bonds join to an item, along cases and earths.
func (p *pass) bondedTo(it *circuit.Item) map[*circuit.Item]bool {
	joined := map[*circuit.Item]bool{it: true}
	for queue := []*circuit.Item{it}; len(queue) > 0; queue = queue[1:] {
		for _, c := range p.Bonds {
			for _, e := range [][2]circuit.End{{c.From, c.To}, {c.To, c.From}} {
				if e[0].Item == queue[0] && e[0].Pole == circuit.AllPoles && e[1].Pole == circuit.AllPoles && e[1].Item != nil && !joined[e[1].Item] {
					joined[e[1].Item] = true
					queue = append(queue, e[1].Item)
				}
			}
		}
	}
	return joined
}

var earthAlone = Rule{diag.Info{Rule: "earth-joins-nothing", Severity: diag.Advice,
	Title:  "an earth to which nothing is bonded",
	Why:    "What is drawn as an earth and joins nothing leads no fault away.",
	Source: "common practice",
	Bad:    goodFeeder + "earth E1 at locker\n",
	Good:   earthedFeeder + "earth E1 at locker\nbond PB.negative [1 m 16 mm2] E1\n",
}, func(p *pass) {
	p.items(func(it *circuit.Item) {
		if it.Kind != "earth" || ofHull(it) && p.metalHull() && p.mainEarth() != nil && p.mainsAboard() {
			return // a hull without a bond is told with mains aboard
		}
		for _, c := range p.System.Bonds { // a wrong one too: that is said by itself
			if c.Status.In(p.configuration) && (c.From.Item == it || c.To.Item == it) {
				p.ok(it.Ref)
				return
			}
		}
		p.fail(it.Ref, diag.Finding{Message: "nothing is bonded to " + called(it), Span: it.RefSpan, Cure: "write its bonds, or take it out"})
	})
}}
