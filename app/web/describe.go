package web

import (
	"encoding"
	"fmt"
	"reflect"
	"strings"
)

// Describe returns the protocol as TypeScript: a type for each structure and an interface of all
// calls. The user interface is compiled against it, so that both ends have one description.
func Describe() string {
	d := describer{names: map[string]reflect.Type{}}
	var calls, events strings.Builder
	for _, c := range callTable() {
		args, answer := d.name(reflect.TypeOf(c.args)), d.name(reflect.TypeOf(c.answer))
		fmt.Fprintf(&calls, "  /** %s */\n  %s: { args: %s; answer: %s };\n", c.says, c.name, args, answer)
	}
	for _, m := range makings {
		fmt.Fprintf(&events, "  /** %s */\n  %s: %s;\n", m.says, m.name, d.name(reflect.TypeOf(m.args)))
	}
	d.name(reflect.TypeFor[Event]())
	d.name(reflect.TypeFor[Failure]())
	d.name(reflect.TypeFor[StreamArgs]())
	d.name(reflect.TypeFor[LayoutArgs]())
	d.name(reflect.TypeFor[LayoutEvent]())
	d.name(reflect.TypeFor[BuildsArgs]())
	d.name(reflect.TypeFor[BuildsEvent]())
	return "// Made from the Go side by `go test ./app/web -run Golden -update`; not to be edited.\n\n" + d.out.String() +
		"/** What may be called: POST /call/NAME. */\nexport interface Calls {\n" + calls.String() + "}\n\n" +
		"/** What is made as bytes: POST /make/NAME, with its arguments. */\nexport interface Makings {\n" + events.String() + "}\n"
}

type describer struct {
	names map[string]reflect.Type
	out   strings.Builder
}

var textual = reflect.TypeFor[encoding.TextMarshaler]()

// name returns the TypeScript of a type, and has structures described.
func (d *describer) name(t reflect.Type) string {
	if t.Implements(textual) {
		return "string"
	}
	switch t.Kind() {
	case reflect.Pointer:
		return d.name(t.Elem()) + " | null"
	case reflect.String:
		return "string"
	case reflect.Bool:
		return "boolean"
	case reflect.Int, reflect.Int8, reflect.Int16, reflect.Int32, reflect.Int64, reflect.Uint8, reflect.Uint16, reflect.Uint32, reflect.Uint64, reflect.Float32, reflect.Float64:
		return "number"
	case reflect.Slice:
		if t.Elem().Kind() == reflect.Uint8 {
			return "string" // base64
		}
		e := d.name(t.Elem())
		if strings.Contains(e, " ") {
			e = "(" + e + ")"
		}
		return e + "[]"
	case reflect.Array:
		return "[" + strings.TrimSuffix(strings.Repeat(d.name(t.Elem())+", ", t.Len()), ", ") + "]"
	case reflect.Map:
		return "Record<string, " + d.name(t.Elem()) + ">"
	case reflect.Struct:
		d.structure(t)
		return t.Name()
	}
	panic("web: bug: the protocol has no word for " + t.String())
}

func (d *describer) structure(t reflect.Type) {
	if was, ok := d.names[t.Name()]; ok {
		if was != t {
			panic("web: bug: two structures of the protocol have one name: " + was.String() + " and " + t.String())
		}
		return
	}
	d.names[t.Name()] = t
	var b strings.Builder
	fmt.Fprintf(&b, "export interface %s {\n", t.Name())
	d.members(&b, t)
	b.WriteString("}\n\n")
	d.out.WriteString(b.String())
}

func (d *describer) members(b *strings.Builder, t reflect.Type) {
	for i := range t.NumField() {
		f := t.Field(i)
		if f.Anonymous {
			d.members(b, f.Type)
			continue
		}
		key, rest, _ := strings.Cut(f.Tag.Get("json"), ",")
		if key == "-" || !f.IsExported() {
			continue
		}
		if key == "" {
			key = f.Name
		}
		ft, may := f.Type, ""
		if strings.Contains(rest, "omit") {
			may = "?"
			if ft.Kind() == reflect.Pointer {
				ft = ft.Elem()
			}
		}
		fmt.Fprintf(b, "  %s%s: %s;\n", key, may, d.name(ft))
	}
}
