package schematic

import (
	"cmp"
	"slices"

	"strake/lang/circuit"
	"strake/render/scene"
)

// styles gives every kind of voltage its line: the highest direct voltage the
// widest, the lowest the thinnest, solar and alternating ones their patterns.
func (d *draught) lineStyles() map[*circuit.Domain]scene.WireStyle {
	sunny, stored := map[*circuit.Domain]bool{}, map[*circuit.Domain]bool{}
	for _, it := range d.sys.Items {
		switch it.Kind {
		case "array":
			if it.Domain != nil {
				sunny[it.Domain] = true
			}
		case "battery", "bank", "board":
			stored[it.Domain] = true
		}
	}
	out := map[*circuit.Domain]scene.WireStyle{}
	var dc []*circuit.Domain
	ac := []scene.WireStyle{scene.MainAC, scene.SecondAC}
	alternating := 0
	for _, m := range d.voltagesUsed() {
		switch {
		case m.AC:
			out[m] = ac[min(alternating, len(ac)-1)]
			alternating++
		case sunny[m] && !stored[m]:
			out[m] = scene.SolarDC
		default:
			dc = append(dc, m)
		}
	}
	slices.SortStableFunc(dc, func(a, b *circuit.Domain) int { return cmp.Compare(b.Nominal.Value, a.Nominal.Value) })
	var order []scene.WireStyle
	switch len(dc) {
	case 0, 1, 2:
		order = []scene.WireStyle{scene.MainDC, scene.LowDC}
	case 3:
		order = []scene.WireStyle{scene.MainDC, scene.MiddleDC, scene.LowDC}
	default:
		order = []scene.WireStyle{scene.MainDC, scene.FourthDC, scene.MiddleDC, scene.LowDC}
	}
	for i, m := range dc {
		out[m] = order[min(i, len(order)-1)]
	}
	return out
}

// plain is the pen of a conductor whose voltage is not known.
var plain = scene.Pen{Width: 35}

// wirePen is the pen of a cable: its voltage's line, or its status's pattern.
func (d *draught) wirePen(m *circuit.Domain, s circuit.Status) scene.Pen {
	pen := plain
	if style, ok := d.styles[m]; ok && m != nil {
		pen = scene.WirePen(style)
	}
	switch s {
	case circuit.Prepared:
		return pen.Prepared()
	case circuit.Owner:
		return pen.Owners()
	case circuit.Removed:
		return pen.Removed()
	}
	return pen
}

func (d *draught) barPen(it *circuit.Item) scene.Pen {
	if style, ok := d.styles[it.Domain]; ok && it.Domain != nil {
		return scene.BarPen(style)
	}
	if c := d.cables[it]; len(c) > 0 && it.Domain == nil && d.sunlit(c[0]) {
		return scene.BarPen(scene.SolarDC)
	}
	return scene.Pen{Width: 140}
}

// class is the class of an item's or a cable's group, with its status as the second word.
func class(name string, s circuit.Status) string {
	if s == circuit.Fitted {
		return name
	}
	return name + " " + s.String()
}

// sunlit tells a cable that arrays alone feed.
func (d *draught) sunlit(c *circuit.Cable) bool {
	arrays := 0
	for _, side := range d.net.Sides(c, circuit.View{}) {
		for _, s := range side.Supplies {
			if s.Item.Kind != "array" {
				return false
			}
			arrays++
		}
	}
	return arrays > 0
}
