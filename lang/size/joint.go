package size

// joints gathers terminals, by their place in the net, that are one conductor.
type joints struct {
	parent []int
	index  []int // of a root: its node; -1 not yet
	count  int
}

func newJoints(terminals int) *joints {
	j := &joints{parent: make([]int, terminals), index: make([]int, terminals)}
	for i := range j.parent {
		j.parent[i], j.index[i] = i, -1
	}
	return j
}

func (j *joints) root(t int) int {
	for j.parent[t] != t {
		j.parent[t] = j.parent[j.parent[t]]
		t = j.parent[t]
	}
	return t
}

func (j *joints) join(a, b int) {
	if x, y := j.root(a), j.root(b); x != y {
		j.parent[y] = x
	}
}

// number is the node of a terminal, in the order in which they are asked for.
func (j *joints) number(t int) int {
	r := j.root(t)
	if j.index[r] < 0 {
		j.index[r] = j.count
		j.count++
	}
	return j.index[r]
}
