package pdf

import (
	"bytes"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"dryfit/geom/r2"
	"dryfit/paper/draw"
)

// four is a picture of four colours: red and green above, blue and white below.
var four = [4]color.RGBA{{220, 30, 30, 255}, {30, 180, 30, 255}, {30, 30, 220, 255}, {255, 255, 255, 255}}

func photos(t *testing.T) (plain, packed, grey *draw.Photo) {
	const w, h = 64, 48
	img := image.NewRGBA(image.Rect(0, 0, w, h))
	plain, grey = &draw.Photo{Width: w, Height: h}, &draw.Photo{Width: w, Height: h, Grey: true}
	for y := range h {
		for x := range w {
			c := four[x*2/w+y*2/h*2]
			img.SetRGBA(x, y, c)
			plain.Samples, grey.Samples = append(plain.Samples, c.R, c.G, c.B), append(grey.Samples, c.G)
		}
	}
	var b bytes.Buffer
	if err := jpeg.Encode(&b, img, &jpeg.Options{Quality: 95}); err != nil {
		t.Fatal(err)
	}
	return plain, &draw.Photo{Width: w, Height: h, JPEG: b.Bytes()}, grey
}

// Photographs land where they are drawn, upright, in their colours, turned and mirrored
// with their group, in a render by a program that is not ours.
func TestImages(t *testing.T) {
	plain, packed, grey := photos(t)
	box := r2.Box{Max: v(40, 30)}
	page := draw.Page{Size: v(120, 120), Items: []draw.Item{
		draw.Group{Move: draw.Translate(v(10, 80)), Items: []draw.Item{draw.ImageIn(box, plain, "plain")}},
		draw.Group{Move: draw.Translate(v(60, 80)), Items: []draw.Item{draw.ImageIn(box, packed, "packed")}},
		draw.Group{Move: draw.Translate(v(10, 45)), Items: []draw.Item{draw.ImageIn(box, grey, "grey")}},
		draw.Group{Move: draw.Transform{Turn: math.Pi / 2, Shift: v(100, 30)}, Items: []draw.Item{draw.ImageIn(box, plain, "turned")}},
		draw.Group{Move: draw.Transform{Mirror: true, Scale: 0.5, Shift: v(40, 10)}, Items: []draw.Item{draw.ImageIn(box, packed, "mirrored")}},
	}}
	data, err := Write([]draw.Page{page}, Meta{Title: "Pictures"})
	if err != nil {
		t.Fatal(err)
	}
	if n := bytes.Count(data, []byte("/Subtype /Image")); n != 3 {
		t.Errorf("%d pictures in the file, want 3: each once", n)
	}
	if !bytes.Contains(data, packed.JPEG) {
		t.Error("the JPEG is not in the file as it was")
	}
	file := filepath.Join(t.TempDir(), "p.pdf")
	if err := os.WriteFile(file, data, 0o644); err != nil {
		t.Fatal(err)
	}
	if says := tool(t, "qpdf", "--check", file); !strings.Contains(says, "No syntax or stream encoding errors") {
		t.Error(says)
	}
	base := strings.TrimSuffix(file, ".pdf")
	tool(t, "pdftoppm", "-r", "100", "-png", "-singlefile", file, base)
	tool(t, "mutool", "draw", "-q", "-r", "100", "-o", base+"-other.png", file)
	for _, name := range []string{base + ".png", base + "-other.png"} {
		f, err := os.Open(name)
		if err != nil {
			t.Fatal(err)
		}
		img, err := png.Decode(f)
		f.Close()
		if err != nil {
			t.Fatal(err)
		}
		at := func(x, y float64) color.RGBA {
			return color.RGBAModel.Convert(img.At(int(x/25.4*100), int((120-y)/25.4*100))).(color.RGBA)
		}
		like := func(what string, x, y float64, want color.RGBA) {
			got := at(x, y)
			for _, d := range []int{int(got.R) - int(want.R), int(got.G) - int(want.G), int(got.B) - int(want.B)} {
				if d > 12 || d < -12 {
					t.Errorf("%s, %s at %g, %g: %v, want %v", filepath.Base(name), what, x, y, got, want)
					return
				}
			}
		}
		for i, c := range four {
			x, y := float64(i%2)*20+10, float64(1-i/2)*15+7.5 // in the picture, from its lower left corner
			like("plain", 10+x, 80+y, c)
			like("packed", 60+x, 80+y, c)
			like("grey", 10+x, 45+y, color.RGBA{c.G, c.G, c.G, 255})
			like("turned", 100-y, 30+x, c)
			like("mirrored", 40-x/2, 10+y/2, c)
		}
		like("beside", 5, 90, color.RGBA{255, 255, 255, 255})
	}
}

// A text that links opens its address where the text stands, as other programs read it.
func TestLinks(t *testing.T) {
	const address = "https://toys.example/tram?a=(1)&b=2"
	text := draw.Text{At: v(20, 50), Says: "the tram", Height: 4, Link: address}
	moved := draw.Group{Move: draw.Translate(v(5, 7)), Items: []draw.Item{text}}
	data, err := Write([]draw.Page{{Size: v(100, 100), Items: []draw.Item{moved}}, {Size: v(100, 100)}}, Meta{})
	if err != nil {
		t.Fatal(err)
	}
	file := filepath.Join(t.TempDir(), "p.pdf")
	if err := os.WriteFile(file, data, 0o644); err != nil {
		t.Fatal(err)
	}
	tool(t, "qpdf", "--check", file)
	if says := tool(t, "pdfinfo", "-url", file); !strings.Contains(says, address) {
		t.Errorf("no address: %s", says)
	}
	says := tool(t, "mutool", "show", file, "pages/1/Annots/1/Rect")
	n := regexp.MustCompile(`[-0-9.]+`).FindAllString(says, -1)
	if len(n) != 4 {
		t.Fatalf("no rectangle: %s", says)
	}
	var got [4]float64
	for i := range got {
		x, _ := strconv.ParseFloat(n[i], 64)
		got[i] = x / pointsPerMM
	}
	w := draw.TextWidth(text.Says, 4, false)
	for i, want := range [4]float64{25, 57 - draw.Descent(4, false), 25 + w, 61} {
		if math.Abs(got[i]-want) > 0.01 {
			t.Errorf("the link is at %v: number %d should be %.3f", got, i, want)
		}
	}
	if says := tool(t, "mutool", "show", file, "pages/2/Annots"); !strings.Contains(says, "null") {
		t.Errorf("a link on the second page: %s", says)
	}
}
