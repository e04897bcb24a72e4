package schematic

import (
	"slices"
	"strings"

	"strake/lang/circuit"
	"strake/lang/quantity"
	"strake/layout"
	"strake/layout/geom"
	"strake/render/scene"
)

// stillLive is the only reversed block of the sheet. Energised states are not
// worked out yet, so it says so and names what is live beyond doubt.
func (m *model) stillLive() block {
	b := m.stillLiveIn(6600, 9000, 5200, 13000)
	if e := m.enlarged(); e != nil {
		b.large = e.stillLive
	}
	return b
}

// stillLiveIn is the block in given widths.
func (m *model) stillLiveIn(widths ...int) block {
	var sources, panels, inlets []string
	for _, it := range m.d.sys.Items {
		if it.Status == circuit.Removed {
			continue
		}
		switch it.Kind {
		case "battery", "bank":
			if it.MemberOf == nil {
				sources = append(sources, it.Ref)
			}
		case "array":
			ref := it.Ref
			if v := m.d.cold[it]; v.Known {
				ref += " (" + volts(v.Value) + " V" + ")"
			}
			panels = append(panels, ref)
		case "inlet":
			inlets = append(inlets, it.Ref)
		}
	}
	var lines []string
	if len(sources) > 0 {
		lines = append(lines, "Battery posts, and all up to the first switch: "+strings.Join(sources, ", "))
	}
	if len(m.d.unparted) > 0 {
		var refs []string
		for _, it := range m.d.unparted {
			refs = append(refs, it.Ref)
		}
		slices.SortFunc(refs, circuit.Compare)
		lines = append(lines, "No switch parts from a battery: "+strings.Join(refs, ", "))
	}
	if len(panels) > 0 {
		lines = append(lines, "Solar cables by day: "+strings.Join(panels, ", "))
	}
	if len(inlets) > 0 {
		lines = append(lines, "With the lead plugged in: "+strings.Join(inlets, ", "))
	}
	lines = append(lines, "Capacitors of motors and converters: wait, then prove dead.")
	b := block{name: stillLiveName}
	var bodies []note
	for _, outer := range widths {
		width := outer - 500
		body := wrapped("Energised states are not worked out in this version: treat all as live.", width, 350, true)
		for _, l := range lines {
			body = append(body, wrapped(l, width, m.caps.note, false)...)
		}
		body = append(body, wrapped(m.highestAboard(), width, m.caps.note, true)...)
		bodies = append(bodies, body)
		b.sizes = append(b.sizes, layout.Size{W: outer, H: stillHead + 150 + body.size().H + 120})
	}
	b.draw = func(size int, at geom.Point) []*scene.Group {
		s := b.sizes[size]
		r := geom.Rect{X0: at.X, Y0: at.Y, X1: at.X + s.W, Y1: at.Y + s.H}
		head := r
		head.Y1 = head.Y0 + stillHead
		g := &scene.Group{Class: "table still-live", Nodes: []scene.Node{
			filled(head, scene.Black),
			scene.Text{At: geom.Point{X: (r.X0 + r.X1) / 2, Y: head.Y0 + 500}, Cap: 350, Bold: true, Anchor: scene.Middle, Colour: scene.White, Text: "STILL LIVE?"},
			box(r, scene.FramePen),
		}}
		g.Nodes = append(g.Nodes, bodies[size].at(geom.Point{X: r.X0 + 250, Y: head.Y1 + 150})...)
		return []*scene.Group{{Class: "sheet", Nodes: []scene.Node{g}}}
	}
	return b
}

const (
	stillHead     = 700
	stillLiveName = "still live"
)

// highestAboard names the highest direct and alternating voltage: of what the
// text says of its voltages, and of what was worked out where things stand.
func (m *model) highestAboard() string {
	var dc, ac quantity.Volt
	see := func(d *circuit.Domain, v quantity.Volt) {
		if d != nil && alternating(d) {
			ac = max(ac, d.Nominal.Value, d.Highest.Value) // as it is called, not with the supply's tolerance
		} else {
			dc = max(dc, v)
		}
	}
	for _, d := range m.d.voltagesUsed() {
		see(d, max(d.Highest.Value, d.Nominal.Value))
	}
	open := false
	for _, it := range m.d.sys.Items {
		if p := m.d.devices[it]; p != nil && p.NodeMax.Known {
			see(it.Domain, p.NodeMax.Value)
		}
		if it.Kind == "array" && it.Status != circuit.Removed {
			v := m.d.cold[it]
			see(nil, v.Value)
			open = open || !v.Known
		}
	}
	var parts []string
	if dc > 0 {
		parts = append(parts, "Highest DC aboard "+volts(dc)+" V")
	}
	if ac > 0 {
		parts = append(parts, "AC "+volts(ac)+" V")
	}
	if open {
		parts = append(parts, "solar not known")
	}
	return strings.Join(parts, "; ")
}
