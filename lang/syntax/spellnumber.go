package syntax

// Numbers in groups of three, and two numbers in one.

import (
	"fmt"
	"strings"
)

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
		{longestForm(`^` + decimal + `[ \t]*(?:V[ \t]*)?(?:/|->|→|to)[ \t]*` + decimal + `[ \t]*V`), func(w where, m []string) reading {
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
		{longestForm(`^([0-9]+)[ \t]*[x×*][ \t]*` + decimal + `[ \t]*(W|kW|A|VA|Ah|V)(?:p|pk)?`), func(w where, m []string) reading {
			if w.bracket || !w.list && w.opening != "way" {
				return reading{}
			}
			each := m[2] + " " + m[3]
			return reading{text: each, open: true, each: true, message: fmt.Sprintf("`%s` is the sum of several things or one of each", m[0]),
				cure: fmt.Sprintf("write the sum, `%s %s`, or describe each; of solar modules write `%s, %s in series` or `%s, %s in parallel`", plainNumber(parsed(m[1])*parsed(m[2])), m[3], each, m[1], each, m[1])}
		}},
	}
}
