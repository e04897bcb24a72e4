// Package syntax owns the form of the text: tokens, the grammar, the tree with
// the span of every node, and the canonical layout that tidy prints. It knows
// which words open a statement and how heads, brackets and lists are built; it
// does not know what a kind or a property means. It alone imports participle.
package syntax

import "strake/lang/source"

// File is the tree of one text. Statements that could not be read are missing
// from it; a finding stands for each.
type File struct {
	Source     *source.File
	Statements []Statement
	Unread     []Word // words that stand where nothing could be read: a name that seems missing may be one of them
}

// Word is a name, a kind, a unit or a statement word, as written.
type Word struct {
	Text string
	Span source.Span
}

// Label is a quoted text, without its quotes.
type Label struct {
	Text string
	Span source.Span
}

// Statement is one of: *Craft, *Use, *Domain, *Place, *Part, *Item, *Run,
// *Interlock, *Order, *Sheet, *Condition, *Day, *Measured, *Accept.
type Statement interface{ At() source.Span }

// Craft is `craft "Name" { … }`; each row is a key and its list:
// `cable class 5, tinned, 105 degC, free` is the key `cable` and four properties.
type Craft struct {
	Span source.Span
	Word Word
	Name Label
	Rows []CraftRow
}

// CraftRow is one row of the craft's braces. Dated is `dated 2026-11-20` at its end.
type CraftRow struct {
	Span  source.Span
	Key   Word
	List  []Property
	Dated *Word
}

// Use is `use "shelf.strake"`.
type Use struct {
	Span source.Span
	Path Label
}

// Domain is `domain drive: dc 48 V, 44 V to 58.4 V, insulated`.
type Domain struct {
	Span  source.Span
	Name  Word
	Label *Label
	List  []Property
}

// Place is `place ac-box "AC box" at cupboard: 40 degC`.
type Place struct {
	Span   source.Span
	Name   Word
	Label  *Label
	Within *Word
	List   []Property
}

// Part is `part class-t is fuse: class t, 125 V`.
type Part struct {
	Span source.Span
	Name Word
	Kind Word
	List []Property
}

// Item is a head that stands alone, with what may follow it: a bank's members
// and link, a board's rows.
type Item struct {
	Span   source.Span
	Status *Word
	Head   Head
	Bank   *Bank
	Cable  *Bracket // bank only: the link between members
	Rows   []Row    // board only
	Braces bool     // the item had braces, even empty ones
}

// Head is `KIND REF "Label" in DOMAIN at PLACE: property, property`.
// Kind may be a part's name. In a way the reference may be missing.
type Head struct {
	Span   source.Span
	Kind   Word
	Ref    *Reference
	Label  *Label
	Domain *Word
	Place  *Word
	List   []Property
}

// Reference is `F5`, `BP1..BP3`, `INV1.dc`, `K1..K2.coil`, `DB1.3`, `DB1.3..5`.
type Reference struct {
	Span  source.Span
	First Word
	Last  *Word // BP3 of BP1..BP3
	Port  *Word // after the dot: a port, a pole, or a way's number
	Port2 *Word // second word after a second dot: DB1.3.load
	To    *Word // last way of a range of ways: 5 of DB1.3..5
}

// Bank is `is W1..W2 in series each link`.
type Bank struct {
	Span    source.Span
	Members []Reference // usually one range
	Form    Word        // series or parallel
	Link    bool        // "each link"
}

// Row is one row of a board's braces.
// `ways 1..12 is fuse: class blade` fills Ways; `way 3 10 A "Label" … [2 m] …` fills Way.
type Row struct {
	Span   source.Span
	Status *Word
	Ways   *Ways
	Way    *Way
}

// Ways is `ways 1..12 is KIND: list`.
type Ways struct {
	First, Last Word
	Kind        Word
	List        []Property
}

// Way is one way: number or range, what protects (plain numbers before the
// label), label, what is fed (a head, or a bare list of a load's properties),
// then the cable and what it lands on.
type Way struct {
	First   Word
	Last    *Word
	Protect []Property
	Label   *Label
	Head    *Head      // `lamp at mast: 48 W`, usually without a reference
	List    []Property // bare list: `30 W`
	Chain   []Link
}

// Run is `run`, `bond` or `signal`: an end, then cable and landing by turns.
type Run struct {
	Span   source.Span
	Status *Word
	Verb   Word // run, bond or signal
	Start  Landing
	Chain  []Link
}

