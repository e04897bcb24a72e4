// Package lang is the compiler as one call: from a text to the circuit, the
// sizes and the findings. It owns the order of the phases and nothing else; it
// touches no file, what `use` names is brought by the caller.
package lang

import (
	"fmt"
	"path"
	"slices"

	"strake/lang/circuit"
	"strake/lang/diag"
	"strake/lang/resolve"
	"strake/lang/rule"
	"strake/lang/size"
	"strake/lang/source"
	"strake/lang/syntax"
)

// Loader brings the text of a file that `use` names. The path is relative to
// where the craft's own name is.
type Loader func(path string) (string, error)

// Result is all that is known of a craft after compiling.
type Result struct {
	Files    []*source.File // the craft, then the files of parts that it uses
	System   *circuit.System
	Plan     *size.Plan
	Findings []diag.Finding
	Summary  diag.Summary
}

// Compile reads a craft and works it out. A text with errors has no single
// meaning: its system is what could be made of it, and nothing is sized or
// judged.
func Compile(load Loader, name, text string) Result {
	trees, findings := read(load, source.NewFile(name, text))
	var result Result
	for _, t := range trees {
		result.Files = append(result.Files, t.Source)
	}
	system, more := resolve.Resolve(trees)
	result.System, result.Plan = system, &size.Plan{}
	result.Findings = append(findings, more...)
	result.Summary.RuleSet = system.Craft.Rules
	if !result.HasErrors() {
		result.Plan = size.Size(system)
		judged, summary := rule.Check(system, result.Plan)
		result.Findings, result.Summary = append(result.Findings, judged...), summary
		result.Plan = answering(result.Plan, judged)
	}
	if result.HasErrors() { // what uses a name may stand in what could not be read
		result.Findings = slices.DeleteFunc(result.Findings, func(f diag.Finding) bool { return f.Rule == "name-not-used" })
	}
	diag.Sort(result.Findings)
	return result
}

// answering is a plan whose rows fail where a finding at fault or above names the
// cable: no schedule says "ok" of what is accused.
func answering(plan *size.Plan, findings []diag.Finding) *size.Plan {
	accused := map[string]bool{}
	for _, f := range findings {
		if f.Severity > diag.Fault || f.Accepted != "" {
			continue
		}
		for _, name := range f.Items {
			accused[name] = true
		}
	}
	answer := *plan
	answer.Cables = slices.Clone(plan.Cables)
	for i := range answer.Cables {
		if c := &answer.Cables[i]; !c.Of.Link && accused[c.Of.ID] {
			c.Result = "fails"
		}
	}
	return &answer
}

// HasErrors tells whether the text has no single meaning.
func (r Result) HasErrors() bool {
	return slices.ContainsFunc(r.Findings, func(f diag.Finding) bool { return f.Severity == diag.Error })
}

// read parses the craft and the files of parts that it uses, each once.
func read(load Loader, craft *source.File) ([]*syntax.File, []diag.Finding) {
	tree, findings := syntax.Parse(craft)
	trees := []*syntax.File{tree}
	seen := map[string]bool{craft.Name: true}
	for i := 0; i < len(trees); i++ {
		for _, s := range trees[i].Statements {
			use, ok := s.(*syntax.Use)
			if !ok {
				continue
			}
			file := use.Path.Text
			if !path.IsAbs(file) {
				file = path.Join(path.Dir(trees[i].Source.Name), file)
			}
			if seen[file] {
				continue
			}
			seen[file] = true
			text, err := "", fmt.Errorf("no other file can be read here")
			if load != nil {
				text, err = load(file)
			}
			if err != nil {
				findings = append(findings, fileNotRead.At(diag.Finding{
					Span: use.Path.Span, Message: fmt.Sprintf("`%s` cannot be read: %v", file, err),
					Cure: "correct the path, which is relative to this file, or take the line out",
				}))
				continue
			}
			other, more := syntax.Parse(source.NewFile(file, text))
			trees, findings = append(trees, other), append(findings, more...)
		}
	}
	return trees, findings
}

var fileNotRead = diag.Info{Rule: "file-not-read", Severity: diag.Error, Title: "a file of parts that cannot be read",
	Why: "Without the parts that it holds the craft has no meaning.",
	Bad: "use \"no-such-shelf.strake\"\nbattery B1: 12 V\n", Good: "battery B1: 12 V\n"}

// Findings is every kind of finding, in the order of the phases, as `explain`
// prints them.
func Findings() []diag.Info {
	return slices.Concat(syntax.Findings, []diag.Info{fileNotRead}, resolve.Findings, rule.All())
}
