package drawing

import (
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"dryfit/geom/r2"
)

// A page by hand: units, rotation, forms, layers, lines that close each other, and what
// is left out. Source of the operators: ISO 32000-1, Annex A.
func TestGoldenPDF(t *testing.T) {
	d, err := PDF(load(t, "plan.pdf.txt"), Options{})
	if err != nil {
		t.Fatal(err)
	}
	golden := filepath.Join("testdata", "plan.golden")
	if *update {
		if err := os.WriteFile(golden, []byte(told(d)), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	if want := string(load(t, "plan.golden")); told(d) != want {
		t.Errorf("got\n%s\nwant\n%s", told(d), want)
	}
	// Two inches by one, turned a quarter clockwise, on the layer that is named in UTF-16.
	if l := d.Lines[0]; l.Layer != "Saw" || l.Path.Bounds().Size().Sub(r2.Vec{X: 25.4, Y: 50.8}).Len() > 1e-9 {
		t.Errorf("%+v", l)
	}
}

// However another program packs the objects of a file, it is the same drawing.
func TestPDFPacked(t *testing.T) {
	qpdf, err := exec.LookPath("qpdf")
	if err != nil {
		t.Fatal("qpdf is missing: run make tools")
	}
	dir := t.TempDir()
	in := filepath.Join(dir, "in.pdf")
	text := strings.Replace(string(load(t, "plan.pdf.txt")), "/Rotate 90", "/Rotate 0", 1)
	if err := os.WriteFile(in, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	d, err := PDF([]byte(text), Options{})
	if err != nil {
		t.Fatal(err)
	}
	want := told(d)
	for _, how := range [][]string{{"--object-streams=generate", "--compress-streams=y"}, {"--qdf"}, {"--linearize"}, {"--object-streams=generate", "--encrypt", "", "x", "256", "--"}} {
		out := filepath.Join(dir, "out.pdf")
		msg, err := exec.Command(qpdf, append(append([]string{}, how...), in, out)...).CombinedOutput()
		if _, there := os.Stat(out); there != nil { // it warns of the hand-made table, with code 3
			t.Fatalf("%v: %v\n%s", how, err, msg)
		}
		b, err := os.ReadFile(out)
		if err != nil {
			t.Fatal(err)
		}
		os.Remove(out)
		d, err := PDF(b, Options{})
		if how[1:] != nil && len(how) > 2 {
			if err == nil || err.Error() != "this PDF is locked: expected one without a password" {
				t.Errorf("%v: %v", how, err)
			}
			continue
		}
		if err != nil {
			t.Errorf("%v: %v", how, err)
		} else if got := told(d); got != want {
			t.Errorf("%v: got\n%s\nwant\n%s", how, got, want)
		}
	}
}

func TestPDFRefused(t *testing.T) {
	page := func(content string) string {
		return fmt.Sprintf("%%PDF-1.4\n1 0 obj <</Type/Catalog/Pages 2 0 R>> endobj 2 0 obj <</Kids[3 0 R]>> endobj\n3 0 obj <</Contents 4 0 R /Resources<</XObject<</F 4 0 R>>>>>> endobj 4 0 obj <</Subtype/Form/Length %d>> stream\n%s\nendstream endobj trailer <</Root 1 0 R>>", len(content), content)
	}
	for _, c := range []struct{ in, want string }{
		{"", "there is no page in this file: expected a PDF of drawn lines"},
		{page("(a) Tj"), "there is no closed line in this drawing\n  page 1: left out: text"},
		{page("1 2 3 4 5 c"), "page 1: operator c has too few numbers: expected 6"},
		{page("1 /x l"), "page 1: operator l has something else than numbers: expected 2 numbers"},
		{page("/F Do"), "page 1: forms in forms without end"},
		{strings.Replace(page("0 0 1 1 re f"), "/Subtype", "/Filter/LZWDecode/Subtype", 1), "page 1: its content is packed in a way that is not read, or is broken: expected FlateDecode, or none"},
		{page(strings.Repeat("1 0 0 1 0 0 cm ", maxOps+1)), "page 1: the page has more than 500000 steps"},
	} {
		_, err := PDF([]byte(c.in), Options{})
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%.300s\n got %v\nwant %s", c.in, err, c.want)
		}
	}
	d, err := PDF([]byte(page("0 0 72 36 re S")), Options{Unit: 1})
	if err != nil || math.Abs(d.Lines[0].Path.Area()-72*36) > 1e-9 {
		t.Error(d, err)
	}
}

func FuzzPDF(f *testing.F) {
	f.Add(load(f, "plan.pdf.txt"))
	f.Fuzz(func(t *testing.T, b []byte) {
		d, err := PDF(b, Options{})
		checked(t, d, err)
	})
}
