package size

import (
	"fmt"
	"slices"

	"strake/lang/circuit"
	"strake/lang/quantity"
	"strake/lang/table"
)

// conclude gives each cable its result and what governed, and the devices what
// they protect.
func (s *sizer) conclude() {
	for _, it := range s.sys.Items {
		if it.Kind != "bms" || it.Status == circuit.Removed {
			continue
		}
		if near, said := s.sys.WatchedBy(it); !said && len(near) > 0 {
			s.notes.assume(it.Ref, "no signal says what it watches: taken to be the lithium batteries that stand where it stands", "common practice")
		}
	}
	for i := range s.cables {
		c := &s.cables[i]
		if c.Of.Link {
			continue
		}
		if c.Stated {
			c.GovernedBy = "stated"
		}
		c.Result = s.result(i)
		for _, p := range c.Protection {
			if d, ok := s.of[p]; ok && !slices.Contains(s.devices[d].Protects, c.Of) {
				s.devices[d].Protects = append(s.devices[d].Protects, c.Of)
			}
		}
	}
	for i := range s.cables {
		if !s.cables[i].Of.Link {
			s.margin(i)
		}
	}
	for i := range s.devices {
		d := &s.devices[i]
		port := ""
		if d.Of.HasPort("in") {
			port = "in"
		}
		if v, ok := s.highest(domainOf(circuit.Terminal{Item: d.Of, Port: port})); ok {
			d.NodeMax = quantity.Some(v)
		}
		d.Loop = s.loopLimit(d)
	}
}

// loopLimit is the loop impedance in ohm up to which a mains breaker opens at
// once for a fault to earth; an unstated curve is the slowest.
func (s *sizer) loopLimit(d *Device) quantity.Opt[quantity.Ohm] {
	it, none := d.Of, quantity.Opt[quantity.Ohm]{}
	if it.Kind != "breaker" && it.Kind != "rcbo" || it.Domain == nil || !it.Domain.AC || !it.Domain.Nominal.Known() || !d.Rating.Known {
		return none
	}
	curve := it.Facts.Curve
	if curve == "" {
		curve = "d"
	}
	z, ok := table.LoopLimit(curve, d.Rating.Value, quantity.Volt(float64(it.Domain.Nominal.Value)/phases(it.Domain)))
	return quantity.Opt[quantity.Ohm]{Value: z, Known: ok}
}

// result is "fails" when a sum is beyond its limit, "not verified" when one could
// not be made, else "ok".
func (s *sizer) result(i int) string {
	c := &s.cables[i]
	n := s.needs(i)
	switch {
	case c.Ampacity.Known && n.ok && c.Ampacity.Value < n.amps,
		c.CumulativePercent.Known && c.Limit.Known && c.CumulativePercent.Value > c.Limit.Value,
		c.Withstand == "fails":
		return "fails"
	case len(c.Missing) > 0, !c.Ampacity.Known, !n.ok && !s.cranking(i):
		return "not verified"
	}
	return "ok"
}

func amps(a quantity.Ampere) string { return fmt.Sprintf("%.4g A", float64(a)) }
