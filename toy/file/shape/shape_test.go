package shape

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/goccy/go-yaml"
	"github.com/santhosh-tekuri/jsonschema/v6"

	"dryfit/measure/source"
	"dryfit/toy/file/tree"
)

// A grammar with one of everything.

type crate struct {
	Place
	Name   Text                `key:"name" need:"yes" says:"What it is called."`
	Form   Word                `key:"form" oneof:"board|sheet|dowel" says:"What it looks like."`
	Sizes  Named[Formula]      `key:"sizes" says:"Named sizes."`
	Blank  []Formula           `key:"blank" says:"Length and width."`
	At     [][]Formula         `key:"at"`
	Spare  Count               `key:"spare" most:"100"`
	Glued  Flag                `key:"glued"`
	Use    Word                `key:"use"`
	Lid    *lid                `key:"lid" says:"Its lid."`
	In     OneOrMany[Text]     `key:"in"`
	Work   []work              `key:"work"`
	Holes  Named[[]Formula]    `key:"holes"`
	Corner corner              `key:"corner"`
	Parts  Named[lid]          `key:"parts"`
	Along  [][]Word            `key:"along" oneof:"top|front"`
	Ends   OneOrMany[nestable] `key:"ends"`
}

type lid struct {
	Place
	Thick Formula `key:"thick" need:"yes" says:"Its thickness | across the grain."`
	Under *lid    `key:"under"`
}

type work struct {
	Place
	Drill *drill   `key:"drill" pick:"one"`
	Saw   *lid     `key:"saw" pick:"one"`
	Turn  nestable `key:"turn" pick:"one"`
	Note  Text     `key:"note"`
}

type drill struct {
	Dia Formula `key:"dia" need:"yes"`
	hidden
}

type hidden struct {
	Depth Formula `key:"depth"`
	Other int
}

type nestable struct {
	Place `pick:"one"`
	A     Text `key:"a"`
	B     Word `key:"b"`
}

// corner is [x, y] or a map.
type corner struct {
	at  []Formula
	lid *lid
}

func (c *corner) FromNode(n *tree.Node, r *Reader) {
	if n.Kind == tree.List {
		r.Decode(n, &c.at)
		if len(c.at) != 2 {
			r.Problem("point", n.Range, "a corner is two lengths").Expected = "[x, y]"
		}
		return
	}
	c.lid = new(lid)
	r.Decode(n, c.lid)
}

func (c *corner) Schema(g *Generator) map[string]any {
	point := g.Of([]Formula{})
	point["minItems"], point["maxItems"] = 2, 2
	return map[string]any{"anyOf": []any{point, g.Of(lid{})}}
}

func (c *corner) Written() string { return "`[x, y]`" }

const right = `name: "Quay crate"   # a name
form: sheet
sizes: {board: 3/4, wheel-2: 1 1/8}
blank: [5 1/8, board]
at: [[0, 0], [1, middle]]
spare: 3
glued: yes
use: beech
lid:
  thick: 1/4
  under: {thick: 1/8}
in: frame.front
work:
  - drill: {dia: 1/4, depth: 1/2}
    note: slowly
  - saw: {thick: 3}
  - turn: {a: 12}
holes:
  rear: [0, 1]
corner: [1, 2]
parts: {one: {thick: 1}}
along: [[top, front]]
ends:
  - a: x
  - b: y
`

func decode(text string, into any) source.Problems {
	f := source.New("crate", text)
	n, probs := tree.Parse(f)
	if n == nil {
		panic(fmt.Sprintf("%v\n%s", probs, text))
	}
	return Decode(f, n, into)
}

