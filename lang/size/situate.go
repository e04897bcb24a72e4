package size

import (
	"slices"
	"strings"

	"strake/lang/circuit"
)

// situate finds what is on, which way changeovers stand, and whether
// inverter-chargers pass through.
func (b *builder) situate() {
	set, position := b.said(b.condition)
	set.config = b.config
	b.set, b.at = set, situation{config: b.config, position: position, off: map[*circuit.Item]bool{}}
	for _, it := range b.sys.Items {
		if it.Kind == "changeover" && b.at.position[it] == "" {
			b.at.position[it] = b.usual(it)
		}
		if set.opened(it) {
			b.at.off[it] = true
		}
	}
	b.exclude()
	b.followCoils()
	b.fedFromShore()
}

// runs tells whether something takes or passes current in the condition.
func (b *builder) runs(it *circuit.Item) bool {
	x, named := b.set.by[it]
	n := it.Nature()
	switch {
	case named:
		return !x.Off
	case n.Opens || n.Protects:
		return !b.at.off[it]
	case n.Load, it.Kind == "charger":
		return b.everything || b.wayOn(it)
	case n.Source:
		return it.Nature().Stores || b.on(it)
	}
	return true
}

// exclude leaves off what an interlock that something enforces keeps off: of two
// that never run together the one that the condition does not name itself, else
// the smaller. A habit keeps nothing off.
func (b *builder) exclude() {
	running := func(list []*circuit.Item) bool { return slices.ContainsFunc(list, b.runs) }
	for _, l := range b.sys.Interlocks {
		out, why := l.First, ""
		switch {
		case !l.Enforced || !running(l.First):
			continue
		case l.Only && !running(l.Second):
			why = "runs only with " + refList(l.Second)
		case !l.Only && running(l.Second):
			other := l.Second
			if first, second := b.named(l.First), b.named(l.Second); first && !second || first == second && b.asks(l.First) >= b.asks(l.Second) {
				out, other = l.Second, l.First
			}
			why = "never runs with " + refList(other)
		default:
			continue
		}
		for _, it := range out {
			b.set.by[it] = circuit.Setting{Item: it, Off: true}
			if n := it.Nature(); n.Opens || n.Protects {
				b.at.off[it] = true
			}
		}
		b.notes = append(b.notes, refList(out)+" is left off: it "+why+" ("+l.By.Ref+")")
	}
}

func refList(list []*circuit.Item) string {
	var refs []string
	for _, it := range list {
		refs = append(refs, it.Ref)
	}
	return strings.Join(refs, ", ")
}

func (b *builder) named(list []*circuit.Item) bool {
	return slices.ContainsFunc(list, func(it *circuit.Item) bool { _, ok := b.set.by[it]; return ok })
}

// asks is the power that things take at their rating.
func (b *builder) asks(list []*circuit.Item) float64 {
	watts := 0.0
	for _, it := range list {
		for _, p := range it.Ports {
			t := circuit.Terminal{Item: it, Port: p.Name}
			if v, ok := b.lowest(domainOf(t)); ok {
				i, _ := b.sizer.demand(t, b.at.passes(it))
				watts += float64(i) * float64(v) * phases(domainOf(t))
			}
		}
	}
	return watts
}

// followCoils opens and closes the contactors whose coil is wired: closed with a
// live coil, open with a dead one. What the condition names stays as it says.
func (b *builder) followCoils() {
	for range len(b.sys.Items) { // one contactor may feed another's coil; a ring of them ends here
		moved := false
		for _, it := range b.sys.Items {
			coil := circuit.Terminal{Item: it, Port: "coil"}
			if _, named := b.set.by[it]; named || it.Kind != "contactor" || !it.Status.In(b.config) || len(b.net.Cables(coil)) == 0 {
				continue
			}
			if dead := !b.energised(coil); dead != b.at.off[it] {
				b.at.off[it], moved = dead, true
			}
		}
		if !moved {
			return
		}
	}
}

// energised tells whether a source that is on reaches a terminal.
func (b *builder) energised(t circuit.Terminal) bool {
	open := map[*circuit.Item]bool{}
	for it, off := range b.at.off {
		open[it] = off
	}
	for it, x := range b.set.by {
		if x.Off {
			open[it] = true
		}
	}
	view := circuit.View{Configuration: b.config, Position: b.at.position, Open: open, Through: true}
	return slices.ContainsFunc(b.net.Supplies(t, view), func(p circuit.Supply) bool {
		return p.Item.Nature().Source && p.Item.Kind != "array" && b.runs(p.Item)
	})
}

// usual is where a changeover stands unless it is said: off, or where the text
// says that it usually is; with everything on, at its first position.
func (b *builder) usual(it *circuit.Item) string {
	if it.Facts.Usually != "" {
		return it.Facts.Usually
	}
	if b.everything {
		for _, p := range it.Ports {
			if p.Name != "out" {
				return p.Name
			}
		}
	}
	return "off"
}

// fedFromShore finds the inverter-chargers whose input is live: they pass it on,
// the others invert.
func (b *builder) fedFromShore() {
	view := circuit.View{Configuration: b.config, Position: b.at.position, Open: b.at.off, Through: true}
	b.at.invert = map[*circuit.Item]bool{}
	for _, it := range b.sys.Items {
		if it.Kind != "inverter-charger" {
			continue
		}
		live := false
		for _, p := range it.Ports {
			if !circuit.IsInput(p.Name) {
				continue
			}
			for _, o := range b.net.Origin([]circuit.Terminal{{Item: it, Port: p.Name}}, view) {
				live = live || mains(o.Item) && b.on(o.Item)
			}
		}
		b.at.transfer = b.at.transfer || live
		b.at.invert[it] = !live
	}
}

func mains(it *circuit.Item) bool {
	return (it.Kind == "inlet" || it.Kind == "generator") && it.Domain != nil && it.Domain.AC
}

// on tells whether a source that is off unless named is on: named itself, or
// behind a changeover that was put to it.
func (b *builder) on(it *circuit.Item) bool {
	if x, ok := b.set.by[it]; ok {
		return !x.Off
	}
	if b.everything {
		return true
	}
	view := circuit.View{Configuration: b.config, Position: b.at.position, Through: true}
	for _, c := range b.sys.Items {
		position := b.at.position[c]
		if c.Kind != "changeover" || position == "off" || position == "" {
			continue
		}
		if slices.ContainsFunc(b.condition.Settings, func(x circuit.Setting) bool { return x.Item == c && x.On }) &&
			slices.ContainsFunc(b.net.Origin([]circuit.Terminal{{Item: c, Port: position}}, view), func(t circuit.Terminal) bool { return t.Item == it }) {
			return true
		}
	}
	return false
}