// Link is one cable and what it lands on. Action is a signal's verb before its
// end (opens, closes, starts, stops, controls, shows).
type Link struct {
	Cable  Bracket
	Action *Word
	Land   Landing
}

// Bracket is a cable: `[W12: 4.2 m 50 mm2 through engine-space]`.
type Bracket struct {
	Span   source.Span
	Ref    *Word
	List   []Property // commas are optional: each property is one cable word with its numbers
	Broken bool       // it could not be read; a finding says so
}

// Landing is what a cable starts or ends on: one of the fields is set. After a
// way's last cable none is, and the span is zero: the way's own load is there.
type Landing struct {
	Span     source.Span
	Status   *Word
	Head     *Head      // a thing described in place
	Ref      *Reference // a thing described elsewhere
	Board    *Head      // of Ref: the head of a board that this run describes in place
	Capped   *Word      // the place of `capped at PLACE`
	Untraced bool
	Broken   bool // it could not be read; a finding says so
}

// Interlock is `interlock CV1 never with CV2 by KR1`.
type Interlock struct {
	Span   source.Span
	First  Reference
	Word   Word // never or only
	Second Reference
	By     *Reference
}

// Order is `order PB: F5, F7, Q1`.
type Order struct {
	Span  source.Span
	Bar   Reference
	Items []Reference
}

// Sheet is `sheet 1 in mm: PB 40 60, F5 45 62`.
type Sheet struct {
	Span   source.Span
	Number Word
	Spots  []Spot
}

// Spot is where something stands on a sheet.
type Spot struct {
	Span source.Span
	Of   Reference
	X, Y Word
}

// Condition is `condition "Survey line": M1 60 %, DB1 on`.
type Condition struct {
	Span source.Span
	Name Label
	List []Property
}

// Day is `day "December": sun 0.5 h, yield 75 %`.
type Day struct {
	Span source.Span
	Name Label
	List []Property
}

// Measured is `measured F5-M1: drop 0.4 V at 200 A by "JM" dated 2026-11-20`.
type Measured struct {
	Span  source.Span
	Of    Reference // or a cable's name, F5-M1, as one word in First
	List  []Property
	By    *Label
	Dated *Word
}

// Accept is `accept RULE on REF because "…" by "JM" dated 2026-11-02`.
type Accept struct {
	Span    source.Span
	Rule    Word
	On      Reference
	Because Label
	By      *Label
	Dated   *Word
}

// Property is one member of a list, as a row of terms: `discharge 100 A`,
// `class t`, `230 A for 3 min every 30 min`, `neutral earthed when inverting`.
type Property struct {
	Span  source.Span
	Terms []Term
}

// Term is a word, a quantity or a quoted text; exactly one field is set.
type Term struct {
	Span  source.Span
	Word  *Reference // words and references alike: `class`, `M1`, `DB1.3`, `F5-M1`, `CO1.shore`
	Qty   *Quantity
	Label *Label
	Date  *Word
	Cores *Cores
}

// Quantity is a number with its unit: `4.2 m`, `about 7 m`, `unknown mm2`, `-0.27 %/K`, `2`.
type Quantity struct {
	Span    source.Span
	Number  string // as written, with its sign; empty when unknown
	Unit    *Word  // nil: a plain number
	About   bool
	Unknown bool
}

// Cores is `3G2.5` or `2X2.5`: count, with or without a protective conductor, area.
type Cores struct {
	Span    source.Span
	Count   string
	Protect bool // G
	Area    string
}

func (s *Craft) At() source.Span     { return s.Span }
func (s *Use) At() source.Span       { return s.Span }
func (s *Domain) At() source.Span    { return s.Span }
func (s *Place) At() source.Span     { return s.Span }
func (s *Part) At() source.Span      { return s.Span }
func (s *Item) At() source.Span      { return s.Span }
func (s *Run) At() source.Span       { return s.Span }
func (s *Interlock) At() source.Span { return s.Span }
func (s *Order) At() source.Span     { return s.Span }
func (s *Sheet) At() source.Span     { return s.Span }
func (s *Condition) At() source.Span { return s.Span }
func (s *Day) At() source.Span       { return s.Span }
func (s *Measured) At() source.Span  { return s.Span }
func (s *Accept) At() source.Span    { return s.Span }
