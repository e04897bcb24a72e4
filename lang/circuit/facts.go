package circuit

import (
	"time"

	"strake/lang/quantity"
)

// Facts is everything that properties can say of an item. Which kind takes
// which, and what a plain number means for it, stands in resolve's table.
type Facts struct {
	Voltage    Fact[quantity.Volt]       // rated, or a battery's nominal
	Current    Fact[quantity.Ampere]     // rating
	Power      Fact[quantity.Watt]       // load, array module, motor (electrical), generator
	Apparent   Fact[quantity.VoltAmpere] // inverter, transformer, generator
	Input      Fact[quantity.Ampere]     // `input 20 A`
	InputVolt  Fact[quantity.Volt]       // `input 24 V`
	Poles      int                       // 0: not said
	InNegative bool

	// batteries
	Chemistry     string // lfp, agm, gel, flooded
	Capacity      Fact[quantity.AmpereHour]
	Resistance    Fact[quantity.Ohm]
	Discharge     Fact[quantity.Ampere]
	Charge        Fact[quantity.Ampere] // a battery's limit; a charger's or inverter-charger's output
	ShortCircuit  Fact[quantity.Ampere] // declared
	Usable        Fact[quantity.Percent]
	Cranking      Fact[quantity.Ampere] // cold cranking current
	SeriesAllowed bool                  // the maker permits series use
	MayDisconnect bool
	DeadPins      bool // an inlet whose pins are dead while nothing is plugged in

	// protection and switching
	Class      string // fuse: t, blade, strip, bolt, nh, gpv, gg, …
	Breaks     Fact[quantity.Ampere]
	LetThrough Fact[quantity.AmpereSquaredSecond]
	Holder     Fact[quantity.Volt]
	Curve      string                // b, c, d
	RCDType    string                // ac, a, f, b
	Trip       Fact[quantity.Ampere] // residual: 30 mA
	LoadBreak  Tri
	Polarised  Tri
	BothWays   bool
	MakeFirst  Tri      // make before break: Yes; break before make: No
	NoOff      bool     // changeover without an off position
	Positions  []string // changeover
	UsualOff   bool     // `off`
	UsualOn    bool     // `on`
	Usually    string   // changeover: usually shore
	Coil       Fact[quantity.Volt]
	CoilAmps   Fact[quantity.Ampere]
	Precharge  bool
	Terminals  Fact[quantity.Celsius]

	// conversion
	Efficiency           Fact[quantity.Number]
	Idle                 Fact[quantity.Watt] // of its input, with nothing on its output
	Isolated             bool
	OneWay               bool
	Transfer             Fact[quantity.Ampere]
	NeutralEarthed       bool
	NeutralWhenInverting bool
	NeutralFloating      bool
	PowerFactor          Fact[quantity.Number]

	// solar
	Voc        Fact[quantity.Volt]
	VocRelK    Fact[quantity.PerCentK]
	VocAbsK    Fact[quantity.VoltPerK]
	Isc        Fact[quantity.Ampere]
	ModuleFuse Fact[quantity.Ampere]
	InSeries   int // modules or members; 0: not said
	InParallel int

	// loads
	Peak        Fact[quantity.Ampere]
	PeakPower   Fact[quantity.Watt]
	PeakFor     time.Duration
	PeakEvery   time.Duration
	Start       Fact[quantity.Ampere]
	HoursPerDay Fact[quantity.Second]
	Regenerates Fact[quantity.Watt]
	Bilge       bool
	OnHull      bool // an earth that is a point of the hull
	Navigation  bool
	Critical    bool
	MustBeLive  bool
	Blower      bool
	Automatic   bool // a bilge pump that starts by itself
	Manual      bool
}

// Essential tells what must not go dark: what the text calls critical, navigation
// lights, bilge pumps.
func (f Facts) Essential() bool { return f.Critical || f.Navigation || f.Bilge }
