package resolve

import (
	"slices"

	"strake/lang/circuit"
)

// assume lists what the text leaves open and the compiler takes as given, and
// what it read but does not use yet.
func (r *resolver) assume() {
	for _, it := range r.sys.Items {
		if it.Kind == "inlet" && it.Domain != nil && it.Domain.AC && !it.Facts.NeutralEarthed && !it.Facts.NeutralFloating {
			r.assumed(it.Ref, "its neutral is earthed ashore", commonPractice, it.Span)
		}
	}
	for _, it := range r.sys.Items {
		if it.Kind == "converter" && !it.Facts.OneWay && !it.Facts.BothWays {
			r.assumed(it.Ref, "gives nothing back to its input, as neither `one way` nor `both ways` is stated", commonPractice, it.Span)
		}
	}
	r.gather()
	if slices.ContainsFunc(r.sys.Readings, func(m circuit.Reading) bool { return !m.Judged() }) {
		r.assumed("craft", "measured voltages, currents, resistances, loops and temperatures are kept, and held against nothing", "", r.sys.Craft.Span)
	}
}

// gather finds the packs that meet on a bus, each through devices of its own:
// they are a bank under the name of the bus.
func (r *resolver) gather() {
	net := circuit.NewNet(r.sys)
	for _, it := range r.sys.Items {
		if it.MemberOf != nil || it.Kind != "battery" && it.Kind != "bank" {
			continue
		}
		start := circuit.Terminal{Item: it}
		seen := map[circuit.Terminal]bool{start: true}
		for queue := []circuit.Terminal{start}; len(queue) > 0; queue = queue[1:] {
			at := queue[0]
			if at != start && at.Item.Nature().Ends == circuit.OneEnd {
				if at.Item.Kind == "bus" && !slices.Contains(at.Item.Packs, it) {
					at.Item.Packs = append(at.Item.Packs, it)
				}
				continue
			}
			for _, st := range net.Downstream(at, circuit.View{}) {
				if !seen[st.To] {
					seen[st.To] = true
					queue = append(queue, st.To)
				}
			}
		}
	}
	for _, it := range r.sys.Items {
		if len(it.Packs) < 2 {
			it.Packs = nil
		}
		slices.SortFunc(it.Packs, func(a, b *circuit.Item) int { return circuit.Compare(a.Ref, b.Ref) })
	}
}
