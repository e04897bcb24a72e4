package lang_test

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strake/lang"
	"strake/lang/diag"
)

// twoSystems is two batteries that share nothing, of which one has a link too thin
// for the two fuses behind it, and a monitor on a lead of its own in the other.
const twoSystems = `craft "Mini" { cable class 5, tinned, 105 degC }
domain drive: dc 96 V, 84 V to 109.5 V
domain house: dc 24 V, 21 V to 29.2 V
place locker "Locker": 35 degC
battery BP1..BP2 in drive at locker: lfp, 96 V, 120 Ah, discharge 150 A, charge 60 A, resistance 15 mohm
run BP1..BP2 [0.2 m 70 mm2] fuse FP1..FP2: 175 A, class t, 125 V, breaks 20 kA [0.4 m 70 mm2] isolator QP1..QP2: 250 A, 2 pole, 125 V, load-break [0.4 m 70 mm2] bus DB in drive at locker: 400 A
run DB [0.15 m 1 mm2] fuse F9: 5 A, class t, 125 V, breaks 20 kA [0.5 m 1 mm2] insulation-monitor IM1 in drive at locker
run DB [link] fuse F3: 30 A, class t, 125 V, breaks 20 kA [1 m 6 mm2] converter CV1 at locker: 24 V, 40 A, input 20 A, isolated, one way [0.3 m 25 mm2] fuse F4: 80 A, class t, 125 V, breaks 20 kA [0.5 m 70 mm2] bus HB in house at locker: 300 A
battery B1..B2: agm, 12 V, 110 Ah, resistance 5 mohm, charge 80 A
bank HBK in house at locker is B1..B2 in series [0.3 m 25 mm2]
run HBK [0.2 m 50 mm2] fuse F5: 125 A, class t, 125 V, breaks 20 kA [0.3 m 50 mm2] isolator Q5: 150 A, 2 pole, 32 V, load-break [2 m 50 mm2] HB
run HB [0.2 m 1 mm2] fuse F10: 3 A, class t, 125 V, breaks 20 kA [0.3 m 1 mm2] insulation-monitor IM2 in house at locker
run HBK [0.15 m 4 mm2] fuse F20: 15 A, class t, 125 V, breaks 20 kA [5 m 4 mm2] pump P1 in house at locker: 96 W, bilge, must be live
run HB [link] fuse F6: 63 A, class t, 125 V, breaks 20 kA [1 m 16 mm2] load L1 in house at locker: 40 A
`

var oneSize = regexp.MustCompile(`\[[^\]\n]*?( (\d+ parallel )?[\d.]+ mm2)`)

// What is said of a stated cable is said also when another leaves its size to the
// compiler, and all that a text is blamed for it is blamed for when one of its
// sizes is left out, but what that size was the cause of.
func TestAnOpenCableHidesNothing(t *testing.T) {
	texts := map[string]string{"two systems": twoSystems}
	for _, name := range examples(t, "-mistakes") {
		texts[name] = read(t, name)
	}
	byCable := []string{"ampacity-exceeded", "cable-unprotected", "device-above-cable", "fuse-beyond-reach", "protected-at-one-end-only", "section-too-small"}
	held := 0
	for name, text := range texts {
		before := lang.Compile(nil, name, text)
		for k, at := range oneSize.FindAllStringSubmatchIndex(text, -1) {
			if k%3 > 0 && name != "two systems" {
				continue // a third of them is enough of large craft
			}
			bare := text[:at[2]] + text[at[3]:]
			after := lang.Compile(nil, name, bare)
			stated := map[string]bool{}
			for _, c := range after.Plan.Cables {
				stated[c.Of.ID] = c.Stated
			}
			for _, f := range before.Findings {
				if f.Severity > diag.Fault || !slices.Contains(byCable, f.Rule) || !stated[f.Items[0]] {
					continue
				}
				held++
				assert.True(t, slices.ContainsFunc(after.Findings, func(g diag.Finding) bool {
					return g.Rule == f.Rule && slices.Contains(g.Items, f.Items[0])
				}), "%s without%s at %d: %s is silent: %s", name, text[at[2]:at[3]], at[2], f.Rule, f.Message)
			}
		}
	}
	assert.Greater(t, held, 30)
	assert.True(t, found(t, twoSystems, "device-above-cable", diag.Danger))
}

// What is settled is blamed for nothing that was not said before: also of a craft
// that has mistakes.
func TestSettlingAddsNoBlame(t *testing.T) {
	texts := map[string]string{"two systems": twoSystems}
	for _, name := range examples(t, "") {
		texts[name] = read(t, name)
	}
	said := func(r lang.Result) map[string]bool {
		all := map[string]bool{}
		for _, f := range r.Findings {
			for _, it := range f.Items {
				all[f.Rule+" "+it] = true
			}
		}
		return all
	}
	for name, text := range texts {
		for _, bare := range []string{sizes.ReplaceAllString(text, "$1"), unrated(text), unrated(sizes.ReplaceAllString(text, "$1"))} {
			r := lang.Compile(nil, name, bare)
			before := said(r)
			after := lang.Compile(nil, name, lang.Apply(bare, lang.Settle(r, nil, nil)))
			for _, f := range after.Findings {
				known := slices.ContainsFunc(f.Items, func(it string) bool { return before[f.Rule+" "+it] })
				assert.True(t, f.Severity > diag.Fault || known, "%s, settled: %s: %s", name, f.Rule, f.Message)
			}
		}
	}
}

// examples are the example craft whose names end so; with nothing all of them.
func examples(t *testing.T, end string) []string {
	t.Helper()
	names, err := filepath.Glob(filepath.Join("..", "examples", fmt.Sprintf("*%s.strake", end)))
	require.NoError(t, err)
	require.NotEmpty(t, names)
	return names
}

func read(t *testing.T, name string) string {
	t.Helper()
	text, err := os.ReadFile(name)
	require.NoError(t, err)
	return strings.ReplaceAll(string(text), "\r\n", "\n")
}
