package resolve

import (
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strake/lang/circuit"
	"strake/lang/diag"
	"strake/lang/source"
	"strake/lang/syntax"
)

// told prints a system without its spans: everything that is stated, with
// items, cables, domains and places by their names.
func told(sys *circuit.System) string {
	var b strings.Builder
	tell(&b, reflect.ValueOf(*sys), 0)
	return b.String()
}

func tell(b *strings.Builder, v reflect.Value, depth int) {
	switch x := v.Interface().(type) {
	case source.Span:
		return
	case *circuit.Item, *circuit.Cable, *circuit.Domain, *circuit.Place, *circuit.Way:
		if v.IsNil() {
			b.WriteString("none")
			return
		}
		if depth > 2 {
			b.WriteString(nameOf(x))
			return
		}
	}
	switch v.Kind() {
	case reflect.Pointer:
		if !v.IsNil() {
			tell(b, v.Elem(), depth)
		}
	case reflect.Struct:
		b.WriteString("{")
		for i := range v.NumField() {
			if v.Field(i).IsZero() {
				continue
			}
			b.WriteString(" " + v.Type().Field(i).Name + "=")
			tell(b, v.Field(i), depth+1)
		}
		b.WriteString("}")
	case reflect.Slice:
		for i := range v.Len() {
			if depth < 2 {
				b.WriteString("\n" + strings.Repeat("  ", depth))
			} else {
				b.WriteString(", ")
			}
			tell(b, v.Index(i), depth+1)
		}
	default:
		fmt.Fprint(b, v.Interface())
	}
}

func nameOf(x any) string {
	switch x := x.(type) {
	case *circuit.Item:
		return x.Ref
	case *circuit.Cable:
		return x.ID
	case *circuit.Domain:
		return x.Name
	case *circuit.Place:
		return x.Name
	case *circuit.Way:
		return fmt.Sprintf("%s.%d", x.Board.Ref, x.Number)
	}
	return "?"
}

func readCraft(t testing.TB) string {
	b, err := os.ReadFile(filepath.Join("testdata", "pintlewick.strake"))
	require.NoError(t, err)
	return string(b)
}

func TestOrderOfStatementsDoesNotMatter(t *testing.T) {
	text := readCraft(t)
	want := told(clean(t, text))
	require.Contains(t, want, "Ref=DB1.3")
	for seed := range uint64(20) {
		tree, _ := syntax.Parse(source.NewFile("craft.strake", text))
		random := rand.New(rand.NewPCG(seed, 7))
		list := tree.Statements
		random.Shuffle(len(list), func(i, j int) { list[i], list[j] = list[j], list[i] })
		for _, s := range list {
			if item, ok := s.(*syntax.Item); ok {
				random.Shuffle(len(item.Rows), func(i, j int) { item.Rows[i], item.Rows[j] = item.Rows[j], item.Rows[i] })
			}
		}
		sys, findings := Resolve([]*syntax.File{tree})
		require.Empty(t, findings)
		require.Equal(t, want, told(sys))
	}
}

// TestEveryWordMayBeWrong misspells, deletes and re-units each word of a craft: whatever
// comes out is a finding or another craft, never a panic or an endless loop.
func TestEveryWordMayBeWrong(t *testing.T) {
	text := readCraft(t)
	words := 0
	for at := 0; at < len(text); {
		end := at + 1
		for end < len(text) && !strings.ContainsAny(text[end:end+1], " \n,[]:{}") {
			end++
		}
		words++
		for i, other := range []string{"", text[at:end] + "qx", "50 Hz", "Q1", "M1..M9", "[", "{"} {
			if (words+i)%23 != 0 {
				continue // a sample; the whole program's tests take every word
			}
			sys, findings := resolveText(text[:at] + other + text[end:])
			require.NotNil(t, sys)
			for _, f := range findings {
				require.NotEmpty(t, f.Message)
				require.NotEmpty(t, f.Cure, "%s: %s", f.Rule, f.Message)
			}
		}
		at = end
	}
}

func BenchmarkResolve(b *testing.B) {
	tree, _ := syntax.Parse(source.NewFile("craft.strake", readCraft(b)))
	for b.Loop() {
		Resolve([]*syntax.File{tree})
	}
}

func FuzzResolve(f *testing.F) {
	f.Add(readCraft(f))
	for _, info := range Findings {
		f.Add(info.Bad)
		f.Add(info.Good)
	}
	f.Fuzz(func(t *testing.T, text string) {
		if len(text) > 4000 {
			return
		}
		sys, findings := resolveText(text)
		_ = told(sys)
		net := circuit.NewNet(sys)
		for _, c := range sys.Cables {
			net.Sides(c, circuit.View{Through: true})
		}
		for _, x := range findings {
			if x.Span.Start > x.Span.End || x.Span.End > len(text) {
				t.Fatalf("%s: span %d..%d of %d bytes", x.Rule, x.Span.Start, x.Span.End, len(text))
			}
		}
		diag.Sort(findings)
	})
}

func TestEveryKindHasANatureAndAnExample(t *testing.T) {
	seen := map[string]bool{}
	for _, k := range Kinds() {
		assert.False(t, seen[k.Name], k.Name)
		seen[k.Name] = true
		n := k.Nature()
		ports := map[string]bool{}
		for _, p := range k.Ports {
			ports[p.Name] = true
		}
		switch n.Ends {
		case circuit.OneEnd:
			assert.True(t, ports[""], k.Name)
		case circuit.TwoEnds:
			assert.True(t, ports["in"] && ports["out"], k.Name)
		}
		assert.True(t, strings.Contains(k.Example, k.Name+" "), "%s: %s", k.Name, k.Example)
		assert.Len(t, k.Letter, 1)
		assert.Contains(t, known, k.Name, "a kind of the language")
	}
	assert.Len(t, seen, len(known))
}

var known = strings.Fields(`battery bank bus stud isolator changeover contactor switch float-switch fuse breaker rcd rcbo
	shunt board converter inverter charger inverter-charger regulator array alternator generator source inlet transformer
	galvanic-isolator controller motor thruster starter pump load socket lamp meter panel bms earth stop insulation-monitor relay`)

// Every property of every kind is read as it is written in the reference, and
// states something.
func TestEveryPropertyIsReadAsWritten(t *testing.T) {
	for _, k := range Kinds() {
		for _, p := range k.Properties {
			line := fmt.Sprintf("%s A1: %s\n", k.Name, p.Example())
			if k.Name == "bank" {
				line = "battery B1..B2: 12 V\n" + fmt.Sprintf("bank A1: %s is B1..B2 in series [link]\n", p.Example())
			}
			if p.Name == "usually" {
				line = "changeover A1: usually shore\nload L1: 5 W\nrun L1 [] A1.shore\n"
			}
			sys, findings := resolveText(line)
			require.Empty(t, findings, line)
			assert.NotEqual(t, circuit.Facts{}, sys.Item("A1").Facts, line)
		}
	}
}
