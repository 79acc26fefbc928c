package adapt

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"dryfit/facts"
	"dryfit/measure"
	"dryfit/measure/source"
	"dryfit/toy/file"
	"dryfit/toy/file/tree"
)

// most is assembly.ClearLeast.
var most = measure.Inch.Of(1.0 / 8)

// examples are all toys of the project that can be read.
func examples(t *testing.T) map[string]string {
	t.Helper()
	out := map[string]string{}
	for _, dir := range []string{"", "plain", "broken"} {
		names, err := filepath.Glob(filepath.Join("../../examples", dir, "*.yaml"))
		if err != nil || len(names) == 0 {
			t.Fatalf("no toys in %q: %v", dir, err)
		}
		for _, name := range names {
			b, err := os.ReadFile(name)
			if err != nil {
				t.Fatal(err)
			}
			out[filepath.Base(name)] = string(b)
		}
	}
	return out
}

func sheetOf(t *testing.T, text string) *Sheet {
	t.Helper()
	f := source.New("toy.yaml", text)
	ty, probs := file.Read(f, nil)
	if len(probs) > 0 {
		t.Fatal(probs.Error())
	}
	s, err := Read(f, ty, most)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func made(t *testing.T, text string, spec Spec, o Options) *Adapted {
	t.Helper()
	a, probs := sheetOf(t, text).Make(spec, o)
	if len(probs) > 0 {
		t.Fatal(probs.Error())
	}
	return a
}

// Adapting to what a toy is already changes not one byte, for every example.
func TestSameValuesChangeNothing(t *testing.T) {
	for name, text := range examples(t) {
		t.Run(name, func(t *testing.T) {
			s := sheetOf(t, text)
			all := Spec{Units: s.toy.Units.String(), Scale: 1}
			specs := []Spec{{}, {Scale: 1}, {Units: s.toy.Units.String()}}
			for _, st := range s.toy.Stock {
				if s.root(stockPath(st)) == nil {
					continue // worked out: it cannot be asked for
				}
				l := st.Thick + st.Dia
				all.Stock = append(all.Stock, st.Name+"="+l.ExactIn(s.toy.Units)+" "+st.Wood)
			}
			for _, w := range s.wheels() {
				p, _ := s.toy.PartNamed(w)
				all.Wheels = append(all.Wheels, w+"="+p.Length.ExactIn(s.toy.Units))
			}
			for _, spec := range append(specs, all) {
				a := made(t, text, spec, Options{})
				if a.Text != text || len(a.Changes) > 0 {
					t.Errorf("%+v: %d changes: %+v", spec, len(a.Changes), a.Changes)
				}
			}
		})
	}
}

// However a toy is adapted, its lines, remarks, keys and names stay, remarks in their column; every
// value that is another is in the list of changes, and no other.
func TestRemarksAndLayoutStay(t *testing.T) {
	for name, text := range examples(t) {
		for _, spec := range []Spec{{Units: "mm"}, {Units: "inch"}, {Scale: 1.5}, {Units: "mm", Scale: 1.25}} {
			s := sheetOf(t, text)
			a, probs := s.Make(spec, Options{})
			if len(probs) > 0 {
				continue // as large or in such stock it cannot be made, which is said
			}
			if err := sameLayout(text, a); err != nil {
				t.Errorf("%s, %+v: %v", name, spec, err)
			}
		}
	}
}

func sameLayout(text string, a *Adapted) error {
	was, now := strings.Split(text, "\n"), strings.Split(a.Text, "\n")
	if len(was) != len(now) {
		return fmt.Errorf("%d lines, were %d", len(now), len(was))
	}
	for i := range was {
		from, to := remarkAt(was[i]), remarkAt(now[i])
		if (from < 0) != (to < 0) || from >= 0 && was[i][from:] != now[i][to:] {
			return fmt.Errorf("line %d: the remark of %q is another in %q", i+1, was[i], now[i])
		}
		code := func(line string, at int) string {
			if at < 0 {
				return line
			}
			return strings.TrimRight(line[:at], " ")
		}
		if b, c := code(was[i], from), code(now[i], to); from >= 0 && to != from && len([]rune(c)) < len([]rune(was[i][:from]))-1 && b != "" {
			return fmt.Errorf("line %d: the remark went from column %d to %d", i+1, from, to)
		}
		if lead(was[i]) != lead(now[i]) {
			return fmt.Errorf("line %d: %q became %q", i+1, was[i], now[i])
		}
	}
	listed := map[string]bool{}
	for _, c := range a.Changes {
		listed[c.Path] = true
	}
	before, _ := tree.Parse(source.New("a", text))
	after, _ := tree.Parse(source.New("b", a.Text))
	return differ(before, after, "", listed)
}

func lead(line string) string { return line[:len(line)-len(strings.TrimLeft(line, " "))] }

// differ compares two files value by value against the list of changes.
func differ(a, b *tree.Node, path string, listed map[string]bool) error {
	if a.Kind != b.Kind || len(a.Entries) != len(b.Entries) || len(a.Items) != len(b.Items) || a.Flow != b.Flow {
		return fmt.Errorf("%s is of another shape", path)
	}
	if a.Kind == tree.Scalar {
		if (a.Text != b.Text) != listed[path] {
			return fmt.Errorf("%s: %q, was %q, listed: %v", path, b.Text, a.Text, listed[path])
		}
		return nil
	}
	for i := range a.Entries {
		if a.Entries[i].Key.Text != b.Entries[i].Key.Text {
			return fmt.Errorf("%s has another key", path)
		}
		if err := differ(a.Entries[i].Value, b.Entries[i].Value, tree.Join(path, a.Entries[i].Key.Text), listed); err != nil {
			return err
		}
	}
	for i := range a.Items {
		if err := differ(a.Items[i], b.Items[i], fmt.Sprintf("%s[%d]", path, i), listed); err != nil {
			return err
		}
	}
	return nil
}

// In other units alone, what is no stock is within the marks of a rule of what it was: every length of
// the toy as it reads, stock and what is worked out from stock left aside.
func TestUnitsAloneChangeNoMoreThanTheRule(t *testing.T) {
	for name, text := range examples(t) {
		s := sheetOf(t, text)
		units := "mm"
		if s.toy.Units == measure.MM {
			units = "inch"
		}
		a, probs := s.Make(Spec{Units: units}, Options{})
		if len(probs) > 0 {
			continue
		}
		for _, c := range a.Changes {
			off := math.Abs(c.NowMM - c.WasMM)
			switch c.Role {
			case Stock, Wheel, Fit, "", Data:
			case Tool:
				if off != 0 {
					t.Errorf("%s: a tool became another: %+v", name, c)
				}
			default:
				if c.Role == Hole && c.Why == nearestBit {
					off /= 4 // flat-bottomed bits are sold by 1/16 in above 1 in
				}
				if step := map[string]float64{"mm": 0.5, "inch": 25.4 / 64}[units]; off > step/2+1e-6 {
					t.Errorf("%s: %s is off by %g mm: %+v", name, c.Path, off, c)
				}
			}
		}
	}
}

func TestSizesThatExist(t *testing.T) {
	for _, c := range []struct {
		kind string
		mm   float64
		u    measure.Unit
		want string
	}{
		{"dowel", 6.35, measure.MM, "6 mm"},
		{"dowel", 9, measure.MM, "8 mm"}, // of two the smaller
		{"dowel", 6, measure.Inch, "1/4 in"},
		{"plywood", 6.35, measure.MM, "6.5 mm"},
		{"plywood", 9, measure.Inch, "9 mm"}, // sold in mm in most places
		{"plywood", 6, measure.Inch, "1/4 in"},
		{"board", 19.05, measure.MM, "20 mm"},
		{"board", 18, measure.Inch, "3/4 in"},
		{"wheel", 32, measure.MM, "1 1/4 in"},
		{"ball", 24, measure.MM, "25 mm"},
	} {
		if z, ok := sold(c.kind, measure.FromMM(c.mm), c.u); !ok || z.Name != c.want {
			t.Errorf("%s of %g mm in %v: %s, want %s", c.kind, c.mm, c.u, z.Name, c.want)
		}
	}
	for _, c := range []struct {
		mm   float64
		u    measure.Unit
		want string
	}{
		{19.05, measure.MM, "19"}, {28.575, measure.MM, "28.5"}, {0.79375, measure.MM, "0.8"}, {1.5875, measure.MM, "1.5"},
		{1, measure.Inch, "3/64"}, {121, measure.Inch, "4 49/64"}, {0.75, measure.Inch, "1/32"},
	} {
		if l, ok := marked(measure.FromMM(c.mm), c.u); !ok || written(l, c.u) != c.want {
			t.Errorf("%g mm in %v: %s %v, want %s", c.mm, c.u, written(l, c.u), ok, c.want)
		}
	}
	if _, ok := marked(measure.FromMM(0.1), measure.Inch); ok {
		t.Error("a tenth of a millimetre is finer than the marks of an inch rule")
	}
	// ANSI/ASME B94.11M has no bit between 13 and 13.5 mm; flat-bottomed bits above 30 mm are those sold.
	for _, c := range []struct {
		mm      float64
		u       measure.Unit
		systems []facts.System
		want    string
	}{
		{12.7, measure.MM, nil, "12.5"}, {12.7, measure.MM, []facts.System{facts.Inch}, "12.7"}, {31, measure.MM, nil, "30"}, {27, measure.Inch, nil, "1 1/16"}, {90, measure.MM, nil, "90"},
	} {
		if l, _ := bit(measure.FromMM(c.mm), c.u, c.systems); written(l, c.u) != c.want {
			t.Errorf("a hole of %g mm in %v: %s, want %s", c.mm, c.u, written(l, c.u), c.want)
		}
	}
}

// Path data by SVG 1.1, 8.3: the turn of an arc and its flags are no lengths.
func TestPathDataIsScaled(t *testing.T) {
	for _, c := range []struct {
		data string
		by   float64
		want string
	}{
		{"M 0 0 H 5 C 5.6 0 6 1 6 1.5 Z", 25.4, "M 0 0 H 127 C 142.24 0 152.4 25.4 152.4 38.1 Z"},
		{"M10,20 a6 6 30 0 1 6-6z", 2, "M20,40 a12 12 30 0 1 12-12z"},
		{"M0 0a1 1 0 11.5.5z", 2, "M0 0a2 2 0 11 1 1z"},
		{"m1e1.5", 3, "m30 1.5"},
		{"M-1-2", 0.5, "M-0.5-1"},
	} {
		if got, ok := scaled(c.data, c.by); !ok || got != c.want {
			t.Errorf("%q times %g: %q %v, want %q", c.data, c.by, got, ok, c.want)
		}
	}
	for _, bad := range []string{"5 5", "M 1 x", "B 1 2"} {
		if got, ok := scaled(bad, 2); ok {
			t.Errorf("%q became %q", bad, got)
		}
	}
}
