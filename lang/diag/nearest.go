package diag

import "strings"

// Nearest is the candidate that a word was most likely meant to be, or nothing
// when none is near: one slip in three letters, two in six, three in nine or
// more. Letters that changed places are one slip; case is none. Of equally
// near candidates the first is taken.
func Nearest(word string, candidates []string) string {
	folded := []rune(strings.ToLower(word))
	best, limit := "", min(len(folded)/3, 3)
	for _, c := range candidates {
		if c == word {
			continue
		}
		other := []rune(strings.ToLower(c))
		if len(other) > len(folded)+limit || len(folded) > len(other)+limit {
			continue
		}
		if d := distance(folded, other); d <= limit {
			best, limit = c, d-1
		}
	}
	return best
}

// distance counts letters put in, left out, exchanged, or swapped with their neighbour.
func distance(a, b []rune) int {
	rows := make([][]int, len(a)+1)
	for i := range rows {
		rows[i] = make([]int, len(b)+1)
		rows[i][0] = i
	}
	for j := range rows[0] {
		rows[0][j] = j
	}
	for i := 1; i <= len(a); i++ {
		for j := 1; j <= len(b); j++ {
			cost := 1
			if a[i-1] == b[j-1] {
				cost = 0
			}
			d := min(rows[i-1][j]+1, rows[i][j-1]+1, rows[i-1][j-1]+cost)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				d = min(d, rows[i-2][j-2]+1)
			}
			rows[i][j] = d
		}
	}
	return rows[len(a)][len(b)]
}
