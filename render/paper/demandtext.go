// The demand as text: one block a condition, then banks, charging, boards and
// days, narrow enough for a terminal.
package paper

import (
	"fmt"
	"reflect"
	"slices"
	"strings"
)

// Text prints the demand; the closing line is the account of the checks.
func (d Demand) Text(closing string) string {
	var b strings.Builder
	b.WriteString("Demand. What is left is the constant current that a bar or the end of a way's cable can give besides what is on,\n" +
		"until the first thing on its way is at its limit. The checks hold everything at its rating besides.\n")
	var before *ConditionRow
	for _, c := range twice(d.Conditions, func(c *ConditionRow) *string { return &c.Configuration }) {
		if c.Kind != "charging" {
			c.print(&b, before)
			before = &c
		}
	}
	d.printBanks(&b)
	d.printCharging(&b)
	d.printBoards(&b)
	d.printDays(&b)
	if len(d.Assumptions) > 0 {
		heading(&b, "Assumed, as the text does not say it")
		b.WriteString(assumptionLines(d.Assumptions))
	}
	b.WriteString("\nCAUTION: batteries stay live at their posts. Isolate, lock off and prove dead before work;\n" +
		"local rules and licensed practice come first.\n")
	fmt.Fprintf(&b, "%s\n", closing)
	return b.String()
}

// twice makes one row of two that differ by their configuration alone, and words
// of what is left.
func twice[T any](rows []T, configuration func(*T) *string) []T {
	var list []T
	taken := make([]bool, len(rows))
	for i, row := range rows {
		if taken[i] {
			continue
		}
		words := strings.ReplaceAll(*configuration(&row), "-", " ")
		for j := i + 1; j < len(rows) && !taken[i]; j++ {
			other := rows[j]
			mine, its := *configuration(&row), *configuration(&other)
			*configuration(&other) = mine
			if mine != its && !taken[j] && reflect.DeepEqual(row, other) {
				words, taken[i], taken[j] = "as handed over and fully equipped", true, true
			}
		}
		*configuration(&row) = words
		list = append(list, row)
	}
	return list
}

// print writes a condition. Of its other configuration, when that went before,
// only what differs is written.
func (c ConditionRow) print(b *strings.Builder, before *ConditionRow) {
	heading(b, fmt.Sprintf("%s, %s", c.Name, c.Configuration))
	if before == nil || before.Name != c.Name || before.Refused != nil {
		before = &ConditionRow{}
	}
	if c.Refused != nil {
		fmt.Fprintf(b, "NO SOLUTION: %s.\n", *c.Refused)
		for _, l := range c.Limits {
			fmt.Fprintf(b, "%s asks for %s W; its way delivers %s W at most.\n", l.Node, show(l.AsksW), show(l.MostW))
		}
	} else {
		left := part(b, []string{"bar or way", "label", "V", "V at end", "A", "W", "left A", "bound by"}, c.loadLines(), before.loadLines())
		left = part(b, []string{"load", "V", "A", "W"}, c.takerLines(), before.takerLines()) || left
		left = part(b, []string{"source", "A", "W", "lasts"}, c.sourceLines(), before.sourceLines()) || left
		if left {
			b.WriteString("what is not listed is as above\n")
		}
	}
	if c.Lowest != nil {
		fmt.Fprintf(b, "lowest: %s has %s V, %s %% of the nominal voltage\n", c.Lowest.Node, show(c.Lowest.VoltageV), show(c.Lowest.Percent))
	}
	for _, s := range c.Supports {
		verb := "are"
		if len(s.Beside) == 1 {
			verb = "is"
		}
		from, beside := strings.Join(s.From, ", "), strings.Join(s.Beside, ", ")
		if *s.LeftA < 0 {
			fmt.Fprintf(b, "%s can give %s A, the loads take %s A: %s %s drawn upon\n", from, show(s.GivesA), show(s.TakesA), beside, verb)
		} else {
			fmt.Fprintf(b, "%s can give %s A, the loads take %s A: %s A more before %s %s drawn upon\n", from, show(s.GivesA), show(s.TakesA), show(s.LeftA), beside, verb)
		}
	}
	for _, n := range c.Notes {
		fmt.Fprintf(b, "%s\n", n)
	}
	printMissing(b, c.Missing)
}

// part writes those lines of a table that did not stand in the one before, and
// tells whether any were left out.
func part(b *strings.Builder, head []string, lines, before [][]string) bool {
	stood := map[string]bool{}
	for _, l := range before {
		stood[strings.Join(l, "\t")] = true
	}
	fresh := slices.DeleteFunc(slices.Clone(lines), func(l []string) bool { return stood[strings.Join(l, "\t")] })
	if len(fresh) > 0 {
		table(b, head, fresh)
		b.WriteString("\n")
	}
	return len(fresh) < len(lines)
}

