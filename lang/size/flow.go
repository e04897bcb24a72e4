package size

import (
	"maps"
	"math"
	"slices"
	"strings"

	"strake/lang/circuit"
	"strake/lang/quantity"
	"strake/lang/solve"
)

// flow is the current of a cable in the worst of its cases: what loads draw
// through it, and what charging sources push through it.
type flow struct {
	draw, push current
	wanting    []string // facts that a load on it lacks
}

// current is a current with its direction and the case that gave it.
type current struct {
	amps    float64
	forward bool // from the cable's first end to its second
	name    string
	under   []string // what else the case is made of: positions, configuration
}

// named is the case in words.
func (c current) named() string { return strings.Join(append([]string{c.name}, c.under...), ", ") }

// keep takes a current that is larger; of equal ones it keeps only what their
// cases have in common.
func (c *current) keep(other current) {
	switch {
	case other.amps > c.amps:
		*c = other
	case other.amps == c.amps && other.amps > 0 && other.name == c.name:
		c.under = slices.DeleteFunc(slices.Clone(c.under), func(u string) bool { return !slices.Contains(other.under, u) })
	}
}

func (f flow) known() bool { return f.draw.amps > 0 || f.push.amps > 0 }

func (f flow) most() float64 { return max(f.draw.amps, f.push.amps) }

// main is the current that the cable is there for: what loads draw, else what is
// pushed.
func (f flow) main() (c current, charging bool) {
	if f.draw.amps > 0 {
		return f.draw, false
	}
	return f.push, true
}

// situation is one state in which currents are worked out.
type situation struct {
	name     string
	under    []string
	config   circuit.Configuration
	charging bool
	transfer bool                   // inverter-chargers pass what comes in; they invert otherwise
	invert   map[*circuit.Item]bool // with transfer: those that invert all the same, as nothing comes in
	position map[*circuit.Item]string
	off      map[*circuit.Item]bool // what an interlock keeps off
	demand   func(t circuit.Terminal) (quantity.Ampere, string)
}

// passes tells whether an inverter-charger passes what comes in.
func (st situation) passes(it *circuit.Item) bool { return st.transfer && !st.invert[it] }

// mostSituations bounds the work on craft with many changeovers and interlocks:
// beyond it the interlocks are left out, which gives larger currents.
const mostSituations = 64

// situations lists the states: every changeover in each position, every enforced
// interlock either way, inverting and passing through, both configurations.
func (s *sizer) situations() []situation {
	base := []situation{{}}
	cross := func(each func(situation) []situation) {
		var next []situation
		for _, b := range base {
			next = append(next, each(b)...)
		}
		if len(next) <= mostSituations {
			base = next
		}
	}
	for _, it := range s.sys.Items {
		if it.Kind != "changeover" {
			continue
		}
		cross(func(b situation) []situation {
			var each []situation
			for _, p := range it.Ports {
				if p.Name != "out" {
					n := b
					n.position = map[*circuit.Item]string{it: p.Name}
					for k, v := range b.position {
						n.position[k] = v
					}
					n.under = append(slices.Clone(b.under), it.Ref+" at "+p.Name)
					each = append(each, n)
				}
			}
			return each
		})
	}
	for _, l := range s.sys.Interlocks {
		if l.Only || !l.Enforced {
			continue
		}
		cross(func(b situation) []situation {
			var each []situation
			for _, out := range [][]*circuit.Item{l.First, l.Second} {
				n := b
				n.off = map[*circuit.Item]bool{}
				for k := range b.off {
					n.off[k] = true
				}
				for _, it := range out {
					n.off[it] = true
				}
				each = append(each, n)
			}
			return each
		})
	}
	var list []situation
	for _, config := range s.configurations() {
		for _, b := range base {
			for _, transfer := range s.modes() {
				n := b
				n.config, n.transfer = config, transfer
				n.demand = func(t circuit.Terminal) (quantity.Ampere, string) { return s.demand(t, transfer) }
				n.name, n.under = "everything on at its rating", append(slices.Clone(b.under), s.called(config)...)
				list = append(list, n)
			}
			n := b
			n.config, n.charging, n.transfer = config, true, true
			n.name, n.under = "all charging sources at full output", append(slices.Clone(b.under), s.called(config)...)
			list = append(list, n)
		}
	}
	return list
}

