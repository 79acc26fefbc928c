package page

import (
	"math"
	"testing"

	"dryfit/app"
	"dryfit/measure"
	"dryfit/measure/formula"
	"dryfit/toy/file/tree"
)

// What a field comes to is what the reader of the file makes of it, also of a text with its units
// said, in a file of the other unit.
func TestFieldsComeToWhatTheFileSays(t *testing.T) {
	read, none := 0, 0
	each(t, func(t *testing.T, toy *app.Toy, text string, got Toy, root *tree.Node) {
		h := handOf(toy.Toy)
		other := h
		other.unit = map[measure.Unit]measure.Unit{measure.MM: measure.Inch, measure.Inch: measure.MM}[h.unit]
		for _, p := range got.Parts {
			of := map[string]float64{"length": p.Size[0], "width": p.Size[1], "thick": p.Size[2]}
			for _, w := range p.Work {
				across, up := sideOf(w.Side, p.Size)
				check := func(f Field, middle float64) {
					if f.Text == "" || f.MM == nil {
						none++
						return
					}
					own := map[string]formula.Value{"middle": formula.OfLength(measure.FromMM(middle))}
					for name, mm := range of {
						own[name] = formula.OfLength(measure.FromMM(mm))
					}
					if mm := h.mm(f.Text, own); mm != nil && math.Abs(*mm-*f.MM) > 1e-6 {
						t.Errorf("%s: %q is %v mm, and the file says %v", f.Path, f.Text, *mm, *f.MM)
					}
					for name, z := range h.names { // sizes without a unit are the file's own
						if l, ok := z.AsLength(h.unit); ok {
							other.names[name] = formula.OfLength(l)
						}
					}
					if mm := other.mm(f.Said, own); mm != nil && math.Abs(*mm-*f.MM) > 1e-6 {
						t.Errorf("%s: %q, said as %q, is %v mm in other hands, and the file says %v", f.Path, f.Text, f.Said, *mm, *f.MM)
					}
					read++
				}
				for _, x := range w.Holes {
					check(x.X, across/2)
					check(x.Y, up/2)
				}
				for _, c := range w.Corners {
					check(c.X, across/2)
					check(c.Y, up/2)
				}
			}
			for _, f := range p.Fields {
				if f.Name == "length" && f.MM != nil && math.Abs(*f.MM-p.Size[0]) > 1e-6 {
					t.Errorf("%s is %v mm and its blank %v", f.Path, *f.MM, p.Size[0])
				}
				if f.Name == "spare" && !f.Plain {
					t.Errorf("%s is taken for a length", f.Path)
				}
			}
		}
	})
	if read < 200 || none > read {
		t.Errorf("%d fields are read, %d cannot be", read, none)
	}
}

// What a file says of its toy as a whole is told with what it does not say.
func TestAbout(t *testing.T) {
	toy, probs := app.Open("", twoBlocks, nil, nil)
	if len(probs) > 0 {
		t.Fatal(probs)
	}
	m, _ := toy.Model()
	said := map[string]string{}
	for _, f := range Of(toy, m, twoBlocks).About {
		if f.Path != f.Name || f.Plain == (f.Name == "ease") {
			t.Errorf("%+v", f)
		}
		said[f.Name] = f.Text
	}
	if len(said) != 7 || said["toy"] != toy.Name || said["edition"] != "" || said["note"] != "" {
		t.Errorf("%v", said)
	}
}
