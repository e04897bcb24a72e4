// What is wrong with a sheet: the classes of faults, and those of texts and devices.
package main

import (
	"fmt"
	"math"
	"slices"
	"strings"
)

// Classes of faults.
const (
	textOnText      = "text-text"
	textOnDevice    = "text-device"      // on another item's symbol
	textOnOwnDevice = "text-own-device"  // on a stroke of its own
	textOnBar       = "text-bus"         // on any bar
	textOnWire      = "text-wire"        // on another item's cable
	textOnOwnWire   = "text-own-wire"    // not clear of its own
	textOnRule      = "text-rule"        // on a line of table, frame or a place's outline
	textOnMark      = "text-mark"        // on any other stroke
	textUnreadable  = "text-unreadable"  // black on black, or white beside it
	textOffSheet    = "text-off-sheet"   //
	textOutside     = "text-outside"     // outside the frame
	textSmall       = "text-small"       //
	textMisfit      = "text-misfit"      // stated width is not the font's
	textNameless    = "text-nameless"    // of no item
	itemNameless    = "item-nameless"    // or without its ends or title
	itemOutside     = "item-outside"     // outside paper, frame or drawing area
	itemOnRule      = "item-rule"        // on a line or block of a table, legend or frame
	deviceOnDevice  = "device-device"    //
	deviceAcrossBar = "device-bus"       // out on both sides
	wireThrough     = "wire-device"      // on a symbol that is not its end
	wireThroughOwn  = "wire-own-device"  // through the symbol that is
	wireOnBar       = "wire-bus"         // on a bar that is not its end
	wireSlanted     = "slanted"          //
	wireBroken      = "broken"           // in pieces
	wireDangling    = "dangling"         // an end on nothing
	wireWrongEnd    = "wrong-end"        // an end not on what it names
	portsMixed      = "ports-mixed"      // two ports of a symbol on one point
	wiresShared     = "shared"           // two cables on one line
	wiresClose      = "close"            // two cables that print as one
	crossingUnclear = "unclear-crossing" // over a bend or a joint of others
)

var faultClasses = []string{
	textOnText, textOnDevice, textOnOwnDevice, textOnBar, textOnWire,
	textOnOwnWire, textOnRule, textOnMark, textUnreadable, textOffSheet,
	textOutside, textSmall, textMisfit, textNameless, itemNameless,
	itemOutside, itemOnRule, deviceOnDevice, deviceAcrossBar, wireThrough,
	wireThroughOwn, wireOnBar, wireSlanted, wireBroken, wireDangling,
	wireWrongEnd, portsMixed, wiresShared, wiresClose, crossingUnclear,
}

type sheetFault struct {
	class, who, whom string
	at               point
}

func (f sheetFault) String() string {
	return fmt.Sprintf("%s: %s | %s @ %.1f,%.1f", f.class, f.who, f.whom, f.at.x, f.at.y)
}

// sheetReport is what a sheet shows: faults, and what is counted without being one.
type sheetReport struct {
	faults           []sheetFault
	crossings, bends int
}

func (r *sheetReport) fault(class, who, whom string, at point) {
	r.faults = append(r.faults, sheetFault{class, who, whom, at})
}

func inspect(v *sheetView) sheetReport {
	var r sheetReport
	for _, g := range v.nameless {
		r.fault(itemNameless, strings.Join(g.classes, " "), g.item, point{})
	}
	v.inspectTexts(&r)
	v.inspectDevices(&r)
	v.inspectSheetLines(&r)
	v.inspectCables(&r)
	v.inspectPorts(&r)
	v.inspectPairs(&r)
	return r
}

func textGap(t sheetText, shapes []ink, limit float64) float64 {
	least := math.Inf(1)
	for _, k := range shapes {
		if t.box.apart(k.box, limit) {
			continue
		}
		for _, b := range t.boxes {
			least = min(least, k.gap(b.ring(), limit))
		}
	}
	return least
}

func (v *sheetView) inspectTexts(r *sheetReport) {
	for i, t := range v.texts {
		for _, u := range v.texts[i+1:] {
			if !t.box.apart(u.box, touching) && textsTouch(t, u) {
				r.fault(textOnText, t.body, u.body, t.box.middle())
			}
		}
		v.textOnItems(t, r)
		v.textOnSheet(t, r)
		if t.misfit > 0.03 {
			r.fault(textMisfit, t.body, t.item, t.box.middle())
		}
		if t.capital < smallest-0.005 {
			r.fault(textSmall, t.body, t.item, t.box.middle())
		}
		if !t.sheet && t.item == "" {
			r.fault(textNameless, t.body, "", t.box.middle())
		}
	}
}

func textsTouch(t, u sheetText) bool {
	for _, a := range t.boxes {
		for _, b := range u.boxes {
			if !a.apart(b, touching) {
				return true
			}
		}
	}
	return false
}

