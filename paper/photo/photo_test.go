package photo

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"math/rand"
	"slices"
	"strings"
	"testing"

	"dryfit/paper/draw"
)

// corners has another brightness in each quarter: upper left, upper right, lower left,
// lower right.
var corners = [4]uint8{20, 90, 160, 230}

func quarters(w, h int) *image.RGBA {
	img := image.NewRGBA(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			q := corners[x*2/w+y*2/h*2]
			img.SetRGBA(x, y, color.RGBA{q, q, uint8(255 - int(q)), 255})
		}
	}
	return img
}

func jpegOf(t testing.TB, img image.Image, quality int) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := jpeg.Encode(&b, img, &jpeg.Options{Quality: quality}); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func pngOf(t testing.TB, img image.Image) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := png.Encode(&b, img); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// segment is a marker with its length and body.
func segment(mark byte, body string) []byte {
	return append(binary.BigEndian.AppendUint16([]byte{0xff, mark}, uint16(len(body)+2)), body...)
}

// exif is an Exif segment that says an orientation, in either byte order: a TIFF 6.0
// directory with the maker of the camera (271) and the orientation (274).
func exif(order binary.AppendByteOrder, way uint16) []byte {
	b := []byte("MM\x00*")
	if order == binary.AppendByteOrder(binary.LittleEndian) {
		b = []byte("II*\x00")
	}
	b = order.AppendUint32(b, 8)
	b = order.AppendUint16(b, 2)
	b = order.AppendUint32(order.AppendUint32(order.AppendUint16(order.AppendUint16(b, 271), 2), 4), 0x41424300)
	b = order.AppendUint16(order.AppendUint16(order.AppendUint32(order.AppendUint16(order.AppendUint16(b, 274), 3), 1), way), 0)
	return segment(markApp1, "Exif\x00\x00"+string(order.AppendUint32(b, 0)))
}

// with puts segments behind the start marker.
func with(data []byte, segs ...[]byte) []byte {
	return append(append([]byte("\xff\xd8"), bytes.Join(segs, nil)...), data[2:]...)
}

func decoded(t testing.TB, p *draw.Photo) image.Image {
	t.Helper()
	if p.JPEG != nil {
		img, err := jpeg.Decode(bytes.NewReader(p.JPEG))
		if err != nil {
			t.Fatal(err)
		}
		if size := img.Bounds().Size(); size != (image.Point{p.Width, p.Height}) {
			t.Fatalf("says %d × %d, is %v", p.Width, p.Height, size)
		}
		return img
	}
	each := 3
	if p.Grey {
		each = 1
	}
	if len(p.Samples) != each*p.Width*p.Height {
		t.Fatalf("%d samples for %d × %d", len(p.Samples), p.Width, p.Height)
	}
	img := image.NewRGBA(image.Rect(0, 0, p.Width, p.Height))
	for i := range p.Width * p.Height {
		s := p.Samples[each*i:]
		img.SetRGBA(i%p.Width, i/p.Width, color.RGBA{s[0], s[each/2], s[each-1], 255})
	}
	return img
}

// seen are the reds in the middles of the quarters.
func seen(img image.Image) (out [4]int) {
	b := img.Bounds()
	for i := range out {
		r, _, _, _ := img.At(b.Min.X+b.Dx()*(1+2*(i%2))/4, b.Min.Y+b.Dy()*(1+2*(i/2))/4).RGBA()
		out[i] = int(r >> 8)
	}
	return out
}

func alike(a, b [4]int) bool {
	for i := range a {
		if d := a[i] - b[i]; d > 4 || d < -4 {
			return false
		}
	}
	return true
}

// The eight ways to hold a camera, each as where the quarters of the file are seen: the
// table of the Exif standard (CIPA DC-008, tag 274, from memory) written out.
func TestHeldAnyWay(t *testing.T) {
	data := jpegOf(t, quarters(96, 64), 95)
	for way, at := range [9][4]int{ // which quarter of the file is seen upper left, upper right, lower left, lower right
		{0, 1, 2, 3}, // not said
		{0, 1, 2, 3},
		{1, 0, 3, 2}, // first column right
		{3, 2, 1, 0}, // half a turn
		{2, 3, 0, 1}, // first row below
		{0, 2, 1, 3}, // first row left, first column above
		{2, 0, 3, 1}, // first row right, first column above: held a quarter to the left
		{3, 1, 2, 0}, // first row right, first column below
		{1, 3, 0, 2}, // first row left, first column below
	} {
		for _, order := range []binary.AppendByteOrder{binary.BigEndian, binary.LittleEndian} {
			p, err := Read(with(data, exif(order, uint16(way))), 100, 100)
			if err != nil {
				t.Fatal(err)
			}
			var want [4]int
			for i, q := range at {
				want[i] = int(corners[q])
			}
			if got := seen(decoded(t, p)); !alike(got, want) || (p.Width > p.Height) != (way < 5) {
				t.Errorf("held way %d: %v, %d × %d, want %v", way, got, p.Width, p.Height, want)
			}
		}
	}
}

