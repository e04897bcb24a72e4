package main

import (
	"fmt"

	"strake/lang/diag"
	"strake/lang/source"
	"strake/lang/syntax"
)

type tidyVerb struct {
	File  string `arg:"" help:"The text, changed in place; - reads standard input and writes standard output."`
	Check bool   `help:"Change nothing; say whether the text is tidy (exit status 1 when not)."`
}

func (v *tidyVerb) run(e *env) int {
	text, err := e.read(v.File)
	if err != nil {
		return e.fail(err)
	}
	tidy, findings := syntax.Tidy(source.NewFile(v.File, text))
	if diag.ExitStatus(findings, false) == exitUnusable {
		fmt.Fprint(e.err, diag.Text(findings, diag.Summary{}, diag.Options{Colour: e.colour}))
		if !v.Check && v.File != "-" {
			fmt.Fprintf(e.err, "%s is left as it was\n", v.File)
		}
		return exitUnusable
	}
	switch {
	case v.Check:
		if tidy == text {
			return exitClean
		}
		fmt.Fprintf(e.out, "%s is not tidy: `strake tidy %s` lays it out\n", v.File, v.File)
		return exitFindings
	case v.File == "-":
		_, err = fmt.Fprint(e.out, tidy)
	case tidy != text:
		err = replace(v.File, []byte(tidy))
	}
	if err != nil {
		return e.fail(err)
	}
	return exitClean
}
