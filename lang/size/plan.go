// Package size owns the choice of conductors and of protection: the design
// current of every cable, its ampacity, volt drop and section, and the ratings
// that the text leaves to the compiler. It reads the circuit and the published
// tables; it judges nothing, findings are the rules' business.
package size

import (
	"strake/lang/circuit"
	"strake/lang/quantity"
)

// Plan is what the compiler worked out for a craft.
type Plan struct {
	Cables      []Cable     // one for each of System.Cables, in its order (links too)
	Bonds       []Bond      // one for each of System.Bonds, in its order
	Devices     []Device    // protective devices, isolators, bars: in the order of System.Items
	Faults      []NodeFault // every terminal, in canonical order
	Assumptions []circuit.Assumption
	Arrays      []Array // in the order of System.Items
	Copper      Copper
	Tables      string // state of the published tables that were used
}

// NodeFault is the largest and the smallest fault current at a terminal.
type NodeFault struct {
	Node     string
	Of       circuit.Terminal
	Max, Min quantity.Opt[quantity.Ampere]
}

// Cable is one cable's sums. What is not known has Known false.
type Cable struct {
	Of                *circuit.Cable
	Area              quantity.Opt[quantity.SquareMM] // stated or chosen
	Parallel          int
	Gauge             string // of a chosen American gauge, as the text writes it: 2, 0, 00
	Stated            bool   // the text states the size
	Chosen            bool   // the compiler chose it: printed as "needs"
	GovernedBy        string // current, terminal, drop, protection, withstand, minimum, alike (one bracket for a range), stated
	DesignCurrent     quantity.Opt[quantity.Ampere]
	DesignCase        string                        // which case gave it, in plain words
	AllOn             quantity.Opt[quantity.Ampere] // with everything on at once, where declared conditions give a smaller design current
	Ampacity          quantity.Opt[quantity.Ampere] // after every derating
	AmpacityBasis     string                        // table, class, factors
	Protection        []*circuit.Item               // devices that guard it, from either end
	ProtectionRating  quantity.Opt[quantity.Ampere]
	ProtectionAsks    quantity.Opt[quantity.Ampere] // capacity that its protection asks for: its rating, or more where it opens later than at 1.45 times that, as small gG fuses do
	Resistance        quantity.Opt[quantity.Ohm]    // out and back, at the temperature it runs at; of alternating current the magnitude of its impedance
	DropCurrent       quantity.Opt[quantity.Ampere] // that flows when the drop is reckoned; a cable sized for its protection has less than its design current
	Drop              quantity.Opt[quantity.Volt]
	Cumulative        quantity.Opt[quantity.Volt]    // from the source's terminals to the far end
	CumulativePercent quantity.Opt[quantity.Percent] // of the domain's nominal
	ISOPercent        quantity.Opt[quantity.Percent] // the run alone by the simplified formula; governs nothing
	MilsPercent       quantity.Opt[quantity.Percent] // the same by the American formula, where that set is asked for
	Limit             quantity.Opt[quantity.Percent] // 3 or 10
	FaultMax          quantity.Opt[quantity.Ampere]
	FaultMin          quantity.Opt[quantity.Ampere]
	Withstand         string                                     // "ok", "fails", "not verified": faults against the section; empty where nothing protects it
	Wanting           []string                                   // facts without which Withstand is not verified
	LetsThrough       quantity.Opt[quantity.AmpereSquaredSecond] // as written of its devices, where that is above
	Stands            quantity.AmpereSquaredSecond               // what it stands
	OpensIn           quantity.Opt[quantity.Second]              // longest time in which a device on its way opens at the smallest fault; not known for devices without published times
	OpensAt           quantity.Opt[quantity.Ampere]              // the fault that takes longest to open it: one source alone, or all at once, of which each device sees a share
	OpenedBy          *circuit.Item                              // that device; with StaysShut the smallest on its way
	StaysShut         bool                                       // the smallest fault does not surely open any device on its way
	Vague             *circuit.Item                              // the source whose unwritten resistance leaves the smallest fault unknown
	Limits            []*circuit.Item                            // with no battery behind it: the source that limits the smallest fault
	Needs             quantity.Opt[quantity.SquareMM]            // of a stated size that fails: the smallest that would do, all else as it is
	NeedsParallel     int                                        // conductors a pole of that
	HoldsTo           quantity.Opt[quantity.Metre]               // one-way length up to which its drop keeps the limit
	MostProtection    quantity.Opt[quantity.Ampere]              // largest standard rating of its device that still protects it and carries its current
	Feeds             [2]Feed                                    // what can feed it from its first and from its second end
	Result            string                                     // "ok", "fails", "not verified"
	Missing           []string                                   // facts that a full answer needs
}

// Feed is what can send current into a cable through one of its ends.
type Feed struct {
	Sources  []*circuit.Item               // with every switch closed
	Limited  bool                          // all of them limit their own current
	Limit    quantity.Opt[quantity.Ampere] // the sum of their limits, if limited
	Device   *circuit.Item                 // the protective device on this side, nearest the end
	Distance quantity.Opt[quantity.Metre]  // unprotected length up to it
	Devices  []*circuit.Item               // every device on this side through which current can come, the nearest on each way
	Bare     []*circuit.Item               // of Sources, those from which current comes through no device
	Rating   quantity.Opt[quantity.Ampere] // what these devices, and the limits of the bare limited sources, let through together; not known with a bare source that does not limit itself
	Ahead    []*circuit.Item               // devices that current entering here must pass further on, when every way on has one
	Reach    quantity.Opt[quantity.Metre]  // with Bare and Ahead: length of conductor from the bare sources to the devices ahead
	Onward   quantity.Opt[quantity.Metre]  // with Ahead: length of conductor from this end to the devices ahead
}

// Device is one device's rating, stated or chosen.
type Device struct {
	Of       *circuit.Item
	Rating   quantity.Opt[quantity.Ampere]
	Chosen   bool
	Voltage  quantity.Opt[quantity.Volt] // rated; nil when the text and its class do not say
	Breaks   quantity.Opt[quantity.Ampere]
	NodeMax  quantity.Opt[quantity.Volt]   // highest voltage where it sits
	FaultMax quantity.Opt[quantity.Ampere] // on its worse side
	Current  quantity.Opt[quantity.Ampere] // design current through it
	Protects []*circuit.Cable
	Missing  []string                   // facts that its fault level needs
	Loop     quantity.Opt[quantity.Ohm] // of a mains breaker: the largest loop impedance with which a fault to earth opens it at once
}
