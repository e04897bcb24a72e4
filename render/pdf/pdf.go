// Package pdf writes sheets as one PDF: a page a sheet, the page exactly the
// paper, vectors, and real text in embedded fonts that can be searched. It
// knows ink and no electrics, shows the same picture as package svg, and is
// the only importer of the PDF writer.
package pdf

import (
	"errors"
	"fmt"
	"io"
	"math"
	"slices"
	"time"

	"codeberg.org/go-pdf/fpdf"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"

	"strake/layout/geom"
	"strake/render/scene"
)

const family = "Go"

// Write writes the sheets in their order. The same sheets give the same bytes.
func Write(w io.Writer, sheets []scene.Sheet) error {
	if len(sheets) == 0 {
		return errors.New("there is no sheet to write")
	}
	for _, s := range sheets {
		if s.Width <= 0 || s.Height <= 0 {
			return fmt.Errorf("a sheet of %d by %d hundredths of a millimetre cannot be drawn", s.Width, s.Height)
		}
	}
	p := &printer{begin(sheets[0])}
	for _, s := range sheets {
		p.sheet(s)
	}
	return p.out.Output(w)
}

// begin opens a document without anything that differs from run to run: no
// clock, and catalogues in sorted order. All text passes scene.Clean, here too,
// because the writer cannot bear a rune above U+FFFF.
func begin(first scene.Sheet) *fpdf.Fpdf {
	out := fpdf.NewCustom(&fpdf.InitType{UnitStr: "mm", OrientationStr: "P", Size: size(first)})
	out.SetCatalogSort(true)
	never := time.Unix(0, 0).UTC() // the drawing's own date stands in its title block
	out.SetCreationDate(never)
	out.SetModificationDate(never)
	out.SetProducer("Strake", true)
	out.SetTitle(scene.Clean(first.Title), true)
	out.SetSubject(scene.Clean(first.Desc), true)
	out.SetMargins(0, 0, 0)
	out.SetAutoPageBreak(false, 0)
	out.AddUTF8FontFromBytes(family, "", slices.Clone(goregular.TTF))
	out.AddUTF8FontFromBytes(family, "B", slices.Clone(gobold.TTF))
	return out
}

func size(s scene.Sheet) fpdf.SizeType { return fpdf.SizeType{Wd: mm(s.Width), Ht: mm(s.Height)} }

// mm turns hundredths of a millimetre into the unit of the document.
func mm(hundredths int) float64 { return float64(hundredths) / 100 }

type printer struct{ out *fpdf.Fpdf }

func (p *printer) sheet(s scene.Sheet) {
	p.out.AddPageFormat("P", size(s))
	p.out.SetLineCapStyle("butt")
	p.out.SetLineJoinStyle("miter")
	p.out.RawWriteStr("4 M") // the limit of a mitre in SVG; that of PDF is 10
	for _, g := range s.Groups {
		p.group(g, geom.Point{})
	}
}

// group passes the shift down instead of writing a transform.
func (p *printer) group(g *scene.Group, shift geom.Point) {
	shift = geom.Point{X: shift.X + g.Shift.X, Y: shift.Y + g.Shift.Y}
	for _, n := range g.Nodes {
		switch n := n.(type) {
		case *scene.Group:
			p.group(n, shift)
		case scene.Line:
			p.line(n, shift)
		case scene.Circle:
			if style := p.style(n.Pen, n.Fill); style != "" && n.RX > 0 && n.RY > 0 {
				x, y := at(n.Centre, shift)
				p.out.Ellipse(x, y, mm(n.RX), mm(n.RY), 0, style)
			}
		case scene.Arc:
			p.arc(n, shift)
		case scene.Text:
			p.text(n, shift)
		}
	}
}

func at(p, shift geom.Point) (x, y float64) { return mm(p.X + shift.X), mm(p.Y + shift.Y) }

// style sets pen and fill and tells how to draw with them; empty: no ink.
func (p *printer) style(pen scene.Pen, fill scene.Colour) string {
	style := ""
	if pen.Width > 0 {
		style = "D"
		p.out.SetLineWidth(mm(pen.Width))
		p.out.SetDrawColor(rgb(pen.Colour))
	}
	if fill != "" {
		style += "F"
		p.out.SetFillColor(rgb(fill))
	}
	return style
}

func (p *printer) line(l scene.Line, shift geom.Point) {
	if len(l.Points) < 2 {
		return // no ink
	}
	style := p.style(l.Pen, l.Fill)
	if style == "" {
		return
	}
	if dashes := l.Dashes(); dashes != nil {
		if l.Fill != "" {
			p.path(l.Points, shift)
			p.out.DrawPath("F")
		}
		p.dashed(l, dashes, shift)
		return
	}
	p.path(l.Points, shift)
	if l.Closed {
		p.out.ClosePath()
	}
	p.out.DrawPath(style)
}

func (p *printer) path(points []geom.Point, shift geom.Point) {
	p.out.MoveTo(at(points[0], shift))
	for _, to := range points[1:] {
		p.out.LineTo(at(to, shift))
	}
}

// dashed draws every dash by itself, for a reader may refuse a pattern of more
// than ten numbers.
func (p *printer) dashed(l scene.Line, dashes []int, shift geom.Point) {
	points := l.Points
	if l.Closed {
		points = append(slices.Clone(points), points[0])
	}
	x, y := at(points[0], shift)
	p.out.MoveTo(x, y)
	k, left := 0, float64(dashes[0])
	for i, to := range points[1:] {
		dx, dy := float64(to.X-points[i].X), float64(to.Y-points[i].Y)
		whole := math.Hypot(dx, dy)
		for done := 0.0; done < whole; {
			step := min(left, whole-done)
			if k == len(dashes)-1 { // the last dash reaches the end
				step = whole - done
			}
			done, left = done+step, left-step
			if k%2 == 0 {
				p.out.LineTo(x+dx*done/whole/100, y+dy*done/whole/100)
			}
			if left <= 0 && k < len(dashes)-1 {
				k++
				left = float64(dashes[k])
				if k%2 == 0 {
					p.out.MoveTo(x+dx*done/whole/100, y+dy*done/whole/100)
				}
			}
		}
		x, y = at(to, shift)
	}
	p.out.DrawPath("D")
}

// arc turns the angles round: the writer counts them against the clock.
func (p *printer) arc(a scene.Arc, shift geom.Point) {
	style := p.style(a.Pen, "")
	if style == "" || a.R <= 0 || a.From == a.To {
		return
	}
	x, y := at(a.Centre, shift)
	p.out.Arc(x, y, mm(a.R), mm(a.R), 0, float64(-min(a.To, a.From+360)), float64(-a.From), style)
}

// text is placed by its measured width, not by the writer's own.
func (p *printer) text(t scene.Text, shift geom.Point) {
	clean := scene.Clean(t.Text)
	if clean == "" {
		return
	}
	style := ""
	if t.Bold {
		style = "B"
	}
	p.out.SetFont(family, style, 0)
	p.out.SetFontUnitSize(mm(scene.FontSize(t.Cap)))
	p.out.SetTextColor(rgb(t.Colour))
	x, y := at(t.At, shift)
	switch width := mm(scene.Width(clean, t.Cap, t.Bold)); t.Anchor {
	case scene.Middle:
		x -= width / 2
	case scene.Right:
		x -= width
	}
	p.out.Text(x, y, clean)
}
