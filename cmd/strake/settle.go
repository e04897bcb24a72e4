package main

import (
	"fmt"
	"strings"

	"strake/lang"
	"strake/lang/circuit"
	"strake/lang/diag"
	"strake/lang/source"
	"strake/lang/syntax"
	"strake/layout"
	"strake/render/schematic"
)

type settleVerb struct {
	File  string `arg:"" help:"The craft's text, changed in place; - reads standard input and writes standard output."`
	Check bool   `help:"Change nothing; say whether something is still the compiler's choice (exit status 1)."`
}

func (v *settleVerb) run(e *env) int {
	text, err := e.read(v.File)
	if err != nil {
		return e.fail(err)
	}
	result := lang.Compile(loader, v.File, text)
	if result.HasErrors() {
		e.report(result)
		fmt.Fprintln(e.err, "nothing is settled: mend the errors first")
		return exitUnusable
	}
	edits := lang.Settle(result, drawnOrders(result))
	if v.Check {
		if len(edits) == 0 {
			return exitClean
		}
		fmt.Fprintf(e.out, "%s leaves sizes, ratings or orders along bars open: `strake settle %s` writes them down\n", v.File, v.File)
		return exitFindings
	}
	settled := lang.Apply(text, edits)
	if len(edits) > 0 {
		if tidy, findings := syntax.Tidy(source.NewFile(v.File, settled)); diag.ExitStatus(findings, false) == exitClean {
			settled = tidy
		}
	}
	switch {
	case v.File == "-":
		_, err = fmt.Fprint(e.out, settled)
	case len(edits) > 0:
		err = replace(v.File, []byte(settled))
		fmt.Fprintf(e.err, "wrote %s into %s\n", settledInWords(edits), v.File)
	}
	if err != nil {
		return e.fail(err)
	}
	return exitClean
}

// drawnOrders is how a craft's drawing lets things hang along its bars.
func drawnOrders(r lang.Result) []circuit.Order {
	return schematic.Orders(r.System, r.Plan, r.Findings, r.Summary, schematic.Options{Effort: layout.Good})
}

// settledInWords counts what edits write: sizes, ratings, orders along bars.
func settledInWords(edits []diag.Edit) string {
	counts := [3]int{}
	for _, edit := range edits {
		switch orders := strings.Count(edit.New, "order "); {
		case orders > 0:
			counts[2] += orders
		case strings.HasSuffix(edit.New, " A"):
			counts[1]++
		default:
			counts[0]++
		}
	}
	var parts []string
	for i, word := range [...]string{"size", "rating", "order"} {
		switch {
		case counts[i] == 1:
			parts = append(parts, "1 "+word)
		case counts[i] > 1:
			parts = append(parts, fmt.Sprintf("%d %ss", counts[i], word))
		}
	}
	if last := len(parts) - 1; last > 0 {
		return strings.Join(parts[:last], ", ") + " and " + parts[last]
	}
	return strings.Join(parts, "")
}
