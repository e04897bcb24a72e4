package size

import (
	"errors"
	"fmt"
	"math"

	"strake/lang/circuit"
	"strake/lang/quantity"
	"strake/lang/solve"
	"strake/lang/table"
)

// Solved is the network of one condition in one configuration, solved.
type Solved struct {
	Name          string // of the condition
	Configuration circuit.Configuration
	Nodes         []NodeVoltage  // every terminal, in canonical order
	Cables        []CableCurrent // in the order of System.Cables, links left out
	Sources       []SourceCurrent
	Elements      []Element            // what carries current and has a limit
	Loads         []Loaded             // every bar and way
	Supports      []Support            // what feeds loads beside a battery
	Takers        []TakerCurrent       // what takes power by itself, converters not
	Refused       string               // why there is no solution, in plain words; empty when there is one
	Short         bool                 // with Refused: more is asked than the network delivers; else a converter alone is overloaded, or it is no network
	Overloaded    *circuit.Item        // with Refused: the converter that alone is
	Limits        []Deliverable        // with Refused: loads that alone ask for more than their way delivers
	Notes         []string             // what was left off, and why
	Assumptions   []circuit.Assumption // defaults that were used
	Missing       []string             // facts without which parts of the network are not known

	Network solve.Network // as it was solved, for whoever holds it against another program
	Result  *solve.Result // nil when there is none
}

// NodeVoltage is the voltage between the poles of a terminal.
type NodeVoltage struct {
	Node    string
	Number  int // in Network
	Of      circuit.Terminal
	Voltage quantity.Opt[quantity.Volt]
}

// CableCurrent is positive from the text's first end to its second.
type CableCurrent struct {
	Of      *circuit.Cable
	Current quantity.Opt[quantity.Ampere]
	Loss    quantity.Opt[quantity.Watt]
}

// SourceCurrent is positive out of the source; a battery that is charged has a
// negative one.
type SourceCurrent struct {
	Of      *circuit.Item
	At      circuit.Terminal // where it comes out
	Current quantity.Opt[quantity.Ampere]
	Power   quantity.Opt[quantity.Watt]
}

// TakerCurrent is what a load takes at its terminal; below 0 it gives.
type TakerCurrent struct {
	Of      circuit.Terminal
	Voltage quantity.Opt[quantity.Volt]
	Current quantity.Opt[quantity.Ampere]
	Power   quantity.Opt[quantity.Watt]
}

// Deliverable is the most power that a load's way delivers to it.
type Deliverable struct {
	Of    circuit.Terminal
	Asks  quantity.Watt
	Limit quantity.Watt
}

// AllOn is the name of the condition that stands in where none is declared:
// everything on at its rating.
const AllOn = "everything on"

// Conditions solves every declared condition in both configurations, or
// everything on where none is declared. Alternating currents are added as if in
// phase, which is never less than they are.
func Conditions(sys *circuit.System, plan *Plan) []Solved {
	return solveAll(sys, plan, true, circuit.AsHandedOver, circuit.FullyEquipped)
}

// Solutions solves every declared condition of a configuration, or everything on,
// without elements and loads.
func Solutions(sys *circuit.System, plan *Plan, config circuit.Configuration) []Solved {
	return solveAll(sys, plan, false, config)
}

// solveAll solves every declared condition, or everything on, in each of some
// configurations; detailed: with elements and loads.
func solveAll(sys *circuit.System, plan *Plan, detailed bool, configs ...circuit.Configuration) []Solved {
	conditions, everything := sys.Conditions, len(sys.Conditions) == 0
	if everything {
		conditions = []circuit.Condition{{Name: AllOn}}
	}
	fresh := newSizer(sys)
	var list []Solved
	for _, c := range conditions {
		for _, config := range configs {
			b := newBuilder(fresh.again(), plan, c, config, everything)
			b.detailed = detailed
			list = append(list, b.solve())
		}
	}
	return list
}

// SolveCondition solves one condition, without its elements and loads.
func SolveCondition(sys *circuit.System, plan *Plan, c circuit.Condition, config circuit.Configuration) Solved {
	return newBuilder(newSizer(sys), plan, c, config, false).solve()
}

func newBuilder(s *sizer, plan *Plan, c circuit.Condition, config circuit.Configuration, everything bool) *builder {
	copy(s.cables, plan.Cables)
	for i := range s.devices {
		if i < len(plan.Devices) {
			s.devices[i].Rating = plan.Devices[i].Rating
		}
	}
	return &builder{sizer: s, condition: c, config: config, everything: everything, unknown: map[int]bool{}}
}

// heatRounds bounds how often the conductors' temperatures are worked out anew.
const heatRounds = 12

// solve builds the network, and solves it until the temperatures of the
// conductors are those that their currents give.
func (b *builder) solve() Solved {
	out := Solved{Name: b.condition.Name, Configuration: b.config}
	b.build()
	out.Missing, out.Notes, out.Assumptions = b.missing, b.notes, b.sizer.notes.list()
	var r *solve.Result
	for range heatRounds {
		next, err := b.network.SolveFrom(r)
		if r = next; err != nil {
			out.Refused = refusal(err)
			if errors.Is(err, solve.ErrNoSolution) {
				out.Short = true
				out.Limits, out.Refused = b.tooMuch(out.Refused)
			}
			break
		}
		if out.Overloaded, out.Refused = b.overloaded(r); out.Refused != "" || b.warm(b.network.Branches, r) < 1e-12 {
			break
		}
	}
	out.Network, out.Result = b.network, r
	b.report(&out, r)
	if b.detailed {
		b.load(&out, r)
	}
	if out.Refused != "" {
		for i := range out.Nodes {
			out.Nodes[i].Voltage = quantity.Opt[quantity.Volt]{}
		}
		for i := range out.Cables {
			out.Cables[i] = CableCurrent{Of: out.Cables[i].Of}
		}
		for i := range out.Sources {
			out.Sources[i] = SourceCurrent{Of: out.Sources[i].Of, At: out.Sources[i].At}
		}
		for i := range out.Takers {
			out.Takers[i] = TakerCurrent{Of: out.Takers[i].Of}
		}
	}
	return out
}

