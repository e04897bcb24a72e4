package schematic

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"strake/lang/circuit"
	"strake/layout"
	"strake/layout/geom"
	"strake/render/scene"
)

// isolator is a row of the isolator table.
type isolator struct {
	item         *circuit.Item
	act          string // what is done beside or instead of opening it: "pull the plug"
	feeds, where string
	rank         int
}

// isolators are what a person opens, in the order of opening: stops, what lets
// in shore and generator and then these themselves, so that a plug is pulled without
// current, inverters, solar, loads and chargers, ties, banks.
func (d *draught) isolators() []isolator { return d.opened }

// byHand tells a switch that the table of isolators names: printed largest. One
// that is not there would be sought there in vain.
func (d *draught) byHand(it *circuit.Item) bool {
	switch it.Kind {
	case "isolator", "changeover", "stop", "switch":
	default:
		return false
	}
	return slices.ContainsFunc(d.opened, func(i isolator) bool { return i.item == it })
}

func (d *draught) isolatorsOf() []isolator {
	var out []isolator
	for _, it := range d.sys.Items {
		if it.Status == circuit.Removed || it.MemberOf != nil || it.Way != nil {
			continue
		}
		act := sourceAct(it)
		switch it.Kind {
		case "isolator", "changeover", "stop":
		case "switch":
			if d.rank(it) != rankTie { // what it switches is one load
				continue
			}
		case "rcbo", "breaker", "rcd":
			from := d.wayIn(it)
			if from == nil {
				continue
			}
			act = "then " + sourceAct(from) + " " + from.Ref
		default:
			if act == "" || d.hasWayIn(it) {
				continue
			}
		}
		if len(d.cables[it]) == 0 {
			continue
		}
		out = append(out, isolator{item: it, act: act, feeds: strings.Join(d.feeds(it), ", "), where: placeName(it.Place), rank: d.rank(it)})
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

// sourceAct is how a person ends what a source that is no battery gives.
func sourceAct(it *circuit.Item) string {
	switch it.Kind {
	case "inlet":
		return "unplug"
	case "generator", "source":
		return "stop"
	case "alternator":
		return "stop the engine of"
	case "inverter", "inverter-charger":
		return "switch off"
	}
	return ""
}

// wayIn is the inlet or the generator behind which a device is the first to switch.
func (d *draught) wayIn(it *circuit.Item) *circuit.Item {
	for _, e := range d.neighbours(it) {
		if e.Item.Kind == "inlet" || e.Item.Kind == "generator" {
			return e.Item
		}
	}
	return nil
}

// hasWayIn tells a source whose row is that of the device behind it.
func (d *draught) hasWayIn(it *circuit.Item) bool {
	for _, c := range d.cables[it] {
		e := c.To
		if e.Item == it {
			e = c.From
		}
		if e.Item == nil {
			continue
		}
		switch e.Item.Kind {
		case "rcbo", "breaker", "rcd":
			return d.wayIn(e.Item) == it
		}
	}
	return false
}

// rankTie is that of what parts two bars.
const rankTie = 6

func (d *draught) rank(it *circuit.Item) int {
	switch it.Kind {
	case "stop":
		return 0
	case "inlet", "generator", "source", "alternator":
		return 2
	case "inverter", "inverter-charger":
		return 3
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
		return 4
	case battery:
		return 7
	case bars == 2:
		return rankTie
	}
	return 5
}

// gathers tells a bar on which packs come together: a bank under its name.
func (d *draught) gathers(bar *circuit.Item) bool {
	n := 0
	for _, c := range d.cables[bar] {
		if e, ok := d.away(c, bar); ok && e.Item.Nature().Stores {
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

// Heights of a row of 3.5 mm capitals, and what the heading has more of, for
// its rules are heavier.
const (
	tableRow  = 560
	tableHead = 40
)

// row is 1.8 times as high as its capitals, or more.
func (t table) row() int { return max(tableRow-350+t.cap, t.cap*9/5) }

// heights of the heading and of each row.
func (t table) heights() []int {
	out := []int{t.row() + tableHead}
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
			text, bold, base := c.head, true, y+(h+t.cap)/2-25
			if i > 0 {
				text, bold, base = t.rows[i-1][j], c.bold, y+(t.row()+t.cap)/2-40
			}
			for k, s := range scene.Wrap(text, c.width-240, t.cap, bold) {
				nodes = append(nodes, scene.Text{At: geom.Point{X: x + 120, Y: base + k*(t.cap+150)}, Cap: t.cap, Bold: bold, Text: s})
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

// size of the table.
func (t table) size() layout.Size { return layout.Size{W: t.width(), H: t.height()} }

// fit is how many rows find room in a height.
func (t table) fit(height int) int {
	for i, h := range t.heights() {
		if height -= h; height < 0 {
			return max(0, i-1)
		}
	}
	return len(t.rows)
}

// isolatorRows are the rows of the table in their order.
func (d *draught) isolatorRows() [][]string {
	var rows [][]string
	for i, s := range d.isolators() {
		label := s.item.Label
		if label == "" {
			label = kindName(s.item.Kind)
		}
		if s.act != "" {
			label += ", " + s.act
		}
		rows = append(rows, []string{strconv.Itoa(i + 1), s.item.Ref, label, cmp.Or(s.where, notGiven), orDash(s.feeds)})
	}
	return rows
}

// isolatorTable is the table in a given width.
func (d *draught) isolatorTable(width, capital int) table {
	return isolatorTableOf(d.isolatorRows(), width, capital)
}

func isolatorTableOf(rows [][]string, width, capital int) table {
	t := table{cap: capital, columns: []column{{"", 750, false}, {"Open", 1700, true}, {"Switch", 0, false}, {"Where", 0, false}, {"Feeds", 0, false}}, rows: rows}
	t.share(width, 2)
	return t
}

// cramped tells a table with a column narrower than its heading.
func (t table) cramped() bool {
	return slices.ContainsFunc(t.columns, func(c column) bool { return scene.Width(c.head, t.cap, true) > c.width-240 })
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

// share gives the columns from one on what they need of a width, and the rest
// of it to all of them alike; where they need more than there is, the widest
// give way and their rows break.
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
	for sum > width {
		widest, second := from, 0
		for i := from; i < len(need); i++ {
			if need[i] > need[widest] {
				second, widest = need[widest], i
			} else if i != widest {
				second = max(second, need[i])
			}
		}
		less := min(sum-width, max(need[widest]-second, 100))
		need[widest], sum = need[widest]-less, sum-less
	}
	rest := width
	for i := from; i < len(t.columns); i++ {
		w := need[i] + (width-sum)/(len(t.columns)-from)
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
