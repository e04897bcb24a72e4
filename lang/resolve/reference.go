package resolve

import "strings"

// What the language reference and an editor print of the tables.

// Plain tells a property that is a number or a word without a name of its own.
func (p Property) Plain() bool { return p.form.plain() }

// Example is the property as one would write it: `discharge 100 A`.
func (p Property) Example() string { return p.form.example() }

// Written is every way to write the property: `class t|blade`, `discharge 100 A`.
func (p Property) Written() string {
	var b []string
	for _, q := range p.form {
		switch {
		case q.word != "":
			b = append(b, q.word)
		case q.words != nil:
			b = append(b, strings.Join(q.words, "|"))
		default:
			b = append(b, slots[q.slot].example)
		}
	}
	return strings.Join(b, " ")
}

// CraftRow is one row that the craft's braces may hold.
type CraftRow struct{ Key, Written, Help string }

// CraftRows is the rows of the craft, in the order of the reference.
func CraftRows() []CraftRow {
	var rows []CraftRow
	for _, w := range craftWords {
		rows = append(rows, CraftRow{w.key, w.key + " " + w.sample, w.help})
	}
	return append(rows, CraftRow{"cable", "cable class 5, tinned, 105 degC, free", "what a cable is unless it says otherwise"})
}
