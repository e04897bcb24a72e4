// What is wrong with the cables of a sheet.
package main

import (
	"math"
	"slices"
	"strings"
)

func (v *sheetView) inspectCables(r *sheetReport) {
	for _, c := range v.cables {
		r.bends += len(c.bends)
		if len(c.run) == 0 {
			r.fault(wireBroken, c.item, "no wire", point{})
			continue
		}
		if !c.inOnePiece() {
			r.fault(wireBroken, c.item, "", c.run[0].a)
		}
		for _, s := range c.run {
			if math.Abs(s.a.x-s.b.x) > joined && math.Abs(s.a.y-s.b.y) > joined {
				r.fault(wireSlanted, c.item, "", s.a)
			}
		}
		for _, d := range v.devices {
			switch {
			case len(d.outline) == 0:
			case c.names(d.item):
				if at, runs := c.runsThrough(d); runs {
					r.fault(wireThroughOwn, c.item, d.item, at)
				}
			case c.touches(d):
				r.fault(wireThrough, c.item, d.item, d.box.middle())
			}
		}
		for _, b := range v.bars {
			if c.names(b.item) {
				continue
			}
			for _, s := range c.run {
				if gapTo(ring{s.a, s.b}, b.shapes, 1)-c.half < touching {
					r.fault(wireOnBar, c.item, b.item, s.middle())
					break
				}
			}
		}
		v.inspectEnds(c, r)
	}
}

// touches tells whether a cable runs over a symbol that it does not name. At
// its loose ends it may touch the neighbour that stands lead to lead.
func (c *cableView) touches(d *deviceView) bool {
	if c.box.apart(d.box, 2) {
		return false
	}
	for _, s := range c.run {
		if depth(ring{s.a, s.b}, d.outline) > dip {
			return true
		}
		l, from, to := s.length(), 0.0, 1.0
		for _, e := range c.ends {
			if distance(e, s.a) < joined {
				from = endZone / l
			}
			if distance(e, s.b) < joined {
				to = 1 - endZone/l
			}
		}
		if from < to && d.body.gap(ring{s.on(from), s.on(to)}, 1)-c.half < touching {
			return true
		}
	}
	return false
}

// runsThrough tells whether a cable goes on inside a symbol at which it ends:
// twice over its strokes away from the ends, or more than a lead's length within.
func (c *cableView) runsThrough(d *deviceView) (point, bool) {
	if c.box.apart(d.box, 0) {
		return point{}, false
	}
	var over []point
	inside := 0.0
	for _, s := range c.run {
		inside += s.within(d.outline)
		for _, k := range d.shapes {
			for _, o := range k.strokes {
				at, depth, met := s.meets(o)
				far := func(p point) bool { return distance(p, at) <= 1 }
				if met && depth > 0.01 && !slices.ContainsFunc(c.ends, far) && !slices.ContainsFunc(over, func(p point) bool { return distance(p, at) <= 0.5 }) {
					over = append(over, at)
				}
			}
		}
	}
	return d.box.middle(), len(over) > 1 || inside > 1
}

// landing is what the end of a cable lies on.
type landing struct {
	at    point
	on    []*sheetGroup // symbols and bars
	joint bool          // another cable of its own net
	flag  bool          // a reference to another sheet
}

func (v *sheetView) landing(p point, c *cableView) landing {
	l := landing{at: p}
	dot := ring{p, p}
	for _, d := range v.devices {
		if !d.box.apart(rect{p.x, p.y, p.x, p.y}, landed) && gapTo(dot, d.shapes, landed) <= landed {
			l.on = append(l.on, d.sheetGroup)
			l.flag = l.flag || d.is("flag")
		}
	}
	for _, b := range v.bars {
		if gapTo(dot, b.shapes, landed) <= landed {
			l.on = append(l.on, b.groups[0])
		}
	}
	for _, o := range v.cables {
		if o != c && sameNet(c, o) && slices.ContainsFunc(o.run, func(s segment) bool { return s.toPoint(p) <= landed+o.half }) {
			l.joint = true
		}
	}
	return l
}

// inspectEnds holds each end against what the cable says it joins.
func (v *sheetView) inspectEnds(c *cableView, r *sheetReport) {
	elsewhere := false
	for _, p := range c.ends {
		l := v.landing(p, c)
		if len(l.on) == 0 && !l.joint {
			r.fault(wireDangling, c.item, "", p)
			return
		}
		elsewhere = elsewhere || l.joint || l.flag
		c.landings = append(c.landings, l)
	}
	if len(c.ends) == 0 {
		r.fault(wireDangling, c.item, "no end", c.run[0].a)
		return
	}
	if elsewhere {
		return
	}
	if n := len(c.landings); n == 2 && v.drawn(c.from) && v.drawn(c.to) {
		if a, b := c.landings[0], c.landings[1]; !joins(a, b, c) && !joins(b, a, c) {
			r.fault(wireWrongEnd, c.item, c.from+" to "+c.to, c.ends[0])
		}
		return
	}
	for _, ref := range []string{c.from, c.to} {
		if v.drawn(ref) && !slices.ContainsFunc(c.landings, func(l landing) bool { return l.meets(ref) }) {
			r.fault(wireWrongEnd, c.item, ref, c.ends[0])
		}
	}
}

