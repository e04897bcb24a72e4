package symbol_test

import (
	"bytes"
	"flag"
	"os"
	"testing"

	"github.com/stretchr/testify/require"

	"strake/layout/geom"
	"strake/render/scene"
	"strake/render/svg"
	"strake/render/symbol"
)

var update = flag.Bool("update", false, "write symbols.svg anew")

// TestPicture keeps the picture of all symbols current: a row a symbol, a
// column a pose.
func TestPicture(t *testing.T) {
	var got bytes.Buffer
	require.NoError(t, svg.Write(&got, picture()))
	if *update {
		require.NoError(t, os.WriteFile("symbols.svg", got.Bytes(), 0o644))
	}
	want, err := os.ReadFile("symbols.svg")
	require.NoError(t, err)
	require.Equal(t, string(want), got.String(), "symbols.svg is out of date: go test ./render/symbol -update")
}

// entry of the picture: a symbol in one variant.
type entry struct {
	name, words string
	v           symbol.Variant
}

func entries() []entry {
	var list []entry
	for _, name := range symbol.Names() {
		switch name {
		case "fuse", "isolator", "rcbo":
			list = append(list, entry{name, name, symbol.Variant{}}, entry{name, name + ", 2 pole", symbol.Variant{Poles: 2}})
		case "breaker":
			list = append(list, entry{name, name, symbol.Variant{}}, entry{name, name + ", 3 pole", symbol.Variant{Poles: 3}})
		case "changeover":
			list = append(list, entry{name, name, symbol.Variant{Ways: []string{"shore", "generator"}}},
				entry{name, name + ", 3 ways", symbol.Variant{Ways: []string{"shore", "generator", "inverter"}, Poles: 2}})
		case "charger", "motor", "generator":
			list = append(list, entry{name, name + ", AC", symbol.Variant{InAC: true, OutAC: name == "generator"}}, entry{name, name + ", DC", symbol.Variant{}})
		default:
			list = append(list, entry{name, name, symbol.Variant{}})
		}
	}
	return list
}

const (
	cellW, cellH = 2600, 1900
	labelW       = 4300
	perRow       = 2
)

func picture() scene.Sheet {
	list := entries()
	rows := (len(list) + perRow - 1) / perRow
	block := labelW + 6*cellW
	sheet := scene.Sheet{Width: perRow*block + 1000, Height: rows*cellH + 1500, Title: "Symbols", Desc: "Every symbol in its six poses"}
	sheet.Width -= sheet.Width % 100
	heads := &scene.Group{Class: "sheet"}
	for k := range perRow {
		for i, h := range []string{"upright", "turned", "level", "level turned", "row", "row turned"} {
			heads.Nodes = append(heads.Nodes, scene.Text{At: geom.Point{X: 500 + k*block + labelW + i*cellW + cellW/2, Y: 800}, Cap: scene.CapNote, Anchor: scene.Middle, Text: h})
		}
	}
	sheet.Groups = append(sheet.Groups, heads)
	for n, e := range list {
		k, row := n/rows, n%rows
		x, y := 500+k*block, 1200+row*cellH
		s, _ := symbol.For(e.name, e.v)
		g := &scene.Group{Class: "legend", Item: e.words, Shift: geom.Point{X: x, Y: y}}
		g.Nodes = append(g.Nodes, scene.Text{At: geom.Point{X: 0, Y: cellH / 2}, Cap: scene.CapText, Text: e.words})
		for i, pose := range symbol.Poses {
			f := s.Form(pose)
			c := geom.Point{X: labelW + i*cellW + cellW/2, Y: cellH / 2}
			shift := geom.Point{X: c.X - (f.Box.X0+f.Box.X1)/2, Y: c.Y - (f.Box.Y0+f.Box.Y1)/2}
			inner := &scene.Group{Class: "device " + e.name, Shift: shift, Nodes: f.Nodes}
			for _, p := range f.Ports {
				inner.Nodes = append(inner.Nodes, stub(p))
			}
			g.Nodes = append(g.Nodes, inner)
		}
		sheet.Groups = append(sheet.Groups, g)
	}
	return sheet
}

// stub is a short piece of wire at a port.
func stub(p symbol.Port) scene.Node {
	d := map[symbol.Side]geom.Point{symbol.Top: {Y: -200}, symbol.Bottom: {Y: 200}, symbol.LeftSide: {X: -200}, symbol.RightSide: {X: 200}}[p.Side]
	return scene.Line{Pen: scene.WirePen(scene.MainDC), Points: []geom.Point{p.At, p.At.Add(d)}}
}
