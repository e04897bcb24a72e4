package size

import (
	"math"

	"strake/lang/circuit"
	"strake/lang/quantity"
	"strake/lang/solve"
	"strake/lang/table"
)

// answer is how the devices on the way from one source to a fault answer to it.
type answer struct {
	guarded bool          // a device stands on the way
	opens   bool          // one of them surely opens
	seconds float64       // in at most this time; infinite: not known
	by      *circuit.Item // the one that opens, or else the smallest
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

// answers works out, for each node, how the devices between it and a source that
// feeds a fault there alone answer: the quickest of those through which all of
// the current must pass. amps is the fault current at each node.
func (s *sizer) answers(w *wiring, source int, amps []float64) []answer {
	list := make([]answer, w.nodes)
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
	all := reach(nil)
	for n := range list {
		list[n].seconds = math.Inf(1)
	}
	for k, it := range w.item {
		if it == nil || !it.Nature().Protects || !all[w.branches[k].From] {
			continue
		}
		device, known := s.tabled(it)
		with := reach(it)
		for n := range list {
			if with[n] || !all[n] || math.IsInf(amps[n], 1) {
				continue
			}
			a := &list[n]
			a.guarded = true
			op := table.Opening(device, quantity.Ampere(amps[n]))
			seconds := math.Inf(1)
			if op.Opens && op.Seconds.Known {
				seconds = float64(op.Seconds.Value)
			}
			opens := op.Opens || !known // what has no rating yet may
			if a.by == nil || opens && !a.opens || opens == a.opens && (seconds < a.seconds || seconds == a.seconds && device.Rating < s.rating(a.by).Value) {
				a.by = it
			}
			a.opens = a.opens || opens
			a.seconds = min(a.seconds, seconds)
		}
	}
	return list
}

func other(b solve.Branch, n int) int {
	if b.From == n {
		return b.To
	}
	return b.From
}
