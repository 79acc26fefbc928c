// Package papertest looks at finished PDF files through programs that are not ours:
// qpdf, mutool, pdffonts, pdftotext and pdftoppm. It is for tests only.
//
// [Check] is what every PDF must pass; [Words] and [Apart] find text that meets
// other text or the margin; [Trace] gives back the lines on a page; [Render] a picture
// of it.
package papertest

import (
	"encoding/xml"
	"fmt"
	"image"
	_ "image/png" // pdftoppm writes it
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"dryfit/geom/r2"
)

const mmPerPoint = 25.4 / 72

// Tool runs a program from outside. A machine without it cannot say that our pages
// are right, so the test fails there.
func Tool(t testing.TB, name, pkg string, args ...string) string {
	t.Helper()
	path, err := exec.LookPath(name)
	if err != nil {
		t.Fatalf("this test needs the program %s (Debian package %s)", name, pkg)
	}
	out, err := exec.Command(path, args...).CombinedOutput()
	if err != nil {
		t.Fatalf("%s: %v\n%s", name, err, out)
	}
	return string(out)
}

// File writes data to a file of the test's own and returns its path.
func File(t testing.TB, data []byte) string {
	t.Helper()
	file := filepath.Join(t.TempDir(), "p.pdf")
	if err := os.WriteFile(file, data, 0o644); err != nil {
		t.Fatal(err)
	}
	return file
}

// Check fails the test unless the file is sound, all its fonts are embedded, and it
// asks for no scaling.
func Check(t testing.TB, file string) {
	t.Helper()
	if out := Tool(t, "qpdf", "qpdf", "--check", file); !strings.Contains(out, "No syntax or stream encoding errors") {
		t.Error(out)
	}
	lines := strings.Split(strings.TrimSpace(Tool(t, "pdffonts", "poppler-utils", file)), "\n")
	at := strings.Index(lines[0], "emb")
	for _, l := range lines[min(2, len(lines)):] {
		if at < 0 || len(l) < at+3 || strings.TrimSpace(l[at:at+3]) != "yes" {
			t.Errorf("a font is not embedded: %s", l)
		}
	}
	catalog := Tool(t, "mutool", "mupdf-tools", "show", file, "trailer/Root/ViewerPreferences")
	for _, want := range []string{"/PrintScaling /None", "/PickTrayByPDFSize true"} {
		if !strings.Contains(catalog, want) {
			t.Errorf("the file does not say %s: %s", want, catalog)
		}
	}
}

// Word is one word on a page, its box in mm from the lower left corner.
type Word struct {
	Says string
	Box  r2.Box
}

// Page is the words and the size of one page.
type Page struct {
	Size  r2.Vec
	Words []Word
}

// Words reads all words of a file. The boxes that pdftotext gives are as high as
// the font, from its ascent to its descent, and so higher than the letters.
func Words(t testing.TB, file string) []Page {
	t.Helper()
	out := file + ".html"
	Tool(t, "pdftotext", "poppler-utils", "-bbox", file, out)
	text, err := os.ReadFile(out)
	if err != nil {
		t.Fatal(err)
	}
	var doc struct {
		Pages []struct {
			W     float64 `xml:"width,attr"`
			H     float64 `xml:"height,attr"`
			Words []struct {
				X0   float64 `xml:"xMin,attr"`
				Y0   float64 `xml:"yMin,attr"`
				X1   float64 `xml:"xMax,attr"`
				Y1   float64 `xml:"yMax,attr"`
				Says string  `xml:",chardata"`
			} `xml:"word"`
		} `xml:"body>doc>page"`
	}
	d := xml.NewDecoder(strings.NewReader(string(text)))
	d.Strict = false
	if err := d.Decode(&doc); err != nil {
		t.Fatal(err)
	}
	var pages []Page
	for _, p := range doc.Pages {
		page := Page{Size: r2.Vec{X: p.W * mmPerPoint, Y: p.H * mmPerPoint}}
		for _, w := range p.Words {
			page.Words = append(page.Words, Word{w.Says, r2.Box{
				Min: r2.Vec{X: w.X0 * mmPerPoint, Y: (p.H - w.Y1) * mmPerPoint},
				Max: r2.Vec{X: w.X1 * mmPerPoint, Y: (p.H - w.Y0) * mmPerPoint}}})
		}
		pages = append(pages, page)
	}
	return pages
}

// Room is what a page keeps free at its sides, mm.
type Room struct{ Left, Right, Top, Bottom float64 }

// leading is what a box of pdftotext is higher than its letters, as a share of it at
// the top and at the bottom: of our font, ascent 0.93 and descent 0.24 of its size
// against capitals of 0.73. Boxes are made less by it, so that lines set close do not
// seem to meet.
const leadingTop, leadingBottom = 0.17, 0.2

// letters is the box of the letters of a word, which may stand upright.
func (w Word) letters() r2.Box {
	b, size := w.Box, w.Box.Size()
	if size.Y <= size.X || len(w.Says) < 3 {
		b.Max.Y -= leadingTop * size.Y
		b.Min.Y += leadingBottom * size.Y
	}
	if size.X < size.Y {
		b.Max.X -= leadingBottom * size.X
		b.Min.X += leadingTop * size.X
	}
	return b
}

