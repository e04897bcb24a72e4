package solve

// matrix is a symmetric matrix of a network's conductances: the diagonal, and
// for each row the entries beside it, by column, ascending.
type matrix struct {
	diagonal []float64
	beside   [][]entry
}

type entry struct {
	column int
	value  float64
}

func newMatrix(n int) *matrix {
	return &matrix{diagonal: make([]float64, n), beside: make([][]entry, n)}
}

// conduct adds a conductance between two nodes.
func (m *matrix) conduct(a, b int, g float64) {
	m.diagonal[a] += g
	m.diagonal[b] += g
	m.add(a, b, -g)
	m.add(b, a, -g)
}

func (m *matrix) add(row, column int, v float64) {
	entries := m.beside[row]
	i := 0
	for i < len(entries) && entries[i].column < column {
		i++
	}
	if i < len(entries) && entries[i].column == column {
		entries[i].value += v
		return
	}
	entries = append(entries, entry{})
	copy(entries[i+1:], entries[i:])
	entries[i] = entry{column, v}
	m.beside[row] = entries
}

func (m *matrix) drop(row, column int) {
	entries := m.beside[row]
	for i := range entries {
		if entries[i].column == column {
			m.beside[row] = append(entries[:i], entries[i+1:]...)
			return
		}
	}
}

// factors is a matrix taken apart: the rows in the order in which they were
// eliminated, each with its pivot and what stood beside it.
type factors struct {
	order  []int
	pivot  []float64
	beside [][]entry
}

// factor takes the matrix apart, the row with the fewest neighbours first, so
// that a tree of cables is solved in one pass from its leaves. It uses the
// matrix up. False when a row has no pivot: part of the network has no source.
func (m *matrix) factor() (*factors, bool) {
	n := len(m.diagonal)
	f := &factors{pivot: make([]float64, n), beside: make([][]entry, n)}
	waiting := newQueue(n)
	for row := range n {
		waiting.put(row, len(m.beside[row]))
	}
	done := make([]bool, n)
	for len(f.order) < n {
		k := waiting.next(func(row int) (int, bool) { return len(m.beside[row]), !done[row] })
		done[k] = true
		d := m.diagonal[k]
		if !(d > 0) {
			return nil, false
		}
		f.order = append(f.order, k)
		f.pivot[k], f.beside[k] = d, m.beside[k]
		for i, a := range f.beside[k] {
			m.drop(a.column, k)
			m.diagonal[a.column] -= float64(a.value * a.value / d)
			for _, b := range f.beside[k][i+1:] {
				v := -float64(a.value * b.value / d)
				m.add(a.column, b.column, v)
				m.add(b.column, a.column, v)
			}
		}
		for _, a := range f.beside[k] {
			waiting.put(a.column, len(m.beside[a.column]))
		}
	}
	return f, true
}

// solve gives x with A·x = b.
func (f *factors) solve(b []float64) []float64 {
	x := append([]float64(nil), b...)
	for _, k := range f.order {
		for _, e := range f.beside[k] {
			x[e.column] -= float64(e.value / f.pivot[k] * x[k])
		}
	}
	for i := len(f.order) - 1; i >= 0; i-- {
		k := f.order[i]
		sum := x[k]
		for _, e := range f.beside[k] {
			sum -= float64(e.value * x[e.column])
		}
		x[k] = sum / f.pivot[k]
	}
	return x
}

// queue hands out rows by their number of neighbours, and of equal ones the
// one that was put in last.
type queue struct{ buckets [][]int }

func newQueue(n int) *queue { return &queue{buckets: make([][]int, n+1)} }

func (q *queue) put(row, degree int) { q.buckets[degree] = append(q.buckets[degree], row) }

// next is the row of least degree; entries that are out of date are dropped.
func (q *queue) next(now func(row int) (degree int, waiting bool)) int {
	for degree := range q.buckets {
		for len(q.buckets[degree]) > 0 {
			last := len(q.buckets[degree]) - 1
			row := q.buckets[degree][last]
			q.buckets[degree] = q.buckets[degree][:last]
			if d, waiting := now(row); waiting && d == degree {
				return row
			}
		}
	}
	return -1
}
