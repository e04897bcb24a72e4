package syntax

// The voltages of domains, and ranges.

import "strings"

// Voltages of domains: `24 V dc`, `230VAC`.

func domainSpellings() []spelling {
	return []spelling{
		{longestForm(`^` + decimal + `[ \t]*(?i:v|volts?)?[ \t]*(?i:(d|a)\.?c\.?)`), current(1, 2)},
		{longestForm(`^(?i:(d|a)\.?c\.?)[ \t-]*` + decimal + `[ \t]*(?i:v|volts?)?`), current(2, 1)},
		{longestForm(`^\(?[ \t]*(?i:min(?:imum)?|lowest|from)?[ \t]*` + decimal + `[ \t]*(?i:v|volts?)?[ \t]*(?:` + dash + `|[, \t]*(?i:max(?:imum)?|highest|to|and)[ \t]*)` + decimal + `[ \t]*(?i:v|volts?)[ \t]*\)?`), func(w where, m []string) reading {
			text := m[1] + " V to " + m[2] + " V"
			if w.opening != "domain" || !w.list || strings.Join(strings.Fields(strings.ReplaceAll(m[0], "V", " V ")), " ") == text {
				return reading{}
			}
			if w.before.Type != typeColon && w.before.Type != typeComma {
				text = ", " + text
			}
			return written(text, "`%s` is a range of voltages in another form", m[0])
		}},
		{longestForm(`^(?i:(single|one|1|three|3)[ \t-]*phase)`), func(w where, m []string) reading {
			text := map[bool]string{true: "1 phase", false: "3 phase"}[strings.Contains("single one 1", strings.ToLower(m[1]))]
			if w.opening != "domain" || !w.list || m[0] == text {
				return reading{}
			}
			if behind := strings.TrimLeft(w.behind[len(m[0]):], " \t\r"); behind != "" && behind[0] != ',' && behind[0] != '#' {
				text += ","
			}
			return written(text, "`%s` is a number of phases in another form", m[0])
		}},
		{longestForm(`^(DC|AC|Dc|Ac)`), func(w where, m []string) reading {
			if w.opening != "domain" || w.before.Type == typeOpening || w.number {
				return reading{}
			}
			return written(strings.ToLower(m[1]), "`%s` is written small", m[1])
		}},
	}
}

// current reads a voltage and the kind of its current.
func current(number, kind int) func(where, []string) reading {
	return func(w where, m []string) reading {
		found := strings.TrimSpace(m[0])
		if w.opening != "domain" || w.before.Type == typeOpening || w.number {
			return reading{}
		}
		unit := ""
		if strings.ContainsAny(strings.TrimRight(found, "dDaAcC. "), "vV") {
			unit = " V"
		}
		text := strings.ToLower(m[kind]) + "c " + m[number] + unit
		if strings.Join(strings.Fields(found), " ") == text || strings.ReplaceAll(found, " ", "") == strings.ReplaceAll(text, " ", "") && found[0] > '9' && strings.Contains(found, " ") {
			return reading{}
		}
		if unit == "" {
			text += " V"
		}
		return written(text, "`%s` is a kind of current and its voltage, in another form", found)
	}
}

// Ranges: of ways, of references.

const dash = `[ \t]*(?:-|–|—|−|…|\.\.\.?)[ \t]*`

func rangeSpellings() []spelling {
	return []spelling{
		{longestForm(`^([0-9]{1,3})(?:` + dash + `|[ \t]*[&/][ \t]*|[ \t]+(?:to|and|thru|through)[ \t]+)([0-9]{1,3})`), func(w where, m []string) reading {
			text := m[1] + ".." + m[2]
			if w.before.Value != "way" && w.before.Value != "ways" || strings.ReplaceAll(m[0], " ", "") == text {
				return reading{}
			}
			return written(text, "`%s` is a range of ways; two points stand between the first and the last", m[0])
		}},
		{longestForm(`^(\pL+)([0-9]+)(?:[ \t]*(?:–|—|−|…|\.\.\.)[ \t]*|[ \t]+(?:-|to|thru|through)[ \t]+)(\pL*)([0-9]+)`), func(w where, m []string) reading {
			if w.bracket || w.glued && w.before.Type != typeColon || m[3] != "" && m[3] != m[1] || parsed(m[2]) >= parsed(m[4]) ||
				laysCables(w.opening) || w.opening == "measured" || w.opening == "accept" {
				return reading{}
			}
			return written(m[1]+m[2]+".."+m[1]+m[4], "`%s` is a range; two points stand between the first and the last", m[0])
		}},
	}
}
