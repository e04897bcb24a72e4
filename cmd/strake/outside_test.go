// The view from outside: what anybody can tell of a sheet from its SVG alone,
// by the contract of classes and data attributes.
package main

import (
	"encoding/xml"
	"fmt"
	"io"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strake/lang/circuit"
	"strake/layout"
)

type at struct{ x, y float64 }

type stretch struct{ a, b at }

type span struct{ x0, y0, x1, y1 float64 }

func (s stretch) box() span {
	return span{math.Min(s.a.x, s.b.x), math.Min(s.a.y, s.b.y), math.Max(s.a.x, s.b.x), math.Max(s.a.y, s.b.y)}
}

func (r span) grow(d float64) span { return span{r.x0 - d, r.y0 - d, r.x1 + d, r.y1 + d} }

func (r span) meets(o span) bool {
	return r.x0 < o.x1 && o.x0 < r.x1 && r.y0 < o.y1 && o.y0 < r.y1
}

func (r span) holds(p at) bool { return r.x0 <= p.x && p.x <= r.x1 && r.y0 <= p.y && p.y <= r.y1 }

func (r span) join(o span) span {
	if r == (span{}) {
		return o
	}
	return span{math.Min(r.x0, o.x0), math.Min(r.y0, o.y0), math.Max(r.x1, o.x1), math.Max(r.y1, o.y1)}
}

// stroke is one drawn shape: its stretches and half the width of its pen.
type inked struct {
	lines []stretch
	half  float64
	open  bool // a polyline: in a cable's group, a wire
}

// seen is one group of the drawing: a device, bar or cable.
type seen struct {
	class, item, from, to string
	shapes                []inked
}

func (g *seen) kind() string { return strings.Fields(g.class)[0] }

func (g *seen) ink() span {
	var r span
	for _, s := range g.shapes {
		for _, l := range s.lines {
			r = r.join(l.box().grow(s.half))
		}
	}
	return r
}

// body is a device without the ends of its leads: the box of its bare lines.
func (g *seen) body() span {
	var r span
	for _, s := range g.shapes {
		for _, l := range s.lines {
			r = r.join(l.box())
		}
	}
	return r
}

// written is one text with the box of its ink.
type written struct {
	text, item string
	sheet      bool
	box        span
}

// outsideView is a sheet as an outsider reads it.
type outsideView struct {
	sheet  span
	groups []*seen
	texts  []written
	rules  []inked
}

var penWidth = regexp.MustCompile(`\.(w[0-9a-z-]+)\{stroke-width:(\d+)`)

// look reads a sheet. Everything is in the units of its viewBox.
func look(text string) (*outsideView, error) {
	v := &outsideView{}
	pens := map[string]float64{}
	for _, m := range penWidth.FindAllStringSubmatch(text, -1) {
		pens[m[1]], _ = strconv.ParseFloat(m[2], 64)
	}
	type level struct {
		owner *seen
		item  string
		sheet bool
	}
	stack := []level{{}}
	d := xml.NewDecoder(strings.NewReader(text))
	for {
		token, err := d.Token()
		if err == io.EOF {
			return v, nil
		}
		if err != nil {
			return nil, err
		}
		switch t := token.(type) {
		case xml.EndElement:
			stack = stack[:len(stack)-1]
		case xml.StartElement:
			a := map[string]string{}
			for _, x := range t.Attr {
				a[x.Name.Local] = x.Value
			}
			here := stack[len(stack)-1]
			switch t.Name.Local {
			case "svg":
				f := strings.Fields(a["viewBox"])
				v.sheet.x1, v.sheet.y1 = num(f[2]), num(f[3])
			case "g":
				words := strings.Fields(a["class"])
				if len(words) > 0 {
					switch words[0] {
					case "device", "bus", "cable":
						here.owner = &seen{class: a["class"], item: a["data-item"], from: a["data-from"], to: a["data-to"]}
						v.groups = append(v.groups, here.owner)
					case "sheet":
						here.sheet = true
					}
				}
				if a["data-item"] != "" {
					here.item = a["data-item"]
				}
			case "text":
				var body string
				if err := d.DecodeElement(&body, &t); err != nil {
					return nil, err
				}
				v.texts = append(v.texts, inkOf(body, a, here.item, here.sheet))
				continue
			case "polyline", "polygon", "circle", "ellipse", "path":
				s := shape(t.Name.Local, a)
				for _, c := range strings.Fields(a["class"]) {
					if w, ok := pens[c]; ok {
						s.half = w / 2
					}
				}
				switch {
				case here.owner != nil:
					here.owner.shapes = append(here.owner.shapes, s)
				case here.sheet && s.half > 0:
					v.rules = append(v.rules, s)
				}
			}
			stack = append(stack, here)
		}
	}
}

