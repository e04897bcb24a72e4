// The whole program as functions: text in, sheets and schedule out. What every
// example and every generated craft must hold.
package main

import (
	"bytes"
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"slices"
	"sort"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strake/lang"
	"strake/lang/diag"
	"strake/lang/source"
	"strake/lang/syntax"
	"strake/layout"
	"strake/render/paper"
	"strake/render/schematic"
	"strake/render/svg"
)

// exampleTexts are all craft in examples/, by file name; under -short, which is
// for the race detector, one of each sort: small, with mistakes, on one sheet and
// divided.
func exampleTexts(t testing.TB) map[string]string {
	t.Helper()
	paths, err := filepath.Glob(filepath.Join("..", "..", "examples", "*.strake"))
	require.NoError(t, err)
	require.NotEmpty(t, paths)
	texts := map[string]string{}
	for _, path := range paths {
		if testing.Short() && !slices.Contains([]string{"first", "bodkinet", "sedgehollow-mistakes", "quillbarrow"}, strings.TrimSuffix(filepath.Base(path), ".strake")) {
			continue
		}
		text, err := os.ReadFile(path)
		require.NoError(t, err)
		texts[filepath.Base(path)] = string(text)
	}
	return texts
}

func sortedNames(texts map[string]string) []string {
	var names []string
	for name := range texts {
		names = append(names, name)
	}
	sort.Strings(names)
	return names
}

func compile(name, text string) lang.Result { return lang.Compile(loader, name, text) }

// pages draws a compiled craft.
func pages(t testing.TB, r lang.Result, effort layout.Effort) []string {
	t.Helper()
	var out []string
	for _, sheet := range schematic.Draw(r.System, r.Plan, r.Findings, r.Summary, schematic.Options{Effort: effort}) {
		var b bytes.Buffer
		require.NoError(t, svg.Write(&b, sheet))
		out = append(out, b.String())
	}
	return out
}

// told is a finding without its place, for texts whose lines have moved.
func told(findings []diag.Finding) []string {
	var out []string
	for _, f := range findings {
		out = append(out, fmt.Sprintf("%s %s %s %v %s %s", f.Severity, f.Rule, f.Message, f.Items, f.Configuration, f.Cure))
	}
	sort.Strings(out)
	return out
}

func atOrAboveFault(findings []diag.Finding) []string {
	var out []string
	for _, f := range findings {
		if f.Severity <= diag.Fault && f.Accepted == "" {
			out = append(out, fmt.Sprintf("line %d: %s %s: %s", f.Span.From().Line, f.Severity, f.Rule, f.Message))
		}
	}
	return out
}

func TestCleanExamplesAreClean(t *testing.T) {
	texts := exampleTexts(t)
	for _, name := range sortedNames(texts) {
		if strings.Contains(name, "-mistakes") {
			continue
		}
		assert.Empty(t, atOrAboveFault(compile(name, texts[name]).Findings), name)
	}
}

func TestSameBytesOnAnyNumberOfProcessors(t *testing.T) {
	texts := exampleTexts(t)
	for _, name := range sortedNames(texts) {
		efforts := []layout.Effort{layout.Quick}
		if name == "bodkinet.strake" || name == "sedgehollow.strake" { // on one sheet and divided
			efforts = append(efforts, layout.Good)
		}
		for _, effort := range efforts {
			before := runtime.GOMAXPROCS(4)
			first := pages(t, compile(name, texts[name]), effort)
			runtime.GOMAXPROCS(1)
			second := pages(t, compile(name, texts[name]), effort)
			runtime.GOMAXPROCS(before)
			assert.True(t, slices.Equal(first, second), "%s, effort %d", name, effort)
		}
	}
}

// statements cuts a text into its statements, each with the comments after it.
func statements(t *testing.T, name, text string) []string {
	tree, findings := syntax.Parse(source.NewFile(name, text))
	require.Empty(t, findings, name)
	var out []string
	end := len(text)
	for i := len(tree.Statements) - 1; i >= 0; i-- {
		start := tree.Statements[i].At().Start
		out = append(out, strings.TrimSpace(text[start:end]))
		end = start
	}
	return out
}

