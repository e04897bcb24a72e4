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
	return []spelling{{regexp.MustCompile(`^((\pL+)[ \t]+(\pL+))[ \t]+\pL+[0-9]+`), func(w where, m []string) reading {
		text := kindsOfTwoWords[m[2]+" "+m[3]]
		if text == "" || w.list || w.bracket {
			return reading{}
		}
		r := written(text, "`%s` is one word in this language", m[1])
		r.length = len(m[1])
		return r
	}}}
}
