package syntax

// Quotes and labels, arrows and other marks.

import (
	"regexp"
	"slices"
	"strings"
	"sync"
	"unicode"
)

const curly = `“”„‟«»″`

func markSpellings() []spelling {
	return []spelling{
		{longestForm(`^"(?:[^"\n\[\]{}:,#]*")+`), nestedQuote},
		{longestForm(`^"[^"\n]*"?`), openQuote},
		{longestForm(`^[^"\n\[\]{}:,#]+"`), missingQuote},
		{longestForm(`^[` + curly + `]([^` + curly + `"\n]*)[` + curly + `"]`), quoted},
		{longestForm(`^"([^` + curly + `"\n]*)[` + curly + `]`), quoted},
		{longestForm(`^['‘’‚‛` + "`" + `´]([^'‘’` + "`" + `´"\n]*)['‘’` + "`" + `´]`), quoted},
		{longestForm(`^(?:[-–—=]*(?:>|»|→|➔|➜)+|[-–—]{1,3})`), arrow},
		{longestForm(`^to\b`), arrow},
		{longestForm(`^(?:@|&|\+|x|×|of|and|with|length|size|section|csa|long|cable|wire)`), func(w where, m []string) reading {
			switch {
			case w.bracket && w.before.Type != typeLBracket && !w.glued:
				return outOf("`"+m[0]+"` says nothing of a cable", "take `"+m[0]+"` out")
			case w.opening == "bank" && (m[0] == "&" || m[0] == "and" || m[0] == "+"):
				return reading{text: ",", message: "the members of a bank are parted by commas, not by `" + m[0] + "`", cure: "write `,` in its place"}
			}
			return reading{}
		}},
		{longestForm(`^(?:[-–—]{1,3}|=|\))`), wayMark},
		{longestForm(`^=`), func(w where, _ []string) reading {
			if w.list {
				return outOf("`=` means nothing here", "take it out")
			}
			return reading{text: ":", message: "`=` means nothing here; a colon opens a list", cure: "write `:`"}
		}},
		{longestForm(`^;`), func(w where, _ []string) reading {
			w.behind = strings.TrimLeft(w.behind[1:], " \t\r")
			if w.behind == "" || w.behind[0] == '#' {
				return outOf("`;` means nothing here; a statement ends with its line", "take it out")
			}
			if reserved[firstWord(w.behind)] == typeOpening {
				r := outOf("`;` means nothing here; a statement ends with its line", "begin a new line in its place")
				r.edit = "\n"
				return r
			}
			if !w.list {
				return reading{text: ":", message: "`;` means nothing here; a colon opens a list", cure: "write `:`"}
			}
			return reading{text: ",", message: "`;` means nothing here; a comma parts the members of a list", cure: "write `,`; a second statement goes on a line of its own"}
		}},
		{longestForm(`^…`), func(where, []string) reading { return written("..", "`…` is one mark; a range has two points") }},
	}
}

// wayMark is a mark behind the number of a way, which has none.
func wayMark(w where, m []string) reading {
	if w.opening != "way" || w.before.Type != typeNumber || w.list || w.label {
		return reading{}
	}
	return outOf("`"+m[0]+"` means nothing behind the number of a way", "take it out")
}

// endsLabel is what no label is likely to hold: a mark, a number with its unit,
// the word before a domain or a place.
var endsLabel = sync.OnceValue(func() *regexp.Regexp {
	return regexp.MustCompile(`[\[\]{}:,]|\s+[0-9.]+\s*(?:[kmM]?[VAW]|[kM]?VA|Ah|mm2|m)\b|\s+(?:in|at)\s`)
})

