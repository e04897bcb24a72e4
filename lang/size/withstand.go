package size

import (
	"math"

	"strake/lang/circuit"
	"strake/lang/quantity"
	"strake/lang/table"
)

// surely is the multiple of its rating below which no device opens in useful time:
// gG fuses carry 1.25 times for hours (IEC 60269, from memory).
const surely = 1.25

// withstand holds the smallest fault, for as long as the slowest of its devices
// lets it flow, against the section. Above the times of the table, and for the
// largest fault, the device's own let-through counts: that is not known here.
func (s *sizer) withstand() {
	for i := range s.cables {
		c := &s.cables[i]
		if c.Of.Link || !c.Area.Known {
			continue
		}
		c.Withstand, c.StaysShut, c.OpensIn = "not verified", false, quantity.Opt[quantity.Second]{}
		device := s.slowest(c)
		if device == nil || !c.FaultMin.Known {
			continue
		}
		rating := s.rating(device)
		kind, ok := timing(device)
		if !rating.Known || rating.Value <= 0 {
			continue
		}
		if c.FaultMin.Value < rating.Value*surely {
			c.StaysShut = true
			continue
		}
		if !ok {
			continue
		}
		t, opens := table.Opening(kind, float64(c.FaultMin.Value/rating.Value))
		if !opens {
			c.StaysShut = true
			continue
		}
		c.OpensIn = quantity.Some(t.Value)
		area := float64(c.Area.Value) * float64(c.Parallel)
		switch need := float64(c.FaultMin.Value) * math.Sqrt(float64(t.Value)) / adiabatic(c.Of); {
		case t.Value > 5: // longer than the adiabatic formula holds: the capacity counts
		case need > area:
			c.Withstand = "fails"
		case t.Value >= 0.1:
			c.Withstand = "ok"
		}
	}
}

// thicken takes the next size for every open cable that does not stand its
// smallest fault, and tells whether there was one.
func (s *sizer) thicken() bool {
	more := false
	for i := range s.cables {
		c := &s.cables[i]
		if c.Withstand != "fails" || !s.open(i) || !c.Chosen {
			continue
		}
		if st, _ := s.next(i); st.area > 0 {
			s.take(i, st)
			c.GovernedBy = "withstand"
			more = true
		}
	}
	return more
}

// slowest is the largest of the devices through which a fault at the far end is fed.
func (s *sizer) slowest(c *Cable) *circuit.Item {
	var largest *circuit.Item
	for _, f := range c.Feeds {
		if len(f.Sources) == 0 || f.Limited {
			continue
		}
		for _, d := range f.Devices {
			if largest == nil || s.rating(d).Value > s.rating(largest).Value {
				largest = d
			}
		}
	}
	return largest
}

// timing is the kind under which a device's times stand in the table; an
// unstated curve is the slowest.
func timing(it *circuit.Item) (string, bool) {
	kind := "curve-" + it.Facts.Curve
	switch {
	case it.Kind == "fuse":
		kind = it.Facts.Class
	case it.Facts.Curve == "":
		kind = "curve-d"
	}
	return kind, table.HasOpening(kind)
}

// adiabatic is the constant k of a cable's insulation: the least of its class.
func adiabatic(c *circuit.Cable) float64 {
	use := "pvc-105"
	if class := c.Spec.Insulation; class.Known() {
		switch {
		case class.Value < 75:
			use = "pvc-70"
		case class.Value <= 90:
			use = "pvc-90"
		}
	}
	k, _ := table.Adiabatic(use)
	return k.Value
}
