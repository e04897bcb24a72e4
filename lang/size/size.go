package size

import (
	"slices"

	"strake/lang/circuit"
	"strake/lang/quantity"
	"strake/lang/table"
)

// Size works out every cable and device of a craft. It takes any circuit,
// also one with holes in it: what follows from what is not known stays unknown
// and is named in Missing.
func Size(sys *circuit.System) *Plan {
	s := newSizer(sys)
	s.feeds()
	for range mostSharing {
		s.flows()
		s.chooseRatings()
		s.limits()
		s.chooseAreas()
		if !s.sharing() {
			break
		}
	}
	for range len(table.Sizes()) {
		s.faults()
		s.withstand()
		if !s.thicken() {
			break
		}
		s.alike()
		s.settle()
	}
	s.conclude()
	return s.plan()
}

// mostSharing bounds how often everything is worked out again because currents
// that have several ways share themselves by the sizes that were chosen.
const mostSharing = 3

// sharing tells whether an open cable has another way beside it.
func (s *sizer) sharing() bool {
	g := s.graph(false)
	looped := s.looped(g)
	for k, i := range g.w.cable {
		if s.open(i) && looped[g.w.branches[k].From] {
			return true
		}
	}
	return false
}

// sizer holds the work while it goes on, stage by stage.
type sizer struct {
	sys               *circuit.System
	net               *circuit.Net
	set               table.Set
	cables            []Cable
	at                map[*circuit.Cable]int // index in cables
	devices           []Device
	of                map[*circuit.Item]int // index in devices
	notes             *notes
	flow              []flow    // of each cable, at the lowest voltage of its source
	solved            []flow    // the same with the drop on the way
	sag               []float64 // of each terminal: volt lost on the way to it; nil: not reckoned with
	turn              int       // counts the changes of sag
	cases, conditions []*prepared
	kept              []*prepared // since the resistances changed
	through           map[*circuit.Item]float64
	supplies          map[circuit.Terminal]circuit.Supply // where current can enter
	floor             []int                               // of each open cable: its smallest step that carries its current
	gives             [][2]quantity.Opt[quantity.Ampere]  // of each cable: all that the sources of its ends give
	terminals         []circuit.Terminal                  // of the net
	joints            [][]joint                           // of each terminal
	outputs           map[outlet][]circuit.Terminal       // what a converter's output reaches
	graphs            [2]*graph                           // of what is drawn, of what is pushed
	around            []*surroundings
	reckoned          []reckoned // of each cable: by what it was worked out last
	steadily          []demanded // of each terminal: what a load there takes continuously
	whenInverting     []demanded // what it takes in all
	whenPassing       []demanded // and while inverter-chargers pass through
	ladders           map[ladder][]step
	behind            [][]circuit.Terminal // of each cable: what takes its current
	levels            []NodeFault
	allOn             []float64  // of each cable, when conditions are declared
	doubt             float64    // ohm that stands for an unknown resistance; 0: a small one
	vague             [][]string // of each cable: facts without which its share of a current is not known
}

func newSizer(sys *circuit.System) *sizer {
	s := &sizer{sys: sys, net: circuit.NewNet(sys), set: table.SetOf(sys.Craft.Rules),
		at: map[*circuit.Cable]int{}, of: map[*circuit.Item]int{}, notes: newNotes(), turn: 1,
		supplies: map[circuit.Terminal]circuit.Supply{}}
	s.terminals = s.net.Terminals()
	for _, t := range s.terminals {
		s.joints = append(s.joints, s.jointsOf(t))
	}
	for _, t := range s.terminals {
		if n := t.Item.Nature(); !n.Source && !n.Converts && t.Item.Facts.Regenerates.State == circuit.Unstated {
			continue
		}
		for _, p := range s.net.Supplies(t, circuit.View{}) {
			if p.Item == t.Item && p.Port == t.Port {
				s.supplies[t] = p
			}
		}
	}
	for i, c := range sys.Cables {
		s.at[c] = i
		s.cables = append(s.cables, beginCable(c))
	}
	for _, it := range sys.Items {
		if !rated(it) {
			continue
		}
		s.of[it] = len(s.devices)
		s.devices = append(s.devices, s.beginDevice(it))
	}
	s.begin()
	return s
}

// again is a sizer of the same craft, as this one was when it was made and before
// anything was worked out with it.
func (s *sizer) again() *sizer {
	n := *s
	n.notes, n.cables, n.devices = s.notes.clone(), slices.Clone(s.cables), slices.Clone(s.devices)
	n.begin()
	return &n
}

// begin makes room for what will be worked out.
func (s *sizer) begin() {
	s.flow = make([]flow, len(s.cables))
	s.around = make([]*surroundings, len(s.cables))
	s.reckoned = make([]reckoned, len(s.cables))
	s.ladders = map[ladder][]step{}
	s.floor = make([]int, len(s.cables))
	s.gives = make([][2]quantity.Opt[quantity.Ampere], len(s.cables))
	s.outputs = map[outlet][]circuit.Terminal{}
	s.through = map[*circuit.Item]float64{}
}

// rated tells the items that the plan has a row for.
func rated(it *circuit.Item) bool {
	n := it.Nature()
	return n.Protects || n.Residual || n.Conductive || n.Opens && n.Ends != circuit.OneEnd
}

// beginCable is a cable's row with what the text says.
func beginCable(c *circuit.Cable) Cable {
	row := Cable{Of: c, Parallel: max(1, c.Parallel)}
	switch {
	case c.Link:
	case c.Area.Known():
		row.Stated, row.Area = true, quantity.Some(c.Area.Least())
	case c.Area.State == circuit.Unknown || c.Blank:
		row.Missing = append(row.Missing, "size of "+c.ID)
	}
	return row
}

// open tells a cable whose size is the compiler's to choose.
func (s *sizer) open(i int) bool {
	c := s.cables[i].Of
	return !c.Link && !c.Blank && c.Area.State == circuit.Unstated && c.AWG == ""
}

func (s *sizer) plan() *Plan {
	return &Plan{Cables: s.cables, Bonds: s.bonds(), Devices: s.devices, Faults: s.levels, Assumptions: s.notes.list(), Arrays: arrays(s.sys), Copper: s.bill(), Tables: table.Version}
}

// missing names a fact that a cable's sums need, once.
func (s *sizer) missing(i int, fact string) {
	for _, m := range s.cables[i].Missing {
		if m == fact {
			return
		}
	}
	s.cables[i].Missing = append(s.cables[i].Missing, fact)
}