func (v *sheetView) textOnItems(t sheetText, r *sheetReport) {
	for _, d := range v.devices {
		if d.holds(t.in) || t.item != "" && d.item == t.item && t.in.around("device", "cable", "bus") == nil {
			if textGap(t, hollowed(d.shapes), touching) < touching {
				r.fault(textOnOwnDevice, t.body, d.item, t.box.middle())
			}
		} else if textGap(t, []ink{d.body}, touching) < touching {
			r.fault(textOnDevice, t.body, d.item, t.box.middle())
		}
	}
	for _, b := range v.bars {
		if textGap(t, b.shapes, touching) < touching {
			r.fault(textOnBar, t.body, b.item, t.box.middle())
		}
	}
	for _, c := range v.cables {
		own := t.item != "" && t.item == c.item
		gap := textGap(t, c.shapes, clearSpace)
		switch {
		case own && gap < clearSpace-0.001:
			r.fault(textOnOwnWire, t.body, c.item, t.box.middle())
		case !own && gap < touching:
			r.fault(textOnWire, t.body, c.item, t.box.middle())
		}
	}
	if textGap(t, v.marks, touching) < touching {
		r.fault(textOnMark, t.body, t.item, t.box.middle())
	}
}

func (v *sheetView) textOnSheet(t sheetText, r *sheetReport) {
	grid := t.in.is("frame") // letters and figures of the grid stand outside the border by right
	switch {
	case !t.box.within(v.paper):
		r.fault(textOffSheet, t.body, t.item, t.box.middle())
	case v.frame != nowhere && !grid && !t.box.within(v.frame):
		r.fault(textOutside, t.body, t.item, t.box.middle())
	}
	if textGap(t, append(hollowed(v.rules), v.places...), touching) < touching {
		r.fault(textOnRule, t.body, t.item, t.box.middle())
	}
	onBlack := slices.ContainsFunc(v.rules, func(k ink) bool {
		return k.filled != nil && !t.box.apart(k.box, 0) && inRings(t.box.middle(), k.filled)
	})
	if onBlack != t.white {
		r.fault(textUnreadable, t.body, t.item, t.box.middle())
	}
}

func (v *sheetView) inspectDevices(r *sheetReport) {
	for i, d := range v.devices {
		if len(d.outline) == 0 {
			r.fault(itemNameless, strings.Join(d.classes, " ")+" without ink", d.item, point{})
			continue
		}
		for _, o := range v.devices[i+1:] {
			if len(o.outline) > 0 && !d.holds(o.sheetGroup) && !o.holds(d.sheetGroup) && !d.box.apart(o.box, 0) && depth(d.outline, o.outline) > overlapping {
				r.fault(deviceOnDevice, d.item, o.item, d.box.middle())
			}
		}
		for _, b := range v.bars {
			inBar := slices.ContainsFunc(b.groups, func(g *sheetGroup) bool { return g.holds(d.sheetGroup) })
			if !inBar && slices.ContainsFunc(b.shapes, func(k ink) bool { return liesAcross(d.outline, k) }) {
				r.fault(deviceAcrossBar, d.item, b.item, d.box.middle())
			}
		}
	}
}

// liesAcross tells whether an outline comes out on both sides of a bar's shape;
// with one side it may stand on it.
func liesAcross(outline ring, k ink) bool {
	lines, half := k.strokes, k.half
	if k.filled != nil {
		wide, high := k.box.x1-k.box.x0, k.box.y1-k.box.y0
		at := k.box.middle()
		line := segment{point{k.box.x0, at.y}, point{k.box.x1, at.y}}
		if high > wide {
			line = segment{point{at.x, k.box.y0}, point{at.x, k.box.y1}}
		}
		lines, half = []segment{line}, min(wide, high)/2
	}
	for _, s := range lines {
		l := s.length()
		if l == 0 || depth(outline, ring{s.a, s.b}) <= 0 {
			continue
		}
		normal := point{-(s.b.y - s.a.y) / l, (s.b.x - s.a.x) / l}
		least, most := shadow(outline, normal)
		here := dot(s.a, normal)
		if least-here < -half-1 && most-here > half+1 {
			return true
		}
	}
	return false
}

// inspectSheetLines keeps symbols, bars and cables on the paper, in the frame
// and the drawing area, and off the lines and blocks of the sheet itself.
func (v *sheetView) inspectSheetLines(r *sheetReport) {
	check := func(item string, shapes []ink) {
		box := nowhere
		for _, k := range shapes {
			box = box.join(k.box)
		}
		if box == nowhere {
			return
		}
		for _, bound := range []rect{v.paper, v.frame, v.field} {
			if bound != nowhere && !box.within(bound) {
				r.fault(itemOutside, item, "", box.middle())
				return
			}
		}
		for _, k := range shapes {
			for _, s := range k.strokes {
				if gapTo(ring{s.a, s.b}, v.rules, 1)-k.half < touching {
					r.fault(itemOnRule, item, "", s.middle())
					return
				}
			}
		}
	}
	for _, d := range v.devices {
		check(d.item, d.shapes)
	}
	for _, b := range v.bars {
		check(b.item, b.shapes)
	}
	for _, c := range v.cables {
		check(c.item, c.shapes)
	}
}
