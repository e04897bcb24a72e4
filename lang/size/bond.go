package size

import (
	"math"

	"strake/lang/circuit"
	"strake/lang/quantity"
	"strake/lang/table"
)

// leastBond is the least section of a bond of its own without a cover (IEC
// 60364-5-54 543.1.3, from memory).
const leastBond = quantity.SquareMM(4)

// Bond is one bonding or protective conductor. Its section in mm² is stated or
// chosen; Least is what the fault that it leads away asks for.
type Bond struct {
	Of     *circuit.Cable
	Area   quantity.Opt[quantity.SquareMM] // of all its conductors
	Chosen bool
	Least  quantity.SquareMM
	Beside *circuit.Cable    // the cable whose live conductor asks for Least; nil: the least of any bond
	Live   quantity.SquareMM // section of that conductor
	ByHeat bool              // Least is what the device's let-through asks for, which is less than the table's
}

// bonds works out every bond, in the order of System.Bonds: against the largest
// live conductor on what it bonds by table 54.2, or by what the device of that
// cable lets through where that is known and less (543.1.2). Cables of DC count
// only where the negative is to be earthed. The American set asks for the table alone.
func (s *sizer) bonds() []Bond {
	var list []Bond
	for _, c := range s.sys.Bonds {
		b := Bond{Of: c, Least: leastBond}
		s.beside(&b)
		switch {
		case c.Link:
		case c.Area.Known():
			b.Area = quantity.Some(c.Area.Least() * quantity.SquareMM(max(1, c.Parallel)))
		case c.Area.State == circuit.Unstated && !c.Blank:
			for _, a := range table.Sizes() {
				if float64(a) >= float64(b.Least)*(1-1e-9) {
					b.Area, b.Chosen = quantity.Some(a), true
					break
				}
			}
		}
		list = append(list, b)
	}
	return list
}

// beside finds the largest live conductor on what a bond joins to earth.
func (s *sizer) beside(b *Bond) {
	var of *Cable
	for i := range s.cables {
		c := &s.cables[i]
		d := c.Of.Domain
		if c.Of.Link || !c.Area.Known || d == nil || !d.AC && !d.EarthedNegative {
			continue
		}
		for _, e := range [...]circuit.End{b.Of.From, b.Of.To} {
			if e.Item == nil || e.Item != c.Of.From.Item && e.Item != c.Of.To.Item {
				continue
			}
			if area := c.Area.Value * quantity.SquareMM(c.Parallel); area > b.Live {
				b.Live, of = area, c
			}
		}
	}
	if of == nil || table.ProtectiveConductor(b.Live) <= leastBond {
		b.Live = 0
		return
	}
	b.Beside, b.Least = of.Of, table.ProtectiveConductor(b.Live)
	k, _ := table.Adiabatic("pvc-separate")
	if let, known := s.energyOf(of.Protection, of.FaultMax, map[*circuit.Item]bool{}); known && of.FaultMax.Known && s.set != table.ABYC {
		if heat := table.WithstandArea(quantity.AmpereSquaredSecond(let), k.Value); heat < b.Least {
			b.Least, b.ByHeat = max(leastBond, quantity.SquareMM(math.Ceil(float64(heat)*10)/10)), true
		}
	}
}
