package syntax

// More of what people write: remarks and bullets, brackets of another shape,
// poles with signs, cores in words, numbers in groups of three.

import (
	"fmt"
	"slices"
	"strings"

	"github.com/alecthomas/participle/v2/lexer"
)

// outOf is a reading that leaves a piece out.
func outOf(message, cure string) reading { return reading{text: " ", message: message, cure: cure} }

func isPower(w where) bool { return slices.Contains([]string{"run", "bond", "signal"}, w.opening) }

func rowSpellings() []spelling {
	return []spelling{
		// Remarks and bullets.
		{longestForm(`^(//|/\*|--[ \t]|<!--)[^\n]*`), remark},
		{longestForm(`^(;)[^\n]*`), func(w where, m []string) reading {
			if w.before.Type != 0 {
				return reading{}
			}
			return remark(w, m)
		}},
		{longestForm(`^(?:[-*•–—]|[0-9]{1,2}[.)])[ \t]+`), func(w where, m []string) reading {
			if w.before.Type != 0 {
				return reading{}
			}
			return outOf("`"+strings.TrimSpace(m[0])+"` before a row means nothing", "take it out")
		}},
		// A row of the craft with a colon.
		{longestForm(`^(?:[:=]|by)`), func(w where, m []string) reading {
			if w.earlier.Type != 0 || w.opening != "" || !craftRows[strings.ToLower(w.before.Value)] {
				return reading{}
			}
			return outOf("no `"+m[0]+"` parts the word of a craft's row from what it says", "take `"+m[0]+"` out")
		}},
		// An opening word with a colon, or grown together with a way's number.
		{longestForm(`^:`), func(w where, m []string) reading {
			if w.earlier.Type != 0 || reserved[strings.ToLower(w.before.Value)] != typeOpening {
				return reading{}
			}
			return outOf("no colon stands behind `"+w.before.Value+"`", "take `:` out")
		}},
		{longestForm(`^(ways?)([0-9]+)`), func(w where, m []string) reading {
			if w.before.Type != 0 && w.before.Type != typeStatus {
				return reading{}
			}
			return written(m[1]+" "+m[2], "a blank parts `%s` from its number", m[1])
		}},
		{longestForm(`^,[ \t]*(by|dated|because)`), func(_ where, m []string) reading {
			r := outOf("no comma stands before `"+m[1]+"`", "take `,` out")
			r.length = 1
			return r
		}},
		{longestForm(`^(?:at|full|running)`), func(w where, m []string) reading {
			switch {
			case w.opening != "condition" || !w.list:
				return reading{}
			case m[0] == "at":
				return outOf("`at` says nothing in a condition", "take `at` out")
			}
			return written("on", "`%s` is written `on`, or as a share in per cent", m[0])
		}},
		{longestForm(`^[：，［］｛｝＝]`), func(_ where, m []string) reading {
			marks := map[string]string{"：": ":", "，": ",", "［": "[", "］": "]", "｛": "{", "｝": "}", "＝": ":"}
			return written(marks[m[0]], "`%s` is a wide mark that means nothing here", m[0])
		}},
		// One word twice.
		{longestForm(`^\pL[\pL-]*`), func(w where, m []string) reading {
			if m[0] != w.before.Value || w.list || w.bracket || w.glued {
				return reading{}
			}
			return outOf("`"+m[0]+"` stands twice", "take one of the two out")
		}},
		// Several references in one head.
		{longestForm(`^(\pL+)([0-9]+)[ \t]*(?:&|,|and|\+|/)[ \t]*(\pL+)([0-9]+)`), func(w where, m []string) reading {
			if w.opening != "" || w.list || w.bracket || w.before.Type != typeWord || w.earlier.Type != 0 && w.earlier.Type != typeRBracket || m[1] != m[3] || parsed(m[2])+1 != parsed(m[4]) {
				return reading{}
			}
			return written(m[1]+m[2]+".."+m[3]+m[4], "`%s` are several references; a head takes one, or a range with two points", m[0])
		}},
		// A way's label without its quotes.
		{longestForm(`^\p{Lu}[^"\[\]{}:,#0-9\n]*`), func(w where, m []string) reading {
			if w.opening != "way" || w.label || w.list || w.bracket || w.before.Type != typeUnit && w.before.Type != typeNumber || w.number && slices.Contains(units, firstWord(m[0])) {
				return reading{}
			}
			inner := strings.TrimSpace(m[0])
			r := written(`"`+inner+`"`, "`%s` is a label without its quotes", inner)
			r.length = len(strings.TrimRight(m[0], " \t\r"))
			return r
		}},
		// References that begin with a figure.
		{longestForm(`^([0-9]{1,3})(\pL[\pL0-9]*)`), func(w where, m []string) reading {
			kind := w.before.Type == typeWord && (w.earlier.Type == 0 || w.earlier.Type == typeRBracket || w.earlier.Type == typeStatus || isPower(w) && w.earlier.Type == typeOpening)
			end := isPower(w) && (w.before.Type == typeOpening || w.before.Type == typeRBracket)
			if w.list || w.bracket || w.label || !kind && !end || slices.Contains(units, m[2]) || !upper(m[2]) {
				return reading{}
			}
			text := m[2] + m[1]
			r := written(text, "`%s` cannot be a reference: it begins with a letter", m[0])
			r.cure += ", here and wherever it is named"
			return r
		}},
		// A label without quotes behind a dash.
		{longestForm(`^[-–—][ \t]+([^"\[\]{}:,#\n]+)`), func(w where, m []string) reading {
			if w.opening != "" || w.list || w.label || w.before.Type != typeWord || w.earlier.Type != typeWord {
				return reading{}
			}
			text := `"` + strings.TrimSpace(m[1]) + `"`
			return written(text, "`%s` is a label without its quotes", strings.TrimSpace(m[0]))
		}},
		{longestForm(`^(?i:inverter[ \t]*/[ \t]*charger)`), func(_ where, m []string) reading {
			return written("inverter-charger", "`%s` is one kind, with a hyphen", m[0])
		}},
		{longestForm(`^[:=][ \t]*\p{Lu}\pL*[0-9]`), func(w where, m []string) reading {
			if w.opening != "bank" || w.list || w.before.Type != typeWord && w.before.Type != typeString {
				return reading{}
			}
			return reading{text: "is", edit: " is", length: 1, message: "`is` stands before the members of a bank, not `" + m[0][:1] + "`", cure: "write `is` in its place"}
		}},
		// The number of a board's ways in its head.
		{longestForm(`^([0-9]+)[ \t-]*ways?`), func(w where, m []string) reading {
			if w.list || w.before.Type != typeWord && w.before.Type != typeString || w.opening != "board" {
				return reading{}
			}
			return outOf("how many ways a board has stands in a row of its own", "take `"+m[0]+"` out, and write `ways 1.."+m[1]+" is fuse` in its braces")
		}},
		{longestForm(`^(?:not|cannot|and|nor|&|/|,)(?:[ \t]+with)?`), func(w where, m []string) reading {
			if w.opening != "interlock" || w.before.Type != typeWord {
				return reading{}
			}
			return written("never with", "`%s` does not say what may not run together", m[0])
		}},
	}
}

