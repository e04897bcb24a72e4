package svg

import (
	"encoding/xml"
	"strconv"
	"strings"
)

// attr is one attribute. svgo writes attributes as they come, so everything
// goes through here, where whatever the author wrote is escaped.
func attr(name, value string) string {
	if plain(value) {
		return name + `="` + value + `"`
	}
	var b strings.Builder
	b.WriteString(name)
	b.WriteString(`="`)
	// A strings.Builder never fails.
	_ = xml.EscapeText(&b, []byte(value))
	b.WriteByte('"')
	return b.String()
}

// plain tells a text in which nothing is escaped, as most are.
func plain(s string) bool {
	for i := range len(s) {
		if c := s[i]; c < ' ' || c > '~' || c == '"' || c == '\'' || c == '&' || c == '<' || c == '>' {
			return false
		}
	}
	return true
}

func itoa(n int) string { return strconv.Itoa(n) }

// millimetres prints hundredths of a millimetre without needless zeros.
func millimetres(n int) string {
	s := itoa(n/100) + "." + itoa(n%100/10) + itoa(n%10)
	return strings.TrimSuffix(strings.TrimRight(s, "0"), ".") + "mm"
}
