package picture

import (
	"bytes"
	"flag"
	"math"
	"os"
	"strings"
	"testing"

	"dryfit/geom/r2"
	"dryfit/paper/draw"
)

var update = flag.Bool("update", false, "write the expected files anew")

// The expected picture was looked at: a deck with two round corners and a blind
// hole, a ball in the hole, four wheels, first angle.
func TestGolden(t *testing.T) {
	got := sheetSVG(load(t, "testdata/trolley.yaml"))
	const file = "testdata/trolley.svg"
	if *update {
		if err := os.WriteFile(file, got, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(got, want) {
		t.Errorf("differs from %s:\n%s", file, got)
	}
}

func TestSameBytes(t *testing.T) {
	first := sheetSVG(load(t, tram))
	for range 3 {
		if !bytes.Equal(sheetSVG(load(t, tram)), first) {
			t.Fatal("two runs differ")
		}
	}
	m := load(t, tram)
	sheetSVG(m)
	if !bytes.Equal(sheetSVG(m), first) {
		t.Error("a model drawn twice differs")
	}
}

// Wheels seen along their axes are true circles: 1 1/8 in at 1:2.
func TestWheelsAreCircles(t *testing.T) {
	var circles int
	Page(load(t, tram), Options{}).Walk(func(m draw.Mark) {
		if m.Path == nil || m.Layer != layerToy {
			return
		}
		for _, r := range m.Path.Runs {
			if r.Closed && len(r.Segs) == 2 && math.Abs(r.Segs[0].Radius-9./16*25.4/2) < 1e-6 {
				circles++
			}
		}
	})
	if circles != 4 {
		t.Errorf("%d whole wheels, want 4", circles)
	}
}

// Everything keeps on its paper, no lettering lies on other lettering, and the
// views are true to each other.
func TestSheet(t *testing.T) {
	t.Parallel()
	for _, name := range toys(t) {
		look := toyOf(t, name).look
		for _, size := range []r2.Vec{{}, {X: 420, Y: 297}, {X: 148, Y: 105}} {
			p := look.page(Options{Size: size})
			box := draw.Bounds(p.Items...)
			if box.Min.X < margin-0.01 || box.Min.Y < margin-0.01 || box.Max.X > p.Size.X-margin+0.01 || box.Max.Y > p.Size.Y-margin+0.01 {
				t.Errorf("%s on %v: drawn in %v", name, p.Size, box)
			}
			var words []draw.Text
			p.Walk(func(m draw.Mark) {
				if m.Text != nil && m.Text.Says != "" {
					words = append(words, *m.Text)
				}
			})
			for i, a := range words {
				for _, b := range words[:i] {
					x, y := draw.Bounds(a), draw.Bounds(b)
					if x.Min.X < y.Max.X && y.Min.X < x.Max.X && x.Min.Y < y.Max.Y && y.Min.Y < x.Max.Y {
						t.Errorf("%s on %v: %q lies on %q", name, p.Size, a.Says, b.Says)
					}
				}
			}
		}
	}
}

// First angle has the top view below the side view and the front view, seen from
// the toy's front at the right end, on its left; third angle the other way round
// (ISO 5456-2).
func TestAngles(t *testing.T) {
	for name, third := range map[string]bool{tram: true, "testdata/trolley.yaml": false} {
		at := map[string]r2.Vec{}
		said := map[string]bool{}
		Page(load(t, name), Options{}).Walk(func(m draw.Mark) {
			if m.Text != nil {
				at[m.Text.Says] = m.Text.At
				said[m.Text.Says] = true
			}
		})
		side, front, top := at["right side"], at["front"], at["top"]
		if (top.Y > side.Y) != third || (front.X > side.X) != third || math.Abs(top.X-side.X) > 1e-9 {
			t.Errorf("%s: side %v, front %v, top %v", name, side, front, top)
		}
		if said["third angle"] != third || said["first angle"] == third {
			t.Errorf("%s does not say its angle", name)
		}
	}
}

func TestDimensions(t *testing.T) {
	svg := string(sheetSVG(block(t, 60, 40.5, 20, "")))
	for _, want := range []string{">60 mm<", ">40.5 mm<", ">20 mm<", ">2:1<"} {
		if !strings.Contains(svg, want) {
			t.Errorf("nowhere %s", want)
		}
	}
}

// The floor touches all wheels where they differ in size.
func TestFloorTilts(t *testing.T) {
	m := read(t, "tilted.yaml", `dryfit: 1
toy: Tilted
units: mm
stock:
  beech: {wood: beech, form: board, thick: 20}
  disc: {wood: beech, form: board, thick: 8}
  rod: {wood: birch, form: dowel, dia: 6}
parts:
  deck: {from: beech, blank: [120, 40], work: [{drill: {side: edge, dia: 7.5, named: {small: [20, 10], large: [100, 10]}}}]}
  small: {from: disc, disc: 28, bore: 6}
  large: {from: disc, disc: 40, bore: 6}
  axle: {from: rod}
build:
  - put: deck
  - wheels: {in: deck.small, axle: axle, outward: [small], play: 1, proud: 3}
  - wheels: {in: deck.large, axle: axle, outward: [large], play: 1, proud: 3}
`)
	a, b := rest(m, fromRight.bounds(gather(m)))
	d := b.Sub(a).Unit()
	for _, w := range []struct{ x, r float64 }{{20, 14}, {100, 20}} {
		if off := d.Cross(v2(w.x, 10).Sub(a)); math.Abs(off-w.r) > 0.03 {
			t.Errorf("axle %.3f mm above the floor, wheel radius %g", off, w.r)
		}
	}
}

func BenchmarkTram(b *testing.B) {
	for range b.N {
		b.StopTimer()
		m := load(b, tram) // a new one: the holes are cut when they are first asked for
		b.StartTimer()
		sheetSVG(m)
	}
}
