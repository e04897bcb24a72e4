package resolve

import (
	"slices"

	"strake/lang/circuit"
	"strake/lang/syntax"
)

// bank joins the members of a declared bank.
func (r *resolver) bank(s *syntax.Item) {
	items := r.heads[&s.Head]
	if len(items) == 0 || r.ghosts[items[0]] {
		return
	}
	it := items[0]
	switch {
	case s.Bank == nil && it.Kind == "bank":
		for _, it := range items {
			it.Broken = true
		}
		r.say(bankWithoutMembers, s.Head.Span, "write its members, as in `bank WB is W1..W2 in series [0.3 m 50 mm2]`", "the bank `%s` does not say of which batteries it is made", it.Ref)
		return
	case s.Bank == nil:
		return
	case it.Kind != "bank":
		if it.Kind != "" {
			r.say(membersOffBank, s.Head.Kind.Span, "write `bank`", "only a bank is made of members; `%s` is %s", it.Ref, article(string(it.Kind)))
		}
		it.Broken = true
		return
	case len(items) > 1:
		r.say(badRange, s.Head.Ref.Span, "write the banks one by one", "members belong to one bank, not to %s", plural(len(items), "thing"))
		return
	}
	bank := &circuit.Bank{}
	switch form := s.Bank.Form; form.Text {
	case "series":
		bank.Series = true
	case "parallel":
	default:
		f := r.say(unknownValue, form.Span, "write `in series` or `in parallel`", "batteries are joined in series or in parallel, not in `%s`", form.Text)
		didYouMean(f, form.Span, form.Text, []string{"series", "parallel"})
		it.Broken = true
	}
	for i := range s.Bank.Members {
		ref := &s.Bank.Members[i]
		for _, m := range r.things(ref) {
			if r.member(it, m, ref, bank.Members) {
				bank.Members = append(bank.Members, m)
			}
		}
	}
	if len(bank.Members) == 0 {
		it.Broken = true
		return
	}
	it.Bank = bank
	for _, m := range bank.Members {
		m.MemberOf = it
	}
	if it.Place == nil {
		it.Place = commonPlace(bank.Members)
	}
	standAt(bank.Members, it.Place)
	r.links(it, s)
}

// standAt puts the members of a bank that say no place where their bank stands,
// and so theirs, of which some may be banks.
func standAt(members []*circuit.Item, at *circuit.Place) {
	for _, m := range members {
		if m.Place != nil || at == nil {
			continue
		}
		m.Place = at
		if m.Bank != nil {
			standAt(m.Bank.Members, at)
		}
	}
}

// member tells whether a thing can be a member of a bank.
func (r *resolver) member(bank, m *circuit.Item, ref *syntax.Reference, others []*circuit.Item) bool {
	refuse := func(cure, message string, args ...any) bool {
		f := r.say(notAMember, ref.Span, cure, message, args...)
		related(f, m.RefSpan, "`%s` is described here", m.Ref)
		bank.Broken = true
		return false
	}
	switch {
	case r.ghosts[m] || m.Kind == "":
		bank.Broken = true
		return false
	case m.Kind != "battery" && m.Kind != "bank":
		return refuse("name batteries or banks", "`%s` is %s, not a battery or a bank", m.Ref, article(string(m.Kind)))
	case m == bank || bank.TopBank() == m:
		return refuse("name other batteries", "the bank `%s` would be a member of itself", bank.Ref)
	case slices.Contains(others, m):
		return refuse("name it once", "`%s` is named twice in the bank `%s`", m.Ref, bank.Ref)
	case m.MemberOf != nil:
		return refuse("take it out of one of the two", "`%s` is a member of the bank `%s` already", m.Ref, m.MemberOf.Ref)
	case m.DomainSaid:
		return refuse("take the domain out of the battery's line", "`%s` says a domain of its own; the bank stands in a domain, its members in none", m.Ref)
	}
	return true
}

func commonPlace(members []*circuit.Item) *circuit.Place {
	for _, m := range members {
		if m.Place != members[0].Place {
			return nil
		}
	}
	return members[0].Place
}

// links lays what joins the members of a bank, each with the next.
func (r *resolver) links(it *circuit.Item, s *syntax.Item) {
	template := &circuit.Cable{Parallel: 1, Blank: true, Span: s.Head.Span}
	switch {
	case s.Bank.Link:
		template.Blank, template.Link = false, true
	case s.Cable != nil:
		bracket := *s.Cable
		bracket.List = slices.DeleteFunc(slices.Clone(bracket.List), func(p syntax.Property) bool {
			word, ok := plainWord(&p.Terms[0])
			return ok && word == "each"
		})
		var sound bool
		template, sound = r.cable(&bracket)
		if template.OwnRef {
			r.say(doubleCableName, s.Cable.Ref.Span, "take the reference out of the bracket", "one reference, `%s`, cannot call all links of a bank", template.ID)
			template.ID, template.OwnRef = "", false
		}
		it.Broken = it.Broken || !sound
	}
	if template.Blank {
		r.fillSpec(&template.Spec)
	}
	for i := 1; i < len(it.Bank.Members); i++ {
		c := *template
		c.Verb, c.Bank = "run", it
		c.From, c.To = circuit.End{Item: it.Bank.Members[i-1]}, circuit.End{Item: it.Bank.Members[i]}
		c.Status = max(it.Status, endStatus(c.From), endStatus(c.To))
		c.Through = slices.Clone(template.Through)
		link := &c
		it.Bank.Links = append(it.Bank.Links, link)
		r.sys.Cables = append(r.sys.Cables, link)
	}
}
