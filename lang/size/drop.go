package size

import (
	"fmt"
	"math"
	"slices"

	"strake/lang/circuit"
	"strake/lang/quantity"
	"strake/lang/table"
)

// Limits of drop (ISO 10133:2012, list of 3 % circuits, 10 % for the rest).
const (
	strict  = 3.0  // percent: navigation lights, bilge pumps and blowers, board feeders, what is critical
	relaxed = 10.0 // percent: the rest
)

// own works out a cable by itself: capacity, resistance at the temperature at
// which it runs, drop.
func (s *sizer) own(i int) {
	c := &s.cables[i]
	c.Ampacity, c.Resistance, c.Drop, c.ISOPercent = quantity.Opt[quantity.Ampere]{}, quantity.Opt[quantity.Ohm]{}, quantity.Opt[quantity.Volt]{}, quantity.Opt[quantity.Percent]{}
	if f := s.solved[i]; f.known() && len(f.wanting) == 0 && !c.Of.InString() {
		drawn, _ := f.main()
		c.DropCurrent = quantity.Some(quantity.Ampere(drawn.amps))
	}
	if c.Of.Link || !c.Area.Known {
		return
	}
	k := s.carry(c.Of, s.surround(i), c.Area.Value, c.Parallel)
	if k.missing == "" {
		c.Ampacity = quantity.Some(k.capacity)
	} else {
		s.missing(i, k.missing)
	}
	c.AmpacityBasis = k.basis()
	length, ok := loop(c.Of)
	if !ok {
		s.missing(i, "length of "+c.Of.ID)
		return
	}
	per, ok := s.perMetre(c.Of, c.Area.Value)
	if !ok {
		s.missing(i, fmt.Sprintf("resistance of %s: IEC 60228 has no figure for %g mm2", c.Of.ID, round(float64(c.Area.Value))))
		return
	}
	if !c.DropCurrent.Known {
		return
	}
	i20 := per * float64(length) / float64(c.Parallel)
	r := impedance(c.Of, table.AtTemperature(i20, k.heat(max(s.solved[i].most(), float64(c.DropCurrent.Value)))), length, c.Parallel)
	c.Resistance = quantity.Some(quantity.Ohm(r))
	c.Drop = quantity.Some(quantity.Volt(r * float64(c.DropCurrent.Value)))
	if d := c.Of.Domain; d != nil && d.Nominal.Known() && d.Nominal.Value > 0 {
		area := quantity.SquareMM(float64(c.Area.Value) * float64(c.Parallel))
		c.ISOPercent = quantity.Some(quantity.Percent(100 * float64(table.ISODrop(c.DropCurrent.Value, length, area)) / float64(d.Nominal.Value)))
		c.MilsPercent = quantity.Opt[quantity.Percent]{}
		if s.set == table.ABYC {
			c.MilsPercent = quantity.Some(quantity.Percent(100 * float64(table.MilsDrop(c.DropCurrent.Value, length, area)) / float64(d.Nominal.Value)))
		}
	}
}

// reckoned is what a cable by itself depends on.
type reckoned struct {
	done        bool
	area        quantity.Opt[quantity.SquareMM]
	parallel    int
	draw, push  float64
	wanting     bool
	dropCurrent quantity.Opt[quantity.Ampere]
}

// basis is what a cable by itself depends on now.
func (s *sizer) basis(i int) reckoned {
	c, f := &s.cables[i], &s.solved[i]
	return reckoned{true, c.Area, c.Parallel, f.draw.amps, f.push.amps, len(f.wanting) > 0, c.DropCurrent}
}

// drops works out every cable that is not as it was, and the drop from the
// sources' terminals.
func (s *sizer) drops() {
	for i := range s.cables {
		if s.basis(i) != s.reckoned[i] {
			s.own(i)
			s.reckoned[i] = s.basis(i)
		}
	}
	s.accumulate()
}

// accumulate sums the drops along the way from the sources. Loads are counted
// by the ways on which they draw, charging cables from their charger.
func (s *sizer) accumulate() {
	for _, charging := range []bool{false, true} {
		g := s.graph(charging)
		g.forget()
		for i := range s.cables {
			c := &s.cables[i]
			f, pushed := s.flow[i].main()
			if f.amps == 0 || pushed != charging || !c.Drop.Known {
				continue
			}
			up, ok := g.above(g.start(i, f))
			if !ok {
				continue
			}
			c.Cumulative = quantity.Some(quantity.Volt(up) + c.Drop.Value)
			if d := c.Of.Domain; d != nil && d.Nominal.Known() && d.Nominal.Value > 0 {
				c.CumulativePercent = quantity.Some(quantity.Percent(100 * float64(c.Cumulative.Value) / float64(d.Nominal.Value)))
			}
		}
	}
}