func TestDecode(t *testing.T) {
	var c crate
	if probs := decode(right, &c); len(probs) > 0 {
		t.Fatal(probs)
	}
	switch {
	case c.Name.Text != "Quay crate", c.Form.Text != "sheet", c.Spare.N != 3, !c.Glued.Is, c.Use.Text != "beech":
		t.Errorf("%+v", c)
	case len(c.Sizes) != 2 || c.Sizes[0].Key.Text != "board" || c.Sizes[1].Key.Text != "wheel-2" || c.Sizes[1].Value.Text != "1 1/8":
		t.Errorf("%+v", c.Sizes)
	case len(c.At) != 2 || c.At[1][1].Text != "middle" || len(c.Blank) != 2:
		t.Errorf("%+v", c.At)
	case c.Lid == nil || c.Lid.Under == nil || c.Lid.Under.Thick.Text != "1/8" || c.Lid.Under.Under != nil:
		t.Errorf("%+v", c.Lid)
	case len(c.In.Items) != 1 || c.In.Items[0].Text != "frame.front" || len(c.Ends.Items) != 2 || c.Ends.Items[1].B.Text != "y":
		t.Errorf("%+v", c.In)
	case len(c.Work) != 3 || c.Work[0].Drill.Depth.Text != "1/2" || c.Work[0].Saw != nil || c.Work[2].Turn.A.Text != "12":
		t.Errorf("%+v", c.Work)
	case len(c.Corner.at) != 2 || c.Corner.lid != nil || c.Along[0][1].Text != "front" || c.Holes[0].Value[1].Text != "1":
		t.Errorf("%+v", c)
	}
	if got := right[c.Lid.Under.At.Start:c.Lid.Under.At.End]; got != "{thick: 1/8}" {
		t.Errorf("the place of lid.under is %q", got)
	}
	if got := right[c.Sizes[1].Key.At.Start:c.Sizes[1].Value.At.End]; got != "wheel-2: 1 1/8" {
		t.Errorf("the place of a size is %q", got)
	}
	var none crate
	decode("name: x", &none)
	if none.Blank != nil || none.Spare.At != (source.Range{}) || none.Lid != nil || none.In.At != (source.Range{}) {
		t.Error("what is absent has a place")
	}
}

// wrong are crates with one thing amiss each.
var wrong = []struct {
	text, code, where, says, expected, nearest string
	notSchema                                  bool // JSON Schema cannot tell
}{
	{text: "name: x\nfrom: sheet", code: "unknown-key", where: "2:1", says: "there is no key from", expected: "one of name, form, sizes", nearest: "form"},
	{text: "form: sheet", code: "missing-key", where: "1:1", says: "the key name is missing", expected: "name: a text"},
	{text: "name: x\nlid: {}", code: "missing-key", where: "2:6", says: "the key thick is missing"},
	{text: "name:", code: "empty-value", where: "1:1", says: "nothing is said after name", expected: "a text"},
	{text: "name: ''", code: "empty-value", where: "1:7", says: "nothing stands here"},
	{text: "name: [a]", code: "wrong-kind", where: "1:7", says: "expected a text, found a list"},
	{text: "name: x\nform: plank", code: "unknown-word", where: "2:7", says: "plank cannot stand here", expected: "one of board, sheet, dowel"},
	{text: "name: x\nform: bord", code: "unknown-word", where: "2:7", nearest: "board"},
	{text: "name: x\nblank: 3", code: "wrong-kind", where: "2:8", says: "expected a list, found a number"},
	{text: "name: x\nblank: beech", code: "wrong-kind", where: "2:8", says: "expected a list, found a name"},
	{text: "name: x\nblank: {a: b}", code: "wrong-kind", where: "2:8", says: "expected a list, found a map"},
	{text: "name: x\nblank: [[1]]", code: "wrong-kind", where: "2:9", says: "expected a length, an angle or a number, found a list"},
	{text: "name: x\nblank: [1, '']", code: "empty-value", where: "2:12"},
	{text: "name: x\nspare: 101", code: "bad-count", where: "2:8", says: "too many", expected: "0 to 100"},
	{text: "name: x\nspare: -1", code: "bad-count", where: "2:8", says: "spare cannot be less than 0"},
	{text: "name: x\nspare: 1.5", code: "bad-count", where: "2:8"},
	{text: "name: x\nspare: '1'", code: "bad-count", where: "2:8", says: "without quotes"},
	{text: "name: x\nspare: 007", code: "bad-count", where: "2:8", notSchema: true},
	{text: "name: x\nspare: 99999999999999999999", code: "bad-count", where: "2:8", says: "too many"},
	{text: "name: x\nglued: perhaps", code: "bad-flag", where: "2:8"},
	{text: "name: x\nuse: 2x", code: "bad-name", where: "2:6"},
	{text: "name: x\nuse: a b", code: "bad-name", where: "2:6"},
	{text: "name: x\nuse: true", code: "bad-name", where: "2:6"},
	{text: "name: x\nsizes: {a b: 1}", code: "bad-name", where: "2:9"},
	{text: "name: x\nsizes: {a: }", code: "empty-value", where: "2:9"},
	{text: "name: x\nsizes: [1]", code: "wrong-kind", where: "2:8", says: "expected a map of names"},
	{text: "name: x\nlid: 3", code: "wrong-kind", where: "2:6", says: "expected a map with the key thick, found a number"},
	{text: "name: x\nlid: {thick: 1, under: {tick: 1}}", code: "unknown-key", where: "2:25", nearest: "thick"},
	{text: "name: x\nwork: [{drill: {dia: 1}, saw: {thick: 1}}]", code: "one-choice", where: "2:26", says: "drill is there already", expected: "one of drill, saw, turn"},
	{text: "name: x\nwork: [{note: a}]", code: "one-choice", where: "2:8", expected: "one of drill, saw, turn"},
	{text: "name: x\nwork: [{dril: {dia: 1}}]", code: "unknown-key", where: "2:9", nearest: "drill"},
	{text: "name: x\nwork: [drill]", code: "wrong-kind", where: "2:8", says: "expected a map with one of drill, saw, turn, found a name"},
	{text: "name: x\nin: []", code: "empty-value", where: "2:5", says: "the list is empty"},
	{text: "name: x\ncorner: [1]", code: "point", where: "2:9"},
	{text: "name: x\nends: {a: 1, b: c}", code: "one-choice", where: "2:14"},
	{text: "name: x\nalong: [[top, back]]", code: "unknown-word", where: "2:15"},
	{text: "- name", code: "wrong-kind", where: "1:1"},
}

