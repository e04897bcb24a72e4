package svg

import (
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"

	"strake/render/scene"
)

// styles gathers the classes that a sheet uses. A class is named after what it
// says, not after its turn, so that a changed drawing changes no other name.
type styles struct {
	rules map[string]string
	dark  map[string]string // what a dark screen turns
	pens  map[solid]string  // the classes of pens without dashes
}

// night is what holds on a dark screen; paper is always white.
const night = `svg{background:#111}polyline,polygon,circle,ellipse,path{stroke:#fff}text{fill:#fff}.n{stroke:none}`

// solid is a pen without dashes.
type solid struct {
	width  int
	colour scene.Colour
}

// base holds for every drawing: lines are not filled, text is black and keeps
// its blanks.
const base = `polyline,polygon,circle,ellipse,path{fill:none;stroke:#000;stroke-linecap:butt;stroke-linejoin:miter}
text{fill:#000;stroke:none;font-family:` + family + `,sans-serif;white-space:pre}
text.b{font-weight:700}
.n{stroke:none}`

// stroke is the class of a pen.
func (s *styles) stroke(p scene.Pen) string {
	if p.Width <= 0 {
		return "n"
	}
	key := solid{p.Width, p.Colour}
	if name, known := s.pens[key]; known && len(p.Dash) == 0 {
		return name
	}
	name, rule := "w"+itoa(p.Width), "stroke-width:"+itoa(p.Width)
	if p.Colour != "" && p.Colour != scene.Black {
		name += "-" + word(p.Colour)
		rule += ";stroke:" + hex(p.Colour)
	}
	if len(p.Dash) > 0 {
		var on []string
		for _, d := range p.Dash {
			on = append(on, itoa(d))
		}
		name += "-d" + strings.Join(on, "-") // each line has the pattern fitted to it
	}
	s.rules[name] = "." + name + "{" + rule + "}"
	if p.Colour != "" && p.Colour != scene.Black {
		s.dark[name] = "." + name + "{stroke:" + lit(p.Colour) + "}"
	}
	if len(p.Dash) == 0 {
		s.pens[key] = name
	}
	return name
}

// fill is the class of a filled shape or of a text that is not black.
func (s *styles) fill(c scene.Colour) string {
	name := "f" + word(c)
	s.rules[name] = "." + name + "{fill:" + hex(c) + "}"
	s.dark[name] = "." + name + "{fill:" + lit(c) + "}"
	return name
}

// sheet is the style sheet, sorted.
func (s *styles) sheet() string {
	dark := "@media screen and (prefers-color-scheme:dark){" + night + strings.Join(sorted(s.dark), "") + "}"
	return strings.Join(append(append([]string{base}, sorted(s.rules)...), dark), "\n")
}

func sorted(rules map[string]string) []string { return slices.Sorted(maps.Values(rules)) }

// lit is a colour with light and dark in each other's place: its hue stays.
func lit(c scene.Colour) string {
	n, err := strconv.ParseUint(word(c), 16, 32)
	if err != nil {
		return "#ffffff" // cannot be: a word is six digits
	}
	r, g, b := int(n>>16), int(n>>8&255), int(n&255)
	by := 255 - max(r, g, b) - min(r, g, b)
	return fmt.Sprintf("#%02x%02x%02x", r+by, g+by, b+by)
}

// word keeps the six digits of a colour; anything else is black.
func word(c scene.Colour) string {
	digits, ok := strings.CutPrefix(string(c), "#")
	if !ok || len(digits) != 6 || strings.Trim(digits, "0123456789abcdefABCDEF") != "" {
		return "000000"
	}
	return strings.ToLower(digits)
}

func hex(c scene.Colour) string { return "#" + word(c) }
