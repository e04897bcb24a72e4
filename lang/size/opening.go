package size

import (
	"math"
	"slices"

	"strake/lang/circuit"
	"strake/lang/quantity"
	"strake/lang/solve"
	"strake/lang/table"
)

// answer is how the devices on the way to a fault answer to it.
type answer struct {
	guarded bool          // a device stands on the way
	opens   bool          // one of them surely opens
	seconds float64       // in at most this time; infinite: not known
	by      *circuit.Item // the one that opens, or else the smallest
	unrated bool          // a device without a rating stands on the way too
	amps    float64       // of the fault, from all that feeds it
	limited *circuit.Item
}

// worse tells whether one answer is worse than another: nothing opens, nobody
// knows when, or later.
func (a answer) worse(b answer) bool {
	if a.opens != b.opens {
		return !a.opens
	}
	return a.seconds > b.seconds
}

// nobody is the answer of no device.
var nobody = answer{seconds: math.Inf(1)}

// meet adds a device that all of a current must pass: of several the quickest opens.
func (s *sizer) meet(a *answer, it *circuit.Item, amps float64) {
	device, known := s.tabled(it)
	op := table.Opening(device, quantity.Ampere(amps))
	seconds := math.Inf(1)
	if op.Opens && op.Seconds.Known {
		seconds = float64(op.Seconds.Value)
	}
	if !known { // it may open, and nobody knows when: what else stands on the way does not answer for it
		a.guarded, a.unrated = true, true
		if a.by == nil {
			a.by = it
		}
		return
	}
	opens := op.Opens
	if a.by == nil || opens && !a.opens || opens == a.opens && (seconds < a.seconds || seconds == a.seconds && device.Rating < s.rating(a.by).Value) {
		a.by = it
	}
	a.guarded, a.opens, a.seconds = true, a.opens || opens, min(a.seconds, seconds)
}

// parting is the devices through which all that a source sends must pass: for each
// the nodes that it parts from the source.
type parting struct {
	devices []*circuit.Item
	parts   [][]bool // of each device, by node
	reached []bool
}

// part works out a source's parting.
func (w *wiring) part(source int) parting {
	next := make([][]int, w.nodes)
	for k, b := range w.branches {
		next[b.From] = append(next[b.From], k)
		next[b.To] = append(next[b.To], k)
	}
	reach := func(without *circuit.Item) []bool {
		seen := make([]bool, w.nodes)
		seen[source] = true
		for queue := []int{source}; len(queue) > 0; queue = queue[1:] {
			for _, k := range next[queue[0]] {
				if w.item[k] != nil && w.item[k] == without {
					continue
				}
				if to := other(w.branches[k], queue[0]); !seen[to] {
					seen[to] = true
					queue = append(queue, to)
				}
			}
		}
		return seen
	}
	p := parting{reached: reach(nil)}
	for k, it := range w.item {
		if it == nil || !it.Nature().Protects || !p.reached[w.branches[k].From] {
			continue
		}
		parts, any := reach(it), false
		for n := range parts {
			parts[n] = p.reached[n] && !parts[n]
			any = any || parts[n]
		}
		if any {
			p.devices, p.parts = append(p.devices, it), append(p.parts, parts)
		}
	}
	return p
}

// answerTo is how the devices between a source and a node answer to a current that
// the source sends there.
func (s *sizer) answerTo(p parting, n int, amps float64) answer {
	a := nobody
	for k, it := range p.devices {
		if p.parts[k][n] {
			s.meet(&a, it, amps)
		}
	}
	return a
}

// together is how devices answer when several sources feed a fault at once: what
// all of the current passes, or else the devices of each source, which open one
// after the other when each opens at an equal share.
func (s *sizer) together(sources []parting, n int, amps float64) answer {
	common := nobody
	for k, it := range sources[0].devices {
		every := sources[0].parts[k][n]
		for _, p := range sources[1:] {
			every = every && p.partsFrom(it, n)
		}
		if every {
			s.meet(&common, it, amps)
		}
	}
	own := answer{guarded: true, opens: true}
	for _, p := range sources {
		a := s.answerTo(p, n, amps/float64(len(sources)))
		own.guarded, own.opens, own.unrated = own.guarded && a.guarded, own.opens && a.opens, own.unrated || a.unrated
		if a.seconds >= own.seconds {
			own.seconds, own.by = a.seconds, a.by
		}
	}
	if !common.guarded || own.guarded && common.worse(own) {
		return own
	}
	return common
}

// sideBySide is how devices answer that stand beside one another before a node, where none is
// passed by all of the current: they open one after the other, each at the least of
// what it has to carry. Where they do not, the answer stays what it was.
func (s *sizer) sideBySide(w *wiring, sound func(branch int) bool, net solve.Linear, n int, l level, was answer) answer {
	next := make([][]int, w.nodes)
	for k, b := range w.branches {
		next[b.From] = append(next[b.From], k)
		next[b.To] = append(next[b.To], k)
	}
	source := make([]bool, w.nodes)
	for _, tie := range net.Ties {
		source[tie.Node] = true
	}
	// walk floods from some nodes and stops at what protects, or at some devices.
	walk := func(from int, stops func(branch int) bool) (seen []bool, met []int) {
		seen = make([]bool, w.nodes)
		seen[from] = true
		for queue := []int{from}; len(queue) > 0; queue = queue[1:] {
			for _, k := range next[queue[0]] {
				if stops(k) {
					met = append(met, k)
				} else if to := other(w.branches[k], queue[0]); !seen[to] {
					seen[to] = true
					queue = append(queue, to)
				}
			}
		}
		return seen, met
	}
	feeds := func(seen []bool) bool {
		for m := range seen {
			if seen[m] && source[m] {
				return true
			}
		}
		return false
	}
	near, met := walk(n, func(k int) bool { return w.item[k] != nil && w.item[k].Nature().Protects })
	if feeds(near) {
		return was // a way without a device
	}
	closed := func(k int) bool { return slices.Contains(met, k) }
	var devices []int // those behind which a source stands, and not only the others
	for _, k := range met {
		outside := w.branches[k].From
		if near[outside] {
			outside = w.branches[k].To
		}
		if beyond, _ := walk(outside, closed); !near[outside] && feeds(beyond) && !slices.Contains(devices, k) {
			devices = append(devices, k)
		}
	}
	if len(devices) < 2 {
		return was // told already
	}
	a, slowest := answer{guarded: true, opens: true}, 0.0
	for _, k := range devices {
		amps := l.amps
		if !l.limited {
			net.Branches = net.Branches[:0:0]
			for j, b := range w.branches {
				if sound(j) && (j == k || !slices.Contains(devices, j)) {
					net.Branches = append(net.Branches, b)
				}
			}
			r, ok := net.Solve().Resistance(n)
			if !ok || r <= 0 {
				return was
			}
			amps = l.volt / r
		}
		one := nobody
		s.meet(&one, w.item[k], amps/float64(len(devices)))
		a.opens, a.unrated = a.opens && one.opens, a.unrated || one.unrated
		a.seconds += one.seconds // one after the other
		if one.seconds >= slowest {
			slowest, a.by = one.seconds, one.by
		}
	}
	if was.worse(a) {
		return a
	}
	return was
}

func (p parting) partsFrom(it *circuit.Item, n int) bool {
	for k, d := range p.devices {
		if d == it {
			return p.parts[k][n]
		}
	}
	return false
}

func other(b solve.Branch, n int) int {
	if b.From == n {
		return b.To
	}
	return b.From
}
