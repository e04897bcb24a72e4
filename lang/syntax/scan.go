package syntax

// What the tokens alone are blamed for, whatever statement they stand in.

import (
	"strings"

	"github.com/alecthomas/participle/v2/lexer"

	"strake/lang/diag"
	"strake/lang/source"
)

func scan(file *source.File, tokens []lexer.Token) []diag.Finding {
	var out []diag.Finding
	for i := 0; i < len(tokens); i++ {
		t := tokens[i]
		span := tokenSpan(file, t)
		edit := func(text string) []diag.Edit { return []diag.Edit{{Span: span, New: text}} }
		switch t.Type {
		case typeStray:
			for i+1 < len(tokens) && tokens[i+1].Type == typeStray {
				i++
				span = span.Join(tokenSpan(file, tokens[i]))
			}
			out = append(out, strayFinding(span))
		case typeOpenString:
			span.End -= len(t.Value) - len(strings.TrimRight(t.Value, " \t\r"))
			out = append(out, InfoOpenQuote.At(diag.Finding{
				Span:    span,
				Message: "this label has no closing quote on its line",
				Cure:    "write `\"` after the last word of the label",
			}))
		case typeDecimalComma:
			point := strings.Replace(t.Value, ",", ".", 1)
			if strings.ContainsAny(point, "gx") {
				point = strings.ToUpper(point)
			}
			out = append(out, InfoDecimalComma.At(diag.Finding{
				Span:    span,
				Message: "`" + t.Value + "` has a comma in a number; numbers have a decimal point",
				Cure:    "write " + point + "; if two members of a list are meant, put a blank after the comma",
				Edits:   edit(point),
			}))
		case typeTimes:
			if next := significantFrom(tokens, i+1); next < len(tokens) && tokens[next].Type == typeUnit && strings.HasPrefix(tokens[next].Value, "mm") {
				span.End = tokenEnd(tokens[next])
			}
			out = append(out, timesFinding(span, t.Value))
		case typeNumber:
			if i > 0 && signFollows(tokens[i-1], t) {
				out = append(out, InfoSign.At(diag.Finding{
					Span:    span,
					Message: "the sign of `" + t.Value + "` follows `" + tokens[i-1].Value + "` directly",
					Cure:    "put a blank before the sign of a negative number; write one value, or `A to B` where a range is meant",
				}))
			}
		}
	}
	return out
}

// signFollows tells a sign that stands directly behind a word or a number.
func signFollows(before, t lexer.Token) bool {
	if t.Value[0] >= '0' && t.Value[0] <= '9' {
		return false
	}
	switch before.Type {
	case typeBlank, typeNewline, typeComma, typeColon, typeLBracket:
		return false
	}
	return true
}

func strayFinding(span source.Span) diag.Finding {
	text := span.Text()
	f := diag.Finding{Span: span, Message: "`" + strings.ToValidUTF8(text, "\uFFFD") + "` means nothing here"}
	switch {
	case strings.ContainsAny(text, "“”„«»'‘’`"):
		f.Cure = "labels stand in straight double quotes, as \"House battery\""
	case text == "(" || text == ")" || text == "()":
		f.Cure = "a cable stands in square brackets, as [4 m]; a remark follows #"
	case text == "-" || text == "+" || text == "->" || text == "–" || text == "—" || text == ">":
		f.Cure = "a run has its cable in brackets between two ends, as `run B1 [2 m] F1`; a range is written with `..` or `to`"
	case !strings.ContainsFunc(text, func(r rune) bool { return r != '\uFFFD' }):
		f.Message = "bytes that are no text stand here"
		f.Cure = "save the file as UTF-8 and take them out"
	default:
		f.Cure = "take it out, or put it between quotes if it belongs to a label"
	}
	return InfoStray.At(f)
}

func timesFinding(span source.Span, text string) diag.Finding {
	count, area := timesParts(text)
	if strings.Contains(text, "g") {
		return InfoStray.At(diag.Finding{
			Span:    span,
			Message: "`" + text + "`: cores with a protective conductor are written with a capital G",
			Cure:    "write " + count + "G" + area,
			Edits:   []diag.Edit{{Span: span, New: count + "G" + area}},
		})
	}
	f := diag.Finding{
		Span:    span,
		Message: "`" + span.Text() + "` can be read in two ways",
		Cure: "write `" + count + " parallel " + area + " mm2` for " + count + " cables side by side in each pole, or `" +
			count + "X" + area + "` for one cable of " + count + " cores",
	}
	if count > "2" {
		f.Cure += "; `" + count + "G" + area + "` when one of these is the protective conductor"
	}
	return InfoTwoReadings.At(f)
}

// timesParts are the two numbers of `2x50`, `2 × 50`, `3g2.5`.
func timesParts(text string) (count, area string) {
	i := strings.IndexAny(text, "gx×*") // the token's own pattern has one
	count, area = text[:i], strings.TrimLeft(text[i:], "gx×*")
	return strings.TrimSpace(count), strings.TrimSpace(area)
}
