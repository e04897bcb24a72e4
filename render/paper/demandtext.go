// The demand as text: one block a condition, narrow enough for a terminal.
package paper

import (
	"fmt"
	"strings"
)

// Text prints the demand; the closing line is the account of the checks.
func (d Demand) Text(closing string) string {
	var b strings.Builder
	for _, c := range d.Conditions {
		fmt.Fprintf(&b, "%s, %s\n\n", c.Name, strings.ReplaceAll(c.Configuration, "-", " "))
		if c.Refused != nil {
			fmt.Fprintf(&b, "NO SOLUTION: %s\n", *c.Refused)
			for _, l := range c.Limits {
				fmt.Fprintf(&b, "%s asks for %s W; its way delivers %s W at most\n", l.Node, show(l.AsksW), show(l.MostW))
			}
		}
		var lines [][]string
		for _, s := range c.Sources {
			lines = append(lines, []string{s.Ref, show(s.CurrentA), show(s.PowerW)})
		}
		table(&b, []string{"source", "A", "W"}, lines)
		b.WriteString("\n")
	}
	fmt.Fprintf(&b, "%s\n", closing)
	return b.String()
}
