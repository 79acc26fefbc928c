package svg

import (
	"bytes"
	"encoding/base64"
	"fmt"
	"image"
	"image/color"
	"image/png"

	"dryfit/paper/draw"
)

// image writes a photograph inside the file: a unit square, moved to its place. y is
// turned over, so it hangs from the upper left corner.
func (w *writer) image(i draw.Image) {
	top := i.At.Add(i.Up)
	w.line(`<image xmlns:xlink="http://www.w3.org/1999/xlink" width="1" height="1" preserveAspectRatio="none" transform="matrix(%s %s %s %s %s)" xlink:href="%s"><title>%s</title></image>`,
		draw.Digits(i.Along.X), draw.Digits(-i.Along.Y), draw.Digits(-i.Up.X), draw.Digits(i.Up.Y), w.at(top), Data(i.Photo), escape(i.Says))
}

// Data returns a photograph as an address that holds it whole (RFC 2397).
func Data(p *draw.Photo) string {
	kind, data := "jpeg", p.JPEG
	if data == nil {
		kind, data = "png", pngOf(p)
	}
	return fmt.Sprintf("data:image/%s;base64,%s", kind, base64.StdEncoding.EncodeToString(data))
}

func pngOf(p *draw.Photo) []byte {
	box := image.Rect(0, 0, p.Width, p.Height)
	var img image.Image = &image.Gray{Pix: p.Samples, Stride: p.Width, Rect: box}
	if !p.Grey {
		rgba := image.NewRGBA(box)
		for i := range p.Width * p.Height {
			s := p.Samples[3*i:]
			c := color.RGBA{R: s[0], G: s[1], B: s[2], A: 255}
			rgba.SetRGBA(i%p.Width, i/p.Width, c)
		}
		img = rgba
	}
	var b bytes.Buffer
	png.Encode(&b, img) // into memory, of a size that was read: cannot fail
	return b.Bytes()
}