// configurations is both where they differ, the fully equipped one first: it
// decides, and as handed over only where that is worse.
func (s *sizer) configurations() []circuit.Configuration {
	if s.partFinished() {
		return []circuit.Configuration{circuit.FullyEquipped, circuit.AsHandedOver}
	}
	return []circuit.Configuration{circuit.FullyEquipped}
}

// partFinished tells a craft on which something is prepared or the owner's.
func (s *sizer) partFinished() bool {
	return slices.ContainsFunc(s.sys.Items, func(it *circuit.Item) bool { return unfinished(it.Status) }) ||
		slices.ContainsFunc(s.sys.Cables, func(c *circuit.Cable) bool { return unfinished(c.Status) })
}

func unfinished(st circuit.Status) bool { return st == circuit.Prepared || st == circuit.Owner }

// called names a configuration in a case's name, where there are two.
func (s *sizer) called(c circuit.Configuration) []string {
	switch {
	case !s.partFinished():
		return nil
	case c == circuit.AsHandedOver:
		return []string{"as handed over"}
	}
	return []string{"fully equipped"}
}

// modes is whether inverter-chargers pass through: both ways, where there is one.
func (s *sizer) modes() []bool {
	for _, it := range s.sys.Items {
		if it.Kind == "inverter-charger" {
			return []bool{false, true}
		}
	}
	return []bool{false}
}

// flows works out the design current of every cable: the largest over every
// situation. With conditions declared these give what loads draw, and what all
// on at once would draw stands beside it.
func (s *sizer) flows() {
	s.graphs, s.sag, s.conditions = [2]*graph{}, nil, nil
	s.turn++
	s.kept = nil
	clear(s.through)
	for i := range s.cables {
		s.cables[i].DesignCase = ""
	}
	s.cases = s.prepare(s.situations())
	s.flow = s.run(s.cases)
	for _, c := range s.sys.Conditions {
		s.conditions = append(s.conditions, s.prepare(s.conditioned(c))...)
	}
	s.behind = s.demands()
	s.vague = s.vagueness()
	s.flow = s.worst(s.flow)
	s.solved = s.flow
}

// vagueness gives, for each cable whose share of a current depends on a cable of
// unknown resistance, the facts that are missing: those whose current moves when
// the unknown is taken as much more than at first.
func (s *sizer) vagueness() [][]string {
	vague := make([][]string, len(s.cables))
	g := s.graph(false)
	looped := s.looped(g)
	var lacks []string
	for k, i := range g.w.cable {
		c := s.cables[i]
		if looped[g.w.branches[k].From] && s.flow[i].draw.amps > 0 && s.unknown(i) {
			lacks = append(lacks, "length and size of "+c.Of.ID)
		}
	}
	if len(lacks) == 0 {
		return vague
	}
	through := maps.Clone(s.through)
	s.doubt, s.kept = 10, nil
	other := s.run(s.prepare(s.situations()))
	s.doubt, s.through, s.kept = 0, through, nil
	for i := range vague {
		if math.Abs(other[i].draw.amps-s.flow[i].draw.amps) > 1e-3*s.flow[i].draw.amps {
			vague[i] = lacks
		}
	}
	return vague
}

// unknown tells a cable whose resistance is not known and not chosen.
func (s *sizer) unknown(i int) bool {
	c := s.cables[i]
	return !c.Of.Length.Known() || !c.Area.Known && !s.open(i)
}

// worst takes the conditions into the currents of everything on at once, and
// caps what its source cannot give.
func (s *sizer) worst(all []flow) []flow {
	list := all
	if len(s.sys.Conditions) > 0 {
		list = s.byCondition(all)
	}
	for i := range list {
		if s.allOn != nil {
			together := all[i].draw
			s.cap(i, &together)
			s.allOn[i] = together.amps
		}
		s.cap(i, &list[i].draw)
		if len(s.vague[i]) > 0 {
			list[i].wanting = slices.Concat(list[i].wanting, s.vague[i])
		}
	}
	return list
}

