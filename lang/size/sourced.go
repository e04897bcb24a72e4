package size

import (
	"slices"

	"strake/lang/circuit"
	"strake/lang/quantity"
)

// Sourced is a charging situation: one source on, all chargers that it reaches at
// their rating, no load.
type Sourced struct {
	Solved
	From []*circuit.Item // the source; of the situation with everything on, all of them
}

// Charging solves, in a configuration, what each source charges: shore, a
// generator, an alternator, a wind generator, each by itself, the arrays at their
// rated power, and all together where there is more than one. One that charges
// nothing is left out.
func Charging(sys *circuit.System, plan *Plan, config circuit.Configuration) []Sourced {
	net := circuit.NewNet(sys)
	var sources, arrays []*circuit.Item
	for _, it := range sys.Items {
		switch {
		case !it.Status.In(config) || !it.Nature().Source || it.Nature().Stores:
		case it.Kind == "array":
			arrays = append(arrays, it)
		default:
			sources = append(sources, it)
		}
	}
	fresh := newSizer(sys)
	var list []Sourced
	try := func(name string, from []*circuit.Item) bool {
		if len(from) == 0 {
			return false
		}
		c, taken := charging(net, from)
		c.Name = name
		b := newBuilder(fresh.again(), plan, c, config, false)
		b.detailed = true
		s := Sourced{b.solve(), taken}
		charges := slices.ContainsFunc(s.Sources, func(g SourceCurrent) bool {
			return g.Of.Nature().Stores && g.Current.Known && g.Current.Value < -1e-3
		})
		if charges || s.Refused != "" || len(s.Missing) > 0 {
			list = append(list, s)
		}
		return charges
	}
	count := 0
	for _, it := range sources {
		if try("charging from "+it.Ref, []*circuit.Item{it}) {
			count++
		}
	}
	if try("charging from "+refList(arrays), arrays) {
		count++
	}
	if count > 1 {
		try("charging from everything", append(sources, arrays...))
	}
	return list
}

// charging is the condition in which sources charge all that they reach. Of
// sources that a changeover keeps apart the first is taken.
func charging(net *circuit.Net, from []*circuit.Item) (c circuit.Condition, taken []*circuit.Item) {
	position := map[*circuit.Item]string{}
	on := map[*circuit.Item]bool{}
	add := func(s circuit.Setting) {
		if !on[s.Item] {
			on[s.Item] = true
			c.Settings = append(c.Settings, s)
		}
	}
	for _, it := range from {
		if it.Kind == "array" {
			f := it.Facts
			if f.Power.Known() {
				modules := float64(max(1, f.InSeries) * max(1, f.InParallel))
				add(circuit.Setting{Item: it, Power: circuit.Fact[quantity.Watt]{Value: quantity.Watt(modules) * f.Power.Value, State: circuit.Stated}})
			}
			taken = append(taken, it)
			continue
		}
		ports := map[*circuit.Item]string{}
		reached := net.Reach([]circuit.Terminal{{Item: it}}, circuit.View{Through: true})
		apart := false
		for _, t := range reached {
			if t.Item.Kind == "changeover" && t.Port != "out" && slices.ContainsFunc(net.Origin([]circuit.Terminal{t}, circuit.View{Open: map[*circuit.Item]bool{t.Item: true}, Through: true}),
				func(o circuit.Terminal) bool { return o.Item == it }) {
				ports[t.Item] = t.Port
				apart = apart || position[t.Item] != "" && position[t.Item] != t.Port
			}
		}
		if apart {
			continue
		}
		for _, x := range net.System.Items {
			if p, ok := ports[x]; ok {
				position[x] = p
				add(circuit.Setting{Item: x, Port: p, On: true})
			}
		}
		add(circuit.Setting{Item: it, On: true})
		taken = append(taken, it)
		view := circuit.View{Position: position, Through: true}
		for _, t := range net.Reach([]circuit.Terminal{{Item: it}}, view) {
			switch {
			case t.Item.Kind == "charger":
				add(circuit.Setting{Item: t.Item, On: true})
			case t.Item.Kind == "inverter-charger" && circuit.IsInput(t.Port):
				add(circuit.Setting{Item: t.Item, Charge: true})
			}
		}
	}
	return c, taken
}