// openQuote reads a label whose closing quote is missing as ending before the
// first thing that no label holds.
func openQuote(w where, m []string) reading {
	inner := strings.TrimSuffix(m[0][1:], `"`)
	closed := len(inner)+2 == len(m[0])
	if !w.quotes || closed && !strings.ContainsAny(inner, "[]{") && !strings.Contains(inner, ": ") {
		return reading{}
	}
	if w.list && !closed {
		return reading{text: " ", length: 1, info: &InfoOpenQuote, each: true, message: "this quote belongs to no label", cure: "take it out"}
	}
	if at := endsLabel().FindStringIndex(inner); at != nil {
		inner = inner[:at[0]]
	}
	inner = strings.TrimRight(inner, " \t\r")
	if inner == "" {
		return reading{}
	}
	return reading{
		text: `"` + inner + `"`, length: 1 + len(inner), info: &InfoOpenQuote, each: true,
		message: "this label has no closing quote", cure: "write `\"` after the last word of the label: `\"" + inner + "\"`",
	}
}

// nestedQuote reads a label that holds quotes itself: the first of them is glued to
// what stands behind it, or one of three closes what two seem to have closed.
func nestedQuote(w where, m []string) reading {
	inner := m[0][1 : len(m[0])-1]
	at := strings.IndexByte(inner, '"')
	if at < 0 || w.list || w.bracket || w.before.Value == "dated" {
		return reading{}
	}
	glued := at+1 == len(inner) || inner[at+1] != ' ' && inner[at+1] != '\t'
	lone := strings.Count(inner, `"`) == 1 && !strings.HasSuffix(inner, " ") && !strings.HasSuffix(inner[:at], " ")
	if !glued && !lone {
		return reading{}
	}
	within := "'"
	if lone && !glued {
		within = "" // of inches, which would pass for feet
	}
	label := `"` + strings.NewReplacer(`\"`, within, `""`, within, `"`, within).Replace(inner) + `"`
	return reading{text: label, info: &InfoOpenQuote, each: true, message: "a label holds no quotes: this one would end at the second", cure: "write `" + label + "`"}
}

// missingQuote reads words before a lone closing quote as a label, where one may
// begin.
func missingQuote(w where, m []string) reading {
	inner := strings.TrimSuffix(m[0], `"`)
	behind := w.behind[len(m[0]):]
	mayBegin := w.before.Type == typeWord && w.earlier.Type == typeWord || w.before.Type == typeWord && w.earlier.Type == typeOpening ||
		w.opening == "way" && (w.before.Type == typeNumber || w.before.Type == typeUnit)
	if !w.quotes || w.glued || w.list || w.bracket || !mayBegin || run(inner, unicode.IsLetter) == 0 || w.number && slices.Contains(units, strings.Fields(inner)[0]) || strings.TrimRight(inner, " \t") != inner ||
		behind != "" && !strings.ContainsAny(behind[:1], " \t\r:[") {
		return reading{}
	}
	return reading{
		text: `"` + inner + `"`, info: &InfoOpenQuote, each: true,
		message: "this label has no opening quote", cure: "write `\"` before the first word of the label: `\"" + inner + "\"`",
	}
}

func quoted(w where, m []string) reading {
	if w.glued && w.before.Type == typeNumber {
		return reading{} // feet or inches
	}
	label := `"` + m[1] + `"`
	return reading{text: label, message: "labels stand in straight double quotes, not like " + m[0], cure: "write `" + label + "`"}
}

// arrow reads what stands for a cable between two things of a run.
func arrow(w where, m []string) reading {
	found := strings.TrimSpace(m[0])
	if !laysCables(w.opening) || w.bracket || w.before.Type == typeOpening {
		return reading{}
	}
	behind := strings.TrimLeft(w.behind[len(m[0]):], " \t")
	switch {
	case w.before.Type == typeRBracket || strings.HasPrefix(behind, "["):
		return outOf("`"+found+"` means nothing beside a cable; the brackets alone are the cable", "take `"+found+"` out")
	case behind != "" && behind[0] >= '0' && behind[0] <= '9' && found != "to":
		return reading{} // a sign
	case w.number || w.before.Type == typeUnit && found == "to" || w.before.Type == typeColon || w.before.Type == typeComma || behind == "":
		return reading{}
	}
	return reading{
		text: " [] ", message: "`" + found + "` stands where a cable belongs; a cable is written in brackets between its two ends",
		cure: "write `[]` in its place, with length and size in it when they are known: `[2 m 16 mm2]`",
	}
}
