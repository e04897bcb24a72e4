package rule

// Protection of cables: a device at each end that can feed them, near enough,
// and no larger than the cable holds.

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"strake/lang/circuit"
	"strake/lang/diag"
	"strake/lang/quantity"
	"strake/lang/size"
	"strake/lang/table"
)

// reachDC is the length of bare conductor from a source to its device.
const reachDC = table.ReachBare

var cableUnprotected = Rule{diag.Info{Rule: "cable-unprotected", Severity: diag.Danger,
	Title:  "a cable without a protective device at an end that can feed it",
	Why:    "A fault in the cable draws all that the source can give until the cable burns. A cable that two sources can feed needs a device at each end; a charger, converter or regulator that limits its own current to what the cable holds needs none at its own end. A cable that feeds a starter, and besides it only branches with cables of their own, is exempt, as few devices stand a start: each branch is held to its own device; `starter-unprotected` and `starter-cable-too-thin` say what is asked of it instead.",
	Source: "ISO 13297:2020 12.1 to 12.3 as published in part, position from memory, verify against the standard; 33 CFR 183.455",
	Bad:    header + "run battery B1 in house at locker: agm, 12 V, 75 Ah, resistance 6 mohm [2 m 6 mm2] pump P1 at locker: 60 W\n",
	Good:   goodFeeder,
}, func(p *pass) {
	for _, c := range p.cables {
		if !p.guardable(c) {
			continue
		}
		var bare []*circuit.Item
		var where []string
		for k := range c.Feeds {
			f := &c.Feeds[k]
			strong := p.unlimited(f)
			end := endOf(c.Of, k)
			switch {
			case len(strong) == 0 && len(f.Bare) > 0:
				p.limitedSource(c, f) // its limit must be within the cable
			case len(f.Sources) == 0:
			case len(strong) == 0 || len(f.Ahead) > 0:
				p.ok(c.Of.ID)
			case backFed(strong, endOf(c.Of, 1-k)) || !p.lands(c.Of, k, strong):
				// said of the charge source, or of the cable nearer the source
			default:
				bare = append(bare, strong...)
				where = append(where, fmt.Sprintf("at the end at %s, where %s can feed it", endName(end), names(strong)))
			}
		}
		if len(where) > 0 {
			p.fail(c.Of.ID, diag.Finding{
				Message: fmt.Sprintf("nothing protects the cable %s %s", c.Of.ID, strings.Join(where, ", and ")),
				Span:    c.Of.Span, Related: p.where(bare), Items: refs(bare),
				Cure: fmt.Sprintf("put %s into it within %s of %s%s", deviceFor(c), reachFor(c), names(bare), p.fuseFor(c)),
			})
		}
	}
}}

// lands tells whether a cable's end is at one of these sources itself, or at a
// bar that is bolted to it: no other cable lies between.
func (p *pass) lands(c *circuit.Cable, k int, sources []*circuit.Item) bool {
	from, ok := endOf(c, k).Terminal()
	if !ok {
		return false
	}
	view := p.unfused()
	view.Cut = map[*circuit.Cable]bool{c: true}
	for _, o := range p.cables {
		if p.guardable(o) {
			view.Cut[o.Of] = true
		}
	}
	for _, t := range p.net.Origin([]circuit.Terminal{from}, view) {
		if slices.Contains(sources, t.Item) {
			return true
		}
	}
	return false
}

// reachFor is the length that may stay without protection, and deviceFor what
// one would fit there.
func reachFor(c *size.Cable) quantity.Metre {
	if c.Of.Domain != nil && c.Of.Domain.AC {
		return table.ReachAC
	}
	return reachDC
}

func deviceFor(c *size.Cable) string {
	if c.Of.Domain != nil && c.Of.Domain.AC {
		return "an rcbo in both poles"
	}
	return "a fuse"
}

// guardable tells the cables that need protection: no links, no links inside a
// bank's string, no ends that are made safe, no starter cable.
func (p *pass) guardable(c *size.Cable) bool {
	return !c.Of.Link && c.Of.Bank == nil && !p.cranking(c.Of)
}

