// The schedule as text: aligned columns, narrow enough for a terminal.
package paper

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"text/tabwriter"
)

// Text prints all the schedules; the closing line is the account of the checks.
func (s Schedule) Text(closing string) string {
	var b strings.Builder
	b.WriteString("Cables (length one way; drop from the source's terminals; a size after needs is proposed, not stated)\n\n")
	table(&b, []string{"cable", "from", "to", "m", "mm²", "A", "holds A", "guarded by", "A", "drop %", "of %", "governed by", "margin", "status", "current of"}, s.cableLines())
	b.WriteString(s.Copper.line())
	b.WriteString("\nProtection (fault current: the most that can flow there; loop: the most with which a fault to earth opens a mains breaker at once)\n\n")
	table(&b, []string{"ref", "kind", "A", "V", "highest V", "breaks kA", "fault kA", "loop Ω", "protects", "place", "status"}, s.protectionLines())
	if len(s.Bonds) > 0 {
		b.WriteString("\nBonds and protective conductors of their own\n\n")
		table(&b, []string{"bond", "from", "to", "m", "mm²", "least", "beside", "status"}, s.bondLines())
	}
	for _, board := range s.Boards {
		fmt.Fprintf(&b, "\nBoard %s\n\n", strings.TrimSpace(board.Ref+" "+board.label))
		table(&b, []string{"way", "A", "load W", "label", "cable", "status"}, board.lines())
		if len(board.Spare) > 0 {
			fmt.Fprintf(&b, "spare: %s\n", wayList(board.Spare))
		}
	}
	if len(s.Assumptions) > 0 {
		b.WriteString("\nAssumed, as the text does not say it\n\n" + assumptionLines(s.Assumptions))
	}
	b.WriteString("\nCAUTION: batteries stay live at their posts. Isolate, lock off and prove dead before work;\n" +
		"local rules and licensed practice come first.\n")
	fmt.Fprintf(&b, "%s\n", closing)
	return b.String()
}

// line tells the copper of what is proposed, and how near it is to the least.
func (c *CopperRow) line() string {
	if c == nil {
		return ""
	}
	text := fmt.Sprintf("\nCopper of the proposed sizes: %s kg", strconv.FormatFloat(c.KG, 'f', 2, 64))
	if c.BoundKG < c.KG {
		return text + fmt.Sprintf("; in rings not proven least, at most %.0f %% above it\n", math.Ceil(100*(c.KG/c.BoundKG-1)))
	}
	return text + ", the least with which every limit that is known holds\n"
}

func (s Schedule) cableLines() [][]string {
	var lines [][]string
	for _, c := range s.Cables {
		if c.link {
			continue // a bar or a bolted joint: nothing to cut or to order
		}
		area := show(c.AreaMM2)
		if c.Gauge != nil {
			area = "AWG " + *c.Gauge
		}
		if c.AreaMM2 != nil && c.Parallel > 1 {
			area = fmt.Sprintf("%d x %s", c.Parallel, area)
		}
		if c.chosen {
			area = "needs " + area
		}
		lines = append(lines, []string{c.ID, c.From, c.To, show(c.LengthM), area, show(c.DesignCurrentA), show(c.AmpacityA),
			strings.Join(c.Protection, " "), show(c.ProtectionA), show(c.CumulativeDropPct), show(c.DropLimitPct), word(c.GovernedBy), c.margin(), c.Status, word(c.DesignCase)})
	}
	return lines
}

// margin is what a cable has in hand: how long it may be, and how large its
// device; of one that fails, what would do.
func (c CableRow) margin() string {
	var parts []string
	if c.WouldDoMM2 != nil {
		return "would do: " + show(c.WouldDoMM2) + " mm²"
	}
	if c.HoldsToM != nil {
		parts = append(parts, "to "+tenth(c.HoldsToM)+" m")
	}
	if c.MostProtectionA != nil {
		parts = append(parts, "device to "+show(c.MostProtectionA)+" A")
	}
	if len(parts) == 0 {
		return "-"
	}
	return strings.Join(parts, ", ")
}

// tenth is a length cut to a tenth, never more than it is.
func tenth(v *float64) string {
	return strconv.FormatFloat(math.Floor(*v*10+1e-9)/10, 'f', -1, 64)
}

func (s Schedule) protectionLines() [][]string {
	var lines [][]string
	for _, p := range s.Protection {
		rating := show(p.RatingA)
		if p.chosen {
			rating = "needs " + rating
		}
		lines = append(lines, []string{p.Ref, p.Kind, rating, show(p.VoltageV), show(p.NodeMaxV), thousandth(p.BreaksA), thousandth(p.FaultMaxA), show(p.LoopOhm),
			strings.Join(p.Protects, " "), word(p.Place), p.Status})
	}
	return lines
}

func (s Schedule) bondLines() [][]string {
	var lines [][]string
	for _, b := range s.Bonds {
		area := show(b.AreaMM2)
		if b.chosen {
			area = "needs " + area
		}
		lines = append(lines, []string{b.ID, b.From, b.To, show(b.LengthM), area, show(&b.LeastMM2), word(b.Beside), b.Status})
	}
	return lines
}

func (b BoardRow) lines() [][]string {
	var lines [][]string
	for _, w := range b.Ways {
		lines = append(lines, []string{strconv.Itoa(w.Way), show(w.RatingA), show(w.LoadW), word(w.Label), word(w.Cable), w.Status})
	}
	return lines
}

// wayList writes 3, 5..8 for 3 5 6 7 8.
func wayList(ways []int) string {
	var parts []string
	for i := 0; i < len(ways); {
		j := i
		for j+1 < len(ways) && ways[j+1] == ways[j]+1 {
			j++
		}
		if i == j {
			parts = append(parts, strconv.Itoa(ways[i]))
		} else {
			parts = append(parts, fmt.Sprintf("%d..%d", ways[i], ways[j]))
		}
		i = j + 1
	}
	return strings.Join(parts, ", ")
}

func table(b *strings.Builder, head []string, lines [][]string) {
	w := tabwriter.NewWriter(b, 0, 0, 2, ' ', 0)
	for _, line := range append([][]string{head}, lines...) {
		for i, cell := range line {
			if cell == "" {
				line[i] = "-"
			}
		}
		fmt.Fprintln(w, strings.Join(line, "\t"))
	}
	w.Flush() // a strings.Builder takes everything
}

// show prints three significant digits; a dash stands for what is not known.
func show(v *float64) string {
	if v == nil {
		return "-"
	}
	s := strconv.FormatFloat(*v, 'g', 3, 64)
	if strings.Contains(s, "e") {
		s = strconv.FormatFloat(*v, 'f', 0, 64)
	}
	return s
}

func thousandth(v *float64) string {
	if v == nil {
		return "-"
	}
	k := *v / 1000
	return show(&k)
}

func word(s *string) string {
	if s == nil {
		return "-"
	}
	return *s
}
