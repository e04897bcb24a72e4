package circuit

import (
	"slices"
	"sync"
)

// Net is a system prepared for walking. Build it once with NewNet.
type Net struct {
	System   *System
	order    []Terminal      // every terminal, canonical
	index    map[*Item][]int // where in the order an item's terminals stand
	cables   [][]*Cable      // that land on each
	down, up [][]edge        // with the current, and against it
	switched []*Item         // changeovers
	supplies []place         // where current can enter, in order
	supplied []bool          // terminals at which it can
	source   [2][][]edge     // of up, the steps that may lead to a supply: without going through what converts, and with it
	walks    sync.Pool       // of *walk: their memory, as rules walk thousands of times
}

// Index is where a terminal stands among Terminals.
func (n *Net) Index(t Terminal) (int, bool) {
	for _, i := range n.index[t.Item] {
		if o := &n.order[i]; o.Port == t.Port && o.Contact == t.Contact {
			return i, true
		}
	}
	return 0, false
}

// edge is a step between two terminals with what it depends on.
type edge struct {
	to       int
	cable    *Cable
	through  *Item
	converts bool   // only when walking through what converts
	position string // of a changeover; empty: in any
	switched int    // of a changeover: its place in Net.switched; -1: the system does not list it
}

// place is a supply by where its terminal stands.
type place struct {
	at int
	Supply
}

// NewNet indexes a system's terminals and the steps between them.
func NewNet(s *System) *Net {
	n := &Net{System: s, index: make(map[*Item][]int, len(s.Items))}
	add := func(t Terminal) {
		if _, has := n.Index(t); !has {
			n.index[t.Item] = append(n.index[t.Item], len(n.order))
			n.order = append(n.order, t)
		}
	}
	for _, it := range s.Items {
		if it.Kind == "changeover" {
			n.switched = append(n.switched, it)
		}
		for _, p := range it.Ports {
			add(Terminal{it, p.Name, 0})
		}
	}
	for _, c := range s.Cables {
		for _, e := range [...]End{c.From, c.To} {
			if t, ok := e.Terminal(); ok {
				add(t)
				if t.Contact > 0 && t.Item.HasPort(opposite(t.Port)) {
					add(Terminal{t.Item, opposite(t.Port), t.Contact})
				}
			}
		}
	}
	slices.SortFunc(n.order, compareTerminals)
	for it := range n.index {
		n.index[it] = n.index[it][:0]
	}
	for i, t := range n.order {
		n.index[t.Item] = append(n.index[t.Item], i)
	}
	n.cables = make([][]*Cable, len(n.order))
	n.down, n.up = make([][]edge, len(n.order)), make([][]edge, len(n.order))
	for _, c := range s.Cables {
		n.addCable(c)
	}
	for i, t := range n.order {
		n.addBolted(i, t)
		n.addInner(i, t)
		if p, ok := supplyAt(t); ok {
			n.supplies = append(n.supplies, place{i, p})
		}
	}
	n.supplied = make([]bool, len(n.order))
	for _, p := range n.supplies {
		n.supplied[p.at] = true
	}
	n.source = [2][][]edge{n.prune(false), n.prune(true)}
	return n
}

// prune gives the steps against the current without the branches on which no
// supply stands: a walk for supplies need not enter them, whatever is open, which on
// a large craft leaves little to walk.
func (n *Net) prune(through bool) [][]edge {
	neighbours := make([][]int, len(n.order))
	for i := range n.order {
		for _, edges := range [...][]edge{n.down[i], n.up[i]} {
			for k := range edges {
				if j := edges[k].to; (through || !edges[k].converts) && i != j {
					neighbours[i], neighbours[j] = append(neighbours[i], j), append(neighbours[j], i)
				}
			}
		}
	}
	left, onward := make([]int, len(n.order)), make([]int, len(n.order)) // onward of what is left out: towards what is not
	gone := make([]bool, len(n.order))
	var leaves []int
	for i := range n.order {
		slices.Sort(neighbours[i])
		neighbours[i] = slices.Compact(neighbours[i])
		left[i], onward[i] = len(neighbours[i]), -1
		if left[i] <= 1 && !n.supplied[i] {
			leaves = append(leaves, i)
		}
	}
	for k := 0; k < len(leaves); k++ {
		i := leaves[k]
		gone[i] = true
		for _, j := range neighbours[i] {
			if gone[j] {
				continue
			}
			onward[i] = j
			if left[j]--; left[j] == 1 && !n.supplied[j] {
				leaves = append(leaves, j)
			}
		}
	}
	source := make([][]edge, len(n.order))
	for i, edges := range n.up {
		for _, e := range edges {
			if (through || !e.converts) && (!gone[e.to] || onward[i] == e.to) {
				source[i] = append(source[i], e)
			}
		}
	}
	return source
}

