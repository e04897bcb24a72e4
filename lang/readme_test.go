package lang

import (
	"flag"
	"fmt"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strake/lang/diag"
	"strake/lang/resolve"
)

var update = flag.Bool("update", false, "write the generated parts of README.md anew")

// generated is the parts of the reference that come out of the tables.
var generated = map[string]func() string{
	"craft rows":    craftRows,
	"plain numbers": plainNumbers,
	"kinds":         kindSections,
}

func TestReferenceIsCurrent(t *testing.T) {
	b, err := os.ReadFile("README.md")
	require.NoError(t, err)
	text := string(b)
	for _, part := range []string{"craft rows", "plain numbers", "kinds"} {
		text = replacePart(t, text, part, generated[part]())
	}
	if *update {
		require.NoError(t, os.WriteFile("README.md", []byte(text), 0o644))
	}
	assert.Equal(t, text, string(b), "run go test ./lang -update")
}

func replacePart(t *testing.T, text, part, content string) string {
	begin := "<!-- " + part + ": generated -->\n"
	before, rest, ok := strings.Cut(text, begin)
	require.True(t, ok, begin)
	_, after, ok := strings.Cut(rest, "<!-- end -->")
	require.True(t, ok)
	return before + begin + content + "<!-- end -->" + after
}

func TestEveryExampleOfTheReferenceCompiles(t *testing.T) {
	b, err := os.ReadFile("README.md")
	require.NoError(t, err)
	text := string(b)
	blocks := strings.Split(text, "```strake\n")[1:]
	require.Greater(t, len(blocks), len(resolve.Kinds()))
	frame, inKinds := "", false
	seen := strings.Index(text, "## Every kind")
	at := 0
	for i, block := range blocks {
		at = strings.Index(text[at:], block) + at
		code, _, ok := strings.Cut(block, "```")
		require.True(t, ok)
		if at > seen && !inKinds {
			frame, inKinds = code, true
		} else if inKinds {
			code = frame + code
		}
		rules := map[string]bool{}
		for _, f := range Compile(nil, "example.strake", code).Findings {
			if f.Severity == diag.Error {
				rules[f.Rule] = true
			}
		}
		assert.Empty(t, rules, "%s", code)
		if i == 0 {
			assert.Empty(t, Compile(nil, "example.strake", code).Findings, "the craft to start with is sound and says all that is asked")
		}
	}
}

func craftRows() string {
	var b strings.Builder
	b.WriteString("| row | says |\n|---|---|\n")
	for _, row := range resolve.CraftRows() {
		fmt.Fprintf(&b, "| `%s` | %s |\n", row.Written, row.Help)
	}
	return b.String()
}

func plainNumbers() string {
	var b strings.Builder
	b.WriteString("| kind | plain numbers |\n|---|---|\n")
	for _, k := range resolve.Kinds() {
		var list []string
		for _, p := range k.Properties {
			if p.Plain() && !strings.Contains(p.Example(), " for ") {
				list = append(list, fmt.Sprintf("`%s` %s", p.Example(), p.Help))
			}
		}
		if len(list) > 0 {
			fmt.Fprintf(&b, "| `%s` | %s |\n", k.Name, strings.Join(list, "; "))
		}
	}
	return b.String()
}

func kindSections() string {
	var b strings.Builder
	group := ""
	for _, k := range resolve.Kinds() {
		if k.Group != group {
			group = k.Group
			fmt.Fprintf(&b, "### %s\n\n", group)
		}
		fmt.Fprintf(&b, "#### `%s`\n\n%s; letter %s. Ports: %s.\n\n```strake\n%s\n```\n\n", k.Name, k.Help, k.Letter, portList(k), k.Example)
		if len(k.Properties) == 0 {
			continue
		}
		b.WriteString("| property | means |\n|---|---|\n")
		for _, p := range k.Properties {
			fmt.Fprintf(&b, "| `%s` | %s |\n", strings.ReplaceAll(p.Written(), "|", "\\|"), p.Help)
		}
		b.WriteString("\n")
	}
	return b.String()
}

func portList(k *resolve.Kind) string {
	var list []string
	for _, p := range k.Ports {
		name := "`." + p.Name + "`"
		if p.Name == "" {
			name = "one, without a name"
		}
		list = append(list, name)
	}
	if k.Name == "changeover" {
		list = append([]string{"its positions, such as `.shore`"}, list...)
	}
	return strings.Join(list, ", ")
}
