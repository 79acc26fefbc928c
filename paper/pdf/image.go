package pdf

import (
	"bytes"
	"fmt"
	"slices"
	"strings"

	"dryfit/geom/r2"
	"dryfit/paper/draw"
)

// image draws a photograph: the unit square, moved to its place (ISO 32000-1, 8.9.5).
func (l *resources) image(b *bytes.Buffer, i draw.Image) {
	n := slices.Index(l.photos, i.Photo)
	if n < 0 {
		n, l.photos = len(l.photos), append(l.photos, i.Photo)
	}
	fmt.Fprintf(b, "%s %s %s cm /I%d Do\n", mm(i.Along), mm(i.Up), mm(i.At), n)
}

// writePhotos adds the photographs, JPEG as it is, and returns the entries of their
// resource dictionary.
func (l *resources) writePhotos(f *file) string {
	var out strings.Builder
	for i, p := range l.photos {
		space := "DeviceRGB"
		if p.Grey {
			space = "DeviceGray"
		}
		extra := fmt.Sprintf(" /Type /XObject /Subtype /Image /Width %d /Height %d /ColorSpace /%s /BitsPerComponent 8", p.Width, p.Height, space)
		id := 0
		if p.JPEG != nil {
			id = f.packed("DCTDecode", extra, p.JPEG)
		} else {
			id = f.stream(extra, p.Samples)
		}
		fmt.Fprintf(&out, " /I%d %d 0 R", i, id)
	}
	return out.String()
}

// links adds an annotation for each line of text that links somewhere, and returns the
// page's entry for them (ISO 32000-1, 12.5.6.5 and 12.6.4.7).
func (f *file) links(p draw.Page) string {
	var refs strings.Builder
	by := p.Stretched()
	p.Walk(func(m draw.Mark) {
		if m.Text == nil || m.Text.Link == "" {
			return
		}
		corners := m.Text.Corners()
		box := r2.Around(corners[:]...)
		id := f.add(fmt.Sprintf("<< /Type /Annot /Subtype /Link /Rect [%s %s %s %s] /Border [0 0 0] /F 4 /A << /S /URI /URI %s >> >>",
			points(box.Min.X*by.X), points(box.Min.Y*by.Y), points(box.Max.X*by.X), points(box.Max.Y*by.Y), ascii(m.Text.Link)))
		fmt.Fprintf(&refs, " %d 0 R", id)
	})
	if refs.Len() == 0 {
		return ""
	}
	return fmt.Sprintf(" /Annots [%s ]", refs.String())
}

// ascii writes an address, which is 7-bit, as a hexadecimal string; other bytes are
// escaped as RFC 3986 does.
func ascii(address string) string {
	var b strings.Builder
	for _, c := range []byte(address) {
		if c <= ' ' || c >= 0x7f {
			fmt.Fprintf(&b, "%%%02X", c)
		} else {
			b.WriteByte(c)
		}
	}
	return fmt.Sprintf("<%X>", b.String())
}
