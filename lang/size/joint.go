package size

import "strake/lang/circuit"

// joints gathers terminals that are one conductor.
type joints struct {
	parent map[circuit.Terminal]circuit.Terminal
	index  map[circuit.Terminal]int
	count  int
}

func newJoints() *joints {
	return &joints{parent: map[circuit.Terminal]circuit.Terminal{}, index: map[circuit.Terminal]int{}}
}

func (j *joints) add(t circuit.Terminal) { j.parent[t] = t }

func (j *joints) has(t circuit.Terminal) bool {
	_, ok := j.parent[t]
	return ok
}

func (j *joints) root(t circuit.Terminal) circuit.Terminal {
	for j.parent[t] != t {
		j.parent[t] = j.parent[j.parent[t]]
		t = j.parent[t]
	}
	return t
}

func (j *joints) join(a, b circuit.Terminal) {
	if x, y := j.root(a), j.root(b); x != y {
		j.parent[y] = x
	}
}

// number is the node of a terminal, in the order in which they are asked for.
func (j *joints) number(t circuit.Terminal) int {
	r := j.root(t)
	if _, ok := j.index[r]; !ok {
		j.index[r] = j.count
		j.count++
	}
	return j.index[r]
}
