// Package circuit owns the resolved craft: items with their terminals, cables,
// domains, places, status, as plain data with the span of everything that was
// written. It holds no published table and judges nothing; later packages read
// it and do not change it.
//
// Order: every slice is sorted by name (numbers within names by value), never
// by place in the text, so that moving a statement changes nothing but spans.
package circuit

import (
	"math"
	"slices"

	"strake/lang/quantity"
	"strake/lang/source"
)

// System is one craft.
type System struct {
	Craft       Craft
	Domains     []*Domain
	Places      []*Place
	Items       []*Item
	Cables      []*Cable // power: run and ways
	Bonds       []*Cable
	Signals     []*Cable
	Interlocks  []Interlock
	Orders      []Order
	Spots       []Spot
	Conditions  []Condition
	Days        []Day
	Readings    []Reading
	Acceptances []Acceptance
	Assumptions []Assumption
}

// Craft is what the title block and the defaults are made of.
type Craft struct {
	Name     string
	Drawing  string
	Revision string
	Dated    string // as written, 2026-11-20
	Yard     string
	Owner    string
	Drawn    string
	Checked  string
	State    string // design, as-built, draft
	Hull     string // aluminium, steel, grp, wood; empty: not stated
	Water    string
	Service  string // commercial; empty: private
	Rules    string // iso-13297, abyc-e11
	Paper    string // A2, A3, A4; empty: the smallest that fits
	Coldest  Fact[quantity.Celsius]
	Cable    CableSpec // what a cable is unless it says otherwise
	Span     source.Span
}

// Fact is one number of the text. Only a Stated or About one has a value.
type Fact[T ~float64] struct {
	Value T
	State FactState
	Span  source.Span
}

// FactState says how far a number is known.
type FactState int

const (
	Unstated FactState = iota // not written
	Stated
	About   // `about 7 m`
	Unknown // `unknown mm2`: there, but not known
)

// Known tells whether the fact has a value.
func (f Fact[T]) Known() bool { return f.State == Stated || f.State == About }

// aboutShare is how far off a value that is `about` may be.
const aboutShare = 0.2

// Most is the value at the upper end of what `about` leaves open, Least that at
// the lower end.
func (f Fact[T]) Most() T  { return f.within(aboutShare) }
func (f Fact[T]) Least() T { return f.within(-aboutShare) }

func (f Fact[T]) within(share float64) T {
	if f.State != About {
		return f.Value
	}
	return T(float64(f.Value) + float64(math.Abs(float64(f.Value))*share))
}

// Opt is the value, or nothing.
func (f Fact[T]) Opt() quantity.Opt[T] { return quantity.Opt[T]{Value: f.Value, Known: f.Known()} }

// Domain is a kind of voltage. Only cables join items.
type Domain struct {
	Name            string
	Label           string
	AC              bool
	Phases          int // AC: 1 or 3
	Nominal         Fact[quantity.Volt]
	Lowest          Fact[quantity.Volt]
	Highest         Fact[quantity.Volt]
	Frequency       Fact[quantity.Hertz]
	Insulated       bool
	EarthedNegative bool
	Span            source.Span
}

// Place is where things stand.
type Place struct {
	Name        string
	Label       string
	Within      *Place                 // takes its temperature from it
	Temperature Fact[quantity.Celsius] // the highest
	Lowest      Fact[quantity.Celsius]
	Engine      bool
	Outside     bool
	Ventilated  bool
	Wet         bool
	Undeclared  bool // only named by an item; its temperature is the safe default
	Span        source.Span
}

// Status of an item or a cable, from the most to the least finished.
type Status int

const (
	Fitted Status = iota
	ThirdParty
	Prepared
	Owner
	Removed
)

var statusNames = [...]string{"fitted", "third-party", "prepared", "owner", "removed"}

func (s Status) String() string { return statusNames[s] }

// Configuration is one of the two in which a craft is checked.
type Configuration string

const (
	AsHandedOver  Configuration = "as-handed-over" // fitted and third-party
	FullyEquipped Configuration = "fully-equipped" // prepared and owner's too
)

