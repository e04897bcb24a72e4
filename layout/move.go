package layout

import "slices"

// The moves of the search: small and large changes of a sequence.

// neighbours lists for each unit those that share a level with it.
func (a *arrangement) neighbours() [][]int {
	near := make([][]int, len(a.units))
	join := func(all []int) {
		for _, i := range all {
			for _, j := range all {
				if u, v := a.unitOf[i], a.unitOf[j]; u != v {
					near[u] = append(near[u], v)
				}
			}
		}
	}
	for l := range a.levels {
		var all []int
		if a.bodyItem[l] >= 0 {
			all = append(all, a.bodyItem[l])
		}
		join(append(all, a.itemsOn(l)...))
	}
	for k, t := range a.strips {
		for _, l := range []int{t.from, t.to} {
			for _, i := range a.itemsOn(l) {
				join([]int{i, a.stripItem[k]})
			}
		}
	}
	return near
}

// itemsOn lists the items of the columns of a level.
func (a *arrangement) itemsOn(l int) []int {
	var out []int
	for _, c := range a.above[l] {
		out = append(out, a.itemOf[c])
	}
	for _, c := range a.below[l] {
		out = append(out, a.itemOf[c])
	}
	return out
}

// move changes a sequence in one way.
func move(seq []int, near [][]int, r *random) {
	n := len(seq)
	i := r.below(n)
	switch k := r.below(16); {
	case k < 7 && len(near[seq[i]]) > 0: // beside a neighbour
		mate := near[seq[i]][r.below(len(near[seq[i]]))]
		for j, it := range seq {
			if it == mate {
				if r.below(2) == 0 && j < n-1 {
					j++
				}
				shift(seq, i, 1, j)
				return
			}
		}
	case k < 9: // swap
		j := r.below(n)
		seq[i], seq[j] = seq[j], seq[i]
	case k < 11: // a run elsewhere
		length := 2 + r.below(max(1, n/2))
		if i+length <= n {
			shift(seq, i, length, r.below(n-length+1))
		}
	case k < 13: // a run turned round
		j := min(n, i+2+r.below(max(1, n/2)))
		for ; i < j-1; i, j = i+1, j-1 {
			seq[i], seq[j-1] = seq[j-1], seq[i]
		}
	case k < 14 && len(near[seq[i]]) > 0: // an item with its neighbours elsewhere
		gather(seq, seq[i], near[seq[i]], r.below(n))
	default: // anywhere
		shift(seq, i, 1, r.below(n))
	}
}

// gather moves an item and its neighbours, in their order, to one place.
func gather(seq []int, it int, mates []int, to int) {
	run := 0 // gathered at the front
	for k, i := range seq {
		if i == it || slices.Contains(mates, i) {
			shift(seq, k, 1, run)
			run++
		}
	}
	shift(seq, 0, run, to)
}

// shift moves a run of a sequence so that it begins at another place.
func shift(seq []int, from, length, to int) {
	to = min(to, len(seq)-length)
	if to < from {
		rotate(seq[to:from+length], from-to)
	} else {
		rotate(seq[from:to+length], length)
	}
}

// rotate brings the first of a sequence behind the rest.
func rotate(seq []int, first int) {
	slices.Reverse(seq[:first])
	slices.Reverse(seq[first:])
	slices.Reverse(seq)
}
