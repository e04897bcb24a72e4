package rule

// A domain's written range against what its batteries are charged with, and
// devices for mains or insulation monitors that have no place in it.

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"strake/lang/circuit"
	"strake/lang/diag"
	"strake/lang/quantity"
	"strake/lang/table"
)

// Voltages of charge, from memory, verify with the maker; the allowances are common
// practice.
const (
	leastLithium = 3.5                   // volt a cell, at the end of charge
	leastLead    = 2.35                  // of any lead battery
	someMore     = 1.02                  // of a maker's highest voltage
	leadMore     = 1.05                  // of that of lead, which an author may have rounded up for his devices
	coldLead     = quantity.Celsius(-20) // where no coldest temperature is written, and the charger makes up for it
)

var rangeAndChemistry = Rule{diag.Info{Rule: "domain-range-and-battery", Severity: diag.Danger,
	Title:  "a domain whose highest voltage is not what its batteries are charged with",
	Why:    "Every fuse, switch and device is held against the highest voltage that is written. Written too low, it passes what the first full charge destroys, which is a fault of the text. Written above what lithium cells stand, or well above what lead is charged with in the cold, it says that they are overcharged.",
	Source: "cell voltages from memory, verify with the maker",
	Bad:    strings.Replace(goodFeeder, "10.5 V to 14.6 V", "10.5 V to 12.6 V", 1),
	Good:   goodFeeder,
}, func(p *pass) {
	for _, d := range p.Domains {
		if d.AC || !d.Highest.Known() {
			continue
		}
		low, high, known := p.chargeRange(d)
		gasses, lead := p.leadStands(d)
		switch top := d.Highest.Value; {
		case !known:
		case top < low:
			p.failAs(diag.Fault, d.Name, diag.Finding{Message: fmt.Sprintf("%s is written up to %s, and charged its batteries stand at %s or more", d.Name, top, low),
				Span: d.Span, Cure: fmt.Sprintf("write the highest voltage of a charge, such as %s; equalising and cold come on top", low)})
		case high > 0 && float64(top) > someMore*float64(high):
			p.fail(d.Name, diag.Finding{Message: fmt.Sprintf("%s is written up to %s, and its lithium batteries stand %s", d.Name, top, high),
				Span: d.Span, Cure: fmt.Sprintf("set the chargers to at most %s and write that", high)})
		case lead != nil && float64(top) > leadMore*float64(gasses):
			p.failAs(diag.Fault, d.Name, diag.Finding{Message: fmt.Sprintf("%s is written up to %s, and %s, %s, is charged with %s at most, in the cold", d.Name, top, called(lead), chemistry(lead), gasses),
				Span: d.Span, Items: []string{lead.Ref}, Related: p.where([]*circuit.Item{lead}), Cure: fmt.Sprintf("set the chargers to at most %s and write that", gasses)})
		default:
			p.ok(d.Name)
		}
	}
}}

// banksIn calls f for each battery or bank of a domain of which the voltage and
// the chemistry are known.
func (p *pass) banksIn(d *circuit.Domain, f func(*circuit.Item, quantity.Volt, table.Chemistry)) {
	p.items(func(it *circuit.Item) {
		v, ok := bankVolts(it)
		c, found := table.ChemistryOf(chemistry(it))
		if it.Nature().Stores && it.MemberOf == nil && it.Domain == d && ok && found && !p.mislinked(it) {
			f(it, v, c.Value)
		}
	})
}

// leadStands is the most that the lead batteries of a domain are charged with,
// where it is coldest, and the one that stands least; nil where there is none.
func (p *pass) leadStands(d *circuit.Domain) (most quantity.Volt, least *circuit.Item) {
	coldest := coldLead
	if p.Craft.Coldest.Known() {
		coldest = p.Craft.Coldest.Least()
	}
	p.banksIn(d, func(it *circuit.Item, v quantity.Volt, c table.Chemistry) {
		if c.Lithium {
			return
		}
		if top := c.Top(quantity.Volt(math.Round(float64(v)/2)*2), coldest); least == nil || top < most {
			most, least = top, it
		}
	})
	return most, least
}

// chargeRange is the voltage up to which the batteries of a domain are charged at
// least, and the most that they stand: 0 where lead is among them.
func (p *pass) chargeRange(d *circuit.Domain) (low, high quantity.Volt, known bool) {
	lead := false
	p.banksIn(d, func(_ *circuit.Item, v quantity.Volt, c table.Chemistry) {
		known = true
		if !c.Lithium {
			lead = true
			low = max(low, quantity.Volt(math.Round(float64(v)/2)*leastLead))
			return
		}
		cells := math.Round(float64(v) / 3.2)
		if math.Mod(float64(v), 12) == 0 { // called by the lead battery in whose place it stands
			cells = float64(v) / 3
		}
		low = max(low, quantity.Volt(math.Floor(float64(v)/3.2+1e-9)*leastLithium))
		if most := quantity.Volt(cells * float64(c.Highest)); high == 0 || most < high {
			high = most
		}
	})
	if lead {
		high = 0
	}
	return low, high, known
}

