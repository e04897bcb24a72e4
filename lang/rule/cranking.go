package rule

// Which cables are a starter's.

import (
	"slices"

	"strake/lang/circuit"
	"strake/lang/quantity"
)

// cranking tells the cable between a battery and a starter, which carries a
// current that no fuse would stand.
func (p *pass) cranking(c *circuit.Cable) bool {
	cranks, known := p.cranks[c]
	if !known {
		cranks = p.starters && p.cranksAlone(c)
		p.cranks[c] = cranks
	}
	return cranks
}

func (p *pass) cranksAlone(c *circuit.Cable) bool {
	for _, end := range [...]circuit.End{c.From, c.To} {
		if t, ok := end.Terminal(); ok && p.cranksOnly(t, c) {
			return true
		}
	}
	return false
}

// cranksOnly tells the end of a cable behind which, the cable itself cut, there
// is a starter, and neither a source nor anything else that takes current but on a
// branch with a cable of its own, which is held to its own device: from the
// source's end a starter on another cable is in sight too, and proves nothing. An
// alternator that charges back through the cable is no more than it holds.
func (p *pass) cranksOnly(t circuit.Terminal, c *circuit.Cable) bool {
	if !p.toStarter[t] {
		return false
	}
	view := cut(p.view, c)
	behind := append(p.net.Reach([]circuit.Terminal{t}, view), t)
	if !slices.ContainsFunc(behind, isStarter) || slices.ContainsFunc(behind, func(r circuit.Terminal) bool {
		return r.Item.Nature().Source && r.Item.Kind != "alternator"
	}) {
		return false
	}
	bolted := p.unfused()
	bolted.Cut = p.notOnStart(t, c)
	if starters := append(p.net.Reach([]circuit.Terminal{t}, bolted), t); slices.ContainsFunc(starters, isStarter) {
		behind = starters
	}
	return !slices.ContainsFunc(behind, func(r circuit.Terminal) bool {
		n := r.Item.Nature()
		return !isStarter(r) && (n.Source || n.Load || n.Converts || r.Item.Board != nil)
	})
}

func isStarter(t circuit.Terminal) bool { return t.Item.Kind == "starter" }

// notOnStart are the cables behind one end of a cable without which its starter
// turns all the same, and the cable itself.
func (p *pass) notOnStart(t circuit.Terminal, c *circuit.Cable) map[*circuit.Cable]bool {
	cut := map[*circuit.Cable]bool{c: true}
	view := p.unfused()
	for _, o := range p.cables {
		if o.Of == c || o.Of.Link {
			continue
		}
		view.Cut = map[*circuit.Cable]bool{c: true, o.Of: true}
		if slices.ContainsFunc(append(p.net.Reach([]circuit.Terminal{t}, view), t), isStarter) {
			cut[o.Of] = true
		}
	}
	return cut
}

// besideStarter is what a starter's cable carries when nobody turns the key: what
// its branches take, or what an alternator sends back through it.
func (p *pass) besideStarter(c *circuit.Cable) quantity.Ampere {
	if !p.cranking(c) {
		return 0
	}
	view := cut(p.view, c)
	for _, end := range [...]circuit.End{c.From, c.To} {
		t, ok := end.Terminal()
		if !ok || !p.cranksOnly(t, c) {
			continue
		}
		var takes, gives quantity.Ampere
		for _, r := range p.net.Reach([]circuit.Terminal{t}, view) {
			switch f := r.Item.Facts; {
			case isStarter(r):
			case r.Item.Kind == "alternator":
				gives += max(f.Current.Most(), f.ShortCircuit.Most())
			default:
				takes += p.taken(r)
			}
		}
		return max(takes, gives)
	}
	return 0
}
