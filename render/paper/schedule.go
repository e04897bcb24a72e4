// Package paper owns the documents beside the drawing: schedules of cables,
// protection and boards, as values with the keys of the program's JSON and as
// text for a terminal. It reads the circuit and the plan and computes nothing
// electrical.
package paper

import (
	"bytes"
	"encoding/json"
	"math"

	"strake/lang/circuit"
	"strake/lang/quantity"
	"strake/lang/size"
)

// Schedule is all the rows; the tags are the released names. Unknown is nil,
// printed null, never 0.
type Schedule struct {
	Cables      []CableRow      `json:"cables"`
	Protection  []ProtectionRow `json:"protection"`
	Boards      []BoardRow      `json:"boards"`
	Bonds       []BondRow       `json:"bonds"`
	Assumptions []AssumptionRow `json:"assumptions"`
	Copper      *CopperRow      `json:"proposed_copper"`
}

// CopperRow is the copper of the sizes that were proposed, out and back, and what
// no choice of sizes can be below. Without a proposed size there is none.
type CopperRow struct {
	KG      float64 `json:"kg"`
	BoundKG float64 `json:"bound_kg"`
}

// density is that of copper in kg for each mm²·m.
const density = 8.89e-3

// CableRow is one power cable.
type CableRow struct {
	ID                string   `json:"id"`
	From              string   `json:"from"`
	To                string   `json:"to"`
	Line              int      `json:"line"`
	LengthM           *float64 `json:"length_m"`
	AreaMM2           *float64 `json:"area_mm2"`
	Parallel          int      `json:"parallel"`
	Gauge             *string  `json:"gauge"`
	Stated            bool     `json:"stated"`
	GovernedBy        *string  `json:"governed_by"`
	DesignCurrentA    *float64 `json:"design_current_a"`
	DesignCase        *string  `json:"design_case"`
	AmpacityA         *float64 `json:"ampacity_a"`
	Protection        []string `json:"protection"`
	ProtectionA       *float64 `json:"protection_a"`
	DropV             *float64 `json:"drop_v"`
	CumulativeDropV   *float64 `json:"cumulative_drop_v"`
	CumulativeDropPct *float64 `json:"cumulative_drop_percent"`
	DropISOPct        *float64 `json:"drop_iso_percent"`
	DropMilsPct       *float64 `json:"drop_circular_mils_percent"`
	DropLimitPct      *float64 `json:"drop_limit_percent"`
	Result            *string  `json:"result"`
	FaultMaxA         *float64 `json:"fault_current_max_a"`
	FaultMinA         *float64 `json:"fault_current_min_a"`
	OpensInS          *float64 `json:"opens_in_s"`
	HoldsToM          *float64 `json:"holds_to_m"`
	MostProtectionA   *float64 `json:"most_protection_a"`
	Basis             *string  `json:"ampacity_basis"`
	WouldDoMM2        *float64 `json:"would_do_mm2"`
	Status            string   `json:"status"`

	link   bool
	chosen bool
}

// ProtectionRow is one protective device.
type ProtectionRow struct {
	Ref       string   `json:"ref"`
	Kind      string   `json:"kind"`
	RatingA   *float64 `json:"rating_a"`
	VoltageV  *float64 `json:"voltage_v"`
	BreaksA   *float64 `json:"breaks_a"`
	NodeMaxV  *float64 `json:"node_voltage_max_v"`
	FaultMaxA *float64 `json:"fault_current_max_a"`
	LoopOhm   *float64 `json:"loop_limit_ohm"`
	Protects  []string `json:"protects"`
	Place     *string  `json:"place"`
	Status    string   `json:"status"`

	chosen bool
}

// BondRow is one bonding or protective conductor.
type BondRow struct {
	ID       string   `json:"id"`
	From     string   `json:"from"`
	To       string   `json:"to"`
	LengthM  *float64 `json:"length_m"`
	AreaMM2  *float64 `json:"area_mm2"`
	LeastMM2 float64  `json:"least_mm2"`
	Beside   *string  `json:"beside"`
	Status   string   `json:"status"`

	chosen bool
}

// BoardRow is one board with its ways.
type BoardRow struct {
	Ref   string   `json:"ref"`
	Ways  []WayRow `json:"ways"`
	Spare []int    `json:"spare"`

	label string
}

// WayRow is one way that is in use or prepared.
type WayRow struct {
	Way     int      `json:"way"`
	Label   *string  `json:"label"`
	RatingA *float64 `json:"rating_a"`
	LoadW   *float64 `json:"load_w"`
	Cable   *string  `json:"cable"`
	Status  string   `json:"status"`
}

// NewSchedule gathers the rows in the circuit's canonical order.
func NewSchedule(sys *circuit.System, plan *size.Plan) Schedule {
	s := Schedule{Cables: []CableRow{}, Protection: []ProtectionRow{}, Boards: []BoardRow{}, Bonds: []BondRow{}, Assumptions: assumptions(sys.Assumptions, plan.Assumptions)}
	for _, c := range plan.Cables {
		s.Cables = append(s.Cables, cableRow(c))
	}
	devices := map[*circuit.Item]size.Device{}
	for _, d := range plan.Devices {
		devices[d.Of] = d
		if protective(d.Of.Kind) {
			s.Protection = append(s.Protection, protectionRow(d))
		}
	}
	for _, b := range plan.Bonds {
		if b.Of.Link {
			continue
		}
		row := BondRow{ID: b.Of.ID, From: endName(b.Of.From), To: endName(b.Of.To), LengthM: number(b.Of.Length.Opt()),
			AreaMM2: number(b.Area), LeastMM2: float64(b.Least), Status: b.Of.Status.String(), chosen: b.Chosen}
		if b.Beside != nil {
			row.Beside = text(b.Beside.ID)
		}
		s.Bonds = append(s.Bonds, row)
	}
	if c := plan.Copper; c.Proposed > 0 {
		s.Copper = &CopperRow{math.Round(c.Proposed*density*1000) / 1000, math.Round(c.Bound*density*1000) / 1000}
	}
	for _, it := range sys.Items {
		if it.Board != nil {
			s.Boards = append(s.Boards, boardRow(it, devices))
		}
	}
	return s
}

