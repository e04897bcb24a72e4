// Package rule owns the judgement of a craft: one registry of rules in one
// slice, each with its reason, its published source, a text that breaks it and
// one that does not. It reads the circuit and the plan, changes neither, and
// knows nothing of the form of the text.
package rule

import (
	"fmt"
	"slices"
	"sync"

	"strake/lang/circuit"
	"strake/lang/diag"
	"strake/lang/size"
)

// Rule is one rule: what it says of itself, and how it is applied to a craft in
// one configuration.
type Rule struct {
	diag.Info
	run func(*pass)
}

// Check applies every rule to a craft in both configurations. A finding that
// holds in both is one finding without a configuration. The summary counts a
// rule on one subject once: as failed if it fails in either configuration.
func Check(sys *circuit.System, plan *size.Plan) ([]diag.Finding, diag.Summary) {
	configurations := [...]circuit.Configuration{circuit.AsHandedOver, circuit.FullyEquipped}
	var records [len(configurations)]record
	var judged sync.WaitGroup
	for k, configuration := range configurations {
		judged.Go(func() {
			c := newCraft(sys, plan, configuration)
			for i := range all {
				r := &all[i]
				r.run(&pass{craft: c, rule: r, record: &records[k]})
			}
		})
	}
	judged.Wait()
	a := newAccount()
	for _, r := range records { // in their order, whichever was ready first
		a.take(r)
	}
	findings := accept(sys, a.findings(sys.Acceptances))
	return findings, a.summary(sys, plan, findings)
}

// All is the registry, in the order of documentation.
func All() []diag.Info {
	infos := make([]diag.Info, 0, len(all)+1)
	for _, r := range all {
		infos = append(infos, r.Info)
	}
	return append(infos, acceptanceUnused)
}

// pass is one rule at work on a craft in one configuration.
type pass struct {
	*craft
	rule   *Rule
	record *record
}

// record is what the rules say of a craft in one configuration.
type record struct {
	passed [][2]string // rule and subject
	said   []statement
}

// statement is a finding on a subject.
type statement struct {
	subject string
	finding diag.Finding
}

// ok says that the rule was applied to a subject and found nothing.
func (p *pass) ok(subject string) {
	p.record.passed = append(p.record.passed, [2]string{p.rule.Rule, subject})
}

// fail reports the rule's defect on a subject.
func (p *pass) fail(subject string, f diag.Finding) {
	p.add(subject, p.rule.At(f))
}

// failAs reports it with another severity, where the standard grades the defect.
func (p *pass) failAs(severity diag.Severity, subject string, f diag.Finding) {
	f = p.rule.At(f)
	f.Severity = severity
	p.add(subject, f)
}

// unverified says that the check needs a fact that the text does not give.
func (p *pass) unverified(subject string, f diag.Finding) {
	f = p.rule.At(f)
	f.Severity = diag.NotVerified
	if f.Message == "" {
		f.Message = fmt.Sprintf("%s is not verified: %s is not written", subject, f.Missing)
	}
	if f.Cure == "" {
		f.Cure = "write " + f.Missing
	}
	p.add(subject, f)
}

func (p *pass) add(subject string, f diag.Finding) {
	f.Configuration = string(p.configuration)
	if !slices.Contains(f.Items, subject) {
		f.Items = append([]string{subject}, f.Items...)
	}
	p.record.said = append(p.record.said, statement{subject, f})
}
