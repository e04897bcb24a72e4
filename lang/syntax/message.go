package syntax

// A grammar's failure in plain words: what was found, what belongs there, how
// such a statement is written.

import (
	"github.com/alecthomas/participle/v2/lexer"

	"strake/lang/diag"
	"strake/lang/source"
)

// explain says why the tokens of a statement, or of a piece of one, could not be read.
func explain(file *source.File, tokens []lexer.Token, failed *failure) diag.Finding {
	f := diag.Finding{Cure: "write it as `" + shape(openingWord(tokens)) + "`"}
	if failed.at == len(tokens) {
		last := tokens[len(tokens)-1]
		f.Span = tokenSpan(file, last)
		f.Message = "something is missing after `" + last.Value + "`"
	} else {
		f.Span = tokenSpan(file, failed.token)
		f.Message = "`" + failed.token.Value + "` does not fit here"
	}
	return InfoUnreadable.At(f)
}

func notAWay(file *source.File, tokens []lexer.Token) diag.Finding {
	return InfoUnreadable.At(diag.Finding{
		Span:    tokenSpan(file, tokens[0]),
		Message: "a row of a board begins with `way` or `ways`, not with `" + tokens[0].Value + "`",
		Cure:    "write it as `" + shape("way") + "`",
	})
}

func shape(opening string) string {
	switch opening {
	case "craft":
		return `craft "Name" {`
	case "use":
		return `use "shelf.strake"`
	case "domain":
		return `domain house: dc 12 V, 11 V to 14.6 V`
	case "place":
		return `place engine-space "Engine space": 50 degC`
	case "part":
		return `part class-t is fuse: class t, 125 V`
	case "run", "bond", "signal":
		return opening + ` F5 [4 m 50 mm2] M1`
	case "interlock":
		return `interlock K1 never with K2 by KR1`
	case "order":
		return `order PB: F5, F7, Q1`
	case "condition":
		return `condition "Under way": M1 60 %, DB1 on`
	case "day":
		return `day "December": sun 0.5 h`
	case "measured":
		return `measured F5-M1: drop 0.4 V at 200 A by "JM" dated 2026-11-20`
	case "accept":
		return `accept RULE on F5 because "…" by "JM" dated 2026-11-20`
	case "way":
		return `way 3 10 A "Label" 30 W [6 m]`
	case "ways":
		return `ways 1..12 is fuse: class blade, 32 V`
	case "bank":
		return `bank WB "Winch pair" in winch is W1..W2 in series [0.3 m 50 mm2]`
	}
	return `KIND REF "Label" in DOMAIN at PLACE: property, property`
}