func TestStatementsMayStandInAnyOrder(t *testing.T) {
	texts := exampleTexts(t)
	for _, name := range sortedNames(texts) {
		list := statements(t, name, texts[name])
		want := compile(name, texts[name])
		require.False(t, hasError(want.Findings), "%s: %v", name, told(want.Findings))
		for seed := uint64(1); seed <= shuffles(); seed++ {
			rand.New(rand.NewPCG(seed, 1)).Shuffle(len(list), func(i, j int) { list[i], list[j] = list[j], list[i] })
			got := compile(name, strings.Join(list, "\n")+"\n")
			require.Equal(t, told(want.Findings), told(got.Findings), name)
			require.Equal(t, pages(t, want, layout.Quick), pages(t, got, layout.Quick), "%s: the drawing", name)
			require.Equal(t, withoutLines(t, want), withoutLines(t, got), "%s: the schedule", name)
		}
	}
}

// shuffles is how often a text is shuffled.
func shuffles() uint64 {
	if testing.Short() {
		return 1
	}
	return 2
}

func withoutLines(t *testing.T, r lang.Result) string {
	s := paper.NewSchedule(r.System, r.Plan)
	for i := range s.Cables {
		s.Cables[i].Line = 0
	}
	out, err := s.JSON()
	require.NoError(t, err)
	return string(out)
}

func TestTidyExamples(t *testing.T) {
	texts := exampleTexts(t)
	for _, name := range sortedNames(texts) {
		text := texts[name]
		tidy, findings := syntax.Tidy(source.NewFile(name, text))
		require.Empty(t, findings, name)
		assert.Equal(t, text, tidy, "%s is kept tidy", name)
		again, _ := syntax.Tidy(source.NewFile(name, tidy))
		assert.Equal(t, tidy, again, "%s: tidy twice is tidy once", name)
		assert.Equal(t, told(compile(name, text).Findings), told(compile(name, tidy).Findings), name)
		squeezed, _ := syntax.Tidy(source.NewFile(name, squeeze(text)))
		assert.Equal(t, tidy, squeezed, "%s: squeezed blanks tidy back", name)
	}
}

// squeeze folds runs of blanks outside quotes to one and drops them at the start of a line.
func squeeze(text string) string {
	var out []string
	for _, line := range strings.Split(text, "\n") {
		var b strings.Builder
		quoted := false
		for i, r := range line {
			if r == '"' {
				quoted = !quoted
			}
			if r == '#' && !quoted {
				b.WriteString(line[i:]) // a comment's own blanks are its text
				break
			}
			if r == ' ' && !quoted && (b.Len() == 0 || strings.HasSuffix(b.String(), " ")) {
				continue
			}
			b.WriteRune(r)
		}
		out = append(out, b.String())
	}
	return strings.Join(out, "\n")
}

func TestGeneratedCraftCompile(t *testing.T) {
	for seed := uint64(1); seed <= 20; seed++ {
		text := randomCraft(seed, 25+int(seed*11%56))
		require.Equal(t, text, randomCraft(seed, 25+int(seed*11%56)))
		for _, f := range compile("generated.strake", text).Findings {
			assert.NotEqual(t, diag.Error, f.Severity, "seed %d: %s: %s", seed, f.Span.Text(), f.Message)
		}
	}
}

// BenchmarkLargestExample draws the largest craft quickly: as a whole process,
// which is what a person waits for, and without the start of one.
func BenchmarkLargestExample(b *testing.B) {
	texts := exampleTexts(b)
	largest := ""
	for _, name := range sortedNames(texts) {
		if len(texts[name]) > len(texts[largest]) {
			largest = name
		}
	}
	b.Run("process", func(b *testing.B) {
		program := filepath.Join(b.TempDir(), "strake")
		out, err := exec.Command("go", "build", "-o", program, ".").CombinedOutput()
		require.NoError(b, err, "%s", out)
		text, drawing := filepath.Join("..", "..", "examples", largest), filepath.Join(b.TempDir(), "drawing.svg")
		for b.Loop() {
			err := exec.Command(program, "draw", "--quick", "-o", drawing, text).Run()
			var left *exec.ExitError
			if err != nil && (!errors.As(err, &left) || left.ExitCode() != exitFindings) { // an example may have mistakes
				b.Fatal(err)
			}
		}
	})
	b.Run("inside", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			pages(b, compile(largest, texts[largest]), layout.Quick)
		}
	})
}
