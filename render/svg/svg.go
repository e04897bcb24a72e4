// Package svg writes a sheet as SVG: millimetres on the outside, whole
// hundredths of a millimetre inside, real text, the fonts embedded, no script
// and no outside reference. It knows ink and no electrics, and is the only
// importer of svgo.
package svg

import (
	"bufio"
	"fmt"
	"io"
	"strings"

	svgo "github.com/ajstarks/svgo"

	"strake/render/scene"
)

// Write writes one sheet. The same sheet gives the same bytes.
func Write(w io.Writer, sheet scene.Sheet) error {
	if sheet.Width <= 0 || sheet.Height <= 0 {
		return fmt.Errorf("a sheet of %d by %d hundredths of a millimetre cannot be drawn", sheet.Width, sheet.Height)
	}
	out := &latch{w: bufio.NewWriter(w)}
	p := &printer{canvas: svgo.New(out), styles: &styles{rules: map[string]string{}, dark: map[string]string{}, pens: map[solid]string{}}}
	p.begin(sheet)
	for _, g := range sheet.Groups {
		p.group(g)
	}
	p.canvas.End()
	if out.err != nil {
		return out.err
	}
	return out.w.Flush()
}

// latch remembers the first error; svgo forgets them all.
type latch struct {
	w   *bufio.Writer
	err error
}

func (l *latch) Write(b []byte) (int, error) {
	if l.err != nil {
		return 0, l.err
	}
	n, err := l.w.Write(b)
	l.err = err
	return n, err
}

type printer struct {
	canvas *svgo.SVG
	styles *styles
}

// begin opens the drawing. The classes stand before what uses them, so the
// groups are walked once to gather them.
func (p *printer) begin(sheet scene.Sheet) {
	p.canvas.Startraw(
		attr("width", millimetres(sheet.Width)),
		attr("height", millimetres(sheet.Height)),
		attr("viewBox", fmt.Sprintf("0 0 %d %d", sheet.Width, sheet.Height)),
		attr("role", "img"),
		attr("xml:space", "preserve"))
	if sheet.Title != "" {
		p.canvas.Title(sheet.Title)
	}
	if sheet.Desc != "" {
		p.canvas.Desc(sheet.Desc)
	}
	for _, g := range sheet.Groups {
		p.gather(g)
	}
	p.canvas.Style("text/css", p.styles.sheet())
	p.canvas.Style("text/css", fontFaces())
}

// gather walks the nodes for their classes.
func (p *printer) gather(g *scene.Group) {
	for _, n := range g.Nodes {
		if inner, ok := n.(*scene.Group); ok {
			p.gather(inner)
			continue
		}
		p.class(n)
	}
}

// class is the class of a node; it enters the style sheet.
func (p *printer) class(n scene.Node) string {
	switch n := n.(type) {
	case scene.Line:
		return p.shape(n.Pen, n.Fill)
	case scene.Circle:
		return p.shape(n.Pen, n.Fill)
	case scene.Arc:
		return p.shape(n.Pen, "")
	case scene.Text:
		c := "r"
		if n.Bold {
			c = "b"
		}
		if n.Colour != "" && n.Colour != scene.Black {
			c += " " + p.styles.fill(n.Colour)
		}
		return c
	}
	return ""
}

func (p *printer) shape(pen scene.Pen, fill scene.Colour) string {
	c := p.styles.stroke(pen)
	if fill != "" {
		c += " " + p.styles.fill(fill)
	}
	return c
}

func (p *printer) group(g *scene.Group) {
	var attrs []string
	for _, a := range [][2]string{{"class", g.Class}, {"data-item", g.Item}, {"data-from", g.From}, {"data-to", g.To}} {
		if a[1] != "" {
			attrs = append(attrs, attr(a[0], a[1]))
		}
	}
	if g.Shift.X != 0 || g.Shift.Y != 0 {
		attrs = append(attrs, attr("transform", fmt.Sprintf("translate(%d,%d)", g.Shift.X, g.Shift.Y)))
	}
	p.canvas.Group(attrs...)
	if g.Title != "" {
		p.canvas.Title(g.Title)
	}
	for _, n := range g.Nodes {
		p.node(n)
	}
	p.canvas.Gend()
}

func (p *printer) node(n scene.Node) {
	class := attr("class", p.class(n))
	switch n := n.(type) {
	case *scene.Group:
		p.group(n)
	case scene.Line:
		p.line(n, class)
	case scene.Circle:
		if n.RX == n.RY {
			p.canvas.Circle(n.Centre.X, n.Centre.Y, n.RX, class)
		} else {
			p.canvas.Ellipse(n.Centre.X, n.Centre.Y, n.RX, n.RY, class)
		}
	case scene.Arc:
		p.arc(n, class)
	case scene.Text:
		p.text(n, class)
	}
}

// line writes nothing for fewer than two points: they have no ink, and svgo
// panics on none.
func (p *printer) line(l scene.Line, class string) {
	if len(l.Points) < 2 {
		return
	}
	xs, ys := make([]int, len(l.Points)), make([]int, len(l.Points))
	for i, at := range l.Points {
		xs[i], ys[i] = at.X, at.Y
	}
	attrs := []string{class}
	if len(l.Pen.Dash) > 0 {
		attrs = append(attrs, attr("stroke-dasharray", dasharray(l.Dashes())))
	}
	if l.Closed {
		p.canvas.Polygon(xs, ys, attrs...)
	} else {
		p.canvas.Polyline(xs, ys, attrs...)
	}
}

// dasharray writes dashes; none is a solid line.
func dasharray(dashes []int) string {
	if len(dashes) == 0 {
		return "none"
	}
	var on []string
	for _, d := range dashes {
		on = append(on, itoa(d))
	}
	return strings.Join(on, " ")
}

func (p *printer) arc(a scene.Arc, class string) {
	if a.To-a.From >= 360 {
		p.canvas.Circle(a.Centre.X, a.Centre.Y, a.R, class)
		return
	}
	from, to := a.End(a.From), a.End(a.To)
	p.canvas.Arc(from.X, from.Y, a.R, a.R, 0, a.To-a.From > 180, true, to.X, to.Y, class)
}

// text carries its measured width, so that a reader with another font keeps it.
func (p *printer) text(t scene.Text, class string) {
	clean := scene.Clean(t.Text)
	if clean == "" {
		return
	}
	attrs := []string{class, attr("font-size", itoa(scene.FontSize(t.Cap)))}
	switch t.Anchor {
	case scene.Middle:
		attrs = append(attrs, attr("text-anchor", "middle"))
	case scene.Right:
		attrs = append(attrs, attr("text-anchor", "end"))
	}
	attrs = append(attrs,
		attr("textLength", itoa(scene.Width(clean, t.Cap, t.Bold))),
		attr("lengthAdjust", "spacingAndGlyphs"))
	p.canvas.Text(t.At.X, t.At.Y, clean, attrs...)
}
