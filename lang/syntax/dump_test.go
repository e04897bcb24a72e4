package syntax

import (
	"fmt"
	"reflect"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"strake/lang/source"
)

// dump writes a tree for people to read: one row a node, the names of fields
// that say something, words as they stand.
func dump(file *File) string {
	var b strings.Builder
	for _, s := range file.Statements {
		dumpNode(&b, reflect.ValueOf(s), 0, "")
	}
	if len(file.Unread) > 0 {
		b.WriteString("Unread:")
		for _, w := range file.Unread {
			b.WriteString(" " + w.Text)
		}
		b.WriteString("\n")
	}
	return b.String()
}

func dumpNode(b *strings.Builder, v reflect.Value, depth int, name string) {
	for v.Kind() == reflect.Pointer {
		if v.IsNil() {
			return
		}
		v = v.Elem()
	}
	indent := strings.Repeat("  ", depth)
	lead := indent
	if name != "" {
		lead += name + " "
	}
	switch x := v.Interface().(type) {
	case source.Span:
		return
	case Word:
		fmt.Fprintf(b, "%s%s\n", lead, x.Text)
		return
	case Label:
		fmt.Fprintf(b, "%s%q\n", lead, x.Text)
		return
	case Reference:
		fmt.Fprintf(b, "%s%s\n", lead, spellReference(x))
		return
	case []Property:
		for _, p := range x {
			fmt.Fprintf(b, "%s%s\n", lead, spellProperty(p))
		}
		return
	}
	switch v.Kind() {
	case reflect.Slice:
		for i := range v.Len() {
			dumpNode(b, v.Index(i), depth, name)
		}
	case reflect.Bool:
		if v.Bool() {
			fmt.Fprintf(b, "%s\n", strings.TrimRight(lead, " "))
		}
	case reflect.Struct:
		if v.IsZero() {
			return
		}
		if name == "" || name != v.Type().Name() {
			lead += v.Type().Name()
		}
		fmt.Fprintf(b, "%s\n", strings.TrimRight(lead, " "))
		for i := range v.NumField() {
			dumpNode(b, v.Field(i), depth+1, v.Type().Field(i).Name)
		}
	}
}

func spellReference(r Reference) string {
	s := r.First.Text
	if r.Last != nil {
		s += ".." + r.Last.Text
	}
	if r.Port != nil {
		s += " . " + r.Port.Text
	}
	if r.Port2 != nil {
		s += " . " + r.Port2.Text
	}
	if r.To != nil {
		s += " .. " + r.To.Text
	}
	return s
}

func spellProperty(p Property) string {
	var terms []string
	for _, t := range p.Terms {
		switch {
		case t.Word != nil:
			terms = append(terms, spellReference(*t.Word))
		case t.Label != nil:
			terms = append(terms, fmt.Sprintf("%q", t.Label.Text))
		case t.Date != nil:
			terms = append(terms, "date("+t.Date.Text+")")
		case t.Cores != nil:
			terms = append(terms, fmt.Sprintf("cores(%s %s protect=%v)", t.Cores.Count, t.Cores.Area, t.Cores.Protect))
		case t.Qty != nil:
			q := t.Qty.Number
			if t.Qty.About {
				q = "about " + q
			}
			if t.Qty.Unknown {
				q = "unknown"
			}
			if t.Qty.Unit != nil {
				q += " " + t.Qty.Unit.Text
			}
			terms = append(terms, "("+q+")")
		}
	}
	return strings.Join(terms, " ")
}

// assertSpans holds that every span lies in the text and in that of its parent.
func assertSpans(t *testing.T, file *File) {
	t.Helper()
	whole := source.Span{File: file.Source, End: len(file.Source.Text)}
	for _, s := range file.Statements {
		assertSpan(t, reflect.ValueOf(s), whole)
	}
	for _, w := range file.Unread {
		assertSpan(t, reflect.ValueOf(w), whole)
	}
}

func assertSpan(t *testing.T, v reflect.Value, outer source.Span) {
	t.Helper()
	for v.Kind() == reflect.Pointer || v.Kind() == reflect.Interface {
		if v.IsNil() {
			return
		}
		v = v.Elem()
	}
	switch v.Kind() {
	case reflect.Slice:
		for i := range v.Len() {
			assertSpan(t, v.Index(i), outer)
		}
	case reflect.Struct:
		if f := v.FieldByName("Span"); f.IsValid() {
			s := f.Interface().(source.Span)
			if s.IsZero() {
				if w, ok := v.Interface().(Word); ok && w.Text == "" {
					return
				}
				if v.IsZero() {
					return
				}
			}
			if s.File != nil && (s.Start < outer.Start || s.End > outer.End || s.Start > s.End) {
				assert.Fail(t, "span out of its parent", "%s %+v: [%d,%d) in [%d,%d)", v.Type(), v.Interface(), s.Start, s.End, outer.Start, outer.End)
			}
			outer = s
		}
		for i := range v.NumField() {
			switch v.Type().Field(i).Name {
			case "Span":
			case "Rows": // rows stand behind the head that the span tells
				assertSpan(t, v.Field(i), source.Span{File: outer.File, End: len(outer.File.Text)})
			default:
				assertSpan(t, v.Field(i), outer)
			}
		}
	}
}
