package main

import (
	"fmt"
	"strings"

	"strake/lang"
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
	settled, edits := settledText(v.File, text, result, layout.Good)
	if v.Check {
		if settled == text {
			return exitClean
		}
		fmt.Fprintf(e.out, "%s leaves sizes, ratings or places on the sheet open: `strake settle %s` writes them down\n", v.File, v.File)
		return exitFindings
	}
	if settled != text {
		if tidy, findings := syntax.Tidy(source.NewFile(v.File, settled)); diag.ExitStatus(findings, false) == exitClean {
			settled = tidy
		}
	}
	switch {
	case v.File == "-":
		_, err = fmt.Fprint(e.out, settled)
	case settled != text:
		err = replace(v.File, []byte(settled))
		fmt.Fprintf(e.err, "wrote %s into %s\n", settledInWords(edits), v.File)
	}
	if err != nil {
		return e.fail(err)
	}
	return exitClean
}

// mostSettled is how often a text is settled until that changes nothing: sizes
// that are stated take less room than proposed ones, so that the places are those
// of a later drawing.
const mostSettled = 3

// settledText is a craft's text with all that the compiler chose, and the edits
// that were made for that.
func settledText(name, text string, r lang.Result, effort layout.Effort) (string, []diag.Edit) {
	var all []diag.Edit
	for range mostSettled {
		edits := settleEdits(r, effort)
		if len(edits) == 0 {
			break
		}
		all = append(all, edits...)
		text = lang.Apply(text, edits)
		if r = lang.Compile(loader, name, text); r.HasErrors() {
			break
		}
	}
	return text, all
}

// settleEdits is what settling a craft writes into its text.
func settleEdits(r lang.Result, effort layout.Effort) []diag.Edit {
	orders, spots := schematic.Settled(r.System, r.Plan, r.Findings, r.Summary, schematic.Options{Effort: effort})
	return lang.Settle(r, orders, spots)
}

// settledInWords counts what edits write: sizes, ratings, orders along bars, and
// says whether they write places.
func settledInWords(edits []diag.Edit) string {
	counts, places := [3]int{}, false
	for _, edit := range edits {
		switch orders := strings.Count(edit.New, "order "); {
		case edit.New == "": // a row of places that another takes the place of
		case strings.HasPrefix(strings.TrimSpace(edit.New), "sheet "):
			places = true
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
	if places {
		parts = append(parts, "the places of all things")
	}
	if last := len(parts) - 1; last > 0 {
		return strings.Join(parts[:last], ", ") + " and " + parts[last]
	}
	return strings.Join(parts, "")
}