// What is upright and small goes in as it is, without what a camera writes beside the
// picture, and without what follows it.
func TestAsItIs(t *testing.T) {
	data := jpegOf(t, quarters(96, 64), 95)
	private := "51.5 north, a house"
	full := with(data, exif(binary.BigEndian, 1), segment(0xed, private), segment(markNote, private), segment(markApp2, "MPF\x00"+private))
	full = append(full, private...)
	p, err := Read(full, 100, 100)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(p.JPEG, data) || p.Width != 96 || p.Height != 64 || p.Grey {
		t.Errorf("%d bytes of %d, %d × %d, grey %v", len(p.JPEG), len(data), p.Width, p.Height, p.Grey)
	}
	profile := segment(markApp2, "ICC_PROFILE\x00\x01\x01profile")
	if p, err = Read(with(data, profile), 100, 100); err != nil || !bytes.Contains(p.JPEG, profile) {
		t.Errorf("the colour profile is lost: %v", err)
	}
	if p, err = Read(with(data, exif(binary.BigEndian, 6), profile), 100, 100); err != nil || !bytes.Contains(p.JPEG, profile) || bytes.Contains(p.JPEG, []byte("Exif")) {
		t.Errorf("turned, the colour profile is lost or the place is kept: %v", err)
	}
	grey := image.NewGray(image.Rect(0, 0, 40, 40))
	if p, err = Read(jpegOf(t, grey, 80), 100, 100); err != nil || !p.Grey {
		t.Errorf("grey %v: %v", p, err)
	}
}

// Fine pictures come out as fine as print shows, the means of their areas, and never
// larger than the frame.
func TestScaled(t *testing.T) {
	for _, c := range []struct {
		w, h         int
		wide, high   float64
		wantW, wantH int
	}{
		{800, 600, 50.8, 50.8, 400, 300}, // 2 in at 200 to the inch
		{600, 800, 50.8, 50.8, 300, 400},
		{800, 600, 500, 25.4, 266, 200},
		{100, 50, 50.8, 50.8, 100, 50},
		{5000, 2, 25.4, 25.4, 200, 1},
	} {
		p, err := Read(pngOf(t, quarters(c.w, c.h)), c.wide, c.high)
		if err != nil {
			t.Fatal(err)
		}
		if p.Width != c.wantW || p.Height != c.wantH {
			t.Errorf("%d × %d in %g × %g mm: %d × %d", c.w, c.h, c.wide, c.high, p.Width, p.Height)
		}
		if got := seen(decoded(t, p)); c.h > 2 && got != [4]int{20, 90, 160, 230} {
			t.Errorf("%d × %d: %v", c.w, c.h, got)
		}
	}
	// The mean of the whole stays, within rounding, whatever the sizes.
	r := rand.New(rand.NewSource(4))
	for range 40 {
		w, h := 1+r.Intn(60), 1+r.Intn(60)
		src := image.NewRGBA(image.Rect(0, 0, w, h))
		r.Read(src.Pix)
		dst := scale(src, 1+r.Intn(w), 1+r.Intn(h))
		for c := range 3 {
			if a, b := mean(src, c), mean(dst, c); a-b > 0.51 || b-a > 0.51 {
				t.Errorf("%v to %v: mean %g became %g", src.Rect, dst.Rect, a, b)
			}
		}
	}
}

func mean(img *image.RGBA, c int) float64 {
	sum, n := 0, img.Rect.Dx()*img.Rect.Dy()
	for i := range n {
		sum += int(img.Pix[4*i+c])
	}
	return float64(sum) / float64(n)
}

// What can be seen through is laid on white paper.
func TestOnWhite(t *testing.T) {
	img := image.NewNRGBA(image.Rect(0, 0, 2, 1))
	img.SetNRGBA(0, 0, color.NRGBA{200, 0, 0, 128})
	p, err := Read(pngOf(t, img), 50, 50)
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range []int{227, 127, 127, 255, 255, 255} { // 255 - (255 - c) * 128/255
		if d := int(p.Samples[i]) - want; d > 1 || d < -1 {
			t.Errorf("sample %d is %d, want %d", i, p.Samples[i], want)
		}
	}
}

