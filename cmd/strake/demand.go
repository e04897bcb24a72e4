package main

import (
	"strake/lang"
	"strake/lang/demand"
	"strake/render/paper"
)

type demandVerb struct {
	File   string `arg:"" help:"The craft's text; - reads standard input."`
	Format string `help:"text or json." enum:"text,json" default:"text"`
}

func (v *demandVerb) run(e *env) int {
	return e.printed(v.File, v.Format, func(r lang.Result) (rows, bool) {
		report := demand.New(r.System, r.Plan)
		return paper.NewDemand(report), report.Refused() // what cannot be delivered does not work
	})
}
