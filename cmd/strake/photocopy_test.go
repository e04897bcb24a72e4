// What a black copy at A4 still says: the kind of voltage of every wire is told
// from its dashes alone, against the lines of the legend beside it.
package main

import (
	"encoding/xml"
	"fmt"
	"maps"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strake/layout"
	"strake/layout/geom"
	"strake/render/scene"
)

// A page of A4 across at 200 dots an inch.
const copyWidth = 2339

// leastStretch is how much of a wire shows its pattern, in millimetres of the sheet.
const leastStretch = 10

// stroked is one straight line of a sheet, in millimetres.
type stroked struct {
	segment
	look  string // its class in the style sheet: "w50-5a2a86-d360-90-50-90"
	item  string // of a cable; empty: a line of the legend
	cable bool
	key   bool
}

// pattern of a look: what it has besides its colour; a status's dashes alone,
// for they come in every width.
func (s stroked) pattern() string {
	parts := strings.Split(s.look, "-")
	width, dash := parts[0], ""
	if i := strings.Index(s.look, "-d"); i >= 0 {
		dash = s.look[i+2:]
	}
	if dash == "" {
		return width
	}
	return dash
}

// strokes reads the straight lines of a sheet, and its width.
func strokes(t *testing.T, sheet string) (lines []stroked, width float64) {
	t.Helper()
	type group struct{ class, item string }
	var stack []group
	d := xml.NewDecoder(strings.NewReader(sheet))
	for {
		token, err := d.Token()
		if err != nil {
			require.Equal(t, "EOF", err.Error())
			return lines, width
		}
		switch e := token.(type) {
		case xml.EndElement:
			if e.Name.Local == "g" {
				stack = stack[:len(stack)-1]
			}
		case xml.StartElement:
			attrs := map[string]string{}
			for _, a := range e.Attr {
				attrs[a.Name.Local] = a.Value
			}
			switch e.Name.Local {
			case "svg":
				width, err = strconv.ParseFloat(strings.TrimSuffix(attrs["width"], "mm"), 64)
				require.NoError(t, err)
			case "g":
				require.Empty(t, attrs["transform"])
				stack = append(stack, group{attrs["class"], attrs["data-item"]})
			case "polyline", "polygon":
				g := stack[len(stack)-1]
				points, err := numbers(attrs["points"])
				require.NoError(t, err)
				if e.Name.Local == "polygon" {
					points = append(points, points[0], points[1])
				}
				for i := 0; i+3 < len(points); i += 2 {
					lines = append(lines, stroked{
						segment: segment{point{points[i] / 100, points[i+1] / 100}, point{points[i+2] / 100, points[i+3] / 100}},
						look:    strings.Fields(attrs["class"])[0], item: g.item,
						cable: strings.HasPrefix(g.class, "cable"),
						key:   g.class == "key" && len(points) == 4,
					})
				}
			}
		}
	}
}

// free is the longest part of a wire that nothing else meets.
func (s stroked) free(lines []stroked) segment {
	cuts := []float64{0, s.length()}
	for _, o := range lines {
		if o.segment == s.segment || s.box().grow(1).apart(o.box(), 0) {
			continue
		}
		for _, p := range []point{o.a, o.b} { // ends and corners beside it
			if s.toPoint(p) < 1 {
				cuts = append(cuts, min(max(distance(s.a, p), 0), s.length()))
			}
		}
		if at, _, met := s.meets(o.segment); met {
			cuts = append(cuts, distance(s.a, at))
		}
	}
	slices.Sort(cuts)
	best := segment{s.a, s.a}
	for i := 1; i < len(cuts); i++ {
		if f := (segment{s.on((cuts[i-1] + 0.8) / s.length()), s.on((cuts[i] - 0.8) / s.length())}); cuts[i]-cuts[i-1] > 1.6 && f.length() > best.length() {
			best = f
		}
	}
	return best
}

