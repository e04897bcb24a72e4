package syntax

// The grammar, one participle parser for each form of statement. A choice is
// made on one token, or on a group that looks ahead; so the token that an error
// is laid on is the first that cannot be right.

import (
	"github.com/alecthomas/participle/v2"
	"github.com/alecthomas/participle/v2/lexer"
)

type extent struct {
	Pos, EndPos lexer.Position
}

type gProperty struct {
	extent
	Terms []*gTerm `parser:"@@+"`
}

type gHead struct {
	extent
	Kind   *gName       `parser:"@@"`
	Ref    *gReference  `parser:"@@?"`
	Label  *gLabel      `parser:"@@?"`
	Domain *gName       `parser:"( 'in' @@ )?"`
	Place  *gName       `parser:"( 'at' @@ )?"`
	List   []*gProperty `parser:"( Colon @@ ( Comma @@ )* )?"`
}

type gLanding struct {
	extent
	Status   *gStatus    `parser:"@@?"`
	Capped   *gName      `parser:"( 'capped' 'at' @@"`
	Untraced bool        `parser:"| @'untraced'"`
	Head     *gHead      `parser:"| (?= Word ( Word | String | OpenString | 'in' | 'at' | Colon ) ) @@"`
	Ref      *gReference `parser:"| @@ )"`
}

type gBracket struct {
	extent
	Ref  *gName        `parser:"LBracket ( (?= Word Colon ) @@ Colon )?"`
	List []*gCableWord `parser:"( @@ Comma? )* RBracket"`
}

type gLink struct {
	extent
	Cable  *gBracket `parser:"@@"`
	Action *gWord    `parser:"( (?= 'opens' | 'closes' | 'starts' | 'stops' | 'controls' | 'shows' ) @@ )?"`
	Land   *gLanding `parser:"@@"`
}

// gEnd is what follows a bracket, where a chain is read piece by piece.
type gEnd struct {
	extent
	Action *gWord    `parser:"( (?= 'opens' | 'closes' | 'starts' | 'stops' | 'controls' | 'shows' ) @@ )?"`
	Land   *gLanding `parser:"@@"`
}

// gWayLink may be without a landing: the last cable of a way ends on the load
// that the way itself describes.
type gWayLink struct {
	extent
	Cable *gBracket `parser:"@@"`
	Land  *gLanding `parser:"@@?"`
}

type gCraft struct {
	extent
	Word *gWord  `parser:"(?= 'craft' ) @@"`
	Name *gLabel `parser:"@@"`
	Open bool    `parser:"@LBrace?"`
}

type gCraftRow struct {
	extent
	Key   *gWord       `parser:"@@"`
	List  []*gProperty `parser:"( @@ ( Comma @@ )* )?"`
	Dated *gDate       `parser:"( 'dated' @@ )?"`
}

type gUse struct {
	extent
	Path *gLabel `parser:"'use' @@"`
}

type gDomain struct {
	extent
	Name  *gName       `parser:"'domain' @@"`
	Label *gLabel      `parser:"@@?"`
	List  []*gProperty `parser:"( Colon @@ ( Comma @@ )* )?"`
}

type gPlace struct {
	extent
	Name   *gName       `parser:"'place' @@"`
	Label  *gLabel      `parser:"@@?"`
	Within *gName       `parser:"( 'at' @@ )?"`
	List   []*gProperty `parser:"( Colon @@ ( Comma @@ )* )?"`
}

type gPart struct {
	extent
	Name *gName       `parser:"'part' @@"`
	Kind *gName       `parser:"'is' @@"`
	List []*gProperty `parser:"( Colon @@ ( Comma @@ )* )?"`
}

type gItem struct {
	extent
	Status *gStatus  `parser:"@@?"`
	Head   *gHead    `parser:"@@"`
	Bank   *gBank    `parser:"@@?"`
	Cable  *gBracket `parser:"@@?"`
	Open   bool      `parser:"@LBrace?"`
}

type gBank struct {
	extent
	Members []*gReference `parser:"'is' @@ ( Comma @@ )*"`
	Form    *gName        `parser:"'in' @@"`
	Link    bool          `parser:"( 'each' @'link' )?"`
}

type gWays struct {
	extent
	Status *gStatus     `parser:"@@?"`
	First  *gNumber     `parser:"'ways' @@"`
	Last   *gNumber     `parser:"( Range @@ )?"`
	Kind   *gName       `parser:"'is' @@"`
	List   []*gProperty `parser:"( Colon @@ ( Comma @@ )* )?"`
}

