package drawing

import (
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

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

// filed makes a PDF of a page's content and objects beside it, from number 10 on.
func filed(catalog, page, content string, more ...string) []byte {
	s := fmt.Sprintf("%%PDF-1.5\n1 0 obj <</Type/Catalog/Pages 2 0 R%s>> endobj 2 0 obj <</Kids[3 0 R]/Count 1>> endobj 3 0 obj <</Type/Page/Contents 4 0 R%s>> endobj\n", catalog, page)
	s += fmt.Sprintf("4 0 obj <</Length %d>> stream\n%s\nendstream endobj\n", len(content), content)
	for i, m := range more {
		s += fmt.Sprintf("%d 0 obj %s endobj\n", 10+i, m)
	}
	return []byte(s + "trailer <</Root 1 0 R>>\n")
}

// A file of many small objects is read in a time that grows no faster than the file.
func TestPDFManyObjects(t *testing.T) {
	for _, one := range []string{"1 0 obj 1 endobj\n", "1 0 obj <<>> stream\n", "trailer <<>>\n", "1 0 obj ("} {
		b := []byte("%PDF-1.5\n" + strings.Repeat(one, (4<<20)/len(one)))
		begin := time.Now()
		if _, err := PDF(b, Options{}); err == nil {
			t.Errorf("%q: a page", one)
		}
		if d := time.Since(begin); d > 8*time.Second { // well below 1 s; with a search for each object 15 s
			t.Errorf("%q: 4 MiB take %v", one, d)
		}
	}
}

// Of a file that was saved again, the later version of an object counts (7.5.6), in object
// streams as well.
func TestPDFSavedAgain(t *testing.T) {
	packed := func(n int, body string) string {
		return fmt.Sprintf("%d 0 obj <</Type/ObjStm/N 1/First 4/Length %d>> stream\n3 0 %s\nendstream endobj\n", n, 4+len(body), body)
	}
	plain := func(body string) string { return "3 0 obj " + body + " endobj\n" }
	const old, last = "<</Type/Page/Contents 4 0 R>>", "<</Type/Page/Contents 5 0 R>>"
	for name, pair := range map[string][2]string{
		"two object streams":           {packed(6, old), packed(7, last)},
		"an object, then a stream":     {plain(old), packed(7, last)},
		"a stream, then an object":     {packed(6, old), plain(last)},
		"an object, then another":      {plain(old), plain(last)},
		"a stream with its own number": {packed(6, old), packed(6, last)},
	} {
		const head = "%PDF-1.5\n1 0 obj <</Type/Catalog/Pages 2 0 R>> endobj 2 0 obj <</Kids[3 0 R]/Count 1>> endobj\n" +
			"4 0 obj <</Length 14>> stream\n0 0 10 10 re S\nendstream endobj\n5 0 obj <</Length 14>> stream\n0 0 20 20 re S\nendstream endobj\n"
		d, err := PDF([]byte(head+pair[0]+"trailer <</Root 1 0 R>>\n"+pair[1]+"trailer <</Root 1 0 R>>"), Options{Unit: 1})
		if err != nil || d.Lines[0].Path.Bounds().Size().X != 20 {
			t.Errorf("%s: %v, %v", name, d, err)
		}
	}
}

// The names of layers, as strings are written (7.3.4.2).
func TestPDFStrings(t *testing.T) {
	for in, want := range map[string]string{
		`(\376\377\000C\000u\000t)`: "Cut",
		`(\376\377\330<\337\062)`:   "🌲",
		"(a\\\nb\\\r\nc\\\rd)":      "abcd",
		`(a\tb\)\(\\\53\1012)`:      `a b)(\+A2`,
		`(in (it) is \q)`:           "in (it) is q",
		`(\0601)`:                   "01",
	} {
		d, err := PDF(filed("", "/Resources<</Properties<</L 10 0 R>>>>", "/OC /L BDC 0 0 9 9 re f EMC", "<</Type/OCG/Name"+in+">>"), Options{})
		if err != nil || d.Lines[0].Layer != want {
			t.Errorf("%s: %v %v, want %s", in, d, err, want)
		}
	}
}

// What is not shown is not read, with a note (8.11).
func TestPDFUnseen(t *testing.T) {
	const group, off = "<</Type/OCG/Name(Old)>>", "/OCProperties<</OCGs[10 0 R 11 0 R]/D<</OFF[10 0 R]>>>>"
	for _, c := range []struct {
		name, catalog, oc string
		unseen            bool
	}{
		{"off", off, "10 0 R", true},
		{"on", "/OCProperties<</OCGs[10 0 R]/D<<>>>>", "10 0 R", false},
		{"all off", "/OCProperties<</OCGs[10 0 R]/D<</BaseState/OFF>>>>", "10 0 R", true},
		{"all off but one", "/OCProperties<</OCGs[10 0 R]/D<</BaseState/OFF/ON[10 0 R]>>>>", "10 0 R", false},
		{"a membership", off, "<</Type/OCMD/OCGs 10 0 R>>", true},
		{"any on", off, "<</Type/OCMD/OCGs[10 0 R 11 0 R]>>", false},
		{"all on", off, "<</Type/OCMD/OCGs[10 0 R 11 0 R]/P/AllOn>>", true},
		{"any off", off, "<</Type/OCMD/OCGs[10 0 R 11 0 R]/P/AnyOff>>", false},
		{"all must be off", off, "<</Type/OCMD/OCGs[10 0 R 11 0 R]/P/AllOff>>", true},
		{"an expression", off, "<</Type/OCMD/VE[/Not [/Or 10 0 R 11 0 R]]>>", true},
		{"another", off, "<</Type/OCMD/VE[/And [/Not 10 0 R] 11 0 R]>>", false},
	} {
		page := "/Resources<</Properties<</L " + c.oc + ">>/XObject<</F 12 0 R>>>>"
		form := "<</Subtype/Form/OC " + c.oc + "/Length 14>> stream\n0 0 30 30 re f\nendstream"
		content := "/OC /L BDC /Span BMC 0 0 9 9 re f EMC 2 2 m EMC 20 20 10 10 re f /F Do"
		d, err := PDF(filed(c.catalog, page, content, group, "<</Type/OCG/Name(New)>>", form), Options{Unit: 1})
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		if want := map[bool]int{true: 1, false: 3}[c.unseen]; len(d.Lines) != want || c.unseen != (len(d.Notes) == 1 && strings.Contains(d.Notes[0], ", which is not shown")) {
			t.Errorf("%s: %d lines, %v", c.name, len(d.Lines), d.Notes)
		}
	}
}

// After h the pen is where its line began (8.5.2.1): the first point of v.
func TestPDFAfterClose(t *testing.T) {
	read := func(curve string) float64 {
		d, err := PDF(filed("", "", "10 10 m 50 10 l 50 50 l h "+curve+" 10 10 l S"), Options{Unit: 1})
		if err != nil || len(d.Lines) != 2 {
			t.Fatal(d, err)
		}
		return d.Lines[1].Path.Area()
	}
	if v, c := read("80 60 60 80 v"), read("10 10 80 60 60 80 c"); math.Abs(v-c) > 1e-9 {
		t.Errorf("v %g, c %g", v, c)
	}
}

func FuzzPDF(f *testing.F) {
	f.Add(load(f, "plan.pdf.txt"))
	f.Fuzz(func(t *testing.T, b []byte) {
		begin := time.Now()
		d, err := PDF(b, Options{})
		if long := time.Since(begin); long > 10*time.Second {
			t.Errorf("%d bytes take %v", len(b), long)
		}
		checked(t, d, err)
	})
}
