package diag

// The OASIS interchange format for results of static analysis, SARIF 2.1.0.

import (
	"crypto/sha256"
	"encoding/hex"
	"net/url"
	"slices"
	"strings"

	"strake/lang/source"
)

type sarifLog struct {
	Schema  string     `json:"$schema"`
	Version string     `json:"version"`
	Runs    []sarifRun `json:"runs"`
}

type sarifRun struct {
	Tool       sarifTool     `json:"tool"`
	ColumnKind string        `json:"columnKind"`
	Results    []sarifResult `json:"results"`
	Properties struct {
		Summary string `json:"summary"`
	} `json:"properties"`
}

type sarifTool struct {
	Driver sarifDriver `json:"driver"`
}

type sarifDriver struct {
	Name  string      `json:"name"`
	Rules []sarifRule `json:"rules"`
}

type sarifRule struct {
	ID string `json:"id"`
}

type sarifText struct {
	Text string `json:"text"`
}

type sarifResult struct {
	RuleID              string             `json:"ruleId"`
	Level               string             `json:"level"`
	Message             sarifText          `json:"message"`
	Locations           []sarifLocation    `json:"locations,omitempty"`
	RelatedLocations    []sarifLocation    `json:"relatedLocations,omitempty"`
	PartialFingerprints map[string]string  `json:"partialFingerprints"`
	Suppressions        []sarifSuppression `json:"suppressions,omitempty"`
	Properties          sarifProperties    `json:"properties"`
}

type sarifLocation struct {
	PhysicalLocation sarifPhysical `json:"physicalLocation"`
	Message          *sarifText    `json:"message,omitempty"`
}

type sarifPhysical struct {
	ArtifactLocation sarifArtifact `json:"artifactLocation"`
	Region           sarifRegion   `json:"region"`
}

type sarifArtifact struct {
	URI string `json:"uri"`
}

type sarifRegion struct {
	StartLine   int `json:"startLine"`
	StartColumn int `json:"startColumn"`
	EndLine     int `json:"endLine"`
	EndColumn   int `json:"endColumn"`
}

type sarifSuppression struct {
	Kind          string `json:"kind"`
	Justification string `json:"justification"`
}

type sarifProperties struct {
	Severity      string   `json:"severity"`
	Items         []string `json:"items,omitempty"`
	Configuration string   `json:"configuration,omitempty"`
	Source        string   `json:"source,omitempty"`
	Cure          string   `json:"cure,omitempty"`
}

// SARIF is the findings in their given order, for tools that gather the
// results of many checkers.
func SARIF(findings []Finding, summary Summary) ([]byte, error) {
	run := sarifRun{
		Tool:       sarifTool{Driver: sarifDriver{Name: "strake", Rules: []sarifRule{}}},
		ColumnKind: "unicodeCodePoints",
		Results:    []sarifResult{},
	}
	run.Properties.Summary = LastLine(findings, summary)
	var rules []string
	for _, f := range findings {
		rules = append(rules, f.Rule)
	}
	slices.Sort(rules)
	for _, rule := range slices.Compact(rules) {
		run.Tool.Driver.Rules = append(run.Tool.Driver.Rules, sarifRule{ID: rule})
	}
	for _, f := range findings {
		r := sarifResult{
			RuleID: f.Rule, Level: sarifLevel(f.Severity), Message: sarifText{f.Message},
			PartialFingerprints: map[string]string{"findingHash/v1": fingerprint(f)},
			Properties: sarifProperties{
				Severity: f.Severity.String(), Items: f.Items, Configuration: f.Configuration, Source: f.Source, Cure: f.Cure,
			},
		}
		if !f.Span.IsZero() {
			r.Locations = []sarifLocation{{PhysicalLocation: physical(f.Span)}}
		}
		for _, related := range f.Related {
			if !related.Span.IsZero() {
				r.RelatedLocations = append(r.RelatedLocations, sarifLocation{
					PhysicalLocation: physical(related.Span), Message: &sarifText{related.Message},
				})
			}
		}
		if f.Accepted != "" {
			r.Suppressions = []sarifSuppression{{Kind: "inSource", Justification: f.Accepted}}
		}
		run.Results = append(run.Results, r)
	}
	return encode(sarifLog{
		Schema:  "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json",
		Version: "2.1.0", Runs: []sarifRun{run},
	})
}

func sarifLevel(s Severity) string {
	switch s {
	case Advice:
		return "warning"
	case NotVerified:
		return "note"
	}
	return "error"
}

func physical(s source.Span) sarifPhysical {
	from, to := s.From(), s.To()
	path := url.URL{Path: s.File.Name}
	return sarifPhysical{
		ArtifactLocation: sarifArtifact{URI: path.String()},
		Region:           sarifRegion{StartLine: from.Line, StartColumn: from.Column, EndLine: to.Line, EndColumn: to.Column},
	}
}

// fingerprint knows a finding again after rows were inserted above it.
func fingerprint(f Finding) string {
	row := ""
	if !f.Span.IsZero() {
		row = strings.Join(strings.Fields(f.Span.File.Line(f.Span.From().Line)), " ")
	}
	sum := sha256.Sum256([]byte(strings.Join([]string{f.Rule, f.Configuration, strings.Join(f.Items, ","), row}, "\x00")))
	return hex.EncodeToString(sum[:8])
}
