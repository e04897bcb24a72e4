package circuit

import "slices"

// Enforces tells whether the thing that an interlock names can hold the others
// to it, as the text has it wired: it acts on one side and knows of the other, or
// it commands both, or both pass it and never at once. One that is wired to
// nothing enforces nothing, nor does the contactor of one of them that knows
// nothing of the other.
func (n *Net) Enforces(l Interlock) bool {
	if l.By == nil || l.By.Status == Removed {
		return false
	}
	if n.ActsOn(l.By, l.First) && n.knows(l.By, l.Second, l.First) || !l.Only && n.ActsOn(l.By, l.Second) && n.knows(l.By, l.First, l.Second) {
		return true
	}
	return n.commands(l.By, l.First) && n.commands(l.By, l.Second) || n.parts(l)
}

// ActsOn tells whether a thing can keep one of these off: it is one of them, a
// contact of it stands in the only feed of one of them, or of the coil of what that
// is fed through, or a signal of it reaches one of these.
func (n *Net) ActsOn(by *Item, members []*Item) bool {
	return slices.Contains(members, by) || slices.ContainsFunc(members, func(m *Item) bool {
		return slices.ContainsFunc(n.with(m), func(x *Item) bool { return x == by || n.fedThrough(x, by) || n.signals(by, x) })
	})
}

// knows tells whether a thing is told when one of these runs: it is one of them, a
// signal of one of them, or of what one of them is fed through, reaches it, or its
// coil hangs on that. What feeds the others as well says nothing. A relay in the feed
// of its coil may know instead.
func (n *Net) knows(by *Item, members, others []*Item) bool {
	if slices.Contains(members, by) {
		return true
	}
	tells := []*Item{by}
	for _, x := range n.System.Items {
		if x.HasPort("coil") && n.losesCoil(by, x) {
			tells = append(tells, x)
		}
	}
	for _, m := range members {
		for _, x := range n.with(m) {
			if slices.Contains(others, x) || slices.ContainsFunc(others, func(o *Item) bool { return n.fedThrough(o, x) }) {
				continue
			}
			for _, t := range tells {
				if x != by && (n.signals(x, t) || x != m && !cutOff(x) && n.losesCoil(t, x)) {
					return true
				}
			}
		}
	}
	return false
}

// cutOff tells the switch of a whole bank, which is closed whatever runs.
func cutOff(it *Item) bool { return it.Kind == "isolator" }

// commands tells whether a thing that is no switch, such as a panel or a controller,
// has signals to one of these, or to what they are fed through.
func (n *Net) commands(by *Item, members []*Item) bool {
	return !by.Nature().Opens && slices.ContainsFunc(members, func(m *Item) bool {
		return slices.ContainsFunc(n.with(m), func(x *Item) bool { return n.signals(by, x) })
	})
}

// parts tells whether both sides pass a changeover in positions of their own. The
// contacts of a relay do not say which of them close together.
func (n *Net) parts(l Interlock) bool {
	if l.By.Kind != "changeover" {
		return false
	}
	alone := func(side, other []*Item) bool {
		return slices.ContainsFunc(l.By.Facts.Positions, func(position string) bool {
			v := View{Through: true, Position: map[*Item]string{l.By: position}}
			dark := func(m *Item) bool {
				return n.fedIn(m, View{Through: true}) && !n.fedIn(m, v) || n.gives(m, l.By, View{Through: true}) && !n.gives(m, l.By, v)
			}
			return slices.ContainsFunc(side, dark) && !slices.ContainsFunc(other, dark)
		})
	}
	return alone(l.First, l.Second) && alone(l.Second, l.First)
}

// gives tells whether a source gets to the output of a changeover in a view.
func (n *Net) gives(it, by *Item, v View) bool {
	var from []Terminal
	for _, p := range it.Ports {
		if t := (Terminal{Item: it, Port: p.Name}); it.Nature().Source || it.Nature().Converts && IsOutput(p.Name) {
			from = append(from, t)
		}
	}
	return slices.Contains(n.Reach(from, v), Terminal{Item: by, Port: "out"})
}

// with is an item and what it is fed through alone, that opens.
func (n *Net) with(it *Item) []*Item {
	list := []*Item{it}
	var at []Terminal
	for _, p := range it.Ports {
		at = append(at, Terminal{Item: it, Port: p.Name})
	}
	for _, t := range n.Origin(at, View{Through: true}) {
		if x := t.Item; x.Nature().Opens && !slices.Contains(list, x) && n.fedThrough(it, x) {
			list = append(list, x)
		}
	}
	return list
}

// signals tells whether a control cable that does more than show leads from one thing
// to another.
func (n *Net) signals(from, to *Item) bool {
	return slices.ContainsFunc(n.System.Signals, func(c *Cable) bool {
		return c.Status != Removed && c.From.Item == from && c.To.Item == to && c.Action != "shows"
	})
}

// fedIn tells whether anything feeds an item in a view, its coil aside.
func (n *Net) fedIn(it *Item, v View) bool {
	return slices.ContainsFunc(it.Ports, func(p Port) bool { return p.Name != "coil" && n.Fed(Terminal{Item: it, Port: p.Name}, v, it) })
}

// fedThrough tells whether an item loses a feed of its own when another is open.
func (n *Net) fedThrough(it, by *Item) bool {
	if !by.Nature().Opens {
		return false
	}
	for _, p := range it.Ports {
		if n.loses(Terminal{Item: it, Port: p.Name}, by) {
			return true
		}
	}
	return false
}

// losesCoil tells whether the coil of one thing is dead when another is open.
func (n *Net) losesCoil(it, by *Item) bool {
	return it != by && it.HasPort("coil") && by.Nature().Opens && n.loses(Terminal{Item: it, Port: "coil"}, by)
}

// loses tells whether a terminal that something else feeds is dead when a thing is open.
func (n *Net) loses(t Terminal, by *Item) bool {
	return n.Fed(t, View{Through: true}, t.Item) && !n.Fed(t, View{Through: true, Open: map[*Item]bool{by: true}}, t.Item)
}
