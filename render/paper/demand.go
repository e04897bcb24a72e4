package paper

import (
	"bytes"
	"encoding/json"
	"math"

	"strake/lang/demand"
	"strake/lang/quantity"
)

// Demand is the demand of a craft as rows; the tags are the released names.
// Unknown is nil, printed null, never 0.
type Demand struct {
	Conditions []ConditionRow `json:"conditions"`
	Faults     []FaultRow     `json:"faults"`
}

// ConditionRow is one condition in one configuration.
type ConditionRow struct {
	Name          string       `json:"name"`
	Configuration string       `json:"configuration"`
	Refused       *string      `json:"no_solution"`
	Limits        []LimitRow   `json:"limits"`
	Nodes         []NodeRow    `json:"nodes"`
	Cables        []CurrentRow `json:"cables"`
	Sources       []SourceRow  `json:"sources"`
	Notes         []string     `json:"notes"`
	Missing       []string     `json:"missing"`
}

// NodeRow is the voltage between the poles of a node.
type NodeRow struct {
	Node     string   `json:"node"`
	VoltageV *float64 `json:"voltage_v"`
}

// CurrentRow is a cable's current, positive from its first end to its second.
type CurrentRow struct {
	ID       string   `json:"id"`
	CurrentA *float64 `json:"current_a"`
	LossW    *float64 `json:"loss_w"`
}

// SourceRow is what a source gives; a battery that is charged has a negative current.
type SourceRow struct {
	Ref      string   `json:"ref"`
	CurrentA *float64 `json:"current_a"`
	PowerW   *float64 `json:"power_w"`
}

// LimitRow is the most that a load's way delivers, of a condition without solution.
type LimitRow struct {
	Node  string   `json:"node"`
	AsksW *float64 `json:"asks_w"`
	MostW *float64 `json:"most_w"`
}

// FaultRow is the largest and the smallest fault current of a node.
type FaultRow struct {
	Node string   `json:"node"`
	MaxA *float64 `json:"max_a"`
	MinA *float64 `json:"min_a"`
}

// NewDemand gathers the rows.
func NewDemand(r demand.Report) Demand {
	d := Demand{Conditions: []ConditionRow{}, Faults: []FaultRow{}}
	for _, c := range r.Conditions {
		d.Conditions = append(d.Conditions, conditionRow(c))
	}
	for _, f := range r.Faults {
		d.Faults = append(d.Faults, FaultRow{f.Node, number(f.Max), number(f.Min)})
	}
	return d
}

func conditionRow(c demand.Condition) ConditionRow {
	row := ConditionRow{Name: c.Name, Configuration: string(c.Configuration), Refused: text(c.Refused),
		Limits: []LimitRow{}, Nodes: []NodeRow{}, Cables: []CurrentRow{}, Sources: []SourceRow{}, Notes: append([]string{}, c.Notes...), Missing: append([]string{}, c.Missing...)}
	for _, l := range c.Limits {
		row.Limits = append(row.Limits, LimitRow{l.Of.String(), number(quantity.Some(l.Asks)), number(quantity.Some(l.Limit))})
	}
	for _, n := range c.Nodes {
		row.Nodes = append(row.Nodes, NodeRow{n.Node, exact(n.Voltage)})
	}
	for _, k := range c.Cables {
		row.Cables = append(row.Cables, CurrentRow{k.Of.ID, exact(k.Current), exact(k.Loss)})
	}
	for _, s := range c.Sources {
		row.Sources = append(row.Sources, SourceRow{s.Of.Ref, exact(s.Current), exact(s.Power)})
	}
	return row
}

// exact rounds to eight significant digits, and what is next to nothing to 0:
// enough to hold the network against another program's, and still without the
// last bits of a processor's arithmetic.
func exact[T ~float64](o quantity.Opt[T]) *float64 {
	v := float64(o.Value)
	if !o.Known || math.IsNaN(v) || math.IsInf(v, 0) {
		return nil
	}
	if math.Abs(v) < 1e-7 {
		v = 0
	}
	if v != 0 {
		digits := math.Pow(10, 7-math.Floor(math.Log10(math.Abs(v))))
		v = math.Round(math.Round(v*digits)/digits*1e9) / 1e9
	}
	return &v
}

// JSON is the demand as the program's contract names it.
func (d Demand) JSON() ([]byte, error) {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	err := e.Encode(d)
	return b.Bytes(), err
}
