package schematic

import (
	"slices"

	"strake/lang/circuit"
	"strake/lang/quantity"
	"strake/lang/size"
)

// craft builds a system by hand, so that these tests stand on the circuit's
// types alone.
type craft struct {
	sys   circuit.System
	items map[string]*circuit.Item
}

func stated[T ~float64](v T) circuit.Fact[T] { return circuit.Fact[T]{Value: v, State: circuit.Stated} }

func newCraft(name string) *craft {
	return &craft{sys: circuit.System{Craft: circuit.Craft{Name: name, Drawing: "PW-E-01", Revision: "A", Dated: "2026-11-20", Yard: "Pellmere Yard", State: "design", Rules: "iso-13297"}}, items: map[string]*circuit.Item{}}
}

func (c *craft) domain(name string, nominal, highest quantity.Volt, ac bool) *circuit.Domain {
	d := &circuit.Domain{Name: name, AC: ac, Nominal: stated(nominal)}
	if highest > 0 {
		d.Highest = stated(highest)
	}
	c.sys.Domains = append(c.sys.Domains, d)
	return d
}

func (c *craft) item(kind circuit.Kind, ref, label string, d *circuit.Domain, set ...func(*circuit.Facts)) *circuit.Item {
	it := &circuit.Item{Ref: ref, Kind: kind, Label: label, Domain: d}
	switch circuit.NatureOf(kind).Ends {
	case circuit.TwoEnds:
		it.Ports = []circuit.Port{{Name: "in", Domain: d}, {Name: "out", Domain: d}}
	case circuit.OneEnd:
		it.Ports = []circuit.Port{{Domain: d}}
	}
	for _, f := range set {
		f(&it.Facts)
	}
	c.items[ref] = it
	c.sys.Items = append(c.sys.Items, it)
	return it
}

func amps(a quantity.Ampere) func(*circuit.Facts) {
	return func(f *circuit.Facts) { f.Current = stated(a) }
}

func watts(w quantity.Watt) func(*circuit.Facts) {
	return func(f *circuit.Facts) { f.Power = stated(w) }
}

func poles(n int) func(*circuit.Facts) { return func(f *circuit.Facts) { f.Poles = n } }

func cell12(f *circuit.Facts) {
	f.Voltage, f.Capacity = stated[quantity.Volt](12.8), stated[quantity.AmpereHour](100)
}

// run joins items from first to last; a length of 0 is a link.
func (c *craft) run(d *circuit.Domain, area quantity.SquareMM, ends ...any) {
	var from *circuit.Item
	var length quantity.Metre
	for _, e := range ends {
		switch e := e.(type) {
		case float64:
			length = quantity.Metre(e)
		case string:
			to := c.items[e]
			if from != nil {
				k := &circuit.Cable{ID: from.Ref + "-" + to.Ref, Verb: "run", Domain: d, Parallel: 1, Link: length == 0, Length: stated(length), Area: stated(area)}
				k.From, k.To = circuit.End{Item: from}, circuit.End{Item: to}
				if len(from.Ports) > 1 {
					k.From.Port = "out"
				}
				if len(to.Ports) > 1 {
					k.To.Port = "in"
				}
				c.sys.Cables = append(c.sys.Cables, k)
			}
			from = to
		}
	}
}

// way adds a way to a board; a length of 0 is a spare way.
func (c *craft) way(board *circuit.Item, number int, rating quantity.Ampere, label string, kind circuit.Kind, power quantity.Watt, length quantity.Metre, status circuit.Status) *circuit.Way {
	if board.Board == nil {
		board.Board = &circuit.Board{}
	}
	w := &circuit.Way{Board: board, Number: number, Label: label, Status: status}
	ref := board.Ref + "." + number1(number)
	w.Device = &circuit.Item{Ref: ref, Kind: "fuse", Way: w, Domain: board.Domain, Status: status, Ports: []circuit.Port{{Name: "in"}, {Name: "out"}}}
	c.sys.Items = append(c.sys.Items, w.Device)
	if length > 0 {
		w.Device.Facts.Current = stated(rating)
		w.Cable = &circuit.Cable{ID: ref, Verb: "run", Domain: board.Domain, Parallel: 1, Length: stated(length), Area: stated[quantity.SquareMM](2.5), Way: w, Status: status}
		w.Cable.From = circuit.End{Item: w.Device, Port: "out"}
		if kind == "" {
			w.Cable.To = circuit.End{Capped: &circuit.Place{Name: "bow"}}
		} else {
			w.Load = &circuit.Item{Ref: ref + ".load", Kind: kind, Way: w, Domain: board.Domain, Status: status, Ports: []circuit.Port{{}}, Facts: circuit.Facts{Power: stated(power)}}
			w.Cable.To = circuit.End{Item: w.Load}
			c.sys.Items = append(c.sys.Items, w.Load)
		}
		c.sys.Cables = append(c.sys.Cables, w.Cable)
	} else {
		w.Spare = true
	}
	board.Board.Ways = append(board.Board.Ways, w)
	return w
}

