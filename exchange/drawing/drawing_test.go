package drawing

import (
	"bytes"
	"errors"
	"flag"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"dryfit/geom/outline"
	"dryfit/geom/r2"
	"dryfit/geom/tol"
)

var update = flag.Bool("update", false, "write the golden files anew")

func load(t testing.TB, name string) []byte {
	t.Helper()
	b, err := os.ReadFile(filepath.Join("testdata", name))
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// told says all of a drawing, each line from its own corner and in its own place.
func told(d *Drawing) string {
	var b strings.Builder
	for _, n := range d.Notes {
		fmt.Fprintf(&b, "note %s\n", n)
	}
	for _, l := range d.Lines {
		text, err := Say(l.Path, l.Path.Bounds().Min, 1)
		if err != nil {
			text = err.Error()
		}
		c := l.Path.Centroid()
		fmt.Fprintf(&b, "%s (%s), %s, middle at %s, %s\n%s\n", l.Name, l.Layer, l.Where, number(c.X, 3), number(c.Y, 3), text)
	}
	return b.String()
}

// Drawings by hand in the ways that drawing programs write them.
func TestGoldenDrawings(t *testing.T) {
	for name, unit := range map[string]float64{"layers": 0, "points": 25.4 / 72, "turned": 0, "pieces": 0} {
		d, err := SVG(load(t, name+".svg"), Options{Unit: unit})
		if err != nil {
			t.Fatal(name, err)
		}
		golden := filepath.Join("testdata", name+".golden")
		if *update {
			if err := os.WriteFile(golden, []byte(told(d)), 0o644); err != nil {
				t.Fatal(err)
			}
		}
		if want := string(load(t, name+".golden")); told(d) != want {
			t.Errorf("%s: got\n%s\nwant\n%s", name, told(d), want)
		}
	}
}

// What is known of shapes without us: areas by formula, on the page where SVG puts them.
func TestShapes(t *testing.T) {
	d, err := SVG(load(t, "layers.svg"), Options{})
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		name   string
		area   float64
		middle r2.Vec
	}{
		{"port-hole", math.Pi * 36, r2.Vec{X: 40, Y: -25}},
		{"window", math.Pi * 12 * 7.5, r2.Vec{X: 65, Y: -25}},
		{"slot", 10*8 + math.Pi*16, r2.Vec{X: 99, Y: -31}},
		{"boat", 90*40 - 15*12.5/2 + math.Pi*400/2, r2.Vec{}},
	} {
		i := slices.IndexFunc(d.Lines, func(l Line) bool { return l.Name == c.name })
		if i < 0 {
			t.Fatalf("%s is not there", c.name)
		}
		p := d.Lines[i].Path
		if math.Abs(p.Area()-c.area) > tol.Chord*p.Length() {
			t.Errorf("%s has the area %g, want %g", c.name, p.Area(), c.area)
		}
		if c.middle != (r2.Vec{}) && p.Centroid().Sub(c.middle).Len() > 0.002 {
			t.Errorf("%s lies about %v, want %v", c.name, p.Centroid(), c.middle)
		}
	}
}

// Curves as arcs lie within tol.Fit of the curve itself, wherever one looks.
func TestCurves(t *testing.T) {
	seed := uint64(7)
	next := func() float64 { // a fixed row of numbers from 0 to 1
		seed = seed*6364136223846793005 + 1442695040888963407
		return float64(seed>>40) / (1 << 24)
	}
	arcs := 0
	for range 300 {
		v := func() r2.Vec { return r2.Vec{X: 100 * next(), Y: 100 * next()} }
		p := piece{kind: 'C', from: v(), c1: v(), c2: v(), to: v()}
		f := curve(p.cubic)
		if next() < 0.3 {
			p = piece{kind: 'E', c: v(), u: r2.Vec{X: 5 + 40*next(), Y: 10 * next()}, v: r2.Vec{X: -10 * next(), Y: 5 + 40*next()}, begin: 6 * next(), sweep: 6 * (next() - 0.5)}
			f = p.ellipse
			p.from, _ = f(0)
			p.to, _ = f(1)
		}
		segs := p.fit()
		arcs += len(segs)
		for k := 0; k <= 500; k++ {
			q, _ := f(float64(k) / 500)
			at, least := p.from, math.Inf(1)
			for _, s := range segs {
				least = math.Min(least, distance(at, s, q))
				at = s.To
			}
			if least > 1.3*tol.Fit { // between the places that were looked at
				t.Fatalf("%+v at %d/500: %g mm off", p, k, least)
			}
		}
		if end := segs[len(segs)-1].To; end.Sub(p.to).Len() > 1e-9 {
			t.Fatalf("%+v ends at %v", p, end)
		}
	}
	if arcs > 300*18 {
		t.Errorf("%d arcs for 300 curves", arcs)
	}
}

