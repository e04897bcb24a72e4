package solve

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/mat"
	"pgregory.net/rapid"
)

// The sparse solution is that of a dense one.
func TestSparseAgainstDense(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 3))
		n := 1 + r.IntN(40)
		m, dense := newMatrix[float64](n), mat.NewSymDense(n, nil)
		tie := func(i int, g float64) {
			m.diagonal[i] += g
			dense.SetSym(i, i, dense.At(i, i)+g)
		}
		for i := range n {
			tie(i, 0.01+r.Float64())
			for range r.IntN(4) {
				j, g := r.IntN(n), 100*r.Float64()
				if i == j {
					continue
				}
				m.conduct(i, j, g)
				dense.SetSym(i, i, dense.At(i, i)+g)
				dense.SetSym(j, j, dense.At(j, j)+g)
				dense.SetSym(i, j, dense.At(i, j)-g)
			}
		}
		b := make([]float64, n)
		for i := range b {
			b[i] = r.NormFloat64()
		}
		var c mat.Cholesky
		require.True(t, c.Factorize(dense))
		var want mat.VecDense
		require.NoError(t, c.SolveVecTo(&want, mat.NewVecDense(n, b)))
		f, ok := m.factor()
		require.True(t, ok)
		got := f.solve(b)
		for i := range got {
			assert.InDelta(t, want.AtVec(i), got[i], 1e-9*max(1, want.AtVec(i)))
		}
		at := r.IntN(n)
		clear(b)
		b[at] = 1
		assert.Equal(t, f.solve(b)[at], f.inverse(at), "the same sums")
	})
}

// What has no source has no pivot.
func TestSingular(t *testing.T) {
	m := newMatrix[float64](2)
	m.conduct(0, 1, 1)
	_, ok := m.factor()
	assert.False(t, ok)
}
