package demand

import (
	"slices"

	"strake/lang/circuit"
	"strake/lang/quantity"
	"strake/lang/size"
)

// Diversity is what a board's feeder carries when not everything runs at once,
// beside the sum of it all. It governs no size.
type Diversity struct {
	Board         *circuit.Item
	Configuration circuit.Configuration
	Continuous    quantity.Opt[quantity.Ampere] // runs for long, or for safety
	Intermittent  quantity.Opt[quantity.Ampere]
	Largest       quantity.Opt[quantity.Ampere] // of the intermittent ones
	Demand        quantity.Opt[quantity.Ampere]
	Source        string
	Missing       []string
}

const (
	diversityDC = "ABYC E-11 load calculation; the tenth of the intermittent loads is from memory, to be verified against the purchased standard"
	diversityAC = "ABYC E-11 load calculation for alternating current, from memory, to be verified against the purchased standard"
)

// diversities works out every board in both configurations.
func diversities(sys *circuit.System, plan *size.Plan) []Diversity {
	var list []Diversity
	for _, it := range sys.Items {
		if it.Board == nil {
			continue
		}
		for _, config := range configurations {
			if it.Status.In(config) {
				list = append(list, diversity(it, plan, config))
			}
		}
	}
	return list
}

func diversity(board *circuit.Item, plan *size.Plan, config circuit.Configuration) Diversity {
	d := Diversity{Board: board, Configuration: config, Source: diversityDC}
	ac := board.Domain != nil && board.Domain.AC
	if ac {
		d.Source = diversityAC
	}
	var always, times, largest, plugged, motor float64
	for _, w := range board.Board.Ways {
		if w.Spare || w.Cable == nil || !w.Status.In(config) || w.Feeds() == nil {
			continue
		}
		i := slices.IndexFunc(plan.Cables, func(c size.Cable) bool { return c.Of == w.Cable })
		if i < 0 || !plan.Cables[i].DesignCurrent.Known {
			d.Missing = append(d.Missing, "current of "+w.Cable.ID)
			continue
		}
		amps := float64(plan.Cables[i].DesignCurrent.Value)
		switch it := w.Feeds(); {
		case ac && (it.Kind == "socket" || it.Kind == "lamp"):
			plugged += amps
		case !ac && intermittent(it):
			times += amps
			largest = max(largest, amps)
		default:
			always += amps
			if it.Kind == "motor" || it.Kind == "pump" {
				motor = max(motor, amps)
			}
		}
	}
	if len(d.Missing) > 0 {
		return d
	}
	d.Continuous, d.Intermittent = quantity.Some(quantity.Ampere(always)), quantity.Some(quantity.Ampere(times+plugged))
	d.Largest = quantity.Some(quantity.Ampere(largest))
	demand := DirectDemand(quantity.Ampere(always), quantity.Ampere(times), quantity.Ampere(largest))
	if ac {
		demand = AlternatingDemand(quantity.Ampere(always), quantity.Ampere(plugged), quantity.Ampere(motor), board.Domain)
	}
	d.Demand = quantity.Some(demand)
	return d
}

// DirectDemand is the continuous loads and the larger of a tenth of the
// intermittent ones and the largest of these.
func DirectDemand(continuous, intermittent, largest quantity.Ampere) quantity.Ampere {
	return continuous + max(intermittent/10, largest)
}

// AlternatingDemand is lamps and sockets with their first 2000 W whole and 35 %
// of the rest, everything else whole, and a quarter of the largest motor.
func AlternatingDemand(whole, plugged, motor quantity.Ampere, d *circuit.Domain) quantity.Ampere {
	const first, rest = 2000, 0.35
	if d != nil && d.Nominal.Known() && d.Nominal.Value > 0 {
		if at := quantity.Ampere(first / float64(d.Nominal.Value)); plugged > at {
			plugged = at + quantity.Ampere(rest*float64(plugged-at))
		}
	}
	return whole + plugged + motor/4
}

// intermittent tells what runs for short times: sockets, thrusters, starters,
// motors and what states a short duty; pumps other than those of the bilge. What
// works for safety counts as continuous whatever it is.
func intermittent(it *circuit.Item) bool {
	f := it.Facts
	if f.Bilge || f.Navigation || f.Blower || f.Critical || f.MustBeLive {
		return false
	}
	switch it.Kind {
	case "socket", "thruster", "starter", "pump", "motor":
		return true
	}
	return f.PeakFor > 0
}
