package circuit

// Item is the item of this reference, or nil.
func (s *System) Item(ref string) *Item {
	for _, it := range s.Items {
		if it.Ref == ref {
			return it
		}
	}
	return nil
}

// Cable is the power cable, bond or signal of this name, or nil. A cable may be
// called by the items at its ends either way round.
func (s *System) Cable(name string) *Cable {
	for _, set := range [][]*Cable{s.Cables, s.Bonds, s.Signals} {
		for _, c := range set {
			if c.ID == name || c.Flipped() == name && name != "" {
				return c
			}
		}
	}
	return nil
}

// Flipped is the cable's name from its other end; empty when it has but one name.
func (c *Cable) Flipped() string {
	if c.OwnRef || c.Way != nil || c.From.Item == nil || c.To.Item == nil {
		return ""
	}
	return c.To.Item.Ref + "-" + c.From.Item.Ref
}

// Domain is the domain of this name, or nil.
func (s *System) Domain(name string) *Domain {
	for _, d := range s.Domains {
		if d.Name == name {
			return d
		}
	}
	return nil
}

// Place is the place of this name, or nil.
func (s *System) Place(name string) *Place {
	for _, p := range s.Places {
		if p.Name == name {
			return p
		}
	}
	return nil
}

// PortDomain is the domain in which a port of the item lies; nil: not known.
func (it *Item) PortDomain(port string) *Domain {
	for _, p := range it.Ports {
		if p.Name == port {
			return p.Domain
		}
	}
	return it.Domain
}

// PortOnly is the domain of a port without recourse to the item's own.
func (it *Item) PortOnly(port string) *Domain {
	for _, p := range it.Ports {
		if p.Name == port {
			return p.Domain
		}
	}
	return nil
}

// HasPort tells whether the item has a port of this name.
func (it *Item) HasPort(port string) bool {
	for _, p := range it.Ports {
		if p.Name == port {
			return true
		}
	}
	return false
}

// TopBank is the outermost bank that the item is a member of, or the item itself.
func (it *Item) TopBank() *Item {
	for it.MemberOf != nil {
		it = it.MemberOf
	}
	return it
}

// SpansPlaces tells a link between things that stand in two places, neither of
// which lies within the other: no bar or bolted joint reaches so far.
func (c *Cable) SpansPlaces() bool {
	if !c.Link || c.From.Item == nil || c.To.Item == nil {
		return false
	}
	a, b := c.From.Item.Place, c.To.Item.Place
	return a != nil && b != nil && !a.in(b) && !b.in(a)
}

// in tells whether a place is another, or lies within it.
func (p *Place) in(other *Place) bool {
	for ; p != nil; p = p.Within {
		if p == other {
			return true
		}
	}
	return false
}
