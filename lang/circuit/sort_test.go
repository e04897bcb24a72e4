package circuit

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

func TestCompareIsNaturalOrder(t *testing.T) {
	names := []string{"DB1.10", "F2", "DB1.2", "F10", "F02", "DB1", "PB", "F1-M1", "DB1.2.load", "F1"}
	slices.SortFunc(names, Compare)
	assert.Equal(t, []string{"DB1", "DB1.2", "DB1.2.load", "DB1.10", "F1", "F1-M1", "F02", "F2", "F10", "PB"}, names)
}

func TestCompareIsATotalOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		name := rapid.StringMatching(`[AB]{0,1}[0-9]{0,3}[.AB]{0,1}[0-9]{0,2}`)
		a, b, c := name.Draw(t, "a"), name.Draw(t, "b"), name.Draw(t, "c")
		assert.Equal(t, sign(Compare(a, b)), -sign(Compare(b, a)))
		assert.Equal(t, a == b, Compare(a, b) == 0)
		if Compare(a, b) <= 0 && Compare(b, c) <= 0 {
			assert.LessOrEqual(t, Compare(a, c), 0)
		}
	})
}

func sign(n int) int {
	switch {
	case n < 0:
		return -1
	case n > 0:
		return 1
	}
	return 0
}