// SVG that an outside program has turned into PDF has the same lines in both: its
// reading of transforms, units, boxes and curves is not ours.
func TestSVGAgainstOtherReader(t *testing.T) {
	path, err := exec.LookPath("rsvg-convert")
	if err != nil {
		t.Fatal("rsvg-convert is missing: run make tools")
	}
	for _, name := range []string{"layers", "turned", "pieces", "points"} {
		opt := Options{}
		if name == "points" {
			opt.Unit = 25.4 / 96
		}
		a, err := SVG(load(t, name+".svg"), opt)
		if err != nil {
			t.Fatal(err)
		}
		svg := load(t, name+".svg") // a stroke, so that lines are drawn at all
		svg = bytes.Replace(svg, []byte("<svg "), []byte(`<svg fill="none" stroke="black" stroke-width="0.1" `), 1)
		cmd := exec.Command(path, "-f", "pdf")
		cmd.Stdin = bytes.NewReader(svg)
		pdf, err := cmd.Output()
		if err != nil {
			t.Fatal(name, err)
		}
		b, err := PDF(pdf, Options{})
		if err != nil {
			t.Fatal(name, err)
		}
		shift := r2.Vec{}
		for i, l := range a.Lines {
			found := false
			for _, m := range b.Lines {
				if i == 0 && !found && math.Abs(l.Path.Area()-m.Path.Area()) < 0.01*l.Path.Length() {
					shift = m.Path.Bounds().Min.Sub(l.Path.Bounds().Min) // the page starts elsewhere
				}
				if apart(l.Path.Transform(outline.Shifted(shift)), m.Path) <= 0.02 {
					found = true
				}
			}
			if !found {
				t.Errorf("%s: %s is not among the lines of the other reader\n%s", name, l.Name, told(b))
			}
		}
	}
}

// apart is the largest distance of one line from the other, both ways.
func apart(a, b outline.Path) float64 {
	most := 0.0
	for range 2 {
		for _, v := range a.Polygon() {
			most = math.Max(most, b.DistanceTo(v))
		}
		a, b = b, a
	}
	return most
}

// What cannot be read is refused with the place, what it is and what would do.
func TestRefused(t *testing.T) {
	svg := func(s string) string { return `<svg xmlns="http://www.w3.org/2000/svg" width="10mm">` + s + `</svg>` }
	for _, c := range []struct{ in, want string }{
		{"", "this is neither an SVG drawing nor a PDF: expected a drawing saved as SVG, or a PDF of lines"},
		{"<html></html>", "line 1, <html>: the outermost element is not svg: expected an SVG drawing"},
		{`<svg xmlns="http://www.w3.org/2000/svg"><rect width="5" height="5"/></svg>`, "line 1, <svg>: this drawing does not say how large it is"},
		{`<svg xmlns="http://www.w3.org/2000/svg" width="400" height="300"/>`, "--units mm, --units inch or --units px (1/96 in)"},
		{`<svg xmlns="http://www.w3.org/2000/svg" width="4em"/>`, "width \"4em\" has a unit that is no length of its own: expected mm, cm, in, pt, pc or px"},
		{`<svg xmlns="http://www.w3.org/2000/svg" width="4mm" viewBox="0 0 1"/>`, "viewBox \"0 0 1\" is not one: expected four numbers, the last two more than 0"},
		{svg("<rect width='1' height='1'>\n<path d='M'"), "line 2: this is not well-formed"},
		{svg("\n<path d='M0 0 L 1 x'/>"), "line 2, <path>: path data, character 10: expected a number, not \"x\""},
		{svg("\n\n<rect width='50%' height='4'/>"), "line 3, <rect>: width \"50%\" is no length that is read: expected a number, or a length such as 12mm"},
		{svg("<g transform='turn(3)'/>"), "turn with 1 numbers is no change of place that is read: expected matrix, translate"},
		{svg("<g style='transform:rotate(3deg)'/>"), "a transform within style is not read"},
		{svg("<text>a</text><use href='#b'/>\n<image/>"), "line 1, <text>: left out: text is no line"},
		{svg("<use href='#b'/>"), "left out: a copy of another element (use, symbol); let the drawing program unlink it"},
		{svg("<polyline points='0,0 5,0 5,5'/>"), "left out: a line that is open, and that no others close"},
		{svg("<path id='tail' d='M0 0 5 0 5 5'/>"), "(tail): left out: this line is open, it ends 1.87 mm from where it starts"},
		{svg("<polygon points='0,0 50,50 50,0 0,50'/>"), "left out: the line crosses itself"},
		{svg("<path d='M0 0 L 900000 0 L 0 900000 z'/>"), "the line leads farther than 100 m"},
		{"\x1f\x8b\x08", "this drawing is compressed: expected a plain SVG"},
		{`<?xml version="1.0" encoding="KOI8-R"?><svg/>`, "letters are coded as KOI8-R: save the drawing as UTF-8"},
	} {
		_, err := SVG([]byte(c.in), Options{})
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s\n got %v\nwant %s", c.in, err, c.want)
		}
		var p *Problem
		if err != nil && !errors.As(err, &p) {
			t.Errorf("%s: %T", c.in, err)
		}
	}
}

