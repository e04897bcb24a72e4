// A small edit moves little: a settled craft that gains or loses one way or
// feeder keeps the rest of its drawing.
package main

import (
	"fmt"
	"math"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strake/lang"
	"strake/lang/circuit"
	"strake/lang/source"
	"strake/lang/syntax"
	"strake/layout"
	"strake/render/schematic"
)

// spot is where a thing stands: a sheet, and the box of its ink in millimetres.
type spot struct {
	sheet int
	box   rect
}

// moved tells a thing that stands elsewhere. A bar that grew at one end stands
// where it stood.
func (s spot) moved(o spot) bool {
	const limit = 10
	left, right := math.Abs(s.box.x0-o.box.x0), math.Abs(s.box.x1-o.box.x1)
	return s.sheet != o.sheet || math.Hypot(min(left, right), s.box.y0-o.box.y0) > limit
}

// spots are the places of all devices and bars of a drawing.
func spots(t testing.TB, r lang.Result, effort layout.Effort) map[string]spot {
	t.Helper()
	out := map[string]spot{}
	for i, text := range pages(t, r, effort) {
		raw, err := readSheet(text)
		require.NoError(t, err)
		v := viewSheet(raw)
		for _, d := range v.devices {
			key := d.item + " " + d.kind()
			for out[key].sheet > 0 {
				key += "'"
			}
			out[key] = spot{i + 1, d.box}
		}
		for _, b := range v.bars {
			box := nowhere
			for _, k := range b.shapes {
				box = box.join(k.box)
			}
			out[b.item+" bar"] = spot{i + 1, box}
		}
	}
	return out
}

// movedShare is the share of things in both drawings that moved over 10 mm.
func movedShare(a, b map[string]spot) float64 {
	both, moved := 0, 0
	for key, s := range a {
		o, ok := b[key]
		if !ok || strings.HasSuffix(key, " spare") {
			continue
		}
		both++
		if s.moved(o) {
			moved++
		}
	}
	return float64(moved) / float64(max(1, both))
}

// edit is a stretch of a craft's text that can be taken away.
type edit struct {
	span source.Span
	way  bool
}

// edits are the ways with what they feed, and the runs from a bar.
func edits(r lang.Result) []edit {
	var out []edit
	file, _ := syntax.Parse(r.Files[0])
	for _, s := range file.Statements {
		switch s := s.(type) {
		case *syntax.Item:
			for _, row := range s.Rows {
				if row.Way != nil {
					out = append(out, edit{row.Span, true})
				}
			}
		case *syntax.Run:
			if s.Verb.Text != "run" || s.Start.Ref == nil {
				continue
			}
			if it := r.System.Item(s.Start.Ref.First.Text); it != nil && it.Nature().Conductive && it.Board == nil {
				out = append(out, edit{s.Span, false})
			}
		}
	}
	return out
}

// sequences are the orders along bars, as words.
func sequences(r lang.Result, effort layout.Effort) map[string][]string {
	out := map[string][]string{}
	orders, _ := schematic.Settled(r.System, r.Plan, r.Findings, r.Summary, schematic.Options{Effort: effort})
	for _, o := range orders {
		out[o.Bar.Ref] = refs(o.Items)
	}
	return out
}

func refs(items []*circuit.Item) []string {
	out := make([]string, len(items))
	for i, it := range items {
		out[i] = it.Ref
	}
	return out
}

// sameSequence tells whether what both have stands in the same sequence.
func sameSequence(a, b []string) bool {
	in := func(list []string) func(string) bool { return func(s string) bool { return !slices.Contains(list, s) } }
	return slices.Equal(slices.DeleteFunc(slices.Clone(a), in(b)), slices.DeleteFunc(slices.Clone(b), in(a)))
}

// What a small edit may move: a way, a feeder.
const (
	wayMoves    = 0.05
	feederMoves = 0.25
)

// The least share of ways and of feeders, in hundredths, that keep to it, and
// the most bars, of a hundred, along which a sequence changes: what is reached.
// The rest are drawings that fill their paper, where something more finds room
// by a new search alone.
const (
	waysKept    = 70
	feedersKept = 60
	seqsChanged = 0
)

// kept counts what keeps to the limits.
type kept struct {
	ways, waysKeep, feeders, feedersKeep, bars, changed int
}

