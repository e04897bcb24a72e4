package schematic

import (
	"cmp"
	"slices"
	"strconv"

	"strake/lang/circuit"
	"strake/layout"
	"strake/layout/geom"
	"strake/render/scene"
)

// cableRows are all cables, each with its size, its length, what protects it,
// the places of its ends, and where it is drawn.
func (d *draught) cableRows(drawn map[string]string) [][]string {
	var rows [][]string
	cables := slices.DeleteFunc(slices.Clone(d.sys.Cables), func(c *circuit.Cable) bool { return c.Link || c.Status == circuit.Removed })
	slices.SortStableFunc(cables, func(a, b *circuit.Cable) int { return circuit.Compare(a.ID, b.ID) })
	for _, c := range cables {
		rows = append(rows, []string{c.ID, d.sizeText(c), d.lengthText(c), d.guards(c), fromTo(endPlace(c.From), endPlace(c.To)), orDash(drawn[c.ID])})
	}
	return rows
}

// cableTable is a table of such rows.
func cableTable(rows [][]string, capital int) table {
	return table{cap: capital, columns: []column{{"Cable", 0, true}, {"Size", 0, false}, {"Length", 0, false}, {"Guarded by", 0, false}, {"Where", 0, false}, {"On", 0, false}}, rows: rows}
}

// cableList is a list of cables, with the blocks that were made of it.
type cableList struct {
	rows [][]string
	made map[listing][]block
}

// blocks are the list in pieces that follow one another by the cables' names.
func (l *cableList) blocks(how listing) []block {
	if b, ok := l.made[how]; ok {
		return b
	}
	if l.made == nil {
		l.made = map[listing][]block{}
	}
	each := (len(l.rows) + how.pieces - 1) / how.pieces
	var out []block
	for part := range slices.Chunk(l.rows, each) {
		out = append(out, cableBlock(part, how.capital))
	}
	l.made[how] = out
	return out
}

// cableBlock is a list of cables in letters of a size, in one to six columns.
func cableBlock(rows [][]string, capital int) block {
	b := block{name: "cables"}
	type form struct {
		list          table
		columns, each int
	}
	var forms []form
	natural := cableTable(rows, capital).natural()
	for _, width := range []int{natural, natural * 5 / 6, natural * 3 / 4} {
		list := cableTable(rows, capital)
		list.share(width, 1)
		if list.cramped() {
			break
		}
		heights := list.heights()
		for columns := 1; columns <= 6; columns++ {
			each := (len(rows) + columns - 1) / columns
			if columns > 1 && each*(columns-1) >= len(rows) {
				continue // the last would be empty
			}
			forms = append(forms, form{list, columns, each})
			b.sizes = append(b.sizes, layout.Size{W: columns * width, H: tallest(heights, columns, each)})
		}
	}
	b.draw = func(size int, at geom.Point) []*scene.Group {
		f, z := forms[size], b.sizes[size]
		return onSheet(f.list.inColumns(geom.Rect{X0: at.X, Y0: at.Y, X1: at.X + z.W, Y1: at.Y + z.H}, f.columns, f.each))
	}
	return b
}

// inColumns draws a table in columns side by side, of so many rows each.
func (t table) inColumns(r geom.Rect, columns, each int) *scene.Group {
	g := &scene.Group{Class: "table cables", Nodes: []scene.Node{box(r, scene.FramePen35)}}
	for i := range columns {
		part := t
		part.rows = t.part(i, each)
		x := r.X0 + i*t.width()
		g.Nodes = append(g.Nodes, part.draw(geom.Point{X: x, Y: r.Y0})...)
		if i > 0 {
			g.Nodes = append(g.Nodes, stroke(scene.FramePen35, x, r.Y0, x, r.Y1))
		}
	}
	return g
}

// part is the rows of the column of that number.
func (t table) part(i, each int) [][]string {
	return t.rows[min(i*each, len(t.rows)):min((i+1)*each, len(t.rows))]
}

// guards names what protects a cable, from either end; a way's own device by
// its rating.
func (d *draught) guards(c *circuit.Cable) string {
	var names []string
	if p := d.sizes[c]; p != nil {
		for _, it := range p.Protection {
			name := it.Ref
			if it.Way != nil && it.Way.Cable == c {
				name = d.rating(it)
			}
			names = append(names, name)
		}
	}
	names = unique(names)
	if len(names) > 4 {
		names = append(names[:3:3], "and "+strconv.Itoa(len(names)-3)+" more")
	}
	if len(names) == 0 {
		return d.unguarded(c)
	}
	return commas(names...)
}

// unguarded says why nothing protects a cable.
func (d *draught) unguarded(c *circuit.Cable) string {
	if c.Bank != nil {
		return "link in a bank"
	}
	arrays, limited, others := 0, 0, 0
	for _, side := range d.net.Sides(c, circuit.View{}) {
		for _, s := range side.Supplies {
			switch n := s.Item.Nature(); {
			case s.Item.Kind == "array":
				arrays++
			case n.Limited || n.Converts:
				limited++
			default:
				others++
			}
		}
	}
	switch {
	case others > 0:
		return "none"
	case limited > 0:
		return "limits itself"
	case arrays > 0:
		return "array"
	}
	return "not fed"
}

// endPlace is where an end of a cable is.
func endPlace(e circuit.End) string {
	switch {
	case e.Capped != nil:
		return placeName(e.Capped)
	case e.Item == nil:
		return ""
	case e.Item.Place == nil && e.Item.Way != nil:
		return placeName(e.Item.Way.Board.Place)
	}
	return placeName(e.Item.Place)
}

// fromTo names the two places of a cable, or the one in which it stays.
func fromTo(from, to string) string {
	if from == "" && to == "" {
		return "not given"
	}
	if from == to {
		return from
	}
	return cmp.Or(from, notGiven) + " – " + cmp.Or(to, notGiven)
}

// notGiven stands for what the text does not say.
const notGiven = "?"
