package syntax

// Units, gauges, and quantities in units that the language has not.

import (
	"fmt"
	"slices"
	"strings"
)

// Gauges: `2/0`, `2 awg`, `AWG 2`, `awg 2/0`.

// gaugeWord tells `AWG`, `awg2` and their like.
func gaugeWord(word string) bool {
	rest, ok := strings.CutPrefix(strings.ToLower(word), "awg")
	return ok && word != "awg" && strings.Trim(rest, "-0123456789") == ""
}

func gaugeSpellings() []spelling {
	return []spelling{
		{longestForm(`^(?i:awg)[ \t-]*([1-4])/0`), zeros},
		{longestForm(`^([1-4])/0(?:[ \t-]*(?i:awg|gauge|ga))?`), zeros},
		{longestForm(`^([0-9]{1,2}|0{3,4})[ \t]*-?(?i:awg|gauge|ga)`), gauge},
		{longestForm(`^(?i:awg)[ \t-]*([0-9]+)`), gauge},
	}
}

func zeros(w where, m []string) reading {
	if !w.bracket {
		return reading{}
	}
	text := "awg " + strings.Repeat("0", int(m[1][0]-'0'))
	return written(text, "`%s` is a gauge; it is written with the word `awg` before it and with as many noughts", m[0])
}

func gauge(w where, m []string) reading {
	text := "awg " + m[1]
	if !w.bracket || strings.Join(strings.Fields(m[0]), " ") == text || w.number {
		return reading{}
	}
	return written(text, "`%s` is a gauge; it is written with the word `awg` before it", m[0])
}

// Lengths in feet and inches, temperatures in Fahrenheit, horsepower. A foot is
// 0.3048 m and an inch 0.0254 m by definition; a horsepower is 550 foot-pounds a
// second, 745.7 W (NIST SP 811, appendix B.8).

const (
	feet   = `[ \t]*(?:(?i:ft|feet|foot)\.?|['′’])`
	inches = `[ \t]*(?:(?i:inch|inches|in)\b|["″”]|'')`
)

func lengthSpellings() []spelling {
	return []spelling{
		{longestForm(`^` + decimal + feet + `(?:[ \t]*` + decimal + inches + `)?`), func(w where, m []string) reading {
			if !w.bracket && !strings.ContainsAny(m[0], "fF") {
				return reading{}
			}
			return metres(m[0], 0.3048*parsed(m[1])+0.0254*parsed(m[2]))
		}},
		{longestForm(`^` + decimal + `[ \t]*(?:(?i:inch|inches)|["″”])`), func(w where, m []string) reading {
			if !w.bracket {
				return reading{}
			}
			return metres(m[0], 0.0254*parsed(m[1]))
		}},
		{longestForm(`^(-?[0-9]+(?:\.[0-9]+)?)[ \t]*(?:°[ \t]*F|(?i:deg|degrees)[ \t]*F|F|(?i:fahrenheit))`), func(_ where, m []string) reading {
			return written(fmt.Sprintf("%.0f degC", (parsed(m[1])-32)/1.8), "`%s` is in Fahrenheit; temperatures are in degrees Celsius", m[0])
		}},
		{longestForm(`^` + decimal + `[ \t]*(?i:hp|bhp)`), func(_ where, m []string) reading {
			r := written(plainNumber(0.746*parsed(m[1]))+" kW", "`%s` is in horsepower; powers are in watts, and those of motors are electrical", m[0])
			r.cure += ", or the electrical power that the maker states"
			return r
		}},
	}
}

func metres(found string, length float64) reading {
	return written(plainNumber(length)+" m", "`%s` is in feet or inches; lengths are in metres", found)
}

// plainNumber is a number with at most two decimals, without idle zeros.
func plainNumber(x float64) string {
	s := fmt.Sprintf("%.2f", x)
	return strings.TrimSuffix(strings.TrimRight(s, "0"), ".")
}

// parsed is a number that a pattern has seen; 0 for none.
func parsed(s string) float64 {
	var x float64
	fmt.Sscan(s, &x)
	return x
}

// Units, behind a number.

// otherUnits are spellings of units, in small letters; the longer ones first.
var otherUnits = []struct{ unit, name, forms string }{
	{"mm2", "sections", `mm2|mm²|sq\.?[ \t]*mm|mm[ \t]*(?:sq\b\.?|squared|\^2|\*\*2|²)|mmsq|qmm|mmq|square[ \t-]*(?:mm|millimet(?:re|er)s?)`},
	{"%/K", "changes with temperature", `(?:%|percent)[ \t]*(?:/|per)[ \t]*(?:k|c|°c|ºc|˚c|degc|deg(?:ree)?|kelvin)`},
	{"mV/K", "changes with temperature", `mv[ \t]*(?:/|per)[ \t]*(?:k|c|°c|ºc|˚c|degc|deg(?:ree)?|kelvin)`},
	{"V/K", "changes with temperature", `v[ \t]*(?:/|per)[ \t]*(?:c|°c|ºc|˚c|degc|deg(?:ree)?|kelvin)`},
	{"h/day", "hours of a day", `(?:h|hrs?|hours?)[ \t]*(?:/|per|a)[ \t]*(?:d|day)`},
	{"Ah", "capacities", `amp(?:ere)?s?[ \t-]*(?:h|hrs?|hours?)|a\.?h\.?`},
	{"Wh", "energies", `w(?:att)?[ \t-]*(?:h|hrs?|hours?)`},
	{"kWh", "energies", `kw[ \t-]*(?:h|hrs?|hours?)`},
	{"kVA", "apparent powers", `kva`},
	{"VA", "apparent powers", `va`},
	{"kW", "powers", `kw|kilowatts?`},
	{"W", "powers", `w|watts?`},
	{"kA", "currents", `ka|kiloamps?`},
	{"mA", "currents", `milliamps?`},
	{"A", "currents", `a(?:mps?|mperes?)?(?:[ \t]*[ad]c)?`},
	{"mV", "voltages", `millivolts?`},
	{"V", "voltages", `v(?:olts?)?(?:[ \t]*[ad]c)?`},
	{"mohm", "resistances", `milli[ \t-]*ohms?|mohms?`},
	{"ohm", "resistances", `ohms?`},
	{"Hz", "frequencies", `hz|hertz`},
	{"degC", "temperatures", `(?:°|º|˚|deg(?:ree)?s?\.?)[ \t]*(?:c|celsius)?|c|celsius`},
	{"m", "lengths", `m|mtrs?|met(?:re|er)s?`},
	{"mm", "lengths", `mm|millimet(?:re|er)s?`},
	{"cm", "lengths", `cm|centimet(?:re|er)s?`},
	{"min", "times", `min(?:ute)?s?`},
	{"h", "times", `h|hrs?|hours?`},
	{"s", "times", `sec(?:ond)?s?`},
	{"%", "shares", `percent|per[ \t]cent|pct`},
	{"day", "times", `days?`},
}

func unitSpellings() []spelling {
	var list []spelling
	for _, u := range otherUnits {
		list = append(list, spelling{longestForm(`^(?i:` + u.forms + `)`), func(w where, m []string) reading {
			found := m[0]
			if !w.number || slices.Contains(units, found) {
				return reading{}
			}
			if _, word := reserved[found]; word {
				return reading{}
			}
			r := written(u.unit, "`%s` is no unit here; %s are written in `%s`", found, u.name, u.unit)
			if u.unit == "mohm" && found[0] == 'M' {
				r.cure, r.open = "write `mohm` for thousandths of an ohm, `Mohm` for millions of ohms", true
			}
			return r
		}})
	}
	return list
}
