// Package demand owns what a craft takes in each of its operating conditions:
// the solved networks, the load of every bar and way with what is left of it
// and what binds, how long the banks last, how they are charged, and what a day
// takes and brings. It knows neither the text's form nor how anything is
// printed, and judges nothing: severities are the rules'.
package demand

import (
	"strake/lang/circuit"
	"strake/lang/size"
)

// Report is all that is worked out of a craft's demand. What is not known has
// Known false, and the fact that it lacks is named.
type Report struct {
	Conditions []Condition
	Faults     []size.NodeFault
}

// Condition is one operating condition in one configuration.
type Condition struct {
	size.Solved
}

// New works out every condition of a craft that was sized.
func New(sys *circuit.System, plan *size.Plan) Report {
	r := Report{Faults: plan.Faults}
	for _, s := range size.Conditions(sys, plan) {
		r.Conditions = append(r.Conditions, Condition{Solved: s})
	}
	return r
}
