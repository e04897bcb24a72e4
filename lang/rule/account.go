package rule

import (
	"fmt"
	"slices"
	"strings"

	"strake/lang/circuit"
	"strake/lang/diag"
	"strake/lang/size"
	"strake/lang/source"
)

// account gathers what the rules say over both configurations.
type account struct {
	passed map[[2]string]bool // rule and subject
	said   []verdict
	index  map[cause]int // in said
}

// cause is what one finding stands for: one rule on one stretch of the text. A
// range of things described at once has one cause, not one for each of them.
type cause struct {
	rule     string
	severity diag.Severity
	span     source.Span
}

// verdict is a finding with the subjects for which it was made, and what was
// found on each of them.
type verdict struct {
	finding  diag.Finding
	subjects []string
	each     []diag.Finding // of each subject
}

func newAccount() *account {
	return &account{passed: map[[2]string]bool{}, index: map[cause]int{}}
}

// take takes what was said in one configuration.
func (a *account) take(r record) {
	for _, check := range r.passed {
		a.passed[check] = true
	}
	for _, s := range r.said {
		a.add(s.subject, s.finding)
	}
}

// add takes a finding on a subject. The same in the other configuration makes
// it hold in both; the same cause with another subject joins it.
func (a *account) add(subject string, f diag.Finding) {
	key := cause{f.Rule, f.Severity, f.Span}
	i, found := a.index[key]
	if !found {
		a.index[key] = len(a.said)
		a.said = append(a.said, verdict{f, []string{subject}, []diag.Finding{f}})
		return
	}
	v := &a.said[i]
	if v.finding.Configuration != f.Configuration && v.subjects[0] == subject {
		v.finding.Configuration = ""
	}
	if k := slices.Index(v.subjects, subject); k < 0 {
		v.subjects, v.each = append(v.subjects, subject), append(v.each, f)
	} else if v.each[k].Configuration != f.Configuration {
		v.each[k].Configuration = ""
	}
	v.finding.Items = slices.Clone(v.finding.Items)
	for _, it := range f.Items {
		if !slices.Contains(v.finding.Items, it) {
			v.finding.Items = append(v.finding.Items, it)
		}
	}
}

// findings are the verdicts as they are printed. A verdict on several subjects
// of which somebody accepts some is taken apart: an acceptance answers for one.
func (a *account) findings(acceptances []circuit.Acceptance) []diag.Finding {
	var list []diag.Finding
	for _, v := range a.said {
		apart := slices.ContainsFunc(acceptances, func(acc circuit.Acceptance) bool {
			return acc.Rule == v.finding.Rule && concerns(&v.finding, acc.On)
		})
		switch more := v.subjects[1:]; {
		case apart && len(more) > 0:
			list = append(list, v.each...)
			continue
		case len(more) == 1:
			v.finding.Message += "; so for " + more[0]
		case len(more) > 1:
			v.finding.Message += fmt.Sprintf("; so for %d more, %s to %s", len(more), more[0], more[len(more)-1])
		}
		list = append(list, v.finding)
	}
	return list
}

// summary counts; maps are only counted, never listed.
func (a *account) summary(sys *circuit.System, plan *size.Plan, findings []diag.Finding) diag.Summary {
	s := diag.Summary{RuleSet: sys.Craft.Rules, Rules: len(all), Proposed: proposed(plan)}
	failed := map[[2]string]bool{}
	for _, v := range a.said {
		for _, subject := range v.subjects {
			failed[[2]string{v.finding.Rule, subject}] = true
		}
	}
	for _, f := range findings {
		switch {
		case f.Accepted != "":
			s.Accepted++
		case f.Severity == diag.Danger:
			s.Failed++
			s.Danger++
		case f.Severity == diag.Fault:
			s.Failed++
		case f.Severity == diag.NotVerified:
			s.NotVerified++
		}
	}
	for check := range a.passed {
		if !failed[check] {
			s.Passed++
		}
	}
	return s
}

// proposed counts what the compiler chose and nobody has stated yet.
func proposed(plan *size.Plan) int {
	n := 0
	for _, c := range plan.Cables {
		if c.Chosen {
			n++
		}
	}
	for _, d := range plan.Devices {
		if d.Chosen {
			n++
		}
	}
	for _, b := range plan.Bonds {
		if b.Chosen {
			n++
		}
	}
	return n
}

// neverSilenced are the rules that an acceptance does not silence: breaking
// capacity, voltages, protective earth, neutral-earth bonds and bonds of live poles.
var neverSilenced = map[string]bool{
	"breaking-capacity-too-low": true, "voltage-rating-too-low": true, "holder-voltage-too-low": true,
	"domains-mixed": true, "voltage-of-another-domain": true, "bank-voltage": true, "array-voltage-too-high": true,
	"protective-earth-missing": true, "main-earth-missing": true, "neutral-earth-bonds": true,
	"poles-joined": true, "live-pole-on-earth": true,
}

var acceptanceUnused = diag.Info{Rule: "acceptance-unused", Severity: diag.Advice, Title: "an acceptance that meets no finding",
	Why:    "An acceptance answers for one finding. When the finding is gone the acceptance only hides the next one.",
	Source: "common practice",
	Bad:    header + "battery B1 in house at locker: agm, 12 V, 75 Ah, resistance 6 mohm\naccept fuse-beyond-reach on B1 because \"in conduit\" by \"JM\" dated 2026-11-02\n",
	Good:   goodFeeder}

// accept marks the findings that somebody answers for by name, and adds advice
// for each acceptance that meets none or may not silence what it meets.
func accept(sys *circuit.System, findings []diag.Finding) []diag.Finding {
	for _, acc := range sys.Acceptances {
		met := false
		for i := range findings {
			f := &findings[i]
			if f.Rule != acc.Rule || !concerns(f, acc.On) {
				continue
			}
			met = true
			if f.Severity == diag.NotVerified || neverSilenced[f.Rule] {
				f.Cure = strings.TrimPrefix(f.Cure+"; an acceptance does not silence this", "; ")
				continue
			}
			f.Accepted = strings.TrimSpace(acc.Because + ", " + acc.By + " " + acc.Dated)
		}
		if !met {
			findings = append(findings, acceptanceUnused.At(diag.Finding{
				Message: "nothing is found that `accept " + acc.Rule + " on " + acc.On + "` answers for",
				Span:    acc.Span, Items: []string{acc.On}, Cure: "take the line out",
			}))
		}
	}
	return findings
}

func concerns(f *diag.Finding, name string) bool {
	for _, it := range f.Items {
		if it == name {
			return true
		}
	}
	return false
}
