package docs_test

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/goccy/go-yaml"
	"github.com/santhosh-tekuri/jsonschema/v6"

	"dryfit/measure/source"
	"dryfit/toy/file"
)

// schemaOf compiles the published schema with a general JSON Schema library
// (draft 2020-12).
func schemaOf(t *testing.T) *jsonschema.Schema { return compiled(t, file.Schema) }

func compiled(t *testing.T, schema func() ([]byte, error)) *jsonschema.Schema {
	raw, err := schema()
	if err != nil {
		t.Fatal(err)
	}
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(raw))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	if err := c.AddResource("toy.json", doc); err != nil {
		t.Fatal(err)
	}
	s, err := c.Compile("toy.json")
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// asJSON reads YAML with a general YAML library, as an editor does.
func asJSON(t *testing.T, text string) any {
	var v any
	if err := yaml.Unmarshal([]byte(text), &v); err != nil {
		t.Fatal(err)
	}
	raw, err := json.Marshal(v)
	if err != nil {
		t.Fatal(err)
	}
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(raw))
	if err != nil {
		t.Fatal(err)
	}
	return doc
}

func TestGoodToysKeepToTheSchema(t *testing.T) {
	s := schemaOf(t)
	try := func(name, text string) {
		if err := s.Validate(asJSON(t, text)); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
	var names []string
	for _, folder := range []string{"*.yaml", "plain/*.yaml", "broken/*.yaml"} {
		found, _ := filepath.Glob(filepath.Join("..", "examples", folder))
		names = append(names, found...)
	}
	if len(names) < 2 {
		t.Fatal("the examples are not found")
	}
	for _, name := range names {
		text, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		try(name, string(text))
	}
	for _, b := range blocks(t, page) {
		if m, _ := readMarker(b.comment); b.lang == "yaml" && b.whole() && m.problem == "" && m.base == "" {
			try(page, b.text)
		}
	}
}

// The schema of the shop file accepts the shops that the manual and the examples show,
// and refuses what our reader refuses.
func TestSchemaOfTheShopFile(t *testing.T) {
	s := compiled(t, file.ShopSchema)
	raw, err := os.ReadFile(filepath.Join("..", "examples", "shop", "quay-lane.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	texts := map[string]bool{string(raw): true, "dryfit: 1\nunits: yard\nshop: {bits: [inch]}\n": false, "dryfit: 1\nunits: mm\n": true, "dryfit: 1\nunits: mm\nboards: {a: {wood: beech, thick: 18, size: [900, 120], flaws: [{at: [4, 5], dia: 20}]}}\nhands: {adult: {}, mia: {age: 9}}\n": true, "dryfit: 1\nunits: mm\nboards: {a: {wood: beech, size: [900, 120]}}\n": false,
		"dryfit: 1\nunits: mm\nshop: {bits: inch}\n": false, "dryfit: 1\nunits: mm\ntoy: Boat\nshop: {}\n": false, "dryfit: 1\nunits: mm\nshop: {scroll-saw: {blade: 1}}\n": true}
	for _, b := range blocks(t, page) {
		if m, _ := readMarker(b.comment); m.base == "a shop file" {
			_, probs := file.ReadShop(source.New("shop.yaml", b.text))
			if m.problem != "" && len(probs) == 0 {
				continue // what a table refuses, no schema can
			}
			texts[b.text] = m.problem == ""
		}
	}
	if len(texts) < 10 {
		t.Errorf("the manual shows %d shop files: one that holds and one that does not at least", len(texts)-8)
	}
	for text, good := range texts {
		if err := s.Validate(asJSON(t, text)); (err == nil) != good {
			t.Errorf("good %v, the schema says %v:\n%s", good, err, text)
		}
		if _, probs := file.ReadShop(source.New("shop.yaml", text)); (len(probs) == 0) != good {
			t.Errorf("good %v, the reader says %v:\n%s", good, probs, text)
		}
	}
}

func TestBrokenToysDoNotKeepToTheSchema(t *testing.T) {
	s := schemaOf(t)
	text, err := os.ReadFile(filepath.Join("..", "examples", "quay-tram.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range [][2]string{
		{"toy: Quay tram", "toyy: Quay tram"},             // an unknown key, and one missing
		{"units: inch", "units: yard"},                    // a word that cannot stand there
		{"units: inch\n", ""},                             // a key missing
		{"form: sheet", "form: plank"},                    //
		{"spare: 1", "spare: 1.5"},                        // no whole number
		{"spare: 1", "spare: 101"},                        // too many
		{"blank: [5 1/4, beam]", "blank: 5 1/4"},          // no list
		{"glued: yes", "glued: perhaps"},                  // neither yes nor no
		{"- drill: {side: edge,", "- bore: {side: edge,"}, // no such work
		{"each-way: yes", "both-ways: yes"},               //
		{"- rolls", "- flies"},                            //
		{"r 1/4], [length, 1/4]", "1/4], [length, 1/4]"},  // a radius without its r
		{"lies: {length: forward, up: face}", "lies: {up: face}"},
	} {
		broken := strings.Replace(string(text), c[0], c[1], 1)
		if broken == string(text) {
			t.Fatalf("the tram has no %q", c[0])
		}
		if s.Validate(asJSON(t, broken)) == nil {
			t.Errorf("the schema lets pass %q in place of %q", c[1], c[0])
		}
	}
}
