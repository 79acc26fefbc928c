package svg

import (
	"image"
	"image/color"
	"image/png"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"dryfit/geom/r2"
	"dryfit/paper/draw"
)

// A photograph is inside the file and lands where it is drawn, turned with its group, as
// another program draws it; lettering with a link is a link.
func TestImage(t *testing.T) {
	reds := [4]uint8{20, 90, 160, 230} // upper left, upper right, lower left, lower right
	photo := &draw.Photo{Width: 40, Height: 20}
	for y := range 20 {
		for x := range 40 {
			photo.Samples = append(photo.Samples, reds[x/20+y/10*2], 40, 90)
		}
	}
	box := r2.Box{Max: v(40, 20)}
	data := Write(draw.Page{Size: v(100, 100), Items: []draw.Item{
		draw.ImageIn(r2.Box{Min: v(5, 70), Max: v(45, 90)}, photo, `a "tram" & rails`),
		draw.Group{Move: draw.Transform{Turn: math.Pi / 2, Shift: v(80, 20)}, Items: []draw.Item{draw.ImageIn(box, photo, "")}},
		draw.Text{At: v(5, 5), Says: "more", Height: 3, Link: `https://toys.example/?a=1&b="2"`},
	}}, Meta{})
	dir := t.TempDir()
	in, out := filepath.Join(dir, "p.svg"), filepath.Join(dir, "p.png")
	if err := os.WriteFile(in, data, 0o644); err != nil {
		t.Fatal(err)
	}
	for _, c := range [][]string{{"xmllint", "--noout", in}, {"rsvg-convert", "-w", "400", "-h", "400", "-b", "white", "-o", out, in}} {
		if says, err := exec.Command(c[0], c[1:]...).CombinedOutput(); err != nil {
			t.Fatalf("%v: %v\n%s (Debian packages libxml2-utils, librsvg2-bin)", c, err, says)
		}
	}
	f, err := os.Open(out)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	var img image.Image
	if img, err = png.Decode(f); err != nil {
		t.Fatal(err)
	}
	for i, want := range reds {
		x, y := float64(i%2)*20+10, float64(1-i/2)*10+5
		for _, at := range [][2]float64{{5 + x, 70 + y}, {80 - y, 20 + x}} {
			got := color.RGBAModel.Convert(img.At(int(at[0]*4), int((100-at[1])*4))).(color.RGBA)
			if d := int(got.R) - int(want); d > 3 || d < -3 || got.G > 45 {
				t.Errorf("at %v: %v, want red %d", at, got, want)
			}
		}
	}
}
