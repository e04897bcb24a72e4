package demand

import (
	"fmt"
	"slices"

	"strake/lang/circuit"
	"strake/lang/quantity"
	"strake/lang/size"
	"strake/lang/table"
)

// Bank is what a store holds: one battery, a bank, or packs that meet on a bus,
// under the name of the bus.
type Bank struct {
	Of         *circuit.Item
	Members    []*circuit.Item // what the network has as sources: batteries, and strings of them
	Capacity   quantity.Opt[quantity.AmpereHour]
	Voltage    quantity.Opt[quantity.Volt] // nominal
	Usable     quantity.Opt[quantity.Percent]
	Energy     quantity.Opt[quantity.WattHour] // usable
	Accepts    quantity.Opt[quantity.Ampere]   // largest charge
	Efficiency float64                         // ampere-hours out of those put in
	Lead       bool                            // its acceptance falls off before it is full
	Assumed    []circuit.Assumption            // what was not stated, and taken
	Missing    []string
}

// usableCapacity is what may be taken out of a full bank.
func (b *Bank) usableCapacity() (float64, bool) {
	return float64(b.Capacity.Value) * float64(b.Usable.Value) / 100, b.Capacity.Known && b.Usable.Known
}

// banks gathers the stores, in the order of System.Items.
func banks(sys *circuit.System) []*Bank {
	var list []*Bank
	taken := map[*circuit.Item]bool{}
	for _, it := range sys.Items {
		if len(it.Packs) < 2 {
			continue
		}
		var members []*circuit.Item
		for _, p := range it.Packs {
			if !taken[p] && p.Status != circuit.Removed {
				taken[p] = true
				members = append(members, sources(p)...)
			}
		}
		if len(members) > 0 {
			list = append(list, newBank(it, members))
		}
	}
	for _, it := range sys.Items {
		if it.Nature().Stores && it.MemberOf == nil && !taken[it] && it.Status != circuit.Removed {
			list = append(list, newBank(it, sources(it)))
		}
	}
	slices.SortStableFunc(list, func(a, b *Bank) int { return circuit.Compare(a.Of.Ref, b.Of.Ref) })
	return list
}

// sources is what stands for a store in the network: a bank side by side has its
// members, a string is one.
func sources(it *circuit.Item) []*circuit.Item {
	if it.Bank == nil || it.Bank.Series || len(it.Bank.Members) == 0 {
		return []*circuit.Item{it}
	}
	var list []*circuit.Item
	for _, m := range it.Bank.Members {
		list = append(list, sources(m)...)
	}
	return list
}

func newBank(of *circuit.Item, members []*circuit.Item) *Bank {
	b := &Bank{Of: of, Members: members, Efficiency: 1}
	energy := 0.0
	for i, m := range members {
		s := hold(m)
		b.Missing = append(b.Missing, s.Missing...)
		for _, a := range s.Assumed {
			a.On = of.Ref
			if !slices.Contains(b.Assumed, a) {
				b.Assumed = append(b.Assumed, a)
			}
		}
		b.Lead = b.Lead || s.Lead
		b.Efficiency = min(b.Efficiency, s.Efficiency)
		if i == 0 {
			b.Capacity, b.Voltage, b.Usable, b.Accepts = s.Capacity, s.Voltage, s.Usable, s.Accepts
			energy = s.wattHours()
			continue
		}
		b.Capacity, b.Accepts = sum(b.Capacity, s.Capacity), sum(b.Accepts, s.Accepts)
		b.Usable, b.Voltage = lesser(b.Usable, s.Usable), lesser(b.Voltage, s.Voltage)
		energy += s.wattHours()
	}
	if b.Capacity.Known && b.Voltage.Known && b.Usable.Known {
		b.Energy = quantity.Some(quantity.WattHour(energy * float64(b.Usable.Value) / 100))
	}
	return b
}

func (b *Bank) wattHours() float64 { return float64(b.Capacity.Value) * float64(b.Voltage.Value) }

