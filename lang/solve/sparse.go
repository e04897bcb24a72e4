package solve

import (
	"math"
	"math/cmplx"
	"slices"
)

// number is what a network is reckoned in: real for direct, complex for
// alternating current.
type number interface{ float64 | complex128 }

// matrix is a symmetric matrix of a network's conductances: the diagonal, and
// for each row the entries beside it, by column, ascending.
type matrix[T number] struct {
	diagonal []T
	beside   [][]entry[T]
}

type entry[T number] struct {
	column int
	value  T
}

func newMatrix[T number](n int) *matrix[T] {
	return &matrix[T]{diagonal: make([]T, n), beside: make([][]entry[T], n)}
}

// conduct adds a conductance between two nodes.
func (m *matrix[T]) conduct(a, b int, g T) {
	m.diagonal[a] += g
	m.diagonal[b] += g
	m.add(a, b, -g)
	m.add(b, a, -g)
}

func (m *matrix[T]) add(row, column int, v T) {
	entries := m.beside[row]
	i, found := find(entries, column)
	if found {
		entries[i].value += v
		return
	}
	m.beside[row] = slices.Insert(entries, i, entry[T]{column, v})
}

// find is where a column stands in a row, or would.
func find[T number](row []entry[T], column int) (int, bool) {
	return slices.BinarySearchFunc(row, column, func(e entry[T], column int) int { return e.column - column })
}

// merge takes row k, times by, from another row, and the entry of k out of it;
// own is the other row's own column.
func merge[T number](row, k []entry[T], own, gone int, by T) []entry[T] {
	merged := make([]entry[T], 0, len(row)+len(k))
	i, j := 0, 0
	for i < len(row) || j < len(k) {
		switch {
		case i < len(row) && row[i].column == gone:
			i++
		case j < len(k) && k[j].column == own:
			j++
		case j == len(k) || i < len(row) && row[i].column < k[j].column:
			merged = append(merged, row[i])
			i++
		case i == len(row) || k[j].column < row[i].column:
			merged = append(merged, entry[T]{k[j].column, -T(by * k[j].value)})
			j++
		default:
			merged = append(merged, entry[T]{row[i].column, row[i].value - T(by*k[j].value)})
			i, j = i+1, j+1
		}
	}
	return merged
}

// factors is a matrix taken apart: the rows in the order in which they were
// eliminated, each with its pivot and what stood beside it.
type factors[T number] struct {
	order  []int
	place  []int // of each row in the order
	pivot  []T
	beside [][]entry[T]
}

// factor takes the matrix apart, the row with the fewest neighbours first, so
// that a tree of cables is solved in one pass from its leaves. It uses the
// matrix up. False when a pivot is not usable: of a real matrix one that is not
// above 0, as then part of the network has no source, or no stable voltage.
func (m *matrix[T]) factor() (*factors[T], bool) {
	n := len(m.diagonal)
	f := &factors[T]{place: make([]int, n), pivot: make([]T, n), beside: make([][]entry[T], n)}
	waiting := newQueue(n)
	for row := range n {
		waiting.put(row, len(m.beside[row]))
	}
	done := make([]bool, n)
	for len(f.order) < n {
		k := waiting.next(func(row int) (int, bool) { return len(m.beside[row]), !done[row] })
		done[k] = true
		d := m.diagonal[k]
		if !usable(d) {
			return nil, false
		}
		f.place[k] = len(f.order)
		f.order = append(f.order, k)
		f.pivot[k], f.beside[k] = d, m.beside[k]
		for _, a := range f.beside[k] {
			m.diagonal[a.column] -= T(a.value * a.value / d)
			if len(f.beside[k]) == 1 { // a leaf leaves nothing behind: of a bar's long row only its entry goes
				row := m.beside[a.column]
				i, _ := find(row, k)
				m.beside[a.column] = slices.Delete(row, i, i+1)
				continue
			}
			m.beside[a.column] = merge(m.beside[a.column], f.beside[k], a.column, k, a.value/d)
		}
		for _, a := range f.beside[k] {
			waiting.put(a.column, len(m.beside[a.column]))
		}
	}
	return f, true
}

// usable tells whether a pivot can be divided by.
func usable[T number](d T) bool {
	switch d := any(d).(type) {
	case float64:
		return d > 0 && !math.IsInf(d, 1)
	case complex128:
		return d != 0 && !cmplx.IsNaN(d) && !cmplx.IsInf(d)
	}
	return false
}

// solve gives x with A·x = b.
func (f *factors[T]) solve(b []T) []T {
	x := append([]T(nil), b...)
	for _, k := range f.order {
		for _, e := range f.beside[k] {
			x[e.column] -= T(e.value / f.pivot[k] * x[k])
		}
	}
	for i := len(f.order) - 1; i >= 0; i-- {
		k := f.order[i]
		sum := x[k]
		for _, e := range f.beside[k] {
			sum -= T(e.value * x[e.column])
		}
		x[k] = sum / f.pivot[k]
	}
	return x
}

// hung is the rows to which a row's elimination leads, itself the first, in the
// order of elimination: all that a solution needs where only these have a right
// side.
func (f *factors[T]) hung(row int) []int {
	rows := []int{row}
	later := []int{} // places in the order still to be walked, the next one last
	seen := map[int]bool{}
	for k := row; ; {
		for _, e := range f.beside[k] {
			if at := f.place[e.column]; !seen[at] {
				seen[at] = true
				i, _ := slices.BinarySearchFunc(later, at, func(have, at int) int { return at - have })
				later = slices.Insert(later, i, at)
			}
		}
		if len(later) == 0 {
			return rows
		}
		k = f.order[later[len(later)-1]]
		later = later[:len(later)-1]
		rows = append(rows, k)
	}
}

// inverse is an entry of the diagonal of the inverse: by the sums of solve, done
// only where they come to more than nothing.
func (f *factors[T]) inverse(row int) T {
	rows := f.hung(row)
	x := make(map[int]T, len(rows))
	x[row] = 1
	for _, k := range rows {
		for _, e := range f.beside[k] {
			x[e.column] -= T(e.value / f.pivot[k] * x[k])
		}
	}
	for i := len(rows) - 1; i >= 0; i-- {
		k := rows[i]
		sum := x[k]
		for _, e := range f.beside[k] {
			sum -= T(e.value * x[e.column])
		}
		x[k] = sum / f.pivot[k]
	}
	return x[row]
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
