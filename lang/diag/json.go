package diag

import (
	"bytes"
	"encoding/json"

	"strake/lang/source"
)

type jsonReport struct {
	Findings []jsonFinding `json:"findings"`
	Summary  jsonSummary   `json:"summary"`
}

// What is not there is null; a list without members is empty and not null.
type jsonFinding struct {
	Rule     string  `json:"rule"`
	Severity string  `json:"severity"`
	Message  string  `json:"message"`
	File     *string `json:"file"`
	Line     *int    `json:"line"`
	Column   *int    `json:"column"`

	EndLine       *int          `json:"end_line"`
	EndColumn     *int          `json:"end_column"`
	Items         []string      `json:"items"`
	Related       []jsonRelated `json:"related"`
	Source        *string       `json:"source"`
	Configuration *string       `json:"configuration"`
	Cure          *string       `json:"cure"`
	Accepted      *string       `json:"accepted"`
}

type jsonRelated struct {
	File    *string `json:"file"`
	Line    *int    `json:"line"`
	Column  *int    `json:"column"`
	Message string  `json:"message"`
}

type jsonSummary struct {
	Rules       int `json:"rules"`
	Passed      int `json:"passed"`
	Failed      int `json:"failed"`
	Danger      int `json:"danger"`
	Accepted    int `json:"accepted"`
	NotVerified int `json:"not_verified"`
	Proposed    int `json:"proposed"`
}

// JSON is the findings in their given order, for programs.
func JSON(findings []Finding, summary Summary) ([]byte, error) {
	report := jsonReport{
		Findings: []jsonFinding{},
		Summary: jsonSummary{
			Rules: summary.Rules, Passed: summary.Passed, Failed: summary.Failed, Danger: summary.Danger,
			Accepted: summary.Accepted, NotVerified: summary.NotVerified, Proposed: summary.Proposed,
		},
	}
	for _, f := range findings {
		j := jsonFinding{
			Rule: f.Rule, Severity: f.Severity.String(), Message: f.Message,
			Items:   append([]string{}, f.Items...),
			Related: []jsonRelated{},
			Source:  optional(f.Source), Configuration: optional(f.Configuration),
			Cure: optional(f.Cure), Accepted: optional(f.Accepted),
		}
		j.File, j.Line, j.Column = start(f.Span)
		if !f.Span.IsZero() {
			end := f.Span.To()
			j.EndLine, j.EndColumn = &end.Line, &end.Column
		}
		for _, r := range f.Related {
			related := jsonRelated{Message: r.Message}
			related.File, related.Line, related.Column = start(r.Span)
			j.Related = append(j.Related, related)
		}
		report.Findings = append(report.Findings, j)
	}
	return encode(report)
}

func start(s source.Span) (file *string, line, column *int) {
	if s.IsZero() {
		return nil, nil, nil
	}
	at := s.From()
	return &s.File.Name, &at.Line, &at.Column
}

func optional(s string) *string {
	if s == "" {
		return nil
	}
	return &s
}

func encode(v any) ([]byte, error) {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	if err := e.Encode(v); err != nil {
		return nil, err
	}
	return b.Bytes(), nil
}
