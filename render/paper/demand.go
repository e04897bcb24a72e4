package paper

import (
	"math"

	"strake/lang/circuit"
	"strake/lang/demand"
	"strake/lang/quantity"
	"strake/lang/size"
)

// Demand is the demand of a craft as rows; the tags are the released names.
// Unknown is nil, printed null, never 0.
type Demand struct {
	Conditions []ConditionRow `json:"conditions"`
	Faults     []FaultRow     `json:"faults"`
	Banks      []BankRow      `json:"banks"`
	Boards     []DiversityRow `json:"boards"`
	Days       []DayRow       `json:"days"`

	Assumptions []AssumptionRow `json:"assumptions"`
}

// ConditionRow is one condition in one configuration. Its kind is declared,
// "everything on" where none is, or charging.
type ConditionRow struct {
	Name          string         `json:"name"`
	Configuration string         `json:"configuration"`
	Kind          string         `json:"kind"`
	Refused       *string        `json:"no_solution"`
	Limits        []LimitRow     `json:"limits"`
	Nodes         []NodeRow      `json:"nodes"`
	Cables        []CurrentRow   `json:"cables"`
	Sources       []SourceRow    `json:"sources"`
	Takers        []TakerRow     `json:"takers"`
	Loads         []LoadRow      `json:"loads"`
	Supports      []SupportRow   `json:"supports"`
	Banks         []EnduranceRow `json:"banks"`
	Lowest        *LowRow        `json:"lowest"`
	Notes         []string       `json:"notes"`
	Missing       []string       `json:"missing"`
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

	stored bool
}

// TakerRow is what a load takes; one that gives has a negative current.
type TakerRow struct {
	Node     string   `json:"node"`
	VoltageV *float64 `json:"voltage_v"`
	CurrentA *float64 `json:"current_a"`
	PowerW   *float64 `json:"power_w"`

	way bool
}

// LoadRow is what a bar or a way carries and what it has left: the constant
// current that can be taken at its node besides, until the first thing on its
// way is at its limit.
type LoadRow struct {
	Ref        string   `json:"ref"`
	Kind       string   `json:"kind"`
	Label      *string  `json:"label"`
	At         *string  `json:"headroom_at"`
	VoltageV   *float64 `json:"voltage_v"`
	FarV       *float64 `json:"voltage_at_end_v"`
	CurrentA   *float64 `json:"current_a"`
	PowerW     *float64 `json:"power_w"`
	HeadroomA  *float64 `json:"headroom_a"`
	BoundBy    *string  `json:"bound_by"`
	LimitA     *float64 `json:"limit_a"`
	NotCounted []string `json:"not_counted"`
	Spare      []int    `json:"spare_ways,omitempty"` // of a board
}

// SupportRow is what converters and chargers give to loads beside a battery;
// below 0 the battery is drawn upon.
type SupportRow struct {
	From   []string `json:"from"`
	Beside []string `json:"beside"`
	GivesA *float64 `json:"gives_a"`
	TakesA *float64 `json:"takes_a"`
	LeftA  *float64 `json:"left_a"`
}

// EnduranceRow is what a bank does in a condition.
type EnduranceRow struct {
	Bank      string     `json:"bank"`
	CurrentA  *float64   `json:"current_a"`
	PowerW    *float64   `json:"power_w"`
	LastsH    *float64   `json:"lasts_h"`
	ChargeA   *float64   `json:"charge_a"`
	FullH     *float64   `json:"full_h"`
	BoundedBy *string    `json:"charge_bounded_by"`
	From      []GiverRow `json:"charged_by"`
}

// GiverRow is what charges a bank.
type GiverRow struct {
	Ref      string   `json:"ref"`
	CurrentA *float64 `json:"current_a"`
	AtLimit  bool     `json:"at_limit"`
}