func num(s string) float64 { f, _ := strconv.ParseFloat(s, 64); return f }

// shape gives the straight stretches of an element; round ones by many.
func shape(name string, a map[string]string) inked {
	var points []at
	s := inked{open: name == "polyline"}
	switch name {
	case "polyline", "polygon":
		for _, p := range strings.Fields(a["points"]) {
			x, y, _ := strings.Cut(p, ",")
			points = append(points, at{num(x), num(y)})
		}
		if name == "polygon" {
			points = append(points, points[0])
		}
	case "circle", "ellipse":
		rx, ry := num(a["r"]), num(a["r"])
		if name == "ellipse" {
			rx, ry = num(a["rx"]), num(a["ry"])
		}
		for i := 0; i <= 16; i++ {
			w := float64(i) * math.Pi / 8
			points = append(points, at{num(a["cx"]) + rx*math.Cos(w), num(a["cy"]) + ry*math.Sin(w)})
		}
	case "path":
		f := strings.FieldsFunc(a["d"], func(r rune) bool { return strings.ContainsRune(" ,MA", r) })
		// Mx,y Ar,r 0 large sweep x,y: its ends, and how far it bulges between them
		p, q, r := at{num(f[0]), num(f[1])}, at{num(f[len(f)-2]), num(f[len(f)-1])}, num(f[2])
		dx, dy := q.x-p.x, q.y-p.y
		chord := math.Hypot(dx, dy)
		rise := r - math.Sqrt(math.Max(0, r*r-chord*chord/4))
		if len(f) > 6 && f[5] == "1" {
			rise = 2*r - rise
		}
		if chord > 0 {
			points = []at{p, {(p.x+q.x)/2 + dy/chord*rise, (p.y+q.y)/2 - dx/chord*rise}, q}
		}
	}
	for i := 1; i < len(points); i++ {
		s.lines = append(s.lines, stretch{points[i-1], points[i]})
	}
	return s
}

// inkOf is a text with the box of its ink: descenders only where it has some.
func inkOf(body string, a map[string]string, item string, sheet bool) written {
	size, width := num(a["font-size"]), num(a["textLength"])
	x, y := num(a["x"]), num(a["y"])
	switch a["text-anchor"] {
	case "middle":
		x -= width / 2
	case "end":
		x -= width
	}
	up, down := 0.73, 0.0
	if strings.ContainsAny(body, "bdfhkl()[]/|ÅÄÖ") {
		up = 0.78
	}
	if strings.ContainsAny(body, "gjpqyQ,;()[]/|") {
		down = 0.205
	}
	return written{text: body, item: item, sheet: sheet, box: span{x + size*0.04, y - up*size, x + width - size*0.04, y + down*size}}
}

// complain lists what is wrong with a sheet.
func (v *outsideView) complain() []string {
	var out []string
	say := func(format string, args ...any) { out = append(out, fmt.Sprintf(format, args...)) }
	for i, t := range v.texts {
		if t.item == "" && !t.sheet {
			say("text %q belongs to no item", t.text)
		}
		if t.box.x0 < 0 || t.box.y0 < 0 || t.box.x1 > v.sheet.x1 || t.box.y1 > v.sheet.y1 {
			say("text %q leaves the sheet", t.text)
		}
		for _, u := range v.texts[i+1:] {
			if t.box.meets(u.box) {
				say("text %q (%s) on text %q (%s)", t.text, t.item, u.text, u.item)
			}
		}
		for _, s := range v.rules {
			if s.touches(t.box) {
				say("text %q on a rule", t.text)
				break
			}
		}
		for _, g := range v.groups {
			switch {
			case g.kind() == "device" && g.item != t.item:
				if g.ink().meets(t.box) {
					say("text %q on device %s", t.text, g.item)
				}
			default:
				for _, s := range g.shapes {
					if s.touches(t.box) {
						say("text %q on %s %s", t.text, g.kind(), g.item)
						break
					}
				}
			}
		}
	}
	for i, g := range v.groups {
		if g.item == "" {
			say("a %s without an item", g.class)
		}
		if g.kind() != "cable" {
			continue
		}
		wires := g.wires()
		for _, w := range wires {
			if w.a.x != w.b.x && w.a.y != w.b.y {
				say("cable %s is slanted", g.item)
			}
		}
		for j, o := range v.groups {
			switch {
			case o == g || o.kind() == "device" && (o.item == g.item || belongs(g, o.item)):
			case o.kind() == "device":
				body := o.body().grow(-60)
				for _, w := range wires {
					if w.box().meets(body) || body.holds(w.a) {
						say("cable %s runs through device %s", g.item, o.item)
						break
					}
				}
			case o.kind() == "bus" && !belongs(g, o.item):
				for _, s := range o.shapes {
					for _, w := range wires {
						if s.touches(w.box()) {
							say("cable %s on bar %s", g.item, o.item)
						}
					}
				}
			case o.kind() == "cable" && j > i:
				for _, w := range wires {
					for _, u := range o.wires() {
						if along(w, u) > 30 {
							say("cables %s and %s on one line", g.item, o.item)
						}
					}
				}
			}
		}
		for _, p := range looseEnds(wires) {
			if !v.landed(g, p) {
				say("cable %s ends on nothing at %.0f,%.0f", g.item, p.x, p.y)
			}
		}
	}
	return out
}