// In tells whether something of this status is there in a configuration.
func (s Status) In(c Configuration) bool {
	if c == FullyEquipped {
		return s != Removed
	}
	return s == Fitted || s == ThirdParty
}

// Kind is a word of the trade: "battery", "fuse", "inverter-charger", …
type Kind string

// Item is one thing of the craft. A way's protective device is an item called
// DB1.3, what it feeds (when it is a load of the way) one called DB1.3.load.
type Item struct {
	Ref        string
	Kind       Kind
	Part       string // name of the part it is, if any
	Label      string
	Status     Status
	Domain     *Domain // stated, or followed along the cables; of a converter see Ports. nil: not known
	DomainSaid bool    // the text states it
	Place      *Place  // nil: not known
	PlaceSaid  bool
	Facts      Facts
	Bank       *Bank       // of a bank
	MemberOf   *Item       // of a bank's member: the bank
	Packs      []*Item     // of a bus: the batteries that gather on it, each through devices of its own; none, or two and more
	Board      *Board      // of a board
	Way        *Way        // of a way's device and of its load
	Ports      []Port      // in the order of the kinds' table; one-ended: a single port with no name
	Span       source.Span // the whole head
	RefSpan    source.Span
	Broken     bool // a finding was made on it: later checks stay silent
}

// Port is a terminal of an item, single-line.
type Port struct {
	Name   string  // "" for a one-ended item; in, out, dc, coil, shore, …
	Domain *Domain // nil: not known
}

// Pole is what part of the single line a cable takes.
type Pole string

const (
	AllPoles Pole = ""
	Positive Pole = "positive"
	Negative Pole = "negative"
	Phase    Pole = "phase"
	Neutral  Pole = "neutral"
)

// End is where a cable ends.
type End struct {
	Item     *Item // nil when capped or untraced
	Port     string
	Pole     Pole
	Contact  int    // stop, switch, float-switch, relay: which contact, from 0
	Capped   *Place // `capped at PLACE`
	Untraced bool
}

// CableSpec is what is said of a conductor apart from its route.
type CableSpec struct {
	Class      int // IEC 60228: 2 or 5; 0: not said
	Tinned     Tri
	Insulation Fact[quantity.Celsius] // temperature class
	Free       bool                   // in free air by itself: no derating for bundling
	Bundled    Fact[quantity.Number]  // cables together
	Conduit    bool
}

// Tri is yes, no, or not said.
type Tri int

const (
	Unsaid Tri = iota
	Yes
	No
)

// Cable is a run between two ends, or a link.
type Cable struct {
	ID       string // F5-M1, DB1.3, or its own reference
	OwnRef   bool
	Verb     string // run, bond, signal
	Action   string // signal: opens, closes, starts, stops, controls, shows
	From, To End
	Written  Status                  // of its statement
	Status   Status                  // the least finished of that and its ends
	Domain   *Domain                 // nil: not known, or two answers
	Link     bool                    // a bar or bolted on: no size, drop or protection duty
	Blank    bool                    // []: nothing is known
	Length   Fact[quantity.Metre]    // one way along the route
	Return   Fact[quantity.Metre]    // the other pole's way, when it differs
	Area     Fact[quantity.SquareMM] // one core
	AWG      string                  // as written after awg: "2", "1/0"; Area is then its section
	Parallel int                     // conductors per pole, 1 or more
	Cores    int                     // of a 3G2.5: 3; 0: single cores
	Protect  bool                    // has a protective conductor
	Through  []*Place
	Colour   string
	Spec     CableSpec   // the craft's line already filled in where the cable is silent
	Way      *Way        // of a way's cable
	Bank     *Item       // of a bank's link: the bank
	Span     source.Span // the bracket; of a bank's link its brackets
}

// Bank is several batteries as one.
type Bank struct {
	Members []*Item  // from positive to negative
	Series  bool     // else in parallel
	Links   []*Cable // between neighbours, links or cables; also in System.Cables
}

