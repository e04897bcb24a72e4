package diag

import "fmt"

// Line is the account of a run, as the terminal and every sheet end with.
func (s Summary) Line() string {
	return fmt.Sprintf("Checked against %s: %d passed, %d failed (%d danger), %d accepted, %d not verified; %s proposed",
		s.RuleSet, s.Passed, s.Failed, s.Danger, s.Accepted, s.NotVerified, count(s.Proposed, "size"))
}

// LastLine is the account of a run, or that nothing was checked because the
// text has errors: a text without a meaning has passed nothing.
func LastLine(findings []Finding, summary Summary) string {
	errors := 0
	for _, f := range findings {
		if f.Severity == Error {
			errors++
		}
	}
	if errors == 0 {
		return summary.Line()
	}
	against := ""
	if summary.RuleSet != "" {
		against = " against " + summary.RuleSet
	}
	return fmt.Sprintf("Not checked%s: %s in the text; nothing is drawn", against, count(errors, "error"))
}

func count(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return fmt.Sprintf("%d %ss", n, noun)
}

// ExitStatus is what a program that has found these ends with: 2 when the text
// has no single meaning, 1 when something at or above fault stands that nobody
// accepted, or, with strict, when something could not be verified.
func ExitStatus(findings []Finding, strict bool) int {
	status := 0
	for _, f := range findings {
		switch {
		case f.Severity == Error:
			return 2
		case f.Accepted != "":
		case f.Severity <= Fault, strict && f.Severity == NotVerified:
			status = 1
		}
	}
	return status
}
