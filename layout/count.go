package layout

import (
	"cmp"
	"slices"
)

// Phase 4, order.
// Needs: a bench, a sequence. Gives: a sequence of few crossings and bends. It
// only counts, without widths: a column that passes a level between that
// level's own columns parts them, and what is parted from the longest run
// joins it by a side wire that crosses all that stands between. A trial is some
// fifty times shorter than a whole one, so that there may be thousands.

// What the count costs beside crossings and bends.
const (
	costSpan  = point / 2   // a place by which a level is longer
	costWrong = 200 * point // a wire that must come round a box
)

// involved is the part that an item has in a level.
type involved struct {
	level     int32
	own, pass int16
	anchor    bool // the level's body stands on it
}

// run of a level's own columns, and how many wires pass after it.
type ownRun struct {
	own, pass int32
	anchor    bool
}

// counted is a level while a sequence is gone through.
type counted struct {
	runs        []ownRun
	parted      bool  // the next own column begins a run
	first, last int32 // places of its own columns
}

// passed notes wires that pass a level, when some of its own columns stand left of them.
func (l *counted) passed(wires int32) {
	if n := len(l.runs); n > 0 {
		l.runs[n-1].pass += wires
		l.parted = true
	}
}

// deeper is a level that a board's wire passes when the board drops that far.
type deeper struct{ by, level int }

// tally is what counting works with.
type tally struct {
	a      *arrangement
	pass   [][]int // columns that are foreign wires at each level
	bench  *bench
	of     [][]involved // by item
	levels []counted
	simple []bool // units without an item that must stand right of another
	place  []int32
	order  []int // items
	done   []bool
	sided  []sided
	y      []int      // first height of each level
	deeper [][]deeper // by item
	leaf   []int32    // of each item, as its outline has it
	wide   *widths
	steep  int // how much a plan costs that is too wide
}

// sided is a column that lands on a fixed side of a box.
type sided struct {
	col, box int // items
	right    bool
}

func newTally(b *bench) *tally {
	a := b.a
	n := len(a.levels)
	t := &tally{a: a, bench: b, pass: b.s.pass, of: make([][]involved, len(a.items)), levels: make([]counted, n), y: slices.Clone(b.h.level),
		simple: make([]bool, len(a.units)), place: make([]int32, len(a.items)), done: make([]bool, len(a.items))}
	must := make([]bool, len(a.items)) // others must stand right of it, or it of others
	for i := range a.items {
		for _, j := range a.items[i].after {
			must[i], must[j] = true, true
		}
	}
	for u, unit := range a.units {
		t.simple[u] = !slices.ContainsFunc(unit, func(i int) bool { return must[i] })
	}
	for l, lv := range a.levels {
		for _, cols := range [][]int{a.above[l], a.below[l]} {
			for _, c := range cols {
				i := a.itemOf[c]
				if i == a.bodyItem[l] || a.lo[c] == onRow && a.cols[c].lower == l || a.up[c] == onRow && a.cols[c].upper == l {
					continue // on the axis, or on a row
				}
				t.at(i, l).own++
				if lv.kind != boxLevel {
					continue
				}
				e := a.cols[c].loAt
				if a.cols[c].upper == l {
					e = a.cols[c].upAt
				}
				if p, ok := a.port(b.g, l, e); ok && p.Fixed && (p.Side == LeftSide || p.Side == RightSide) {
					t.sided = append(t.sided, sided{i, a.bodyItem[l], p.Side == RightSide})
				}
			}
		}
		if i := a.bodyItem[l]; i >= 0 {
			k := t.at(i, l)
			k.own++
			k.anchor = true
		}
		for _, c := range b.s.pass[l] {
			if i := a.itemOf[c]; i != a.bodyItem[l] {
				t.at(i, l).pass++
			}
		}
	}
	for c, col := range a.cols {
		if a.up[c] == onRow {
			t.row(c, col.upper, col.upAt.Row)
		}
		if a.lo[c] == onRow {
			t.row(c, col.lower, col.loAt.Row)
		}
	}
	t.wide = newWidths(b)
	t.deeper = make([][]deeper, len(a.items))
	for i := range t.wide.lines {
		t.leaf = append(t.leaf, int32(t.wide.lines[i].leaf))
	}
	for _, i := range t.wide.leaves {
		if leaf := t.wide.lines[i].leaf; leaf < len(a.levels) && len(a.above[leaf]) > 0 {
			for l, y := range t.y {
				if y >= t.y[leaf] && l != leaf {
					t.deeper[i] = append(t.deeper[i], deeper{y - t.y[leaf], l})
				}
			}
			slices.SortFunc(t.deeper[i], func(p, q deeper) int { return cmp.Compare(p.by, q.by) })
		}
	}
	for i := range t.of { // own columns and passing ones on one axis do not part
		for k := range t.of[i] {
			if t.of[i][k].own > 0 {
				t.of[i][k].pass = 0
			}
		}
	}
	return t
}

// row adds the wire of a board's row as a level of its own.
func (t *tally) row(c, l, row int) {
	a, h := t.a, &t.bench.h
	y := h.level[l] + a.bodies[l].rows[row]
	n := len(t.levels)
	t.levels, t.y = append(t.levels, counted{}), append(t.y, y)
	t.at(a.itemOf[c], n).own++
	k := t.at(a.bodyItem[l], n)
	k.own++
	k.anchor = true
	for d, col := range a.cols {
		if d == c || a.itemOf[d] == a.itemOf[c] || a.itemOf[d] == a.bodyItem[l] {
			continue
		}
		last := len(col.pieces) - 1
		top, bottom := h.piece[d][0], h.piece[d][last]+a.measures[d][last].height
		if col.upper >= 0 {
			top = h.level[col.upper] + a.topOf(d)
		}
		if col.lower >= 0 {
			bottom = h.level[col.lower]
			if a.lo[d] == onRow {
				bottom += a.bodies[col.lower].rows[col.loAt.Row]
			}
		}
		if top < y && y < bottom {
			t.at(a.itemOf[d], n).pass++
		}
	}
}