// Board is a bar with numbered ways.
type Board struct {
	Ways []*Way // by number, spare ones too
}

// Way of a board. Its device is an item; so is its load when it feeds one of its own.
type Way struct {
	Board  *Item
	Number int
	Label  string
	Device *Item  // nil: the board does not say what protects
	Cable  *Cable // nil: no cable
	Load   *Item  // nil: spare, prepared tail, or lands on a thing
	Status Status
	Spare  bool
	Span   source.Span
}

// Feeds is what a way feeds: its load, or what its cable lands on; nil where that is
// capped.
func (w *Way) Feeds() *Item {
	if w.Load != nil || w.Cable == nil {
		return w.Load
	}
	return w.Cable.To.Item
}

// Interlock is `first never|only with second`.
type Interlock struct {
	First, Second []*Item
	Only          bool  // else never
	By            *Item // nil: a habit
	Enforced      bool  // By is wired so that it can hold them to it; else it counts as a habit
	Span          source.Span
}

// Order is the author's order along a bar, from left to right.
type Order struct {
	Bar   *Item
	Items []*Item
	Span  source.Span
}

// Spot is where an item, or a cable that goes on elsewhere or ends on nothing,
// stood when the drawing was settled: millimetres from the left and the upper
// edge of a sheet.
type Spot struct {
	Item  *Item
	Cable *Cable
	Sheet int
	X, Y  int
	Span  source.Span
}

// Name is how a text calls what stands there.
func (s Spot) Name() string {
	if s.Cable != nil {
		return s.Cable.ID
	}
	return s.Item.Ref
}

// SameSpots tells whether two lists tell places of the same things that lie no
// further apart than so many millimetres.
func SameSpots(a, b []Spot, within int) bool {
	if len(a) != len(b) {
		return false
	}
	for _, s := range a {
		if !slices.ContainsFunc(b, func(o Spot) bool {
			return o.Item == s.Item && o.Cable == s.Cable && o.Sheet == s.Sheet && max(o.X-s.X, s.X-o.X, o.Y-s.Y, s.Y-o.Y) <= within
		}) {
			return false
		}
	}
	return true
}

// Condition is a named operating condition.
type Condition struct {
	Name     string
	Settings []Setting
	Span     source.Span
}

// Setting is what one item does in a condition.
type Setting struct {
	Item      *Item
	Port      string // CO1.shore
	On, Off   bool
	Percent   Fact[quantity.Percent]
	Power     Fact[quantity.Watt]
	Current   Fact[quantity.Ampere]
	Charge    bool   // `INV1 charge 25 A`
	Gives     bool   // `M1 gives 1.5 kW`
	Batteries string // `batteries low|full|nominal`, then Item is nil
	Span      source.Span
}

// Day is a day's sun, or a timetable of conditions.
type Day struct {
	Name  string
	Sun   Fact[quantity.Second]
	Yield Fact[quantity.Percent]
	Parts []DayPart
	Span  source.Span
}

// DayPart is a condition with its hours.
type DayPart struct {
	Condition string
	Times     int
	Length    quantity.Second // of one time
}

// Reading is a measured value.
type Reading struct {
	Cable   *Cable // or
	Item    *Item
	What    string                  // drop, insulation, trip, …
	Value   string                  // as written
	Numbers []Fact[quantity.Number] // of the value, in base units
	Word    string                  // right or wrong
	By      string
	Dated   string
	Span    source.Span
}

// Acceptance is a finding accepted by name.
type Acceptance struct {
	Rule    string
	On      string
	Because string
	By      string
	Dated   string
	Span    source.Span
}

// Assumption is a default that the compiler used.
type Assumption struct {
	On     string // reference, cable, place, or "craft"
	Text   string
	Source string
	Span   source.Span
}

// Judged tells a reading that the checks hold against something.
func (r *Reading) Judged() bool {
	switch r.What {
	case "drop", "insulation", "continuity", "trip", "polarity", "function":
		return true
	}
	return false
}
