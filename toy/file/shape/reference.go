package shape

import (
	"fmt"
	"reflect"
	"strings"
)

// Reference returns Markdown tables of all keys, a section for each struct in the
// order in which they are met from root.
func Reference(root any) string {
	t := typeOf(root)
	d := &docs{titles: map[reflect.Type]string{}, taken: map[string]bool{}, inside: map[reflect.Type]bool{}}
	d.write(t, &field{most: defaultMost}) // queues the struct, or what a Custom is made of
	var b strings.Builder
	for i := 0; i < len(d.queue); i++ {
		if i > 0 {
			b.WriteByte('\n')
		}
		d.section(&b, d.queue[i])
	}
	return b.String()
}

type docs struct {
	titles map[reflect.Type]string
	taken  map[string]bool
	inside map[reflect.Type]bool // Custom types under way
	queue  []reflect.Type
}

func (d *docs) link(t reflect.Type) string {
	title, known := d.titles[t]
	if !known {
		title = strings.TrimSuffix(defName(t), "-map")
		for base, i := title, 2; d.taken[title]; i++ {
			title = fmt.Sprintf("%s-%d", base, i)
		}
		d.titles[t], d.taken[title] = title, true
		d.queue = append(d.queue, t)
	}
	return "[" + title + "](#" + title + ")"
}

func (d *docs) section(b *strings.Builder, t reflect.Type) {
	p := planOf(t)
	fmt.Fprintf(b, "### %s\n\n", d.titles[t])
	if len(p.picks) > 0 {
		fmt.Fprintf(b, "Exactly one of %s.\n\n", code(p.picks))
	}
	b.WriteString("| key | value | needed | what it says |\n|---|---|---|---|\n")
	for i := range p.fields {
		f := &p.fields[i]
		need := ""
		if f.need {
			need = "yes"
		}
		fmt.Fprintf(b, "| `%s` | %s | %s | %s |\n", f.key, d.write(f.typ, f), need, strings.ReplaceAll(f.says, "|", `\|`))
	}
}

func code(words []string) string { return "`" + strings.Join(words, "`, `") + "`" }

// write says how a type is written, with links to the structs it is made of.
func (d *docs) write(t reflect.Type, f *field) string {
	switch {
	case isCustom(t):
		return d.custom(t, f)
	case t == formulaType:
		return "length, angle or number"
	case t == wordType && f.oneof != nil:
		return code(f.oneof)
	case t == wordType:
		return "name"
	case t == textType:
		return "text"
	case t == flagType:
		return "`yes` or `no`"
	case t == countType:
		return fmt.Sprintf("whole number, at most %d", f.most)
	case t.Implements(namedType):
		return "names, each with: " + d.write(t.Elem().Field(1).Type, f)
	case t.Implements(oneType):
		return d.write(t.Field(0).Type.Elem(), f) + ", or a list of these"
	case t.Kind() == reflect.Pointer:
		return d.write(t.Elem(), f)
	case t.Kind() == reflect.Slice:
		return "list of: " + d.write(t.Elem(), f)
	case t.Kind() == reflect.Struct:
		return d.link(t)
	}
	panic(fmt.Sprintf("shape: no reference for %s", t))
}

// Written is what a Custom type may have besides: the forms that its schema spells
// out itself, in Markdown, as "`[x, y]`".
type Written interface{ Written() string }

// custom lists the ways in which a type that reads itself may be written: what it
// says of itself, the constants of its schema, the types that its schema asks for.
func (d *docs) custom(t reflect.Type, f *field) string {
	if d.inside[t] {
		return defName(t)
	}
	d.inside[t] = true
	defer delete(d.inside, t)
	var asked []reflect.Type
	c := reflect.New(t).Interface().(Custom)
	g := newGenerator()
	g.asked = &asked
	g.names[t] = defName(t) // it may use itself
	s := c.Schema(g)
	var ways []string
	if w, ok := c.(Written); ok {
		ways = append(ways, w.Written())
	}
	for _, branch := range branches(s) {
		if w, ok := branch["const"]; ok {
			ways = append(ways, fmt.Sprintf("`%v`", w))
		}
	}
	for _, a := range asked {
		ways = append(ways, d.write(a, f))
	}
	if len(ways) == 0 {
		return defName(t)
	}
	return strings.Join(ways, ", or ")
}

func branches(s map[string]any) []map[string]any {
	out := []map[string]any{s}
	for _, k := range []string{"anyOf", "oneOf"} {
		list, _ := s[k].([]any)
		for _, b := range list {
			if m, ok := b.(map[string]any); ok {
				out = append(out, m)
			}
		}
	}
	return out
}
