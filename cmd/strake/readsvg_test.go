// Reading a sheet by the contract of its classes and data attributes. What the
// reader does not know is an error, never passed over.
package main

import (
	"encoding/xml"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"
)

// sheetGroup is a <g> of the drawing with what stands directly in it or in
// groups without a meaning of their own.
type sheetGroup struct {
	classes        []string
	item, from, to string
	titled         bool
	parent         *sheetGroup
	shapes         []ink
}

func (g *sheetGroup) is(class string) bool { return g != nil && slices.Contains(g.classes, class) }

// kind is the second word of the class.
func (g *sheetGroup) kind() string {
	if len(g.classes) < 2 {
		return ""
	}
	return g.classes[1]
}

// holds tells whether g is o or stands around it.
func (g *sheetGroup) holds(o *sheetGroup) bool {
	for ; o != nil; o = o.parent {
		if o == g {
			return true
		}
	}
	return false
}

// around finds the nearest group, from g outwards, with one of the classes.
func (g *sheetGroup) around(classes ...string) *sheetGroup {
	for ; g != nil; g = g.parent {
		if slices.ContainsFunc(classes, g.is) {
			return g
		}
	}
	return nil
}

func (g *sheetGroup) owner() string {
	for ; g != nil; g = g.parent {
		if g.item != "" {
			return g.item
		}
	}
	return ""
}

// sheetText is one text with the boxes of its ink.
type sheetText struct {
	body, item string
	in         *sheetGroup
	sheet      bool // of frame, table, legend or cautions, not of the drawing
	white      bool
	boxes      []rect
	box        rect
	capital    float64
	misfit     float64 // by how much its stated width is wrong
}

// rawSheet is a sheet as read, all in millimetres.
type rawSheet struct {
	paper  rect
	groups []*sheetGroup // in the order of the file
	texts  []sheetText
}

// Elements that mark an item of the drawing, and those of the sheet itself.
var (
	itemClasses  = []string{"device", "bus", "cable", "place"}
	blockClasses = []string{"legend", "table", "title-block", "cautions", "notes", "summary"}
	sheetClasses = append([]string{"sheet", "frame"}, blockClasses...)
)

type svgReader struct {
	rawSheet
	styles  stylesheet
	scale   float64
	decoder *xml.Decoder
}

// place is where the reader stands: the group and how far its contents are shifted.
type place struct {
	group *sheetGroup
	shift point
}

func readSheet(text string) (rawSheet, error) {
	r := &svgReader{decoder: xml.NewDecoder(strings.NewReader(text))}
	stack := []place{{group: &sheetGroup{}}}
	r.groups = append(r.groups, stack[0].group)
	for {
		token, err := r.decoder.Token()
		if err == io.EOF {
			if r.scale == 0 {
				err = fmt.Errorf("no svg root")
			} else {
				err = nil
			}
			return r.rawSheet, err
		}
		if err != nil {
			return rawSheet{}, err
		}
		switch t := token.(type) {
		case xml.EndElement:
			stack = stack[:len(stack)-1]
		case xml.StartElement:
			here, whole, err := r.element(t, stack[len(stack)-1])
			if err != nil {
				line, _ := r.decoder.InputPos()
				return rawSheet{}, fmt.Errorf("line %d: %w", line, err)
			}
			if !whole {
				stack = append(stack, here)
			}
		}
	}
}

// element reads one start tag; whole tells that it was read to its end.
func (r *svgReader) element(t xml.StartElement, here place) (inside place, whole bool, err error) {
	attrs := map[string]string{}
	for _, a := range t.Attr {
		if a.Name.Local == "href" || strings.HasPrefix(a.Name.Local, "on") {
			return here, false, fmt.Errorf("<%s> has %s: a sheet has no references and no scripts", t.Name.Local, a.Name.Local)
		}
		attrs[a.Name.Local] = a.Value
	}
	switch name := t.Name.Local; name {
	case "svg":
		return here, false, r.root(attrs)
	case "g":
		g := &sheetGroup{classes: strings.Fields(attrs["class"]), item: attrs["data-item"], from: attrs["data-from"], to: attrs["data-to"], parent: here.group}
		r.groups = append(r.groups, g)
		shift, err := translation(attrs["transform"])
		return place{g, point{here.shift.x + shift.x, here.shift.y + shift.y}}, false, err
	case "title":
		here.group.titled = true
		return here, true, r.decoder.Skip()
	case "desc":
		return here, true, r.decoder.Skip()
	case "style":
		var css string
		if err := r.decoder.DecodeElement(&css, &t); err != nil {
			return here, true, err
		}
		return here, true, r.styles.read(css)
	case "text":
		var body string
		if err := r.decoder.DecodeElement(&body, &t); err != nil {
			return here, true, err
		}
		return here, true, r.text(body, attrs, here)
	case "polyline", "polygon", "circle", "ellipse", "path":
		return here, false, r.shape(name, attrs, here)
	default:
		return here, false, fmt.Errorf("<%s> is not known", name)
	}
}

