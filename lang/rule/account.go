package rule

import (
	"strings"

	"strake/lang/circuit"
	"strake/lang/diag"
	"strake/lang/size"
)

// account gathers what the rules say over both configurations.
type account struct {
	passed   map[[2]string]bool // rule and subject
	findings []diag.Finding
	index    map[string]int // of a finding apart from its configuration
}

func newAccount() *account {
	return &account{passed: map[[2]string]bool{}, index: map[string]int{}}
}

func (a *account) add(f diag.Finding) {
	key := strings.Join(append([]string{f.Rule, f.Severity.String(), f.Message, f.Span.Text()}, f.Items...), "\x00")
	if i, found := a.index[key]; found {
		if a.findings[i].Configuration != f.Configuration {
			a.findings[i].Configuration = ""
		}
		return
	}
	a.index[key] = len(a.findings)
	a.findings = append(a.findings, f)
}

// summary counts; maps are only counted, never listed.
func (a *account) summary(sys *circuit.System, plan *size.Plan, findings []diag.Finding) diag.Summary {
	s := diag.Summary{RuleSet: sys.Craft.Rules, Rules: len(all), Proposed: proposed(plan)}
	failed := map[[2]string]bool{}
	for _, f := range findings {
		if len(f.Items) > 0 {
			failed[[2]string{f.Rule, f.Items[0]}] = true
		}
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
	return n
}

// neverSilenced are the rules that an acceptance does not silence: breaking
// capacity, voltage, protective earth and neutral-earth bonds.
var neverSilenced = map[string]bool{
	"breaking-capacity-too-low": true, "voltage-rating-too-low": true, "holder-voltage-too-low": true,
	"protective-earth-missing": true, "neutral-earth-bonds": true,
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
