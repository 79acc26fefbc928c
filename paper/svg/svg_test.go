package svg

import (
	"bytes"
	"encoding/xml"
	"flag"
	"io"
	"math"
	"os"
	"testing"

	"dryfit/geom/r2"
	"dryfit/paper/draw"
)

var update = flag.Bool("update", false, "write the expected files anew")

func v(x, y float64) r2.Vec { return r2.Vec{X: x, Y: y} }

// sample is small enough to be judged by eye: a plate with a round corner, a
// hole with its centre mark, hatching cut off at a circle, turned lettering.
func sample() draw.Page {
	plate := draw.Start(v(5, 5)).LineTo(v(35, 5)).LineTo(v(35, 15)).ArcTo(v(30, 15), math.Pi/2).LineTo(v(5, 20)).Close()
	return draw.Page{Size: v(40, 25), Items: []draw.Item{
		draw.Group{Layer: "Cut lines", Items: []draw.Item{
			draw.Path{Runs: []draw.Run{plate, draw.Circle(v(12, 12), 3)}, Line: draw.Cut, Fill: draw.Light},
			draw.Path{Runs: []draw.Run{draw.Arc(v(25, 12), 3, 0, -3*math.Pi/2)}, Line: draw.Hidden},
		}},
		draw.Group{Layer: "Notes & marks", Items: []draw.Item{
			draw.CentreMark(v(12, 12), 3),
			draw.Hatch([]draw.Run{draw.Circle(v(25, 12), 2)}, math.Pi/4, 1),
			draw.Group{Clip: []draw.Run{draw.Rect(r2.Box{Min: v(28, 6), Max: v(33, 10)})}, Items: []draw.Item{draw.Path{Runs: []draw.Run{draw.Polyline(v(20, 5), v(40, 12))}, Line: draw.Thin}}},
			draw.Text{At: v(20, 22), Says: `⌀ ¼ < "ply" & glue`, Height: 2, Across: draw.Middle},
			draw.Text{At: v(3, 12), Says: "up", Height: 2, Bold: true, Tone: draw.Pencil, Turn: math.Pi / 2, Across: draw.Middle},
		}},
	}}
}

func TestGolden(t *testing.T) {
	got := Write(sample(), Meta{Title: "A plate", Describes: "One plate & one hole", IDs: "p-"})
	const file = "testdata/plate.svg"
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
	if again := Write(sample(), Meta{Title: "A plate", Describes: "One plate & one hole", IDs: "p-"}); !bytes.Equal(got, again) {
		t.Error("two runs differ")
	}
}

func TestWellFormed(t *testing.T) {
	d := xml.NewDecoder(bytes.NewReader(Write(sample(), Meta{Title: "<&>"})))
	texts := 0
	for {
		tok, err := d.Token()
		if err == io.EOF {
			break
		}
		if err != nil {
			t.Fatal(err)
		}
		if e, ok := tok.(xml.StartElement); ok {
			if e.Name.Space != "http://www.w3.org/2000/svg" {
				t.Errorf("<%s> is in name space %q", e.Name.Local, e.Name.Space)
			}
			if e.Name.Local == "text" {
				texts++
			}
		}
	}
	if texts != 2 {
		t.Errorf("%d texts, want 2", texts)
	}
}