// protective tells the devices that open by themselves.
func protective(k circuit.Kind) bool {
	switch k {
	case "fuse", "breaker", "rcd", "rcbo":
		return true
	}
	return false
}

func cableRow(c size.Cable) CableRow {
	row := CableRow{
		ID: c.Of.ID, From: endName(c.Of.From), To: endName(c.Of.To), Line: c.Of.Span.From().Line,
		LengthM: number(c.Of.Length.Opt()), AreaMM2: number(c.Area), Parallel: max(1, c.Parallel), Gauge: text(gauge(c)),
		Stated: c.Stated, GovernedBy: text(c.GovernedBy),
		DesignCurrentA: number(c.DesignCurrent), DesignCase: text(c.DesignCase), AmpacityA: number(c.Ampacity),
		Protection: []string{}, ProtectionA: number(c.ProtectionRating),
		DropV: number(c.Drop), CumulativeDropV: number(c.Cumulative), CumulativeDropPct: number(c.CumulativePercent),
		DropISOPct: number(c.ISOPercent), DropMilsPct: number(c.MilsPercent), DropLimitPct: number(c.Limit), Result: text(c.Result),
		FaultMaxA: number(c.FaultMax), FaultMinA: number(c.FaultMin),
		OpensInS: number(c.OpensIn), HoldsToM: number(c.HoldsTo), MostProtectionA: number(c.MostProtection),
		Basis: text(c.AmpacityBasis), WouldDoMM2: number(c.Needs), Status: c.Of.Status.String(),
		link: c.Of.Link, chosen: c.Chosen,
	}
	for _, p := range c.Protection {
		row.Protection = append(row.Protection, p.Ref)
	}
	return row
}

// gauge is a cable's American gauge, stated or chosen, as the text writes it.
func gauge(c size.Cable) string {
	if c.Chosen {
		return c.Gauge
	}
	return c.Of.AWG
}

func protectionRow(d size.Device) ProtectionRow {
	row := ProtectionRow{
		Ref: d.Of.Ref, Kind: string(d.Of.Kind), RatingA: number(d.Rating), VoltageV: number(d.Voltage),
		BreaksA: number(d.Breaks), NodeMaxV: number(d.NodeMax), FaultMaxA: number(d.FaultMax), LoopOhm: number(d.Loop),
		Protects: []string{}, Status: d.Of.Status.String(), chosen: d.Chosen,
	}
	for _, c := range d.Protects {
		row.Protects = append(row.Protects, c.ID)
	}
	if d.Of.Place != nil {
		row.Place = text(d.Of.Place.Name)
	}
	return row
}

func boardRow(it *circuit.Item, devices map[*circuit.Item]size.Device) BoardRow {
	board := BoardRow{Ref: it.Ref, Ways: []WayRow{}, Spare: []int{}, label: it.Label}
	for _, w := range it.Board.Ways {
		if w.Spare {
			board.Spare = append(board.Spare, w.Number)
			continue
		}
		row := WayRow{Way: w.Number, Label: text(w.Label), Status: w.Status.String()}
		if w.Device != nil {
			row.RatingA = number(devices[w.Device].Rating)
		}
		if w.Load != nil {
			row.LoadW = number(w.Load.Facts.Power.Opt())
		}
		if w.Cable != nil {
			row.Cable = text(w.Cable.ID)
		}
		board.Ways = append(board.Ways, row)
	}
	return board
}

// endName calls an end as the text does.
func endName(e circuit.End) string {
	switch {
	case e.Capped != nil:
		return "capped at " + e.Capped.Name
	case e.Item == nil:
		return "untraced"
	}
	name := e.Item.Ref
	if e.Port != "" {
		name += "." + e.Port
	}
	if e.Pole != circuit.AllPoles {
		name += "." + string(e.Pole)
	}
	return name
}

// number rounds to six significant digits, so that the last bits of a
// processor's arithmetic never reach the output.
func number[T ~float64](o quantity.Opt[T]) *float64 {
	v := float64(o.Value)
	if !o.Known || math.IsNaN(v) || math.IsInf(v, 0) {
		return nil
	}
	if v != 0 {
		digits := math.Pow(10, 5-math.Floor(math.Log10(math.Abs(v))))
		v = math.Round(v*digits) / digits
	}
	return &v
}

func text(s string) *string {
	if s == "" {
		return nil
	}
	return &s
}

// JSON is the schedule as the program's contract names it.
func (s Schedule) JSON() ([]byte, error) { return encode(s) }

// encode prints rows as JSON, a key a line and no sign escaped.
func encode(rows any) ([]byte, error) {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	err := e.Encode(rows)
	return b.Bytes(), err
}
