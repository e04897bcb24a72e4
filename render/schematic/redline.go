package schematic

import (
	"slices"

	"strake/layout"
	"strake/layout/geom"
	"strake/render/scene"
)

// head of a column of the red-line box, with its share of the width in per cent.
type head struct {
	text  string
	share int
}

// redHeads are the headings of the red-line box, for ever less width.
var redHeads = [][]head{
	{{"Date", 17}, {"Changed in pencil", 43}, {"Fuse", 13}, {"Cable", 15}, {"By", 12}},
	{{"Date", 26}, {"Changed in pencil", 56}, {"By", 18}},
	{{"Date", 26}, {"Changed", 56}, {"By", 18}},
	{{"Date", 30}, {"Changed", 70}},
}

// redLine is a ruled box in which what changes between two prints is written by hand.
func redLine(r geom.Rect, capital int) *scene.Group {
	g := &scene.Group{Class: "table red-line", Nodes: []scene.Node{box(r, scene.FramePen35)}}
	var heads []head
	for _, heads = range redHeads { // the most columns of which each holds its heading
		if !slices.ContainsFunc(heads, func(h head) bool { return scene.Width(h.text, capital, true) > r.Width()*h.share/100-140 }) {
			break
		}
	}
	row := tableRow - 350 + capital
	x := r.X0
	for i, h := range heads {
		if i > 0 {
			g.Nodes = append(g.Nodes, stroke(scene.RulePen, x, r.Y0, x, r.Y1))
		}
		w := r.Width() * h.share / 100
		g.Nodes = append(g.Nodes, scene.Text{At: geom.Point{X: x + 100, Y: r.Y0 + (row+capital)/2 - 30}, Cap: capital, Bold: true, Text: h.text})
		x += w
	}
	g.Nodes = append(g.Nodes, stroke(scene.FramePen35, r.X0, r.Y0+row, r.X1, r.Y0+row))
	rows := (r.Height() - row) / 650
	for i := 1; i < rows; i++ {
		y := r.Y0 + row + (r.Height()-row)*i/rows
		g.Nodes = append(g.Nodes, stroke(scene.RulePen, r.X0, y, r.X1, y))
	}
	return g
}

// redLineName is that of the block that keeps room for a red-line box.
const redLineName = "red-line"

// redLineBlock keeps room for a red-line box; when all else stands it grows as
// large as its hole.
func redLineBlock() block {
	b := block{name: redLineName, sizes: []layout.Size{leastPencil}}
	b.draw = func(_ int, at geom.Point) []*scene.Group {
		return onSheet(redLine(geom.Rect{X0: at.X, Y0: at.Y, X1: at.X + leastPencil.W, Y1: at.Y + leastPencil.H}, 250))
	}
	return b
}

// readerNotes tell how to read the sheet.
var readerNotes = []string{
	"DC line: a pair. AC: all cores.",
	"Length one way. ?: not given.",
	"%: drop from the source, hot.",
	"No note: bar or bolted link.",
	"[needs]: proposed, not fitted.",
	"Dot: joined; none: not joined.",
	"Wrong? Pencil it, tell the yard.",
}
