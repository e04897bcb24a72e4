package svg

import (
	"sort"
	"strings"

	"strake/render/scene"
)

// styles gathers the classes that a sheet uses. A class is named after what it
// says, not after its turn, so that a changed drawing changes no other name.
type styles struct {
	rules map[string]string
	pens  map[solid]string // the classes of pens without dashes
}

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
		name += "-d" + strings.Join(on, "-")
		rule += ";stroke-dasharray:" + strings.Join(on, " ")
	}
	s.rules[name] = "." + name + "{" + rule + "}"
	if len(p.Dash) == 0 {
		s.pens[key] = name
	}
	return name
}

// fill is the class of a filled shape or of a text that is not black.
func (s *styles) fill(c scene.Colour) string {
	name := "f" + word(c)
	s.rules[name] = "." + name + "{fill:" + hex(c) + "}"
	return name
}

// sheet is the style sheet, sorted.
func (s *styles) sheet() string {
	rules := make([]string, 0, len(s.rules))
	for _, rule := range s.rules {
		rules = append(rules, rule)
	}
	sort.Strings(rules)
	return strings.Join(append([]string{base}, rules...), "\n")
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