// settle works out what really flows where loads take constant power: more than
// at the sources' terminals, by the drop on the way. Drop is reckoned with that;
// design currents stay those of the lowest voltage at the source.
func (s *sizer) settle() {
	for range mostSettling {
		before := s.solved
		s.sink()
		s.solved = s.worst(s.run(s.cases))
		s.drops()
		moved := 0.0
		for i := range before {
			moved = max(moved, math.Abs(s.solved[i].draw.amps-before[i].draw.amps)/max(1, before[i].draw.amps))
		}
		if moved < 1e-6 {
			break
		}
	}
}

// mostSettling bounds settle; where the drop is small two rounds do.
const mostSettling = 12

// sink gives each terminal the drop on the way to it.
func (s *sizer) sink() {
	sag := make([]float64, len(s.terminals))
	g := s.graph(false)
	g.forget()
	for i, t := range s.terminals {
		if n, there := g.w.node[t]; there {
			if v, ok := g.above(n); ok && v > 0 {
				sag[i] = v
			}
		}
	}
	s.sag = sag
	s.turn++
}

// demands is, for each cable, the terminals whose current it carries.
func (s *sizer) demands() [][]circuit.Terminal {
	behind := make([][]circuit.Terminal, len(s.cables))
	g := s.graph(false)
	for _, t := range g.w.order {
		draws := false
		for _, transfer := range []bool{false, true} {
			i, fact := s.demand(t, transfer)
			draws = draws || i > 0 || fact != ""
		}
		if !draws {
			continue
		}
		seen := make([]bool, g.w.nodes)
		for queue := []int{g.w.node[t]}; len(queue) > 0; queue = queue[1:] {
			n := queue[0]
			if seen[n] {
				continue
			}
			seen[n] = true
			for _, k := range g.into[n] {
				c := g.w.cable[k]
				behind[c] = append(behind[c], t)
				queue = append(queue, g.from[k])
			}
		}
	}
	return behind
}

// wiring is the circuit's terminals gathered into nodes, its cables and closed
// devices as branches between them.
type wiring struct {
	node     map[circuit.Terminal]int
	order    []circuit.Terminal
	nodes    int
	cable    []int // index of the cable of a branch, -1: a device
	item     []*circuit.Item
	branches []solve.Branch
}

// contact is the resistance that stands for a closed device where none is asked
// for: so small that no drop comes of it, yet the current through it is known.
const contact = 1e-6