func heading(b *strings.Builder, title string) {
	fmt.Fprintf(b, "\n%s\n%s\n\n", title, strings.Repeat("-", len([]rune(title))))
}

func printMissing(b *strings.Builder, missing []string) {
	if len(missing) > 0 {
		fmt.Fprintf(b, "not known, for want of: %s\n", strings.Join(missing, "; "))
	}
}

func (c ConditionRow) loadLines() [][]string {
	var lines [][]string
	for _, l := range c.Loads {
		if l.VoltageV == nil && l.CurrentA == nil && len(c.Missing) == 0 {
			continue // dead in this condition
		}
		name, far, label := l.Ref, "", short(l.Label)
		if len(l.Spare) > 0 {
			label += " (spare " + wayList(l.Spare) + ")"
		}
		if l.Kind == "way" {
			name, far = "  "+name, volts(l.FarV)
		}
		lines = append(lines, []string{name, label, volts(l.VoltageV), far, small(l.CurrentA), show(l.PowerW), l.left(), l.bound()})
	}
	return lines
}

func (l LoadRow) left() string {
	if l.HeadroomA != nil && *l.HeadroomA < 0 {
		over := -*l.HeadroomA
		return "OVER by " + show(&over)
	}
	return small(l.HeadroomA)
}

func (l LoadRow) bound() string {
	text := "-"
	if l.BoundBy != nil {
		text = *l.BoundBy
		if l.LimitA != nil {
			text += ", " + show(l.LimitA) + " A"
		}
	}
	if len(l.NotCounted) > 0 {
		text += "; not stated: " + strings.Join(l.NotCounted, ", ")
	}
	return text
}

// takerLines is the loads that stand on no way; those on one have its row.
func (c ConditionRow) takerLines() [][]string {
	var lines [][]string
	for _, t := range c.Takers {
		if !t.way && t.CurrentA != nil {
			lines = append(lines, []string{t.Node, volts(t.VoltageV), small(t.CurrentA), show(t.PowerW)})
		}
	}
	return lines
}

// sourceLines is the sources, each bank as one and what stands for it left out.
func (c ConditionRow) sourceLines() [][]string {
	var lines [][]string
	for _, e := range c.Banks {
		lasts := ""
		switch {
		case e.LastsH != nil:
			lasts = span(e.LastsH)
		case e.ChargeA != nil:
			lasts = "charged"
		}
		lines = append(lines, []string{e.Bank, small(e.CurrentA), show(e.PowerW), lasts})
	}
	for _, s := range c.Sources {
		if !s.stored && s.CurrentA != nil && *s.CurrentA != 0 {
			lines = append(lines, []string{s.Ref, small(s.CurrentA), show(s.PowerW), ""})
		}
	}
	return lines
}

func (d Demand) printBanks(b *strings.Builder) {
	if len(d.Banks) == 0 {
		return
	}
	heading(b, "Banks")
	var lines [][]string
	for _, k := range d.Banks {
		lines = append(lines, []string{k.Ref, short(k.Label), show(k.CapacityAh), show(k.VoltageV), show(k.UsablePct), thousandth(k.UsableWh), show(k.AcceptsA)})
	}
	table(b, []string{"bank", "label", "Ah", "V", "usable %", "usable kWh", "accepts A"}, lines)
	for _, k := range d.Banks {
		printMissing(b, k.Missing)
	}
}

func (d Demand) printCharging(b *strings.Builder) {
	var lines [][]string
	lead := map[string]bool{}
	for _, k := range d.Banks {
		lead[k.Ref] = k.lead
	}
	tail := false
	var refused []string
	var situations []ConditionRow
	for _, c := range d.Conditions {
		if c.Kind == "charging" {
			situations = append(situations, ConditionRow{Name: c.Name, Configuration: c.Configuration, Refused: c.Refused, Banks: c.Banks})
		}
	}
	for _, c := range twice(situations, func(c *ConditionRow) *string { return &c.Configuration }) {
		name := strings.TrimPrefix(c.Name, "charging from ")
		if c.Configuration == "fully equipped" || c.Configuration == "as handed over" {
			name += " (" + c.Configuration + ")"
		}
		if c.Refused != nil {
			refused = append(refused, name+": NO SOLUTION: "+*c.Refused)
		}
		for _, e := range c.Banks {
			if e.ChargeA == nil {
				continue
			}
			full := span(e.FullH)
			if lead[e.Bank] {
				full, tail = full+" *", true
			}
			var by []string
			for _, g := range e.From {
				text := g.Ref + " " + small(g.CurrentA) + " A"
				if g.AtLimit {
					text += ", its limit"
				}
				by = append(by, text)
			}
			bounds := ""
			if e.BoundedBy != nil {
				bounds = *e.BoundedBy
			}
			lines = append(lines, []string{name, e.Bank, small(e.ChargeA), full, strings.Join(by, "; "), bounds})
		}
	}
	if len(lines) == 0 && len(refused) == 0 {
		return
	}
	heading(b, "Charging, with no load on, until what is usable is in again")
	table(b, []string{"from", "bank", "A", "full in", "by", "held back: set the chargers lower"}, lines)
	if tail {
		b.WriteString("* a lead battery takes ever less above about 80 %: the last fifth takes longer than this\n")
	}
	for _, r := range refused {
		fmt.Fprintf(b, "%s\n", r)
	}
}

