package shape

import (
	"encoding/json"
	"fmt"
	"reflect"
	"strconv"
	"strings"
)

// Generator makes the JSON Schema of Go types. Each struct that has a name, and
// each Custom type, is written once, under $defs.
type Generator struct {
	defs  map[string]any
	names map[reflect.Type]string
	taken map[string]bool
	asked *[]reflect.Type // the types that Of was asked for, if someone listens
}

func newGenerator() *Generator {
	return &Generator{defs: map[string]any{}, names: map[reflect.Type]string{}, taken: map[string]bool{}}
}

// Schema returns the JSON Schema (draft 2020-12) of what Decode reads into root,
// the same bytes each time.
func Schema(root any, title string) ([]byte, error) {
	g := newGenerator()
	t := typeOf(root)
	top := map[string]any{"$schema": "https://json-schema.org/draft/2020-12/schema", "title": title}
	for k, v := range g.of(t, &field{most: defaultMost}) {
		top[k] = v
	}
	top["$defs"] = g.defs
	out, err := json.MarshalIndent(top, "", "  ")
	if err != nil {
		return nil, fmt.Errorf("write the schema of %s: %w", t, err)
	}
	return append(out, '\n'), nil
}

// Of returns the schema of a value's type. It is for types that describe
// themselves.
func (g *Generator) Of(v any) map[string]any {
	t := typeOf(v)
	if g.asked != nil {
		*g.asked = append(*g.asked, t)
		listener := g.asked
		g.asked = nil // what t is made of was not asked for
		defer func() { g.asked = listener }()
	}
	return g.of(t, &field{most: defaultMost})
}

func (g *Generator) of(t reflect.Type, f *field) map[string]any {
	switch {
	case isCustom(t):
		return g.define(t, func() map[string]any {
			return reflect.New(t).Interface().(Custom).Schema(g)
		})
	case t == formulaType:
		return map[string]any{"type": []any{"string", "number"}, "minLength": 1}
	case t == wordType && f.oneof != nil:
		return map[string]any{"enum": anys(f.oneof)}
	case t == wordType:
		return map[string]any{"type": "string", "pattern": namePattern}
	case t == textType:
		return map[string]any{"type": []any{"string", "number", "boolean"}, "minLength": 1}
	case t == flagType:
		return map[string]any{"enum": []any{true, false, "yes", "no", "true", "false"}}
	case t == countType:
		return map[string]any{"type": "integer", "minimum": 0, "maximum": f.most}
	case t.Implements(namedType):
		return map[string]any{
			"type":                 "object",
			"propertyNames":        map[string]any{"pattern": namePattern},
			"additionalProperties": g.of(t.Elem().Field(1).Type, f),
		}
	case t.Implements(oneType):
		list := g.of(t.Field(0).Type, f)
		list["minItems"] = 1
		return map[string]any{"anyOf": []any{g.of(t.Field(0).Type.Elem(), f), list}}
	case t.Kind() == reflect.Pointer:
		return g.of(t.Elem(), f)
	case t.Kind() == reflect.Slice:
		return map[string]any{"type": "array", "items": g.of(t.Elem(), f)}
	case t.Kind() == reflect.Struct:
		return g.define(t, func() map[string]any { return g.record(t) })
	}
	panic(fmt.Sprintf("shape: no schema for %s", t))
}

// define puts a type under $defs, once, and returns the reference to it. A type
// may use itself.
func (g *Generator) define(t reflect.Type, make func() map[string]any) map[string]any {
	if t.Name() == "" {
		return make()
	}
	name, known := g.names[t]
	if !known {
		name = defName(t)
		for base, i := name, 2; g.taken[name]; i++ {
			name = base + strconv.Itoa(i)
		}
		g.taken[name] = true
		g.names[t] = name
		g.defs[name] = make()
	}
	return map[string]any{"$ref": "#/$defs/" + name}
}

// defName is the name of a type in the trade's way of writing: glueUp is glue-up.
func defName(t reflect.Type) string {
	name, _, _ := strings.Cut(t.Name(), "[")
	var b strings.Builder
	for i, c := range name {
		if c >= 'A' && c <= 'Z' {
			if i > 0 {
				b.WriteByte('-')
			}
			c += 'a' - 'A'
		}
		b.WriteRune(c)
	}
	return b.String()
}

func (g *Generator) record(t reflect.Type) map[string]any {
	p := planOf(t)
	props := map[string]any{}
	var need, picks []any
	for i := range p.fields {
		f := &p.fields[i]
		s := g.of(f.typ, f)
		if f.says != "" {
			s["description"] = f.says
		}
		props[f.key] = s
		if f.need {
			need = append(need, f.key)
		}
		if f.pick {
			picks = append(picks, map[string]any{"required": []any{f.key}})
		}
	}
	out := map[string]any{"type": "object", "properties": props, "additionalProperties": false}
	if need != nil {
		out["required"] = need
	}
	if picks != nil {
		out["oneOf"] = picks
	}
	return out
}

func anys(words []string) []any {
	out := make([]any, len(words))
	for i, w := range words {
		out[i] = w
	}
	return out
}
