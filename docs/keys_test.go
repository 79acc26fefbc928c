package docs_test

import (
	"encoding/json"
	"fmt"
	"sort"
	"strings"
	"testing"

	"dryfit/toy/file"
)

// Every key of the grammar is shown in an example that is accepted.
func TestEveryKeyIsShown(t *testing.T) {
	raw, err := file.Schema()
	if err != nil {
		t.Fatal(err)
	}
	var root map[string]any
	if err := json.Unmarshal(raw, &root); err != nil {
		t.Fatal(err)
	}
	k := keys{root: root, left: map[string]bool{}}
	for name, def := range root["$defs"].(map[string]any) {
		for key := range propertiesOf(def.(map[string]any)) {
			k.left[name+"."+key] = true
		}
	}
	if len(k.left) < 100 {
		t.Fatalf("only %d keys are found in the schema", len(k.left))
	}
	bs := blocks(t, page)
	cart := cartOf(t, bs)
	for _, b := range bs {
		m, err := readMarker(b.comment)
		if b.lang != "yaml" || err != nil || m.problem != "" || m.base == "a shop file" {
			continue
		}
		text := b.text
		switch m.base {
		case "with the cart":
			text, err = merge(cart, text)
		case "with the bare frame":
			text, err = merge(bare(cart), text)
		case "in the work of the plank":
			text = fmt.Sprintf(plank, indent(text, 6))
		}
		if err != nil {
			t.Fatal(err)
		}
		k.walk(root, "", asJSON(t, text))
	}
	var missing []string
	for key := range k.left {
		missing = append(missing, key)
	}
	sort.Strings(missing)
	if len(missing) > 0 {
		t.Errorf("no example shows %s", strings.Join(missing, ", "))
	}
}

// So is every key of the shop file.
func TestEveryKeyOfTheShopIsShown(t *testing.T) {
	raw, err := file.ShopSchema()
	if err != nil {
		t.Fatal(err)
	}
	var root map[string]any
	if err := json.Unmarshal(raw, &root); err != nil {
		t.Fatal(err)
	}
	k := keys{root: root, left: map[string]bool{}}
	for name, def := range root["$defs"].(map[string]any) {
		for key := range propertiesOf(def.(map[string]any)) {
			k.left[name+"."+key] = true
		}
	}
	for _, b := range blocks(t, page) {
		if m, err := readMarker(b.comment); err == nil && m.base == "a shop file" && m.problem == "" {
			k.walk(root, "", asJSON(t, b.text))
		}
	}
	for key := range k.left {
		t.Errorf("no example shows %s", key)
	}
	if len(root["$defs"].(map[string]any)) < 8 {
		t.Error("the schema has lost its definitions")
	}
}

// keys strikes off the keys that values use.
type keys struct {
	root map[string]any
	left map[string]bool
}

func propertiesOf(schema map[string]any) map[string]any {
	p, _ := schema["properties"].(map[string]any)
	return p
}

// walk goes through a value beside its schema. name is that of the definition
// the schema comes from.
func (k *keys) walk(schema map[string]any, name string, v any) {
	if ref, ok := schema["$ref"].(string); ok {
		name = strings.TrimPrefix(ref, "#/$defs/")
		k.walk(k.root["$defs"].(map[string]any)[name].(map[string]any), name, v)
		return
	}
	for _, one := range []string{"anyOf", "oneOf"} {
		list, _ := schema[one].([]any)
		for _, branch := range list {
			if b := branch.(map[string]any); k.could(b, v) {
				k.walk(b, name, v)
			}
		}
	}
	switch v := v.(type) {
	case []any:
		if items, ok := schema["items"].(map[string]any); ok {
			for _, x := range v {
				k.walk(items, name, x)
			}
		}
	case map[string]any:
		for key, x := range v {
			if p, ok := propertiesOf(schema)[key].(map[string]any); ok {
				delete(k.left, name+"."+key)
				k.walk(p, name, x)
			} else if rest, ok := schema["additionalProperties"].(map[string]any); ok {
				k.walk(rest, name, x)
			}
		}
	}
}

// could tells whether a branch of the schema has all keys of a value.
func (k *keys) could(schema map[string]any, v any) bool {
	if ref, ok := schema["$ref"].(string); ok {
		schema = k.root["$defs"].(map[string]any)[strings.TrimPrefix(ref, "#/$defs/")].(map[string]any)
	}
	m, isMap := v.(map[string]any)
	p := propertiesOf(schema)
	if !isMap || p == nil {
		return !isMap || schema["anyOf"] != nil
	}
	for key := range m {
		if p[key] == nil {
			return false
		}
	}
	return true
}
