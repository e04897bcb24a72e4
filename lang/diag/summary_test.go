package diag

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"strake/lang/source"
)

func TestLastLine(t *testing.T) {
	s := Summary{RuleSet: "iso-13297", Rules: 31, Passed: 212, Failed: 3, Danger: 1, Accepted: 1, NotVerified: 9, Proposed: 4}
	assert.Equal(t, "Checked against iso-13297: 212 passed, 3 failed (1 danger), 1 accepted, 9 not verified; 4 sizes proposed", s.Line())
	s.Proposed = 1
	assert.Contains(t, s.Line(), "; 1 size proposed")
	assert.Equal(t, s.Line(), LastLine([]Finding{{Severity: Danger}}, s))
	assert.Equal(t, "Not checked against iso-13297: 1 error in the text; nothing is drawn", LastLine([]Finding{{Severity: Error}}, s))
}

func TestExitStatus(t *testing.T) {
	for _, c := range []struct {
		what     string
		findings []Finding
		strict   bool
		want     int
	}{
		{"nothing found", nil, true, 0},
		{"advice", []Finding{{Severity: Advice}}, true, 0},
		{"a fault", []Finding{{Severity: Advice}, {Severity: Fault}}, false, 1},
		{"a danger", []Finding{{Severity: Danger}}, false, 1},
		{"an accepted danger", []Finding{{Severity: Danger, Accepted: "JM: agreed"}}, false, 0},
		{"not verified", []Finding{{Severity: NotVerified}}, false, 0},
		{"not verified, strictly", []Finding{{Severity: NotVerified}}, true, 1},
		{"an error behind a danger", []Finding{{Severity: Danger}, {Severity: Error}}, false, 2},
		{"an error cannot be accepted", []Finding{{Severity: Error, Accepted: "JM: agreed"}}, false, 2},
	} {
		assert.Equal(t, c.want, ExitStatus(c.findings, c.strict), c.what)
	}
}

func TestNearest(t *testing.T) {
	kinds := []string{"battery", "bank", "bus", "fuse", "breaker", "converter", "inverter", "inverter-charger", "lamp", "use"}
	for word, want := range map[string]string{
		"batery": "battery", "Battery": "battery", "convertor": "converter", "inverter-chager": "inverter-charger",
		"fues": "fuse", "fuze": "fuse", "lmap": "lamp", "xyz": "", "b": "", "bs": "", "": "", "thruster": "", "bas": "bus",
	} {
		assert.Equal(t, want, Nearest(word, kinds), word)
	}
	assert.Equal(t, "", Nearest("F5", []string{"F6", "F7"}), "a short reference resembles nothing")
	assert.Equal(t, "pb", Nearest("PB", []string{"pb"}), "case alone is no slip")
	assert.Equal(t, "F11", Nearest("F12", []string{"F11", "F13"}), "the first of equally near ones")
}

// The order of findings does not depend on the order in which they were found.
func TestSortIsTotal(t *testing.T) {
	a, b := source.NewFile("a", "one two three\n"), source.NewFile("b", "four\n")
	rapid.Check(t, func(t *rapid.T) {
		findings := rapid.SliceOfN(rapid.Custom(func(t *rapid.T) Finding {
			span := source.Span{}
			if f := rapid.SampledFrom([]*source.File{nil, a, b}).Draw(t, "file"); f != nil {
				span = source.Span{File: f, Start: rapid.IntRange(0, 2).Draw(t, "start")}
				span.End = span.Start + rapid.IntRange(0, 1).Draw(t, "length")
			}
			return Finding{
				Rule: rapid.SampledFrom([]string{"r", "s"}).Draw(t, "rule"), Span: span,
				Severity: Severity(rapid.IntRange(0, 4).Draw(t, "severity")),
				Message:  rapid.SampledFrom([]string{"m", "n"}).Draw(t, "message"),
				Items:    rapid.SampledFrom([][]string{nil, {"F1"}, {"F1", "F2"}}).Draw(t, "items"),
			}
		}), 1, 8).Draw(t, "findings")
		shuffled := rapid.Permutation(findings).Draw(t, "shuffled")
		Sort(findings)
		Sort(shuffled)
		assert.Equal(t, findings, shuffled)
	})
}
