package schematic

// Where a craft that is too large for its paper is cut: into parts of nearly
// equal size, through as few and as light cables as can be.

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"sync"

	"strake/lang/circuit"
	"strake/layout"
	"strake/layout/geom"
	"strake/render/scene"
)

// lumps are the nodes of a model that stay together, since no flag can stand
// between them, and what joins them.
type lumps struct {
	of   []int // lump of each node
	size []int
	near [][]bond
}

// bond is what a cut between two lumps costs.
type bond struct{ to, cost int }

// Costs of a cut.
const (
	cutCable  = 10 // and more for a heavy one
	cutDomain = 8  // within one voltage
	cutTie    = 20
)

func (m *model) lumps() lumps {
	root := make([]int, len(m.nodes))
	for i := range root {
		root[i] = i
	}
	find := func(i int) int {
		for root[i] != i {
			root[i] = root[root[i]]
			i = root[i]
		}
		return i
	}
	for k, w := range m.graph.Wires {
		from, to := m.nodes[w.From.Node], m.nodes[w.To.Node]
		ends := from.end != nil || to.end != nil || from.flag != nil || to.flag != nil
		if m.wires[k].cable == nil || ends || m.drawnWhereItEnds(w) && !m.arrivesWhole(w) {
			root[find(w.From.Node)] = find(w.To.Node)
		}
	}
	l := lumps{of: make([]int, len(m.nodes))}
	number := map[int]int{}
	for i := range m.nodes {
		r := find(i)
		n, ok := number[r]
		if !ok {
			n = len(l.size)
			number[r] = n
			l.size, l.near = append(l.size, 0), append(l.near, nil)
		}
		l.of[i] = n
		l.size[n] += m.size(i)
	}
	for _, w := range m.graph.Wires {
		a, b := l.of[w.From.Node], l.of[w.To.Node]
		if a == b {
			continue
		}
		cost := cutCable + 2*w.Weight
		if m.graph.Nodes[w.From.Node].Group == m.graph.Nodes[w.To.Node].Group {
			cost += cutDomain
		}
		if w.Tie {
			cost += cutTie
		}
		l.near[a], l.near[b] = append(l.near[a], bond{b, cost}), append(l.near[b], bond{a, cost})
	}
	return l
}

// cut is a division of some lumps.
type cut struct {
	away []bool // by lump
	cost int
}

// Shares in per cent by which a part may miss the size that it should have.
const cutSlack = 15

// mostSeeds is how many lumps a division begins at.
const mostSeeds = 12

// cuts divides some lumps in two, the second with a share in per cent of their
// size; the best first.
func (l lumps) cuts(set []int, share int) []cut {
	inside := make([]bool, len(l.size))
	total, largest := 0, 0
	for _, n := range set {
		inside[n] = true
		total += l.size[n]
		largest = max(largest, l.size[n])
	}
	least, most := total*(share-cutSlack)/100, total*(share+cutSlack)/100
	most = max(most, largest) // one board alone may be more
	seeds := slices.Clone(set)
	slices.SortStableFunc(seeds, func(a, b int) int { return l.size[b] - l.size[a] })
	var out []cut
	for _, seed := range seeds[:min(len(seeds), mostSeeds)] {
		away, taken := l.grow(seed, set, inside, total*share/100)
		l.better(set, inside, away, taken, least, most)
		c := cut{away: away}
		moved := 0
		for _, n := range set {
			if !away[n] {
				continue
			}
			moved += l.size[n]
			for _, b := range l.near[n] {
				if inside[b.to] && !away[b.to] {
					c.cost += b.cost
				}
			}
		}
		if moved == 0 || moved == total || slices.ContainsFunc(out, func(o cut) bool { return slices.Equal(o.away, away) }) {
			continue
		}
		c.cost += 100 * max(moved*100/total-share, share-moved*100/total) / 50
		out = append(out, c)
	}
	slices.SortStableFunc(out, func(a, b cut) int { return a.cost - b.cost })
	return out
}

// grow takes what hangs on a lump most, and then the next, up to a size.
func (l lumps) grow(seed int, set []int, inside []bool, size int) (away []bool, taken int) {
	away = make([]bool, len(l.size))
	pull := make([]int, len(l.size)) // what joins a lump to those that are taken, less what joins it to others
	var edge []int
	seen := make([]bool, len(l.size))
	reach := func(n int) {
		if !seen[n] {
			seen[n] = true
			edge = append(edge, n)
			for _, b := range l.near[n] {
				if inside[b.to] {
					pull[n] -= b.cost
				}
			}
		}
	}
	next := 0
	reach(seed)
	for taken < size {
		best := -1
		for i, n := range edge {
			if best < 0 || pull[n] > pull[edge[best]] {
				best = i
			}
		}
		if best < 0 { // the rest hangs together by nothing
			for next < len(set) && seen[set[next]] {
				next++
			}
			if next == len(set) {
				break
			}
			reach(set[next])
			continue
		}
		n := edge[best]
		edge = slices.Delete(edge, best, best+1)
		if taken > 0 && taken+l.size[n] > size*(100+cutSlack)/100 {
			continue // too much at once
		}
		away[n] = true
		taken += l.size[n]
		for _, b := range l.near[n] {
			if inside[b.to] && !away[b.to] {
				reach(b.to)
				pull[b.to] += 2 * b.cost
			}
		}
	}
	return away, taken
}

