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

// Opening is the view with some more switches and devices open.
func (v View) Opening(more ...*Item) View {
	open := make(map[*Item]bool, len(v.Open)+len(more))
	maps.Copy(open, v.Open)
	for _, it := range more {
		open[it] = true
	}
	v.Open = open
	return v
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

// allows tells whether a step can be taken in a view.
func (v *View) allows(e *edge, to Terminal) bool { return v.passes(e, to) && v.stands(e) }

// stands tells whether a changeover stands where a step leads.
func (v *View) stands(e *edge) bool {
	if e.position == "" {
		return true
	}
	position, set := v.Position[e.through]
	return !set || position == e.position
}

// passes tells the same without regard to changeovers.
func (v *View) passes(e *edge, to Terminal) bool {
	if !to.Item.Status.aboard(v.Configuration) {
		return false
	}
	if e.cable != nil {
		return !v.Cut[e.cable] && e.cable.Status.aboard(v.Configuration)
	}
	if e.through == nil {
		return true
	}
	return !v.Open[e.through] && (!e.converts || v.Through)
}

// Terminals is every terminal of the circuit in canonical order.
func (n *Net) Terminals() []Terminal { return slices.Clone(n.order) }

// Cables is the power cables that land on a terminal, in the order of System.Cables.
func (n *Net) Cables(t Terminal) []*Cable {
	i, ok := n.Index(t)
	if !ok {
		return nil
	}
	return slices.Clone(n.cables[i])
}

// Downstream is every step that current leaving a terminal can take. A
// changeover without a position in the view leads to all of its positions.
func (n *Net) Downstream(t Terminal, v View) []Step { return n.steps(n.down, t, v) }

// Upstream is every step against the current: From is where it enters, To is
// where it came from.
func (n *Net) Upstream(t Terminal, v View) []Step { return n.steps(n.up, t, v) }

// Sources is Upstream without what leads to no supply, and without going through
// what converts.
func (n *Net) Sources(t Terminal, v View) []Step { return n.steps(n.source[0], t, v) }

// Leads tells whether current from a terminal can get to one for which something
// holds; those nearby are asked first.
func (n *Net) Leads(from Terminal, v View, holds func(Terminal) bool) bool {
	w := n.walkTo(n.down, []Terminal{from}, v, func(i int) bool { return holds(n.order[i]) })
	defer n.walks.Put(w)
	return w.there
}

// Fed tells whether a supply feeds a terminal, one of this item left out.
func (n *Net) Fed(t Terminal, v View, but *Item) bool {
	edges := n.source[0]
	if v.Through {
		edges = n.source[1]
	}
	w := n.walkTo(edges, []Terminal{t}, v, func(i int) bool { return n.supplied[i] && n.order[i].Item != but })
	defer n.walks.Put(w)
	return w.there
}

// Powered tells whether something of which something holds feeds a terminal, through
// whatever converts.
func (n *Net) Powered(t Terminal, v View, holds func(*Item) bool) bool {
	v.Through = true
	w := n.walkTo(n.source[1], []Terminal{t}, v, func(i int) bool { return n.supplied[i] && holds(n.order[i].Item) })
	defer n.walks.Put(w)
	return w.there
}

// Reach is every terminal that current from these terminals can get to, the
// terminals themselves included, in canonical order.
func (n *Net) Reach(from []Terminal, v View) []Terminal { return n.flood(n.down, from, v) }

// Origin is every terminal from which current can get to these, the terminals
// themselves included, in canonical order.
func (n *Net) Origin(to []Terminal, v View) []Terminal { return n.flood(n.up, to, v) }

// Supplies is what can feed a terminal, in canonical order. Without
// View.Through the output of a converter stands for all that lies behind it.
func (n *Net) Supplies(t Terminal, v View) []Supply {
	edges := n.source[0]
	if v.Through {
		edges = n.source[1]
	}
	w := n.walk(edges, []Terminal{t}, v)
	defer n.walks.Put(w)
	var found []Supply
	for _, p := range n.supplies {
		if w.found[p.at] {
			found = append(found, p.Supply)
		}
	}
	return found
}

// Sides is, for each end of a cable, what can feed it through that end without
// passing the cable itself. A link inside a series string has none: the string
// is one supply.
func (n *Net) Sides(c *Cable, v View) [2]Side {
	sides := [2]Side{{End: c.From}, {End: c.To}}
	if c.InString() {
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
	for _, turn := range n.InTurn(v) {
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

// InTurn is the view in each combination of positions of those changeovers that
// never join two and whose position is not set: what comes in by one of them and
// by another never comes at once.
func (n *Net) InTurn(v View) []View {
	turns := []View{v}
	for _, it := range n.switched {
		if !n.turns(it, v, len(turns)) {
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
		turns = next
	}
	return turns
}

// turns tells a changeover that is put to each of its positions, after so many
// combinations of others. One of alternating current that does not say how it changes
// over counts as parting its sources: whether it does is asked, once.
func (n *Net) turns(it *Item, v View, others int) bool {
	_, set := v.Position[it]
	positions := len(it.Facts.Positions)
	d := it.PortOnly("out")
	parts := it.Facts.MakeFirst == No || it.Facts.MakeFirst == Unsaid && d != nil && d.AC
	return parts && !set && positions > 0 && others*positions <= mostTurns
}

func (n *Net) flood(edges [][]edge, from []Terminal, v View) []Terminal {
	w := n.walk(edges, from, v)
	defer n.walks.Put(w)
	if len(w.list) == 0 {
		return nil
	}
	reached := make([]Terminal, 0, len(w.list))
	if len(w.list) < len(w.found)/16 {
		slices.Sort(w.list)
		for _, i := range w.list {
			reached = append(reached, n.order[i])
		}
		return reached
	}
	for i, yes := range w.found {
		if yes {
			reached = append(reached, n.order[i])
		}
	}
	return reached
}

// walk is what a walk has found, by the place in the order of terminals.
type walk struct {
	found, seen []bool
	queue       []int
	list        []int          // of what is found
	turning     []int          // the changeovers that are put to each position in turn
	at          []int          // of each changeover: where it stands now, from 1; 0: as the view has it
	met         bool           // one of them, at this turn
	holds       func(int) bool // ends the walk; nil: nothing does
	there       bool           // it has
}

// walk goes wherever the view lets it. The walk is to be given back.
func (n *Net) walk(edges [][]edge, from []Terminal, v View) *walk {
	return n.walkTo(edges, from, v, nil)
}

func (n *Net) walkTo(edges [][]edge, from []Terminal, v View, holds func(int) bool) *walk {
	w, ok := n.walks.Get().(*walk)
	if !ok {
		w = &walk{found: make([]bool, len(n.order)), seen: make([]bool, len(n.order)), at: make([]int, len(n.switched))}
	}
	clear(w.found)
	clear(w.at)
	w.list, w.turning = w.list[:0], w.turning[:0]
	w.holds, w.there = holds, false
	turns := 1
	for k, it := range n.switched {
		if n.turns(it, v, turns) {
			w.turning = append(w.turning, k)
			turns *= len(it.Facts.Positions)
		}
	}
	for turn := range turns {
		rest := turn
		for _, k := range w.turning {
			positions := len(n.switched[k].Facts.Positions)
			w.at[k] = rest%positions + 1
			rest /= positions
		}
		n.once(w, edges, from, &v)
		if !w.met || w.there {
			break // where they stand is no matter here
		}
	}
	return w
}

// once walks with each changeover in one position.
func (n *Net) once(w *walk, edges [][]edge, from []Terminal, v *View) {
	clear(w.seen)
	w.queue, w.met = w.queue[:0], false
	for _, t := range from {
		if i, ok := n.Index(t); ok && !w.seen[i] && t.Item.Status.aboard(v.Configuration) {
			w.seen[i] = true
			w.queue = append(w.queue, i)
		}
	}
	for next := 0; next < len(w.queue); next++ {
		i := w.queue[next]
		if !w.found[i] {
			w.found[i] = true
			w.list = append(w.list, i)
			if w.holds != nil && w.holds(i) {
				w.there = true
				return
			}
		}
		for k := range edges[i] {
			e := &edges[i][k]
			if w.seen[e.to] || !v.passes(e, n.order[e.to]) {
				continue
			}
			if e.position != "" && e.switched >= 0 && w.at[e.switched] > 0 {
				w.met = true
				if e.through.Facts.Positions[w.at[e.switched]-1] != e.position {
					continue
				}
			} else if !v.stands(e) {
				continue
			}
			w.seen[e.to] = true
			w.queue = append(w.queue, e.to)
		}
	}
}

func (n *Net) steps(edges [][]edge, t Terminal, v View) []Step {
	i, ok := n.Index(t)
	if !ok {
		return nil
	}
	var steps []Step
	for k := range edges[i] {
		if e := &edges[i][k]; v.allows(e, n.order[e.to]) {
			if steps == nil {
				steps = make([]Step, 0, len(edges[i])-k)
			}
			steps = append(steps, Step{From: t, To: n.order[e.to], Cable: e.cable, Through: e.through})
		}
	}
	return steps
}

// supplyAt tells whether current can enter the circuit at a terminal.
func supplyAt(t Terminal) (Supply, bool) {
	it, nature := t.Item, t.Item.Nature()
	s := Supply{Item: it, Port: t.Port, Limited: nature.Limited}
	switch {
	case it.Kind == "bank" && it.Bank != nil && !it.Bank.Series:
		return s, false // its members are
	case it.Kind == "inverter-charger":
		return s, IsOutput(t.Port) || t.Port == "dc"
	case nature.Converts:
		return s, t.Port == "out" || t.Port == "in" && it.Facts.BothWays
	case it.Kind == "inlet" && it.Facts.ShortCircuit.Known():
		s.Limited = true // a charger ashore that limits itself, as the text declares
		return s, t.Port == ""
	case nature.Source:
		return s, t.Port == ""
	case it.Facts.Regenerates.State != Unstated && t.Port == "":
		s.Limited = true
		return s, true
	}
	return s, false
}

// IsSupply tells whether the item gives current at any of its ports.
func (it *Item) IsSupply() bool {
	for _, p := range it.Ports {
		if _, ok := supplyAt(Terminal{it, p.Name, 0}); ok {
			return true
		}
	}
	return false
}

// aboard is In, with "" for both configurations.
func (s Status) aboard(c Configuration) bool { return s != Removed && (c == "" || s.In(c)) }

func compareTerminals(a, b Terminal) int {
	return cmp.Or(Compare(a.Item.Ref, b.Item.Ref), Compare(a.Port, b.Port), cmp.Compare(a.Contact, b.Contact))
}
