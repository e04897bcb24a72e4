package schematic

import (
	"math"
	"strconv"
	"strings"

	"strake/lang/quantity"
	"strake/layout"
	"strake/layout/geom"
	"strake/render/scene"
)

// caps are the heights of capitals of one arrangement.
type caps struct {
	hand int // what is switched by hand, and bars
	ref  int // references, ratings, what is acted on
	note int // cable notes and labels
	// short: a cable's size and length in one line, to save height
	short bool
	// wide: a note breaks later, by so many per cent, where the paper has more
	// width than height to spare
	wide int
}

// word is a piece of a line of text.
type word struct {
	text string
	cap  int
	bold bool
}

func (w word) width() int { return scene.Width(w.text, w.cap, w.bold) }

// line is one line of text of one or several words.
type line []word

func (l line) width() int {
	w := 0
	for i, p := range l {
		if i > 0 {
			w += gap(l[i-1].cap, p.cap)
		}
		w += p.width()
	}
	return w
}

// gap between two words of a line: a blank of the larger.
func gap(a, b int) int { return max(a, b) * 40 / 100 }

func (l line) cap() int {
	c := 0
	for _, p := range l {
		c = max(c, p.cap)
	}
	return c
}

// note is a few lines of text, left-aligned.
type note []line

func (n note) width() int {
	w := 0
	for _, l := range n {
		w = max(w, l.width())
	}
	return w
}

// leading is the clear space between the letters of two lines.
const leading = 32

// pitch is from the baseline of one line to that of the next.
func pitch(above, below int) int { return scene.Descent(above) + scene.Ascent(below) + leading }

// drop is from the first baseline to the last.
func (n note) drop() int {
	d := 0
	for i := 1; i < len(n); i++ {
		d += pitch(n[i-1].cap(), n[i].cap())
	}
	return d
}

// size is the room of the note with air below and beside it.
func (n note) size() layout.Size {
	if len(n) == 0 {
		return layout.Size{}
	}
	return layout.Size{W: n.width() + air, H: scene.Ascent(n[0].cap()) + n.drop() + scene.Descent(n[len(n)-1].cap()) + air}
}

// air is the clear space that a text keeps to what is foreign.
const air = 60

// at sets the note with its upper left corner at a point.
func (n note) at(p geom.Point) []scene.Node {
	var nodes []scene.Node
	y := p.Y
	for i, l := range n {
		if i == 0 {
			y += scene.Ascent(l.cap())
		} else {
			y += pitch(n[i-1].cap(), l.cap())
		}
		nodes = append(nodes, l.at(geom.Point{X: p.X, Y: y})...)
	}
	return nodes
}

// centred sets the note about a vertical line, its top at a height.
func (n note) centred(x, top int) []scene.Node {
	var nodes []scene.Node
	y := top
	for i, l := range n {
		if i == 0 {
			y += scene.Ascent(l.cap())
		} else {
			y += pitch(n[i-1].cap(), l.cap())
		}
		nodes = append(nodes, l.at(geom.Point{X: x - l.width()/2, Y: y})...)
	}
	return nodes
}

// at sets the line from the left on a baseline. Words of one look become one text.
func (l line) at(p geom.Point) []scene.Node {
	var nodes []scene.Node
	for i, w := range l {
		if i > 0 {
			p.X += gap(l[i-1].cap, w.cap)
		}
		nodes = append(nodes, scene.Text{At: p, Cap: w.cap, Bold: w.bold, Text: w.text})
		p.X += w.width()
	}
	return nodes
}

// wrapped breaks a text into lines of one look; a number stays with its unit.
func wrapped(text string, width, capital int, bold bool) note {
	var n note
	var current string
	put := func() {
		if current != "" {
			n = append(n, line{{current, capital, bold}})
		}
		current = ""
	}
	for _, piece := range pieces(text) {
		switch joined := join(current, piece); {
		case scene.Width(joined, capital, bold) <= width:
			current = joined
		case scene.Width(piece, capital, bold) <= width:
			put()
			current = piece
		default: // wider than the line by itself: broken where it must be
			put()
			for _, s := range scene.Wrap(piece, width, capital, bold) {
				put()
				current = s
			}
		}
	}
	put()
	return n
}

// pieces are the words of a text; a number and its unit are one, and so is a
// factor with what it counts.
func pieces(text string) []string {
	var out []string
	for _, w := range strings.Fields(scene.Clean(text)) {
		if n := len(out); n > 0 && (units[strings.Trim(w, ",;.)]")] && (endsInDigit(out[n-1]) || out[n-1] == notGiven) || w == "×" || out[n-1] == "drop" || out[n-1] == "sheet" || strings.HasSuffix(out[n-1], "×")) {
			out[n-1] += " " + w
			continue
		}
		out = append(out, w)
	}
	return out
}

func endsInDigit(s string) bool { return s != "" && s[len(s)-1] >= '0' && s[len(s)-1] <= '9' }

var units = map[string]bool{"A": true, "mA": true, "V": true, "W": true, "kW": true, "VA": true, "kVA": true, "Ah": true, "m": true, "mm²": true, "%": true, "Hz": true}

// number prints with three significant digits and no idle noughts.
func number(v float64) string {
	if v == 0 || math.IsNaN(v) || math.IsInf(v, 0) {
		return "0"
	}
	digits := 2 - int(math.Floor(math.Log10(math.Abs(v))))
	if digits < 0 {
		digits = 0
	}
	p := math.Pow(10, float64(digits))
	return strconv.FormatFloat(math.Round(v*p)/p, 'f', -1, 64)
}

// volts prints a voltage to a tenth.
func volts(v quantity.Volt) string {
	return strconv.FormatFloat(math.Round(float64(v)*10)/10, 'f', -1, 64)
}

func unit[T ~float64](v T, u string) string { return number(float64(v)) + " " + u }

// known prints a number with its unit, or nothing when it is not known.
func known[T ~float64](o quantity.Opt[T], u string) string {
	if !o.Known {
		return ""
	}
	return unit(o.Value, u)
}

// kilo prints large powers in thousands.
func kilo[T ~float64](v T, u string) string {
	if math.Abs(float64(v)) >= 1000 {
		return number(float64(v)/1000) + " k" + u
	}
	return unit(v, u)
}