// better moves single lumps over for as long as that makes the cut cheaper.
func (l lumps) better(set []int, inside, away []bool, taken, least, most int) {
	for round := 0; round < 10; round++ {
		moved := false
		for _, n := range set {
			gain := 0
			for _, b := range l.near[n] {
				if inside[b.to] {
					if away[b.to] == away[n] {
						gain -= b.cost
					} else {
						gain += b.cost
					}
				}
			}
			by := l.size[n]
			if away[n] {
				by = -by
			}
			if gain > 0 && taken+by >= least && taken+by <= most {
				away[n], taken, moved = !away[n], taken+by, true
			}
		}
		if !moved {
			return
		}
	}
}

// Shares of a field, in per cent, that a part of a craft may fill to be tried,
// and those of which the parts are made.
const (
	partMost  = 42
	partShare = 31
)

// over divides a craft over as many sheets as it takes; false: one of its things
// alone is larger than the paper.
func (m *model) over(p paper) ([]*attempt, bool) {
	f := m.planPart(p).field()
	var o overing
	for _, longest := range longestBars {
		o = overing{m: m.shortBars(longest), p: p, field: f.Width / 100 * (f.Height / 100), longest: longest}
		o.l = o.m.lumps()
		all := make([]int, len(o.l.size))
		for i := range all {
			all[i] = i
		}
		if o.done = o.divide(all, true); o.done {
			break
		}
	}
	if !o.done {
		return nil, false
	}
	o.join()
	parts := o.ordered()
	if m.d.options.Effort == layout.Good && len(parts) <= mostCareful {
		var larger []*model
		for _, c := range largerCaps {
			larger = append(larger, m.d.model(c, m.d.ways()[0]).shortBars(o.longest))
		}
		var done sync.WaitGroup
		for i := range parts {
			done.Go(func() {
				parts[i] = parts[i].enlarged(func(k int) *attempt { return larger[k].partOn(o.p, parts[i].inside) })
				careful := *parts[i]
				if careful.try(layout.Good) && careful.better(*parts[i]) {
					parts[i] = &careful
				}
			})
		}
		done.Wait()
	}
	return parts, true
}

// mostCareful is how many sheets get a careful search.
const mostCareful = 8

// overing is a division in the making.
type overing struct {
	m       *model
	l       lumps
	p       paper
	field   int // square millimetres
	longest int // as many cables land on a bar at the most
	parts   []portion
	done    bool
}

// portion is some lumps that find room on a sheet.
type portion struct {
	set  []int
	size int
	laid *attempt
}

func (o *overing) sum(set []int) int {
	sum := 0
	for _, n := range set {
		sum += o.l.size[n]
	}
	return sum
}

// try lays some lumps out on a sheet of their own.
func (o *overing) try(set []int, effort layout.Effort) (*attempt, bool) {
	inside := make([]bool, len(o.m.nodes))
	in := make([]bool, len(o.l.size))
	for _, n := range set {
		in[n] = true
	}
	for i := range inside {
		inside[i] = in[o.l.of[i]]
	}
	t := o.m.partOn(o.p, inside)
	return t, t.try(effort)
}

// divide puts some lumps on as few sheets as they find room on.
func (o *overing) divide(set []int, whole bool) bool {
	sum := o.sum(set)
	if !whole && sum*100 <= o.field*partMost || len(set) == 1 {
		if t, ok := o.try(set, layout.Quick); ok {
			o.parts = append(o.parts, portion{set, sum, t})
			return true
		}
	}
	if len(set) == 1 {
		return false
	}
	sheets := max(2, (sum*100+o.field*partShare-1)/(o.field*partShare))
	cuts := o.l.cuts(set, 100*(sheets/2)/sheets)
	if len(cuts) == 0 {
		return false
	}
	var here, away []int
	for _, n := range set {
		if cuts[0].away[n] {
			away = append(away, n)
		} else {
			here = append(here, n)
		}
	}
	return o.divide(here, false) && o.divide(away, false)
}