// addCable joins the terminals at a cable's ends. A link inside a series string
// joins members, it does not make one terminal of them.
func (n *Net) addCable(c *Cable) {
	if c.InString() {
		return
	}
	from, ok1 := c.From.Terminal()
	to, ok2 := c.To.Terminal()
	i, _ := n.Index(from)
	j, _ := n.Index(to)
	if ok1 {
		n.cables[i] = append(n.cables[i], c)
	}
	if ok2 && (!ok1 || from != to) {
		n.cables[j] = append(n.cables[j], c)
	}
	if ok1 && ok2 && from != to {
		n.both(i, edge{to: j, cable: c})
		n.both(j, edge{to: i, cable: c})
	}
}

// both adds a step that current can take in either direction.
func (n *Net) both(from int, e edge) {
	n.down[from] = append(n.down[from], e)
	n.up[from] = append(n.up[from], e)
}

// oneWay adds a step that current takes in one direction alone.
func (n *Net) oneWay(from int, e edge) {
	n.down[from] = append(n.down[from], e)
	back := e
	back.to = from
	n.up[e.to] = append(n.up[e.to], back)
}

// addBolted joins a board's bar to the devices of its ways, and a bank in
// parallel to the first of its members.
func (n *Net) addBolted(i int, t Terminal) {
	if t.Port != "" {
		return
	}
	join := func(to Terminal) {
		if j, ok := n.Index(to); ok {
			n.both(i, edge{to: j})
			n.both(j, edge{to: i})
		}
	}
	if t.Item.Board != nil {
		for _, w := range t.Item.Board.Ways {
			if w.Device != nil {
				join(Terminal{w.Device, "in", 0})
			}
		}
	}
	if b := t.Item.Bank; b != nil && !b.Series && len(b.Members) > 0 {
		join(Terminal{b.Members[0], "", 0})
	}
}

// addInner adds the steps from a terminal through its item.
func (n *Net) addInner(i int, t Terminal) {
	it := t.Item
	port := func(name string) (int, bool) {
		j, ok := n.Index(Terminal{it, name, t.Contact})
		return j, ok && it.HasPort(name)
	}
	nature := it.Nature()
	switch {
	case it.Kind == "changeover":
		out, ok := port("out")
		if ok && t.Port != "out" {
			k := slices.Index(n.switched, it)
			n.both(i, edge{to: out, through: it, position: t.Port, switched: k})
			n.both(out, edge{to: i, through: it, position: t.Port, switched: k})
		}
	case it.Kind == "inverter-charger":
		for _, p := range it.Ports {
			j, ok := port(p.Name)
			switch {
			case !ok:
			case IsInput(t.Port) && IsOutput(p.Name): // the transfer relay
				n.oneWay(i, edge{to: j, through: it})
			case t.Port == "dc" && IsOutput(p.Name), IsInput(t.Port) && p.Name == "dc":
				n.oneWay(i, edge{to: j, through: it, converts: true})
			}
		}
	case nature.Ends != TwoEnds:
	case nature.Converts:
		if out, ok := port("out"); ok && t.Port == "in" {
			n.oneWay(i, edge{to: out, through: it, converts: true})
			if it.Facts.BothWays {
				n.oneWay(out, edge{to: i, through: it, converts: true})
			}
		}
	default:
		if j, ok := port(opposite(t.Port)); ok {
			n.both(i, edge{to: j, through: it})
		}
	}
}

// InString tells a cable between two members of a series string: the string
// is one source, and its resistance counts these.
func (c *Cable) InString() bool { return c.Bank != nil && c.Bank.Bank != nil && c.Bank.Bank.Series }

func opposite(port string) string {
	switch port {
	case "in":
		return "out"
	case "out":
		return "in"
	}
	return "no such port"
}

// IsInput tells the port by which a thing of several ports takes current, IsOutput
// the one by which it gives it, IsControl one that is there to be switched.
func IsInput(port string) bool   { return port == "in" || port == "in1" || port == "in2" }
func IsOutput(port string) bool  { return port == "out" || port == "out1" || port == "out2" }
func IsControl(port string) bool { return port == "coil" || port == "enable" || port == "start" }
