package schematic

import (
	"strake/layout/geom"
	"strake/render/scene"
)

// isolatorBlock is the table of isolators by itself, in columns of some widths;
// 0: as wide as it is with a column for what each switch is called.
func (m *model) isolatorBlock(widths ...int) block {
	b := block{name: "isolators", turn: true}
	var tables []table
	for _, width := range widths {
		t := m.d.sideTable(width)
		if width == 0 {
			t = m.d.isolatorTable(0, 350)
			t = m.d.isolatorTable(t.natural(), 350)
		}
		tables = append(tables, t)
		b.sizes = append(b.sizes, t.size())
	}
	b.draw = func(size int, at geom.Point) []*scene.Group {
		s := b.sizes[size]
		r := geom.Rect{X0: at.X, Y0: at.Y, X1: at.X + s.W, Y1: at.Y + s.H}
		return onSheet(&scene.Group{Class: "table isolators", Nodes: append(tables[size].draw(at), box(r, scene.FramePen))})
	}
	return b
}

// tableSheet is a sheet of tables: isolators, red-line box, the lists that
// found no room beside a drawing, cables. What is too long for it stays left over.
func (m *model) tableSheet(a paper, left *leftover) scene.Sheet {
	in := a.inner()
	p := sheetPlan{area: in}
	m.foot(&p, in, second)
	y := in.Y0
	if len(left.isolators) > 0 {
		y = m.isolatorsAt(&p, left)
	}
	y, groups := blocksAt(p.area, y, left)
	if r := (geom.Rect{X0: in.X0, Y0: y, X1: in.X1, Y1: p.area.Y1}); len(left.cables.rows) > 0 {
		g, n, height := listIn(r, left.cables.rows)
		if n > 0 {
			p.around = append(p.around, g)
			left.cables.rows, y = left.cables.rows[n:], y+height
		}
	}
	if r := (geom.Rect{X0: in.X0 + 300, Y0: y + 300, X1: in.X1 - 300, Y1: p.area.Y1 - 300}); left.pencil && r.Height() > 2500 {
		r.X1 = min(r.X1, r.X0+16000)
		p.around = append(p.around, redLine(r, 350))
		left.pencil = false
	}
	s := m.newSheet(a, p.area, p.around)
	s.Groups = append(s.Groups, groups...)
	return s
}

// isolatorsAt puts the isolators at the head of a sheet, beside them what
// changes between two prints, and says where that ends.
func (m *model) isolatorsAt(p *sheetPlan, left *leftover) int {
	in := p.area
	sized := func(width int) table {
		t := isolatorTableOf(left.isolators, width, 350)
		t.rows = t.rows[:t.fit(in.Height())]
		return t
	}
	t := sized(min(isolatorTableOf(left.isolators, 0, 350).natural(), in.Width()))
	left.isolators = left.isolators[len(t.rows):]
	p.around = append(p.around, &scene.Group{Class: "table isolators", Nodes: append(t.draw(geom.Point{X: in.X0, Y: in.Y0}), box(geom.Rect{X0: in.X0, Y0: in.Y0, X1: in.X0 + t.width(), Y1: in.Y0 + t.height()}, scene.FramePen))})
	y := in.Y0 + t.height()
	if left.pencil && in.Width()-t.width() >= 7000 {
		p.around = append(p.around, redLine(geom.Rect{X0: in.X0 + t.width(), Y0: in.Y0, X1: min(in.X1, in.X0+t.width()+mostPencil.W), Y1: y}, 350))
		left.pencil = false
	}
	return y
}

// blocksAt puts the blocks into lines under a height, as many as find room, and
// says where they end.
func blocksAt(area geom.Rect, y int, left *leftover) (int, []*scene.Group) {
	var groups []*scene.Group
	x, top, lowest := area.X0+300, y+300, y
	for len(left.blocks) > 0 {
		b := left.blocks[0]
		size := -1
		for line := 0; line < 2 && size < 0; line++ {
			if line == 1 {
				x, top = area.X0+300, lowest+300
			}
			for i, s := range b.sizes {
				if x+s.W <= area.X1-300 && top+s.H <= area.Y1-300 {
					size = i
					break
				}
			}
		}
		if size < 0 {
			break
		}
		groups = append(groups, b.draw(size, geom.Point{X: x, Y: top})...)
		x += b.sizes[size].W + 300
		lowest = max(lowest, top+b.sizes[size].H)
		left.blocks = left.blocks[1:]
	}
	if len(groups) > 0 {
		lowest += 300
	}
	return lowest, groups
}

// listIn is a list of cables in columns, as many of its rows as find room.
func listIn(r geom.Rect, rows [][]string) (g *scene.Group, n, height int) {
	for n = min(len(rows), 6*r.Height()/460); n > 0; n = n * 9 / 10 {
		for _, capital := range []int{350, 300, 250} {
			if n < len(rows) {
				capital = 250
			}
			natural := cableTable(rows[:n], capital).natural()
			for columns := 1; columns <= 6 && natural*4/5 <= r.Width()/columns; columns++ { // else too many rows go on in a second line
				each := (n + columns - 1) / columns
				t := cableTable(rows[:n], capital)
				if each*t.row() > r.Height() {
					continue
				}
				t.share(min(r.Width()/columns, natural), 1)
				if height = tallest(t.heights(), columns, each); height <= r.Height() {
					r.X1, r.Y1 = r.X0+columns*t.width(), r.Y0+height
					return t.inColumns(r, columns, each), n, height
				}
			}
		}
	}
	return nil, 0, 0
}
