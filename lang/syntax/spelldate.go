package syntax

// Dates in another form than year, month and day.

import (
	"fmt"
	"slices"
	"strings"
)

var months = []string{"jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec"}

const monthForm = `((?i:jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec)[a-z]*)`

func dateSpellings() []spelling {
	return []spelling{
		{longestForm(`^"?([0-9]{4})([-./])([0-9]{1,2})[-./]([0-9]{1,2})"?`), func(w where, m []string) reading {
			if m[0] == m[1]+"-"+m[3]+"-"+m[4] && len(m[3]) == 2 && len(m[4]) == 2 {
				return reading{}
			}
			return date(w, m[0], m[1], [2]string{m[3], m[4]})
		}},
		{longestForm(`^"?([0-9]{1,2})[-./]([0-9]{1,2})[-./]([0-9]{4}|[0-9]{2})"?`), func(w where, m []string) reading {
			if len(m[3]) == 2 && w.before.Value != "dated" && w.opening != "" {
				return reading{}
			}
			year := m[3]
			if len(year) == 2 {
				year = "20" + year
			}
			return date(w, m[0], year, [2]string{m[2], m[1]}, [2]string{m[1], m[2]})
		}},
		{longestForm(`^"?([0-9]{1,2})(?:st|nd|rd|th)?[ \t./-]*` + monthForm + `[ \t.,/-]*([0-9]{4})"?`), func(w where, m []string) reading {
			return date(w, m[0], m[3], [2]string{monthNumber(m[2]), m[1]})
		}},
		{longestForm(`^"?` + monthForm + `[ \t.]*([0-9]{1,2})(?:st|nd|rd|th)?[ \t,]*([0-9]{4})"?`), func(w where, m []string) reading {
			return date(w, m[0], m[3], [2]string{monthNumber(m[1]), m[2]})
		}},
	}
}

func monthNumber(name string) string {
	return fmt.Sprint(1 + slices.Index(months, strings.ToLower(name[:3])))
}

// longest is how many days a month can have.
var longest = [...]int{31, 29, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31}

// date reads a year with its possible months and days.
func date(w where, found, year string, monthDays ...[2]string) reading {
	if w.bracket || w.glued && w.before.Type != typeColon || w.before.Type == typeDot {
		return reading{}
	}
	var read []string
	for _, md := range monthDays {
		month, day := int(parsed(md[0])), int(parsed(md[1]))
		if month < 1 || month > 12 || day < 1 || day > longest[month-1] {
			continue
		}
		if iso := fmt.Sprintf("%s-%02d-%02d", year, month, day); !slices.Contains(read, iso) {
			read = append(read, iso)
		}
	}
	if len(read) == 0 {
		return reading{}
	}
	lead := ""
	if w.opening == "" && w.before.Value != "dated" && w.before.Value != "date" {
		lead = "dated " // a row of the craft
	}
	r := written(lead+read[0], "`%s` is no date here; a date is year, month and day, in figures", found)
	r.each = true
	if len(read) > 1 {
		name := func(iso string) string {
			return "`" + lead + iso + "` for " + strings.TrimLeft(iso[8:], "0") + " " + monthNames[int(parsed(iso[5:7]))-1]
		}
		r.open = true
		r.cure = "write " + name(read[0]) + " or " + name(read[1])
	}
	return r
}

var monthNames = []string{"January", "February", "March", "April", "May", "June", "July", "August", "September", "October", "November", "December"}
