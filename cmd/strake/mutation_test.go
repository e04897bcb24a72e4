// A wrong word is answered where it stands: every token of every example is
// deleted, misspelt or given another unit in turn.
package main

import (
	"fmt"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"strake/lang/diag"
	"strake/render/schematic"
)

var tokenOf = regexp.MustCompile(`#[^\n]*|"[^"\n]*"|[\pL_][\pL\pN_-]*|\d+(?:\.\d+)?|\.\.|[^\s]`)

// mutation is one change of one token.
type mutation struct {
	what       string
	line       int
	start, end int
	text       string // the whole mutated text
	mayBeSound bool   // may leave a text that means something else: a deletion, a new name of what is named once
}

// mutations lists the changes of a text, in the order of its tokens.
func mutations(text string) []mutation {
	var list []mutation
	line, at := 1, 0
	tokens := tokenOf.FindAllStringIndex(text, -1)
	for i, span := range tokens {
		line += strings.Count(text[at:span[0]], "\n")
		at = span[0]
		token := text[span[0]:span[1]]
		if token[0] == '#' {
			continue
		}
		add := func(what, replacement string, sound bool) {
			list = append(list, mutation{fmt.Sprintf("%s %q", what, token), line, span[0], span[1],
				text[:span[0]] + replacement + text[span[1]:], sound})
		}
		add("delete", "", true)
		isWord := regexp.MustCompile(`^\pL`).MatchString(token)
		if isWord && i > 0 && regexp.MustCompile(`^\d`).MatchString(text[tokens[i-1][0]:tokens[i-1][1]]) && strings.TrimRight(text[tokens[i-1][1]:span[0]], " ") == "" && isUnit(token) {
			add("re-unit", otherUnit(token), false)
		} else if isWord {
			add("misspell", token+"qx", namedOnce(token, text) || freeText(text, span[0]))
		}
	}
	return list
}

var reference = regexp.MustCompile(`^\p{Lu}+\d*\p{Lu}*$`)

// namedOnce tells a reference that nothing else in the text names: under
// another name the craft is as sound as before.
func namedOnce(token, text string) bool {
	text = regexp.MustCompile(`#[^\n]*|"[^"\n]*"`).ReplaceAllString(text, "")
	return reference.MatchString(token) && len(regexp.MustCompile(`\b`+token+`\b`).FindAllString(text, 2)) == 1
}

// freeText tells a token that is the author's own: the drawing's number and its revision.
func freeText(text string, at int) bool {
	row := strings.TrimSpace(lineOf(text, at))
	return strings.HasPrefix(row, "drawing ") || strings.HasPrefix(row, "revision ")
}

// lineOf is the line of the text in which an offset lies.
func lineOf(text string, at int) string {
	from := strings.LastIndexByte(text[:at], '\n') + 1
	return text[from : at+strings.IndexByte(text[at:]+"\n", '\n')]
}

func isUnit(word string) bool {
	switch word {
	case "V", "A", "W", "kW", "kVA", "VA", "Ah", "m", "mm2", "mohm", "degC", "mA", "kA", "Hz", "h", "min", "s", "ohm", "MW":
		return true
	}
	return false
}

// Every fourth token is tried, every one with STRAKE_MUTATIONS set; fewer of the
// texts with mistakes, which are the same but for those.
func TestEveryWrongTokenIsAnsweredWhereItStands(t *testing.T) {
	step := 4
	switch {
	case os.Getenv("STRAKE_MUTATIONS") != "":
		step = 1
	case testing.Short():
		step = 101
	}
	texts := exampleTexts(t)
	for _, name := range sortedNames(texts) {
		every := step
		if strings.Contains(name, "-mistakes") {
			every = max(step, 37)
		}
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			text := texts[name]
			before := compile(name, text)
			known := map[string]bool{}
			for _, f := range before.Findings {
				known[f.Rule+f.Message] = true
			}
			mark := schematic.Mark(before.System, before.Plan)
			for i, m := range mutations(text) {
				if i%every == 0 {
					assert.Empty(t, complaint(name, text, mark, known, m), "%s:%d %s", name, m.line, m.what)
				}
			}
		})
	}
}

// complaint says what is wrong with the answer to a mutation: the mistake is not
// found where it stands, or too much is said elsewhere.
func complaint(name, text, mark string, known map[string]bool, m mutation) string {
	here, elsewhere := 0, 0
	var others []string
	after := compile(name, m.text)
	for _, f := range after.Findings {
		switch from, to := f.Span.From().Line, f.Span.To().Line; {
		case known[f.Rule+f.Message]:
		case from <= m.line && m.line <= to, touches(f, m.line):
			here++
		case f.Severity <= diag.Advice:
			elsewhere++
			others = append(others, fmt.Sprintf("%d %s: %s", from, f.Rule, f.Message))
		}
	}
	said := ""
	if here == 0 && !harmless(m, text) {
		// A label that repeats the way's says nothing new; a reference that is gone is
		// missed where it is used, by its name.
		token := text[m.start:m.end]
		repeated := strings.HasPrefix(token, `"`) && m.mayBeSound && strings.Count(lineOf(text, m.start), token) > 1
		missed := reference.MatchString(token) && slices.ContainsFunc(after.Findings, func(f diag.Finding) bool {
			return !known[f.Rule+f.Message] && regexp.MustCompile("`[^`]*\\b"+token+"\\b").MatchString(f.Message)
		})
		sound := m.mayBeSound && !hasError(after.Findings) && after.System != nil
		same := sound && schematic.Mark(after.System, after.Plan) == mark
		another := missed || sound && !same || repeated && same
		if !another {
			said = "no finding on its line"
		}
	}
	if elsewhere > 2 {
		said += fmt.Sprintf(" %d findings elsewhere: %s", elsewhere, strings.Join(others, "; "))
	}
	return said
}

// touches tells whether a finding names a line as a related place.
func touches(f diag.Finding, line int) bool {
	for _, r := range f.Related {
		if r.Span.From().Line <= line && line <= r.Span.To().Line {
			return true
		}
	}
	return false
}

func hasError(findings []diag.Finding) bool {
	for _, f := range findings {
		if f.Severity == diag.Error {
			return true
		}
	}
	return false
}

// harmless tells the changes that leave the meaning as it was: an optional comma between cable words.
func harmless(m mutation, text string) bool { return m.mayBeSound && text[m.start:m.end] == "," }

// otherUnit is a unit that cannot stand where the token stood.
func otherUnit(token string) string {
	if token == "Hz" {
		return "mm2"
	}
	return "Hz"
}
