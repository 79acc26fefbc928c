package page

import (
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"dryfit/app"
	"dryfit/measure"
	"dryfit/measure/source"
	"dryfit/toy/file/tree"
)

// each calls f with every toy of the examples that can be read and put together.
func each(t *testing.T, f func(t *testing.T, toy *app.Toy, text string, got Toy, root *tree.Node)) {
	t.Helper()
	n := 0
	for _, glob := range []string{"../../examples/*.yaml", "../../examples/plain/*.yaml", "../../examples/broken/*.yaml"} {
		names, _ := filepath.Glob(glob)
		for _, name := range names {
			b, err := os.ReadFile(name)
			if err != nil {
				t.Fatal(err)
			}
			text := string(b)
			toy, probs := app.Open(name, text, nil, nil)
			if len(probs) > 0 {
				continue
			}
			m, probs := toy.Model()
			if len(probs) > 0 {
				continue
			}
			n++
			root, _ := tree.Parse(source.New(name, text))
			t.Run(filepath.Base(name), func(t *testing.T) { f(t, toy, text, Of(toy, m, text), root) })
		}
	}
	if n < 20 {
		t.Fatalf("only %d toys to look at", n)
	}
}

// Every path that a page is given leads to what it says is there, so that what is typed over is
// what was meant.
func TestPathsLeadThere(t *testing.T) {
	each(t, func(t *testing.T, toy *app.Toy, text string, got Toy, root *tree.Node) {
		field := func(f Field, radius bool) {
			if f.Path == "" {
				return
			}
			n := root.At(f.Path)
			want := f.Text
			if radius {
				want = "r " + f.Text
			}
			if n == nil || n.Kind != tree.Scalar || n.Text != want {
				t.Errorf("%s: the page says %q, the file has %v", f.Path, want, n)
			}
		}
		drawn := 0
		for _, p := range got.Parts {
			if root.At(p.Path) == nil {
				t.Errorf("there is no %s", p.Path)
			}
			for _, f := range p.Fields {
				field(f, false)
			}
			for _, w := range p.Work {
				if n := root.At(w.Path); n == nil || n.Get(w.Kind) == nil {
					t.Errorf("%s is no %s", w.Path, w.Kind)
				}
				if (w.Kind == "saw" || strings.HasPrefix(w.Kind, "cut-") || w.Kind == "notch" || w.Kind == "groove") != (w.Line != "") {
					t.Errorf("%s (%s) has the line %q", w.Path, w.Kind, w.Line)
				}
				if (w.Kind == "drill") != (len(w.Holes) > 0) {
					t.Errorf("%s (%s) has %d holes", w.Path, w.Kind, len(w.Holes))
				}
				for _, f := range w.Fields {
					field(f, false)
				}
				for _, h := range w.Holes {
					field(h.X, false)
					field(h.Y, false)
					drawn++
				}
				for _, c := range w.Corners {
					field(c.X, false)
					field(c.Y, false)
					for _, f := range c.Arc {
						field(f, false)
					}
					if c.Radius != nil {
						field(*c.Radius, true)
					}
					drawn++
				}
			}
		}
		for _, z := range got.Sizes {
			field(Field{Path: z.Path, Text: z.Text}, false)
		}
		if len(got.Parts) != len(toy.Parts)+len(toy.GlueUps) {
			t.Errorf("%d parts are drawn of %d", len(got.Parts), len(toy.Parts)+len(toy.GlueUps))
		}
	})
}

// A place that is shifted by some way is that much further when the file is read again, whatever
// formula it was written as.
func TestShiftedPlacesAreThere(t *testing.T) {
	const by = 0.5 // mm
	tried := 0
	each(t, func(t *testing.T, toy *app.Toy, text string, got Toy, root *tree.Node) {
		for i, p := range got.Parts {
			for j, w := range p.Work {
				for k, h := range w.Holes {
					if h.X.Path == "" {
						continue
					}
					now, ok := shifted(toy, text, h.X.Path, by)
					if !ok { // it would leave its blank
						continue
					}
					tried++
					if d := *now.Parts[i].Work[j].Holes[k].X.MM - *h.X.MM; math.Abs(d-by) > 1e-9 {
						t.Errorf("%s: %q went %g mm, not %g", h.X.Path, h.X.Text, d, by)
					}
				}
			}
		}
	})
	if tried < 50 {
		t.Errorf("only %d places were tried", tried)
	}
}

func shifted(toy *app.Toy, text, path string, by float64) (Toy, bool) {
	f := source.New("", text)
	root, _ := tree.Parse(f)
	to, err := Shift(root.At(path).Text, measure.FromMM(by), toy.Units)
	if err != nil {
		return Toy{}, false
	}
	next, _, err := tree.Apply(f, tree.Edit{Op: "set", Path: path, Value: to, As: tree.AsText})
	if err != nil {
		return Toy{}, false
	}
	again, probs := app.Open("", next, nil, nil)
	if len(probs) > 0 {
		return Toy{}, false
	}
	m, probs := again.Model()
	if len(probs) > 0 {
		return Toy{}, false
	}
	return Of(again, m, next), true
}

// A size names the parts that change with it: a part whose solid is another when the size is
// another is named.
func TestSizesNameTheirParts(t *testing.T) {
	b, err := os.ReadFile("../../examples/quay-tram.yaml")
	if err != nil {
		t.Fatal(err)
	}
	toy, probs := app.Open("tram", string(b), nil, nil)
	if len(probs) > 0 {
		t.Fatal(probs)
	}
	m, _ := toy.Model()
	want := map[string]string{
		"wheel": "wheel", "car": "core side body", "axle-height": "frame trailer-frame", "step": "frame trailer-frame", "ply": "side",
		"board": "frame trailer-frame core", "dowel": "wheel axle pin frame trailer-frame", "roof": "core side body",
	}
	for _, z := range Of(toy, m, string(b)).Sizes {
		for _, part := range strings.Fields(want[z.Name]) {
			found := false
			for _, p := range z.Parts {
				found = found || p == part
			}
			if !found {
				t.Errorf("%s changes %s, but names only %v", z.Name, part, z.Parts)
			}
		}
	}
}
