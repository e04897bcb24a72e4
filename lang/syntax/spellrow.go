package syntax

// How rows open, remarks and bullets, references and labels in other forms.

import (
	"slices"
	"strings"
)

// outOf is a reading that leaves a piece out.
func outOf(message, cure string) reading { return reading{text: " ", message: message, cure: cure} }

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
			case w.opening != "condition" || !w.list || w.before.Value == "batteries":
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
			kind := w.before.Type == typeWord && (w.earlier.Type == 0 || w.earlier.Type == typeRBracket || w.earlier.Type == typeStatus || laysCables(w.opening) && w.earlier.Type == typeOpening)
			end := laysCables(w.opening) && (w.before.Type == typeOpening || w.before.Type == typeRBracket)
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
