// Package schematic is the only place where electrics meets drawing: it turns
// a craft and what was worked out for it into a graph of boxes for the layout,
// and the placed drawing into sheets with frame, tables and legend. It
// computes nothing electrical, places nothing and knows no file format.
package schematic

import (
	"slices"

	"strake/lang/circuit"
	"strake/lang/diag"
	"strake/lang/quantity"
	"strake/lang/size"
	"strake/layout"
	"strake/render/scene"
)

// Options of a drawing.
type Options struct {
	Paper  string // A4, A3, A2; empty: the craft's own, or the smallest that fits
	Effort layout.Effort
}

// Draw makes the sheets of a craft.
func Draw(sys *circuit.System, plan *size.Plan, findings []diag.Finding, summary diag.Summary, o Options) []scene.Sheet {
	sheets := newDraught(sys, plan, findings, summary, o).draw()
	for _, s := range sheets {
		tellMeetings(s)
	}
	return sheets
}

// draw takes the first arrangement that holds the craft.
func (d *draught) draw() []scene.Sheet {
	ways := arrangements(d.paper())
	if d.options.Effort == layout.Quick { // of a larger paper than asked for, the roomiest
		ways = slices.DeleteFunc(ways, func(a arrangement) bool { return a.paper == a2 && a.tables == below && d.paper() != "A2" })
	}
	if sheets, ok := d.kept(ways); ok {
		d.asStood = true
		return sheets
	}
	var full paper // on which not even the smallest letters find room
	for i, a := range ways {
		last := i+1 == len(ways) || ways[i+1].paper != a.paper
		if first := i == 0 || ways[i-1].paper != a.paper; first && d.crammed(ways[i:]) {
			full = a.paper
		}
		if a.paper != full {
			if sheets, ok := d.compose(a); ok {
				return sheets
			}
		}
		// Two sheets of the paper that was asked for, or of A3, come before a larger one.
		if last && (d.paper() != "" || a.paper == a3) {
			if sheets, ok := d.divided(a.paper); ok {
				return sheets
			}
		}
	}
	return d.unfold(ways[len(ways)-1])
}

// draught is one craft on the draughtsman's table: the inputs with indexes into them.
type draught struct {
	sys      *circuit.System
	plan     *size.Plan
	findings []diag.Finding
	summary  diag.Summary
	options  Options
	mark     string
	net      *circuit.Net
	sizes    map[*circuit.Cable]*size.Cable
	devices  map[*circuit.Item]*size.Device
	styles   map[*circuit.Domain]scene.WireStyle
	landed   map[circuit.Terminal][]*circuit.Cable // power cables by where they end
	cables   map[*circuit.Item][]*circuit.Cable    // power cables by the item at either end
	fed      map[*circuit.Cable][2]bool            // which ends of a cable can feed it
	directed map[lift]map[*circuit.Cable]bool
	opened   []isolator // in the order of opening
	models   map[modelKey]*model
	cold     map[*circuit.Item]quantity.Opt[quantity.Volt] // of arrays
	bound    []*page                                       // what was drawn, sheet by sheet
	asStood  bool                                          // that is as the text says

	alwaysLive map[*circuit.Item]bool // bars and boards ahead of every switch
	unparted   []*circuit.Item        // bars and loads that nothing but a fuse parts from a battery
}

func newDraught(sys *circuit.System, plan *size.Plan, findings []diag.Finding, summary diag.Summary, o Options) *draught {
	marked := make(chan string, 1)
	go func() { marked <- Mark(sys, plan) }() // beside the rest: it is only printed
	d := &draught{
		sys: sys, plan: plan, findings: findings, summary: summary, options: o,
		net:      circuit.NewNet(sys),
		sizes:    map[*circuit.Cable]*size.Cable{},
		devices:  map[*circuit.Item]*size.Device{},
		landed:   map[circuit.Terminal][]*circuit.Cable{},
		cables:   map[*circuit.Item][]*circuit.Cable{},
		fed:      map[*circuit.Cable][2]bool{},
		models:   map[modelKey]*model{},
		directed: map[lift]map[*circuit.Cable]bool{},
		cold:     map[*circuit.Item]quantity.Opt[quantity.Volt]{},

		alwaysLive: map[*circuit.Item]bool{},
	}
	if plan != nil {
		for i := range plan.Cables {
			d.sizes[plan.Cables[i].Of] = &plan.Cables[i]
		}
		for i := range plan.Devices {
			d.devices[plan.Devices[i].Of] = &plan.Devices[i]
		}
		for _, b := range plan.Bonds {
			if b.Chosen {
				d.sizes[b.Of] = &size.Cable{Of: b.Of, Area: b.Area, Chosen: true}
			}
		}
		for _, a := range plan.Arrays {
			d.cold[a.Of] = a.Cold
		}
	}
	d.styles = d.lineStyles()
	for _, c := range sys.Cables {
		for _, e := range [...]circuit.End{c.From, c.To} {
			if t, ok := e.Terminal(); ok {
				d.landed[t] = append(d.landed[t], c)
				if n := len(d.cables[t.Item]); n == 0 || d.cables[t.Item][n-1] != c {
					d.cables[t.Item] = append(d.cables[t.Item], c)
				}
			}
		}
		sides := d.net.Sides(c, circuit.View{})
		d.fed[c] = [2]bool{len(sides[0].Supplies) > 0, len(sides[1].Supplies) > 0}
	}
	d.findLive()
	d.opened = d.isolatorsOf()
	d.mark = <-marked
	return d
}

// paper is what was asked for: by the caller, then by the text.
func (d *draught) paper() string {
	if d.options.Paper != "" {
		return d.options.Paper
	}
	return d.sys.Craft.Paper
}
