package rule

import (
	"fmt"
	"slices"
	"sync"

	"strake/lang/circuit"
	"strake/lang/quantity"
	"strake/lang/size"
)

// craft is the circuit and the plan in one configuration, indexed once for all rules.
type craft struct {
	*circuit.System
	plan          *size.Plan
	net           *circuit.Net
	configuration circuit.Configuration
	view          circuit.View // everything closed
	cables        []*size.Cable
	Bonds         []*circuit.Cable // those of the system that are there and lead to an earth or join what is the same: of the others that alone is said
	bonds         []size.Bond      // of these
	signals       []*circuit.Cable // those of the system that are there
	cableOf       map[*circuit.Cable]*size.Cable
	deviceOf      map[*circuit.Item]*size.Device
	starters      bool                      // there are any
	cranks        map[*circuit.Cable]bool   // what is known of starter cables
	toStarter     map[circuit.Terminal]bool // from where current gets to one
	solutions     func() []size.Solved      // of the conditions
	protecting    map[*circuit.Item]bool
	unfusedUsual  circuit.View // everything open that protects, and what is usually off
}

func newCraft(sys *circuit.System, plan *size.Plan, configuration circuit.Configuration) *craft {
	c := &craft{System: sys, plan: plan, net: circuit.NewNet(sys), configuration: configuration,
		view:    circuit.View{Configuration: configuration},
		cableOf: map[*circuit.Cable]*size.Cable{}, deviceOf: map[*circuit.Item]*size.Device{},
		cranks:   map[*circuit.Cable]bool{},
		starters: slices.ContainsFunc(sys.Items, func(it *circuit.Item) bool { return it.Kind == "starter" })}
	for _, b := range plan.Bonds {
		if b.Of.Status.In(configuration) && !joinsPoles(b.Of) && !earthsLive(b.Of) {
			c.Bonds, c.bonds = append(c.Bonds, b.Of), append(c.bonds, b)
		}
	}
	for _, s := range sys.Signals {
		if s.Status.In(configuration) {
			c.signals = append(c.signals, s)
		}
	}
	for i := range plan.Cables {
		s := &plan.Cables[i]
		c.cableOf[s.Of] = s
		if s.Of.Status.In(configuration) {
			c.cables = append(c.cables, s)
		}
	}
	for i := range plan.Devices {
		c.deviceOf[plan.Devices[i].Of] = &plan.Devices[i]
	}
	c.solutions = sync.OnceValue(func() []size.Solved { return size.Solutions(sys, plan, configuration) })
	c.protecting = c.those(func(it *circuit.Item) bool { return it.Nature().Protects })
	c.unfusedUsual = c.withOpen(func(it *circuit.Item) bool { return it.Nature().Protects || it.Facts.UsualOff })
	c.toStarter = map[circuit.Terminal]bool{}
	var starters []circuit.Terminal
	for _, t := range c.net.Terminals() {
		if isStarter(t) {
			starters = append(starters, t)
		}
	}
	for _, t := range append(c.net.Origin(starters, c.view), starters...) {
		c.toStarter[t] = true
	}
	return c
}

// items calls f for each sound item of the configuration.
func (c *craft) items(f func(*circuit.Item)) {
	for _, it := range c.Items {
		if it.Status.In(c.configuration) && !it.Broken && !(it.Way != nil && it.Way.Spare) {
			f(it)
		}
	}
}

// rating is an item's current, stated or chosen.
func (c *craft) rating(it *circuit.Item) (quantity.Ampere, bool) {
	if d := c.deviceOf[it]; d != nil && d.Rating.Known {
		return d.Rating.Value, true
	}
	return it.Facts.Current.Value, it.Facts.Current.Known()
}

// lowVolts is the direct voltage up to which a touch is taken as harmless (ISO
// 16315 and ISO 6469, from memory, verify against the standards).
const lowVolts = quantity.Volt(60)

// highest is the highest voltage of a domain.
func (c *craft) highest(d *circuit.Domain) (quantity.Volt, bool) { return size.Highest(c.System, d) }

// terminals are the terminals of an item, in the order of its ports.
func terminals(it *circuit.Item) []circuit.Terminal {
	var list []circuit.Terminal
	for _, p := range it.Ports {
		list = append(list, circuit.Terminal{Item: it, Port: p.Name})
	}
	return list
}

// powerDomain is the domain in which an item that does not convert lies.
func powerDomain(it *circuit.Item) *circuit.Domain {
	if it.Domain != nil {
		return it.Domain
	}
	for _, p := range it.Ports {
		if !circuit.IsControl(p.Name) && p.Domain != nil {
			return p.Domain
		}
	}
	return nil
}

// called is how a message names an item: its reference and label.
func called(it *circuit.Item) string {
	if it.Label == "" {
		return fmt.Sprintf("%s %s", it.Kind, it.Ref)
	}
	return fmt.Sprintf("%s %s \"%s\"", it.Kind, it.Ref, it.Label)
}

// those are the items of which something holds.
func (c *craft) those(holds func(*circuit.Item) bool) map[*circuit.Item]bool {
	set := map[*circuit.Item]bool{}
	for _, it := range c.Items {
		if holds(it) {
			set[it] = true
		}
	}
	return set
}

// withOpen is the view with everything open of which something holds.
func (c *craft) withOpen(holds func(*circuit.Item) bool) circuit.View {
	view := c.view
	view.Open = c.those(holds)
	return view
}

// without is the view with one thing open.
func (c *craft) without(it *circuit.Item) circuit.View {
	view := c.view
	view.Open = map[*circuit.Item]bool{it: true}
	return view
}

// unfused is the view with everything open that protects; its sets are not to be
// changed.
func (c *craft) unfused() circuit.View {
	view := c.view
	view.Open = c.protecting
	return view
}

// residual tells what opens by itself on a residual current.
func residual(it *circuit.Item) bool { return it.Nature().Residual }

// isolated is the view of a craft that nobody is aboard of: isolators, changeovers
// and contactors open.
func (c *craft) isolated() circuit.View {
	return c.withOpen(func(it *circuit.Item) bool {
		return it.Kind == "isolator" || it.Kind == "changeover" || it.Kind == "contactor"
	})
}

// header opens the example texts: a small boat with one domain.
const header = `craft "Small boat" {
    cable class 5, tinned, 105 degC, free
}
domain house: dc 12 V, 10.5 V to 14.6 V
place locker "Locker": 40 degC
`