// at is the part of an item in a level.
func (t *tally) at(i, l int) *involved {
	for k := range t.of[i] {
		if t.of[i][k].level == int32(l) {
			return &t.of[i][k]
		}
	}
	t.of[i] = append(t.of[i], involved{level: int32(l)})
	return &t.of[i][len(t.of[i])-1]
}

// put sets an item after those that must stand left of it.
func (t *tally) put(i int) {
	if t.done[i] {
		return
	}
	t.done[i] = true
	for _, before := range t.a.items[i].after {
		t.put(before)
	}
	t.place[i] = int32(len(t.order))
	t.order = append(t.order, i)
}

// endless is a limit that no plan reaches.
const endless = 1 << 40

// count judges a sequence; above the limit it may be told too low.
func (t *tally) count(p plan, limit int) int {
	a := t.a
	t.order = t.order[:0]
	clear(t.done)
	for _, u := range p.seq {
		if !t.simple[u] {
			for _, i := range a.units[u] {
				t.put(i)
			}
			continue
		}
		for _, i := range a.units[u] {
			t.place[i] = int32(len(t.order))
			t.order = append(t.order, i)
		}
	}
	for l := range t.levels {
		k := &t.levels[l]
		k.runs, k.parted = k.runs[:0], true
	}
	mixed, last := 0, 0
	for at, i := range t.order {
		for _, k := range t.of[i] {
			l := &t.levels[k.level]
			n := len(l.runs)
			switch {
			case k.own == 0:
				l.passed(int32(k.pass))
			case l.parted:
				if n == 0 {
					l.first = int32(at)
				}
				l.runs = append(l.runs, ownRun{own: int32(k.own), anchor: k.anchor})
				l.parted, l.last = false, int32(at)
			default:
				r := &l.runs[n-1]
				r.own += int32(k.own)
				r.anchor = r.anchor || k.anchor
				l.last = int32(at)
			}
		}
		if leaf := t.leaf[i]; leaf >= 0 && p.drop[leaf] > 0 {
			for _, d := range t.deeper[i] {
				if d.by >= p.drop[leaf] {
					break
				}
				t.levels[d.level].passed(1)
			}
		}
		if d := t.bench.domains[i]; d > 0 {
			if last > 0 && d != last {
				mixed++
			}
			last = d
		}
	}
	wrong := 0
	for _, s := range t.sided {
		if (t.place[s.col] > t.place[s.box]) != s.right {
			wrong++
		}
	}
	cost := costMixed*mixed + costWrong*wrong
	for l := range t.levels {
		k := &t.levels[l]
		if len(k.runs) == 0 {
			continue
		}
		cost += costSpan * int(k.last-k.first)
		if len(k.runs) > 1 {
			crossings, bends := parted(k.runs)
			if cost += costCross*crossings + costBend*bends; cost > limit {
				return cost
			}
		}
	}
	return cost + costBroken/4*t.broken()
}

// parted counts what it costs to join all runs of a level to the longest one.
func parted(runs []ownRun) (crossings, bends int) {
	best := 0
	for j, r := range runs {
		if r.anchor || !runs[best].anchor && r.own > runs[best].own {
			best = j
		}
	}
	between := int32(0)
	for j := best - 1; j >= 0; j-- {
		between += runs[j].pass
		crossings += int(runs[j].own * between)
		bends += int(runs[j].own)
	}
	between = 0
	for j := best + 1; j < len(runs); j++ {
		between += runs[j-1].pass
		crossings += int(runs[j].own * between)
		bends += int(runs[j].own)
	}
	return crossings, bends
}

// broken counts what keeps level ties from lying between their bars.
func (t *tally) broken() int {
	sum := 0
	for k := range t.a.strips {
		sum += t.inTheWay(k)
	}
	return sum
}

// obstructed lists the strips that do not lie free in a sequence.
func (t *tally) obstructed(p plan) []int {
	t.count(p, endless)
	var out []int
	for k := range t.a.strips {
		if t.inTheWay(k) > 0 {
			out = append(out, k)
		}
	}
	return out
}

// inTheWay counts the columns that stand in the way of a strip.
func (t *tally) inTheWay(k int) int {
	a := t.a
	s := &a.strips[k]
	p := t.place[a.stripItem[k]]
	var side [2][2]int // of the bar at either end, left and right of the strip
	for e, l := range [2]int{s.from, s.to} {
		for _, cols := range [2][]int{a.above[l], a.below[l]} {
			for _, c := range cols {
				if t.place[a.itemOf[c]] < p {
					side[e][0]++
				} else {
					side[e][1]++
				}
			}
		}
	}
	left, right := s.from, s.to
	bad := side[0][1] + side[1][0]
	if other := side[0][0] + side[1][1]; other < bad {
		bad, left, right = other, right, left
	}
	if bad > 0 || len(t.levels[left].runs) == 0 || len(t.levels[right].runs) == 0 {
		return bad
	}
	for _, c := range t.pass[left] {
		if q := t.place[a.itemOf[c]]; q > t.levels[left].last && q < t.levels[right].first {
			bad++
		}
	}
	return bad
}
