package main

import (
	"fmt"

	"strake/lang"
	"strake/lang/diag"
)

type checkVerb struct {
	File   string `arg:"" help:"The craft's text; - reads standard input."`
	Format string `help:"text, json or sarif." enum:"text,json,sarif" default:"text"`
	Strict bool   `help:"What is not verified counts too."`
}

func (v *checkVerb) run(e *env) int {
	result, err := e.craft(v.File)
	if err != nil {
		return e.fail(err)
	}
	var out []byte
	switch v.Format {
	case "json":
		out, err = diag.JSON(result.Findings, result.Summary)
	case "sarif":
		out, err = diag.SARIF(result.Findings, result.Summary)
	default:
		out = []byte(diag.Text(result.Findings, result.Summary, diag.Options{Colour: e.colour}))
	}
	if err == nil {
		_, err = e.out.Write(out)
	}
	if err != nil {
		return e.fail(err)
	}
	return diag.ExitStatus(result.Findings, v.Strict)
}

// fail says why nothing could be done.
func (e *env) fail(err error) int {
	fmt.Fprintf(e.err, "strake: %v\n", err)
	return exitUnusable
}

// report prints the findings where they do not mix with what is written to standard output.
func (e *env) report(result lang.Result) {
	fmt.Fprint(e.err, diag.Text(result.Findings, result.Summary, diag.Options{Colour: e.colour}))
}
