package size_test

import (
	"os"
	"testing"

	"github.com/stretchr/testify/require"

	"strake/lang/size"
)

// BenchmarkSize sizes the largest example.
func BenchmarkSize(b *testing.B) {
	text, err := os.ReadFile("../../examples/marrowfen.strake")
	require.NoError(b, err)
	sys := resolved(b, string(text))
	for b.Loop() {
		size.Size(sys)
	}
}
