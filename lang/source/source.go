// Package source owns the text of a craft's files and the places in it.
//
// Inside the compiler a place is a byte offset; lines and columns exist only
// where a person or a machine reads a message, and this package is the only
// one that converts. It knows nothing of the language.
package source

import (
	"sort"
	"unicode/utf8"
)

// File is one text, with the name by which messages call it.
type File struct {
	Name string
	Text string

	lines []int // offset of the first byte of each line
}

// NewFile indexes the lines of a text.
func NewFile(name, text string) *File {
	f := &File{Name: name, Text: text, lines: []int{0}}
	for i := 0; i < len(text); i++ {
		if text[i] == '\n' {
			f.lines = append(f.lines, i+1)
		}
	}
	return f
}

// Span is a stretch of a file, from its first byte to the byte after its last.
// The zero Span is "nowhere in the text".
type Span struct {
	File       *File
	Start, End int
}

// Position is a line and a column, both counted from 1; columns count characters.
type Position struct {
	Line, Column int
}

// IsZero tells a span that stands nowhere.
func (s Span) IsZero() bool { return s.File == nil }

// Text is what stands in the span.
func (s Span) Text() string {
	if s.File == nil {
		return ""
	}
	return s.File.Text[clamp(s.Start, len(s.File.Text)):clamp(s.End, len(s.File.Text))]
}

// From is the position of the first character of the span.
func (s Span) From() Position { return s.File.position(s.Start) }

// To is the position after the last character of the span.
func (s Span) To() Position { return s.File.position(s.End) }

// Join is the shortest span that holds both; spans of different files give the first.
func (s Span) Join(t Span) Span {
	switch {
	case s.File == nil:
		return t
	case t.File != s.File:
		return s
	}
	return Span{File: s.File, Start: min(s.Start, t.Start), End: max(s.End, t.End)}
}

// Line is the text of a line (from 1), without its line end.
func (f *File) Line(n int) string {
	if f == nil || n < 1 || n > len(f.lines) {
		return ""
	}
	end := len(f.Text)
	if n < len(f.lines) {
		end = f.lines[n] - 1
	}
	line := f.Text[f.lines[n-1]:end]
	if len(line) > 0 && line[len(line)-1] == '\r' {
		line = line[:len(line)-1]
	}
	return line
}

func (f *File) position(offset int) Position {
	if f == nil {
		return Position{}
	}
	offset = clamp(offset, len(f.Text))
	n := sort.SearchInts(f.lines, offset+1)
	return Position{Line: n, Column: utf8.RuneCountInString(f.Text[f.lines[n-1]:offset]) + 1}
}

func clamp(i, most int) int { return max(0, min(i, most)) }