// Apart returns what is wrong with the text of a file: words that meet other words,
// or that lie in the margin.
func Apart(pages []Page, margin Room) (faults []string) {
	const touch = 0.05 // mm; what boxes may share by rounding
	for n, p := range pages {
		for i, a := range p.Words {
			b := a.letters()
			if b.Min.X < margin.Left-touch || b.Min.Y < margin.Bottom-touch || b.Max.X > p.Size.X-margin.Right+touch || b.Max.Y > p.Size.Y-margin.Top+touch {
				faults = append(faults, fmt.Sprintf("page %d: %q lies in the margin", n+1, a.Says))
			}
			for _, o := range p.Words[:i] {
				c := o.letters()
				if b.Min.X+touch < c.Max.X && c.Min.X+touch < b.Max.X && b.Min.Y+touch < c.Max.Y && c.Min.Y+touch < b.Max.Y {
					faults = append(faults, fmt.Sprintf("page %d: %q lies on %q", n+1, a.Says, o.Says))
				}
			}
		}
	}
	return faults
}

// Stroke is a drawn line as mutool sees it: its width, its dashes, and its runs in mm
// from the lower left corner of the paper.
type Stroke struct {
	Width float64 // as said, before any scaling
	Grey  float64 // 0 is black
	Dash  bool
	Runs  []Run
}

// Run is one line drawn without lifting the pencil. Curves have three points more.
type Run struct {
	At     []r2.Vec
	Curves []Curve // in order, at the index of At where they start
	Closed bool
}

// Curve is a Bézier curve from At[From] to At[From+1].
type Curve struct {
	From   int
	C1, C2 r2.Vec
}

// Points returns the corners of all runs.
func (s Stroke) Points() (out []r2.Vec) {
	for _, r := range s.Runs {
		out = append(out, r.At...)
	}
	return out
}

// Trace returns the strokes of each page.
func Trace(t testing.TB, file string) [][]Stroke {
	t.Helper()
	type step struct {
		XMLName xml.Name
		X       float64 `xml:"x,attr"`
		Y       float64 `xml:"y,attr"`
		X1      float64 `xml:"x1,attr"`
		Y1      float64 `xml:"y1,attr"`
		X2      float64 `xml:"x2,attr"`
		Y2      float64 `xml:"y2,attr"`
		X3      float64 `xml:"x3,attr"`
		Y3      float64 `xml:"y3,attr"`
	}
	var doc struct {
		Pages []struct {
			Box   string `xml:"mediabox,attr"`
			Paths []struct {
				Transform string  `xml:"transform,attr"`
				Width     float64 `xml:"linewidth,attr"`
				Dash      string  `xml:"dash,attr"`
				Color     string  `xml:"color,attr"`
				Steps     []step  `xml:",any"`
			} `xml:"stroke_path"`
		} `xml:"page"`
	}
	out := Tool(t, "mutool", "mupdf-tools", "trace", file)
	d := xml.NewDecoder(strings.NewReader(out[strings.Index(out, "<document"):]))
	d.Strict = false
	if err := d.Decode(&doc); err != nil {
		t.Fatal(err)
	}
	var pages [][]Stroke
	for _, p := range doc.Pages {
		box := numbers(p.Box)
		var list []Stroke
		for _, path := range p.Paths {
			m := numbers(path.Transform)
			at := func(x, y float64) r2.Vec {
				return r2.Vec{X: (m[0]*x + m[2]*y + m[4]) * mmPerPoint, Y: (box[3] - (m[1]*x + m[3]*y + m[5])) * mmPerPoint}
			}
			s := Stroke{Width: path.Width, Dash: path.Dash != ""}
			if c := numbers(path.Color); len(c) > 0 {
				s.Grey = c[0]
			}
			for _, st := range path.Steps {
				switch st.XMLName.Local {
				case "moveto":
					s.Runs = append(s.Runs, Run{At: []r2.Vec{at(st.X, st.Y)}})
					continue
				}
				if len(s.Runs) == 0 {
					continue
				}
				r := &s.Runs[len(s.Runs)-1]
				switch st.XMLName.Local {
				case "lineto":
					r.At = append(r.At, at(st.X, st.Y))
				case "curveto":
					r.Curves = append(r.Curves, Curve{len(r.At) - 1, at(st.X1, st.Y1), at(st.X2, st.Y2)})
					r.At = append(r.At, at(st.X3, st.Y3))
				case "closepath":
					r.Closed = true
				}
			}
			list = append(list, s)
		}
		pages = append(pages, list)
	}
	return pages
}

func numbers(s string) (out []float64) {
	for _, f := range strings.Fields(s) {
		x, _ := strconv.ParseFloat(f, 64)
		out = append(out, x)
	}
	return out
}

// Render returns a picture in grey of one page, counted from 1.
func Render(t testing.TB, file string, page, dpi int) image.Image {
	t.Helper()
	return render(t, file, page, dpi)
}

func render(t testing.TB, file string, page, dpi int, more ...string) image.Image {
	t.Helper()
	base := strings.TrimSuffix(file, ".pdf") + "-seen"
	n := strconv.Itoa(page)
	args := append([]string{"-r", strconv.Itoa(dpi), "-gray", "-png", "-singlefile", "-f", n, "-l", n}, more...)
	Tool(t, "pdftoppm", "poppler-utils", append(args, file, base)...)
	f, err := os.Open(base + ".png")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	img, _, err := image.Decode(f)
	if err != nil {
		t.Fatal(err)
	}
	return img
}

// RenderPart returns a picture in grey of part of a page, in pixels from its upper
// left corner.
func RenderPart(t testing.TB, file string, page, dpi int, part image.Rectangle) image.Image {
	t.Helper()
	return render(t, file, page, dpi, "-x", strconv.Itoa(part.Min.X), "-y", strconv.Itoa(part.Min.Y), "-W", strconv.Itoa(part.Dx()), "-H", strconv.Itoa(part.Dy()))
}
