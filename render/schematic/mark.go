package schematic

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"hash"
	"math"
	"reflect"
	"strconv"
	"strings"

	"strake/lang/circuit"
	"strake/lang/size"
	"strake/lang/source"
)

// Mark is the content mark: the first eight hex digits of a SHA-256 over the
// resolved craft and what was worked out for it, printed four and four.
// Comments, blanks, the order of statements and paths of files do not count.
func Mark(sys *circuit.System, plan *size.Plan) string {
	w := writer{hash: sha256.New(), fields: map[reflect.Type][]member{}}
	w.value(reflect.ValueOf(sys).Elem(), "system")
	if plan != nil {
		w.value(reflect.ValueOf(plan).Elem(), "plan")
	}
	w.hash.Write(w.text)
	sum := strings.ToUpper(hex.EncodeToString(w.hash.Sum(nil)[:4]))
	return sum[:4] + " " + sum[4:]
}

// writer puts values into a hash, field by field with their names. A thing
// that has a name of its own is written in full where the system lists it and
// by that name everywhere else.
type writer struct {
	hash   hash.Hash // nil: the text is wanted itself
	text   []byte    // not in the hash yet
	fields map[reflect.Type][]member
	depth  int
}

// member is a field of a struct that is written.
type member struct {
	index int
	name  string
}

// fieldsOf are remembered: asking a type for them is most of the work.
func (w *writer) fieldsOf(t reflect.Type) []member {
	fields, known := w.fields[t]
	if !known {
		for i := range t.NumField() {
			if f := t.Field(i); f.IsExported() && f.Type != spanType {
				fields = append(fields, member{i, f.Name})
			}
		}
		w.fields[t] = fields
	}
	return fields
}

var (
	spanType  = reflect.TypeFor[source.Span]()
	namedType = map[reflect.Type]func(reflect.Value) string{
		reflect.TypeFor[*circuit.Item]():   func(v reflect.Value) string { return v.Interface().(*circuit.Item).Ref },
		reflect.TypeFor[*circuit.Cable]():  func(v reflect.Value) string { return v.Interface().(*circuit.Cable).ID },
		reflect.TypeFor[*circuit.Domain](): func(v reflect.Value) string { return v.Interface().(*circuit.Domain).Name },
		reflect.TypeFor[*circuit.Place]():  func(v reflect.Value) string { return v.Interface().(*circuit.Place).Name },
		reflect.TypeFor[*circuit.Way](): func(v reflect.Value) string {
			w := v.Interface().(*circuit.Way)
			if w.Board == nil {
				return fmt.Sprint(w.Number)
			}
			return fmt.Sprint(w.Board.Ref, ".", w.Number)
		},
	}
)

// listed are the slices in which named things are written in full.
var listed = map[string]bool{"Domains": true, "Places": true, "Items": true, "Cables": true, "Bonds": true, "Signals": true, "Ways": true}

func (w *writer) value(v reflect.Value, name string) {
	t := v.Type()
	if t == spanType {
		return
	}
	if w.hash != nil && len(w.text) > 4096 {
		w.hash.Write(w.text)
		w.text = w.text[:0]
	}
	w.text = append(append(w.text, name...), '=')
	switch v.Kind() {
	case reflect.Pointer:
		if v.IsNil() {
			w.text = append(w.text, "nil;"...)
			return
		}
		if called, ok := namedType[t]; ok {
			w.quote(called(v))
			return
		}
		w.value(v.Elem(), "")
	case reflect.Struct:
		for _, f := range w.fieldsOf(t) {
			if member := v.Field(f.index); !member.IsZero() { // what is not set: a fact that the language gains changes no mark
				w.value(member, f.name)
			}
		}
		w.text = append(w.text, '}')
	case reflect.Slice, reflect.Array:
		w.text = append(strconv.AppendInt(w.text, int64(v.Len()), 10), '[')
		_, named := namedType[t.Elem()]
		for i := range v.Len() {
			e := v.Index(i)
			if named && listed[name] && (w.depth == 0 || name == "Ways") && !e.IsNil() {
				w.depth++
				w.value(e.Elem(), "")
				w.depth--
				continue
			}
			w.value(e, "")
		}
	case reflect.Float32, reflect.Float64:
		w.float(v.Float())
	case reflect.Map:
		panic("a map has no order: it may not stand in a border type")
	case reflect.String:
		if t.NumMethod() > 0 { // it may say in its own way what it is
			w.quote(fmt.Sprint(v.Interface()))
		} else {
			w.quote(v.String())
		}
	case reflect.Int:
		if t.NumMethod() > 0 {
			w.quote(fmt.Sprint(v.Interface()))
		} else {
			w.quote(strconv.FormatInt(v.Int(), 10))
		}
	default:
		w.quote(fmt.Sprint(v.Interface()))
	}
}

func (w *writer) quote(s string) { w.text = append(strconv.AppendQuote(w.text, s), ';') }

// float writes six digits: the last bits of a processor's arithmetic do not count.
func (w *writer) float(f float64) {
	if math.IsInf(f, 0) || math.IsNaN(f) {
		w.text = fmt.Append(w.text, f)
	} else {
		w.text = strconv.AppendFloat(w.text, f, 'g', 6, 64)
	}
	w.text = append(w.text, ';')
}
