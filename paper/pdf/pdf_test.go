package pdf

import (
	"bytes"
	"encoding/xml"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"dryfit/geom/r2"
	"dryfit/geom/tol"
	"dryfit/paper/draw"
)

func v(x, y float64) r2.Vec { return r2.Vec{X: x, Y: y} }

// tool runs a PDF program from outside. A machine without it can't say that our
// files are good, so the test fails there.
func tool(t *testing.T, name string, args ...string) string {
	t.Helper()
	path, err := exec.LookPath(name)
	if err != nil {
		t.Fatalf("this test needs the program %s (Debian packages: mupdf-tools, qpdf)", name)
	}
	out, err := exec.Command(path, args...).CombinedOutput()
	if err != nil {
		t.Fatalf("%s: %v\n%s", name, err, out)
	}
	return string(out)
}

// The sample's outline spans the whole page and holds an arc, so that an error
// of scale or origin would add up.
var outline = []r2.Vec{v(7, 7), v(203, 7.1234), v(202.5, 280), v(15.875, 290), v(7, 150.00005)}

var hole = struct {
	at     r2.Vec
	radius float64
}{v(151.25, 200.4), 41.275}

const words = "Drill ⌀ ¼ × 1 ⅜″ → ☐ ✓ ≤ ≈ 90° ′ Øé"

func sample() ([]draw.Page, Meta) {
	page := draw.Page{Size: v(210, 297), Items: []draw.Item{
		draw.Group{Layer: "Cut lines", Items: []draw.Item{
			draw.Path{Runs: []draw.Run{draw.Polygon(outline...)}, Line: draw.Cut},
			draw.Group{Move: draw.Transform{Turn: math.Pi / 2, Shift: v(10, 20)}, Items: []draw.Item{ // 90° and a shift
				draw.Path{Runs: []draw.Run{draw.Circle(v(hole.at.Y-20, 10-hole.at.X), hole.radius)}, Line: draw.Outline},
			}},
		}},
		draw.Group{Layer: "Märkte ✓", Items: []draw.Item{
			draw.Hatch([]draw.Run{draw.Circle(v(50, 50), 20)}, 1, 3),
			draw.Group{Clip: []draw.Run{draw.Rect(r2.Box{Min: v(80, 80), Max: v(90, 90)})}, Items: []draw.Item{draw.Path{Runs: []draw.Run{draw.Polyline(v(70, 70), v(100, 100))}, Line: draw.Thin}}},
			draw.Path{Runs: []draw.Run{draw.Rect(r2.Box{Min: v(60, 60), Max: v(70, 70)})}, Fill: draw.Light, Line: draw.Centre},
		}},
		draw.Text{At: v(30, 100), Says: words, Height: 3},
		draw.Text{At: v(30, 120), Says: "Bold words", Height: 3, Bold: true, Turn: 0.3},
	}}
	second := draw.Page{Size: v(215.9, 279.4), Items: []draw.Item{draw.Text{At: v(20, 20), Says: "second", Height: 3}}}
	return []draw.Page{page, second}, Meta{Title: "Quay tram (½ size)", Subject: "Patterns", Keywords: "toy, wood",
		Outline: []Entry{{Title: "Patterns"}, {Title: "Frame ¾", Page: 0, Top: 200, Level: 1}, {Title: "Deck", Page: 1, Level: 1}, {Title: "Guide", Page: 1}}}
}

func written(t *testing.T) (file string, data []byte) {
	t.Helper()
	pages, meta := sample()
	data, err := Write(pages, meta)
	if err != nil {
		t.Fatal(err)
	}
	file = filepath.Join(t.TempDir(), "sample.pdf")
	if err := os.WriteFile(file, data, 0o644); err != nil {
		t.Fatal(err)
	}
	return file, data
}

func TestQPDFFindsNothingWrong(t *testing.T) {
	file, _ := written(t)
	if out := tool(t, "qpdf", "--check", file); !strings.Contains(out, "No syntax or stream encoding errors") {
		t.Error(out)
	}
}

func TestSameBytes(t *testing.T) {
	_, a := written(t)
	_, b := written(t)
	if !bytes.Equal(a, b) {
		t.Error("two runs differ")
	}
}

func TestCatalog(t *testing.T) {
	file, _ := written(t)
	show := func(what string) string {
		return strings.Join(strings.Fields(tool(t, "mutool", "show", file, what)), " ")
	}
	if got := show("trailer/Root/ViewerPreferences"); !strings.Contains(got, "/PrintScaling /None") || !strings.Contains(got, "/PickTrayByPDFSize true") {
		t.Errorf("viewer preferences are %s", got)
	}
	if got := show("trailer/Root/OCProperties/OCGs/*/Name"); got != text("Cut lines")+" "+text("Märkte ✓") {
		t.Errorf("layers are %s", got)
	}
	if got := show("pages/2/MediaBox"); got != "[ 0 0 612 792 ]" {
		t.Errorf("a Letter page has the box %s", got)
	}
	if got := show("outline"); !inOrder(got, `"Patterns"`, `"Frame ¾"`, "#page=1", `"Deck"`, "#page=2", `"Guide"`) {
		t.Errorf("outline is %s", got)
	}
	if got := tool(t, "mutool", "info", file); strings.Contains(got, "Date") {
		t.Errorf("the file has a date:\n%s", got)
	}
}

// inOrder tells whether the words follow each other in s.
func inOrder(s string, words ...string) bool {
	for _, w := range words {
		i := strings.Index(s, w)
		if i < 0 {
			return false
		}
		s = s[i+len(w):]
	}
	return true
}