// sum and lesser are not known unless both are.
func sum[T ~float64](a, b quantity.Opt[T]) quantity.Opt[T] {
	if !a.Known || !b.Known {
		return quantity.Opt[T]{}
	}
	return quantity.Some(a.Value + b.Value)
}

func lesser[T ~float64](a, b quantity.Opt[T]) quantity.Opt[T] {
	if !a.Known || !b.Known {
		return quantity.Opt[T]{}
	}
	return quantity.Some(min(a.Value, b.Value))
}

// hold is what one battery or one string holds.
func hold(it *circuit.Item) *Bank {
	b := &Bank{Of: it, Efficiency: 1}
	f := it.Facts
	b.Capacity, b.Voltage, b.Usable = f.Capacity.Opt(), f.Voltage.Opt(), f.Usable.Opt()
	if it.Bank != nil && len(it.Bank.Members) > 0 {
		var total, least quantity.Opt[quantity.AmpereHour]
		volts, usable := quantity.Opt[quantity.Volt]{}, quantity.Opt[quantity.Percent]{}
		for i, m := range it.Bank.Members {
			one := hold(m)
			b.Lead, b.Efficiency = b.Lead || one.Lead, min(b.Efficiency, one.Efficiency)
			b.Assumed = one.Assumed
			if i == 0 {
				total, least, volts, usable = one.Capacity, one.Capacity, one.Voltage, one.Usable
				continue
			}
			total, least, usable = sum(total, one.Capacity), lesser(least, one.Capacity), lesser(usable, one.Usable)
			if it.Bank.Series {
				volts = sum(volts, one.Voltage)
			}
		}
		if !b.Capacity.Known {
			if b.Capacity = total; it.Bank.Series {
				b.Capacity = least
			}
		}
		if !b.Voltage.Known {
			b.Voltage = volts
		}
		if !b.Usable.Known {
			b.Usable = usable
		}
	} else if c, ok := table.ReturnedOf(f.Chemistry); ok {
		b.Efficiency, b.Lead = c.Value.Ampere, f.Chemistry != "lfp"
		b.assume(fmt.Sprintf("gives back %g %% of the ampere-hours put in", 100*c.Value.Ampere), c.Source)
		if f.Usable.State == circuit.Unstated {
			b.Usable = quantity.Some(c.Value.Usable)
			b.assume(fmt.Sprintf("%g %% of the capacity is used", float64(c.Value.Usable)), c.Source)
		}
	}
	if !b.Voltage.Known && it.Domain != nil {
		b.Voltage = it.Domain.Nominal.Opt()
	}
	var byTable bool
	if b.Accepts, byTable = size.Acceptance(it); byTable {
		b.assume("accepts a share of its capacity as charge", byChemistry)
	}
	if gives, byTable := size.Discharge(it); byTable {
		b.assume(fmt.Sprintf("gives %s at most", gives.Value), byChemistry)
	}
	for _, m := range []struct {
		known bool
		what  string
	}{{b.Capacity.Known, "capacity"}, {b.Voltage.Known, "voltage"}, {b.Usable.Known, "chemistry or usable share"}} {
		if !m.known {
			b.Missing = append(b.Missing, m.what+" of "+it.Ref)
		}
	}
	return b
}

const byChemistry = "table of chemistries, from memory, verify with the maker"

func (b *Bank) assume(text, source string) {
	b.Assumed = append(b.Assumed, circuit.Assumption{On: b.Of.Ref, Text: text, Source: source})
}

// Endurance is what a bank gives or takes in a condition, and for how long.
type Endurance struct {
	*Bank
	Current quantity.Opt[quantity.Ampere] // out of it; below 0 it is charged
	Power   quantity.Opt[quantity.Watt]
	Lasts   quantity.Opt[quantity.Second] // from full until what is usable is out
	Charge  quantity.Opt[quantity.Ampere] // what goes in, no more than it accepts and the source gives
	Full    quantity.Opt[quantity.Second] // until what was used is in again, without the tail of the charge
	Bounds  string                        // why less goes in than the network would give
	Givers  []Giver                       // of a charging situation: what charges it
}