// trace is what a copy shows along a line: on or off at each dot, and how wide
// the line is where it is on.
type trace struct {
	on    []bool
	width int
}

func (b bitmap) trace(s segment, scale float64) trace {
	var t trace
	n := int(s.length() * scale)
	var widths []int
	for i := range n {
		p := s.on(float64(i) / float64(n))
		x, y := int(p.x*scale), int(p.y*scale)
		dx, dy := 0, 1
		if s.a.x == s.b.x {
			dx, dy = 1, 0
		}
		wide := 0
		for _, side := range []int{-1, 1} { // from the middle outward, as far as the ink goes on
			for k := side; b.inked(x+k*dx, y+k*dy) && abs(k) < 10; k += side {
				wide++
			}
		}
		if b.inked(x, y) {
			wide++
		}
		t.on = append(t.on, wide > 0)
		if wide > 0 {
			widths = append(widths, wide)
		}
	}
	slices.Sort(widths)
	if len(widths) > 0 {
		t.width = widths[len(widths)/2]
	}
	return t
}

func (b bitmap) inked(x, y int) bool {
	return x >= 0 && y >= 0 && x < b.size.X && y < b.size.Y && b.dark[y*b.size.X+x] >= certainInk
}

// likeness is the share of a trace that agrees with a pattern of on, off, on,
// off … in hundredths of a millimetre, at the phase and the stretch that agree
// best: a pattern is fitted to its line by up to 15 %.
func (t trace) likeness(pattern string, scale float64) float64 {
	var dash []float64
	for _, d := range strings.Split(pattern, "-") {
		v, err := strconv.ParseFloat(d, 64)
		if err != nil { // a width: solid
			dash = nil
			break
		}
		dash = append(dash, v)
	}
	best := 0
	for stretch := 0.86; stretch < 1.17; stretch += 0.02 {
		best = max(best, t.agreeing(dash, scale*stretch))
	}
	return float64(best) / float64(len(t.on))
}

// agreeing is how many dots of a trace agree with a pattern at the best phase;
// no dashes: a solid line.
func (t trace) agreeing(dash []float64, scale float64) int {
	period := 0.0
	var scaled []float64
	for _, d := range dash {
		scaled, period = append(scaled, d*scale/100), period+d*scale/100
	}
	phases := max(1, int(math.Ceil(period)))
	ink := make([]bool, len(t.on)+phases) // what the pattern shows from its beginning on
	for i := range ink {
		at, k := 0.0, 0
		if period > 0 {
			at = math.Mod(float64(i), period)
		}
		for k < len(scaled)-1 && at >= scaled[k] {
			at -= scaled[k]
			k++
		}
		ink[i] = k%2 == 0
	}
	best := 0
	for phase := range phases {
		agree := 0
		for i, on := range t.on {
			if ink[i+phase] == on {
				agree++
			}
		}
		best = max(best, agree)
	}
	return best
}

// told names the pattern that a trace shows, among those of a legend: by its
// dashes, solid lines by their width.
func (t trace) told(legend map[string]trace, scale float64) string {
	best, likest := "", 0.0
	for _, pattern := range slices.Sorted(maps.Keys(legend)) {
		l := t.likeness(pattern, scale)
		if l > likest || l == likest && abs(t.width-legend[pattern].width) < abs(t.width-legend[best].width) {
			best, likest = pattern, l
		}
	}
	return best
}

func abs(n int) int { return max(n, -n) }

// copied is a sheet as a copier gives it: A4, 200 dots an inch.
func (p painters) copied(t *testing.T, sheet string) bitmap {
	path := filepath.Join(p.folder, "copy.svg")
	require.NoError(t, os.WriteFile(path, []byte(sheet), 0o644))
	output(t, p.env, "rsvg-convert", "--unlimited", "-w", strconv.Itoa(copyWidth), "-b", "white", "-o", path+".png", path)
	return readInk(t, path+".png")
}

