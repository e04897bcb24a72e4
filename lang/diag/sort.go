package diag

import (
	"cmp"
	"slices"
	"strings"
)

// Sort puts findings into their one order: by place, then by severity, rule,
// configuration and message. Two findings that agree in all of these are alike.
func Sort(findings []Finding) {
	slices.SortStableFunc(findings, compare)
}

func compare(a, b Finding) int {
	return cmp.Or(
		strings.Compare(fileName(a), fileName(b)),
		cmp.Compare(a.Span.Start, b.Span.Start),
		cmp.Compare(a.Span.End, b.Span.End),
		cmp.Compare(a.Severity, b.Severity),
		strings.Compare(a.Rule, b.Rule),
		slices.Compare(a.Items, b.Items),
		strings.Compare(a.Configuration, b.Configuration),
		strings.Compare(a.Message, b.Message),
	)
}

func fileName(f Finding) string {
	if f.Span.File == nil {
		return ""
	}
	return f.Span.File.Name
}
