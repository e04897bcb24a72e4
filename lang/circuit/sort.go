package circuit

import "strings"

// Compare orders names as a person would: runs of digits by their value, so
// that DB1.2 stands before DB1.10. Names that differ only in leading zeros are
// told apart by their text, so that the order is total.
func Compare(a, b string) int {
	i, j := 0, 0
	for i < len(a) && j < len(b) {
		if isDigit(a[i]) && isDigit(b[j]) {
			x, y := digits(a[i:]), digits(b[j:])
			i, j = i+len(x), j+len(y)
			x, y = strings.TrimLeft(x, "0"), strings.TrimLeft(y, "0")
			if len(x) != len(y) {
				return len(x) - len(y)
			}
			if c := strings.Compare(x, y); c != 0 {
				return c
			}
			continue
		}
		if a[i] != b[j] {
			return int(a[i]) - int(b[j])
		}
		i, j = i+1, j+1
	}
	if c := (len(a) - i) - (len(b) - j); c != 0 {
		return c
	}
	return strings.Compare(a, b)
}

func digits(s string) string {
	n := 0
	for n < len(s) && isDigit(s[n]) {
		n++
	}
	return s[:n]
}

func isDigit(c byte) bool { return c >= '0' && c <= '9' }