// unlimited are the sources that reach a cable's end through no device and do
// not limit their own current.
func (p *pass) unlimited(f *size.Feed) []*circuit.Item {
	var list []*circuit.Item
	for _, it := range f.Bare {
		if n := it.Nature(); !n.Limited && !n.Load && !(it.Kind == "inlet" && it.Facts.ShortCircuit.Known()) && it.Status.In(p.configuration) {
			list = append(list, it)
		}
	}
	return list
}

// limitsItself tells a source whose current is limited by its nature, or a
// machine whose short-circuit current is written.
func limitsItself(it *circuit.Item) bool {
	n := it.Nature()
	return n.Limited || !n.Stores && it.Facts.ShortCircuit.Known()
}

func (p *pass) limitedSource(c *size.Cable, f *size.Feed) {
	limit, known := p.limitOf(f)
	switch {
	case !known || !c.Ampacity.Known:
		missing := "the output current of " + names(f.Bare)
		if known {
			missing = p.unknownOf(c)
		}
		p.unverified(c.Of.ID, diag.Finding{Span: c.Of.Span, Items: refs(f.Bare), Missing: missing})
	case below(c.Ampacity.Value, limit):
		p.fail(c.Of.ID, diag.Finding{
			Message: fmt.Sprintf("%s can send %s into the cable %s, which holds %s, and no device stands between", names(f.Bare), limit, c.Of.ID, c.Ampacity.Value),
			Span:    c.Of.Span, Related: p.where(f.Bare), Items: refs(f.Bare), Cure: "use a thicker cable, or put a fuse at that end",
		})
	default:
		p.ok(c.Of.ID)
	}
}

// backFed tells a cable between batteries and the output of what charges them.
func backFed(sources []*circuit.Item, far circuit.End) bool {
	for _, it := range sources {
		if !it.Nature().Stores {
			return false
		}
	}
	return far.Item != nil && far.Item.Kind != "transformer" && far.Item.Nature().Converts && chargePort(far.Item, far.Port)
}

// limitOf is what the sources that reach a cable's end through no device give
// together when each limits itself.
func (p *pass) limitOf(f *size.Feed) (quantity.Ampere, bool) {
	if f.Limit.Known {
		return f.Limit.Value, true
	}
	var sum quantity.Ampere
	for _, it := range f.Bare {
		_, limit, ok := capacity(it)
		if it.Facts.ShortCircuit.Known() {
			limit, ok = it.Facts.ShortCircuit.Most(), true
		}
		if !ok {
			return 0, false
		}
		sum += limit
	}
	return sum, len(f.Bare) > 0
}

// fuseFor names the largest standard rating that a cable holds.
func (p *pass) fuseFor(c *size.Cable) string {
	if !c.Ampacity.Known {
		return ""
	}
	return fmt.Sprintf(", of at most %s", c.Ampacity.Value)
}