// limits gives each cable the limit of its drop.
func (s *sizer) limits() {
	g := s.graph(false)
	within := make([]bool, g.w.nodes) // nodes from which current goes to something of the 3 % group
	var queue []int
	for _, t := range g.w.order {
		if n := g.w.node[t]; s.strictly(t) && !within[n] {
			within[n] = true
			queue = append(queue, n)
		}
	}
	for k := 0; k < len(queue); k++ {
		for _, branch := range g.into[queue[k]] {
			if n := g.from[branch]; !within[n] {
				within[n] = true
				queue = append(queue, n)
			}
		}
	}
	for i := range s.cables {
		s.limitOf(i, within)
	}
}

// graph is the ways on which current runs, from the sources outward.
type graph struct {
	s        *sizer
	charging bool
	w        *wiring
	into     [][]int // branches of w by the node that they bring current to
	from     []int
	onward   [][]int // of each node: those to which its branches bring current
	memo     []float64
	seen     []int    // 0: not yet, 1: on the way, 2: known, 3: not known
	ends     [][2]int // of each cable: the nodes of its ends; -1: none
}

// graph is made once: the currents are known before the sizes.
func (s *sizer) graph(charging bool) *graph {
	which := 0
	if charging {
		which = 1
	}
	if s.graphs[which] == nil {
		s.graphs[which] = s.newGraph(charging)
	}
	return s.graphs[which]
}

// forget drops what was summed with other sizes.
func (g *graph) forget() { clear(g.seen) }

func (s *sizer) newGraph(charging bool) *graph {
	w := s.wire(situation{config: circuit.FullyEquipped, transfer: true}, func(int) float64 { return 1 }, nil)
	g := &graph{s: s, charging: charging, w: w, into: make([][]int, w.nodes), from: make([]int, len(w.branches)), onward: make([][]int, w.nodes),
		memo: make([]float64, w.nodes), seen: make([]int, w.nodes)}
	for i := range s.cables {
		g.ends = append(g.ends, [2]int{g.node(s.cables[i].Of.From), g.node(s.cables[i].Of.To)})
	}
	for k, i := range w.cable {
		f := s.flow[i].draw
		if charging {
			f = s.flow[i].push
		}
		if f.amps == 0 {
			continue
		}
		a, b := w.branches[k].From, w.branches[k].To
		if !f.forward {
			a, b = b, a
		}
		g.from[k] = a
		g.into[b] = append(g.into[b], k)
		g.onward[a] = append(g.onward[a], b)
	}
	return g
}

// node is that of a cable's end; -1 where it has none.
func (g *graph) node(e circuit.End) int {
	t, ok := e.Terminal()
	n, found := g.w.node[t]
	if !ok || !found {
		return -1
	}
	return n
}

// start is the node from which a cable's current comes.
func (g *graph) start(i int, f current) int {
	if !f.forward {
		return g.ends[i][1]
	}
	return g.ends[i][0]
}

// end is the node to which a cable's current goes.
func (g *graph) end(i int, f current) int {
	f.forward = !f.forward
	return g.start(i, f)
}

// above is the drop from the sources' terminals to a node, by the worst way; a
// node that nothing brings current to is a source's. False where a drop on the
// way is not known.
func (g *graph) above(n int) (float64, bool) {
	if n < 0 {
		return 0, false
	}
	switch g.seen[n] {
	case 1:
		return 0, true // a ring: what comes round is not above
	case 2:
		return g.memo[n], true
	case 3:
		return 0, false
	}
	g.seen[n] = 1
	worst := 0.0
	for _, k := range g.into[n] {
		up, ok := g.above(g.from[k])
		drop, known := g.s.dropOf(g.w.cable[k], g.charging)
		if !ok || !known {
			g.seen[n] = 3
			return 0, false
		}
		worst = max(worst, up+drop)
	}
	g.seen[n], g.memo[n] = 2, worst
	return worst, true
}

// dropOf is a cable's drop by what loads draw or by what is pushed.
func (s *sizer) dropOf(i int, charging bool) (float64, bool) {
	c, f := &s.cables[i], s.solved[i]
	if charging {
		return float64(c.Resistance.Value) * f.push.amps, c.Resistance.Known
	}
	return float64(c.Resistance.Value) * f.draw.amps, c.Resistance.Known
}

// limitOf is the limit of drop at a cable's far end: 3 % where anything behind it is
// of that group, as it eats of the same 3 %.
func (s *sizer) limitOf(i int, within []bool) {
	c := &s.cables[i]
	f, pushed := s.flow[i].main()
	if c.Of.Link || f.amps == 0 {
		return
	}
	limit := relaxed
	far := c.Of.To
	if !f.forward {
		far = c.Of.From
	}
	g := s.graph(false)
	if t, ok := far.Terminal(); ok && !pushed {
		if n, there := g.w.node[t]; there && within[n] {
			after := g.leads(n)
			if s.net.Leads(t, circuit.View{Cut: map[*circuit.Cable]bool{c.Of: true}}, func(r circuit.Terminal) bool {
				n, there := g.w.node[r]
				return there && after[n] && s.strictly(r)
			}) {
				limit = strict
			}
		}
	}
	c.Limit = quantity.Some(quantity.Percent(limit))
}

