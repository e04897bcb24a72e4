package main

import (
	"strake/lang/diag"
	"strake/render/paper"
)

type scheduleVerb struct {
	File   string `arg:"" help:"The craft's text; - reads standard input."`
	Format string `help:"text or json." enum:"text,json" default:"text"`
}

func (v *scheduleVerb) run(e *env) int {
	result, err := e.craft(v.File)
	if err != nil {
		return e.fail(err)
	}
	e.report(result)
	status := diag.ExitStatus(result.Findings, false)
	if status == exitUnusable {
		return status
	}
	s := paper.NewSchedule(result.System, result.Plan)
	out := []byte(s.Text(result.Summary.Line()))
	if v.Format == "json" {
		out, err = s.JSON()
	}
	if err == nil {
		_, err = e.out.Write(out)
	}
	if err != nil {
		return e.fail(err)
	}
	return status
}
