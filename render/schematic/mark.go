package schematic

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"hash"
	"reflect"
	"strings"

	"strake/lang/circuit"
	"strake/lang/size"
	"strake/lang/source"
)

// Mark is the content mark: the first eight hex digits of a SHA-256 over the
// resolved craft and what was worked out for it, printed four and four.
// Comments, blanks, the order of statements and paths of files do not count.
func Mark(sys *circuit.System, plan *size.Plan) string {
	w := writer{hash: sha256.New()}
	w.value(reflect.ValueOf(sys).Elem(), "system")
	if plan != nil {
		w.value(reflect.ValueOf(plan).Elem(), "plan")
	}
	sum := strings.ToUpper(hex.EncodeToString(w.hash.Sum(nil)[:4]))
	return sum[:4] + " " + sum[4:]
}

// writer puts values into a hash, field by field with their names. A thing
// that has a name of its own is written in full where the system lists it and
// by that name everywhere else.
type writer struct {
	hash  hash.Hash
	depth int
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
	if v.Type() == spanType {
		return
	}
	fmt.Fprintf(w.hash, "%s=", name)
	switch v.Kind() {
	case reflect.Pointer:
		if v.IsNil() {
			fmt.Fprint(w.hash, "nil;")
			return
		}
		if called, ok := namedType[v.Type()]; ok {
			fmt.Fprintf(w.hash, "%q;", called(v))
			return
		}
		w.value(v.Elem(), "")
	case reflect.Struct:
		for i := 0; i < v.NumField(); i++ {
			if f := v.Type().Field(i); f.IsExported() {
				w.value(v.Field(i), f.Name)
			}
		}
	case reflect.Slice, reflect.Array:
		fmt.Fprintf(w.hash, "%d[", v.Len())
		for i := 0; i < v.Len(); i++ {
			e := v.Index(i)
			if _, ok := namedType[e.Type()]; ok && listed[name] && (w.depth == 0 || name == "Ways") && !e.IsNil() {
				w.depth++
				w.value(e.Elem(), "")
				w.depth--
				continue
			}
			w.value(e, "")
		}
	case reflect.Float32, reflect.Float64:
		// Six digits: the last bits of a processor's arithmetic do not count.
		fmt.Fprintf(w.hash, "%.6g;", v.Float())
	case reflect.Map:
		panic("a map has no order: it may not stand in a border type")
	default:
		fmt.Fprintf(w.hash, "%q;", fmt.Sprint(v.Interface()))
	}
}
