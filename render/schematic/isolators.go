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

// isolator is a row of the isolator table.
type isolator struct {
	item         *circuit.Item
	feeds, where string
	rank         int
}

// isolators are what a person opens, in the order of opening: shore and
// generator, solar, loads and chargers, ties, banks.
func (d *draught) isolators() []isolator {
	var out []isolator
	for _, it := range d.sys.Items {
		if it.Status == circuit.Removed || it.MemberOf != nil || it.Way != nil {
			continue
		}
		switch it.Kind {
		case "isolator", "changeover", "stop":
		case "rcbo", "breaker", "rcd":
			if !d.wayIn(it) {
				continue
			}
		default:
			continue
		}
		if len(d.cables[it]) == 0 {
			continue
		}
		out = append(out, isolator{item: it, feeds: strings.Join(d.feeds(it), ", "), where: placeName(it.Place), rank: d.rank(it)})
	}
	slices.SortStableFunc(out, func(a, b isolator) int {
		return cmp.Or(cmp.Compare(a.rank, b.rank), circuit.Compare(a.item.Ref, b.item.Ref))
	})
	return out
}

// neighbours are what lies next on each side of an item, past everything that
// only passes the current on.
func (d *draught) neighbours(it *circuit.Item) []circuit.End {
	var out []circuit.End
	for _, c := range d.cables[it] {
		if e, ok := d.away(c, it); ok {
			out = append(out, e)
		}
	}
	return out
}

// away follows a cable away from an item to the first thing that matters.
func (d *draught) away(c *circuit.Cable, from *circuit.Item) (circuit.End, bool) {
	seen := map[*circuit.Cable]bool{c: true}
	e := c.To
	if c.To.Item == from {
		e = c.From
	}
	for e.Item != nil && passes(e.Item) {
		s, ok := d.follow(e, seen)
		if !ok {
			break
		}
		_, e = s.ends()
	}
	return e, e.Item != nil
}

// wayIn tells the first switching device behind an inlet or a generator.
func (d *draught) wayIn(it *circuit.Item) bool {
	for _, e := range d.neighbours(it) {
		if e.Item.Kind == "inlet" || e.Item.Kind == "generator" {
			return true
		}
	}
	return false
}

func (d *draught) rank(it *circuit.Item) int {
	if it.Kind == "stop" {
		return 0
	}
	bars, battery, solar, ac := 0, false, false, alternating(it.Domain)
	for _, e := range d.neighbours(it) {
		switch e.Item.Kind {
		case "battery", "bank":
			battery = true
		case "array", "regulator":
			solar = true
		case "inlet", "generator":
			ac = true
		case "bus", "stud", "board":
			bars++
			if d.gathers(e.Item) {
				battery = true
			}
		}
	}
	switch {
	case ac:
		return 1
	case solar:
		return 2
	case battery:
		return 6
	case bars == 2:
		return 5
	}
	return 4
}

// gathers tells a bar on which packs come together: a bank under its name.
func (d *draught) gathers(bar *circuit.Item) bool {
	n := 0
	for _, c := range d.cables[bar] {
		if e, ok := d.away(c, bar); ok && (e.Item.Kind == "battery" || e.Item.Kind == "bank") {
			n++
		}
	}
	return n > 0 && n >= len(d.cables[bar])-1
}

// feeds is what lies next on the load's side.
func (d *draught) feeds(it *circuit.Item) []string {
	var out []string
	directed := d.direct(hanging)
	for _, c := range d.cables[it] {
		supply, load := c.From, c.To
		if directed[c] {
			supply, load = load, supply
		}
		if supply.Item != it || load.Item == it && load.Port == supply.Port {
			continue
		}
		e, ok := d.away(c, it)
		if !ok {
			continue
		}
		name := e.Item.Ref
		if e.Item.Label != "" {
			name += " " + e.Item.Label
		}
		out = append(out, name)
	}
	return unique(out)
}

// column of a table.
type column struct {
	head  string
	width int
	bold  bool
}

// table draws rows of text under a heading; texts that are too long go on in
// the next line of their cell.
type table struct {
	columns []column
	rows    [][]string
	cap     int
}

