package main

import (
	"fmt"
	"strings"

	"strake/lang"
	"strake/lang/diag"
)

type explainVerb struct {
	Rule string `arg:"" optional:"" help:"A rule's name, as findings print it; without, all rules are listed."`
}

func (v *explainVerb) run(e *env) int {
	rules := lang.Findings()
	var names []string
	for _, info := range rules {
		names = append(names, info.Rule)
		if info.Rule == v.Rule {
			fmt.Fprint(e.out, explain(info))
			return exitClean
		}
	}
	if v.Rule == "" {
		for _, info := range rules {
			fmt.Fprintf(e.out, "%-34s %-12s %s\n", info.Rule, info.Severity, info.Title)
		}
		return exitClean
	}
	hint := "; `strake explain` alone lists them all"
	if near := diag.Nearest(v.Rule, names); near != "" {
		hint = fmt.Sprintf("; did you mean %s?", near)
	}
	return e.fail(fmt.Errorf("there is no rule %q%s", v.Rule, hint))
}

func explain(info diag.Info) string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s (%s): %s\n\n%s\n", info.Rule, info.Severity, info.Title, info.Why)
	if info.Source != "" {
		fmt.Fprintf(&b, "\nSource: %s\n", info.Source)
	}
	for _, example := range []struct{ head, text string }{{"Found in", info.Bad}, {"Not found in", info.Good}} {
		if example.text != "" {
			fmt.Fprintf(&b, "\n%s:\n\n    %s\n", example.head, strings.ReplaceAll(strings.TrimSpace(example.text), "\n", "\n    "))
		}
	}
	return b.String()
}