// The worst there is to pack, noise, stays small, so that the file can be sent.
func TestNoiseIsSmall(t *testing.T) {
	if testing.Short() {
		t.Skip("packs a large picture several times")
	}
	img := image.NewRGBA(image.Rect(0, 0, 1500, 1500))
	rand.New(rand.NewSource(1)).Read(img.Pix)
	for i := range 1500 * 1500 {
		img.Pix[4*i+3] = 255
	}
	for name, data := range map[string][]byte{"png": pngOf(t, img), "jpeg": jpegOf(t, img, 100)} {
		p, err := Read(data, 180, 190)
		if err != nil {
			t.Fatal(err)
		}
		if n := len(p.JPEG) + len(p.Samples); n > mostPacked {
			t.Errorf("%s: %d bytes", name, n)
		}
	}
}

func TestRefused(t *testing.T) {
	huge := pngOf(t, image.NewGray(image.Rect(0, 0, 1, 1)))
	binary.BigEndian.PutUint32(huge[16:], 60000) // width and height in the header, whose sum of check is then wrong
	binary.BigEndian.PutUint32(huge[20:], 60000)
	good := jpegOf(t, quarters(96, 64), 90)
	wide := bytes.Clone(good)
	at := bytes.Index(wide, []byte{0xff, 0xc0}) // the frame header: length, precision, height, width
	binary.BigEndian.PutUint16(wide[at+5:], 65000)
	binary.BigEndian.PutUint16(wide[at+7:], 65000)
	for _, c := range []struct{ name, data, says string }{
		{"nothing", "", "neither"},
		{"a text", "dryfit: 1", "neither"},
		{"a moving picture", "GIF89a", "neither"},
		{"cut off", string(good[:len(good)/2]), "cannot be read"},
		{"only a start", "\xff\xd8", "cannot be read"},
		{"a broken header", string(huge), "cannot be read"},
		{"too many points", string(wide), "65000 × 65000 points"},
	} {
		if p, err := Read([]byte(c.data), 100, 100); err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s: %v, %v", c.name, p, err)
		}
	}
}

// No bytes make the reader fall over, and what is passed on can be decoded.
func FuzzRead(f *testing.F) {
	data := jpegOf(f, quarters(24, 16), 60)
	f.Add(data)
	f.Add(with(data, exif(binary.LittleEndian, 6), segment(markNote, "x")))
	f.Add(pngOf(f, quarters(9, 7)))
	f.Fuzz(func(t *testing.T, data []byte) {
		if len(data) > 4096 {
			return
		}
		if c, _, err := image.DecodeConfig(bytes.NewReader(data)); err != nil || c.Width*c.Height > 1<<16 {
			return // slow, and told apart by TestRefused
		}
		if p, err := Read(data, 20, 20); err == nil {
			decoded(t, p)
		}
	})
}

func ExampleRead() {
	_, err := Read([]byte("a letter"), 100, 100)
	fmt.Println(err)
	// Output: this is neither a JPEG nor a PNG
}

// The small copy of the picture that a JFIF header may end with is not passed on: it can
// show what was cut off.
func TestThumbnailIsLeftOut(t *testing.T) {
	var b bytes.Buffer
	if err := jpeg.Encode(&b, image.NewGray(image.Rect(0, 0, 8, 8)), nil); err != nil {
		t.Fatal(err)
	}
	d := b.Bytes()
	for _, header := range []string{"JFIF\x00\x01\x01\x00\x00\x01\x00\x01\x03\x03" + strings.Repeat("SECRETPIX", 3), "JFIF\x00\x01\x01\x00\x00\x01\x00\x01\x00\x00SECRETPIX", "JFIF\x00SECRET"} {
		app0 := append([]byte{0xff, 0xe0, 0, byte(2 + len(header))}, header...)
		p, err := Read(slices.Concat(d[:2], app0, d[2:]), 100, 100)
		if err != nil {
			t.Fatal(err)
		}
		if bytes.Contains(p.JPEG, []byte("SECRET")) {
			t.Errorf("%q is passed on", header)
		}
		if _, err := jpeg.Decode(bytes.NewReader(p.JPEG)); err != nil {
			t.Error(err)
		}
		if want := "\xff\xe0\x00\x10JFIF\x00\x01\x01\x00\x00\x01\x00\x01\x00\x00"; len(header) >= 14 && !bytes.Contains(p.JPEG, []byte(want)) {
			t.Errorf("no header of 14 bytes in %q", p.JPEG[:40])
		}
	}
}
