package circuit

import (
	"cmp"
	"maps"
	"slices"
)

// Terminal is a point of the single line: an item's port, and of a stop, a
// switch, a float switch or a relay the contact.
type Terminal struct {
	Item    *Item
	Port    string
	Contact int
}

// Terminal is where a cable's end lands; false when it lands on nothing.
func (e End) Terminal() (Terminal, bool) {
	return Terminal{e.Item, e.Port, e.Contact}, e.Item != nil
}

// String names the terminal as a node is called: PB, Q1.in, DB1.3 (a way's
// outgoing side), INV1.dc.
func (t Terminal) String() string {
	if t.Item == nil {
		return ""
	}
	if t.Port == "" || t.Item.Way != nil && t.Item.Way.Device == t.Item && t.Port == "out" {
		return t.Item.Ref
	}
	return t.Item.Ref + "." + t.Port
}

// View is the state in which the circuit is walked. The zero View has every
// switch closed, every changeover in each of its positions (one after the other
// when it breaks before it makes, else all at once), and everything aboard that
// is not removed.
type View struct {
	Configuration Configuration    // "": both, that is all but removed
	Open          map[*Item]bool   // switches and devices that are open
	Position      map[*Item]string // a changeover's position; "off" or a port. Not in the map: every one
	Cut           map[*Cable]bool  // cables taken as not there
	Through       bool             // also from the input of whatever converts to its output
}

// Step leads from one terminal to the next: along a cable, or through an item
// (Through), or, with neither, from a board's bar to the device of a way.
type Step struct {
	From, To Terminal
	Cable    *Cable
	Through  *Item
}

// Supply is one place at which current can enter the circuit: a battery, an
// inlet, or the output stage of whatever converts.
type Supply struct {
	Item    *Item
	Port    string
	Limited bool // limits its own current
}

// Side is what can feed a cable through one of its ends.
type Side struct {
	End      End
	Supplies []Supply
}

// Net is a system prepared for walking. Build it once with NewNet.
type Net struct {
	System *System
	cables map[Terminal][]*Cable
	order  []Terminal // every terminal, canonical
}

// NewNet indexes the power cables of a system by the terminals they land on.
func NewNet(s *System) *Net {
	n := &Net{System: s, cables: map[Terminal][]*Cable{}}
	for _, c := range s.Cables {
		if c.seriesLink() {
			continue // inside a string: it joins members, it does not make one terminal of them
		}
		for _, e := range [...]End{c.From, c.To} {
			if t, ok := e.Terminal(); ok && !slices.Contains(n.cables[t], c) {
				n.cables[t] = append(n.cables[t], c)
			}
		}
	}
	seen := map[Terminal]bool{}
	add := func(t Terminal) {
		if !seen[t] {
			seen[t] = true
			n.order = append(n.order, t)
		}
	}
	for _, it := range s.Items {
		for _, p := range it.Ports {
			add(Terminal{it, p.Name, 0})
		}
	}
	for _, c := range s.Cables {
		for _, e := range [...]End{c.From, c.To} {
			if t, ok := e.Terminal(); ok {
				add(t)
			}
		}
	}
	slices.SortFunc(n.order, compareTerminals)
	return n
}

// seriesLink tells a cable between two members of a series string.
func (c *Cable) seriesLink() bool { return c.Bank != nil && c.Bank.Bank != nil && c.Bank.Bank.Series }

// Terminals is every terminal of the circuit in canonical order.
func (n *Net) Terminals() []Terminal { return slices.Clone(n.order) }

// Cables is the power cables that land on a terminal, in the order of System.Cables.
func (n *Net) Cables(t Terminal) []*Cable { return slices.Clone(n.cables[t]) }

// Downstream is every step that current leaving a terminal can take. A
// changeover without a position in the view leads to all of its positions.
func (n *Net) Downstream(t Terminal, v View) []Step { return n.steps(t, v, true) }

// Upstream is every step against the current: From is where it enters, To is
// where it came from.
func (n *Net) Upstream(t Terminal, v View) []Step { return n.steps(t, v, false) }

// Reach is every terminal that current from these terminals can get to, the
// terminals themselves included, in canonical order.
func (n *Net) Reach(from []Terminal, v View) []Terminal { return n.flood(from, v, true) }

// Origin is every terminal from which current can get to these, the terminals
// themselves included, in canonical order.
func (n *Net) Origin(to []Terminal, v View) []Terminal { return n.flood(to, v, false) }

