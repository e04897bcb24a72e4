package symbol_test

import (
	"fmt"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strake/lang/resolve"
	"strake/render/symbol"
)

// Every kind of the language but the two that are drawn as bars has a symbol,
// with a place for each of its ports.
func TestEveryKindHasASymbol(t *testing.T) {
	kinds := resolve.Kinds()
	require.Greater(t, len(kinds), 30)
	for _, k := range kinds {
		s, ok := symbol.For(k.Name, symbol.Variant{})
		assert.Equal(t, k.Name != "bus" && k.Name != "board", ok, k.Name)
		if !ok {
			continue
		}
		for _, pose := range []symbol.Pose{symbol.Upright, symbol.Turned, symbol.Level} {
			for _, port := range k.Ports {
				_, ok := s.Form(pose).Port(port.Name)
				assert.True(t, ok, "%s.%s in pose %d", k.Name, port.Name, pose)
			}
		}
	}
	_, ok := symbol.For("gizmo", symbol.Variant{})
	assert.False(t, ok)
}

// The page about the symbols has a row for each, with the letter of its kind.
func TestPageIsCurrent(t *testing.T) {
	page, err := os.ReadFile("README.md")
	require.NoError(t, err)
	letters := map[string]string{}
	for _, k := range resolve.Kinds() {
		letters[k.Name] = k.Letter
	}
	for _, name := range symbol.Names() {
		letter := letters[name]
		if letter == "" {
			letter = "–"
		}
		assert.Contains(t, string(page), fmt.Sprintf("| %s | %s |", name, letter))
	}
	assert.Equal(t, len(symbol.Names()), strings.Count(string(page), "\n| ")-1, "no row too many")
}