// remark reads the rest of a row as a remark.
func remark(w where, m []string) reading {
	found := strings.TrimSpace(m[1])
	return reading{text: "#" + strings.Repeat("-", max(len(m[0])-1, 1)), edit: "#", mark: len(found), message: "a remark begins with `#`, not with `" + found + "`", cure: "write `#` in its place"}
}

func upper(s string) bool { return s != "" && s[0] >= 'A' && s[0] <= 'Z' }

func cableSpellings() []spelling {
	return []spelling{
		{longestForm(`^\(`), func(w where, _ []string) reading { return round(w, "[") }},
		{longestForm(`^\)`), func(w where, _ []string) reading { return round(w, "]") }},
		// `run A to B [2 m]`, and `from` before it.
		{longestForm(`^(?i:from)`), func(w where, m []string) reading {
			if !isPower(w) || w.before.Type != typeOpening {
				return reading{}
			}
			return outOf("`"+m[0]+"` says nothing here", "take `"+m[0]+"` out")
		}},
		{longestForm(`^(?:to|->|→|=>|-|–|—|and|&|,)[ \t]+(\pL[\pL0-9.]*)[ \t]*(\[[^\]\n]*\])[ \t\r]*`), func(w where, m []string) reading {
			if !isPower(w) || w.before.Type != typeWord || w.list || strings.TrimSpace(w.behind[len(m[0]):]) != "" {
				return reading{}
			}
			return written(m[2]+" "+m[1], "`%s`: a cable stands between its two ends", strings.TrimSpace(m[0]))
		}},
		{longestForm(`^,`), func(w where, m []string) reading {
			if !isPower(w) || w.bracket || w.before.Type != typeRBracket && !strings.HasPrefix(strings.TrimLeft(w.behind[1:], " \t"), "[") {
				return reading{}
			}
			return outOf("no comma stands beside a cable", "take `,` out")
		}},
		{longestForm(`^(\p{Lu}\pL*[0-9]+)[ \t]*[,;]?[ \t]+`), func(w where, m []string) reading {
			if !w.bracket || w.before.Type != typeLBracket || strings.HasPrefix(w.behind[len(m[0]):], ":") {
				return reading{}
			}
			r := written(m[1]+":", "`%s` is the reference of the cable; a colon stands behind it", m[1])
			r.length = len(strings.TrimRight(m[0], " \t"))
			return r
		}},
		// Poles with signs.
		{longestForm(`^[+−-]`), func(w where, m []string) reading {
			behind := w.behind[len(m[0]):]
			if !isPower(w) || !w.glued || w.before.Type != typeWord || w.bracket || w.list || behind != "" && !strings.ContainsAny(behind[:1], " \t\r[:") {
				return reading{}
			}
			if w.opening == "run" {
				return outOf("`"+m[0]+"`: a run is both poles of a pair, not one of them", "take `"+m[0]+"` out, and write one run for both; a single pole is `.positive` or `.negative`")
			}
			pole := map[bool]string{true: ".positive", false: ".negative"}[m[0] == "+"]
			return written(pole, "`%s` is a pole in another form", m[0])
		}},
		{longestForm(`^\.(?i:pos|plus|\+)`), poleWord(".positive")},
		{longestForm(`^\.(?i:neg|minus|-)`), poleWord(".negative")},
		// Sizes.
		{longestForm(`^[ØøΦ⌀∅][ \t]*([0-9]+(?:\.[0-9]+)?)(?:[ \t]*mm[2²]?)?`), func(w where, m []string) reading {
			if !w.bracket {
				return reading{}
			}
			return reading{text: m[1] + " mm2", open: true, message: fmt.Sprintf("`%s` is a diameter; a size is the section of a core", m[0]), cure: "write the section in square millimetres, as in `16 mm2`"}
		}},
		{longestForm(`^([1-9])[ \t-]*(?:cores?|c|C)[ \t]*(?:[x×*][ \t]*|of[ \t]+)?([0-9]+(?:\.[0-9]+)?)(?:[ \t]*(?:mm2|mm²|mm\^2|sqmm|sq[ \t]*mm|mm))?`), func(w where, m []string) reading {
			if !w.bracket {
				return reading{}
			}
			r := written(m[1]+"X"+m[2], "`%s` is one cable of %s cores, in another form", m[0], m[1])
			if m[1] > "2" {
				r.open = true
				r.cure = "write `" + m[1] + "G" + m[2] + "` when one of the cores is the protective conductor, `" + m[1] + "X" + m[2] + "` when none is"
			}
			return r
		}},
		{longestForm(`^(?i:(red|black|yellow|blue|brown|green|white|orange|grey|violet|pink)/[a-z]+)`), func(w where, m []string) reading {
			if !w.bracket {
				return reading{}
			}
			return written(strings.ToLower(m[1]), "`%s` is two colours; a pair is told by that of its positive or phase", m[0])
		}},
		{longestForm(`^(?i:via|past|thru)`), func(w where, m []string) reading {
			if !w.bracket {
				return reading{}
			}
			return written("through", "`%s` says nothing of a cable; what it passes is told with `through`", m[0])
		}},
		// What is not certain, or not known.
		{longestForm(`^(?:~|≈|±|(?i:ca|circa|approx|approximately|roughly|around|abt)\.?)[ \t]*`), func(w where, m []string) reading {
			behind := w.behind[len(m[0]):]
			if behind == "" || behind[0] < '0' || behind[0] > '9' || !w.bracket && !w.list {
				return reading{}
			}
			found := strings.TrimSpace(m[0])
			return reading{text: "about", edit: "about ", message: "`" + found + "` before a number is written `about`", cure: "write `about` in its place"}
		}},
		{longestForm(`^(?:\+/-|±)[ \t]*[0-9.]+[ \t]*%?`), func(w where, m []string) reading {
			if !w.list && !w.bracket {
				return reading{}
			}
			return outOf("`"+m[0]+"`: tolerances are not written", "take it out, and write `about` before a number that is not certain")
		}},
		{longestForm(`^\?+`), func(w where, m []string) reading {
			switch {
			case !w.list && !w.bracket:
				return reading{}
			case w.before.Type == typeUnit || w.number:
				return outOf("`"+m[0]+"` means nothing behind a number", "write `about` before the number when it is not certain, or take `"+m[0]+"` out")
			case strings.TrimSpace(w.behind[len(m[0]):]) != "" && slices.Contains(units, firstWord(w.behind[len(m[0]):])):
				return written("unknown", "`%s` in the place of a number means nothing", m[0])
			}
			return outOf("`"+m[0]+"` means nothing here", "take it out: what is not written is not known")
		}},
		{longestForm(`^(?i:tbc|tba|tbd|unkn?|not known|n/k)`), func(w where, m []string) reading {
			if !w.bracket {
				return reading{}
			}
			return outOf("`"+m[0]+"` says nothing of a cable", "take it out; what is fitted and not known is `unknown mm2`")
		}},
	}
}

