// Where a cable goes on on another sheet: each flag tells the sheet and the
// field of its grid in which the other one stands, read from the sheets alone.
package main

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strake/lang"
	"strake/layout"
)

var goesOn = regexp.MustCompile(`^(to|from) sheet (\d+), ([A-Z])(\d+)$`)

// gridField tells whether a point lies in a field of a sheet's grid: between
// the middles of the borders, which the names of the fields stand in.
func gridField(v *sheetView, letter, number string, at point) bool {
	edges := func(along func(sheetText) float64, from float64) map[string][2]float64 {
		out := map[string][2]float64{}
		for _, t := range v.texts {
			if t.in.around("frame") != nil && (t.body[0] >= 'A') == (letter[0] >= 'A') && out[t.body] == [2]float64{} {
				to := 2*along(t) - from // a name stands in the middle of its field
				out[t.body] = [2]float64{from, to}
				from = to
			}
		}
		return out
	}
	down := edges(func(t sheetText) float64 { return (t.box.y0 + t.box.y1) / 2 }, v.frame.y0)[letter]
	letter = number
	across := edges(func(t sheetText) float64 { return (t.box.x0 + t.box.x1) / 2 }, v.frame.x0)[number]
	const much = 0.5 // names stand a little askew
	return at.x > across[0]-much && at.x < across[1]+much && at.y > down[0]-much && at.y < down[1]+much
}

// wrongFlags says which flags do not lead to their other one.
func wrongFlags(views []*sheetView) (wrong []string, flags int) {
	for i, v := range views {
		for _, d := range v.devices {
			if !d.is("flag") {
				continue
			}
			for _, t := range v.texts {
				m := goesOn.FindStringSubmatch(t.body)
				if t.in != d.sheetGroup || m == nil {
					continue
				}
				flags++
				n, _ := strconv.Atoi(m[2])
				back := map[string]string{"to": "from", "from": "to"}[m[1]]
				found := false
				if n >= 1 && n <= len(views) && n != i+1 {
					for _, o := range views[n-1].devices {
						found = found || o.is("flag") && o.item == d.item && gridField(views[n-1], m[3], m[4], point{(o.box.x0 + o.box.x1) / 2, (o.box.y0 + o.box.y1) / 2}) && says(views[n-1], o, fmt.Sprintf("%s sheet %d, ", back, i+1))
					}
				}
				if !found {
					wrong = append(wrong, fmt.Sprintf("sheet %d: %s: %s: nothing of it stands there", i+1, d.item, t.body))
				}
			}
		}
	}
	return wrong, flags
}

func says(v *sheetView, d *deviceView, words string) bool {
	for _, t := range v.texts {
		if t.in == d.sheetGroup && strings.HasPrefix(t.body, words) {
			return true
		}
	}
	return false
}

func viewsOf(t testing.TB, r lang.Result, effort layout.Effort) []*sheetView {
	t.Helper()
	var views []*sheetView
	for _, text := range pages(t, r, effort) {
		raw, err := readSheet(text)
		require.NoError(t, err)
		views = append(views, viewSheet(raw))
	}
	return views
}

func TestFlagsLeadToEachOther(t *testing.T) {
	texts := exampleTexts(t)
	views := viewsOf(t, compile("quillbarrow.strake", texts["quillbarrow.strake"]), layout.Good)
	wrong, flags := wrongFlags(views)
	assert.Empty(t, strings.Join(wrong, "\n"))
	assert.NotZero(t, flags)

	for i := range views[1].texts { // a flag that leads elsewhere is found
		if m := goesOn.FindStringSubmatch(views[1].texts[i].body); m != nil {
			views[1].texts[i].body = "from sheet 1, A1"
			break
		}
	}
	wrong, _ = wrongFlags(views)
	assert.NotEmpty(t, wrong)
}
