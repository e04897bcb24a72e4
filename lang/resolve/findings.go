package resolve

import "strake/lang/diag"

// Findings is every kind of finding that this package makes, in the order of
// the reference: names, properties, cables, boards and banks, the rest.
var Findings = []diag.Info{
	unknownKind, unknownName, unknownDomain, unknownPlace, placeNotDeclared, doubleName, namesDifferByCase, kindAsName, nameNotUsed, notAPart, badRange,
	unknownProperty, unknownValue, valueMissing, unitMissing, unknownUnit, wrongUnit, impossibleNumber, saidTwice,
	secondCraft, unknownCraftRow, placeInItself,
	sideNotSaid, contactNotSaid, unknownPort, converterBackwards, runGoesOn, runOnPole, unlikeRanges, joinsItself, doubleCableName, linkWithSize, actionOffSignal,
	rowsOffBoard, noSuchWay, doubleWay, wayHasCable, wayUnguarded, wayWithoutCable, wayFeedsTwice, notADevice,
	bankWithoutMembers, membersOffBank, notAMember,
	interlockedWithItself, notABar, notOnSheet, unknownSetting, acceptanceUnsigned,
}

// form is a finding on the form of the text: without a cure it has no single meaning.
func formError(rule, title, why, bad, good string) diag.Info {
	return diag.Info{Rule: rule, Severity: diag.Error, Title: title, Why: why, Bad: bad, Good: good}
}