func firstWord(s string) string {
	fields := strings.FieldsFunc(s, func(r rune) bool { return strings.ContainsRune(" \t\r,]", r) })
	if len(fields) == 0 {
		return ""
	}
	return fields[0]
}

func round(w where, text string) reading {
	if !isPower(w) && w.opening != "way" && w.opening != "bank" || w.list && text == "]" && !w.bracket {
		return reading{}
	}
	return reading{text: text, message: "a cable stands in square brackets, not in round ones", cure: "write `[` before it and `]` behind it"}
}

func poleWord(pole string) func(where, []string) reading {
	return func(w where, m []string) reading {
		if !w.glued || w.before.Type != typeWord {
			return reading{}
		}
		return written(pole, "`%s` is a pole in another form", m[0])
	}
}

// Numbers in groups of three, and two numbers in one.

const largeUnit = `[ \t]*(W|VA|Wh|Ah|A|V)`

func numberSpellings() []spelling {
	return []spelling{
		{longestForm(`^([1-9][0-9]{0,2})([.,'’ \x{A0}\x{202F}])([0-9]{3})` + largeUnit), func(w where, m []string) reading {
			if w.bracket || w.number || w.opening == "way" || w.before.Type == typeRange || w.before.Type == typeDot || m[2] == "." && !strings.HasSuffix(m[3], "00") {
				return reading{} // 16.002 A is a number; nobody writes 16.000 A for 16 A
			}
			if (m[4] == "V" || m[4] == "A") && len(m[1]) > 1 {
				return reading{} // no craft has so much
			}
			large, small := m[1]+m[3]+" "+m[4], strings.TrimRight(strings.TrimRight(m[1]+"."+m[3], "0"), ".")+" "+m[4]
			r := written(large, "`%s` holds a mark or a blank that may part thousands", m[0])
			if m[2] == "." || m[2] == "," {
				r.open = true
				r.message = fmt.Sprintf("`%s` can be read in two ways", m[0])
				r.cure = "write `" + large + "` or `" + small + "`"
			}
			return r
		}},
		{longestForm(`^([0-9]+(?:\.[0-9]+)?)[ \t]*(?:V[ \t]*)?(?:/|->|→|to)[ \t]*([0-9]+(?:\.[0-9]+)?)[ \t]*V`), func(w where, m []string) reading {
			if !w.list || w.bracket || w.opening == "domain" {
				return reading{}
			}
			return reading{text: m[2] + " V", open: true, message: fmt.Sprintf("`%s` is two voltages", m[0]),
				cure: fmt.Sprintf("write one; of what converts the output's, and the input's behind `input`: `%s V, input %s V`", m[2], m[1])}
		}},
		{longestForm(`^[/@]`), func(w where, m []string) reading {
			behind := strings.TrimLeft(w.behind[1:], " \t")
			if !w.list || w.bracket || w.before.Type != typeUnit && w.before.Type != typeWord || behind == "" {
				return reading{}
			}
			if m[0] == "@" && w.opening == "measured" {
				return written("at", "`@` is a word")
			}
			return reading{text: ",", edit: ", ", message: "members of a list are parted by commas, not by `" + m[0] + "`", cure: "write `,`"}
		}},
		{longestForm(`^([0-9]+)[ \t]*[x×*][ \t]*([0-9]+(?:\.[0-9]+)?)[ \t]*(W|kW|A|VA|Ah|V)(?:p|pk)?`), func(w where, m []string) reading {
			if w.bracket || !w.list && w.opening != "way" {
				return reading{}
			}
			each := m[2] + " " + m[3]
			return reading{text: each, open: true, each: true, message: fmt.Sprintf("`%s` is the sum of several things or one of each", m[0]),
				cure: fmt.Sprintf("write the sum, `%s %s`, or describe each; of solar modules write `%s, %s in series` or `%s, %s in parallel`", plainNumber(parsed(m[1])*parsed(m[2])), m[3], each, m[1], each, m[1])}
		}},
	}
}

