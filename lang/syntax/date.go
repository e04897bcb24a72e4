package syntax

// What stands after `dated` and is no date.

import "strake/lang/diag"

// explainDate shows the whole of what stands after `dated`.
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
}
