package docs_test

import (
	"fmt"
	"go/ast"
	"go/constant"
	"go/parser"
	"go/token"
	"go/types"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"dryfit/app"
	"dryfit/geom/r3"
)

var layingForm = regexp.MustCompile("(?m)^\\| `\\{(.+?)\\}` \\| (\\w+) \\| (\\w+) \\| (\\w+) \\| (\\w+), (\\w+), (\\w+) \\|$")

// The table of layings against the engine: where end, face and edge look, and
// which extents run forward, left and up.
func TestLayings(t *testing.T) {
	text, err := os.ReadFile(page)
	if err != nil {
		t.Fatal(err)
	}
	look := func(v r3.Vec) string {
		for axis, words := range [3][2]string{{"forward", "back"}, {"left", "right"}, {"up", "down"}} {
			if c := v.At(axis); math.Abs(c) > 1-1e-9 {
				if c > 0 {
					return words[0]
				}
				return words[1]
			}
		}
		return "askew"
	}
	rows := layingForm.FindAllStringSubmatch(string(text), -1)
	if len(rows) < 6 {
		t.Fatalf("only %d rows of the table are found", len(rows))
	}
	for _, row := range rows {
		toy, probs := app.Open("t.yaml", "dryfit: 1\ntoy: T\nunits: mm\nstock: {b: {wood: beech, form: board, thick: 18}}\nparts: {p: {from: b, blank: [120, 50], lies: {"+row[1]+"}}}\nbuild: [{put: p}]\n", nil, nil)
		if len(probs) > 0 {
			t.Errorf("%s: %v", row[1], probs)
			continue
		}
		m, probs := toy.Model()
		if len(probs) > 0 {
			t.Errorf("%s: %v", row[1], probs)
			continue
		}
		p := m.Pieces[0]
		size := p.Body.Bounds().Max.Sub(p.Body.Bounds().Min)
		name := func(mm float64) string {
			for n, x := range map[string]float64{"length": 120, "width": 50, "thickness": 18} {
				if math.Abs(mm-x) < 1e-6 {
					return n
				}
			}
			return "?"
		}
		got := fmt.Sprint(look(p.Pose.Dir(r3.X)), look(p.Pose.Dir(r3.Z)), look(p.Pose.Dir(r3.Y.Neg())), name(size.X), name(size.Y), name(size.Z))
		if want := fmt.Sprint(row[2], row[3], row[4], row[5], row[6], row[7]); got != want {
			t.Errorf("%s: the page says %s, the engine %s", row[1], want, got)
		}
	}
}

// The drawings of the six sides against the engine: the hole of each side stands
// right of the origin by the first number, above it by the second.
func TestSides(t *testing.T) {
	size := r3.Vec{X: 120, Y: 50, Z: 18}
	text, err := os.ReadFile(page)
	if err != nil {
		t.Fatal(err)
	}
	form := regexp.MustCompile("(?m)^\\| `([\\w-]+)` \\| `(\\w+)` \\| (\\w+) \\| (\\w+) \\| (\\w+) \\|$")
	rows := form.FindAllStringSubmatch(string(text), -1)
	if len(rows) != 6 {
		t.Fatalf("%d rows of the table of sides are found", len(rows))
	}
	to := map[string]r3.Vec{"forward": r3.X, "back": r3.X.Neg(), "left": r3.Y, "right": r3.Y.Neg(), "up": r3.Z, "down": r3.Z.Neg()}
	for _, row := range rows {
		for _, word := range row[1:3] {
			toy, probs := app.Open("t.yaml", "dryfit: 1\ntoy: T\nunits: mm\nstock: {b: {wood: beech, form: board, thick: 18}}\nparts: {p: {from: b, blank: [120, 50], work: [{drill: {side: "+word+", dia: 2, depth: 5, named: {h: [4, 3]}}}]}}\nbuild: [{put: p}]\n", nil, nil)
			if len(probs) > 0 {
				t.Fatal(probs)
			}
			m, probs := toy.Model()
			if len(probs) > 0 {
				t.Fatal(probs)
			}
			p := m.Pieces[0]
			b := p.Bore(0)
			right, up := to[row[3]], to[row[4]]
			out := b.Dir.Neg()
			if d := right.Cross(up).Sub(out).Len(); d > 1e-9 {
				t.Errorf("%s: drawn from outside, right is not %s and up %s", word, row[3], row[4])
			}
			if d := to[row[5]].Sub(out).Len(); d > 1e-9 {
				t.Errorf("%s does not look %s", word, row[5])
			}
			// the origin is the corner of the side from which right and up lead over the wood
			corner := r3.Vec{}
			for axis := 0; axis < 3; axis++ {
				if right.At(axis)+up.At(axis)-out.At(axis) < 0 {
					corner = corner.With(axis, size.At(axis))
				}
			}
			want := corner.Add(right.Scale(4)).Add(up.Scale(3))
			mouth := b.Point.Sub(want)
			if off := mouth.Sub(b.Dir.Scale(mouth.Dot(b.Dir))).Len(); off > 1e-9 {
				t.Errorf("%s: the hole is %g mm from where the page says", word, off)
			}
		}
	}
}