// strictly tells what belongs to the 3 % group: navigation lights, bilge pumps
// and blowers, board feeders, and what is critical.
func (s *sizer) strictly(t circuit.Terminal) bool {
	f := t.Item.Facts
	return t.Item.Board != nil && t.Port == "" || f.Navigation || f.Bilge || f.Blower || f.Critical && t.Item.Nature().Load
}

// leads tells the nodes to which current from a node goes.
func (g *graph) leads(from int) []bool {
	to := make([]bool, g.w.nodes)
	to[from] = true
	queue := []int{from}
	for k := 0; k < len(queue); k++ {
		for _, n := range g.onward[queue[k]] {
			if !to[n] {
				to[n] = true
				queue = append(queue, n)
			}
		}
	}
	return to
}

// upsize makes open cables larger where current comes by more ways than one,
// until no drop is above its limit: each time the one that gains most for its
// copper. A cable that nothing cures is left as it is.
func (s *sizer) upsize() {
	hopeless := s.hopeless()
	for range 60 * (1 + len(s.cables)) {
		s.drops()
		best, gain := -1, 0.0
		var to step
		tried := make([]bool, len(s.cables))
		for i := range s.cables {
			if !s.over(i) || hopeless[i] {
				continue
			}
			for _, j := range s.way(i) {
				if tried[j] {
					continue
				}
				tried[j] = true
				if st, worth := s.next(j); worth > gain*(1+1e-9) {
					best, gain, to = j, worth, st
				}
			}
		}
		if best < 0 {
			return
		}
		s.take(best, to)
		s.cables[best].GovernedBy = "drop"
	}
}

// hopeless tells the cables whose drop stays above its limit with the largest
// sizes all the way to them.
func (s *sizer) hopeless() []bool {
	list := make([]bool, len(s.cables))
	s.drops()
	var overs []int
	for i := range s.cables {
		if s.over(i) {
			overs = append(overs, i)
		}
	}
	if len(overs) == 0 {
		return list
	}
	saved := s.sizes()
	lacks := make([][]string, len(s.cables))
	for i := range s.cables {
		lacks[i] = slices.Clone(s.cables[i].Missing)
	}
	for _, i := range overs {
		for _, j := range s.way(i) {
			for st, worth := s.next(j); worth > 0; st, worth = s.next(j) {
				s.take(j, st)
				s.own(j)
			}
		}
	}
	s.drops()
	for _, i := range overs {
		list[i] = s.over(i)
	}
	s.restore(saved)
	for i := range s.cables {
		s.cables[i].Missing = lacks[i]
	}
	return list
}

// over tells whether a cable's drop is above its limit.
func (s *sizer) over(i int) bool {
	c := &s.cables[i]
	return c.CumulativePercent.Known && c.Limit.Known && c.CumulativePercent.Value > c.Limit.Value
}

type sized struct {
	step
	by string
}

func (s *sizer) sizes() []sized {
	list := make([]sized, len(s.cables))
	for i, c := range s.cables {
		list[i] = sized{c.size(), c.GovernedBy}
	}
	return list
}

func (s *sizer) restore(list []sized) {
	for i := range s.cables {
		if s.open(i) && s.cables[i].Chosen {
			s.take(i, list[i].step)
			s.cables[i].GovernedBy = list[i].by
		}
	}
}

// exceeds tells whether an open cable still has more drop than its limit.
func (s *sizer) exceeds() bool {
	for i := range s.cables {
		if s.over(i) {
			for _, j := range s.way(i) {
				if st, _ := s.next(j); st.area > 0 {
					return true
				}
			}
		}
	}
	return false
}

// way is the open cables from a source to a cable, the cable included.
func (s *sizer) way(i int) []int {
	f, pushed := s.flow[i].main()
	g := s.graph(pushed)
	var list []int
	if s.open(i) && s.cables[i].Chosen {
		list = append(list, i)
	}
	seen := make([]bool, g.w.nodes)
	for queue := []int{g.start(i, f)}; len(queue) > 0; queue = queue[1:] {
		n := queue[0]
		if n < 0 || seen[n] {
			continue
		}
		seen[n] = true
		for _, k := range g.into[n] {
			if j := g.w.cable[k]; j >= 0 && s.open(j) && s.cables[j].Chosen {
				list = append(list, j)
			}
			queue = append(queue, g.from[k])
		}
	}
	return list
}

// next is the next larger size of a cable and what drop it saves for a mm²·m of copper.
func (s *sizer) next(j int) (step, float64) {
	c := &s.cables[j]
	length, _ := loop(c.Of)
	have := float64(c.Area.Value) * float64(c.Parallel)
	for _, st := range s.steps(c.Of) {
		want := float64(st.area) * float64(st.parallel)
		if want <= have || st.parallel < c.Parallel {
			continue
		}
		saved := float64(c.Drop.Value) * (1 - have/want)
		return st, saved / ((want - have) * math.Max(0.01, float64(length)))
	}
	return step{}, 0
}
