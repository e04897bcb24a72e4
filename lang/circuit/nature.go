package circuit

// Nature is what a kind is electrically: what the walk over the circuit and
// the choices of size and rule need to know, and the text's table of kinds
// builds upon.
type Nature struct {
	Ends       Ends
	Source     bool // gives current by itself: battery, inlet, generator, array …
	Stores     bool // a source that is charged: a battery or a bank of them
	Load       bool // takes power
	Converts   bool // its ports lie in domains of their own; its output is a source of its own
	Limited    bool // its output limits its own current
	Protects   bool // opens by itself on overcurrent
	Residual   bool // opens by itself on a residual current
	Opens      bool // a person or a signal can open it
	Contacts   bool // each further run through it takes a contact of its own
	Conductive bool // a bar, a bolt: passing it lands both cables on its terminal
}

// Ends says how power meets a kind.
type Ends int

const (
	OneEnd   Ends = iota // a single terminal without a name
	TwoEnds              // in and out
	ManyEnds             // ports by name: changeover, inverter-charger
)

// natures holds every kind that the language knows.
var natures = map[Kind]Nature{
	"battery":            {Source: true, Stores: true},
	"bank":               {Source: true, Stores: true},
	"bus":                {Conductive: true},
	"stud":               {Conductive: true},
	"isolator":           {Ends: TwoEnds, Opens: true},
	"changeover":         {Ends: ManyEnds, Opens: true},
	"contactor":          {Ends: TwoEnds, Opens: true},
	"switch":             {Ends: TwoEnds, Opens: true, Contacts: true},
	"float-switch":       {Ends: TwoEnds, Opens: true, Contacts: true},
	"fuse":               {Ends: TwoEnds, Protects: true, Opens: true},
	"breaker":            {Ends: TwoEnds, Protects: true, Opens: true},
	"rcd":                {Ends: TwoEnds, Residual: true, Opens: true},
	"rcbo":               {Ends: TwoEnds, Protects: true, Residual: true, Opens: true},
	"shunt":              {Ends: TwoEnds},
	"board":              {Conductive: true},
	"converter":          {Ends: TwoEnds, Converts: true, Limited: true},
	"inverter":           {Ends: TwoEnds, Converts: true, Limited: true},
	"charger":            {Ends: TwoEnds, Converts: true, Limited: true},
	"inverter-charger":   {Ends: ManyEnds, Converts: true, Limited: true},
	"regulator":          {Ends: TwoEnds, Converts: true, Limited: true},
	"array":              {Source: true, Limited: true},
	"alternator":         {Source: true},
	"generator":          {Source: true},
	"source":             {Source: true},
	"inlet":              {Source: true},
	"transformer":        {Ends: TwoEnds, Converts: true},
	"galvanic-isolator":  {Ends: TwoEnds},
	"controller":         {Ends: TwoEnds},
	"motor":              {Load: true},
	"thruster":           {Load: true},
	"starter":            {Load: true},
	"pump":               {Load: true},
	"load":               {Load: true},
	"socket":             {Load: true},
	"lamp":               {Load: true},
	"meter":              {},
	"panel":              {},
	"bms":                {},
	"earth":              {},
	"stop":               {Ends: TwoEnds, Opens: true, Contacts: true},
	"insulation-monitor": {},
	"relay":              {Ends: TwoEnds, Opens: true, Contacts: true},
}

// NatureOf is the nature of a kind; of a word that is no kind, the zero Nature.
func NatureOf(k Kind) Nature { return natures[k] }

// Nature is the nature of the item's kind.
func (it *Item) Nature() Nature { return natures[it.Kind] }