func (d Demand) printBoards(b *strings.Builder) {
	rows := twice(d.Boards, func(r *DiversityRow) *string { return &r.Configuration })
	if len(rows) == 0 {
		return
	}
	heading(b, "Boards, not everything at once; governs no size")
	var lines [][]string
	var sources, missing []string
	for _, r := range rows {
		lines = append(lines, []string{r.Ref, small(r.ContinuousA), small(r.IntermittentA), small(r.LargestA), small(r.DemandA), r.Configuration})
		if !strings.Contains(strings.Join(sources, "\n"), r.Source) {
			sources = append(sources, r.Source)
		}
		missing = append(missing, r.Missing...)
	}
	table(b, []string{"board", "continuous A", "intermittent A", "largest A", "feeder A", "configuration"}, lines)
	for _, s := range sources {
		fmt.Fprintf(b, "by %s\n", s)
	}
	printMissing(b, missing)
}

// printDays prints what all days have in one table, then what each takes; days
// that take the same share its lines.
func (d Demand) printDays(b *strings.Builder) {
	days := twice(d.Days, func(r *DayRow) *string { return &r.Configuration })
	if len(days) == 0 {
		return
	}
	heading(b, "Days")
	b.WriteString("kWh; days that full banks last until what is usable is out; hours of a source that make up what is short\n\n")
	var lines [][]string
	for _, r := range days {
		var runs []string
		for _, run := range r.Runs {
			runs = append(runs, strings.Join(run.From, ", ")+" "+span(run.Hours))
		}
		lines = append(lines, []string{r.Name, r.Configuration, thousandth(r.DemandWh), show(r.SunH), thousandth(r.SolarWh), thousandth(r.BalanceWh),
			show(r.LastsDays), show(r.LacksDays), strings.Join(runs, ", ")})
	}
	table(b, []string{"day", "configuration", "takes", "sun h", "sun brings", "left", "banks alone", "with the sun", "or run"}, lines)
	said := map[string]bool{}
	for i, r := range days {
		names := r.title()
		for _, other := range days[i+1:] {
			if reflect.DeepEqual(other.Parts, r.Parts) && reflect.DeepEqual(other.Notes, r.Notes) && reflect.DeepEqual(other.Missing, r.Missing) {
				names += "; " + other.title()
			}
		}
		key := fmt.Sprint(r.partLines(), r.Notes, r.Missing)
		if said[key] {
			continue
		}
		said[key] = true
		if len(r.Parts)+len(r.Missing) > 0 {
			fmt.Fprintf(b, "\n%s:\n", names)
		}
		if len(r.Parts) > 0 {
			table(b, []string{"  takes", "h", "W", "kWh"}, r.partLines())
		}
		for _, n := range r.Notes {
			fmt.Fprintf(b, "  %s\n", n)
		}
		if len(r.Missing) > 0 {
			fmt.Fprintf(b, "  not known, for want of: %s\n", strings.Join(r.Missing, "; "))
		}
	}
}

func (r DayRow) title() string { return r.Name + " (" + r.Configuration + ")" }

func (r DayRow) partLines() [][]string {
	var lines [][]string
	for _, p := range r.Parts {
		lines = append(lines, []string{"  " + p.Name, show(p.Hours), show(p.PowerW), thousandth(p.EnergyWh)})
	}
	return lines
}

// span prints hours; what is less than one, in minutes.
func span(h *float64) string {
	if h != nil && *h < 1 {
		minutes := *h * 60
		return show(&minutes) + " min"
	}
	if h == nil {
		return "-"
	}
	return show(h) + " h"
}

// volts prints a voltage to a hundredth.
func volts(v *float64) string {
	if v == nil {
		return "-"
	}
	return fmt.Sprintf("%.2f", *v)
}

// small prints a current; next to nothing is 0.
func small(v *float64) string {
	if v != nil && *v < 5e-3 && *v > -5e-3 {
		return "0"
	}
	return show(v)
}

// short cuts a label that would make a table too wide.
func short(s *string) string {
	const most = 24
	if s == nil {
		return ""
	}
	if r := []rune(*s); len(r) > most {
		return string(r[:most-1]) + "…"
	}
	return *s
}