// overloaded tells of a converter that alone feeds more than it gives: its
// voltage breaks down, and no voltage behind it is known.
func (b *builder) overloaded(r *solve.Result) (*circuit.Item, string) {
	for i, c := range b.network.Converters {
		if !r.Limited[i] || r.Live[c.OutPlus] {
			continue
		}
		out := b.pairs[i][0]
		asks := 0.0
		for k, t := range b.loads {
			if l := b.network.Loads[k]; b.group[b.wiring.node[t]] == b.group[b.wiring.node[out]] {
				asks += l.Amps + l.Watts/c.Volt
			}
		}
		return out.Item, fmt.Sprintf("%s gives %s at most, and %s is asked of what feeds beside it", out.Item.Ref, quantity.Ampere(c.Limit), quantity.Ampere(asks))
	}
	return nil, ""
}

func refusal(err error) string {
	if errors.Is(err, solve.ErrNoSolution) {
		return "the loads ask for more power than the network can deliver"
	}
	return err.Error()
}

// tooMuch names what a network without a solution delivers.
func (b *builder) tooMuch(text string) ([]Deliverable, string) {
	short := b.network.Shortfall()
	var limits []Deliverable
	for _, l := range short.Loads {
		if t := b.loads[l.Load]; t.Item != nil {
			limits = append(limits, Deliverable{t, quantity.Watt(b.network.Loads[l.Load].Watts), quantity.Watt(l.Watts)})
		}
	}
	if short.Share > 0 {
		text = fmt.Sprintf("%s: it delivers %.0f %% of it", text, math.Floor(100*short.Share))
	}
	return limits, text
}

// warm gives each cable the resistance at the temperature of its current, and
// tells by how much the one moved, relatively, that moved most.
func (b *builder) warm(branches []solve.Branch, r *solve.Result) float64 {
	moved := 0.0
	for k, i := range b.wiring.cable {
		c := &b.cables[i]
		if b.cold[k] == 0 {
			continue
		}
		at := b.carry(c.Of, b.surround(i), c.Area.Value, c.Parallel)
		length, _ := loop(c.Of)
		ohm := math.Max(least, impedance(c.Of, table.AtTemperature(b.cold[k], at.heat(math.Abs(r.Branches[k]))), length, c.Parallel))
		moved = math.Max(moved, math.Abs(ohm-branches[k].Ohm)/ohm)
		branches[k].Ohm = ohm
	}
	return moved
}

// firstOf is the terminal of the string whose positive end a battery is, or the
// terminal itself.
func (b *builder) firstOf(t circuit.Terminal) circuit.Terminal {
	for t.Port == "" && t.Item.MemberOf != nil && t.Item.MemberOf.Bank.Members[0] == t.Item && len(b.net.Cables(t)) == 0 {
		t = circuit.Terminal{Item: t.Item.MemberOf}
	}
	return t
}

// power is by how much the watts at a terminal are more than volts times amperes.
func (b *builder) power(t circuit.Terminal) float64 {
	if !alternating(t) {
		return 1
	}
	return phases(domainOf(t)) * b.factor(t, deepest)
}

// report reads the result out by terminals, cables and sources. What is not
// known, or not live, has none.
func (b *builder) report(out *Solved, r *solve.Result) {
	known := func(n int) bool { return b.known(r, n) }
	for _, t := range b.wiring.order {
		n := b.wiring.node[b.firstOf(t)]
		v := NodeVoltage{Node: t.String(), Number: n + 1, Of: t}
		if known(n) {
			v.Voltage = quantity.Some(quantity.Volt(r.Volts[n+1]))
		}
		out.Nodes = append(out.Nodes, v)
	}
	branch := map[int]int{}
	for k, i := range b.wiring.cable {
		branch[i] = k
	}
	for i := range b.cables {
		c := b.cables[i].Of
		if c.Link {
			continue
		}
		row := CableCurrent{Of: c}
		if k, ok := branch[i]; ok && known(b.wiring.branches[k].From) {
			amps := r.Branches[k]
			row.Current = quantity.Some(quantity.Ampere(amps))
			row.Loss = quantity.Some(quantity.Watt(float64(amps*amps) * b.network.Branches[k].Ohm * phases(c.Domain)))
		}
		out.Cables = append(out.Cables, row)
	}
	for _, p := range b.given {
		row := SourceCurrent{Of: p.at.Item, At: p.at}
		if known(p.node) {
			amps := p.amps(r)
			row.Current = quantity.Some(quantity.Ampere(amps))
			row.Power = quantity.Some(quantity.Watt(amps * p.volts(r) * b.power(p.at)))
		}
		out.Sources = append(out.Sources, row)
	}
	for k, t := range b.loads {
		if t.Item.Nature().Converts {
			continue
		}
		row := TakerCurrent{Of: t}
		if n := b.wiring.node[t]; known(n) {
			volt, amps := r.Volts[n+1], r.Loads[k]
			row.Voltage, row.Current = quantity.Some(quantity.Volt(volt)), quantity.Some(quantity.Ampere(amps))
			power := volt * amps
			if d := domainOf(t); alternating(t) {
				power *= phases(d) * powerFactor(t.Item)
			}
			row.Power = quantity.Some(quantity.Watt(power))
		}
		out.Takers = append(out.Takers, row)
	}
}
