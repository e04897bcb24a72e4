package schematic

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strake/lang/circuit"
	"strake/lang/diag"
	"strake/lang/quantity"
	"strake/lang/size"
	"strake/layout"
	"strake/layout/geom"
	"strake/render/scene"
)

var update = flag.Bool("update", false, "write the golden files anew")

func draw(t *testing.T, c *craft, o Options) []scene.Sheet {
	t.Helper()
	sys, plan := c.system()
	sheets := Draw(sys, plan, nil, diag.Summary{RuleSet: "iso-13297", Passed: 12, NotVerified: 3}, o)
	require.NotEmpty(t, sheets)
	return sheets
}

// content lists what a sheet says, without where it stands: a line for each
// group with an item, and one for each table or block with its texts.
func content(sheets []scene.Sheet) string {
	var lines []string
	var walk func(g *scene.Group)
	walk = func(g *scene.Group) {
		var texts []string
		for _, n := range g.Nodes {
			switch n := n.(type) {
			case scene.Text:
				texts = append(texts, n.Text)
			case *scene.Group:
				walk(n)
			}
		}
		if head := join(g.Class, g.Item, arrow(g.From, g.To)); len(texts) > 0 || g.Item != "" {
			lines = append(lines, strings.TrimSpace(head+" | "+strings.Join(texts, " / ")))
		}
	}
	for _, s := range sheets {
		for _, g := range s.Groups {
			walk(g)
		}
	}
	slices.SortStableFunc(lines, circuit.Compare)
	return strings.Join(lines, "\n") + "\n"
}

func arrow(from, to string) string {
	if from == "" && to == "" {
		return ""
	}
	return from + " -> " + to
}

func TestWhatASheetSays(t *testing.T) {
	// The content mark is left out: it changes with every field that a craft gets.
	got := regexp.MustCompile(`Content mark / [0-9A-F]{4} [0-9A-F]{4}`).ReplaceAllString(content(draw(t, launch(), Options{Paper: "A3"})), "Content mark / ****")
	path := filepath.Join("testdata", "launch.txt")
	if *update {
		require.NoError(t, os.MkdirAll("testdata", 0o755))
		require.NoError(t, os.WriteFile(path, []byte(got), 0o644))
	}
	want, err := os.ReadFile(path)
	require.NoError(t, err)
	assert.Equal(t, string(want), got)
}

func TestSameSheetTwice(t *testing.T) {
	assert.Equal(t, draw(t, launch(), Options{}), draw(t, launch(), Options{}))
}

// Everything of the drawing stands inside its area, everything else on the paper.
func TestInsideTheFrame(t *testing.T) {
	for _, p := range []string{"", "A4", "A3", "A2"} {
		for _, s := range draw(t, launch(), Options{Paper: p}) {
			paper := geom.Rect{X1: s.Width, Y1: s.Height}
			frame := geom.Rect{X0: filing, Y0: margin, X1: s.Width - margin, Y1: s.Height - margin}
			for _, g := range s.Groups {
				switch {
				case g.Class == "sheet":
					assert.True(t, paper.Holds(scene.Bounds(g)), "%s: %v", p, scene.Bounds(g))
				case len(g.Nodes) > 0:
					assert.True(t, frame.Holds(scene.Bounds(g)), "%s: %s %s leaves the frame", p, g.Class, g.Item)
				}
			}
		}
	}
}