// joins tells whether one end lies on what the cable comes from and the other on what it goes to.
func joins(a, b landing, c *cableView) bool {
	for _, g := range a.on {
		for _, h := range b.on {
			if g != h && meant(g, c.from) && meant(h, c.to) {
				return true
			}
		}
	}
	return false
}

func (l landing) meets(ref string) bool {
	return slices.ContainsFunc(l.on, func(g *sheetGroup) bool { return meant(g, ref) })
}

func (v *sheetView) drawn(ref string) bool {
	return strings.HasPrefix(ref, "capped at ") || ref == "untraced" ||
		slices.ContainsFunc(v.devices, func(d *deviceView) bool { return meant(d.sheetGroup, ref) }) ||
		slices.ContainsFunc(v.bars, func(b *barView) bool { return meant(b.groups[0], ref) })
}

// meant tells whether a drawn thing is the end that a cable names.
func meant(g *sheetGroup, ref string) bool {
	switch {
	case strings.HasPrefix(ref, "capped at "):
		return g.is("capped")
	case ref == "untraced":
		return g.is("untraced")
	case isWay(ref) || isWay(g.item):
		return g.item == ref || g.item+".load" == ref
	}
	return g.item != "" && baseOf(g.item) == baseOf(ref)
}

// inspectPorts finds two ports of one symbol on one point: its in and out mixed.
func (v *sheetView) inspectPorts(r *sheetReport) {
	type port struct {
		device *sheetGroup
		name   string
		at     point
	}
	var ports []port
	for _, c := range v.cables {
		for _, ref := range []string{c.from, c.to} {
			if !strings.Contains(ref, ".") || isWay(ref) {
				continue
			}
			for _, l := range c.landings {
				for _, g := range l.on {
					if g.is("device") && meant(g, ref) {
						ports = append(ports, port{g, ref, l.at})
					}
				}
			}
		}
	}
	for i, p := range ports {
		for _, q := range ports[i+1:] {
			if p.device == q.device && p.name != q.name && distance(p.at, q.at) < 1 {
				r.fault(portsMixed, p.name, q.name, p.at)
			}
		}
	}
}

// inspectPairs looks at cables two by two: on one line, too close, crossing.
func (v *sheetView) inspectPairs(r *sheetReport) {
	joints := v.joints()
	for i, a := range v.cables {
		for _, b := range v.cables[i+1:] {
			if a.box.apart(b.box, 2) {
				continue
			}
			class, at := sideBySide(a, b)
			if class != "" {
				r.fault(class, a.item, b.item, at)
			}
			for _, s := range a.run {
				for _, t := range b.run {
					if _, inside, met := s.meets(t); met && inside > joined {
						r.crossings++
					}
				}
			}
			if class == wiresShared || sameNet(a, b) {
				continue // where they share a line their bends lie on each other anyway; of one net they may meet
			}
			for _, p := range apartFromEachOther(append(pointsOn(a, joints[a], b), pointsOn(b, joints[b], a)...)) {
				r.fault(crossingUnclear, a.item, b.item, p)
			}
		}
	}
}

func sideBySide(a, b *cableView) (class string, at point) {
	for _, s := range a.run {
		for _, t := range b.run {
			if !s.parallel(t) {
				continue
			}
			off, over := min(s.off(t.a), s.off(t.b)), s.overlap(t)
			switch {
			case off < oneLine && over > sharedOver:
				return wiresShared, nearer(s, t)
			case off-a.half-b.half < closeSpace && over > closeOver:
				class, at = wiresClose, nearer(s, t)
			}
		}
	}
	return class, at
}

// nearer is the middle of the shorter of two segments.
func nearer(s, t segment) point {
	if s.length() < t.length() {
		return s.middle()
	}
	return t.middle()
}

// joints are the points where a cable's net branches: its own branches, and the
// ends of others of its net that land between its ends.
func (v *sheetView) joints() map[*cableView][]point {
	out := map[*cableView][]point{}
	for _, c := range v.cables {
		out[c] = append(out[c], c.branches...)
		for _, o := range v.cables {
			if o == c || !sameNet(c, o) {
				continue
			}
			for _, p := range c.ends {
				for _, s := range o.run {
					if s.toPoint(p) < oneLine && min(distance(p, s.a), distance(p, s.b)) > oneLine {
						out[o], out[c] = append(out[o], p), append(out[c], p)
					}
				}
			}
		}
	}
	return out
}

// pointsOn are the bends and joints of one cable that lie on the run of another.
func pointsOn(a *cableView, joints []point, b *cableView) []point {
	var out []point
	for _, p := range append(slices.Clone(a.bends), joints...) {
		on := slices.ContainsFunc(b.run, func(s segment) bool { return s.toPoint(p) < oneLine })
		atEnd := slices.ContainsFunc(b.ends, func(e point) bool { return distance(e, p) <= oneLine })
		if on && !atEnd {
			out = append(out, p)
		}
	}
	return out
}

// apartFromEachOther keeps one of the points that lie on each other.
func apartFromEachOther(points []point) []point {
	var out []point
	for _, p := range points {
		if !slices.ContainsFunc(out, func(q point) bool { return distance(p, q) <= oneLine }) {
			out = append(out, p)
		}
	}
	return out
}