// touches tells whether ink lies in a box. Lines are short or upright, so the
// box of a slanted one is walked in steps.
func (s inked) touches(r span) bool {
	for _, l := range s.lines {
		if !l.box().grow(s.half).meets(r) {
			continue
		}
		if l.a.x == l.b.x || l.a.y == l.b.y {
			return true
		}
		for i := 0; i <= 20; i++ {
			f := float64(i) / 20
			if r.grow(s.half).holds(at{l.a.x + f*(l.b.x-l.a.x), l.a.y + f*(l.b.y-l.a.y)}) {
				return true
			}
		}
	}
	return false
}

func (g *seen) wires() []stretch {
	var out []stretch
	for _, s := range g.shapes {
		if s.open {
			out = append(out, s.lines...)
		}
	}
	return out
}

// belongs tells whether a cable has the item at one of its ends.
func belongs(g *seen, item string) bool {
	base := func(s string) string { b, _, _ := strings.Cut(s, "."); return b }
	return item == g.from || item == g.to || item == base(g.from) || item == base(g.to)
}

// along is how long two stretches lie on one line.
func along(a, b stretch) float64 {
	p, q := a.box(), b.box()
	switch {
	case p.x0 == p.x1 && q.x0 == q.x1 && math.Abs(p.x0-q.x0) < 15:
		return math.Min(p.y1, q.y1) - math.Max(p.y0, q.y0)
	case p.y0 == p.y1 && q.y0 == q.y1 && math.Abs(p.y0-q.y0) < 15:
		return math.Min(p.x1, q.x1) - math.Max(p.x0, q.x0)
	}
	return 0
}

// looseEnds are the points at which a single stretch of a cable ends.
func looseEnds(wires []stretch) []at {
	var out []at
	for i, w := range wires {
		for _, p := range []at{w.a, w.b} {
			joined := w.a == w.b
			for j, o := range wires {
				joined = joined || i != j && o.box().grow(5).holds(p)
			}
			if !joined {
				out = append(out, p)
			}
		}
	}
	return out
}

// landed tells whether a cable's end lies on a device, a bar, or another cable
// of one of its own items.
func (v *outsideView) landed(g *seen, p at) bool {
	for _, o := range v.groups {
		if o == g {
			continue
		}
		switch o.kind() {
		case "device":
			if o.body().grow(30).holds(p) {
				return true
			}
		case "bus":
			for _, s := range o.shapes {
				for _, l := range s.lines {
					if l.box().grow(s.half + 30).holds(p) {
						return true
					}
				}
			}
		case "cable":
			if belongs(o, g.from) || belongs(o, g.to) || belongs(g, o.from) || belongs(g, o.to) {
				for _, w := range o.wires() {
					if w.box().grow(30).holds(p) {
						return true
					}
				}
			}
		}
	}
	return false
}

// once counts cables, devices and bars over all sheets against what must be
// there: "cable F5-M1", "fuse F5", "bus PB", "lamp DB1.3".
func once(views []*outsideView, wanted []string) []string {
	drawn := map[string]int{}
	for _, v := range views {
		for _, g := range v.groups {
			name := g.kind()
			if words := strings.Fields(g.class); name == "device" && len(words) > 1 {
				name = words[1]
			}
			drawn[name+" "+g.item]++
		}
	}
	var out []string
	for _, w := range wanted {
		if n := drawn[w]; n != 1 {
			out = append(out, fmt.Sprintf("%s is drawn %d times", w, n))
		}
	}
	return out
}