// gWayHead is what of a way stands before its first cable. A bare list begins
// with a number, or with a word and a comma; any other word is a kind.
type gWayHead struct {
	extent
	Status  *gStatus     `parser:"@@?"`
	First   *gNumber     `parser:"'way' @@"`
	Last    *gNumber     `parser:"( Range @@ )?"`
	Protect []*gProtect  `parser:"@@*"`
	Label   *gLabel      `parser:"@@?"`
	Head    *gHead       `parser:"( (?= Word ) (?! Word Comma ) @@"`
	List    []*gProperty `parser:"| (?= Word | Number | 'unknown' | 'about' ) @@ ( Comma @@ )* )?"`
}

type gProtect struct {
	extent
	Taker *gName     `parser:"  (?= 'curve' | 'type' | 'class' ) @@"`
	Taken *gName     `parser:"  @@"`
	Usual *gWord     `parser:"| (?= 'on' | 'off' ) @@"`
	Qty   *gQuantity `parser:"| @@"`
	Pole  *gName     `parser:"  ( (?= 'pole' ) @@ )?"`
}

type gWay struct {
	gWayHead
	Chain []*gWayLink `parser:"@@*"`
}

type gRunHead struct {
	extent
	Status *gStatus  `parser:"@@?"`
	Verb   *gWord    `parser:"(?= 'run' | 'bond' | 'signal' ) @@"`
	Start  *gLanding `parser:"@@"`
}

type gRun struct {
	gRunHead
	Chain []*gLink `parser:"@@+"`
}

type gInterlock struct {
	extent
	First  *gReference `parser:"'interlock' @@"`
	Word   *gName      `parser:"(?= 'never' | 'only' ) @@ 'with'"`
	Second *gReference `parser:"@@"`
	By     *gReference `parser:"( 'by' @@ )?"`
}

type gOrder struct {
	extent
	Bar   *gReference   `parser:"'order' @@ Colon"`
	Items []*gReference `parser:"@@ ( Comma @@ )*"`
}

type gSheet struct {
	extent
	Number *gNumber `parser:"'sheet' @@ 'in' 'mm' Colon"`
	Spots  []*gSpot `parser:"@@ ( Comma @@ )*"`
}

type gSpot struct {
	extent
	Of *gReference `parser:"@@"`
	X  *gNumber    `parser:"@@"`
	Y  *gNumber    `parser:"@@"`
}

type gNamedList struct { // condition and day
	extent
	Word *gWord       `parser:"@@"`
	Name *gLabel      `parser:"@@ Colon"`
	List []*gProperty `parser:"@@ ( Comma @@ )*"`
}

type gCloser struct { // by "JM", dated 2026-11-20
	extent
	By    *gLabel `parser:"  'by' @@"`
	Dated *gDate  `parser:"| 'dated' @@"`
}

type gMeasured struct {
	extent
	Of    *gReference  `parser:"'measured' @@ Colon"`
	List  []*gProperty `parser:"@@ ( Comma @@ )*"`
	Close []*gCloser   `parser:"@@*"`
}

type gAccept struct {
	extent
	Rule    *gName      `parser:"'accept' @@"`
	On      *gReference `parser:"'on' @@"`
	Because *gLabel     `parser:"'because' @@"`
	Close   []*gCloser  `parser:"@@*"`
}

// gAny holds every form that is parsed on its own. Nothing is parsed as this: it
// is there for the forms to be built together, as they share most of their parts
// and each run of the compiler pays for building them.
type gAny struct {
	Craft     *gCraft     `parser:"  @@"`
	CraftRow  *gCraftRow  `parser:"| @@"`
	Use       *gUse       `parser:"| @@"`
	Domain    *gDomain    `parser:"| @@"`
	Place     *gPlace     `parser:"| @@"`
	Part      *gPart      `parser:"| @@"`
	Item      *gItem      `parser:"| @@"`
	Ways      *gWays      `parser:"| @@"`
	Way       *gWay       `parser:"| @@"`
	WayHead   *gWayHead   `parser:"| @@"`
	Run       *gRun       `parser:"| @@"`
	RunHead   *gRunHead   `parser:"| @@"`
	Bracket   *gBracket   `parser:"| @@"`
	End       *gEnd       `parser:"| @@"`
	Interlock *gInterlock `parser:"| @@"`
	Order     *gOrder     `parser:"| @@"`
	Sheet     *gSheet     `parser:"| @@"`
	NamedList *gNamedList `parser:"| @@"`
	Measured  *gMeasured  `parser:"| @@"`
	Accept    *gAccept    `parser:"| @@"`
}

var anyGrammar = participle.MustBuild[gAny](
	participle.Lexer(definition{symbols}),
	participle.Elide("Blank", "Newline", "Comment"),
	participle.UseLookahead(0),
)

// production is the parser for one of the forms.
func production[T any]() *participle.Parser[T] {
	p, err := participle.ParserForProduction[T](anyGrammar)
	if err != nil {
		panic(err) // the form is missing from gAny: a programmer's mistake
	}
	return p
}