// Whatever a text left out or broke, there is a sheet and no panic.
func TestUnfinishedCraft(t *testing.T) {
	alone := func(c *craft) {}
	for name, build := range map[string]func(*craft){
		"nothing":        alone,
		"a lone battery": func(c *craft) { c.item("battery", "B1", "", nil) },
		"an empty board": func(c *craft) { c.item("board", "DB1", "", nil).Board = &circuit.Board{} },
		"a bank without members": func(c *craft) {
			c.item("bank", "BK", "", nil).Bank = &circuit.Bank{}
		},
		"a cable to nothing": func(c *craft) {
			c.item("battery", "B1", "", nil)
			c.sys.Cables = append(c.sys.Cables, &circuit.Cable{ID: "W1", OwnRef: true, From: circuit.End{Item: c.items["B1"]}, To: circuit.End{Untraced: true}})
		},
		"a cable from nothing to nothing": func(c *craft) {
			c.sys.Cables = append(c.sys.Cables, &circuit.Cable{ID: "W1"})
		},
		"a ring": func(c *craft) {
			for _, r := range []string{"F1", "F2", "F3"} {
				c.item("fuse", r, "", nil)
			}
			c.run(nil, 2.5, "F1", 1.0, "F2", 1.0, "F3", 1.0, "F1")
		},
		"a cable to itself": func(c *craft) {
			c.item("fuse", "F1", "", nil)
			c.run(nil, 2.5, "F1", 1.0, "F1")
		},
		"a port that no symbol has": func(c *craft) {
			c.item("battery", "B1", "", nil)
			c.item("motor", "M1", "", nil)
			c.run(nil, 2.5, "B1", 1.0, "M1")
			c.sys.Cables[0].To.Port = "nowhere"
		},
		"a label as long as the sheet": func(c *craft) {
			c.item("battery", "B1", strings.Repeat("Starboard quarter locker ", 40), nil)
			c.item("load", "E1", strings.Repeat("x", 400), nil)
			c.run(nil, 2.5, "B1", 1.0, "E1")
		},
		"sixty loads on one battery": func(c *craft) {
			c.item("battery", "B1", "", nil)
			for i := range 60 {
				ref := fmt.Sprintf("E%d", i+1)
				c.item("load", ref, "", nil)
				c.run(nil, 2.5, "B1", 1.0, ref)
			}
		},
	} {
		t.Run(name, func(t *testing.T) {
			c := newCraft("Pintlewick")
			build(c)
			draw(t, c, Options{Effort: layout.Quick})
			sys, _ := c.system()
			assert.NotEmpty(t, Draw(sys, nil, nil, diag.Summary{}, Options{}))
		})
	}
}

func TestSupplyAboveLoad(t *testing.T) {
	c := newCraft("Pintlewick")
	d := c.domain("drive", 48, 58.4, false)
	c.item("battery", "B1", "", d)
	c.item("fuse", "F1", "", d)
	c.item("bus", "PB", "", d)
	c.item("motor", "M1", "", d)
	c.run(d, 35, "PB", 1.0, "F1", 1.0, "B1") // written from the bar to the battery
	c.run(d, 35, "M1", 1.0, "PB")            // and from the motor to the bar
	sys, plan := c.system()
	m := newDraught(sys, plan, nil, diag.Summary{}, Options{}).newModel(loose, hanging)
	for _, k := range sys.Cables {
		supply := m.supply(k)
		switch k.ID {
		case "F1-B1":
			assert.Equal(t, "B1", supply.Item.Ref, k.ID)
		case "PB-F1":
			assert.Equal(t, "F1", supply.Item.Ref, k.ID)
		case "M1-PB":
			assert.Equal(t, "PB", supply.Item.Ref, k.ID)
		}
	}
}

func TestOrderOfOpening(t *testing.T) {
	c := newCraft("Pintlewick")
	d, ac := c.domain("drive", 48, 58.4, false), c.domain("mains", 230, 0, true)
	c.item("bank", "BK", "", d)
	c.item("isolator", "Q1", "Bank isolator", d)
	c.item("bus", "PB", "Bar", d)
	c.run(d, 35, "BK", 1.0, "Q1", 1.0, "PB")
	c.item("isolator", "Q2", "Motor isolator", d)
	c.item("motor", "M1", "Motor", d)
	c.run(d, 35, "PB", 1.0, "Q2", 1.0, "M1")
	c.item("array", "PV1", "Roof", d)
	c.item("isolator", "Q3", "Solar isolator", d)
	c.run(d, 6, "PV1", 1.0, "Q3", 1.0, "PB")
	c.item("inlet", "SH1", "Shore", ac)
	c.item("rcbo", "R1", "Shore RCBO", ac)
	c.item("socket", "X1", "Socket", ac)
	c.run(ac, 2.5, "SH1", 1.0, "R1", 1.0, "X1")
	sys, plan := c.system()
	var order, feeds []string
	for _, s := range newDraught(sys, plan, nil, diag.Summary{}, Options{}).isolators() {
		order, feeds = append(order, s.item.Ref), append(feeds, s.feeds)
	}
	assert.Equal(t, []string{"R1", "Q3", "Q2", "Q1"}, order)
	assert.Equal(t, []string{"X1 Socket", "PB Bar", "M1 Motor", "PB Bar"}, feeds)
}

func TestMark(t *testing.T) {
	sys, plan := launch().system()
	mark := Mark(sys, plan)
	assert.Regexp(t, `^[0-9A-F]{4} [0-9A-F]{4}$`, mark)
	again, plan2 := launch().system()
	again.Items[0].Span.Start = 77
	assert.Equal(t, mark, Mark(again, plan2), "where a thing is written does not count")
	again.Cables[0].Length = stated[quantity.Metre](9)
	assert.NotEqual(t, mark, Mark(again, plan2), "a length counts")
	third, plan3 := launch().system()
	plan3.Cables[0].Area = quantity.Some[quantity.SquareMM](95)
	assert.NotEqual(t, mark, Mark(third, plan3), "a chosen size counts")
}

