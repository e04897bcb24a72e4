package syntax

// A failure in plain words: what was found, what belongs there, how such a
// statement is written.

import (
	"cmp"
	"slices"
	"strings"

	"github.com/alecthomas/participle/v2/lexer"

	"strake/lang/diag"
	"strake/lang/source"
)

// explain says why tokens do not fit, where no change is known that makes them fit.
func (p place) explain() (diag.Info, diag.Finding) {
	f := diag.Finding{Cure: "write it like `" + shape(p.opening) + "`"}
	belongs := ""
	if p.before >= 0 {
		belongs = cmp.Or(p.belongsAfter(p.tokens[p.before]), p.belongsNext())
	}
	found := ""
	switch {
	case p.at < len(p.tokens):
		f.Span = p.span()
		found = "`" + p.token().Value + "`"
	case p.before >= 0:
		f.Span = tokenSpan(p.file, p.tokens[p.before])
	}
	switch {
	case p.before < 0 && p.behind != nil:
		f.Message = "expected " + cmp.Or(p.belongsAfter(*p.behind), "something else") + " after `" + p.behind.Value + "`, found " + found
	case p.before < 0 && found != "":
		f.Message = "a row cannot open with " + found
		f.Cure += "; a statement goes on in the next row only after a comma or at a `[`"
	case p.before < 0:
		f.Message = "a thing is missing before this cable"
	case belongs != "" && found != "":
		f.Message = "expected " + belongs + " after `" + p.tokens[p.before].Value + "`, found " + found
	case belongs != "":
		f.Message = "expected " + belongs + " after `" + p.tokens[p.before].Value + "`, but the statement ends"
	case found != "":
		f.Message = found + " does not fit after `" + p.tokens[p.before].Value + "`"
	default:
		f.Message = "the statement ends too early, after `" + p.tokens[p.before].Value + "`"
	}
	if p.opening == "bank" && strings.HasPrefix(belongs, "`in series`") {
		f.Cure = "write `in series` where their voltages add up, `in parallel` where their capacities do"
	}
	if p.before >= 0 && p.tokens[p.before].Value == "dated" {
		p.explainDate(&f)
	}
	if p.before >= 0 && p.at == len(p.tokens) && p.tokens[p.before].Type == typeComma {
		f.Cure = "write the next member of the list, or take the comma out"
		f.Edits = []diag.Edit{{Span: tokenSpan(p.file, p.tokens[p.before])}}
	}
	return InfoUnreadable, f
}

// belongsAfter says what the grammar wants after a token, in the trade's words.
func (p place) belongsAfter(t lexer.Token) string {
	switch t.Type {
	case typeColon:
		return "a property"
	case typeComma:
		return "a further member of the list"
	case typeDot:
		return "a port, a pole or a way's number"
	case typeRange:
		return "the last of the range"
	case typeRBracket:
		return "what the cable lands on"
	}
	switch t.Value {
	case "in":
		return "the name of a domain"
	case "at":
		return "the name of a place"
	case "dated":
		return "a date"
	case "because":
		return "the reason, in quotes"
	case "by":
		if p.opening == "interlock" {
			return "a reference"
		}
		return "a name in quotes"
	case "is":
		if p.opening == "bank" {
			return "a reference"
		}
		return "a kind"
	case "with", "on", "interlock", "measured":
		return "a reference"
	case "order":
		return "the reference of a bar"
	case "sheet":
		return "the number of a sheet"
	case "capped":
		return "`at` and the place"
	case "each":
		return "`link`"
	case "way":
		return "the number of a way"
	case "ways":
		return "a range of numbers, as 1..12"
	case "use":
		return "a file's name in quotes"
	case "craft", "condition", "day":
		return "a name in quotes"
	case "domain", "place", "part":
		return "a name"
	case "accept":
		return "the name of a rule"
	case "run", "bond", "signal":
		return "a thing"
	}
	return ""
}

// belongsNext says what a statement still lacks, from the words that it has.
func (p place) belongsNext() string {
	has := func(words ...string) bool {
		return slices.ContainsFunc(p.tokens[:p.at], func(t lexer.Token) bool { return slices.Contains(words, t.Value) })
	}
	switch p.opening {
	case "accept":
		switch {
		case !has("on"):
			return "`on` and a reference"
		case !has("because"):
			return "`because` and the reason in quotes"
		}
	case "interlock":
		if !has("never", "only") {
			return "`never with` or `only with`"
		}
		if !has("with") {
			return "`with`"
		}
	case "sheet":
		switch {
		case !has("mm"):
			return "`in mm`"
		case !has(":"):
			return "a colon and a list"
		}
		return "a name and two numbers"
	case "condition", "day", "measured", "order":
		if !has(":") {
			return "a colon and a list"
		}
	case "part", "ways":
		if !has("is") {
			return "`is` and a kind"
		}
	case "bank":
		if has("is") {
			return "`in series` or `in parallel`"
		}
	}
	return ""
}

func notAWay(file *source.File, tokens []lexer.Token) diag.Finding {
	return InfoUnreadable.At(diag.Finding{
		Span:    tokenSpan(file, tokens[0]),
		Message: "a row of a board begins with `way` or `ways`, not with `" + tokens[0].Value + "`",
		Cure:    "write it like `" + shape("way") + "`",
	})
}

// shape is how a statement with this opening word is written.
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
	case "sheet":
		return `sheet 1 in mm: PB 40 60, F5 45 62`
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
