package size

import (
	"cmp"
	"math"
	"slices"

	"strake/lang/table"
)

// thin sizes the open cables of every tree of ways for the least copper, at the
// currents that flow now. Where current comes to a node by several ways there is
// no tree: upsize does those.
func (s *sizer) thin() {
	s.drops()
	g := s.graph(false)
	loops := s.looped(g)
	index := map[int]int{} // of a cable among the limbs
	var tree []limb
	var cables []int
	var add func(k int) int
	add = func(k int) int {
		i := g.w.cable[k]
		if at, ok := index[i]; ok {
			return at
		}
		index[i] = -1 // under way: currents of several cases may run in a ring
		parent := -1
		if in := g.into[g.from[k]]; len(in) > 0 {
			parent = add(in[0])
		}
		index[i] = len(tree)
		tree = append(tree, s.limb(i, parent))
		cables = append(cables, i)
		return index[i]
	}
	for n := range g.into {
		for _, k := range g.into[n] {
			if !loops[n] {
				add(k)
			}
		}
	}
	s.taint(tree, cables)
	for at, size := range leastCopper(tree) {
		i := cables[at]
		if !s.open(i) || !s.cables[i].Chosen {
			continue
		}
		st := s.steps(s.cables[i].Of)[s.floor[i]+size]
		if size > 0 {
			s.cables[i].GovernedBy = "drop"
		}
		s.take(i, st)
	}
	s.drops()
}

// looped tells the nodes of every part in which current comes to some node by
// several ways.
func (s *sizer) looped(g *graph) []bool {
	parts := &wiring{nodes: g.w.nodes}
	for n := range g.into {
		for _, k := range g.into[n] {
			parts.branches = append(parts.branches, g.w.branches[k])
		}
	}
	group := s.groups(parts)
	several := map[int]bool{}
	for n := range g.into {
		if len(g.into[n]) > 1 {
			several[group[n]] = true
		}
	}
	list := make([]bool, g.w.nodes)
	for n := range list {
		list[n] = several[group[n]]
	}
	return list
}

// limb is a cable with the sizes that it can have: of an open one all that carry
// its current, of another its own.
func (s *sizer) limb(i, parent int) limb {
	c := &s.cables[i]
	l := limb{parent: parent, limit: math.Inf(1)}
	if d := c.Of.Domain; d != nil && d.Nominal.Known() && c.Limit.Known {
		l.limit = float64(c.Limit.Value) / 100 * float64(d.Nominal.Value)
	}
	length, known := loop(c.Of)
	if !s.open(i) || !c.Chosen || !known || !c.DropCurrent.Known {
		drop, _ := s.dropOf(i, false)
		l.sizes = []choice{{drop: drop}}
		return l
	}
	around := s.surround(i)
	for _, st := range s.steps(c.Of)[s.floor[i]:] {
		per, ok := s.perMetre(c.Of, st.area)
		if !ok {
			break
		}
		k := s.carry(c.Of, around, st.area, st.parallel)
		ohm := impedance(c.Of, table.AtTemperature(per*float64(length)/float64(st.parallel), k.heat(s.solved[i].most())), length, st.parallel)
		l.sizes = append(l.sizes, choice{ohm * s.solved[i].draw.amps, st.copper() * float64(length)})
	}
	if len(l.sizes) == 0 {
		drop, _ := s.dropOf(i, false)
		l.sizes = []choice{{drop: drop}}
	}
	return l
}

// taint lifts the limits behind a cable whose drop is not known.
func (s *sizer) taint(tree []limb, cables []int) {
	unknown := make([]bool, len(tree))
	for at := range tree { // a parent stands before its children
		p := tree[at].parent
		unknown[at] = !s.cables[cables[at]].Drop.Known || p >= 0 && unknown[p]
		if unknown[at] {
			tree[at].limit = math.Inf(1)
		}
	}
}

// slim makes open cables smaller again where current comes by several ways, as
// long as no further drop comes above its limit: upsize goes by what gains most
// at each step and may have taken one step too many elsewhere.
func (s *sizer) slim() {
	for _, i := range s.ringed() {
		for {
			c := &s.cables[i]
			had, by := c.size(), c.GovernedBy
			st, ok := s.smaller(i)
			if !ok {
				break
			}
			before := s.overs()
			s.take(i, st)
			s.drops()
			if s.overs() > before {
				s.take(i, had)
				c.GovernedBy = by
				s.drops()
				break
			}
		}
	}
}

// ringed is the open cables of parts in which current comes by several ways, those
// with the most copper first.
func (s *sizer) ringed() []int {
	g := s.graph(false)
	looped := s.looped(g)
	var list []int
	for k, i := range g.w.cable {
		if i >= 0 && s.open(i) && s.cables[i].Chosen && looped[g.w.branches[k].From] && !slices.Contains(list, i) {
			list = append(list, i)
		}
	}
	slices.SortStableFunc(list, func(a, b int) int { return cmp.Compare(s.copper(b), s.copper(a)) })
	return list
}

// smaller is the next smaller size that still carries what the cable must.
func (s *sizer) smaller(i int) (step, bool) {
	c := &s.cables[i]
	best, found := step{}, false
	for _, st := range s.steps(c.Of)[s.floor[i]:] {
		if st.copper() < c.size().copper() && (!found || st.copper() > best.copper()) {
			best, found = st, true
		}
	}
	return best, found
}

func (s *sizer) overs() int {
	n := 0
	for i := range s.cables {
		if s.over(i) {
			n++
		}
	}
	return n
}

// copper is a cable's conductors in mm²·m, out and back.
func (s *sizer) copper(i int) float64 {
	length, _ := loop(s.cables[i].Of)
	return float64(s.cables[i].size().copper() * float64(length))
}

// Copper is the copper of the sizes that were proposed, in mm²·m out and back.
// Where current comes by one way it is the least with which all limits hold; in
// rings it is near that: Bound is below the least, each cable of a ring taken at
// the size that carries its current alone.
type Copper struct{ Proposed, Bound float64 }

// bill adds the copper up.
func (s *sizer) bill() Copper {
	var c Copper
	for i := range s.cables {
		if s.cables[i].Chosen {
			c.Proposed += s.copper(i)
		}
	}
	c.Bound = c.Proposed
	for _, i := range s.ringed() {
		length, _ := loop(s.cables[i].Of)
		least := float64(s.steps(s.cables[i].Of)[s.floor[i]].copper() * float64(length))
		c.Bound -= max(0, s.copper(i)-least)
	}
	return c
}