func (r *svgReader) root(attrs map[string]string) error {
	box, err := numbers(attrs["viewBox"])
	if err != nil || len(box) != 4 {
		return fmt.Errorf("viewBox %q", attrs["viewBox"])
	}
	size := func(name string) float64 {
		v, err := strconv.ParseFloat(strings.TrimSuffix(attrs[name], "mm"), 64)
		if err != nil || !strings.HasSuffix(attrs[name], "mm") {
			return math.NaN()
		}
		return v
	}
	w, h := size("width"), size("height")
	r.scale = w / box[2]
	if tenth, hundredth := math.Abs(r.scale-0.1) < 1e-9, math.Abs(r.scale-0.01) < 1e-9; !tenth && !hundredth || math.Abs(h-box[3]*r.scale) > 1e-6 || box[0] != 0 || box[1] != 0 {
		return fmt.Errorf("the viewBox %q of a sheet of %s by %s is not in tenths or hundredths of a millimetre", attrs["viewBox"], attrs["width"], attrs["height"])
	}
	r.paper = rect{0, 0, w, h}
	return nil
}

// text measures one line of text.
func (r *svgReader) text(body string, attrs map[string]string, here place) error {
	if strings.TrimSpace(body) == "" {
		return nil
	}
	style := r.styles.of("text", attrs)
	v, err := fields(attrs, "x", "y")
	if err != nil {
		return fmt.Errorf("text %q: %w", body, err)
	}
	size, err := strconv.ParseFloat(style["font-size"], 64)
	if err != nil {
		return fmt.Errorf("text %q has no font size", body)
	}
	face := typefaces()[style["font-weight"] == "700"]
	natural := face.width(body) * size
	stated := natural
	if attrs["textLength"] != "" {
		if stated, err = strconv.ParseFloat(attrs["textLength"], 64); err != nil {
			return fmt.Errorf("text %q: textLength: %w", body, err)
		}
	}
	if math.IsNaN(natural) {
		return fmt.Errorf("text %q has a character that the shipped font lacks", body)
	}
	x := v[0] + here.shift.x
	switch anchor := attrs["text-anchor"]; anchor {
	case "middle":
		x -= stated / 2
	case "end":
		x -= stated
	case "", "start":
	default:
		return fmt.Errorf("text-anchor %q", anchor)
	}
	t := sheetText{
		body: body, in: here.group, item: here.group.owner(), sheet: here.group.around(sheetClasses...) != nil,
		white: style["fill"] != "" && !inked(style["fill"]), capital: face.capital * size * r.scale, misfit: math.Abs(stated-natural) * r.scale, box: nowhere,
	}
	at := point{x * r.scale, (v[1] + here.shift.y) * r.scale}
	t.boxes = face.inkBoxes(body, at, size*r.scale, stated/natural)
	for _, b := range t.boxes {
		t.box = t.box.join(b)
	}
	if len(t.boxes) > 0 {
		r.texts = append(r.texts, t)
	}
	return nil
}

// shape adds the ink of an element to the group that it belongs to.
func (r *svgReader) shape(name string, attrs map[string]string, here place) error {
	lines, closed, err := outline(name, attrs)
	if err != nil {
		return fmt.Errorf("<%s>: %w", name, err)
	}
	style := r.styles.of(name, attrs)
	width, _ := strconv.ParseFloat(style["stroke-width"], 64)
	stroked, filled := inked(style["stroke"]) && width > 0, inked(style["fill"])
	var area ring
	for i, p := range lines {
		lines[i] = point{(p.x + here.shift.x) * r.scale, (p.y + here.shift.y) * r.scale}
	}
	var strokes []segment
	for i := 1; i < len(lines); i++ {
		strokes = append(strokes, segment{lines[i-1], lines[i]})
	}
	if filled && boxOf(lines).area() > 0 {
		area = ring(lines)
	}
	if len(strokes) == 0 || !stroked && area == nil && !here.group.is("drawing-area") {
		return nil
	}
	k := newInk(strokes, 0, nil)
	if stroked {
		k = newInk(strokes, width*r.scale/2, nil)
	}
	if area != nil {
		k.filled = []ring{area}
	}
	k.wire = stroked && !closed
	here.group.shapes = append(here.group.shapes, k)
	return nil
}

