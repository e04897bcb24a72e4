package main

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"strake/lang"
	"strake/lang/diag"
)

// What the schedule says and what the findings say are one truth: no row beyond
// a limit that nothing accuses, none "ok" that something accuses. Held for the
// examples and for random craft, as they are and made worse in one way.
func TestScheduleAndFindingsAgree(t *testing.T) {
	texts := exampleTexts(t)
	for _, name := range sortedNames(texts) {
		for i, w := range worsenings {
			if i > 0 && (testing.Short() || strings.Contains(name, "-mistakes")) {
				break
			}
			agrees(t, name+", "+w.name, w.apply(texts[name]))
		}
	}
	seeds := uint64(20)
	if testing.Short() {
		seeds = 5
	}
	for seed := uint64(1); seed <= seeds; seed++ {
		w := worsenings[seed%uint64(len(worsenings))]
		agrees(t, fmt.Sprintf("seed %d, %s", seed, w.name), w.apply(randomCraft(seed, 25+int(seed*11%56))))
	}
}

var (
	inBrackets = regexp.MustCompile(`\[[^\]\n]*\]`)
	sizeWords  = regexp.MustCompile(` ?(\d parallel )?[\d.]+ mm2`)
)

// worsenings are the ways in which a craft is changed all over.
var worsenings = []struct {
	name  string
	apply func(string) string
}{
	{"as it is", func(s string) string { return s }},
	{"no size written", func(s string) string {
		return inBrackets.ReplaceAllStringFunc(s, func(c string) string { return sizeWords.ReplaceAllString(c, "") })
	}},
	{"thin cables", func(s string) string {
		return inBrackets.ReplaceAllStringFunc(s, func(c string) string { return sizeWords.ReplaceAllString(c, " 2.5 mm2") })
	}},
	{"long cables", func(s string) string {
		return inBrackets.ReplaceAllStringFunc(s, func(c string) string {
			return regexp.MustCompile(`([\d.]+) m( |\])`).ReplaceAllString(c, "${1}0 m$2")
		})
	}},
	{"weak devices", func(s string) string {
		return regexp.MustCompile(`breaks [\d.]+ kA`).ReplaceAllString(s, "breaks 1 kA")
	}},
}

func agrees(t *testing.T, name, text string) {
	r := compile("craft.strake", text)
	if r.HasErrors() {
		t.Errorf("%s: not a text", name)
		return
	}
	for i := range r.Plan.Cables {
		c := &r.Plan.Cables[i]
		if c.Of.Link {
			continue
		}
		accused := accusing(&r, c.Of.ID)
		if c.Result == "ok" {
			assert.Empty(t, accused, "%s: %s is ok in the schedule", name, c.Of.ID)
		}
		if c.Withstand == "fails" || c.ProtectionRating.Known && c.Ampacity.Known && c.Ampacity.Value < c.ProtectionRating.Value {
			assert.NotEmpty(t, accused, "%s: %s holds %v, %v protects it, withstand %s", name, c.Of.ID, c.Ampacity.Value, c.ProtectionRating.Value, c.Withstand)
		}
		if c.CumulativePercent.Known && c.Limit.Known && c.CumulativePercent.Value > c.Limit.Value {
			assert.True(t, slices.ContainsFunc(r.Findings, func(f diag.Finding) bool { return f.Rule == "volt-drop" }), "%s: %s loses more than its limit", name, c.Of.ID)
		}
	}
	for i := range r.Plan.Devices {
		d := &r.Plan.Devices[i]
		if spare := d.Of.Way != nil && d.Of.Way.Spare; !spare && d.Of.Nature().Protects && d.Breaks.Known && d.FaultMax.Known && d.FaultMax.Value > d.Breaks.Value {
			assert.NotEmpty(t, accusing(&r, d.Of.Ref), "%s: %s breaks less than what can flow", name, d.Of.Ref)
		}
	}
}

// accusing are the findings at fault or above that concern a cable or a device.
func accusing(r *lang.Result, name string) []string {
	var list []string
	for _, f := range r.Findings {
		if f.Severity <= diag.Fault && f.Accepted == "" && slices.Contains(f.Items, name) {
			list = append(list, strings.Join([]string{f.Severity.String(), f.Rule, f.Message}, " "))
		}
	}
	return list
}
