package size

import (
	"maps"
	"slices"
	"strings"

	"strake/lang/circuit"
)

// notes gathers the defaults that were used: one line a default, with the
// names of all that took it.
type notes struct {
	keys  []string
	lines map[string]*note
}

type note struct {
	text, source string
	on           []string
	seen         map[string]bool
}

func newNotes() *notes { return &notes{lines: map[string]*note{}} }

// clone is the same notes, to which others may be added.
func (n *notes) clone() *notes {
	c := &notes{lines: make(map[string]*note, len(n.lines)), keys: slices.Clone(n.keys)}
	for _, k := range n.keys {
		l := *n.lines[k]
		l.on, l.seen = slices.Clone(l.on), maps.Clone(l.seen)
		c.lines[k] = &l
	}
	return c
}

// assume says that a default was used for something of this name.
func (n *notes) assume(on, text, source string) {
	l, ok := n.lines[text]
	if !ok {
		l = &note{text: text, source: source, seen: map[string]bool{}}
		n.lines[text] = l
		n.keys = append(n.keys, text)
	}
	if !l.seen[on] {
		l.seen[on] = true
		l.on = append(l.on, on)
	}
}

func (n *notes) list() []circuit.Assumption {
	slices.Sort(n.keys)
	var list []circuit.Assumption
	for _, k := range n.keys {
		l := n.lines[k]
		slices.SortFunc(l.on, circuit.Compare)
		list = append(list, circuit.Assumption{On: strings.Join(l.on, ", "), Text: l.text, Source: l.source})
	}
	return list
}
