// The little of CSS that a sheet uses: which pen and which fill a class means.
package main

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
)

// look is how an element is drawn: what the rules and its own attributes say.
type look map[string]string

// cssRule holds for an element, a class, or a class of an element.
type cssRule struct {
	element, class string
	set            look
}

type stylesheet []cssRule

func (s *stylesheet) read(css string) error {
	for {
		head, rest, found := strings.Cut(css, "{")
		if !found {
			if strings.TrimSpace(head) != "" {
				return fmt.Errorf("style ends within %q", head)
			}
			return nil
		}
		if strings.HasPrefix(strings.TrimSpace(head), "@media screen") { // how a screen shows it, not what is drawn
			_, css, _ = strings.Cut(rest, "}}")
			continue
		}
		body, after, found := strings.Cut(rest, "}")
		if !found {
			return fmt.Errorf("style rule %q is not closed", head)
		}
		css = after
		if strings.HasPrefix(strings.TrimSpace(head), "@font-face") {
			if !strings.Contains(body, "url(data:") || strings.Contains(body, "url(http") {
				return fmt.Errorf("a font that is not in the file: %.60s", body)
			}
			continue
		}
		set := look{}
		for _, declaration := range strings.Split(body, ";") {
			if name, value, ok := strings.Cut(declaration, ":"); ok {
				set[strings.TrimSpace(name)] = strings.TrimSpace(value)
			}
		}
		for _, selector := range strings.Split(head, ",") {
			element, class, _ := strings.Cut(strings.TrimSpace(selector), ".")
			if strings.ContainsAny(element+class, " >+~:#[*.") {
				return fmt.Errorf("a selector that an outsider need not know: %q", selector)
			}
			*s = append(*s, cssRule{element, class, set})
		}
	}
}

// of gathers what holds for an element: the more particular rule wins, then the later one.
func (s stylesheet) of(element string, attrs map[string]string) look {
	classes := strings.Fields(attrs["class"])
	out := look{}
	for _, name := range []string{"fill", "stroke", "stroke-width", "font-size", "font-weight"} {
		if v, ok := attrs[name]; ok {
			out[name] = v
		}
	}
	for _, weight := range []int{1, 2, 3} {
		for _, r := range s {
			w := 0
			if r.element != "" {
				w++
			}
			if r.class != "" {
				w += 2
			}
			if w == weight && (r.element == "" || r.element == element) && (r.class == "" || slices.Contains(classes, r.class)) {
				for k, v := range r.set {
					out[k] = v
				}
			}
		}
	}
	return out
}

// inked tells whether a paint shows on white paper.
func inked(paint string) bool { return paint != "" && paint != "none" && lightness(paint) < 0.85 }

// lightness of a paint: 1 is white.
func lightness(paint string) float64 {
	digits, ok := strings.CutPrefix(paint, "#")
	if len(digits) == 3 {
		digits = string([]byte{digits[0], digits[0], digits[1], digits[1], digits[2], digits[2]})
	}
	n, err := strconv.ParseUint(digits, 16, 32)
	if !ok || err != nil || len(digits) != 6 {
		return 0 // a name: taken as ink
	}
	return (0.299*float64(n>>16) + 0.587*float64(n>>8&255) + 0.114*float64(n&255)) / 255
}
