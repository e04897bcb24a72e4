// Package resolve turns the tree of a text into the circuit: it knows what
// every kind, property and unit means, which names stand for which things, and
// where a cable lands. It owns the table of kinds. It must not judge the
// electrics: what is legal text but bad practice is the rules' business.
package resolve

import (
	"cmp"
	"slices"

	"strake/lang/circuit"
	"strake/lang/diag"
	"strake/lang/source"
	"strake/lang/syntax"
)

// Resolve builds the system that the files describe. The first file is the
// craft; of the others, which `use` brought in, the parts alone count. Every
// independent mistake is a finding; what it touches is marked broken or left
// out, so that one cause gives one message.
func Resolve(files []*syntax.File) (*circuit.System, []diag.Finding) {
	r := &resolver{
		sys:          &circuit.System{},
		kinds:        map[*circuit.Item]*Kind{},
		items:        map[string]*circuit.Item{},
		heads:        map[*syntax.Head][]*circuit.Item{},
		ghosts:       map[*circuit.Item]bool{},
		brokenCables: map[*circuit.Cable]bool{},
		parts:        map[string]*yardPart{},
		domains:      map[string]*circuit.Domain{},
		places:       map[string]*circuit.Place{},
		missing:      map[string]int{},
		used:         map[string]bool{},
		unread:       map[string]bool{},
		positions:    map[circuit.Terminal]source.Span{},
		togetherSaid: map[string]bool{},
	}
	if len(files) == 0 || files[0] == nil {
		return r.sys, nil
	}
	for _, f := range files {
		if f != nil {
			for _, w := range f.Unread {
				r.unread[w.Text] = true
			}
		}
	}
	r.declareParts(files)
	craft := files[0].Statements
	each(craft, r.domain)
	each(craft, r.place)
	r.nestPlaces(craft)
	r.craft(craft)
	each(craft, r.declareItem)
	each(craft, r.declareRun)
	r.tellCases()
	each(craft, r.board)
	each(craft, r.bank)
	each(craft, r.rows)
	each(craft, r.run)
	r.settleChangeovers()
	r.nameCables()
	r.numberContacts()
	r.inheritPlaces()
	r.finishWays()
	r.followDomains()
	r.tellBackwards()
	each(craft, r.interlock)
	each(craft, r.order)
	each(craft, r.sheet)
	each(craft, r.condition)
	each(craft, r.day)
	r.tellUnknownConditions()
	each(craft, r.measured)
	each(craft, r.accept)
	r.assume()
	r.tellUnused()
	r.tellUndeclared()
	r.sort()
	r.enforce()
	return r.sys, r.findings
}

// resolver holds what the phases build. Maps are indexes; what is listed stands
// in slices.
type resolver struct {
	sys      *circuit.System
	findings []diag.Finding

	kinds        map[*circuit.Item]*Kind // nil: a thing whose kind is not known
	items        map[string]*circuit.Item
	heads        map[*syntax.Head][]*circuit.Item
	ghosts       map[*circuit.Item]bool // stand for what could not be resolved; in no list
	parts        map[string]*yardPart
	brokenCables map[*circuit.Cable]bool // they have a finding; left out at the end
	domains      map[string]*circuit.Domain
	places       map[string]*circuit.Place

	missing      map[string]int                   // names that nothing has: the finding that says so
	used         map[string]bool                  // "place cupboard", "domain drive", "part class-t"
	unread       map[string]bool                  // words of what could not be read
	positions    map[circuit.Terminal]source.Span // of changeovers: the cable that made each
	togetherSaid map[string]bool                  // references that are a range without its dots, told once
	passes       []pass
	heirs        []heir
	daysSaid     []dayPart
}

// each calls a phase for the statements of one form.
func each[S syntax.Statement](statements []syntax.Statement, phase func(S)) {
	for _, s := range statements {
		if t, ok := s.(S); ok {
			phase(t)
		}
	}
}

// sort puts every list into canonical order.
func (r *resolver) sort() {
	s := r.sys
	byName := func(a, b string) int { return circuit.Compare(a, b) }
	slices.SortStableFunc(s.Domains, func(a, b *circuit.Domain) int { return byName(a.Name, b.Name) })
	slices.SortStableFunc(s.Places, func(a, b *circuit.Place) int { return byName(a.Name, b.Name) })
	slices.SortStableFunc(s.Items, func(a, b *circuit.Item) int { return byName(a.Ref, b.Ref) })
	for _, set := range [][]*circuit.Cable{s.Cables, s.Bonds, s.Signals} {
		slices.SortStableFunc(set, func(a, b *circuit.Cable) int { return byName(a.ID, b.ID) })
	}
	slices.SortStableFunc(s.Interlocks, func(a, b circuit.Interlock) int { return byName(interlockKey(a), interlockKey(b)) })
	slices.SortStableFunc(s.Orders, func(a, b circuit.Order) int { return byName(a.Bar.Ref, b.Bar.Ref) })
	slices.SortStableFunc(s.Spots, func(a, b circuit.Spot) int { return cmp.Or(a.Sheet-b.Sheet, byName(a.Name(), b.Name())) })
	slices.SortStableFunc(s.Conditions, func(a, b circuit.Condition) int { return byName(a.Name, b.Name) })
	slices.SortStableFunc(s.Days, func(a, b circuit.Day) int { return byName(a.Name, b.Name) })
	slices.SortStableFunc(s.Readings, func(a, b circuit.Reading) int { return byName(readingKey(a), readingKey(b)) })
	slices.SortStableFunc(s.Acceptances, func(a, b circuit.Acceptance) int {
		return byName(a.Rule+" "+a.On+" "+a.Because, b.Rule+" "+b.On+" "+b.Because)
	})
	slices.SortStableFunc(s.Assumptions, func(a, b circuit.Assumption) int { return byName(a.On+" "+a.Text, b.On+" "+b.Text) })
}

func interlockKey(l circuit.Interlock) string {
	key := ""
	for _, it := range slices.Concat(l.First, l.Second) {
		key += it.Ref + " "
	}
	return key
}

func readingKey(m circuit.Reading) string {
	on := ""
	if m.Cable != nil {
		on = m.Cable.ID
	} else if m.Item != nil {
		on = m.Item.Ref
	}
	return on + " " + m.What + " " + m.Value + " " + m.Dated + " " + m.By
}

// assume lists a default that the compiler used.
func (r *resolver) assumed(on, text, from string, span source.Span) {
	r.sys.Assumptions = append(r.sys.Assumptions, circuit.Assumption{On: on, Text: text, Source: from, Span: span})
}
