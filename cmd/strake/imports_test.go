// Who may import whom: the plan of the house as a test.
package main

import (
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// mayImport lists, for each package, the packages of this module that its code
// (not its tests) may import, and the outside packages that it alone may use.
var mayImport = map[string][]string{
	"lang/source":      {},
	"lang/diag":        {"lang/source"},
	"lang/quantity":    {"lang/source"},
	"lang/syntax":      {"lang/source", "lang/diag", "github.com/alecthomas/participle/v2"},
	"lang/circuit":     {"lang/source", "lang/quantity"},
	"lang/resolve":     {"lang/source", "lang/syntax", "lang/circuit", "lang/quantity", "lang/diag", "lang/table"},
	"lang/table":       {"lang/quantity"},
	"lang/solve":       {"lang/circuit", "lang/quantity"},
	"lang/state":       {"lang/circuit", "lang/quantity"},
	"lang/size":        {"lang/solve", "lang/table", "lang/circuit", "lang/quantity", "lang/source"},
	"lang/demand":      {"lang/circuit", "lang/quantity", "lang/size", "lang/solve", "lang/table"},
	"lang/rule":        {"lang/source", "lang/diag", "lang/quantity", "lang/circuit", "lang/table", "lang/solve", "lang/size", "lang/state"},
	"lang":             {"lang/"},
	"layout":           {"layout/"},
	"layout/geom":      {},
	"render/scene":     {"layout/geom"},
	"render/symbol":    {"render/scene", "layout/geom"},
	"render/schematic": {"lang/source", "lang/diag", "lang/quantity", "lang/circuit", "lang/size", "lang/state", "lang/rule", "layout", "layout/geom", "render/symbol", "render/scene"},
	"render/paper":     {"lang/source", "lang/diag", "lang/quantity", "lang/circuit", "lang/size", "lang/demand", "lang/state", "lang/rule", "layout", "layout/geom", "render/symbol", "render/scene"},
	"render/svg":       {"render/scene", "layout/geom", "github.com/ajstarks/svgo"},
	"render/pdf":       {"render/scene", "layout/geom", "codeberg.org/go-pdf/fpdf"},
	"cmd/strake":       {"lang", "lang/", "layout", "layout/", "render/"},
}

// guarded are imports that only the packages above that name them may have.
var guarded = []string{"github.com/alecthomas/participle/v2", "github.com/ajstarks/svgo", "codeberg.org/go-pdf/fpdf", "os", "time"}

// guardedFor are the exceptions: only cmd touches files and the clock; circuit
// and resolve use the type of a duration, pdf that of a date that it keeps fixed.
var guardedFor = map[string][]string{
	"cmd/strake":   {"os", "time"},
	"lang/circuit": {"time"},
	"lang/resolve": {"time"},
	"render/pdf":   {"time"},
}

func TestImports(t *testing.T) {
	root := filepath.Join("..", "..")
	seen := 0
	err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
			return err
		}
		rel, _ := filepath.Rel(root, filepath.Dir(path))
		pkg := filepath.ToSlash(rel)
		allowed, known := mayImport[pkg]
		if !assert.True(t, known, "%s: package %s is not in the plan of the house", path, pkg) {
			return nil
		}
		file, err := parser.ParseFile(token.NewFileSet(), path, nil, parser.ImportsOnly)
		require.NoError(t, err)
		for _, spec := range file.Imports {
			name, _ := strconv.Unquote(spec.Path.Value)
			seen++
			assert.True(t, permitted(pkg, name, allowed), "%s may not import %s", path, name)
		}
		return nil
	})
	require.NoError(t, err)
	require.Greater(t, seen, 50, "the walk found the sources")
}

func permitted(pkg, name string, allowed []string) bool {
	inside, isOurs := strings.CutPrefix(name, "strake/")
	if !isOurs {
		for _, g := range guarded {
			if name == g || strings.HasPrefix(name, g+"/") {
				return matches(name, allowed) || matches(name, guardedFor[pkg])
			}
		}
		return true
	}
	return matches(inside, allowed)
}

func matches(name string, list []string) bool {
	for _, a := range list {
		if name == a || strings.HasPrefix(name, strings.TrimSuffix(a, "/")+"/") && (strings.HasSuffix(a, "/") || strings.Contains(a, ".")) {
			return true
		}
	}
	return false
}
