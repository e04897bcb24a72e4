package source

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestPositionsCountCharacters(t *testing.T) {
	f := NewFile("t", "añ\r\n\n\tx日y")
	for _, c := range []struct {
		offset int
		want   Position
	}{
		{0, Position{1, 1}}, {1, Position{1, 2}}, {3, Position{1, 3}}, {4, Position{1, 4}},
		{5, Position{2, 1}}, {6, Position{3, 1}}, {7, Position{3, 2}}, {8, Position{3, 3}}, {11, Position{3, 4}},
		{12, Position{3, 5}}, {99, Position{3, 5}}, {-1, Position{1, 1}},
	} {
		assert.Equal(t, c.want, Span{File: f, Start: c.offset}.From(), "offset %d", c.offset)
	}
	assert.Equal(t, Position{}, Span{}.From(), "nowhere")
}

func TestLines(t *testing.T) {
	f := NewFile("t", "one\r\ntwo\n")
	assert.Equal(t, "one", f.Line(1))
	assert.Equal(t, "two", f.Line(2))
	assert.Equal(t, "", f.Line(3))
	assert.Equal(t, "", f.Line(0))
	assert.Equal(t, "", f.Line(9))
}

func TestSpans(t *testing.T) {
	f, g := NewFile("f", "one two three"), NewFile("g", "four")
	one, three := Span{f, 0, 3}, Span{f, 8, 13}
	assert.Equal(t, Span{f, 0, 13}, one.Join(three))
	assert.Equal(t, Span{f, 0, 13}, three.Join(one))
	assert.Equal(t, one, one.Join(Span{g, 0, 4}), "another file")
	assert.Equal(t, one, Span{}.Join(one))
	assert.Equal(t, one, one.Join(Span{}))
	assert.Equal(t, "three", three.Text())
	assert.Equal(t, "", Span{}.Text())
	assert.Equal(t, "three", Span{f, 8, 99}.Text())
	assert.True(t, Span{}.IsZero())
}
