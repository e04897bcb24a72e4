package schematic

import (
	"slices"
	"strconv"

	"strake/lang/circuit"
	"strake/layout/geom"
	"strake/render/scene"
)

// cableRows are the cables that are wanted, each with its size, its length,
// what protects it and the places of its ends.
func (d *draught) cableRows(wanted func(*circuit.Cable) bool) [][]string {
	var rows [][]string
	cables := slices.DeleteFunc(slices.Clone(d.sys.Cables), func(c *circuit.Cable) bool { return c.Link || c.Status == circuit.Removed || !wanted(c) })
	slices.SortStableFunc(cables, func(a, b *circuit.Cable) int { return circuit.Compare(a.ID, b.ID) })
	for _, c := range cables {
		rows = append(rows, []string{c.ID, d.sizeText(c), d.lengthText(c), d.guards(c), fromTo(endPlace(c.From), endPlace(c.To))})
	}
	return rows
}

// cableTable is a table of such rows.
func cableTable(rows [][]string, capital int) table {
	return table{cap: capital, columns: []column{{"Cable", 0, true}, {"Size", 0, false}, {"Length", 0, false}, {"Guarded by", 0, false}, {"Where", 0, false}}, rows: rows}
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
	return orDash(commas(names...))
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
	if from == to || to == "" {
		return orDash(from)
	}
	return orDash(from) + " – " + to
}