// The published limits against the constants of the code.
func TestLimits(t *testing.T) {
	text, err := os.ReadFile(page)
	if err != nil {
		t.Fatal(err)
	}
	rows := map[string]string{}
	for _, m := range regexp.MustCompile(`(?m)^\| ([^|]+) \| ([0-9][^|]*) \|$`).FindAllStringSubmatch(string(text), -1) {
		rows[m[1]] = m[2]
	}
	for _, c := range []struct{ file, name, row, value string }{
		{"../toy/file/limits.go", "maxSize", "largest length", "2000 mm"},
		{"../toy/file/limits.go", "minSize", "smallest size", "0.001 mm"},
		{"../toy/file/limits.go", "maxPieces", "pieces in the build", "400"},
		{"../toy/file/limits.go", "maxWork", "work on one part", "200"},
		{"../toy/file/limits.go", "maxHoles", "holes in one drilling", "200"},
		{"../toy/file/limits.go", "maxCorners", "corners in one outline", "1000"},
		{"../toy/file/limits.go", "maxPathData", "path data of one outline", "65536 characters"},
		{"../toy/file/tree/node.go", "MaxBytes", "the whole file", "4194304 characters"},
		{"../toy/file/tree/node.go", "MaxDepth", "maps and lists inside each other", "32"},
		{"../toy/file/tree/node.go", "MaxNodes", "keys and values", "200000"},
		{"../measure/formula/formula.go", "MaxBytes", "one formula", "1000 characters"},
		{"../measure/formula/formula.go", "MaxDepth", "parentheses inside each other", "64"},
	} {
		code := constOf(t, c.file, c.name)
		if number, _, _ := strings.Cut(c.value, " "); code != number {
			t.Errorf("%s is %s, not %s", c.name, code, number)
		}
		if rows[c.row] != c.value {
			t.Errorf("the page gives %q for %q, the code %s", rows[c.row], c.row, c.value)
		}
	}
}

// constOf evaluates a constant of a file.
func constOf(t *testing.T, path, name string) string {
	fset := token.NewFileSet()
	f, err := parser.ParseFile(fset, filepath.FromSlash(path), nil, 0)
	if err != nil {
		t.Fatal(err)
	}
	value := ""
	ast.Inspect(f, func(n ast.Node) bool {
		s, ok := n.(*ast.ValueSpec)
		if !ok || s.Names[0].Name != name || len(s.Values) != 1 {
			return true
		}
		tv, err := types.Eval(fset, nil, token.NoPos, types.ExprString(s.Values[0]))
		if err != nil {
			t.Fatal(err)
		}
		x, _ := constant.Float64Val(constant.ToFloat(tv.Value))
		value = strings.TrimSuffix(fmt.Sprintf("%.10g", x), ".0")
		return false
	})
	if value == "" {
		t.Fatalf("%s has no constant %s", path, name)
	}
	return value
}