// Supplies is what can feed a terminal, in canonical order. Without
// View.Through the output of a converter stands for all that lies behind it.
func (n *Net) Supplies(t Terminal, v View) []Supply {
	var found []Supply
	for _, o := range n.Origin([]Terminal{t}, v) {
		if s, ok := supplyAt(o); ok {
			found = append(found, s)
		}
	}
	return found
}

// Sides is, for each end of a cable, what can feed it through that end without
// passing the cable itself. A link inside a series string has none: the string
// is one supply.
func (n *Net) Sides(c *Cable, v View) [2]Side {
	sides := [2]Side{{End: c.From}, {End: c.To}}
	if c.seriesLink() {
		return sides
	}
	cut := map[*Cable]bool{c: true}
	for k := range v.Cut {
		cut[k] = v.Cut[k]
	}
	v.Cut = cut
	for i := range sides {
		if t, ok := sides[i].End.Terminal(); ok {
			sides[i].Supplies = n.Supplies(t, v)
		}
	}
	return sides
}

// Path is a shortest way for current from one terminal to another, or nil. Of
// several equally short it is always the same one.
func (n *Net) Path(from, to Terminal, v View) []Step {
	var best []Step
	for _, turn := range n.inTurn(v) {
		path, ok := n.path(from, to, turn)
		if ok && (best == nil || len(path) < len(best)) {
			best = path
		}
	}
	return best
}

func (n *Net) path(from, to Terminal, v View) ([]Step, bool) {
	came := map[Terminal]Step{}
	seen := map[Terminal]bool{from: true}
	for queue := []Terminal{from}; len(queue) > 0; queue = queue[1:] {
		if at := queue[0]; at == to {
			path := []Step{}
			for at != from {
				path = append(path, came[at])
				at = came[at].From
			}
			slices.Reverse(path)
			return path, true
		}
		for _, st := range n.Downstream(queue[0], v) {
			if !seen[st.To] {
				seen[st.To] = true
				came[st.To] = st
				queue = append(queue, st.To)
			}
		}
	}
	return nil, false
}

// mostTurns bounds the combinations of positions that are walked. Changeovers
// beyond them are taken with all positions closed, which finds no source less.
const mostTurns = 64

// inTurn is the view in each combination of positions of those changeovers that
// never join two and whose position is not set.
func (n *Net) inTurn(v View) []View {
	turns := []View{v}
	for _, it := range n.System.Items {
		_, set := v.Position[it]
		if it.Kind != "changeover" || it.Facts.MakeFirst != No || set || len(turns)*len(it.Facts.Positions) > mostTurns {
			continue
		}
		var next []View
		for _, turn := range turns {
			for _, position := range it.Facts.Positions {
				one := turn
				one.Position = maps.Clone(turn.Position)
				if one.Position == nil {
					one.Position = map[*Item]string{}
				}
				one.Position[it] = position
				next = append(next, one)
			}
		}
		if len(next) > 0 {
			turns = next
		}
	}
	return turns
}

func (n *Net) flood(from []Terminal, v View, down bool) []Terminal {
	found := map[Terminal]bool{}
	var reached []Terminal
	for _, turn := range n.inTurn(v) {
		seen := map[Terminal]bool{}
		var queue []Terminal
		for _, t := range from {
			if t.Item.Status.aboard(v.Configuration) && !seen[t] {
				seen[t] = true
				queue = append(queue, t)
			}
		}
		for ; len(queue) > 0; queue = queue[1:] {
			if t := queue[0]; !found[t] {
				found[t] = true
				reached = append(reached, t)
			}
			for _, st := range n.steps(queue[0], turn, down) {
				if !seen[st.To] {
					seen[st.To] = true
					queue = append(queue, st.To)
				}
			}
		}
	}
	slices.SortFunc(reached, compareTerminals)
	return reached
}

func (n *Net) steps(t Terminal, v View, down bool) []Step {
	var steps []Step
	for _, c := range n.cables[t] {
		if v.Cut[c] || !c.Status.aboard(v.Configuration) {
			continue
		}
		for _, ends := range [...][2]End{{c.From, c.To}, {c.To, c.From}} {
			from, ok1 := ends[0].Terminal()
			to, ok2 := ends[1].Terminal()
			if ok1 && ok2 && from == t && to != t && to.Item.Status.aboard(v.Configuration) {
				steps = append(steps, Step{From: t, To: to, Cable: c})
			}
		}
	}
	steps = append(steps, bolted(t, v)...)
	return append(steps, inner(t, v, down)...)
}

