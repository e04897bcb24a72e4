package resolve

import (
	"slices"

	"strake/lang/circuit"
)

// followDomains lets stated domains spread along cables, through everything
// that does not convert. All spread at once, a step at a time, so that two that
// meet do so on one cable: that cable's domain stays open, and the rules see a
// different domain at each of its ends.
func (r *resolver) followDomains() {
	net := circuit.NewNet(r.sys)
	known := map[circuit.Terminal]*circuit.Domain{}
	var front []circuit.Terminal
	for _, t := range net.Terminals() {
		if d := statedAt(t); d != nil {
			known[t] = d
			front = append(front, t)
		}
	}
	for len(front) > 0 {
		var next []circuit.Terminal
		reached := map[circuit.Terminal]*circuit.Domain{}
		for _, t := range front {
			for _, st := range slices.Concat(net.Downstream(t, circuit.View{}), net.Upstream(t, circuit.View{})) {
				if known[st.To] != nil || r.isControl(st.To) && st.Through != nil {
					continue
				}
				before := reached[st.To]
				if before == nil {
					next = append(next, st.To)
				}
				if before == nil || circuit.Compare(known[t].Name, before.Name) < 0 {
					reached[st.To] = known[t]
				}
			}
		}
		for _, t := range next {
			known[t] = reached[t]
		}
		front = next
	}
	r.setDomains(known)
}

// statedAt is the domain that an item's head states for a terminal. Of what
// converts it is the output's, unless only another side can have that kind of
// current.
func statedAt(t circuit.Terminal) *circuit.Domain {
	it := t.Item
	d := it.Domain
	if !it.DomainSaid || d == nil {
		return nil
	}
	side := circuit.IsOutput(t.Port)
	switch {
	case circuit.IsControl(t.Port):
		return nil
	case !it.Nature().Converts:
		return d
	case it.Kind == "inverter-charger" && !d.AC:
		side = t.Port == "dc"
	case it.Kind == "inverter" && !d.AC, it.Kind == "charger" && d.AC:
		side = t.Port == "in"
	}
	if side {
		return d
	}
	return nil
}

func (r *resolver) isControl(t circuit.Terminal) bool { return controlPort(r.kinds[t.Item], t.Port) }

func (r *resolver) setDomains(known map[circuit.Terminal]*circuit.Domain) {
	for _, it := range r.sys.Items {
		if inString(it) {
			continue // a string stands in a domain, its members in none
		}
		var found *circuit.Domain
		agree := true
		for i := range it.Ports {
			p := &it.Ports[i]
			p.Domain = known[circuit.Terminal{Item: it, Port: p.Name}]
			switch {
			case controlPort(r.kinds[it], p.Name) || p.Domain == nil:
			case found == nil:
				found = p.Domain
			case found != p.Domain:
				agree = false
			}
		}
		if !it.DomainSaid && !it.Nature().Converts && agree {
			it.Domain = found
		}
	}
	for _, c := range r.sys.Cables {
		from, to := endDomain(c.From, known), endDomain(c.To, known)
		switch {
		case c.Bank != nil && c.Bank.Bank.Series:
			c.Domain = c.Bank.TopBank().Domain
		case from == nil || from == to:
			c.Domain = to
		case to == nil:
			c.Domain = from
		}
	}
}

// inString tells a member of a series string, however deep.
func inString(it *circuit.Item) bool {
	for ; it.MemberOf != nil; it = it.MemberOf {
		if it.MemberOf.Bank.Series {
			return true
		}
	}
	return false
}

func endDomain(e circuit.End, known map[circuit.Terminal]*circuit.Domain) *circuit.Domain {
	if t, ok := e.Terminal(); ok {
		return known[t]
	}
	return nil
}

// tellBackwards finds converters that are entered from their output.
func (r *resolver) tellBackwards() {
	net := circuit.NewNet(r.sys)
	for _, it := range r.sys.Items {
		if it.Broken || it.Nature().Ends != circuit.TwoEnds || !it.Nature().Converts {
			continue
		}
		in, out := it.PortOnly("in"), it.PortOnly("out")
		var why string
		switch {
		case it.Kind == "inverter" && in != nil && in.AC:
			why = "its input lies in the ac domain `" + in.Name + "`"
		case it.Kind == "inverter" && out != nil && !out.AC:
			why = "its output lies in the dc domain `" + out.Name + "`"
		case it.Kind == "charger" && out != nil && out.AC:
			why = "its output lies in the ac domain `" + out.Name + "`"
		case it.Kind == "regulator" && fedByArray(net, it):
			why = "the array feeds its output"
		default:
			continue
		}
		f := r.say(converterBackwards, it.RefSpan, "did you mean `"+it.Ref+".out`? a run passes a thing from `in` to `out`: write it the other way round, or end it on `"+it.Ref+".out` and begin another at `"+it.Ref+".in`",
			"%s `%s` is entered from the wrong side: %s", it.Kind, it.Ref, why)
		f.Items = []string{it.Ref}
		it.Broken = true
	}
}

func fedByArray(net *circuit.Net, it *circuit.Item) bool {
	for _, s := range net.Supplies(circuit.Terminal{Item: it, Port: "out"}, circuit.View{}) {
		if s.Item.Kind == "array" {
			return true
		}
	}
	return false
}
