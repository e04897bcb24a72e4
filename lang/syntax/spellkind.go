package syntax

import "regexp"

// kindsOfTwoWords are things that people write in two words and the language in
// one. What they mean is no matter here: only how they are written.
var kindsOfTwoWords = map[string]string{
	"float switch":       "float-switch",
	"galvanic isolator":  "galvanic-isolator",
	"insulation monitor": "insulation-monitor",
	"inverter charger":   "inverter-charger",
	"circuit breaker":    "breaker",
	"bus bar":            "bus",
	"emergency stop":     "stop",
	"shore inlet":        "inlet",
	"isolating switch":   "isolator",
	"solar regulator":    "regulator",
	"battery charger":    "charger",
}

// kindSpellings reads such a pair where a reference follows, as in `float switch FS1`.
func kindSpellings() []spelling {
	return []spelling{{regexp.MustCompile(`^(\pL+)[ \t]+(\pL+)[ \t]+\pL+[0-9]+`), func(w where, m []string) reading {
		text := kindsOfTwoWords[m[1]+" "+m[2]]
		if text == "" || w.list || w.bracket {
			return reading{}
		}
		two := regexp.MustCompile(`^\pL+[ \t]+\pL+`).FindString(m[0])
		r := written(text, "`%s` is one word in this language", two)
		r.length = len(two)
		return r
	}}}
}