var mainsDeviceOnDC = Rule{diag.Info{Rule: "mains-device-on-dc", Severity: diag.Danger,
	Title:  "a device for mains in a DC system",
	Why:    "Alternating current ends its own arc a hundred times a second, direct current does not: a breaker or a switch that is made for mains holds it. A residual current device does not see DC at all. A voltage of mains on a device in a DC system is not taken for its DC rating; nor, above 32 V, on a fuse of a class that is sold for mains: the same fuse breaks half of that, or nothing, in DC.",
	Source: "IEC 60898-1, scope; IEC 60947-2, from memory, verify against the standard",
	Bad:    strings.Replace(goodFeeder, "100 A, 32 V, 1 pole, load-break", "100 A, 230 V, 1 pole, load-break", 1),
	Good:   goodFeeder,
}, func(p *pass) {
	p.items(func(it *circuit.Item) {
		d := powerDomain(it)
		if !switching(it) || d == nil || d.AC {
			return
		}
		if it.Kind == "fuse" {
			p.fuseForMains(it, d)
			return
		}
		v := it.Facts.Voltage
		top, ok := p.highest(d)
		switch {
		case it.Nature().Residual:
			p.fail(it.Ref, diag.Finding{Message: fmt.Sprintf("%s is a residual current device and sits in %s, which is DC", called(it), d.Name),
				Span: it.RefSpan, Cure: "fit a breaker or a fuse that is rated for DC"})
		case v.Known() && ok && v.Value >= 220 && v.Value <= 440 && top < 150:
			p.unverified(it.Ref, diag.Finding{Span: it.RefSpan, Missing: fmt.Sprintf("the DC voltage that %s is rated for: %s is a voltage of mains", it.Ref, v.Value)})
		default:
			p.ok(it.Ref)
		}
	})
}}

var monitorsDisagree = Rule{diag.Info{Rule: "insulation-monitor-misplaced", Severity: diag.Fault,
	Title:  "two insulation monitors on one network, or one on an earthed pole",
	Why:    "Each monitor is a high resistance to earth and measures the other one's; on a network that is earthed on purpose it alarms for ever, and somebody switches it off.",
	Source: "IEC 61557-8, from memory, verify against the standard",
	Bad:    strings.Replace(insulatedFeeder, "insulation-monitor IM1 in house at locker", monitors, 1),
	Good:   insulatedFeeder,
}, func(p *pass) {
	var all []*circuit.Item
	p.items(func(it *circuit.Item) {
		if it.Kind == "insulation-monitor" && len(p.net.Cables(circuit.Terminal{Item: it})) > 0 {
			all = append(all, it)
		}
	})
	for i, it := range all {
		if d := powerDomain(it); d != nil && d.EarthedNegative {
			p.fail(it.Ref, diag.Finding{Message: fmt.Sprintf("%s watches %s, whose negative is earthed", called(it), d.Name), Span: it.RefSpan, Cure: "take it out, or insulate the system and write `insulated`"})
			continue
		}
		var second *circuit.Item
		for _, o := range all[:i] {
			if second == nil && p.joined(it, o) {
				second = o
			}
		}
		if second == nil {
			p.ok(it.Ref)
			continue
		}
		p.fail(it.Ref, diag.Finding{Message: fmt.Sprintf("%s and %s watch one network", called(second), called(it)),
			Span: it.RefSpan, Related: p.where([]*circuit.Item{second}), Items: []string{second.Ref}, Cure: "leave one in each network that conductors join; with a tie closed, one is switched off"})
	}
}}

// monitors is two monitors on one bar.
const monitors = "run PB [0.1 m 1.5 mm2] fuse F8 at locker: class t, 125 V, breaks 20 kA, 3 A, 2 pole [0.5 m 1.5 mm2] insulation-monitor IM1 at locker\n" +
	"run PB [0.1 m 1.5 mm2] fuse F9 at locker: class t, 125 V, breaks 20 kA, 3 A, 2 pole [0.5 m 1.5 mm2] insulation-monitor IM2 at locker"

// classesForDC are those of which a stated voltage is one of direct current.
var classesForDC = []string{"t", "blade", "strip", "bolt", "cube", "gpv"}

// fuseForMains asks of a fuse with a voltage of mains, in a system of more than 32 V,
// whether that is its DC voltage.
func (p *pass) fuseForMains(it *circuit.Item, d *circuit.Domain) {
	v := it.Facts.Voltage
	top, ok := p.highest(d)
	if !v.Known() || !ok || top <= 32 || slices.Contains(classesForDC, it.Facts.Class) {
		return
	}
	if mains := v.Value; mains >= 220 && mains <= 240 || mains >= 380 && mains <= 415 || mains == 500 || mains == 690 {
		class := "a fuse of no class"
		if it.Facts.Class != "" {
			class = "class " + it.Facts.Class
		}
		p.unverified(it.Ref, diag.Finding{Span: it.RefSpan, Missing: fmt.Sprintf("for which DC voltage %s is made (%s of %s, which is a voltage of mains)", it.Ref, class, v.Value),
			Cure: "read the link: write the voltage that stands beside `DC`, often 250 V; where it has none, fit one that is made for DC"})
		return
	}
	p.ok(it.Ref)
}