func number1(n int) string { return number(float64(n)) }

// system sorts everything as the resolver does.
func (c *craft) system() (*circuit.System, *size.Plan) {
	slices.SortFunc(c.sys.Items, func(a, b *circuit.Item) int { return circuit.Compare(a.Ref, b.Ref) })
	slices.SortFunc(c.sys.Cables, func(a, b *circuit.Cable) int { return circuit.Compare(a.ID, b.ID) })
	plan := &size.Plan{}
	for _, k := range c.sys.Cables {
		plan.Cables = append(plan.Cables, size.Cable{Of: k, Area: k.Area.Opt(), Parallel: 1, Stated: true, CumulativePercent: quantity.Some[quantity.Percent](0.8)})
	}
	return &c.sys, plan
}

// launch is a small electric launch: a string of three, one bar, a motor, a
// converter to a board, a charging inlet, a bilge pump on a battery of its own.
func launch() *craft {
	c := newCraft("Pintlewick")
	drive := c.domain("drive", 36, 43.8, false)
	house := c.domain("house", 12, 14.6, false)
	for _, r := range []string{"B1", "B2", "B3"} {
		c.item("battery", r, "", nil, cell12)
	}
	bank := c.item("bank", "BK", "Drive string", drive)
	bank.Bank = &circuit.Bank{Series: true, Members: []*circuit.Item{c.items["B1"], c.items["B2"], c.items["B3"]}}
	for _, m := range bank.Bank.Members {
		m.MemberOf = bank
	}
	c.run(drive, 25, "B1", 0.3, "B2", 0.3, "B3")
	for _, k := range c.sys.Cables {
		k.Bank = bank
		bank.Bank.Links = append(bank.Bank.Links, k)
	}
	c.item("fuse", "F1", "", drive, amps(150), poles(2))
	c.item("isolator", "Q1", "Drive isolator", drive, amps(200), poles(2))
	c.item("bus", "PB", "Drive bar", drive, amps(200))
	c.run(drive, 35, "BK", 0.2, "F1", 0.4, "Q1", 0.3, "PB")
	c.item("fuse", "F3", "", drive, amps(125))
	c.item("motor", "M1", "Drive motor", drive, watts(4000), amps(110))
	c.run(drive, 35, "PB", 0.0, "F3", 2.2, "M1")
	c.item("inlet", "X1", "Charging inlet", drive, amps(15))
	c.item("fuse", "F2", "", drive, amps(20))
	c.run(drive, 4, "X1", 3.0, "F2", 0.0, "PB")
	c.item("fuse", "F4", "", drive, amps(10))
	conv := c.item("converter", "T1", "Board converter", house, amps(10))
	conv.Ports[0].Domain = drive
	board := c.item("board", "DB1", "Helm board", house)
	c.run(drive, 2.5, "PB", 0.0, "F4", 1.0, "T1")
	c.run(house, 4, "T1", 0.5, "DB1")
	c.way(board, 1, 3, "Navigation lights", "lamp", 18, 4, circuit.Fitted)
	c.way(board, 2, 10, "Horn", "load", 60, 3, circuit.Fitted)
	c.way(board, 3, 10, "Radio", "load", 60, 2, circuit.Owner)
	c.way(board, 4, 10, "Bow", "", 0, 6, circuit.Prepared)
	c.way(board, 5, 0, "", "", 0, 0, circuit.Fitted)
	c.way(board, 6, 0, "", "", 0, 0, circuit.Fitted)
	c.item("battery", "BB", "Bilge battery", house, cell12)
	c.item("fuse", "F5", "", house, amps(10))
	c.item("pump", "MB", "Bilge pump", house, amps(4))
	c.run(house, 2.5, "BB", 0.0, "F5", 3.5, "MB")
	c.item("panel", "P1", "Throttle", nil)
	c.sys.Signals = append(c.sys.Signals, &circuit.Cable{ID: "P1-M1", Verb: "signal", Action: "controls", From: circuit.End{Item: c.items["P1"]}, To: circuit.End{Item: c.items["M1"], Port: "enable"}, Length: stated[quantity.Metre](3)})
	return c
}
