package size

import (
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
}

func newNotes() *notes { return &notes{lines: map[string]*note{}} }

// assume says that a default was used for something of this name.
func (n *notes) assume(on, text, source string) {
	l, ok := n.lines[text]
	if !ok {
		l = &note{text: text, source: source}
		n.lines[text] = l
		n.keys = append(n.keys, text)
	}
	if !slices.Contains(l.on, on) {
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
