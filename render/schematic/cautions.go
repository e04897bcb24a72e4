package schematic

import (
	"strconv"
	"strings"

	"strake/lang/diag"
	"strake/layout/geom"
	"strake/render/scene"
)

// cautions are printed on every sheet.
func (d *draught) cautions() []string {
	out := []string{"Switch off, lock off, prove dead with a meter before any work.",
		"Battery posts stay live: cover them, take off rings and watches."}
	ac, high := false, false
	for _, m := range d.voltagesUsed() {
		ac = ac || m.AC
		high = high || !m.AC && max(m.Highest.Value, m.Nominal.Value) > 60
	}
	for _, it := range d.sys.Items {
		high = high || it.Kind == "array" && d.cold[it].Value > 60
	}
	if ac {
		out = append(out, "Mains: pull the shore plug AND switch off inverter and generator.")
	}
	if high {
		out = append(out, "DC above 60 V can kill: treat it as mains.")
	}
	return append(out, "Local rules and licensed practice come first.")
}

// cautionNote is the cautions in a width.
func (d *draught) cautionNote(width, capital int) note {
	head := word{"CAUTION", capital, true}
	text := join(d.cautions()...)
	first := wrapped(text, width-head.width()-gap(capital, capital), capital, false)[0][0]
	n := note{line{head, first}}
	return append(n, wrapped(strings.TrimPrefix(text, first.text), width, capital, false)...)
}

// band tells why a sheet is not to be built from; empty when nothing stands against it.
func (d *draught) band() string {
	s := d.summary
	var why []string
	if s.Failed > 0 {
		why = append(why, count(s.Failed, "check")+" failed")
	}
	if s.Failed == 0 {
		for _, f := range d.findings {
			if f.Severity <= diag.Fault && f.Accepted == "" {
				why = append(why, "findings at fault or above")
				break
			}
		}
	}
	if s.Proposed > 0 {
		why = append(why, count(s.Proposed, "size")+" proposed")
	}
	if d.sys.Craft.State == "draft" {
		why = append(why, "a draft")
	}
	if len(why) == 0 {
		return ""
	}
	return "NOT READY TO BUILD FROM: " + list(why)
}

func count(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return strconv.Itoa(n) + " " + noun + "s"
}

// checked is the account of the checks.
func (d *draught) checked() string { return d.summary.Line() }

const rule100Width = 14000 // with its words

// rule100 is a rule of 100 mm, to see whether a print is to scale; its left end at a point.
func rule100(at geom.Point, capital int) []scene.Node {
	nodes := []scene.Node{stroke(scene.SymbolPen, at.X, at.Y, at.X+10000, at.Y)}
	for i := 0; i <= 10; i++ {
		h := 80
		if i%5 == 0 {
			h = 160
		}
		nodes = append(nodes, stroke(scene.ThinPen, at.X+i*1000, at.Y-h, at.X+i*1000, at.Y+h))
	}
	return append(nodes, scene.Text{At: geom.Point{X: at.X + 10300, Y: at.Y + capital/2}, Cap: capital, Text: "100 mm at full size"})
}