// expected is what a craft's sheets must show, each once.
func expected(s *circuit.System) []string {
	var out []string
	for _, c := range s.Cables {
		out = append(out, "cable "+c.ID)
	}
	for _, it := range s.Items {
		switch {
		case it.Board != nil, it.Kind == "bus", it.Kind == "stud":
			out = append(out, "bus "+it.Ref)
		case it.Way != nil && it == it.Way.Load:
			out = append(out, string(it.Kind)+" "+strings.TrimSuffix(it.Ref, ".load"))
		default:
			out = append(out, string(it.Kind)+" "+it.Ref)
		}
	}
	return out
}

// outside draws a craft and says everything that an outsider finds wrong.
func outside(t testing.TB, sheets []string, s *circuit.System) []string {
	t.Helper()
	var views []*outsideView
	var out []string
	for i, text := range sheets {
		v, err := look(text)
		require.NoError(t, err)
		for _, c := range v.complain() {
			out = append(out, fmt.Sprintf("sheet %d: %s", i+1, c))
		}
		views = append(views, v)
	}
	return append(out, once(views, expected(s))...)
}

func TestNothingOverlapsAndNothingIsMissing(t *testing.T) {
	texts := exampleTexts(t)
	for seed := uint64(1); seed <= 20; seed++ {
		texts[fmt.Sprintf("generated-%02d", seed)] = randomCraft(seed, 25+int(seed*11%56))
	}
	for _, name := range sortedNames(texts) {
		r := compile(name, texts[name])
		assert.Empty(t, outside(t, pages(t, r, layout.Quick), r.System), name)
	}
}

// A small sheet without fault, and what is wrong after each change.
const faultless = `<svg viewBox="0 0 10000 10000"><style>.w35{stroke-width:35}.w140{stroke-width:140}</style>
<g class="sheet"><polyline points="0,9000 10000,9000" class="w35"/></g>
<g class="bus" data-item="PB"><polyline points="1000,1000 5000,1000" class="w140"/></g>
<g class="device fuse" data-item="F1"><polygon points="1900,1500 2100,1500 2100,2500 1900,2500" class="w35"/>
<text x="2300" y="2000" font-size="346" textLength="500">F1</text></g>
<g class="device load" data-item="E1"><polygon points="1800,4000 2200,4000 2200,4500 1800,4500" class="w35"/></g>
<g class="cable" data-item="PB-F1" data-from="PB" data-to="F1.in"><polyline points="2000,1000 2000,1500" class="w35"/></g>
<g class="cable" data-item="F1-E1" data-from="F1.out" data-to="E1"><polyline points="2000,2500 2000,4000" class="w35"/>
<text x="2200" y="3300" font-size="346" textLength="900">4 mm²</text></g></svg>`

func TestAnOutsiderSees(t *testing.T) {
	v, err := look(faultless)
	require.NoError(t, err)
	require.Empty(t, v.complain())
	require.Empty(t, once([]*outsideView{v}, []string{"bus PB", "fuse F1", "load E1", "cable F1-E1"}))
	require.NotEmpty(t, once([]*outsideView{v}, []string{"fuse F2"}))
	for _, c := range []struct{ from, to, want string }{
		{`x="2300" y="2000"`, `x="2300" y="3300"`, "on text"},
		{`x="2300" y="2000"`, `x="1950" y="2000"`, "on device"},
		{`x="2300" y="2000"`, `x="2300" y="1050"`, "on bus PB"},
		{`x="2200" y="3300"`, `x="1700" y="3300"`, "on cable F1-E1"},
		{`x="2200" y="3300"`, `x="1700" y="1400"`, "on cable PB-F1"},
		{`x="2200" y="3300"`, `x="2200" y="9100"`, "on a rule"},
		{`x="2200" y="3300"`, `x="9900" y="3300"`, "leaves the sheet"},
		{`2000,2500 2000,4000`, `2000,2500 3000,4000`, "slanted"},
		{`2000,2500 2000,4000`, `2000,2500 2000,3500`, "ends on nothing"},
		{`2000,1000 2000,1500`, `2000,1000 2000,4600`, "runs through device E1"},
		{`2000,1000 2000,1500`, `2000,1000 2000,3000`, "on one line"},
		{`2000,2500 2000,4000`, `2000,2500 2000,4000 2000,900`, "on bar PB"},
		{`data-item="E1"`, ``, "without an item"},
	} {
		require.Contains(t, faultless, c.from)
		v, err := look(strings.Replace(faultless, c.from, c.to, 1))
		require.NoError(t, err)
		assert.Contains(t, strings.Join(v.complain(), "\n"), c.want, "%s -> %s", c.from, c.to)
	}
}
