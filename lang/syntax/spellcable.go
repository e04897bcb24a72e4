package syntax

// Cables: brackets of another shape, poles with signs, cores in words, what is
// not certain or not known.

import (
	"fmt"
	"slices"
	"strings"
)

func cableSpellings() []spelling {
	return []spelling{
		{longestForm(`^\(`), func(w where, _ []string) reading { return round(w, "[") }},
		{longestForm(`^\)`), func(w where, _ []string) reading { return round(w, "]") }},
		// `run A to B [2 m]`, and `from` before it.
		{longestForm(`^(?i:from)`), func(w where, m []string) reading {
			if !laysCables(w.opening) || w.before.Type != typeOpening {
				return reading{}
			}
			return outOf("`"+m[0]+"` says nothing here", "take `"+m[0]+"` out")
		}},
		{longestForm(`^(?:to|->|→|=>|-|–|—|and|&|,)[ \t]+(\pL[\pL0-9.]*)[ \t]*(\[[^\]\n]*\])[ \t\r]*`), func(w where, m []string) reading {
			if !laysCables(w.opening) || w.before.Type != typeWord || w.list || strings.TrimSpace(w.behind[len(m[0]):]) != "" {
				return reading{}
			}
			return written(m[2]+" "+m[1], "`%s`: a cable stands between its two ends", strings.TrimSpace(m[0]))
		}},
		{longestForm(`^,`), func(w where, m []string) reading {
			if !laysCables(w.opening) || w.bracket || w.before.Type != typeRBracket && !strings.HasPrefix(strings.TrimLeft(w.behind[1:], " \t"), "[") {
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
			if !laysCables(w.opening) || !w.glued || w.before.Type != typeWord || w.bracket || w.list || behind != "" && !strings.ContainsAny(behind[:1], " \t\r[:") {
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
		{longestForm(`^[ØøΦ⌀∅][ \t]*` + decimal + `(?:[ \t]*mm[2²]?)?`), func(w where, m []string) reading {
			if !w.bracket {
				return reading{}
			}
			return reading{text: m[1] + " mm2", open: true, message: fmt.Sprintf("`%s` is a diameter; a size is the section of a core", m[0]), cure: "write the section in square millimetres, as in `16 mm2`"}
		}},
		{longestForm(`^([1-9])[ \t-]*(?:cores?|c|C)[ \t]*(?:[x×*][ \t]*|of[ \t]+)?` + decimal + `(?:[ \t]*(?:mm2|mm²|mm\^2|sqmm|sq[ \t]*mm|mm))?`), func(w where, m []string) reading {
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
	if !laysCables(w.opening) && w.opening != "way" && w.opening != "bank" || w.list && text == "]" && !w.bracket {
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
