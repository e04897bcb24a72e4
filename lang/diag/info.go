package diag

// Info is what every kind of finding owns, whichever package finds it: what
// `strake explain` prints, with a text that has the defect and one that has not.
type Info struct {
	Rule     string // kebab-case name of the defect
	Severity Severity
	Title    string // lower case, without a full stop
	Why      string
	Source   string // published source, or "common practice"; empty for the form of the text
	Bad      string // a craft that has this finding
	Good     string // the same craft without it
}

// At is a finding of this kind at a place.
func (i Info) At(f Finding) Finding {
	f.Rule, f.Severity = i.Rule, i.Severity
	if f.Source == "" {
		f.Source = i.Source
	}
	return f
}