func TestBand(t *testing.T) {
	sys, plan := launch().system()
	d := newDraught(sys, plan, nil, diag.Summary{}, Options{})
	assert.Empty(t, d.band())
	d.summary.Proposed = 4
	assert.Equal(t, "NOT READY TO BUILD FROM: 4 sizes proposed", d.band())
	d.summary.Failed = 2
	assert.Equal(t, "NOT READY TO BUILD FROM: 2 checks failed and 4 sizes proposed", d.band())
	sys.Craft.State = "draft"
	assert.Contains(t, d.band(), "a draft")
}

func TestProposedSizesSayNeeds(t *testing.T) {
	sys, plan := launch().system()
	plan.Cables[0].Chosen = true
	plan.Devices = append(plan.Devices, size.Device{Of: sys.Item("F1"), Rating: quantity.Some[quantity.Ampere](150), Chosen: true})
	d := newDraught(sys, plan, nil, diag.Summary{}, Options{})
	assert.Contains(t, d.sizeText(plan.Cables[0].Of), "[needs ")
	assert.Equal(t, "[needs 150 A]", d.rating(sys.Item("F1")))
	sys.Item("F2").Facts.Current = circuit.Fact[quantity.Ampere]{}
	assert.Equal(t, "? A", d.rating(sys.Item("F2")), "no blank for what is not given")
}

// A converter turns with its connections: where the layout leads a sequence
// through it backward, its input still lies where the feeding cable lands.
func TestConvertersFaceWhatFeedsThem(t *testing.T) {
	sys, plan := launch().system()
	m := newDraught(sys, plan, nil, diag.Summary{}, Options{}).newModel(loose, hanging)
	node := m.numbers[sys.Item("T1")]
	for i, w := range m.graph.Wires {
		if m.wires[i].cable == nil || m.wires[i].cable.ID != "F4-T1" {
			continue
		}
		ends := func(y int) layout.Sheet {
			points := []geom.Point{{X: 0, Y: 3000}, {X: 0, Y: y}}
			if w.From.Node == node {
				slices.Reverse(points)
			}
			return layout.Sheet{Wires: []layout.PlacedWire{{Wire: i, Points: points}}}
		}
		assert.Equal(t, layout.Upright, m.facing(layout.PlacedSymbol{Node: node}, ends(0)))
		assert.Equal(t, layout.Inverted, m.facing(layout.PlacedSymbol{Node: node}, ends(1000)))
		return
	}
	t.Fatal("the converter's cable is a wire")
}

func TestEveryBatteryIsMarkedLive(t *testing.T) {
	c := newCraft("Pintlewick")
	d := c.domain("house", 12, 14.6, false)
	for _, r := range []string{"B1", "B2", "B3"} {
		c.item("battery", r, "", d, cell12)
	}
	for _, r := range []string{"F1", "F2"} {
		c.item("fuse", r, "", d)
	}
	c.item("bus", "BB", "", d)
	c.item("bus", "PB", "", d)
	c.item("isolator", "Q1", "", d)
	c.item("isolator", "Q3", "", d)
	c.item("switch", "S1", "", d)
	c.item("lamp", "L1", "", d)
	c.run(d, 35, "B1", 1.0, "F1", 1.0, "BB")
	c.run(d, 35, "B2", 1.0, "F2", 1.0, "BB")
	c.run(d, 35, "BB", 1.0, "Q1", 1.0, "PB")
	c.run(d, 35, "B3", 1.0, "Q3", 1.0, "PB")
	c.run(d, 2.5, "PB", 1.0, "S1", 1.0, "L1")
	sys, plan := c.system()
	m := newDraught(sys, plan, nil, diag.Summary{}, Options{}).newModel(loose, hanging)
	says := func(n note) string { return fmt.Sprint(n) }
	assert.Contains(t, says(m.barName(sys.Item("BB"))), "ALWAYS LIVE")
	assert.NotContains(t, says(m.deviceNote(sys.Item("B1"))), "ALWAYS LIVE", "its bar says so")
	assert.Contains(t, says(m.deviceNote(sys.Item("B3"))), "ALWAYS LIVE")
	for ref, large := range map[string]bool{"Q1": true, "Q3": true, "S1": false, "F1": false} {
		assert.Equal(t, large, m.deviceNote(sys.Item(ref))[0][0].cap == loose.hand, ref)
	}
}
