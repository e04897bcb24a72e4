package schematic

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"strake/lang/circuit"
	"strake/layout/geom"
	"strake/render/scene"
)

// titleWidth is the width of the title block, ISO 7200.
const titleWidth = 18000

// titleRow is the height of one of the title block's rows, caption above and
// value below.
const titleRow = 965

// titleHeight: the first of three rows bears the title, which is larger.
const titleHeight = 3*titleRow + 180

// field of the title block.
type field struct {
	caption, value string
	width          int
	cap            int
	bold           bool
}

// titleBlock stands with its lower right corner at a point.
func (d *draught) titleBlock(corner geom.Point, sheet, sheets int, kind string, p paper) *scene.Group {
	c := d.sys.Craft
	first := []field{{"Legal owner", cmp.Or(c.Owner, c.Yard), 4700, 350, false}, {"Title", strings.ToUpper(c.Name), 10300, 500, true}, {"Status", status(c.State), 3000, 350, true}}
	if c.Owner != "" && c.Yard != "" { // the owner's name has the yard's place
		first[1].width = 5700
		first = slices.Insert(first, 2, field{"Yard", c.Yard, 4600, 350, false})
	}
	rows := [][]field{
		first,
		{{"Document type", kind, 4700, 350, false}, {"Supplementary title", d.voltages(), 5700, 350, false}, {"Creator", c.Drawn, 2300, 350, false}, {"Approved", c.Checked, 2300, 350, false}, {"Date of issue", c.Dated, 3000, 350, false}},
		{{"Document number", c.Drawing, 4700, 350, true}, {"Content mark", d.mark, 5700, 350, false}, {"Paper", p.name + " en", 2300, 350, false}, {"Revision", c.Revision, 2300, 350, true}, {"Sheet", strconv.Itoa(sheet) + " of " + strconv.Itoa(sheets), 3000, 350, false}},
	}
	r := geom.Rect{X0: corner.X - titleWidth, Y0: corner.Y - titleHeight, X1: corner.X, Y1: corner.Y}
	g := &scene.Group{Class: "title-block", Nodes: []scene.Node{box(r, scene.FramePen)}}
	for i, row := range rows {
		y := r.Y1 - (len(rows)-i)*titleRow
		if i == 0 {
			y = r.Y0
		} else {
			g.Nodes = append(g.Nodes, stroke(scene.FramePen35, r.X0, y, r.X1, y))
		}
		x := r.X0
		for j, f := range row {
			if j > 0 {
				g.Nodes = append(g.Nodes, stroke(scene.FramePen35, x, y, x, r.Y1-(len(rows)-i-1)*titleRow))
			}
			value, capital := f.value, f.cap
			if value == "" {
				value = "–"
			}
			for capital > 250 && scene.Width(value, capital, f.bold) > f.width-240 {
				capital -= 50
			}
			base := y + titleRow - 147
			if i == 0 {
				base += 180 - 20
			}
			g.Nodes = append(g.Nodes,
				scene.Text{At: geom.Point{X: x + 120, Y: y + 327 + 25*max(0, 1-i)}, Cap: 250, Text: f.caption},
				scene.Text{At: geom.Point{X: x + 120, Y: base}, Cap: capital, Bold: f.bold, Text: scene.Fit(value, f.width-240, capital, f.bold)})
			x += f.width
		}
	}
	return g
}

// status is printed loud, so that a design is not taken for what was built.
func status(state string) string {
	switch state {
	case "as-built":
		return "AS BUILT"
	case "draft":
		return "DRAFT"
	}
	return "DESIGN"
}

// voltages names the kinds of voltage aboard.
func (d *draught) voltages() string {
	var dc, ac []string
	domains := d.voltagesUsed()
	slices.SortStableFunc(domains, func(a, b *circuit.Domain) int { return cmp.Compare(b.Nominal.Value, a.Nominal.Value) })
	for _, m := range domains {
		if !m.Nominal.Known() {
			continue
		}
		v := volts(m.Nominal.Value)
		if m.AC {
			ac = append(ac, v)
		} else {
			dc = append(dc, v)
		}
	}
	var parts []string
	if len(dc) > 0 {
		parts = append(parts, strings.Join(unique(dc), "/")+" V DC")
	}
	if len(ac) > 0 {
		parts = append(parts, strings.Join(unique(ac), "/")+" V AC")
	}
	return strings.Join(parts, ", ")
}

// voltagesUsed are the domains in which something stands.
func (d *draught) voltagesUsed() []*circuit.Domain {
	here := map[*circuit.Domain]bool{}
	for _, it := range d.sys.Items {
		here[it.Domain] = true
		for _, p := range it.Ports {
			here[p.Domain] = true
		}
	}
	return slices.DeleteFunc(slices.Clone(d.sys.Domains), func(m *circuit.Domain) bool { return !here[m] })
}

// highest names the highest voltages, which is what one gets a shock from.
func highest(m *circuit.Domain) string {
	if m == nil || !m.Nominal.Known() {
		return "voltage not stated"
	}
	s := volts(m.Nominal.Value) + " V DC"
	if m.AC {
		s = volts(m.Nominal.Value) + " V AC"
	}
	if m.Highest.Known() && m.Highest.Value > m.Nominal.Value {
		s += ", up to " + volts(m.Highest.Value) + " V"
	}
	return s
}

// list joins words: "48, 24 and 12".
func list(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:len(words)-1], ", ") + " and " + words[len(words)-1]
}

func unique(words []string) []string {
	var out []string
	seen := map[string]bool{}
	for _, w := range words {
		if !seen[w] {
			seen[w] = true
			out = append(out, w)
		}
	}
	return out
}