func TestCopiesTellVoltagesApart(t *testing.T) {
	p := newPainters(t)
	told := map[string]int{}
	texts := exampleTexts(t)
	effort := layout.Good
	if testing.Short() {
		effort = layout.Quick
	}
	for _, name := range sortedNames(texts) {
		if strings.Contains(name, "-mistakes") || testing.Short() && name != "bodkinet.strake" {
			continue
		}
		legend := map[string]trace{}
		type wire struct {
			stroked
			trace trace
			scale float64
		}
		var wires []wire
		for _, sheet := range pages(t, compile(name, texts[name]), effort) {
			lines, width := strokes(t, sheet)
			if width > 421 { // a copy at A4 is meant for A3
				continue
			}
			scale := copyWidth / width
			picture := p.copied(t, sheet)
			for _, l := range lines {
				switch {
				case l.key && l.length() >= leastStretch && strings.HasPrefix(l.look, "w") && !strings.HasPrefix(l.look, "w140"):
					legend[l.pattern()] = picture.trace(l.segment, scale)
				case l.cable && l.free(lines).length() >= leastStretch-1.6:
					wires = append(wires, wire{l, picture.trace(l.free(lines), scale), scale})
				}
			}
		}
		for _, w := range wires {
			told[w.pattern()]++
			assert.Equal(t, w.pattern(), w.trace.told(legend, w.scale), "%s: %s at %.0f,%.0f", name, w.item, w.a.x, w.a.y)
		}
	}
	for _, s := range []scene.WireStyle{scene.MiddleDC, scene.MainAC, scene.SolarDC} {
		look := fmt.Sprint(scene.WirePen(s).Dash)
		look = strings.ReplaceAll(strings.Trim(look, "[]"), " ", "-")
		if !testing.Short() {
			assert.Positive(t, told[look], "a wire of %s was measured", look)
		}
	}
	t.Logf("wires told by pattern: %v", told)
}

// TestCopiesTellEveryPattern draws each pattern for 10 mm, upright and level, at
// many places between the dots, on an A3 sheet that is copied to A4.
func TestCopiesTellEveryPattern(t *testing.T) {
	p := newPainters(t)
	var pens []scene.Pen
	for s := range scene.WireStyle(scene.WireStyles) {
		pens = append(pens, scene.WirePen(s))
	}
	pens = append(pens, pens[0].Prepared(), pens[0].Owners(), pens[0].Removed())
	sheet := scene.Sheet{Width: 42000, Height: 29700}
	key, wires := &scene.Group{Class: "key"}, &scene.Group{Class: "cable"}
	for i, pen := range pens {
		y := 1000 + 1000*i
		key.Nodes = append(key.Nodes, scene.Line{Pen: pen, Points: []geom.Point{{X: 1000, Y: y}, {X: 2100, Y: y}}})
		for k := range 12 {
			x := 4000 + 2507*k
			wires.Nodes = append(wires.Nodes,
				scene.Line{Pen: pen, Points: []geom.Point{{X: x, Y: y + 13*k}, {X: x + 1000, Y: y + 13*k}}},
				scene.Line{Pen: pen, Points: []geom.Point{{X: x + 200*i, Y: 14003}, {X: x + 200*i, Y: 15003}}})
		}
	}
	sheet.Groups = []*scene.Group{key, wires}
	files, err := svgPages([]scene.Sheet{sheet})
	require.NoError(t, err)
	lines, width := strokes(t, string(files[0]))
	scale, picture := copyWidth/width, p.copied(t, string(files[0]))
	legend := map[string]trace{}
	for _, l := range lines {
		if l.key {
			legend[l.pattern()] = picture.trace(l.segment, scale)
		}
	}
	require.Len(t, legend, len(pens))
	for _, l := range lines {
		if l.cable {
			assert.Equal(t, l.pattern(), picture.trace(l.segment, scale).told(legend, scale), "at %.0f,%.0f", l.a.x, l.a.y)
		}
	}
}
