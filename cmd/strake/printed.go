package main

import (
	"strake/lang"
	"strake/lang/diag"
)

// rows are what a verb prints of a craft; the closing line of the text is the
// account of the checks.
type rows interface {
	Text(closing string) string
	JSON() ([]byte, error)
}

// printed compiles a craft, reports its findings and prints rows of it as text
// or as JSON. What is said not to work counts as a finding.
func (e *env) printed(file, format string, of func(lang.Result) (what rows, refused bool)) int {
	result, err := e.craft(file)
	if err != nil {
		return e.fail(err)
	}
	e.report(result)
	status := diag.ExitStatus(result.Findings, false)
	if status == exitUnusable {
		return status
	}
	what, refused := of(result)
	if refused {
		status = exitFindings
	}
	out := []byte(what.Text(result.Summary.Line()))
	if format == "json" {
		out, err = what.JSON()
	}
	if err == nil {
		_, err = e.out.Write(out)
	}
	if err != nil {
		return e.fail(err)
	}
	return status
}
