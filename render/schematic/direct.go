package schematic

import (
	"slices"

	"strake/lang/circuit"
)

// direct tells for every cable whether the drawing feeds it from its second
// end: supply at the top, load at the bottom. Cables that follow each other
// through two-ended things are decided together. It is not to be changed.
func (d *draught) direct(l lift) map[*circuit.Cable]bool {
	if d.directed[l] == nil {
		d.directed[l] = d.directions(l)
	}
	return d.directed[l]
}

func (d *draught) directions(l lift) map[*circuit.Cable]bool {
	reversed := map[*circuit.Cable]bool{}
	done := map[*circuit.Cable]bool{}
	for _, c := range d.sys.Cables {
		if done[c] {
			continue
		}
		chain := d.chain(c)
		score := 0
		for i, s := range chain {
			done[s.cable] = true
			score += d.pull(s, i == 0, i == len(chain)-1)
		}
		for _, s := range chain {
			reversed[s.cable] = s.against != (score < 0)
		}
	}
	for _, c := range d.liftable(reversed, l) {
		reversed[c] = !reversed[c]
	}
	return reversed
}

// lift says which batteries that a board's charger keeps up stand above their
// charger instead of hanging from it.
type lift int

const (
	hanging lift = iota // none
	feeding             // those that feed other things
	every               // those too that feed nothing
)

// ways are the choices that a drawing has, each but once.
func (d *draught) ways() []lift {
	plain := d.direct(hanging)
	some, all := len(d.liftable(plain, feeding)), len(d.liftable(plain, every))
	ways := []lift{hanging}
	if some > 0 {
		ways = []lift{feeding, hanging}
	}
	if all > some {
		ways = append(ways, every)
	}
	return ways
}

// liftable are the cables from a board's way through a charger to a battery:
// turned round, the battery stands above what it feeds, as every source does,
// and its charger hangs from it.
func (d *draught) liftable(reversed map[*circuit.Cable]bool, l lift) []*circuit.Cable {
	if l == hanging {
		return nil
	}
	var lifted []*circuit.Cable
	for _, c := range d.sys.Cables {
		e := c.From
		if reversed[c] {
			e = c.To
		}
		if e.Item == nil || !e.Item.Nature().Converts || e.Port != "out" {
			continue
		}
		down := d.chain(c)
		battery, in := last(down).Item, d.landed[circuit.Terminal{Item: e.Item, Port: "in"}]
		if first(down).Item != e.Item {
			battery = first(down).Item
		}
		if battery == nil || !battery.Nature().Stores || len(in) != 1 || in[0].Way == nil || l == feeding && !d.feedsOthers(battery, down, reversed) {
			continue
		}
		lifted = append(lifted, in[0])
		for _, s := range down {
			lifted = append(lifted, s.cable)
		}
	}
	return lifted
}

// feedsOthers tells a battery that feeds something apart from a chain.
func (d *draught) feedsOthers(it *circuit.Item, chain []step, reversed map[*circuit.Cable]bool) bool {
	for _, c := range d.cables[it] {
		inside := slices.ContainsFunc(chain, func(s step) bool { return s.cable == c })
		if supply := c.From.Item == it != reversed[c]; !inside && supply {
			return true
		}
	}
	return false
}

// step of a chain: a cable, and whether the chain passes it against its text.
type step struct {
	cable   *circuit.Cable
	against bool
}

func (s step) ends() (first, last circuit.End) {
	if s.against {
		return s.cable.To, s.cable.From
	}
	return s.cable.From, s.cable.To
}

// chain is the run of cables around one of them, through everything that has
// two ends and passes power on.
func (d *draught) chain(c *circuit.Cable) []step {
	seen := map[*circuit.Cable]bool{c: true}
	chain := []step{{cable: c}}
	for next, ok := d.follow(c.To, seen); ok; next, ok = d.follow(last(chain), seen) {
		chain = append(chain, next)
	}
	for before, ok := d.follow(c.From, seen); ok; before, ok = d.follow(first(chain), seen) {
		before.against = !before.against
		chain = append([]step{before}, chain...)
	}
	return chain
}

func last(chain []step) circuit.End  { _, e := chain[len(chain)-1].ends(); return e }
func first(chain []step) circuit.End { e, _ := chain[0].ends(); return e }

// follow is the cable on the other side of the thing at an end, leading away
// from it.
func (d *draught) follow(e circuit.End, seen map[*circuit.Cable]bool) (step, bool) {
	if e.Item == nil || !passes(e.Item) || e.Port != "in" && e.Port != "out" {
		return step{}, false
	}
	other := "in"
	if e.Port == "in" {
		other = "out"
	}
	t := circuit.Terminal{Item: e.Item, Port: other, Contact: e.Contact}
	next := d.landed[t]
	if len(next) != 1 || seen[next[0]] {
		return step{}, false
	}
	seen[next[0]] = true
	from, _ := next[0].From.Terminal()
	return step{cable: next[0], against: from != t}, true
}

// passes tells a thing in the line: two ends, and nothing converted.
func passes(it *circuit.Item) bool {
	n := it.Nature()
	return n.Ends == circuit.TwoEnds && !n.Converts
}

// pull is how strongly a cable wants to be fed in the direction of its chain.
func (d *draught) pull(s step, isFirst, isLast bool) int {
	from, to := s.ends()
	score := 0
	if isFirst {
		score += gives(from)
	}
	if isLast {
		score -= gives(to)
	}
	fed := d.fed[s.cable]
	if s.against {
		fed[0], fed[1] = fed[1], fed[0]
	}
	switch {
	case fed[0] && !fed[1]:
		score += 40
	case fed[1] && !fed[0]:
		score -= 40
	case s.against:
		score--
	default:
		score++
	}
	return score
}

// gives is how surely current leaves a thing at this end (below 0: enters).
func gives(e circuit.End) int {
	if e.Item == nil {
		return -1000
	}
	n := e.Item.Nature()
	switch {
	case n.Converts && (e.Port == "out" || e.Port == "out1" || e.Port == "out2"):
		return 500
	case n.Converts && circuit.IsInput(e.Port):
		return -500
	case control(e.Port):
		return -500
	case n.Source && !n.Converts && n.Limited, e.Item.Kind == "inlet", e.Item.Kind == "generator", e.Item.Kind == "alternator", e.Item.Kind == "source":
		return 300
	case n.Source && !n.Converts:
		return 100
	case n.Load:
		return -300
	}
	return 0
}

// markBothWays finds the ties between bars, and one cable in every run that
// two sides can feed: whoever opens one end must know of the other. A run that
// ends in a battery needs no mark.
func (m *model) markBothWays() {
	done := map[*circuit.Cable]bool{}
	for _, c := range m.d.sys.Cables {
		if done[c] || c.Way != nil {
			continue
		}
		chain := m.d.chain(c)
		both := true
		var longest *circuit.Cable
		for _, s := range chain {
			done[s.cable] = true
			fed := m.d.fed[s.cable]
			both = both && fed[0] && fed[1]
			if !s.cable.Link && (longest == nil || s.cable.Length.Value > longest.Length.Value) {
				longest = s.cable
			}
		}
		from, to := first(chain).Item, last(chain).Item
		if !both || from == nil || to == nil || from.Nature().Stores || to.Nature().Stores {
			continue
		}
		if longest != nil {
			m.both[longest] = true
		}
		if from != to && from.Kind == "bus" && to.Kind == "bus" && from.Domain == to.Domain && !m.d.gathers(from) && !m.d.gathers(to) {
			for _, s := range chain {
				m.ties[s.cable] = true
			}
		}
	}
}