var fuseBeyondReach = Rule{diag.Info{Rule: "fuse-beyond-reach", Severity: diag.Danger,
	Title:  "a protective device too far from the source",
	Why:    "The length between a source and its device is protected by nothing. A bar or a switch between them does not begin the length anew.",
	Source: "ISO 13297:2020 12.1 (0.2 m, else covered throughout; here at most 1 m), 13.2.2 for AC (0.5 m): lengths from memory, verify against the standard",
	Bad:    header + "run battery B1 in house at locker: agm, 12 V, 75 Ah, resistance 6 mohm [1.5 m 25 mm2] fuse F1: class t, 125 V, breaks 20 kA, 80 A [0.1 m 25 mm2] isolator Q1: 100 A, 32 V, 1 pole, load-break [2 m 25 mm2] pump P1 at locker: 60 W\n",
	Good:   goodFeeder,
}, func(p *pass) {
	for _, c := range p.cables {
		if !p.guardable(c) {
			continue
		}
		for k := range c.Feeds {
			f := &c.Feeds[k]
			strong := p.unlimited(f)
			if len(strong) == 0 || len(f.Ahead) == 0 {
				continue
			}
			if slices.ContainsFunc(strong, p.mislinked) {
				continue // the bank itself is linked wrongly, and that is said
			}
			limit, why := size.Reach(c.Of)
			back, known := p.lengthBack(c.Of, k, strong)
			ahead, both := p.lengthAhead(c.Of, k)
			far := back + ahead
			switch {
			case !known || !both:
				p.unverified(c.Of.ID, diag.Finding{Span: c.Of.Span, Items: refs(f.Ahead), Missing: "the length between " + names(strong) + " and " + names(f.Ahead)})
			case float64(far) > float64(limit)+1e-9:
				p.fail(c.Of.ID, diag.Finding{
					Message: fmt.Sprintf("%s %s %s along the cable from %s; %s is the most %s", names(f.Ahead), verb(f.Ahead, "stands"), far, names(strong), limit, why),
					Span:    c.Of.Span, Related: p.where(strong), Items: refs(f.Ahead),
					Cure: fmt.Sprintf("move the device to within %s of the source", limit),
				})
			default:
				p.ok(c.Of.ID)
			}
		}
	}
}}

var deviceAboveCable = Rule{diag.Info{Rule: "device-above-cable", Severity: diag.Danger,
	Title:  "a protective device larger than its cable holds",
	Why:    "The cable burns before the device opens. The cable's capacity is taken after every derating: place, bundling, conduit, terminals.",
	Source: "IEC 60364-4-43 433.1; ISO 13297:2020 13.1.5 for AC; for DC from memory, verify against the standard",
	Bad:    header + "run battery B1 in house at locker: agm, 12 V, 75 Ah, resistance 6 mohm [0.1 m 25 mm2] fuse F1: class t, 125 V, breaks 20 kA, 80 A [0.1 m 4 mm2] isolator Q1: 100 A, 32 V, 1 pole, load-break [2 m 4 mm2] pump P1 at locker: 60 W\n",
	Good:   goodFeeder,
}, func(p *pass) {
	for _, c := range p.cables {
		if c.Of.Link || p.cranking(c.Of) || len(c.Protection) == 0 { // a bank's links too: its string has their current
			continue
		}
		switch {
		case !c.ProtectionRating.Known || !c.Ampacity.Known:
			p.unverified(c.Of.ID, diag.Finding{Span: c.Of.Span, Items: refs(c.Protection), Missing: p.unknownOf(c)})
		case p.aboveCable(c):
			carries, most := "", c.Ampacity.Value
			if late := float64(c.ProtectionAsks.Value / c.ProtectionRating.Value); late > 1 {
				carries = fmt.Sprintf("; so small a gG fuse opens at %.2g times its rating, which asks for %s", late*1.45, c.ProtectionAsks.Value)
				most /= quantity.Ampere(late)
			}
			if c.DropCurrent.Known && below(c.Ampacity.Value, c.DropCurrent.Value) {
				carries += fmt.Sprintf(" and carries %s", c.DropCurrent.Value)
			}
			p.fail(c.Of.ID, diag.Finding{
				Message: fmt.Sprintf("%s of %s %s the cable %s, which holds %s (%s)%s", names(c.Protection), apart(c.ProtectionRating.Value, c.Ampacity.Value), verb(c.Protection, "guards"), c.Of.ID, c.Ampacity.Value, c.AmpacityBasis, carries),
				Span:    c.Of.Span, Related: p.where(c.Protection), Items: refs(c.Protection),
				Cure: fmt.Sprintf("a device of at most %s, or a thicker cable", most),
			})
		default:
			p.ok(c.Of.ID)
		}
	}
}}

// aboveCable tells whether what protects a cable is more than it holds.
func (p *pass) aboveCable(c *size.Cable) bool {
	return c.ProtectionRating.Known && c.Ampacity.Known && len(c.Protection) > 0 && below(c.Ampacity.Value, c.ProtectionAsks.Value)
}

