package main

import (
	"strake/lang"
	"strake/render/paper"
)

type scheduleVerb struct {
	File   string `arg:"" help:"The craft's text; - reads standard input."`
	Format string `help:"text or json." enum:"text,json" default:"text"`
}

func (v *scheduleVerb) run(e *env) int {
	return e.printed(v.File, v.Format, func(r lang.Result) (rows, bool) {
		return paper.NewSchedule(r.System, r.Plan), false
	})
}