// LowRow is where the voltage is lowest for its domain.
type LowRow struct {
	Node     string   `json:"node"`
	VoltageV *float64 `json:"voltage_v"`
	Percent  *float64 `json:"percent_of_nominal"`
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

// BankRow is what a store holds.
type BankRow struct {
	Ref        string   `json:"ref"`
	Label      *string  `json:"label"`
	Members    []string `json:"members"`
	CapacityAh *float64 `json:"capacity_ah"`
	VoltageV   *float64 `json:"voltage_v"`
	UsablePct  *float64 `json:"usable_percent"`
	UsableWh   *float64 `json:"usable_wh"`
	AcceptsA   *float64 `json:"accepts_a"`
	Missing    []string `json:"missing"`

	lead bool
}

// DiversityRow is what a board's feeder carries when not everything runs at once.
type DiversityRow struct {
	Ref           string   `json:"ref"`
	Configuration string   `json:"configuration"`
	ContinuousA   *float64 `json:"continuous_a"`
	IntermittentA *float64 `json:"intermittent_a"`
	LargestA      *float64 `json:"largest_intermittent_a"`
	DemandA       *float64 `json:"demand_a"`
	Source        string   `json:"source"`
	Missing       []string `json:"missing"`
}

// DayRow is what a day takes out of the banks and what the sun brings.
type DayRow struct {
	Name          string       `json:"name"`
	Configuration string       `json:"configuration"`
	SunH          *float64     `json:"sun_h"`
	YieldPct      *float64     `json:"yield_percent"`
	Arrays        []HarvestRow `json:"arrays"`
	SolarWh       *float64     `json:"solar_wh"`
	Parts         []PartRow    `json:"parts"`
	DemandWh      *float64     `json:"demand_wh"`
	BalanceWh     *float64     `json:"balance_wh"`
	UsableWh      *float64     `json:"usable_wh"`
	LastsDays     *float64     `json:"lasts_without_sun_days"`
	LacksDays     *float64     `json:"lasts_with_sun_days"`
	Runs          []RunRow     `json:"charging_hours"`
	Notes         []string     `json:"notes"`
	Missing       []string     `json:"missing"`
}

// HarvestRow is what one array brings.
type HarvestRow struct {
	Ref      string   `json:"ref"`
	EnergyWh *float64 `json:"energy_wh"`
}

// PartRow is what a condition, or a load with its own hours, takes.
type PartRow struct {
	Name     string   `json:"name"`
	Hours    *float64 `json:"hours"`
	PowerW   *float64 `json:"power_w"`
	EnergyWh *float64 `json:"energy_wh"`
}

// RunRow is how long a source has to run in the day.
type RunRow struct {
	From   []string `json:"from"`
	PowerW *float64 `json:"power_w"`
	Hours  *float64 `json:"hours"`
}

// NewDemand gathers the rows.
func NewDemand(r demand.Report) Demand {
	d := Demand{Conditions: []ConditionRow{}, Faults: []FaultRow{}, Banks: []BankRow{}, Boards: []DiversityRow{}, Days: []DayRow{},
		Assumptions: assumptions(r.Assumptions)}
	for _, c := range r.Conditions {
		d.Conditions = append(d.Conditions, conditionRow(c))
	}
	for _, f := range r.Faults {
		d.Faults = append(d.Faults, FaultRow{f.Node, number(f.Max), number(f.Min)})
	}
	for _, b := range r.Banks {
		d.Banks = append(d.Banks, BankRow{b.Of.Ref, text(b.Of.Label), refs(b.Members), number(b.Capacity), number(b.Voltage),
			number(b.Usable), number(b.Energy), number(b.Accepts), list(b.Missing), b.Lead})
	}
	for _, b := range r.Boards {
		d.Boards = append(d.Boards, DiversityRow{b.Board.Ref, string(b.Configuration), number(b.Continuous), number(b.Intermittent),
			number(b.Largest), number(b.Demand), b.Source, list(b.Missing)})
	}
	for _, day := range r.Days {
		d.Days = append(d.Days, dayRow(day))
	}
	return d
}

func conditionRow(c demand.Condition) ConditionRow {
	row := ConditionRow{Name: c.Name, Configuration: string(c.Configuration), Kind: "declared", Refused: text(c.Refused),
		Limits: []LimitRow{}, Nodes: []NodeRow{}, Cables: []CurrentRow{}, Sources: []SourceRow{}, Takers: []TakerRow{}, Loads: []LoadRow{},
		Supports: []SupportRow{}, Banks: []EnduranceRow{}, Notes: list(c.Notes), Missing: list(c.Missing)}
	switch {
	case len(c.Charging) > 0:
		row.Kind = "charging"
	case c.Name == size.AllOn:
		row.Kind = size.AllOn
	}
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
		row.Sources = append(row.Sources, SourceRow{s.Of.Ref, exact(s.Current), exact(s.Power), s.Of.Nature().Stores})
	}
	for _, t := range c.Takers {
		row.Takers = append(row.Takers, TakerRow{t.Of.String(), exact(t.Voltage), exact(t.Current), exact(t.Power), t.Of.Item.Way != nil})
	}
	for _, l := range c.Solved.Loads {
		row.Loads = append(row.Loads, loadRow(l))
	}
	for _, s := range c.Supports {
		row.Supports = append(row.Supports, SupportRow{refs(s.Givers), refs(s.Stores), number(quantity.Some(s.Gives)), near(quantity.Some(s.Takes)), near(quantity.Some(s.Left()))})
	}
	for _, e := range c.Banks {
		bank := EnduranceRow{e.Of.Ref, near(e.Current), near(e.Power), hours(e.Lasts), near(e.Charge), hours(e.Full), text(e.Bounds), []GiverRow{}}
		for _, g := range e.Givers {
			bank.From = append(bank.From, GiverRow{g.Of.Ref, near(g.Current), g.AtLimit})
		}
		row.Banks = append(row.Banks, bank)
	}
	if l := c.Lowest; l != nil {
		row.Lowest = &LowRow{l.Node, exact(l.Voltage), near(quantity.Some(l.Share))}
	}
	return row
}

