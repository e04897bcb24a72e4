package schematic

import (
	"strake/layout"
	"strake/layout/geom"
	"strake/render/scene"
)

// block is a legend, a list or a table that fills a hole of the drawing, in
// one of several sizes.
type block struct {
	name  string
	sizes []layout.Size
	parts []block // in which it stands where it finds no hole as a whole
	turn  bool    // the first size that finds room is taken, else the one that fills a hole best
	draw  func(size int, at geom.Point) []*scene.Group
	large func() block // the same in larger letters, where there is room for it; nil: it has none
}

// enlarged makes blocks in letters of 3.5 mm, which a sheet with smaller ones
// bears where there is room; nil: its letters are as large already.
func (m *model) enlarged() *model {
	if m.caps.note >= largeNote || m.d.options.Effort == layout.Quick {
		return nil
	}
	e := *m
	e.caps.note, e.caps.ref = largeNote, max(e.caps.ref, largeNote)
	return &e
}

const largeNote = 350

// cell is one thing in a block that flows in columns.
type cell struct {
	size layout.Size
	draw func(at geom.Point) []*scene.Group
}

// flow is a block of cells under a heading, in one to so many columns.
func flow(name, heading string, class string, capital int, cells []cell, columns int) block {
	b := block{name: name}
	head := line{{heading, capital, true}}
	top := 120
	if heading != "" {
		top += capital + 220
	}
	var plans [][]geom.Point
	for n := 1; n <= min(columns, len(cells)); n++ {
		at, size := columned(cells, n, top)
		size.W = max(size.W, head.width()+300)
		if n > 1 && len(b.sizes) > 0 && size.H >= b.sizes[len(b.sizes)-1].H {
			continue
		}
		b.sizes = append(b.sizes, size)
		plans = append(plans, at)
	}
	b.draw = func(size int, at geom.Point) []*scene.Group {
		s := b.sizes[size]
		g := &scene.Group{Class: class, Nodes: []scene.Node{box(geom.Rect{X0: at.X, Y0: at.Y, X1: at.X + s.W, Y1: at.Y + s.H}, scene.FramePen35)}}
		if heading != "" {
			g.Nodes = append(g.Nodes, head.at(geom.Point{X: at.X + 150, Y: at.Y + 120 + scene.Ascent(capital)})...)
		}
		frame := &scene.Group{Class: "sheet", Nodes: []scene.Node{g}}
		groups := []*scene.Group{frame}
		for i, c := range cells {
			for _, d := range c.draw(at.Add(plans[size][i])) {
				if d.Item == "" {
					g.Nodes = append(g.Nodes, d)
				} else {
					groups = append(groups, d)
				}
			}
		}
		return groups
	}
	return b
}

// columned puts cells into columns of nearly equal height.
func columned(cells []cell, n, top int) ([]geom.Point, layout.Size) {
	total := 0
	for _, c := range cells {
		total += c.size.H
	}
	at := make([]geom.Point, len(cells))
	limit := (total + n - 1) / n
	x, y, width, height, column := 150, top, 0, 0, 1
	for i, c := range cells {
		if y > top && y+c.size.H/2 > top+limit && column < n {
			x, y, width, column = x+width+300, top, 0, column+1
		}
		at[i] = geom.Point{X: x, Y: y}
		y += c.size.H
		width, height = max(width, c.size.W), max(height, y)
	}
	return at, layout.Size{W: x + width + 150, H: height + 100}
}
