// The look from outside is itself put to the proof: sheets drawn by hand, each
// with one fault that must be found, and one with everything in order.
package main

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Each hand-made sheet says in its description what is to be found; crossings
// and bends that it does not name are none.
var expectation = regexp.MustCompile(`(?s)expect ([^<]*)</desc>`)

func TestFaultsAreFound(t *testing.T) {
	paths, err := filepath.Glob(filepath.Join("testdata", "sheet", "*.svg"))
	require.NoError(t, err)
	proven := map[string]bool{}
	for _, path := range paths {
		t.Run(strings.TrimSuffix(filepath.Base(path), ".svg"), func(t *testing.T) {
			text, err := os.ReadFile(path)
			require.NoError(t, err)
			match := expectation.FindSubmatch(text)
			require.NotNil(t, match, "what is expected stands in <desc>")
			raw, err := readSheet(string(text))
			require.NoError(t, err)
			report := inspect(viewSheet(raw))
			found := map[string]int{}
			for _, f := range report.faults {
				found[f.class]++
			}
			for what, n := range map[string]int{"crossings": report.crossings, "bends": report.bends} {
				if n > 0 {
					found[what] = n
				}
			}
			expected := map[string]int{}
			for _, part := range strings.Split(string(match[1]), ";") {
				var what string
				var n int
				if strings.TrimSpace(part) == "nothing" {
					continue
				}
				_, err := fmt.Sscanf(strings.TrimSpace(part), "%s %d", &what, &n)
				require.NoError(t, err, part)
				expected[what] = n
				proven[what] = true
			}
			assert.Equal(t, expected, found, "%v", report.faults)
		})
	}
	for _, class := range faultClasses {
		assert.True(t, proven[class], "no sheet shows that %s is found", class)
	}
}

// What is no sheet by the contract is refused, not passed over.
func TestStrangeSheetsAreRefused(t *testing.T) {
	const head = `<svg xmlns="http://www.w3.org/2000/svg" width="10mm" height="10mm" viewBox="0 0 1000 1000">`
	for inside, says := range map[string]string{
		`<script>x</script>`:                                      "script",
		`<g onclick="x"/>`:                                        "references",
		`<image/>`:                                                "image",
		`<use href="a.svg"/>`:                                     "references",
		`<g transform="rotate(90)"/>`:                             "transform",
		`<path d="M0,0 C1,1 2,2 3,3"/>`:                           "arc",
		`<style>g .x{fill:none}</style>`:                          "selector",
		`<style>@font-face{src:url(http://x)}</style>`:            "font",
		`<text x="1" y="1" font-size="9">` + "\u8239" + `</text>`: "lacks",
		`<text x="1" y="1">no size</text>`:                        "font size",
		`<polyline points="1,2 3"/>`:                              "points",
	} {
		_, err := readSheet(head + inside + `</svg>`)
		assert.ErrorContains(t, err, says, inside)
	}
	for _, root := range []string{
		`<svg xmlns="http://www.w3.org/2000/svg" width="100px" height="100px" viewBox="0 0 100 100"/>`,
		`<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="50mm" viewBox="0 0 1000 1000"/>`,
		`<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="100mm" viewBox="0 0 100 100"/>`,
	} {
		_, err := readSheet(root)
		assert.ErrorContains(t, err, "viewBox", root)
	}
}

// A thing missing, double or strange is counted as such.
func TestCountingFindsWhatIsMissing(t *testing.T) {
	want := tally{"fuse F1": 1, "fuse F2": 1, "spare DB1.3": 1}
	assert.Empty(t, miscounted(want, tally{"fuse F1": 1, "fuse F2": 1, "spare DB1.3": 1}))
	assert.Equal(t, []string{
		"fuse F1 is drawn 2 times, not 1",
		"fuse F2 is drawn 0 times, not 1",
		"lamp X is drawn 1 times and is not in the craft",
		"spare DB1.3 is drawn 0 times, not 1",
	}, miscounted(want, tally{"fuse F1": 2, "lamp X": 1}))
}