// join lets small parts slip into the room that others leave.
func (o *overing) join() {
	slices.SortStableFunc(o.parts, func(a, b portion) int { return b.size - a.size })
	for i := len(o.parts) - 1; i > 0; i-- {
		tries := 0
		for k := 0; k < i && tries < 2; k++ {
			size := o.parts[i].size + o.parts[k].size
			if size*100 > o.field*(partShare+4) {
				continue
			}
			tries++
			set := slices.Concat(o.parts[k].set, o.parts[i].set)
			if t, ok := o.try(set, layout.Quick); ok {
				o.parts[k] = portion{set, size, t}
				o.parts = slices.Delete(o.parts, i, i+1)
				break
			}
		}
	}
}

// ordered are the parts as their sheets follow: the heaviest cables first, then
// what hangs on what came before.
func (o *overing) ordered() []*attempt {
	part := make([]int, len(o.l.size))
	for i, p := range o.parts {
		for _, n := range p.set {
			part[n] = i
		}
	}
	pull := make([]int, len(o.parts))
	for _, w := range o.m.graph.Wires {
		if a, b := part[o.l.of[w.From.Node]], part[o.l.of[w.To.Node]]; a == b {
			pull[a] += max(0, w.Weight-2)
		}
	}
	var out []*attempt
	done := make([]bool, len(o.parts))
	for range o.parts {
		best := -1
		for i := range o.parts {
			if !done[i] && (best < 0 || pull[i] > pull[best]) {
				best = i
			}
		}
		done[best] = true
		out = append(out, o.parts[best].laid)
		for n, p := range part {
			if p == best {
				for _, b := range o.l.near[n] {
					pull[part[b.to]] += 1000
				}
			}
		}
	}
	return out
}

// longestBars is how many cables land on a bar at the most where a craft is
// divided, in turn: what has more goes on on other sheets.
var longestBars = []int{12, 7}

// shortBars is the model with the pieces of its longest bars, each a bar by itself.
func (m *model) shortBars(longest int) *model {
	p := *m
	p.graph.Nodes, p.graph.Wires = slices.Clone(m.graph.Nodes), slices.Clone(m.graph.Wires)
	p.nodes = slices.Clone(m.nodes)
	for i := range m.nodes {
		f := &p.nodes[i]
		if m.graph.Nodes[i].Form != layout.Bar || f.item == nil {
			continue
		}
		var ends []*layout.End // what feeds the bar first
		for k := range p.graph.Wires {
			if w := &p.graph.Wires[k]; w.To.Node == i {
				ends = append(ends, &w.To)
			}
		}
		for k := range p.graph.Wires {
			if w := &p.graph.Wires[k]; w.From.Node == i {
				ends = append(ends, &w.From)
			}
		}
		if len(ends) <= longest {
			continue
		}
		p.graph.Orders = slices.DeleteFunc(slices.Clone(p.graph.Orders), func(o layout.Order) bool { return o.Bar == i })
		pieces := (len(ends) + longest - 1) / longest
		each := (len(ends) + pieces - 1) / pieces
		f.name = f.note
		f.note = p.goesOn(f, make([]int, pieces-1))
		p.graph.Nodes[i].Note.Over = f.note.size()
		item := f.item
		for rest := ends[each:]; len(rest) > 0; {
			n := layout.Node{Name: fmt.Sprintf("%s goes on %d", item.Ref, len(rest)), Form: layout.Bar, Group: m.graph.Nodes[i].Group}
			more := figure{more: item, note: p.barFrom(item, 99, "M99")}
			n.Note.Over = more.note.size()
			at := p.add(n, more)
			for _, e := range rest[:min(each, len(rest))] {
				e.Node = at
			}
			rest = rest[min(each, len(rest)):]
		}
	}
	return &p
}

// goesOn is the name of a bar with the sheets on which it goes on.
func (m *model) goesOn(f *figure, sheets []int) note {
	var names []string
	for _, n := range sheets {
		if n == 0 {
			n = 99 // not known yet: its room is kept
		}
		names = append(names, strconv.Itoa(n))
	}
	return slices.Concat(f.name, wrapped("goes on: sheet "+strings.Join(names, ", "), 2*m.caps.widest(m.caps.note), m.caps.note, false))
}

// barFrom is the name of a piece of a bar.
func (m *model) barFrom(it *circuit.Item, sheet int, zone string) note {
	return note{{{it.Ref, m.caps.hand, true}}, {{fmt.Sprintf("bar of sheet %d, %s", sheet, zone), m.caps.note, false}}}
}

// drawMore draws a piece of a bar.
func (m *model) drawMore(b layout.PlacedBar, origin geom.Point) *scene.Group {
	f := m.nodes[b.Node]
	g := &scene.Group{Class: class("device flag", f.more.Status), Item: f.more.Ref, Title: f.more.Ref + ": stands elsewhere"}
	g.Nodes = append(g.Nodes, scene.Line{Pen: m.d.barPen(f.more), Points: []geom.Point{b.Line[0].Add(origin), b.Line[1].Add(origin)}})
	g.Nodes = append(g.Nodes, f.note.at(b.Name.Add(origin))...)
	return g
}
