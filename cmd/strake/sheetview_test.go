// A sheet as its devices, bars, cables, rules and texts.
package main

import (
	"math"
	"slices"
	"strings"
)

// Limits in millimetres.
const (
	touching    = 0.02 // nearer than this is touching
	clearSpace  = 0.3  // what a text needs from its own wire
	landed      = 0.3  // a cable's end this near to ink has landed
	joined      = 0.05 // ends of pieces this near are one point
	oneLine     = 0.15 // centre lines this near read as one line
	sharedOver  = 0.3  // two cables may share a point, not more
	closeSpace  = 0.6  // clear space between cables side by side …
	closeOver   = 2.0  // … and over what length it counts
	dip         = 0.3  // how far a cable's end may reach into a symbol
	overlapping = 0.2  // how far two symbols may overlap
	endZone     = 0.6  // where it lands, a cable may touch the neighbour that stands lead to lead
	smallest    = 2.5  // capitals
)

type deviceView struct {
	*sheetGroup
	outline ring // around its bare strokes
	body    ink  // around its ink
	box     rect
}

// barView is a bar, drawn in one group or several of one name.
type barView struct {
	item   string
	groups []*sheetGroup
	shapes []ink
}

type cableView struct {
	*sheetGroup
	run                   []segment // straight pieces, each as long as it goes
	half                  float64
	box                   rect
	ends, bends, branches []point
	nets                  []string
	landings              []landing // of the ends, where none dangles
}

type sheetView struct {
	paper        rect
	frame, field rect // inner border, drawing area; nowhere where there is none
	devices      []*deviceView
	bars         []*barView
	cables       []*cableView
	places       []ink
	rules        []ink
	marks        []ink
	texts        []sheetText
	nameless     []*sheetGroup
}

func viewSheet(raw rawSheet) *sheetView {
	v := &sheetView{paper: raw.paper, texts: raw.texts, field: nowhere}
	bars := map[string]*barView{}
	own := ownInk(raw.groups)
	frame := []ink{}
	for _, g := range raw.groups {
		shapes := own[g]
		item := g.around(itemClasses...)
		switch {
		case g.is("drawing-area"):
			for _, k := range g.shapes {
				v.field = v.field.join(k.box)
			}
		case g.around(sheetClasses...) != nil:
			v.rules = append(v.rules, g.shapes...)
			if g.around("frame") != nil {
				frame = append(frame, g.shapes...)
			}
		case item == nil:
			v.marks = append(v.marks, hollowed(g.shapes)...)
		case item != g:
		case g.is("place"):
			v.places = append(v.places, hollowed(shapes)...)
		case g.is("device"):
			v.devices = append(v.devices, newDevice(g, shapes))
		case g.is("bus"):
			b := bars[g.item]
			if b == nil {
				b = &barView{item: g.item}
				bars[g.item] = b
				v.bars = append(v.bars, b)
			}
			b.groups, b.shapes = append(b.groups, g), append(b.shapes, shapes...)
		case g.is("cable"):
			v.cables = append(v.cables, newCable(g, shapes))
		}
		named := g.item != "" && (!g.is("cable") || g.from != "" && g.to != "")
		if item == g && (!named || g.is("device") && !g.titled) {
			v.nameless = append(v.nameless, g)
		}
	}
	for _, c := range v.cables {
		c.nets = []string{netOf(c.from, bars), netOf(c.to, bars)}
	}
	v.frame = innerBorder(frame, v.paper)
	return v
}

// ownInk gives every shape to the innermost item around it.
func ownInk(groups []*sheetGroup) map[*sheetGroup][]ink {
	own := map[*sheetGroup][]ink{}
	for _, g := range groups {
		if item := g.around(itemClasses...); item != nil {
			own[item] = append(own[item], g.shapes...)
		}
	}
	return own
}

// innerBorder is the smallest outline of the frame that holds half of the paper.
func innerBorder(frame []ink, paper rect) rect {
	border := nowhere
	for _, k := range frame {
		inner := k.box.grow(-2 * k.half)
		if inner.area() >= paper.area()/2 && (border == nowhere || inner.area() < border.area()) {
			border = inner
		}
	}
	return border
}

