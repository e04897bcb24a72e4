package circuit

// WatchedBy is the batteries that a battery management watches: those with a signal
// between it and them, and where none is said the lithium batteries that stand where
// it stands.
func (s *System) WatchedBy(bms *Item) (batteries []*Item, said bool) {
	for _, c := range s.Signals {
		for _, e := range [...][2]End{{c.From, c.To}, {c.To, c.From}} {
			if e[0].Item == bms && e[1].Item != nil && e[1].Item.Nature().Stores && c.Status != Removed {
				batteries = append(batteries, e[1].Item)
			}
		}
	}
	if len(batteries) > 0 || bms.Place == nil {
		return batteries, len(batteries) > 0
	}
	for _, it := range s.Items {
		at := it.Place
		if it.Kind == "battery" && it.Facts.Chemistry == "lfp" && it.Status != Removed && at != nil && (at.in(bms.Place) || bms.Place.in(at)) {
			batteries = append(batteries, it)
		}
	}
	return batteries, false
}