// Giver is what charges a bank, and whether it is at its limit.
type Giver struct {
	size.SourceCurrent
	AtLimit bool
}

const hour = 3600

// endurance adds up what a bank's members do.
func (b *Bank) endurance(s size.Solved) Endurance {
	e := Endurance{Bank: b}
	amps, watts, known := 0.0, 0.0, true
	for _, m := range b.Members {
		if !m.Status.In(s.Configuration) {
			continue
		}
		i := slices.IndexFunc(s.Sources, func(c size.SourceCurrent) bool { return c.Of == m })
		if i < 0 || !s.Sources[i].Current.Known || s.Refused != "" {
			known = false
			break
		}
		amps += float64(s.Sources[i].Current.Value)
		watts += float64(s.Sources[i].Power.Value)
	}
	if !known {
		return e
	}
	e.Current, e.Power = quantity.Some(quantity.Ampere(amps)), quantity.Some(quantity.Watt(watts))
	capacity, ok := b.usableCapacity()
	switch {
	case amps > 1e-6 && ok:
		e.Lasts = quantity.Some(quantity.Second(capacity / amps * hour))
	case amps < -1e-6:
		e.accept(-amps)
	}
	return e
}

// accept sets what goes into a bank, and how long it takes. Coulombs are counted:
// what went out goes in again, and what the chemistry loses of it besides.
func (e *Endurance) accept(amps float64) {
	if e.Accepts.Known && amps > float64(e.Accepts.Value)*(1+1e-4) {
		amps = float64(e.Accepts.Value)
		e.Bounds = fmt.Sprintf("it accepts %s", e.Accepts.Value)
	}
	e.Charge = quantity.Some(quantity.Ampere(amps))
	if capacity, ok := e.usableCapacity(); ok && amps > 0 {
		e.Full = quantity.Some(quantity.Second(capacity / amps / e.Efficiency * hour))
	}
}

// restrict holds a charging situation to what its source is good for: chargers
// that together ask for more than a 16 A inlet have to be set lower.
func (c *Condition) restrict() {
	worst, name := 1.0, ""
	for _, e := range c.Elements {
		if e.Of == nil || !slices.Contains(c.Charging, e.Of) || !e.Limit.Known || !e.Current.Known || e.Limit.Value <= 0 {
			continue
		}
		if r := float64(e.Current.Value / e.Limit.Value); r > worst*(1+1e-9) {
			worst, name = r, fmt.Sprintf("%s gives %s, and %s is asked of it", e.Of.Ref, e.Limit.Value, e.Current.Value)
		}
	}
	if name == "" {
		return
	}
	for i := range c.Banks {
		e := &c.Banks[i]
		if e.Current.Known && e.Current.Value < -1e-6 {
			if most := -float64(e.Current.Value) / worst; most < float64(e.Charge.Value) {
				e.accept(most)
				e.Bounds = name
			}
		}
	}
}

// givers is what charges a bank in a situation: the outputs from which current
// gets to it without another conversion.
func givers(sys *circuit.System, s size.Solved, bank *circuit.Item) []Giver {
	net := circuit.NewNet(sys)
	var list []Giver
	for _, t := range net.Origin([]circuit.Terminal{{Item: bank}}, circuit.View{Configuration: s.Configuration}) {
		if t.Item.Nature().Stores || t.Port == "in" {
			continue
		}
		for _, c := range s.Sources {
			if c.Of != t.Item || c.At != t || !c.Current.Known || c.Current.Value <= 1e-6 {
				continue
			}
			g := Giver{SourceCurrent: c}
			for _, e := range s.Elements {
				g.AtLimit = g.AtLimit || e.Of == c.Of && e.Limit.Known && e.Current.Known && float64(e.Current.Value) >= float64(e.Limit.Value)*(1-1e-6)
			}
			list = append(list, g)
		}
	}
	return list
}