// bolted joins a board's bar to the devices of its ways, and a bank in
// parallel to the first of its members.
func bolted(t Terminal, v View) []Step {
	var steps []Step
	join := func(to Terminal) {
		if to.Item != nil && to.Item.Status.aboard(v.Configuration) {
			steps = append(steps, Step{From: t, To: to})
		}
	}
	switch it := t.Item; {
	case it.Board != nil && t.Port == "":
		for _, w := range it.Board.Ways {
			if w.Device != nil {
				join(Terminal{w.Device, "in", 0})
			}
		}
	case it.Way != nil && it.Way.Device == it && t.Port == "in":
		join(Terminal{it.Way.Board, "", 0})
	}
	if it := t.Item; t.Port == "" {
		if it.Bank != nil && !it.Bank.Series && len(it.Bank.Members) > 0 {
			join(Terminal{it.Bank.Members[0], "", 0})
		}
		if b := it.MemberOf; b != nil && !b.Bank.Series && b.Bank.Members[0] == it {
			join(Terminal{b, "", 0})
		}
	}
	return steps
}

// inner is every step through the item itself.
func inner(t Terminal, v View, down bool) []Step {
	it := t.Item
	if v.Open[it] {
		return nil
	}
	var steps []Step
	to := func(port string) {
		if it.HasPort(port) {
			steps = append(steps, Step{From: t, To: Terminal{it, port, t.Contact}, Through: it})
		}
	}
	nature := it.Nature()
	switch {
	case it.Kind == "changeover":
		position, set := v.Position[it]
		for _, p := range it.Ports {
			switch {
			case set && p.Name != position && t.Port != position:
			case t.Port == "out" && p.Name != "out":
				to(p.Name)
			case t.Port != "out" && p.Name == "out":
				to("out")
			}
		}
	case it.Kind == "inverter-charger":
		for _, p := range it.Ports {
			transfer := isInput(t.Port) && isOutput(p.Name)
			inverts := v.Through && t.Port == "dc" && isOutput(p.Name)
			charges := v.Through && isInput(t.Port) && p.Name == "dc"
			if !down {
				transfer = isOutput(t.Port) && isInput(p.Name)
				inverts = v.Through && isOutput(t.Port) && p.Name == "dc"
				charges = v.Through && t.Port == "dc" && isInput(p.Name)
			}
			if transfer || inverts || charges {
				to(p.Name)
			}
		}
	case nature.Ends != TwoEnds:
	case nature.Converts:
		forward := t.Port == "in" && down || t.Port == "out" && !down
		if v.Through && (forward || it.Facts.BothWays) {
			to(opposite(t.Port))
		}
	default:
		to(opposite(t.Port))
	}
	return steps
}

func opposite(port string) string {
	switch port {
	case "in":
		return "out"
	case "out":
		return "in"
	}
	return "no such port"
}

func isInput(port string) bool  { return port == "in" || port == "in1" || port == "in2" }
func isOutput(port string) bool { return port == "out" || port == "out1" || port == "out2" }

// supplyAt tells whether current can enter the circuit at a terminal.
func supplyAt(t Terminal) (Supply, bool) {
	it, nature := t.Item, t.Item.Nature()
	s := Supply{Item: it, Port: t.Port, Limited: nature.Limited}
	switch {
	case it.Kind == "bank" && it.Bank != nil && !it.Bank.Series:
		return s, false // its members are
	case it.Kind == "inverter-charger":
		return s, isOutput(t.Port) || t.Port == "dc"
	case nature.Converts:
		return s, t.Port == "out" || t.Port == "in" && it.Facts.BothWays
	case nature.Source:
		return s, t.Port == ""
	case it.Facts.Regenerates.State != Unstated && t.Port == "":
		s.Limited = true
		return s, true
	}
	return s, false
}

// aboard is In, with "" for both configurations.
func (s Status) aboard(c Configuration) bool { return s != Removed && (c == "" || s.In(c)) }

func compareTerminals(a, b Terminal) int {
	return cmp.Or(Compare(a.Item.Ref, b.Item.Ref), Compare(a.Port, b.Port), cmp.Compare(a.Contact, b.Contact))
}
