package rule

// Conditions that the text declares and in which something gives out.

import (
	"fmt"

	"strake/lang/circuit"
	"strake/lang/diag"
	"strake/lang/size"
	"strake/lang/source"
)

var noSolution = Rule{diag.Info{Rule: "no-solution", Severity: diag.Fault,
	Title:  "a declared condition in which a converter gives out",
	Why:    "What the condition runs together asks more of a converter, an inverter or a transformer than it gives: its output shuts down, and nothing behind it runs. Batteries and cables that do not deliver are told by another rule.",
	Source: "common practice",
	Bad:    twoDomains + "run PB [link] fuse F2: class t, 125 V, breaks 20 kA, 40 A [1 m 10 mm2] converter CH1 at locker: 24 V, 5 A, isolated [0.3 m 4 mm2] pump P1 in winch at locker: 300 W\ncondition \"Pumping\": P1 on\n",
	Good:   twoDomains + "run PB [link] fuse F2: class t, 125 V, breaks 20 kA, 50 A [1 m 16 mm2] converter CH1 at locker: 24 V, 15 A, isolated [0.3 m 4 mm2] pump P1 in winch at locker: 300 W\ncondition \"Pumping\": P1 on\n",
}, func(p *pass) {
	if len(p.Conditions) == 0 {
		return // everything on at once is held against each output by itself
	}
	unsolved := size.Unsolved(p.solutions())
	if len(unsolved) == 0 {
		p.ok("craft")
	}
	spans := map[string]source.Span{}
	for _, c := range p.Conditions {
		spans[c.Name] = c.Span
	}
	told := map[*circuit.Item]bool{} // one cause is one finding
	for i, s := range unsolved {
		switch {
		case s.Overloaded == nil:
			p.unverified("craft", diag.Finding{Span: spans[s.Name], Message: fmt.Sprintf("\"%s\" is not verified: %s", s.Name, s.Refused), Missing: "which way power goes in \"" + s.Name + "\"",
				Cure: "say in the condition what is `off`, so that no converter feeds another that feeds it"})
		case !told[s.Overloaded]:
			told[s.Overloaded] = true
			related := p.where([]*circuit.Item{s.Overloaded})
			for _, other := range unsolved[i+1:] {
				if other.Overloaded == s.Overloaded {
					related = append(related, diag.Related{Span: spans[other.Name], Message: fmt.Sprintf("nor has \"%s\": %s", other.Name, other.Refused)})
				}
			}
			p.fail(s.Overloaded.Ref, diag.Finding{Message: fmt.Sprintf("\"%s\" has no solution: %s", s.Name, s.Refused), Span: spans[s.Name], Related: related,
				Cure: fmt.Sprintf("fit a larger %s, put a changeover where the condition has it, or run less at a time", s.Overloaded.Kind)})
		}
	}
}}