// Lines are measured from the largest line picked that holds them.
func TestPick(t *testing.T) {
	d, err := SVG(load(t, "layers.svg"), Options{})
	if err != nil {
		t.Fatal(err)
	}
	all, err := d.Pick()
	if err != nil || len(all) != 4 {
		t.Fatal(all, err)
	}
	for _, p := range all[1:] {
		if p.Holder != "boat" || p.Origin.Sub(r2.Vec{X: 10, Y: -45}).Len() > 1e-6 {
			t.Errorf("%s is measured from %s at %v", p.Name, p.Holder, p.Origin)
		}
	}
	own, err := d.Pick("window")
	if err != nil || len(own) != 1 || own[0].Holder != "" || own[0].Origin.Sub(r2.Vec{X: 53, Y: -32.5}).Len() > 0.01 {
		t.Error(own, err)
	}
	if layer, err := d.Pick("Holes"); err != nil || len(layer) != 3 {
		t.Error(layer, err)
	}
	if _, err := d.Pick("mast"); err == nil || !strings.Contains(err.Error(), "no line or layer is called mast: expected one of\n  boat: 110 x 40 mm, line 8, <path>, layer Outer line") {
		t.Error(err)
	}
}

// Every line has a name of its own, whatever the drawing calls it, and none is lost when
// its layer is picked.
func TestOwnNames(t *testing.T) {
	d, err := SVG([]byte(`<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="100mm" viewBox="0 0 100 100"><g id="L">
<path id="a" d="M0 0H10V10H0Z M20 0H30V10H20Z"/><rect id="a.2" x="40" y="0" width="10" height="10"/>
<rect id="6" x="60" width="9" height="9"/><rect id="a" x="80" width="9" height="9"/><rect x="60" y="20" width="9" height="9"/><path d="M80 20h9v9h-9z"/>
</g></svg>`), Options{})
	if err != nil {
		t.Fatal(err)
	}
	var names []string
	for _, l := range d.Lines {
		names = append(names, l.Name)
	}
	if got := strings.Join(names, " "); got != "a a.3 a.2 6 a.4 6.2 7" {
		t.Error(got)
	}
	if all, err := d.Pick("L"); err != nil || len(all) != 7 {
		t.Error(len(all), err)
	}
	if one, err := d.Pick("a.2"); err != nil || len(one) != 1 || one[0].Path.Bounds().Min.X < 39 {
		t.Error(one, err)
	}
}

// Only the property transform of a style moves an element.
func TestStyleTransform(t *testing.T) {
	for _, style := range []string{"fill:none;text-transform:none", "transform-origin:0 0", "transform: none"} {
		if _, err := SVG([]byte(`<svg xmlns="http://www.w3.org/2000/svg" width="9mm" height="9mm"><rect width="5" height="5" style="`+style+`"/></svg>`), Options{}); err != nil {
			t.Errorf("%s: %v", style, err)
		}
	}
}

// No bytes make the readers panic or hang; what they return can be sawn and said.
func checked(t *testing.T, d *Drawing, err error) {
	if err != nil {
		return
	}
	for _, l := range d.Lines[:min(len(d.Lines), 20)] {
		if f := l.Path.Check(); f != nil || l.Path.Area() <= 0 {
			t.Errorf("%s: %v, area %g", l.Name, f, l.Path.Area())
		}
		if text, err := Say(l.Path, l.Path.Bounds().Min, 1); err == nil && strings.Contains(text, "NaN") {
			t.Error(text)
		}
	}
}

func FuzzSVG(f *testing.F) {
	for _, name := range []string{"layers", "points", "turned", "pieces"} {
		f.Add(load(f, name+".svg"))
	}
	f.Fuzz(func(t *testing.T, b []byte) {
		d, err := SVG(b, Options{Unit: 1})
		checked(t, d, err)
	})
}
