// Package diag owns what the compiler says about a text: findings as plain
// values, and their printing as pure functions over those values. It knows
// files and spans, and nothing of electrics.
package diag

import "strake/lang/source"

// Severity of a finding, from the one that stops everything to the mildest.
type Severity int

const (
	Error       Severity = iota // the text has no single meaning: no drawing
	Danger                      // credible fire, shock, explosion, or loss of bilge pumping, steering, navigation lights
	Fault                       // a rule broken, or it will not work
	Advice                      // worth a second look
	NotVerified                 // a check that needs a fact which the text does not give
)

var severityNames = [...]string{"error", "danger", "fault", "advice", "not-verified"}

func (s Severity) String() string { return severityNames[s] }

// Finding is one thing said about one place of the text.
type Finding struct {
	Rule          string // kebab-case name of the defect, as `strake explain` takes it
	Severity      Severity
	Message       string // one sentence in plain words, with what was found and the limit
	Span          source.Span
	Related       []Related
	Items         []string // references of the items and names of the cables concerned
	Source        string   // published source of the rule, or "common practice", or "from memory: …"
	Configuration string   // "", "as-handed-over", "fully-equipped": "" holds in both
	Cure          string   // what to do, in plain words; empty when none is computable
	Edits         []Edit   // the cure as changes of the text, when it is one
	Missing       string   // not-verified only: the fact to write
	Accepted      string   // name and reason of whoever accepted the finding; empty: not accepted
}

// Related is a second place that explains a finding.
type Related struct {
	Span    source.Span
	Message string
}

// Edit replaces a stretch of the text.
type Edit struct {
	Span source.Span
	New  string
}

// Summary is the account of a run: a check is one rule on one item in one configuration.
type Summary struct {
	RuleSet     string // "iso-13297"
	Rules       int    // rules that were applied
	Passed      int
	Failed      int // danger and fault, not accepted
	Danger      int // of these
	Accepted    int
	NotVerified int
	Proposed    int // sizes and ratings that the compiler chose
}
