package lang

import (
	"os"
	"path/filepath"
	"testing"

	"strake/lang/diag"
)

// FuzzCompile: whatever the bytes, compiling ends, and every finding lies in
// the text and can be printed.
func FuzzCompile(f *testing.F) {
	examples, err := filepath.Glob(filepath.Join("..", "examples", "*.strake"))
	if err != nil {
		f.Fatal(err)
	}
	examples = append(examples, filepath.Join("resolve", "testdata", "pintlewick.strake"))
	for _, name := range examples {
		b, err := os.ReadFile(name)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(string(b))
	}
	for _, i := range Findings() {
		f.Add(i.Bad)
		f.Add(i.Good)
	}
	f.Fuzz(func(t *testing.T, text string) {
		if len(text) > 8000 {
			return
		}
		result := Compile(nil, "craft.strake", text)
		for _, x := range result.Findings {
			if x.Span.Start > x.Span.End || x.Span.End > len(text) {
				t.Fatalf("%s: span %d..%d of %d bytes", x.Rule, x.Span.Start, x.Span.End, len(text))
			}
		}
		if diag.Text(result.Findings, result.Summary, diag.Options{Width: 80}) == "" {
			t.Fatal("nothing is printed, not even the last line")
		}
	})
}
