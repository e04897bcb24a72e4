package syntax

import (
	"math/rand/v2"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/txtar"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strake/lang/diag"
	"strake/lang/source"
)

// corpusTexts are all texts of the corpus files.
func corpusTexts(t testing.TB) []string {
	paths, err := filepath.Glob("testdata/*.txtar")
	require.NoError(t, err)
	var out []string
	for _, path := range paths {
		archive, err := txtar.ParseFile(path)
		require.NoError(t, err)
		for _, f := range archive.Files {
			if strings.HasSuffix(f.Name, ".strake") {
				out = append(out, string(f.Data))
			}
		}
	}
	return out
}

func FuzzParse(f *testing.F) {
	for _, text := range corpusTexts(f) {
		f.Add(text)
	}
	for _, text := range []string{"", "\xff\xfe", "\ufeffcraft \"x\"\r\n", "[", "]", "{", "}", "[]]", "run [", "\"", "a..b..c.d.e", "way", "ways 1 is", "unknown unknown", "accept by by", "5 , 5", "a[", "0 [", "- 5", "x- 5", "0A A A", "A \"x\" B: 1 V", "A\"\" A"} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		assertSound(t, text)
	})
}

// assertSound holds what is true of any text whatever.
func assertSound(t *testing.T, text string) {
	file := source.NewFile("fuzz.strake", text)
	var b strings.Builder
	for _, token := range lex("fuzz.strake", text) {
		b.WriteString(token.Value)
	}
	require.Equal(t, text, b.String(), "the tokens are the text")

	tree, findings := Parse(file)
	assertSpans(t, tree)
	for _, f := range findings {
		require.Equal(t, diag.Error, f.Severity)
		require.NotEmpty(t, f.Message)
		require.NotEmpty(t, f.Cure)
		require.False(t, f.Span.IsZero(), "%s %s", f.Rule, f.Message)
		require.LessOrEqual(t, f.Span.Start, f.Span.End)
		require.LessOrEqual(t, f.Span.End, len(text))
		require.GreaterOrEqual(t, f.Span.Start, 0)
	}
	diag.Text(findings, diag.Summary{}, diag.Options{Width: 40})

	tidy, said := Tidy(file)
	require.Equal(t, findings, said)
	require.Equal(t, bare(text), bare(tidy), "only blanks change")
	again, _ := Tidy(source.NewFile("fuzz.strake", tidy))
	require.Equal(t, tidy, again, "tidy twice is tidy once")
	_, after := Parse(source.NewFile("fuzz.strake", tidy))
	require.ElementsMatch(t, rulesOf(findings), rulesOf(after), "tidy changes no finding")
}

// Texts that were cut, overwritten and shuffled here and there.
func TestMangledTexts(t *testing.T) {
	texts := corpusTexts(t)
	random := rand.New(rand.NewPCG(1, 2))
	for range 100 {
		text := []byte(texts[random.IntN(len(texts))])
		for range 1 + random.IntN(4) {
			if len(text) == 0 {
				break
			}
			i := random.IntN(len(text))
			switch random.IntN(3) {
			case 0:
				text = slices.Delete(text, i, min(len(text), i+1+random.IntN(10)))
			case 1:
				text[i] = byte(random.IntN(256))
			case 2:
				other := texts[random.IntN(len(texts))]
				from := random.IntN(len(other))
				text = slices.Insert(text, i, []byte(other[from:min(len(other), from+random.IntN(30))])...)
			}
		}
		assertSound(t, string(text))
	}
}

func rulesOf(findings []diag.Finding) []string {
	var out []string
	for _, f := range findings {
		out = append(out, f.Rule)
	}
	return out
}

var blanks = regexp.MustCompile(`[ \t\r\f\v\n\x{A0}\x{FEFF}\x{2000}-\x{200B}\x{202F}\x{205F}\x{3000}]+`)

func bare(text string) string { return blanks.ReplaceAllString(text, "") }

// A text whose blanks are squeezed comes out as the text with all its blanks.
func TestSqueezedTextsTidyBack(t *testing.T) {
	quoted := regexp.MustCompile(`"[^"\n]*"|#[^\n]*|[ \t]+`)
	for _, text := range corpusTexts(t) {
		tidy, findings := Tidy(source.NewFile("t", text))
		if len(findings) > 0 {
			continue
		}
		squeezed := quoted.ReplaceAllStringFunc(tidy, func(s string) string {
			if s[0] == '"' || s[0] == '#' {
				return s
			}
			return " "
		})
		back, _ := Tidy(source.NewFile("t", squeezed))
		assert.Equal(t, tidy, back)
	}
}

func BenchmarkParse(b *testing.B) {
	text := strings.Join(soundTexts(b), "\n")
	file := source.NewFile("bench.strake", text)
	b.SetBytes(int64(len(text)))
	b.ReportAllocs()
	for b.Loop() {
		Parse(file)
	}
}

func soundTexts(t testing.TB) []string {
	var out []string
	for _, text := range corpusTexts(t) {
		if _, findings := Parse(source.NewFile("t", text)); len(findings) == 0 {
			out = append(out, text)
		}
	}
	require.NotEmpty(t, out)
	return out
}
