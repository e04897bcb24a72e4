package syntax

import (
	"strings"

	"strake/lang/diag"
)

func form(rule, title, why, bad, good string) diag.Info {
	return diag.Info{Rule: rule, Severity: diag.Error, Title: title, Why: why, Bad: bad, Good: good}
}

// What the form of a text can be blamed for.
var (
	InfoUnreadable = form("unreadable-statement", "a statement that cannot be read",
		"A statement has a fixed order of words. Where one does not fit, nothing of what follows could be trusted, and a guess could hide a missing fuse.",
		"battery B1: 12 V,\n", "battery B1: 12 V\n")
	InfoStray = form("stray-character", "a character that means nothing here",
		"Outside quotes only words, numbers and the marks : , . [ ] { } # \" have a meaning.",
		"battery B1: 12 V &\n", "battery B1: 12 V\n")
	InfoSpelling = form("written-another-way", "a date, a unit, a range or a mark written in another way",
		"Each of these is written in one way, so that 5/11 cannot be May here and November there, and 50 mm not a length for one reader and a section for the next.",
		"battery B1: 12 V\nlamp L1: 10 W\nrun B1 [6 ft] L1\n", "battery B1: 12 V\nlamp L1: 10 W\nrun B1 [1.83 m] L1\n")
	InfoOpenQuote = form("open-quote", "a label without its closing quote",
		"A label begins and ends on one line, so that a forgotten quote cannot swallow the rows below.",
		"battery B1 \"House: 12 V\n", "battery B1 \"House\": 12 V\n")
	InfoDecimalComma = form("decimal-comma", "a comma in a number",
		"A comma separates the members of a list. Were it read as a decimal comma here and as a separator there, 2,5 could be 2.5 or two numbers.",
		"battery B1: 12 V\nlamp L1: 10 W\nrun B1 [2,5 m] L1\n", "battery B1: 12 V\nlamp L1: 10 W\nrun B1 [2.5 m] L1\n")
	InfoSign = form("sign-in-a-row", "a sign that follows a word or number directly",
		"A minus after a blank, a comma or a colon is a sign; elsewhere it could be a range, a difference or part of a name.",
		"place bow: 10-20 degC\nbattery B1 at bow: 12 V\n", "place bow: 20 degC\nbattery B1 at bow: 12 V\n")
	InfoTwoReadings = form("two-readings-of-size", "a size with two readings",
		"2x50 is written for two cables of 50 mm2 in parallel and for one cable of two cores of 50 mm2. The first carries twice the current of the second.",
		"battery B1: 12 V\nlamp L1: 10 W\nrun B1 [4 m 2x50] L1\n", "battery B1: 12 V\nlamp L1: 10 W\nrun B1 [4 m 2 parallel 50 mm2] L1\n")
	InfoBracketNotClosed = form("bracket-not-closed", "a cable without its closing bracket",
		"A pair of brackets is one cable and stands on one line, so that a forgotten bracket cannot swallow the rows below.",
		"battery B1: 12 V\nlamp L1: 10 W\nrun B1 [4 m L1\n", "battery B1: 12 V\nlamp L1: 10 W\nrun B1 [4 m] L1\n")
	InfoBracketStray = form("bracket-not-opened", "a closing bracket without an opening one",
		"A pair of brackets is one cable; half a pair leaves open where the cable begins.",
		"battery B1: 12 V\nlamp L1: 10 W\nrun B1 4 m] L1\n", "battery B1: 12 V\nlamp L1: 10 W\nrun B1 [4 m] L1\n")
	InfoBraceNotClosed = form("brace-not-closed", "braces that are not closed",
		"The rows of a craft or a board end with a closing brace.",
		"board DB1: 100 A {\n    ways 1..6 is fuse: class blade\n    way 1 5 A \"Lamp\" 10 W [3 m]\n", "board DB1: 100 A {\n    ways 1..6 is fuse: class blade\n    way 1 5 A \"Lamp\" 10 W [3 m]\n}\n")
	InfoBraceMissing = form("brace-missing", "rows without their opening brace",
		"The rows of a craft or a board stand in braces.",
		"board DB1: 100 A\n    ways 1..6 is fuse: class blade\n    way 1 5 A \"Lamp\" 10 W [3 m]\n}\n", "board DB1: 100 A {\n    ways 1..6 is fuse: class blade\n    way 1 5 A \"Lamp\" 10 W [3 m]\n}\n")
	InfoBraceStray = form("brace-not-opened", "a brace that belongs to nothing",
		"Braces hold the rows of a craft or a board and nothing else.",
		"battery B1: 12 V\n}\n", "battery B1: 12 V\n")
	InfoStatementInBraces = form("statement-in-braces", "a statement inside braces",
		"Only rows of the craft, or ways of the board, stand in braces.",
		"battery B1: 12 V\nboard DB1: 100 A {\n    run B1 [1 m] DB1\n}\n", "battery B1: 12 V\nboard DB1: 100 A {\n}\nrun B1 [1 m] DB1\n")
	InfoWayOutside = form("way-outside-board", "a way outside a board",
		"A way belongs to the board in whose braces it stands.",
		"way 1 5 A \"Lamp\" 10 W [3 m]\n", "board DB1: 100 A {\n    ways 1..6 is fuse: class blade\n    way 1 5 A \"Lamp\" 10 W [3 m]\n}\n")
	InfoEndsOnNothing = form("cable-ends-on-nothing", "a cable that ends on nothing",
		"A cable ends on a thing, is capped, or is untraced. An end that is not said could be live and loose.",
		"battery B1: 12 V\nplace bow\nrun B1 [4 m]\n", "battery B1: 12 V\nplace bow\nrun B1 [4 m] capped at bow\n")
	InfoNoCable = form("no-cable", "a run without a cable",
		"A run is an end, then a cable in brackets and what it lands on. Bars that are bolted together have [link] between them.",
		"battery B1: 12 V\nlamp L1: 10 W\nrun B1\n", "battery B1: 12 V\nlamp L1: 10 W\nrun B1 [4 m] L1\n")
	InfoNoReference = form("no-reference", "a thing without a reference",
		"Everything that is drawn is called by a reference, on the sheet as on its label.",
		"battery \"House\": 12 V\n", "battery B1 \"House\": 12 V\n")
	InfoReferenceForm = form("reference-form", "a reference that is not a letter with letters and digits",
		"A cable is called by the references at its ends, as F5-M1: a hyphen inside a reference would make that name ambiguous.",
		"battery B-1: 12 V\n", "battery B1: 12 V\n")
	InfoReserved = form("reserved-word", "a reserved word used as a name",
		"Words that open or join statements cannot be names, or a row could be read in two ways.",
		"place on: 40 degC\nbattery B1: 12 V\n", "place deck: 40 degC\nbattery B1 at deck: 12 V\n")
	InfoMisspelt = form("word-misspelt", "a word of the language that is misspelt",
		"Statements are told apart by their words. A word that is almost one of them is asked about and never taken for it.",
		"domian house: dc 12 V\nbattery B1 in house: 12 V\n", "domain house: dc 12 V\nbattery B1 in house: 12 V\n")
	InfoWordMissing = form("word-missing", "a word or mark that is missing",
		"A colon opens properties, in a domain, at a place: without them a name could be any of these.",
		"battery B1 12 V\n", "battery B1: 12 V\n")
	InfoHeadOrder = form("head-order", "a head in another order",
		"Every thing is described in one order, kind, reference, label, domain, place, properties, so that sheets and texts can be read at a glance.",
		"domain house: dc 12 V\nplace bow\nbattery B1 at bow in house: 12 V\n", "domain house: dc 12 V\nplace bow\nbattery B1 in house at bow: 12 V\n")
	InfoLabelMissing = form("label-missing", "a way's load without a label",
		"What a way protects and what it feeds are both numbers; the label stands between them and tells which is which.",
		"board DB1: 100 A {\n    ways 1..6 is fuse: class blade\n    way 1 5 A bilge, 72 W [3 m]\n}\n", "board DB1: 100 A {\n    ways 1..6 is fuse: class blade\n    way 1 5 A \"Pump\" bilge, 72 W [3 m]\n}\n")
	InfoOpeningMissing = form("opening-word-missing", "a statement without the word that opens it",
		"The first word tells what a statement is: power, protective conductors and signals, for one, are drawn and checked differently.",
		"battery B1: 12 V\nB1 [2 m] capped at bow\n", "battery B1: 12 V\nrun B1 [2 m] capped at bow\n")
	InfoMore = form("more-mistakes", "more mistakes than are listed",
		"A file that is not a craft's text at all would otherwise be answered with thousands of findings.",
		strings.Repeat("?.", most+1)+"\n", "battery B1: 12 V\n")
)

// Findings is every kind of finding of this package, for `explain`.
var Findings = []diag.Info{
	InfoUnreadable, InfoStray, InfoSpelling, InfoOpenQuote, InfoDecimalComma, InfoSign, InfoTwoReadings,
	InfoBracketNotClosed, InfoBracketStray, InfoBraceNotClosed, InfoBraceMissing, InfoBraceStray,
	InfoStatementInBraces, InfoWayOutside, InfoEndsOnNothing, InfoNoCable, InfoNoReference,
	InfoReferenceForm, InfoReserved, InfoMisspelt, InfoWordMissing, InfoHeadOrder, InfoLabelMissing, InfoOpeningMissing, InfoMore,
}