// outline walks an element as straight pieces.
func outline(name string, attrs map[string]string) (points []point, closed bool, err error) {
	switch name {
	case "polyline", "polygon":
		v, err := numbers(attrs["points"])
		if err != nil || len(v) < 4 || len(v)%2 != 0 {
			return nil, false, fmt.Errorf("points %q", attrs["points"])
		}
		for i := 0; i < len(v); i += 2 {
			points = append(points, point{v[i], v[i+1]})
		}
		if name == "polygon" {
			return append(points, points[0]), true, nil
		}
		return points, false, nil
	case "circle", "ellipse":
		radii := []string{"cx", "cy", "r", "r"}
		if name == "ellipse" {
			radii = []string{"cx", "cy", "rx", "ry"}
		}
		v, err := fields(attrs, radii...)
		if err != nil {
			return nil, false, err
		}
		const steps = 48
		for i := 0; i <= steps; i++ {
			sin, cos := math.Sincos(2 * math.Pi * float64(i%steps) / steps)
			points = append(points, point{v[0] + v[2]*cos, v[1] + v[3]*sin})
		}
		return points, true, nil
	}
	return arc(attrs["d"])
}

// arc walks the one form of path that a sheet has: M x y A r r 0 large sweep x y.
func arc(d string) ([]point, bool, error) {
	v, err := numbers(strings.NewReplacer("M", " ", "A", " ").Replace(d))
	if err != nil || len(v) != 9 || strings.Count(d, "M") != 1 || strings.Count(d, "A") != 1 || v[2] != v[3] {
		return nil, false, fmt.Errorf("path %q is no single arc of a circle", d)
	}
	from, to, r := point{v[0], v[1]}, point{v[7], v[8]}, v[2]
	chord := distance(from, to)
	if chord == 0 {
		return nil, false, fmt.Errorf("path %q ends where it begins", d)
	}
	high := math.Sqrt(max(0, r*r-chord*chord/4))
	if (v[5] == 1) == (v[6] == 1) {
		high = -high
	}
	centre := point{(from.x+to.x)/2 - (to.y-from.y)/chord*high, (from.y+to.y)/2 + (to.x-from.x)/chord*high}
	a := math.Atan2(from.y-centre.y, from.x-centre.x)
	b := math.Atan2(to.y-centre.y, to.x-centre.x)
	if v[6] == 1 && b < a {
		b += 2 * math.Pi
	} else if v[6] == 0 && b > a {
		b -= 2 * math.Pi
	}
	const steps = 24
	points := []point{from}
	for i := 1; i < steps; i++ {
		sin, cos := math.Sincos(a + (b-a)*float64(i)/steps)
		points = append(points, point{centre.x + max(r, chord/2)*cos, centre.y + max(r, chord/2)*sin})
	}
	return append(points, to), false, nil
}

func translation(transform string) (point, error) {
	if transform == "" {
		return point{}, nil
	}
	inner, ok := strings.CutPrefix(transform, "translate(")
	v, err := numbers(strings.TrimSuffix(inner, ")"))
	if !ok || err != nil || len(v) != 2 {
		return point{}, fmt.Errorf("transform %q is not known", transform)
	}
	return point{v[0], v[1]}, nil
}

func numbers(list string) ([]float64, error) {
	var out []float64
	for _, f := range strings.FieldsFunc(list, func(r rune) bool { return strings.ContainsRune(" ,\n\t", r) }) {
		v, err := strconv.ParseFloat(f, 64)
		if err != nil {
			return nil, err
		}
		out = append(out, v)
	}
	return out, nil
}

func fields(attrs map[string]string, names ...string) ([]float64, error) {
	var out []float64
	for _, name := range names {
		v, err := strconv.ParseFloat(attrs[name], 64)
		if err != nil {
			return nil, fmt.Errorf("%s %q", name, attrs[name])
		}
		out = append(out, v)
	}
	return out, nil
}