const tableRow = 580 // height of a row of 3.5 mm capitals

func (t table) row() int { return tableRow - 350 + t.cap }

// heights of the heading and of each row.
func (t table) heights() []int {
	out := []int{t.row()}
	for _, r := range t.rows {
		lines := 1
		for i, c := range t.columns {
			lines = max(lines, len(scene.Wrap(r[i], c.width-240, t.cap, c.bold)))
		}
		out = append(out, t.row()+(lines-1)*(t.cap+150))
	}
	return out
}

func (t table) height() int {
	sum := 0
	for _, h := range t.heights() {
		sum += h
	}
	return sum
}

func (t table) width() int {
	sum := 0
	for _, c := range t.columns {
		sum += c.width
	}
	return sum
}

// draw puts the table down with its upper left corner at a point, without its
// outer border.
func (t table) draw(at geom.Point) []scene.Node {
	var nodes []scene.Node
	heights := t.heights()
	y := at.Y
	for i, h := range heights {
		x := at.X
		for j, c := range t.columns {
			text, bold := c.head, true
			if i > 0 {
				text, bold = t.rows[i-1][j], c.bold
			}
			for k, s := range scene.Wrap(text, c.width-240, t.cap, bold) {
				nodes = append(nodes, scene.Text{At: geom.Point{X: x + 120, Y: y + (t.row()+t.cap)/2 - 30 + k*(t.cap+150)}, Cap: t.cap, Bold: bold, Text: s})
			}
			if j > 0 {
				nodes = append(nodes, stroke(scene.RulePen, x, y, x, y+h))
			}
			x += c.width
		}
		y += h
		pen := scene.RulePen
		if i == 0 {
			pen = scene.FramePen35
		}
		nodes = append(nodes, stroke(pen, at.X, y, x, y))
	}
	return nodes
}

// isolatorTable is the table in a given width.
func (d *draught) isolatorTable(width, capital int) table {
	t := table{cap: capital, columns: []column{{"Open", 1600, false}, {"", 1800, true}, {"Switch", 0, false}, {"Where", 0, false}, {"Feeds", 0, false}}}
	rest := width - 3400
	t.columns[2].width, t.columns[3].width = rest*32/100, rest*26/100
	t.columns[4].width = rest - t.columns[2].width - t.columns[3].width
	for i, s := range d.isolators() {
		label := s.item.Label
		if label == "" {
			label = kindName(s.item.Kind)
		}
		t.rows = append(t.rows, []string{strconv.Itoa(i + 1), s.item.Ref, label, orDash(s.where), orDash(s.feeds)})
	}
	return t
}

// isolatorTables are the isolators in one table, or, where that would be
// higher than there is room, in two side by side without the switches' names.
func (d *draught) isolatorTables(width, room int) []table {
	one := d.isolatorTable(width, 350)
	if one.height() <= room || len(one.rows) < 4 {
		return []table{one}
	}
	half := width / 2
	var two []table
	for _, rows := range [][][]string{one.rows[:(len(one.rows)+1)/2], one.rows[(len(one.rows)+1)/2:]} {
		t := table{cap: one.cap, columns: []column{{"Open", 1600, false}, {"", 1800, true}, {"Feeds", 0, false}, {"Where", 0, false}}}
		t.columns[2].width = (half - 3400) * 56 / 100
		t.columns[3].width = half - 3400 - t.columns[2].width
		for _, r := range rows {
			t.rows = append(t.rows, []string{r[0], r[1], r[4], r[3]})
		}
		two = append(two, t)
	}
	if highestOf(two) >= one.height() {
		return []table{one}
	}
	return two
}

func highestOf(tables []table) int {
	h := 0
	for _, t := range tables {
		h = max(h, t.height())
	}
	return h
}

func kindName(k circuit.Kind) string {
	for _, w := range kindWords {
		if w.kind == string(k) {
			return w.text
		}
	}
	return string(k)
}

func orDash(s string) string {
	if s == "" {
		return "–"
	}
	return s
}
