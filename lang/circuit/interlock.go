package circuit

import "slices"

// Enforces tells whether the thing that an interlock names can hold the others
// to it, as the text has it wired: it is one of them, a contact of it stands in
// the only feed of one of them or of its coil, or a signal of it reaches one of
// them or what that is fed through. One that is wired to nothing enforces nothing.
func (n *Net) Enforces(l Interlock) bool {
	if l.By == nil || l.By.Status == Removed {
		return false
	}
	members := slices.Concat(l.First, l.Second)
	if slices.Contains(members, l.By) {
		return true
	}
	if slices.ContainsFunc(members, func(m *Item) bool { return n.fedThrough(m, l.By) }) {
		return true
	}
	for _, c := range n.System.Signals {
		to := c.To.Item
		if c.Status == Removed || c.From.Item != l.By || to == nil || c.Action == "shows" {
			continue
		}
		if slices.Contains(members, to) || slices.ContainsFunc(members, func(m *Item) bool { return n.fedThrough(m, to) }) {
			return true
		}
	}
	return false
}

// fed tells whether anything but its own item feeds a terminal.
func (n *Net) fed(t Terminal, v View) bool {
	return slices.ContainsFunc(n.Supplies(t, v), func(s Supply) bool { return s.Item != t.Item })
}

// fedThrough tells whether an item loses a feed of its own when another is open.
func (n *Net) fedThrough(it, by *Item) bool {
	if !by.Nature().Opens {
		return false
	}
	for _, p := range it.Ports {
		t := Terminal{Item: it, Port: p.Name}
		if n.fed(t, View{Through: true}) && !n.fed(t, View{Through: true, Open: map[*Item]bool{by: true}}) {
			return true
		}
	}
	return false
}