func newDevice(g *sheetGroup, shapes []ink) *deviceView {
	d := &deviceView{sheetGroup: g, box: nowhere}
	d.shapes = shapes
	var bare, edge []point
	for _, k := range shapes {
		for _, s := range k.strokes {
			bare = append(bare, s.a, s.b)
			edge = append(edge, boxOf([]point{s.a, s.b}).grow(k.half).ring()...)
		}
	}
	if len(bare) > 0 {
		d.outline, d.box = hull(bare), boxOf(bare)
		d.body = solid(hull(edge))
	}
	return d
}

func newCable(g *sheetGroup, shapes []ink) *cableView {
	c := &cableView{sheetGroup: g, box: nowhere}
	c.shapes = shapes
	for _, k := range shapes {
		if k.wire {
			c.run = append(c.run, k.strokes...)
			c.half = max(c.half, k.half)
		}
	}
	c.run = straighten(c.run)
	for _, s := range c.run {
		c.box = c.box.join(s.box())
	}
	c.meetings()
	return c
}

// straighten makes one piece of those that continue each other, so that a
// point on a straight line is no bend and hides no crossing.
func straighten(pieces []segment) []segment {
	out := slices.DeleteFunc(slices.Clone(pieces), func(s segment) bool { return s.length() < 1e-6 })
	for again := true; again; {
		again = false
		for i := 0; i < len(out) && !again; i++ {
			for j := i + 1; j < len(out) && !again; j++ {
				s, r := out[i], out[j]
				if r.length() > s.length() {
					s, r = r, s
				}
				if s.off(r.a) > 0.03 || s.off(r.b) > 0.03 || s.overlap(r) < -joined {
					continue
				}
				d := s.b.minus(s.a)
				ends := []point{s.a, s.b, r.a, r.b}
				slices.SortFunc(ends, func(p, q point) int {
					return int(math.Copysign(1, dot(p, d)-dot(q, d)))
				})
				out[i] = segment{ends[0], ends[3]}
				out = slices.Delete(out, j, j+1)
				again = true
			}
		}
	}
	return out
}

// meetings tells the loose ends, bends and branches of a cable.
func (c *cableView) meetings() {
	var seen []point
	for i, s := range c.run {
		for _, p := range []point{s.a, s.b} {
			if slices.ContainsFunc(seen, func(q point) bool { return distance(p, q) < joined }) {
				continue
			}
			seen = append(seen, p)
			met, atEnd := 0, 0
			for j, r := range c.run {
				if i != j && r.toPoint(p) < joined {
					met++
					if min(distance(p, r.a), distance(p, r.b)) < joined {
						atEnd++
					}
				}
			}
			switch {
			case met == 0:
				c.ends = append(c.ends, p)
			case met == 1 && atEnd == 1:
				c.bends = append(c.bends, p)
			default:
				c.branches = append(c.branches, p)
			}
		}
	}
}

// inOnePiece tells whether every piece of a cable hangs together with the first.
func (c *cableView) inOnePiece() bool {
	reached := make([]bool, len(c.run))
	todo := []int{0}
	for count := 0; len(todo) > 0; {
		i := todo[0]
		todo = todo[1:]
		if reached[i] {
			continue
		}
		reached[i] = true
		if count++; count == len(c.run) {
			return true
		}
		for j, r := range c.run {
			if !reached[j] && c.run[i].toSegment(r) < joined {
				todo = append(todo, j)
			}
		}
	}
	return len(c.run) == 0
}

// baseOf is the item of an end, without port or way.
func baseOf(ref string) string {
	if i := strings.IndexAny(ref, " ."); i >= 0 {
		return ref[:i]
	}
	return ref
}

// isWay tells an end that is an outgoing side of a board, DB1.3.
func isWay(ref string) bool {
	_, port, dotted := strings.Cut(ref, ".")
	return dotted && port != "" && port[0] >= '0' && port[0] <= '9'
}

// netOf is what a cable's end joins, as far as names tell: a bar is one net, a
// way and a dotted terminal each their own.
func netOf(ref string, bars map[string]*barView) string {
	if base := baseOf(ref); !isWay(ref) && bars[base] != nil {
		return base
	}
	return ref
}

func sameNet(a, b *cableView) bool {
	return slices.ContainsFunc(a.nets, func(n string) bool { return n != "" && slices.Contains(b.nets, n) })
}

// names tells whether an item is the cable's own name or one of its ends.
func (c *cableView) names(item string) bool {
	return item != "" && slices.Contains([]string{c.item, c.from, c.to, baseOf(c.from), baseOf(c.to)}, item)
}