func TestProblems(t *testing.T) {
	for _, c := range wrong {
		probs := decode(c.text, new(crate))
		if len(probs) == 0 {
			t.Errorf("%q is accepted", c.text)
			continue
		}
		p := probs[0]
		where := fmt.Sprintf("%d:%d", p.Line, p.Col)
		if p.Code != c.code || where != c.where || !strings.Contains(p.Says, c.says) || !strings.Contains(p.Expected, c.expected) || c.nearest != "" && p.Nearest != c.nearest {
			t.Errorf("%q\n got %+v", c.text, p)
		}
		if strings.HasPrefix(c.text, "name: x\n") && c.code != "unknown-key" && len(probs) != 1 {
			t.Errorf("%q: %d problems:\n%v", c.text, len(probs), probs)
		}
	}
}

func TestAllProblemsAreCollected(t *testing.T) {
	probs := decode("form: plank\nspare: x\nlid: {}\nwork: [{}, 3]\nboat: 1\n", new(crate))
	if len(probs) != 7 {
		t.Errorf("%d problems:\n%v", len(probs), probs)
	}
	var many strings.Builder
	for i := range 50_000 {
		fmt.Fprintf(&many, "k%d: 1\n", i)
	}
	probs = decode(many.String(), new(crate))
	if len(probs) != maxProblems+1 || probs[maxProblems].Code != "many-problems" {
		t.Errorf("%d problems of 50001", len(probs))
	}
}

func compile(t *testing.T) *jsonschema.Schema {
	t.Helper()
	b, err := Schema(crate{}, "A crate")
	if err != nil {
		t.Fatal(err)
	}
	again, _ := Schema(&crate{}, "A crate")
	if !bytes.Equal(b, again) {
		t.Error("two schemas differ")
	}
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(b))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	c.DefaultDraft(jsonschema.Draft2020)
	if err := c.AddResource("crate.json", doc); err != nil {
		t.Fatal(err)
	}
	s, err := c.Compile("crate.json") // checks it against the meta-schema
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// validate reads a text with a YAML library of general use and asks the schema.
func validate(t *testing.T, s *jsonschema.Schema, text string) error {
	t.Helper()
	var v any
	if err := yaml.Unmarshal([]byte(text), &v); err != nil {
		t.Fatalf("%v\n%s", err, text)
	}
	b, err := json.Marshal(v)
	if err != nil {
		t.Fatal(err)
	}
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(b))
	if err != nil {
		t.Fatal(err)
	}
	return s.Validate(doc)
}

