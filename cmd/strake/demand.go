package main

import (
	"strake/lang/demand"
	"strake/lang/diag"
	"strake/render/paper"
)

type demandVerb struct {
	File   string `arg:"" help:"The craft's text; - reads standard input."`
	Format string `help:"text or json." enum:"text,json" default:"text"`
}

func (v *demandVerb) run(e *env) int {
	result, err := e.craft(v.File)
	if err != nil {
		return e.fail(err)
	}
	e.report(result)
	status := diag.ExitStatus(result.Findings, false)
	if status == exitUnusable {
		return status
	}
	report := demand.New(result.System, result.Plan)
	if report.Refused() { // what cannot be delivered does not work
		status = exitFindings
	}
	d := paper.NewDemand(report)
	out := []byte(d.Text(result.Summary.Line()))
	if v.Format == "json" {
		out, err = d.JSON()
	}
	if err == nil {
		_, err = e.out.Write(out)
	}
	if err != nil {
		return e.fail(err)
	}
	return status
}