var (
	unknownKind = formError("unknown-kind", "a word that is no kind",
		"What a thing is decides how it is drawn, what its numbers mean and what is checked of it.",
		"fuze F1: 10 A\n", "fuse F1: 10 A\n")
	unknownName = formError("unknown-name", "a name that nothing has",
		"A cable that ends on a name without a thing ends nowhere. Every reference is described once, in a line of its own or in place in a run.",
		"battery B1: 12 V\nrun B1 [1 m] F1.in\n", "battery B1: 12 V\nfuse F1: 10 A\nrun B1 [1 m] F1.in\n")
	unknownDomain = formError("unknown-domain", "a domain that is not declared",
		"What voltage a thing must stand is read from its domain.",
		"bus PB in drive: 400 A\n", "domain drive: dc 48 V, 44 V to 58.4 V\nbus PB in drive: 400 A\n")
	unknownPlace = formError("unknown-place", "a place that looks misspelt",
		"A misspelt place would be a new one, at a temperature that nobody stated.",
		"place engine-space: 50 degC\nbus PB at engine-spce: 400 A\nbus PC at engine-space: 400 A\n", "place engine-space: 50 degC\nbus PB at engine-space: 400 A\n")
	placeNotDeclared = diag.Info{Rule: "place-not-declared", Severity: diag.Advice, Title: "a place that is named and not declared",
		Why: "How hot a place is decides what its cables carry. Where the other places are declared, one that is not may be forgotten or misspelt, and it counts at 40 °C.",
		Bad: "place bow: 30 degC\nlamp L1 at bow: 10 W\nlamp L2 at mast: 10 W\n", Good: "place bow: 30 degC\nplace mast: outside\nlamp L1 at bow: 10 W\nlamp L2 at mast: 10 W\n"}
	doubleName = formError("double-name", "one name for two things",
		"What is written of the name could belong to either.",
		"fuse F1: 10 A\nfuse F1: 20 A\n", "fuse F1: 10 A\nfuse F2: 20 A\n")
	namesDifferByCase = formError("names-differ-by-case", "two names that differ by case alone",
		"On a label and in speech they are one name.",
		"fuse F1: 10 A\nfuse f1: 20 A\n", "fuse F1: 10 A\nfuse F2: 20 A\n")
	kindAsName = formError("kind-as-name", "a kind used as a name",
		"A line that begins with the name could be read as one that describes such a thing.",
		"part fuse is fuse: class t\nfuse F1: 10 A\n", "part class-t is fuse: class t\nclass-t F1: 10 A\n")
	nameNotUsed = diag.Info{Rule: "name-not-used", Severity: diag.Advice, Title: "a domain, place or part that nothing uses",
		Why: "A name that is declared and not used is often a misspelt one elsewhere.",
		Bad: "place bow: 30 degC\nlamp L1: 10 W\n", Good: "place bow: 30 degC\nlamp L1 at bow: 10 W\n"}
	notAPart = formError("not-a-part", "something other than parts in a shelf file",
		"What a craft is made of stands in the craft's own file, where the next person looks for it.",
		"use \"shelf.strake\"\nbattery B1: 12 V\n", "battery B1: 12 V\n")
	badRange = formError("bad-range", "a range that cannot be",
		"A range stands for things numbered one after the other under one prefix, upwards.",
		"fuse F3..F1: 10 A\n", "fuse F1..F3: 10 A\n")

	unknownProperty = formError("unknown-property", "a property that the kind does not have",
		"A property that nothing reads would look like a fact that was checked.",
		"fuse F1: 10 A, colour red\n", "fuse F1: 10 A, class t\n")
	unknownValue = formError("unknown-value", "a word that the property does not know",
		"The checks know what each of the listed words means, and no others.",
		"fuse F1: 10 A, class q\n", "fuse F1: 10 A, class t\n")
	valueMissing = formError("value-missing", "a property without its value",
		"A property that says nothing is a fact that somebody meant to fill in.",
		"fuse F1: 10 A, breaks\n", "fuse F1: 10 A, breaks 10 kA\n")
	unitMissing = formError("unit-missing", "a number without its unit",
		"A bare 50 could be a rating, a voltage or a length; units are always written.",
		"fuse F1: 10\n", "fuse F1: 10 A\n")
	unknownUnit = formError("unknown-unit", "a word that is no unit",
		"Units are written one way each, and their prefixes count: mA is not MA.",
		"fuse F1: 10 Ax\n", "fuse F1: 10 A\n")
	wrongUnit = formError("wrong-unit", "a number in a unit that does not belong here",
		"The unit says what a number means. One that does not fit means that another property was meant.",
		"fuse F1: 10 m\n", "fuse F1: 10 A\n")
	impossibleNumber = formError("impossible-number", "a number that cannot be",
		"Zero, negative and absurd numbers are slips of the pen; a sum made from one is worse than none.",
		"fuse F1: 0 A\n", "fuse F1: 10 A\n")
	saidTwice = formError("said-twice", "one thing stated twice",
		"Of two statements one is wrong, and nobody can tell which.",
		"fuse F1: 10 A, 20 A\n", "fuse F1: 10 A\n")

	secondCraft = formError("second-craft", "two craft in one text",
		"One text is one craft.",
		"craft \"A\" {\n}\ncraft \"B\" {\n}\n", "craft \"A\" {\n}\n")
	unknownCraftRow = formError("unknown-craft-row", "a row that the craft does not have",
		"The craft's rows fill the title block and set the defaults of the checks.",
		"craft \"A\" {\n    colour blue\n}\n", "craft \"A\" {\n    hull steel\n}\n")
	placeInItself = formError("place-in-itself", "a place inside itself",
		"A place takes its temperature from the one around it; a ring of places has none.",
		"place a at b\nplace b at a\nlamp L1 at a: 10 W\n", "place a at b\nplace b\nlamp L1 at a: 10 W\n")

	sideNotSaid = formError("side-not-said", "a run that does not say on which side of a thing it ends",
		"Which side of an isolator a cable lands on decides whether opening it makes the cable dead.",
		"battery B1: 12 V\nisolator Q1: 100 A\nrun B1 [1 m] Q1\n", "battery B1: 12 V\nisolator Q1: 100 A\nrun B1 [1 m] Q1.in\n")
	contactNotSaid = formError("contact-not-said", "a cable on one side of a thing that has several contacts",
		"Each run through a stop, a switch, a float switch or a relay takes a contact of its own. What joins one of them at its terminal is live or dead with that one, and the text has to say with which.",
		"bus PB: 100 A\nlamp L1..L3: 10 W\nrun PB [1 m] switch S1: 10 A [1 m] L1\nrun PB [W1: 1 m] S1 [1 m] L2\nrun S1.out [1 m] L3\n",
		"bus PB: 100 A\nlamp L1..L3: 10 W\nrun PB [1 m] switch S1: 10 A [1 m] L1\nrun PB [W1: 1 m] S1 [link] stud X1: 10 A [1 m] L2\nrun X1 [1 m] L3\n")
	unknownPort = formError("unknown-port", "a port that the thing does not have",
		"A cable on a terminal that is not there cannot be drawn, followed or checked.",
		"battery B1: 12 V\nisolator Q1: 100 A\nrun B1 [1 m] Q1.top\n", "battery B1: 12 V\nisolator Q1: 100 A\nrun B1 [1 m] Q1.in\n")
	converterBackwards = formError("converter-entered-backwards", "a converter entered from the wrong side",
		"A run passes a thing from its input to its output. Power that would come out of a charger's input does not.",
		"domain mains: ac 230 V\nbattery B1: 12 V\nbus ACB in mains: 16 A\nrun B1 [1 m] charger CH1: 12 V, 8 A [1 m] ACB\n",
		"domain mains: ac 230 V\nbattery B1: 12 V\nbus ACB in mains: 16 A\nrun ACB [1 m] charger CH1: 12 V, 8 A [1 m] B1\n")
	runGoesOn = formError("run-goes-on-after-its-end", "a run that goes on where it ends",
		"A named port, a cap and an untraced end each close a run.",
		"battery B1: 12 V\nbus PB: 100 A\nisolator Q1: 100 A\nrun B1 [1 m] Q1.in [1 m] PB\n",
		"battery B1: 12 V\nbus PB: 100 A\nisolator Q1: 100 A\nrun B1 [1 m] Q1 [1 m] PB\n")
	runOnPole = formError("run-on-a-pole", "a run that names a pole",
		"A run carries both poles of a pair, or all cores of a cable: positive meets positive at both of its ends. What a run on one pole alone joins has no single meaning, and could be a dead short.",
		"battery B1: 12 V\nbus PB: 100 A\nrun B1.negative [1 m] fuse F1: 10 A [1 m] PB\n",
		"battery B1: 12 V\nbus PB: 100 A\nrun B1 [1 m] fuse F1: 10 A, in negative [1 m] PB\n")
	unlikeRanges = formError("ranges-of-unlike-length", "two ranges of unlike length",
		"Ranges of one length are walked in step, and a single thing gathers or spreads; which of three lands on which of two is not said.",
		"battery B1..B3: 12 V\nfuse F1..F2: 10 A\nbus PB: 100 A\nrun B1..B3 [1 m] F1..F2 [1 m] PB\n",
		"battery B1..B3: 12 V\nfuse F1..F3: 10 A\nbus PB: 100 A\nrun B1..B3 [1 m] F1..F3 [1 m] PB\n")
	joinsItself = formError("cable-joins-itself", "a cable with both ends on one terminal",
		"It carries nothing; another name was meant.",
		"bus PB: 100 A\nrun PB [1 m] PB\n", "bus PB: 100 A\nbus PC: 100 A\nrun PB [1 m] PC\n")
	doubleCableName = formError("double-cable-name", "two cables of one name",
		"A cable is called by the things at its ends; two between the same things need references of their own.",
		"battery B1: 12 V\nbus PB: 100 A\nrun B1 [1 m] PB\nrun B1 [2 m] PB\n",
		"battery B1: 12 V\nbus PB: 100 A\nrun B1 [1 m] PB\nrun B1 [W1: 2 m] PB\n")
	linkWithSize = formError("link-with-size", "a link with a length or a size",
		"A link is a bar or a bolted joint and is not checked as a cable; what has a length is a cable and is.",
		"battery B1: 12 V\nbus PB: 100 A\nrun B1 [link 1 m] PB\n", "battery B1: 12 V\nbus PB: 100 A\nrun B1 [link] PB\n")
	actionOffSignal = formError("action-off-signal", "a power cable or a bond that is said to act",
		"Opening, starting and controlling are what a control cable does.",
		"panel P1\nmotor M1: 1 kW\nrun P1 [1 m] controls M1\n", "panel P1\nmotor M1: 1 kW\nsignal P1 [1 m] controls M1\n")

	rowsOffBoard = formError("rows-off-board", "ways in something that is no board",
		"Only a board has ways.",
		"bus PB: 100 A {\n    ways 1..4 is fuse: class blade\n}\n", "board PB: 100 A {\n    ways 1..4 is fuse: class blade\n}\n")
	noSuchWay = formError("no-such-way", "a way that the board does not have",
		"A cable on a way that is not there has nowhere to land.",
		"board DB1: 100 A {\n    ways 1..4 is fuse: class blade\n    way 5 10 A \"Lamp\" 5 W [1 m]\n}\n",
		"board DB1: 100 A {\n    ways 1..5 is fuse: class blade\n    way 5 10 A \"Lamp\" 5 W [1 m]\n}\n")
	doubleWay = formError("double-way", "a way that is described twice",
		"A way has one device, one label and one cable.",
		"board DB1: 100 A {\n    ways 1..4 is fuse: class blade\n    way 1 10 A \"Lamp\" 5 W [1 m]\n    way 1 5 A \"Fan\" 9 W [1 m]\n}\n",
		"board DB1: 100 A {\n    ways 1..4 is fuse: class blade\n    way 1 10 A \"Lamp\" 5 W [1 m]\n    way 2 5 A \"Fan\" 9 W [1 m]\n}\n")
	wayHasCable = formError("way-has-a-cable", "a second cable on a way",
		"Two cables under one screw come loose, and one device then guards both.",
		"board DB1: 100 A {\n    ways 1..4 is fuse: class blade\n    way 1 10 A \"Lamp\" 5 W [1 m]\n}\nlamp L1: 5 W\nrun DB1.1 [1 m] L1\n",
		"board DB1: 100 A {\n    ways 1..4 is fuse: class blade\n    way 1 10 A \"Lamp\" 5 W [1 m]\n}\nlamp L1: 5 W\nrun DB1.2 [1 m] L1\n")
	wayUnguarded = formError("way-without-device", "a rating on a way whose device is not known",
		"A rating is a fuse's or a breaker's; the board's row `ways` says which.",
		"board DB1: 100 A {\n    way 1 10 A \"Lamp\" 5 W [1 m]\n}\n",
		"board DB1: 100 A {\n    ways 1..4 is fuse: class blade\n    way 1 10 A \"Lamp\" 5 W [1 m]\n}\n")
	wayWithoutCable = formError("way-without-cable", "a way that feeds something without a cable",
		"A load that nothing joins to its way is not fed.",
		"board DB1: 100 A {\n    ways 1..4 is fuse: class blade\n    way 1 10 A \"Lamp\" 5 W\n}\n",
		"board DB1: 100 A {\n    ways 1..4 is fuse: class blade\n    way 1 10 A \"Lamp\" 5 W []\n}\n")
	wayFeedsTwice = formError("way-feeds-twice", "a way that feeds a load and lands elsewhere",
		"A way whose cable lands on a thing feeds that thing and has no load of its own.",
		"fuse F1: 5 A\nboard DB1: 100 A {\n    ways 1..4 is fuse: class blade\n    way 1 10 A \"Lamp\" 5 W [1 m] F1.in\n}\n",
		"fuse F1: 5 A\nboard DB1: 100 A {\n    ways 1..4 is fuse: class blade\n    way 1 10 A \"Lamp\" [1 m] F1.in\n}\n")
	notADevice = formError("not-a-way-device", "ways made of something that power does not pass",
		"Between a board's bar and a way's cable stands a device that power passes, such as a fuse or a breaker.",
		"board DB1: 100 A {\n    ways 1..4 is lamp\n}\n", "board DB1: 100 A {\n    ways 1..4 is fuse: class blade\n}\n")

	bankWithoutMembers = formError("bank-without-members", "a bank of no batteries",
		"A bank's voltage, capacity and short-circuit current come from its members.",
		"bank B1\n", "battery B2: 12 V\nbattery B3: 12 V\nbank B1 is B2..B3 in series\n")
	membersOffBank = formError("members-off-bank", "members of something that is no bank",
		"Only batteries make something else, and that is a bank.",
		"battery B2..B3: 12 V\nbus B1 is B2..B3 in series\n", "battery B2..B3: 12 V\nbank B1 is B2..B3 in series\n")
	notAMember = formError("not-a-member", "a thing that cannot be a member of a bank",
		"A bank is made of batteries, or of banks, each in one bank alone; it stands in a domain, its members in none.",
		"battery B2: 12 V\nfuse F1: 10 A\nbank B1 is B2, F1 in series\n", "battery B2..B3: 12 V\nbank B1 is B2..B3 in series\n")

	interlockedWithItself = formError("interlocked-with-itself", "a thing interlocked with itself",
		"It would never run.",
		"motor M1: 1 kW\ninterlock M1 never with M1\n", "motor M1..M2: 1 kW\ninterlock M1 never with M2\n")
	notABar = formError("not-a-bar", "an order along something that is no bar",
		"Things stand in an order along a bar.",
		"fuse F1..F2: 10 A\norder F1: F2\n", "bus PB: 100 A\nfuse F1..F2: 10 A\norder PB: F2, F1\n")
	notOnSheet = diag.Info{Rule: "not-on-the-sheet", Severity: diag.Advice, Title: "a place on a sheet of something that does not stand there",
		Why: "The places only keep the drawing as it was; of a thing that was taken away nothing is kept.",
		Bad: "bus PB: 100 A\nsheet 1 in mm: PB 40 60, F2 45 62\n", Good: "bus PB: 100 A\nsheet 1 in mm: PB 40 60\n"}
	unknownSetting = formError("unknown-setting", "a member of a condition that says nothing of a thing",
		"A condition says what each thing does: on, off, a share, watts or amps.",
		"motor M1: 1 kW\ncondition \"Under way\": M1\n", "motor M1: 1 kW\ncondition \"Under way\": M1 60 %\n")
	acceptanceUnsigned = diag.Info{Rule: "acceptance-unsigned", Severity: diag.Fault, Title: "an acceptance without a name or a date",
		Why:  "Whoever accepts a finding answers for it. Without a name and a date nobody does, and the acceptance does not count.",
		Bad:  "battery B1: 12 V\naccept bank-without-isolator on B1 because \"test bench\"\n",
		Good: "battery B1: 12 V\naccept bank-without-isolator on B1 because \"test bench\" by \"JM\" dated 2026-11-20\n"}
)