// restless tells tokens that only these spellings have, beside the usual ones.
func restless(before, t lexer.Token, opening string, first bool) bool {
	switch t.Type {
	case typeNumber, typeDecimalComma:
		return len(t.Value) >= 5 && strings.IndexByte(t.Value, t.Value[len(t.Value)-4]) == len(t.Value)-4 && strings.ContainsAny(t.Value[len(t.Value)-4:len(t.Value)-3], ".,") ||
			before.Type == typeNumber && len(t.Value) == 3
	case typeTimes, typePer:
		return true
	case typeColon:
		return opening == "bank" || first && (craftRows[strings.ToLower(before.Value)] || reserved[strings.ToLower(before.Value)] == typeOpening)
	case typeLBracket:
		return before.Type == typeComma
	case typeComma:
		return before.Type == typeRBracket
	case typeOpening:
		return t.Value == before.Value
	case typeClosing:
		return before.Type == typeComma || first && craftRows[strings.ToLower(before.Value)]
	case typeJoining, typeWord:
		return t.Value == before.Value || upper(t.Value) && (before.Type == typeLBracket || opening == "way" && (before.Type == typeUnit || before.Type == typeNumber)) ||
			strings.HasPrefix(t.Value, "way") && first || strings.HasPrefix(strings.ToLower(t.Value), "ø") || strings.HasPrefix(strings.ToLower(t.Value), "tb") || strings.HasPrefix(strings.ToLower(t.Value), "unk") && t.Value != "unknown" ||
			t.Value == "to" && (before.Type != typeUnit || opening != "domain") || t.Value == "from" || t.Value == "via" || t.Value == "past" || t.Value == "thru" || before.Type == typeDot || strings.HasSuffix(t.Value, "ca") || len(t.Value) >= 3 && strings.HasPrefix("approximately", t.Value) || opening == "interlock" || opening == "condition" && before.Type == typeWord
	}
	return false
}
