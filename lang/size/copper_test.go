package size

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
)

// On five hundred random trees of up to six cables and eight sizes no choice of
// sizes that keeps every limit has less copper: all of them were tried.
func TestLeastCopperAgainstAllChoices(t *testing.T) {
	r := rand.New(rand.NewPCG(11, 25))
	cured := 0
	for n := range 500 {
		tree := randomTree(r)
		least := math.Inf(1)
		choose := make([]int, len(tree))
		for {
			if copper, ok := weigh(tree, choose); ok {
				least = min(least, copper)
			}
			i := 0
			for ; i < len(choose); i++ {
				if choose[i]++; choose[i] < len(tree[i].sizes) {
					break
				}
				choose[i] = 0
			}
			if i == len(choose) {
				break
			}
		}
		copper, ok := weigh(tree, leastCopper(tree))
		assert.Equal(t, !math.IsInf(least, 1), ok, "tree %d", n)
		if ok {
			assert.InEpsilon(t, least, copper, 1e-12, "tree %d", n)
			cured++
		}
	}
	assert.Greater(t, cured, 300, "most of the trees can be sized")
}

// randomTree has drops that fall and copper that rises with the size.
func randomTree(r *rand.Rand) []limb {
	tree := make([]limb, 1+r.IntN(6))
	sizes := 1 + r.IntN(8)
	for i := range tree {
		tree[i].parent = r.IntN(i+1) - 1
		tree[i].limit = 0.2 + 1.5*r.Float64()
		if r.IntN(3) == 0 {
			tree[i].limit = math.Inf(1)
		}
		amps, length := 1+20*r.Float64(), 1+10*r.Float64()
		area := 1 + 3*r.Float64()
		for range sizes {
			tree[i].sizes = append(tree[i].sizes, choice{drop: 0.02 * amps * length / area, copper: area * length})
			area *= 1.3 + r.Float64()
		}
	}
	return tree
}

func weigh(tree []limb, choose []int) (copper float64, ok bool) {
	drop := make([]float64, len(tree))
	ok = true
	for i, l := range tree { // a parent stands before its children
		c := l.sizes[choose[i]]
		drop[i] = c.drop
		if l.parent >= 0 {
			drop[i] += drop[l.parent]
		}
		copper += c.copper
		ok = ok && drop[i] <= l.limit+1e-12
	}
	return copper, ok
}

// A limit that no copper keeps does not swell the rest.
func TestLeastCopperBeyondCure(t *testing.T) {
	tree := []limb{
		{parent: -1, limit: math.Inf(1), sizes: []choice{{1, 10}, {0.5, 20}}},
		{parent: 0, limit: 0.1, sizes: []choice{{1, 5}, {0.5, 10}}},
		{parent: 0, limit: 1.4, sizes: []choice{{0.5, 5}, {0.3, 8}}},
	}
	assert.Equal(t, []int{0, 0, 1}, leastCopper(tree))
}