// Text is found again letter by letter, so fonts and their maps are whole.
func TestTextReadsBack(t *testing.T) {
	file, _ := written(t)
	got := tool(t, "mutool", "draw", "-F", "txt", file)
	for _, want := range []string{words, "Bold words", "second"} {
		if !strings.Contains(got, want) {
			t.Errorf("%q is not in %q", want, got)
		}
	}
}

// traced is what mutool trace prints of a page, as far as we ask.
type traced struct {
	Paths []tracedPath `xml:"stroke_path"`
	Texts []struct {
		Glyphs []struct {
			X   float64 `xml:"x,attr"`
			Adv float64 `xml:"adv,attr"`
		} `xml:"span>g"`
		Transform string `xml:"transform,attr"`
	} `xml:"fill_text"`
}

type tracedPath struct {
	Transform string  `xml:"transform,attr"`
	Width     float64 `xml:"linewidth,attr"`
	Steps     []struct {
		XMLName xml.Name
		X       float64 `xml:"x,attr"`
		Y       float64 `xml:"y,attr"`
		X3      float64 `xml:"x3,attr"`
		Y3      float64 `xml:"y3,attr"`
		X1      float64 `xml:"x1,attr"`
		Y1      float64 `xml:"y1,attr"`
		X2      float64 `xml:"x2,attr"`
		Y2      float64 `xml:"y2,attr"`
	} `xml:",any"`
}

// onPaper turns a traced point into millimetres from the lower left corner.
func onPaper(t *testing.T, transform string, height float64, p r2.Vec) r2.Vec {
	t.Helper()
	f := strings.Fields(transform)
	m := make([]float64, 6)
	for i := range m {
		x, err := strconv.ParseFloat(f[i], 64)
		if err != nil {
			t.Fatal(err)
		}
		m[i] = x
	}
	const mmPerPoint = 25.4 / 72
	return v((m[0]*p.X+m[2]*p.Y+m[4])*mmPerPoint, height-(m[1]*p.X+m[3]*p.Y+m[5])*mmPerPoint)
}

func trace(t *testing.T, file string) traced {
	t.Helper()
	var doc struct {
		Page traced `xml:"page"`
	}
	out := tool(t, "mutool", "trace", file, "1")
	d := xml.NewDecoder(strings.NewReader(out[strings.Index(out, "<document"):]))
	d.Strict = false
	if err := d.Decode(&doc); err != nil {
		t.Fatal(err)
	}
	return doc.Page
}

func TestTrueSize(t *testing.T) {
	file, _ := written(t)
	page := trace(t, file)
	var vertices, circle []r2.Vec
	for _, p := range page.Paths {
		at := func(x, y float64) r2.Vec { return onPaper(t, p.Transform, 297, v(x, y)) }
		var pen r2.Vec
		for _, s := range p.Steps {
			switch s.XMLName.Local {
			case "moveto", "lineto":
				pen = at(s.X, s.Y)
				if p.Width == 0.5 {
					vertices = append(vertices, pen)
				}
			case "curveto":
				if p.Width == 0.35 {
					c := draw.Cubic{C1: at(s.X1, s.Y1), C2: at(s.X2, s.Y2), To: at(s.X3, s.Y3)}
					for i := range 20 {
						u := float64(i) / 20
						w := 1 - u
						circle = append(circle, pen.Scale(w*w*w).Add(c.C1.Scale(3*w*w*u)).Add(c.C2.Scale(3*w*u*u)).Add(c.To.Scale(u*u*u)))
					}
					pen = c.To
				}
			}
		}
	}
	if len(vertices) != len(outline) || len(circle) < 80 {
		t.Fatalf("%d vertices of %d, %d points on the circle", len(vertices), len(outline), len(circle))
	}
	worst := 0.0
	for i, p := range outline {
		worst = math.Max(worst, p.Sub(vertices[i]).Len())
	}
	sum := r2.Vec{}
	for _, p := range circle {
		worst = math.Max(worst, math.Abs(p.Sub(hole.at).Len()-hole.radius))
		sum = sum.Add(p)
	}
	worst = math.Max(worst, sum.Scale(1/float64(len(circle))).Sub(hole.at).Len())
	if worst > tol.TrueSize {
		t.Errorf("a point is %g mm off", worst)
	}
	t.Logf("farthest point: %.5f mm off", worst)
}

// The reader's own sum of advances is the width we lay text out with.
func TestTextWidth(t *testing.T) {
	file, _ := written(t)
	g := trace(t, file).Texts[0].Glyphs
	last := g[len(g)-1]
	x := draw.Text{Says: words, Height: 3}
	if got := last.X + last.Adv*x.Size() - g[0].X; math.Abs(got-x.Width()) > 0.01 {
		t.Errorf("%q is %g mm long in the file, %g by draw.TextWidth", words, got, x.Width())
	}
	if len(g) != len([]rune(words)) {
		t.Errorf("%d glyphs for %d letters", len(g), len([]rune(words)))
	}
}

func TestRefuses(t *testing.T) {
	page := []draw.Page{{Size: v(100, 100)}}
	for name, c := range map[string]struct {
		pages []draw.Page
		meta  Meta
	}{
		"no pages":        {},
		"no such page":    {page, Meta{Outline: []Entry{{Title: "a", Page: 1}}}},
		"a level skipped": {page, Meta{Outline: []Entry{{Title: "a"}, {Title: "b", Level: 2}}}},
		"starts below":    {page, Meta{Outline: []Entry{{Title: "a", Level: 1}}}},
	} {
		if _, err := Write(c.pages, c.meta); err == nil {
			t.Errorf("%s: no error", name)
		}
	}
}
