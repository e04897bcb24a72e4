package resolve

import (
	"slices"

	"strake/lang/circuit"
)

// Kind is one row of the table of kinds: all that the text can say of a thing
// of this kind. The setters, the messages and the language reference are made
// from it.
type Kind struct {
	Name       string
	Letter     string // IEC 81346-2, first letter
	Help       string // what it is, in a few words
	Ports      []PortRow
	Properties []Property
	Example    string // one line of a craft
	Group      string // heading in the reference
}

// PortRow is one terminal of a kind.
type PortRow struct {
	Name     string // "" is the undotted one
	Help     string
	Optional bool // there only when the text uses it
	Control  bool // takes no power from the line: coil, enable, start
}

// Property is one property of a kind and how it is written.
type Property struct {
	Name string // what messages call it
	Form string // `discharge {A}`
	Help string

	set func(f *circuit.Facts, m match)
	// what it states: two properties of one list that state the same exclude each other
	states string
	form   form
}

// Nature is what the kind is electrically.
func (k *Kind) Nature() circuit.Nature { return circuit.NatureOf(circuit.Kind(k.Name)) }

// Kinds is the table of kinds, in the order of the reference.
func Kinds() []*Kind { return table }

// kindNamed is the row of a kind, or nil.
func kindNamed(name string) *Kind {
	i := slices.IndexFunc(table, func(k *Kind) bool { return k.Name == name })
	if i < 0 {
		return nil
	}
	return table[i]
}

var table = slices.Concat(sourceKinds, barKinds, switchKinds, protectionKinds, conversionKinds, loadKinds, controlKinds)

// row is a row of the table; its properties may come in lists.
func row(group, name, letter, help, example string, ports []PortRow, lists ...[]Property) *Kind {
	return &Kind{Name: name, Letter: letter, Help: help, Example: example, Group: group,
		Ports: ports, Properties: slices.Concat(lists...)}
}

// list gathers properties.
func list(ps ...Property) []Property { return ps }

// property is a property that takes a number or a word and states what its name says.
func property(name, form, help string, set func(*circuit.Facts, match)) Property {
	return Property{Name: name, Form: form, Help: help, set: set, states: name, form: parseForm(form)}
}

// or makes a property exclude others: all that state the same thing.
func (p Property) or(states string) Property {
	p.states = states
	return p
}

// The ports that several kinds share.
var (
	oneEnd  = []PortRow{{Name: "", Help: "its terminal"}}
	twoEnds = []PortRow{{Name: "in", Help: "where power comes in"}, {Name: "out", Help: "where it goes out"}}
	coil    = PortRow{Name: "coil", Help: "its coil", Control: true}
	enable  = PortRow{Name: "enable", Help: "its enable input", Control: true}
)

func ports(base []PortRow, more ...PortRow) []PortRow { return slices.Concat(base, more) }