// wire builds the wiring of a situation. ohms gives the resistance of a cable
// out and back; device that of a closed device (0: one node).
func (s *sizer) wire(st situation, ohms func(i int) float64, device func(*circuit.Item) float64) *wiring {
	all := s.terminals
	w := &wiring{node: make(map[circuit.Terminal]int, len(all)), order: make([]circuit.Terminal, 0, len(all))}
	join := newJoints(len(all))
	here := make([]bool, len(all))
	for i, t := range all {
		if t.Item.Status.In(st.config) {
			here[i] = true
			w.order = append(w.order, t)
		}
	}
	type through struct {
		a, b circuit.Terminal
		it   *circuit.Item
	}
	var closed []through
	var inside []int
	for i, t := range all {
		if !here[i] {
			continue
		}
		inside = s.inside(inside[:0], i, st)
		for _, k := range inside {
			if !here[k] {
				continue
			}
			if other := all[k]; t.Item != other.Item || device == nil || device(t.Item) == 0 || t.Item.Nature().Ends != circuit.TwoEnds {
				join.join(i, k)
			} else if t.Port == "in" {
				closed = append(closed, through{t, other, t.Item})
			}
		}
	}
	for i, c := range s.cables {
		from, ok1 := c.Of.From.Terminal()
		to, ok2 := c.Of.To.Terminal()
		a, _ := s.net.Index(from)
		b, _ := s.net.Index(to)
		if !ok1 && !ok2 || ok1 && !here[a] || ok2 && !here[b] || !c.Of.Status.In(st.config) || c.Of.InString() {
			continue
		}
		if c.Of.Link && ok1 && ok2 {
			join.join(a, b)
		} else if !c.Of.Link && !(ok1 && st.off[from.Item] || ok2 && st.off[to.Item]) {
			w.cable = append(w.cable, i)
		}
	}
	for i, t := range all {
		if here[i] {
			w.node[t] = join.number(i)
		}
	}
	w.nodes = join.count
	w.item = make([]*circuit.Item, len(w.cable))
	for _, i := range w.cable {
		b := solve.Branch{Ohm: ohms(i)}
		for _, e := range [...]struct {
			end circuit.End
			to  *int
		}{{s.cables[i].Of.From, &b.From}, {s.cables[i].Of.To, &b.To}} {
			if t, ok := e.end.Terminal(); ok {
				*e.to = w.node[t]
			} else { // capped, or untraced: a node of its own
				*e.to = w.nodes
				w.nodes++
			}
		}
		w.branches = append(w.branches, b)
	}
	for _, d := range closed {
		w.cable, w.item = append(w.cable, -1), append(w.item, d.it)
		w.branches = append(w.branches, solve.Branch{From: w.node[d.a], To: w.node[d.b], Ohm: device(d.it)})
	}
	return w
}

// joint is a step without a cable, to a terminal by its place in the net.
type joint struct {
	to      int
	through *circuit.Item
}

// jointsOf is what a terminal is joined to without a cable.
func (s *sizer) jointsOf(t circuit.Terminal) []joint {
	var list []joint
	for _, step := range slices.Concat(s.net.Downstream(t, circuit.View{}), s.net.Upstream(t, circuit.View{})) {
		if step.Cable == nil {
			i, _ := s.net.Index(step.To)
			list = append(list, joint{i, step.Through})
		}
	}
	return list
}

// inside adds every terminal that a terminal is one with, or joined to by a closed
// device: bars and their ways, banks and their first member, ends of a switch.
func (s *sizer) inside(list []int, i int, st situation) []int {
	t := s.terminals[i]
	if st.off[t.Item] {
		return list
	}
	for _, j := range s.joints[i] {
		position, set := "", false
		if j.through != nil {
			position, set = st.position[j.through]
		}
		to := &s.terminals[j.to]
		switch {
		case slices.Contains(list, j.to), st.off[to.Item] && to.Item != t.Item:
		case j.through != nil && j.through.Kind == "inverter-charger" && !st.passes(j.through):
		case set && t.Port != position && to.Port != position:
		default:
			list = append(list, j.to)
		}
	}
	return list
}

// prepared is a situation with its network, which stays while demands change.
type prepared struct {
	situation
	w        *wiring
	group    []int // of each node: what is joined to it at all
	solution *solve.Solution
	held     []int
	pushed   []float64 // by node: what charging sources push in
	takers   []taker
	wanting  map[int][]string // by branch: facts that what it feeds lacks
}

// taker is a terminal that takes current; turned, the output of a converter that
// passes it to its input.
type taker struct {
	at     circuit.Terminal
	node   int
	turned bool
}

func (s *sizer) prepare(list []situation) []*prepared {
	var all []*prepared
	for _, st := range list {
		p := &prepared{situation: st}
		p.w, p.group = s.wired(st)
		p.pushed = make([]float64, p.w.nodes)
		lacks := s.put(p)
		p.solution = s.solution(p)
		p.wanting = s.wants(p.w, lacks, p.solution)
		s.kept = append(s.kept, p)
		all = append(all, p)
	}
	return all
}