func TestSchemaAgreesOnEveryCase(t *testing.T) {
	s := compile(t)
	if err := validate(t, s, right); err != nil {
		t.Error(err)
	}
	for _, c := range wrong {
		if err := validate(t, s, c.text); (err == nil) != c.notSchema {
			t.Errorf("%q: %v", c.text, err)
		}
	}
}

// TestSchemaAgreesOnRandomCrates: a crate is right for the decoder if and only if
// it is right for the schema.
func TestSchemaAgreesOnRandomCrates(t *testing.T) {
	s := compile(t)
	r := rand.New(rand.NewPCG(9, 10))
	values := []string{"x", "1/4", "3", "'3'", "1.5", "yes", "true", "sheet", "top", "[1, 2]", "[]", "[a, b]", "[[top, front]]", "[[1]]", "{}", "{thick: 1}", "{thick: 1, under: {thick: 2}}",
		"{a: 1}", "{a: {thick: 1}}", "{a: [1, 2]}", "{b: c}", "{a: x, b: y}", "[{a: 1}]", "[{drill: {dia: 1}}]", "[{drill: {dia: 1}, note: x}]", "[{saw: {thick: x}}, {turn: {b: x}}]", "[{drill: {dia: 1}, turn: {a: 1}}]",
		"[{turn: {}}]", "-1", "100", "101", "a b", "{2x: 1}", "''", "[x, '']", "[top]", "-a", "0"}
	keys := planOf(typeOf(crate{})).keys
	ok, bad := 0, 0
	for range 20_000 {
		text := "name: x\n"
		if r.IntN(20) == 0 {
			text = ""
		}
		for _, i := range r.Perm(len(keys) - 1)[:1+r.IntN(2)] {
			text += keys[i+1] + ": " + values[r.IntN(len(values))] + "\n"
		}
		probs := decode(text, new(crate))
		err := validate(t, s, text)
		if (err == nil) != (len(probs) == 0) {
			t.Fatalf("%s\ndecoder: %v\nschema: %v", text, probs, err)
		}
		if err == nil {
			ok++
		} else {
			bad++
		}
	}
	if ok < 1000 || bad < 1000 {
		t.Errorf("%d right and %d wrong: this tests little", ok, bad)
	}
}

func TestReference(t *testing.T) {
	got := Reference(crate{})
	for _, want := range []string{
		"### crate\n",
		"| `name` | text | yes | What it is called. |\n",
		"| `form` | `board`, `sheet`, `dowel` |  | What it looks like. |\n",
		"| `lid` | [lid](#lid) |  | Its lid. |\n",
		"| `corner` | `[x, y]`, or list of: length, angle or number, or [lid](#lid) |",
		"| `thick` | length, angle or number | yes | Its thickness \\| across the grain. |\n",
		"Exactly one of `drill`, `saw`, `turn`.\n",
		"| `sizes` | names, each with: length, angle or number |",
		"| `depth` | length, angle or number |",
	} {
		if !strings.Contains(got, want) {
			t.Errorf("no %q in\n%s", want, got)
		}
	}
	if strings.Count(got, "### lid\n") != 1 {
		t.Error("a struct is described twice")
	}
}

func TestTagsThatMakeNoSensePanic(t *testing.T) {
	for _, v := range []any{
		&struct {
			A Text `key:"a"`
			B Text `key:"a"`
		}{},
		&struct {
			a Text `key:"a"`
		}{},
		&struct {
			A Count `key:"a" most:"x"`
		}{},
		&struct {
			A int `key:"a"`
		}{},
	} {
		func() {
			defer func() {
				if recover() == nil {
					t.Errorf("%T is taken", v)
				}
			}()
			decode("a: 1", v)
		}()
	}
}
