package main

import (
	"encoding/json"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strake/lang/circuit"
)

// The demand of two craft as it is read, recorded.
func TestDemandText(t *testing.T) {
	for _, name := range []string{"bodkinet", "sedgehollow"} {
		var out, messages strings.Builder
		status := run([]string{"demand", filepath.Join("..", "..", "examples", name+".strake")}, strings.NewReader(""), &out, &messages)
		require.Equal(t, exitClean, status, messages.String())
		text, _, found := strings.Cut(out.String(), "\nChecked against") // the account of the checks is not this test's
		require.True(t, found)
		path := filepath.Join("testdata", "demand", name+".golden")
		if *update {
			require.NoError(t, os.MkdirAll(filepath.Dir(path), 0o755))
			require.NoError(t, os.WriteFile(path, []byte(text), 0o644))
		}
		want, err := os.ReadFile(path)
		require.NoError(t, err)
		assert.Equal(t, string(want), text)
	}
}

// The network as JSON keeps its contract: released keys, both configurations of
// every condition, every power cable but links, every end of every item by its
// name, null for what is dead or not known.
func TestDemandJSON(t *testing.T) {
	for name, text := range exampleTexts(t) {
		if testing.Short() && strings.Contains(name, "-mistakes") {
			continue
		}
		var out, messages strings.Builder
		status := run([]string{"demand", "-", "--format", "json"}, strings.NewReader(text), &out, &messages)
		require.NotEqual(t, exitUnusable, status, messages.String())
		var got struct {
			Conditions []struct {
				Name, Configuration, Kind string
				NoSolution                *string `json:"no_solution"`
				Nodes                     []struct {
					Node     string
					VoltageV *float64 `json:"voltage_v"`
				}
				Cables []struct {
					ID       string
					CurrentA *float64 `json:"current_a"`
					LossW    *float64 `json:"loss_w"`
				}
				Sources []struct {
					Ref      string
					CurrentA *float64 `json:"current_a"`
					PowerW   *float64 `json:"power_w"`
				}
			}
			Faults []struct {
				Node string
				MaxA *float64 `json:"max_a"`
				MinA *float64 `json:"min_a"`
			}
		}
		require.NoError(t, json.Unmarshal([]byte(out.String()), &got), name)
		sys := compile(name, text).System
		seen := map[string]int{}
		for _, c := range got.Conditions {
			require.Contains(t, []string{"as-handed-over", "fully-equipped"}, c.Configuration)
			seen[c.Name]++
			config := circuit.Configuration(c.Configuration)
			cables, nodes := map[string]bool{}, map[string]*float64{}
			for _, k := range c.Cables {
				cables[k.ID] = true
				if k.CurrentA != nil {
					require.NotNil(t, k.LossW, "%s %s", name, k.ID)
					assert.GreaterOrEqual(t, *k.LossW, 0.0)
				}
			}
			for _, n := range c.Nodes {
				assert.NotContains(t, nodes, n.Node, "one voltage a node: %s", name)
				nodes[n.Node] = n.VoltageV
			}
			for _, k := range sys.Cables {
				assert.Equal(t, !k.Link, cables[k.ID], "%s: %s", name, k.ID)
			}
			for _, it := range sys.Items {
				for _, p := range it.Ports {
					node := circuit.Terminal{Item: it, Port: p.Name}.String()
					_, there := nodes[node]
					assert.Equal(t, it.Status.In(config), there, "%s, %s: %s", name, c.Configuration, node)
				}
			}
			for _, s := range c.Sources {
				if s.CurrentA != nil && *s.CurrentA != 0 {
					require.NotNil(t, s.PowerW, "%s %s", name, s.Ref)
				}
			}
			if c.NoSolution != nil {
				for node, v := range nodes {
					assert.Nil(t, v, node)
				}
			}
		}
		for _, c := range sys.Conditions {
			assert.Equal(t, 2, seen[c.Name], "%s: %s", name, c.Name)
		}
		require.NotEmpty(t, got.Faults, name)
		for _, f := range got.Faults {
			if f.MaxA != nil && f.MinA != nil {
				assert.LessOrEqual(t, *f.MinA, *f.MaxA*(1+1e-6), "%s: %s", name, f.Node)
			}
		}
	}
}

// The order of statements changes nothing of the demand but the order of conditions
// and days, which is the text's own.
func TestDemandAnyOrder(t *testing.T) {
	told := func(text string) string {
		var out, messages strings.Builder
		status := run([]string{"demand", "-", "--format", "json"}, strings.NewReader(text), &out, &messages)
		require.NotEqual(t, exitUnusable, status, messages.String())
		return out.String()
	}
	for seed := range uint64(8) {
		text := randomCraft(seed, 20+int(seed)*5) + "condition \"Some\": M1 60 %, DB1 on, batteries full\ncondition \"Board\": DB1 40 W, M1 gives 500 W\nday \"June\": sun 5 h, yield 75 %, \"Some\" 2 h\n"
		statements := statementsOf(text)
		r := rand.New(rand.NewPCG(seed, 9))
		for range 2 {
			shuffled := slices.Clone(statements)
			r.Shuffle(len(shuffled), func(i, j int) {
				if !orderly(shuffled[i]) && !orderly(shuffled[j]) {
					shuffled[i], shuffled[j] = shuffled[j], shuffled[i]
				}
			})
			assert.Equal(t, told(text), told(strings.Join(shuffled, "")), "random craft of seed %d", seed)
		}
	}
}

// orderly tells a statement that keeps its place.
func orderly(statement string) bool {
	return strings.HasPrefix(statement, "condition") || strings.HasPrefix(statement, "day")
}

// statementsOf is a text cut into its statements: a row that is indented or closes a
// brace belongs to the one before it.
func statementsOf(text string) []string {
	var list []string
	for _, row := range strings.SplitAfter(text, "\n") {
		if len(list) > 0 && (row == "" || strings.ContainsAny(row[:1], " \t}\n")) {
			list[len(list)-1] += row
		} else {
			list = append(list, row)
		}
	}
	return list
}