// hold notes how much an edit moves.
func (k *kept) hold(t *testing.T, what string, way bool, a, b lang.Result, effort layout.Effort) {
	share := movedShare(spots(t, a, effort), spots(t, b, effort))
	if way {
		if k.ways++; share <= wayMoves {
			k.waysKeep++
		}
	} else {
		if k.feeders++; share <= feederMoves {
			k.feedersKeep++
		}
	}
	was, is := sequences(a, effort), sequences(b, effort)
	for bar := range was {
		if k.bars++; is[bar] != nil && !sameSequence(was[bar], is[bar]) {
			k.changed++
			t.Logf("%s: along %s %v became %v", what, bar, was[bar], is[bar])
		}
	}
	t.Logf("%s: %.0f %% moved", what, 100*share)
}

// forgotten is a settled text whose rows of orders and places no longer name
// what another craft has not.
func forgotten(text string, r lang.Result) string {
	rows := strings.Split(text, "\n")
	out := rows[:0]
	for _, row := range rows {
		head, list, found := strings.Cut(row, ": ")
		if found && (strings.HasPrefix(head, "order ") || strings.HasPrefix(head, "sheet ")) {
			left := slices.DeleteFunc(strings.Split(list, ", "), func(s string) bool {
				name := strings.Fields(s)[0]
				return r.System.Item(name) == nil && r.System.Cable(name) == nil
			})
			if bar := strings.TrimPrefix(head, "order "); len(left) == 0 || bar != head && r.System.Item(bar) == nil {
				continue
			}
			row = head + ": " + strings.Join(left, ", ")
		}
		out = append(out, row)
	}
	return strings.Join(out, "\n")
}

// One way or feeder more, and one less, in settled texts. Every edit of every
// clean example in the good form takes many minutes: STRAKE_STABILITY=1; else a
// sample of them is looked at in the quick form.
func TestSmallEditsMoveLittle(t *testing.T) {
	if testing.Short() {
		t.Skip("its shares are of the edits of all craft: run whole, without the race detector")
	}
	every := os.Getenv("STRAKE_STABILITY") != ""
	effort := layout.Quick
	if every {
		effort = layout.Good
	}
	var k kept
	texts := exampleTexts(t)
	for _, name := range sortedNames(texts) {
		if strings.Contains(name, "mistakes") {
			continue
		}
		text := texts[name]
		whole, _ := settledText(name, text, compile(name, text), effort)
		for _, e := range sampled(edits(compile(name, text)), every) {
			without := func(s string) string {
				return s[:e.span.Start] + strings.Repeat(" ", e.span.End-e.span.Start) + s[e.span.End:]
			}
			rest := without(text)
			bare := compile(name, rest)
			if bare.HasErrors() {
				continue
			}
			before, _ := settledText(name, rest, bare, effort)
			what := fmt.Sprintf("%s: %.40s", name, strings.Join(strings.Fields(e.span.Text()), " "))
			if len(before) < len(rest) || strings.TrimSpace(before[e.span.Start:e.span.End]) != "" || whole[e.span.Start:e.span.End] != e.span.Text() {
				continue // something was written before it
			}
			after := before[:e.span.Start] + e.span.Text() + before[e.span.End:]
			less := forgotten(without(whole), bare)
			a, b, c, d := compile(name, before), compile(name, after), compile(name, whole), compile(name, less)
			require.False(t, a.HasErrors() || b.HasErrors() || c.HasErrors() || d.HasErrors(), what)
			k.hold(t, "more, "+what, e.way, a, b, effort)
			k.hold(t, "less, "+what, e.way, c, d, effort)
		}
	}
	t.Logf("%d of %d ways and %d of %d feeders keep to their limit; %d of %d sequences changed", k.waysKeep, k.ways, k.feedersKeep, k.feeders, k.changed, k.bars)
	assert.GreaterOrEqual(t, 100*k.waysKeep, waysKept*k.ways, "ways")
	assert.GreaterOrEqual(t, 100*k.feedersKeep, feedersKept*k.feeders, "feeders")
	assert.LessOrEqual(t, 100*k.changed, seqsChanged*k.bars, "sequences")
}

// sampled is all of some edits, or four: feeders first.
func sampled(all []edit, every bool) []edit {
	if every || len(all) <= 4 {
		return all
	}
	var out []edit
	for _, way := range [2]bool{false, true} {
		var some []edit
		for _, e := range all {
			if e.way == way {
				some = append(some, e)
			}
		}
		if n := len(some); n > 0 {
			out = append(out, some[n-1])
			if n > 1 {
				out = append(out, some[n/3])
			}
		}
	}
	return out
}
