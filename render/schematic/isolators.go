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
	t := table{cap: capital, columns: []column{{"", 750, false}, {"Open", 1700, true}, {"Switch", 0, false}, {"Where", 0, false}, {"Feeds", 0, false}}}
	for i, s := range d.isolators() {
		label := s.item.Label
		if label == "" {
			label = kindName(s.item.Kind)
		}
		t.rows = append(t.rows, []string{strconv.Itoa(i + 1), s.item.Ref, label, orDash(s.where), orDash(s.feeds)})
	}
	t.share(width, 2)
	return t
}

// natural is the width in which no row breaks.
func (t table) natural() int {
	sum := 0
	for i, c := range t.columns {
		w := max(c.width, scene.Width(c.head, t.cap, true)+240)
		for _, r := range t.rows {
			w = max(w, scene.Width(r[i], t.cap, c.bold)+240)
		}
		sum += w
	}
	return sum
}

// share gives the columns from the second on what they need of a width, and
// the rest of it to all of them alike; where they need more than there is,
// each gives up its share.
func (t *table) share(width, from int) {
	need, sum := make([]int, len(t.columns)), 0
	for i := range t.columns {
		need[i] = max(t.columns[i].width, scene.Width(t.columns[i].head, t.cap, true)+240)
		for _, r := range t.rows {
			need[i] = max(need[i], scene.Width(r[i], t.cap, t.columns[i].bold)+240)
		}
		if i >= from {
			sum += need[i]
		} else {
			width -= need[i]
			t.columns[i].width = need[i]
		}
	}
	rest := width
	for i := from; i < len(t.columns); i++ {
		w := need[i] + (width-sum)/(len(t.columns)-from)
		if sum > width {
			w = need[i] * width / sum
		}
		if i == len(t.columns)-1 {
			w = rest
		}
		t.columns[i].width = w
		rest -= w
	}
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
