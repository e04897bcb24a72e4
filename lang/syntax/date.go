package syntax

// A date in another form than year, month and day.

import (
	"fmt"
	"regexp"
	"strconv"

	"strake/lang/diag"
)

var dayFirst = regexp.MustCompile(`^([0-9]{1,2})[./-]([0-9]{1,2})[./-]([0-9]{4})$`)

// longest is how many days a month can have.
var longest = [...]int{31, 29, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31}

// explainDate shows the whole of what stands after `dated`, and how it is
// written, where it can be read in one way only.
func (p place) explainDate(f *diag.Finding) {
	f.Cure = "write year, month and day: `dated 2026-11-20`"
	end := p.at
	for end < len(p.tokens) && !isTrivia(p.tokens[end]) && p.tokens[end].Type != typeRBrace {
		end++
	}
	if end == p.at {
		return
	}
	f.Span.End = tokenEnd(p.tokens[end-1])
	found := f.Span.Text()
	f.Message = "expected a date after `dated`, found `" + found + "`"
	if iso := yearFirst(found); iso != "" {
		f.Cure = "write `" + iso + "`: year, month and day"
		f.Edits = []diag.Edit{{Span: f.Span, New: iso}}
	}
}

// yearFirst turns 20.11.2026 round. It is empty for what is no such date and
// for 5.11.2026, which can be read in two ways.
func yearFirst(text string) string {
	parts := dayFirst.FindStringSubmatch(text)
	if parts == nil {
		return ""
	}
	a, _ := strconv.Atoi(parts[1])
	b, _ := strconv.Atoi(parts[2])
	day, month := a, b
	if month > 12 {
		day, month = month, day
	}
	if month < 1 || month > 12 || day <= 12 && day != month || day < 1 || day > longest[month-1] {
		return ""
	}
	return fmt.Sprintf("%s-%02d-%02d", parts[3], month, day)
}
