// Whether a craft's sheets show everything once: counted against the schedule
// as anybody gets it, and against the circuit for what no schedule lists.
package main

import (
	"encoding/json"
	"fmt"
	"slices"
	"sort"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"strake/lang"
	"strake/lang/circuit"
	"strake/render/paper"
)

// tally counts drawn things by what the contract calls them: "cable F5-M1",
// "fuse F5", "bus PB", "lamp DB1.3", "spare DB1.7".
type tally map[string]int

func (v *sheetView) count(drawn tally) {
	for _, d := range v.devices {
		switch {
		case d.is("flag"):
		case d.is("end"):
			drawn["end "+d.item]++
		default:
			drawn[d.kind()+" "+d.item]++
		}
	}
	for _, b := range v.bars {
		drawn["bus "+b.item]++
	}
	for _, c := range v.cables {
		drawn["cable "+c.item]++
	}
}

// wanted is what must be drawn: the schedule's cables, protective devices,
// boards and spare ways, and the other items of the circuit.
func wanted(t testing.TB, r lang.Result) tally {
	t.Helper()
	out, err := paper.NewSchedule(r.System, r.Plan).JSON()
	require.NoError(t, err)
	var schedule struct {
		Cables     []struct{ ID, To string }
		Protection []struct{ Ref, Kind string }
		Boards     []struct {
			Ref   string
			Ways  []struct{ Way int }
			Spare []int
		}
	}
	require.NoError(t, json.Unmarshal(out, &schedule))
	want := tally{}
	for _, c := range schedule.Cables {
		want["cable "+c.ID]++
		if strings.HasPrefix(c.To, "capped") || c.To == "untraced" {
			want["end "+c.ID]++
		}
	}
	for _, p := range schedule.Protection {
		want[p.Kind+" "+p.Ref]++
	}
	for _, b := range schedule.Boards {
		want["bus "+b.Ref]++
		for _, n := range b.Spare {
			want[fmt.Sprintf("spare %s.%d", b.Ref, n)]++
		}
	}
	for _, c := range r.System.Cables {
		if want["cable "+c.ID] == 0 {
			want["cable "+c.ID]++
		}
	}
	for _, it := range r.System.Items {
		name := string(it.Kind) + " " + shownRef(it)
		if it.Board != nil || it.Kind == "bus" || it.Kind == "stud" {
			name = "bus " + it.Ref
		}
		if want[name] == 0 {
			want[name]++
		}
	}
	return want
}

// shownRef is what an item is called on the sheet: a way's load as its way.
func shownRef(it *circuit.Item) string { return strings.TrimSuffix(it.Ref, ".load") }

// miscounted says what is missing, drawn more than once, or drawn without being there.
func miscounted(want, drawn tally) []string {
	var out []string
	for name, n := range want {
		if drawn[name] != n {
			out = append(out, fmt.Sprintf("%s is drawn %d times, not %d", name, drawn[name], n))
		}
	}
	for name, n := range drawn {
		if want[name] == 0 {
			out = append(out, fmt.Sprintf("%s is drawn %d times and is not in the craft", name, n))
		}
	}
	sort.Strings(out)
	return out
}

// wordsOf gathers the words that the drawing shows of each item, in order.
func wordsOf(views []*sheetView) map[string]string {
	words := map[string]string{}
	for _, v := range views {
		for _, t := range v.texts {
			if t.item != "" && !t.in.is("flag") && !t.in.is("interlock") { // these name what stands elsewhere
				words[t.item] += plainWords(t.body)
			}
		}
	}
	for item, w := range words {
		words[item] = plainWords(w)
	}
	return words
}

// plainWords parts words by single blanks, without the commas between them.
func plainWords(text string) string {
	return " " + strings.Join(strings.FieldsFunc(text, func(r rune) bool { return r == ' ' || r == ',' }), " ") + " "
}

// unnamed says which references and labels the drawing does not show exactly once.
func unnamed(r lang.Result, views []*sheetView) []string {
	words := wordsOf(views)
	var out []string
	check := func(item, label string) {
		if label == "" {
			return
		}
		if n := strings.Count(words[item], plainWords(label)); n != 1 {
			out = append(out, fmt.Sprintf("%s: %q is written %d times in%s", item, label, n, words[item]))
		}
	}
	for _, it := range r.System.Items {
		check(shownRef(it), it.Label)
		if it.Way == nil {
			check(it.Ref, it.Ref)
		}
	}
	for _, it := range r.System.Items {
		if it.Board == nil {
			continue
		}
		for _, w := range it.Board.Ways {
			name := fmt.Sprintf("%s.%d", it.Ref, w.Number)
			if !numbered(views, name, fmt.Sprint(w.Number)) {
				out = append(out, name+" does not bear its number")
			}
			if w.Load == nil {
				check(name, w.Label)
			}
		}
	}
	for _, c := range slices.Concat(r.System.Bonds, r.System.Signals) {
		if words[c.ID] == "" {
			out = append(out, fmt.Sprintf("%s %s is not written", c.Verb, c.ID))
		}
	}
	return out
}

// numbered tells whether exactly one text of a way is its number.
func numbered(views []*sheetView, way, number string) bool {
	n := 0
	for _, v := range views {
		for _, t := range v.texts {
			if t.item == way && t.body == number {
				n++
			}
		}
	}
	return n == 1
}