// wired is the wiring of a situation and its groups; situations that differ only
// in what is on share one.
func (s *sizer) wired(st situation) (*wiring, []int) {
	for _, k := range s.kept {
		if k.config == st.config && (k.transfer == st.transfer || len(s.modes()) == 1) && maps.Equal(k.position, st.position) && maps.Equal(k.off, st.off) {
			return k.w, k.group
		}
	}
	w := s.wire(st, func(i int) float64 { return s.guess(i) }, func(*circuit.Item) float64 { return contact })
	return w, s.groups(w)
}

// solution takes the network of a situation apart; the same wiring held at the
// same nodes has one.
func (s *sizer) solution(p *prepared) *solve.Solution {
	for _, k := range s.kept {
		if k.w == p.w && slices.Equal(k.held, p.held) {
			return k.solution
		}
	}
	return solve.Linear{Nodes: p.w.nodes, Branches: p.w.branches, Held: p.held}.Solve()
}

// run works out situations and keeps the largest current of each cable.
func (s *sizer) run(cases []*prepared) []flow {
	flows := make([]flow, len(s.cables))
	for _, p := range cases {
		s.runOne(p, flows)
	}
	return flows
}

func (s *sizer) runOne(p *prepared, flows []flow) {
	into := slices.Clone(p.pushed)
	for _, t := range p.takers {
		amps, _ := p.demand(t.at)
		if t.turned {
			amps, _ = s.turnedCurrent(t.at.Item)
		}
		into[t.node] -= float64(amps)
	}
	v := p.solution.Voltages(into)
	for k, b := range p.w.branches {
		if !p.solution.Joined(b.From) {
			continue
		}
		i := (v[b.From] - v[b.To]) / b.Ohm
		amps := math.Round(math.Abs(i)*1e6) / 1e6 // to a microampere: 16 A stay 16 A, not a little more
		if it := p.w.item[k]; it != nil {
			if s.sag == nil {
				s.through[it] = max(s.through[it], amps)
			}
			continue
		}
		f := &flows[p.w.cable[k]]
		if len(f.wanting) == 0 {
			f.wanting = p.wanting[k]
		}
		c := &f.draw
		if p.charging {
			c = &f.push
		}
		c.keep(current{amps, i > 0, p.name, p.under})
	}
}

// put finds the nodes that are held (sources) and what stands at the others:
// loads draw, and in a charging situation the chargers push into the batteries.
// It gives, by node, the facts that are missing.
func (s *sizer) put(p *prepared) (wanting map[int][]string) {
	w, group := p.w, p.group
	wanting = map[int][]string{}
	strong := map[int]bool{} // groups with a source that does not limit itself
	for _, t := range w.order {
		if storage(t) {
			strong[group[w.node[t]]] = true
		}
	}
	turned := s.turnedIn(p, strong)
	for _, t := range w.order {
		n := w.node[t]
		if p.off[t.Item] {
			continue
		}
		supply, feeds := s.supply(t)
		switch {
		case !p.charging && turned[t.Item] && t.Port == "in":
			p.held = append(p.held, n)
		case !p.charging && turned[t.Item] && t.Port == "out":
			if i, ok := s.turnedCurrent(t.Item); ok && i > 0 {
				p.takers = append(p.takers, taker{t, n, true})
			} else if !ok {
				wanting[n] = append(wanting[n], "rating of "+t.Item.Ref)
			}
		case p.charging && storage(t):
			p.held = append(p.held, n)
		case p.charging && t.Item.Kind == "regulator" && t.Port == "in" && !strong[group[n]]:
			p.held = append(p.held, n)
		case p.charging && feeds && pushes(supply):
			if i, ok := s.limit(supply); ok {
				p.pushed[n] += float64(i)
			} else {
				wanting[n] = append(wanting[n], "rating of "+t.Item.Ref)
			}
		case p.charging:
		case storage(t), feeds && !strong[group[n]] && s.feedsLoads(supply, p.situation):
			p.held = append(p.held, n)
		default:
			i, fact := p.demand(t)
			if i != 0 {
				p.takers = append(p.takers, taker{t, n, false})
			}
			if fact != "" {
				wanting[n] = append(wanting[n], fact)
			}
		}
	}
	return wanting
}