func loadRow(l size.Loaded) LoadRow {
	it := l.Of.Item
	row := LoadRow{Ref: it.Ref, Kind: string(it.Kind), Label: text(it.Label), At: text(l.At.String()), VoltageV: exact(l.Voltage), FarV: exact(l.Far),
		CurrentA: exact(l.Current), PowerW: exact(l.Power), HeadroomA: near(l.Left.Left), NotCounted: list(l.Left.Without)}
	if it.Way != nil {
		row.Kind, row.Label = "way", text(it.Way.Label)
	}
	if it.Board != nil {
		for _, w := range it.Board.Ways {
			if w.Spare {
				row.Spare = append(row.Spare, w.Number)
			}
		}
	}
	switch e := l.Left.Binds; {
	case e != nil:
		row.BoundBy, row.LimitA = text(e.Name), number(e.Limit)
		if e.Current.Known && e.Current.Value < 0 && e.Back.Known && !e.Limit.Known {
			row.LimitA = number(e.Back)
		}
	case l.Left.Left.Known:
		row.BoundBy = text("what the network can deliver")
	}
	return row
}

func dayRow(d demand.Day) DayRow {
	row := DayRow{Name: d.Name, Configuration: string(d.Configuration), SunH: hours(d.Sun), YieldPct: number(d.Yield), Arrays: []HarvestRow{},
		SolarWh: near(d.Solar), Parts: []PartRow{}, DemandWh: near(d.Demand), BalanceWh: near(d.Balance), UsableWh: near(d.Store),
		LastsDays: near(d.Lasts), LacksDays: near(d.Lacks), Runs: []RunRow{}, Notes: list(d.Notes), Missing: list(d.Missing)}
	for _, h := range d.Harvests {
		row.Arrays = append(row.Arrays, HarvestRow{h.Of.Ref, near(h.Energy)})
	}
	for _, p := range d.Parts {
		row.Parts = append(row.Parts, PartRow{p.Name, near(quantity.Some(quantity.Number(p.Hours))), near(p.Power), near(p.Energy)})
	}
	for _, run := range d.Runs {
		row.Runs = append(row.Runs, RunRow{refs(run.From), near(quantity.Some(run.Power)), near(quantity.Some(quantity.Number(run.Hours)))})
	}
	return row
}

func hours(o quantity.Opt[quantity.Second]) *float64 {
	return near(quantity.Opt[quantity.Number]{Value: quantity.Number(o.Value / 3600), Known: o.Known})
}

func refs(items []*circuit.Item) []string {
	names := []string{}
	for _, it := range items {
		names = append(names, it.Ref)
	}
	return names
}

// list is never nil, so that it is printed as an empty list.
func list(of []string) []string { return append([]string{}, of...) }

// exact rounds to eight significant digits, and what is next to nothing to 0:
// enough to hold the network against another program's, and still without the
// last bits of a processor's arithmetic.
func exact[T ~float64](o quantity.Opt[T]) *float64 { return digits(o, 8, 1e-9) }

// near rounds to five: what a search came to, or what follows from assumptions.
func near[T ~float64](o quantity.Opt[T]) *float64 { return digits(o, 5, 1e-4) }

func digits[T ~float64](o quantity.Opt[T], significant int, least float64) *float64 {
	v := float64(o.Value)
	if !o.Known || math.IsNaN(v) || math.IsInf(v, 0) {
		return nil
	}
	if v != 0 {
		least = max(least, math.Pow(10, math.Floor(math.Log10(math.Abs(v)))-float64(significant-1)))
		v = math.Round(v/least) / math.Round(1/least)
		if least >= 1 {
			v = math.Round(float64(o.Value)/least) * least
		}
	}
	if v == 0 {
		v = 0 // not -0
	}
	return &v
}

// JSON is the demand as the program's contract names it.
func (d Demand) JSON() ([]byte, error) { return encode(d) }
