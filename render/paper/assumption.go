package paper

import (
	"fmt"
	"slices"
	"strings"

	"strake/lang/circuit"
)

// AssumptionRow is one default that was used where the text says nothing, with
// all that took it.
type AssumptionRow struct {
	On     []string `json:"on"`
	Text   string   `json:"assumed"`
	Source *string  `json:"source"`
}

// assumptions gathers what was taken as given, each once.
func assumptions(lists ...[]circuit.Assumption) []AssumptionRow {
	rows := []AssumptionRow{}
	for _, a := range slices.Concat(lists...) {
		on := strings.Split(a.On, ", ")
		i := slices.IndexFunc(rows, func(r AssumptionRow) bool { return r.Text == a.Text })
		if i < 0 {
			rows = append(rows, AssumptionRow{On: on, Text: a.Text, Source: text(a.Source)})
			continue
		}
		rows[i].On = append(rows[i].On, on...)
	}
	for i := range rows {
		slices.SortFunc(rows[i].On, circuit.Compare)
		rows[i].On = slices.Compact(rows[i].On)
	}
	slices.SortStableFunc(rows, func(a, b AssumptionRow) int {
		if c := circuit.Compare(a.On[0], b.On[0]); c != 0 {
			return c
		}
		return strings.Compare(a.Text, b.Text)
	})
	return rows
}

// assumptionLines are rows of text, the longest lists of names shortened: they
// stand in full in the JSON.
func assumptionLines(rows []AssumptionRow) string {
	var b strings.Builder
	for _, a := range rows {
		names := a.On
		if len(names) > 8 {
			names = append(slices.Clone(names[:7]), fmt.Sprintf("and %d more", len(names)-7))
		}
		fmt.Fprintf(&b, "%s: %s", strings.Join(names, ", "), a.Text)
		if a.Source != nil {
			fmt.Fprintf(&b, " (%s)", *a.Source)
		}
		b.WriteByte('\n')
	}
	return b.String()
}