// turnedIn are the converters that pass power both ways and are the only thing that
// feeds what lies at their input, from their output.
func (s *sizer) turnedIn(p *prepared, strong map[int]bool) map[*circuit.Item]bool {
	var both []*circuit.Item
	for _, t := range p.w.order {
		if t.Port == "in" && t.Item.Facts.BothWays && t.Item.Nature().Converts && !p.off[t.Item] {
			both = append(both, t.Item)
		}
	}
	if len(both) == 0 || p.charging {
		return nil
	}
	at := func(it *circuit.Item, port string) int {
		n, there := p.w.node[circuit.Terminal{Item: it, Port: port}]
		if !there {
			return -1
		}
		return p.group[n]
	}
	fed := func(group int, but *circuit.Item) bool {
		return strong[group] || slices.ContainsFunc(p.w.order, func(t circuit.Terminal) bool {
			supply, feeds := s.supply(t)
			return t.Item != but && feeds && p.group[p.w.node[t]] == group && !p.off[t.Item] && s.feedsLoads(supply, p.situation)
		})
	}
	turned := map[*circuit.Item]bool{}
	for _, it := range both {
		in, out := at(it, "in"), at(it, "out")
		turned[it] = in >= 0 && out >= 0 && in != out && !fed(in, it) && fed(out, it)
	}
	return turned
}

// storage tells a battery, or a string or pack of them, at its terminal.
func storage(t circuit.Terminal) bool {
	if !t.Item.Nature().Stores {
		return false
	}
	for m := t.Item.MemberOf; m != nil; m = m.MemberOf {
		if m.Bank.Series {
			return false
		}
	}
	return true
}

// pushes tells what sends current into a battery rather than waiting to be drawn upon.
func pushes(p circuit.Supply) bool {
	d := p.Item.PortDomain(p.Port)
	return (d == nil || !d.AC) && (p.Port != "in" || p.Item.Facts.BothWays)
}

// feedsLoads tells what feeds loads where no battery does.
func (s *sizer) feedsLoads(p circuit.Supply, st situation) bool {
	switch {
	case p.Item.Kind == "array", p.Item.Nature().Load:
		return false
	case p.Item.Kind == "inverter-charger" && p.Port != "dc":
		return !st.passes(p.Item)
	}
	return p.Port != "in"
}

// groups numbers the nodes by what is joined at all.
func (s *sizer) groups(w *wiring) []int {
	group := make([]int, w.nodes)
	for i := range group {
		group[i] = i
	}
	find := func(i int) int {
		for group[i] != i {
			group[i] = group[group[i]]
			i = group[i]
		}
		return i
	}
	for _, b := range w.branches {
		if x, y := find(b.From), find(b.To); x != y {
			group[max(x, y)] = min(x, y)
		}
	}
	for i := range group {
		group[i] = find(i)
	}
	return group
}

// wants tells for each branch which facts are missing of the loads whose
// current it would carry.
func (s *sizer) wants(w *wiring, wanting map[int][]string, solution *solve.Solution) map[int][]string {
	if len(wanting) == 0 {
		return nil
	}
	found := map[int][]string{}
	for n := range w.nodes { // in order, so that the list is always the same
		if len(wanting[n]) == 0 {
			continue
		}
		into := make([]float64, w.nodes)
		into[n] = -1
		u := solution.Voltages(into)
		for k, b := range w.branches {
			if math.Abs((u[b.From]-u[b.To])/b.Ohm) > 1e-6 {
				found[k] = append(found[k], wanting[n]...)
			}
		}
	}
	return found
}

// cap holds a cable's current to what its only sources can give: the rating of
// a converter, of a shore inlet, of a generator.
func (s *sizer) cap(i int, f *current) {
	c := &s.cables[i]
	side := 1
	if f.forward {
		side = 0
	}
	if f.amps == 0 || len(c.Feeds[side].Sources) == 0 {
		return
	}
	if most := s.gives[i][side]; most.Known && float64(most.Value) < f.amps {
		f.amps, f.name, f.under = float64(most.Value), "all that its source gives", nil
	}
}