// unknownOf names what keeps a cable's capacity or its protection from being known.
func (p *pass) unknownOf(c *size.Cable) string {
	if len(c.Missing) > 0 {
		return c.Missing[0]
	}
	if !c.Ampacity.Known {
		return "the size of the cable " + c.Of.ID
	}
	for _, d := range c.Protection {
		if _, ok := p.rating(d); !ok {
			return "the rating of " + d.Ref
		}
	}
	if bank := c.Of.Bank; bank != nil {
		return "a protective device in each cable on " + bank.TopBank().Ref
	}
	var bare []*circuit.Item
	for k := range c.Feeds {
		bare = append(bare, c.Feeds[k].Bare...)
	}
	return "what limits the current that " + names(bare) + " can send into it"
}

// where points at the items of a finding.
func (p *pass) where(items []*circuit.Item) []diag.Related {
	var list []diag.Related
	for _, it := range items {
		list = append(list, diag.Related{Span: it.RefSpan, Message: called(it)})
	}
	return list
}

// atPlace points at a place.
func atPlace(at *circuit.Place) []diag.Related {
	return []diag.Related{{Span: at.Span, Message: "the place " + at.Name}}
}

// inDomain points at a domain.
func inDomain(d *circuit.Domain) []diag.Related {
	return []diag.Related{{Span: d.Span, Message: "the domain " + d.Name}}
}

func refs(items []*circuit.Item) []string {
	var list []string
	for _, it := range items {
		if !slices.Contains(list, it.Ref) {
			list = append(list, it.Ref)
		}
	}
	return list
}

// verb is a verb as it stands behind items: of one, or of several.
func verb(items []*circuit.Item, ofOne string) string {
	if len(refs(items)) > 1 {
		return strings.TrimSuffix(ofOne, "s")
	}
	return ofOne
}

// apart prints a number so that it differs from its limit where it does: 3.02 %
// beside a limit of 3 %.
func apart[T interface {
	~float64
	fmt.Stringer
}](found, limit T) string {
	text := found.String()
	blank := strings.LastIndexByte(text, ' ')
	if found == limit || text != limit.String() || blank < 0 {
		return text
	}
	shown, err := strconv.ParseFloat(text[:blank], 64)
	if err != nil || shown == 0 {
		return text
	}
	factor := math.Pow(10, math.Round(math.Log10(math.Abs(float64(found)/shown))))
	for decimals := 1; decimals < 8; decimals++ {
		more := strconv.FormatFloat(float64(found)/factor, 'f', decimals, 64)
		if more != strconv.FormatFloat(float64(limit)/factor, 'f', decimals, 64) {
			return more + text[blank:]
		}
	}
	return text
}

// names lists items in a sentence, the first three by name.
func names(items []*circuit.Item) string {
	list := refs(items)
	switch n := len(list); {
	case n == 0:
		return "nothing"
	case n == 1:
		return list[0]
	case n == 2:
		return list[0] + " and " + list[1]
	case n == 3:
		return list[0] + ", " + list[1] + " and " + list[2]
	default:
		return fmt.Sprintf("%s, %s and %d more", list[0], list[1], n-2)
	}
}

func endName(e circuit.End) string {
	switch {
	case e.Item != nil:
		return circuit.Terminal{Item: e.Item, Port: e.Port}.String()
	case e.Capped != nil:
		return "its end at " + e.Capped.Name
	}
	return "its untraced end"
}

// goodFeeder is a small boat with which nothing is wrong.
const goodFeeder = header + `battery B1 in house at locker: agm, 12 V, 75 Ah, resistance 6 mohm, terminals 105 degC
run B1 [0.1 m 25 mm2] fuse F1 at locker: class t, 125 V, breaks 20 kA, 80 A
    [0.1 m 25 mm2] isolator Q1 at locker: 100 A, 32 V, 1 pole, load-break
    [2 m 25 mm2] pump P1 at locker: 60 W
`
