package pdf

import (
	"bytes"
	"fmt"
	"math"
	"strings"

	"dryfit/paper/draw"
	"dryfit/paper/font"
)

// resources gathers what the pages share: fonts with the glyphs used so far, and
// layers and photographs in the order in which they first appear.
type resources struct {
	faces  []*faceUse // regular, bold
	layers []string
	photos []*draw.Photo
}

// faceUse numbers the glyphs of a face in the order in which they first appear.
type faceUse struct {
	face   *font.Face
	glyphs []uint16 // the glyph with number i + 1 in the file
	runes  []rune   // the letter it was first used for
	number map[uint16]int
}

func (u *faceUse) glyph(r rune) int {
	id, _ := u.face.Glyph(r)
	if n, ok := u.number[id]; ok {
		return n
	}
	if u.number == nil {
		u.number = map[uint16]int{}
	}
	u.glyphs, u.runes = append(u.glyphs, id), append(u.runes, r)
	u.number[id] = len(u.glyphs)
	return len(u.glyphs)
}

func (l *resources) layer(name string) int {
	for i, n := range l.layers {
		if n == name {
			return i
		}
	}
	l.layers = append(l.layers, name)
	return len(l.layers) - 1
}

// content writes a page's content stream. One matrix makes millimetres of the
// page's points, so that all numbers after it are those of the drawing.
func (l *resources) content(p draw.Page) []byte {
	var b bytes.Buffer
	by := p.Stretched()
	fmt.Fprintf(&b, "%.12f 0 0 %.12f 0 0 cm 0 J 1 j\n", pointsPerMM*by.X, pointsPerMM*by.Y)
	open := ""
	p.Walk(func(m draw.Mark) {
		if m.Layer != open {
			if open != "" {
				b.WriteString("EMC\n")
			}
			if m.Layer != "" {
				fmt.Fprintf(&b, "/OC /L%d BDC\n", l.layer(m.Layer))
			}
			open = m.Layer
		}
		b.WriteString("q\n")
		for _, c := range m.Clips {
			runs(&b, c)
			b.WriteString("W* n\n")
		}
		switch {
		case m.Text != nil:
			l.text(&b, *m.Text)
		case m.Image != nil:
			l.image(&b, *m.Image)
		default:
			path(&b, *m.Path)
		}
		b.WriteString("Q\n")
	})
	if open != "" {
		b.WriteString("EMC\n")
	}
	return b.Bytes()
}

func runs(b *bytes.Buffer, rs []draw.Run) {
	for _, r := range rs {
		fmt.Fprintf(b, "%s m\n", mm(r.From))
		for _, s := range r.Segs {
			if s.Sweep == 0 {
				fmt.Fprintf(b, "%s l\n", mm(s.To))
				continue
			}
			for _, c := range s.Cubics() {
				fmt.Fprintf(b, "%s %s %s c\n", mm(c.C1), mm(c.C2), mm(c.To))
			}
		}
		if r.Closed {
			b.WriteString("h\n")
		}
	}
}

func path(b *bytes.Buffer, p draw.Path) {
	op := "n"
	style := p.Line.Style()
	if p.Fill != draw.NoTone {
		fmt.Fprintf(b, "%s g ", draw.Digits(p.Fill.Grey()))
		op = "f*"
	}
	if p.Line != draw.NoLine {
		fmt.Fprintf(b, "%s G %s w", draw.Digits(style.Tone.Grey()), draw.Digits(style.Width))
		if len(style.Dash) > 0 {
			var on []string
			for _, d := range style.Dash {
				on = append(on, draw.Digits(d))
			}
			fmt.Fprintf(b, " [%s] 0 d", strings.Join(on, " "))
		}
		b.WriteString("\n")
		if op == "f*" {
			op = "B*"
		} else {
			op = "S"
		}
	}
	runs(b, p.Runs)
	b.WriteString(op + "\n")
}

func (l *resources) text(b *bytes.Buffer, x draw.Text) {
	if x.Says == "" {
		return
	}
	which := 0
	if x.Bold {
		which = 1
	}
	tone := x.Tone
	if tone == draw.NoTone {
		tone = draw.Ink
	}
	sin, cos := math.Sincos(x.Turn)
	fmt.Fprintf(b, "BT %s g /F%d %s Tf %.6f %.6f %.6f %.6f %s Tm <", draw.Digits(tone.Grey()), which, draw.Digits(x.Size()),
		cos, sin, -sin, cos, mm(x.Start()))
	for _, r := range x.Says {
		fmt.Fprintf(b, "%04X", l.faces[which].glyph(r))
	}
	b.WriteString("> Tj ET\n")
}

// write adds fonts, layers and photographs to the file, the shared resource dictionary under
// the number reserved for it, and returns references to the layers.
func (l *resources) write(f *file, shared int) (layers []string) {
	var fonts, props strings.Builder
	for i, u := range l.faces {
		if len(u.glyphs) > 0 {
			fmt.Fprintf(&fonts, " /F%d %d 0 R", i, u.write(f, i))
		}
	}
	for i, name := range l.layers {
		id := f.add(fmt.Sprintf("<< /Type /OCG /Name %s >>", text(name)))
		layers = append(layers, fmt.Sprintf("%d 0 R", id))
		fmt.Fprintf(&props, " /L%d %d 0 R", i, id)
	}
	photos := ""
	if len(l.photos) > 0 {
		photos = fmt.Sprintf(" /XObject <<%s >>", l.writePhotos(f))
	}
	f.set(shared, fmt.Sprintf("<< /Font <<%s >> /Properties <<%s >>%s >>", fonts.String(), props.String(), photos))
	return layers
}

// write adds a face as a composite font with the glyphs used, their widths and
// the way back from glyph to letter, for searching and copying.
func (u *faceUse) write(f *file, which int) int {
	data := u.face.Subset(u.glyphs)
	program := f.stream(fmt.Sprintf(" /Length1 %d", len(data)), data)
	name := fmt.Sprintf("DRYFT%c+%s", 'A'+which, u.face.Name) // a subset is tagged by six capitals
	milli := func(em float64) int { return int(math.Round(em * 1000)) }
	desc := f.add(fmt.Sprintf("<< /Type /FontDescriptor /FontName /%s /Flags 4 /FontBBox [%d %d %d %d] /ItalicAngle 0 /Ascent %d /Descent %d /CapHeight %d /StemV %d /FontFile2 %d 0 R >>",
		name, u.face.Box[0], u.face.Box[1], u.face.Box[2], u.face.Box[3], milli(u.face.Ascent), -milli(u.face.Descent), milli(u.face.Cap), 80+60*which, program))
	var widths, back strings.Builder
	for i, id := range u.glyphs {
		fmt.Fprintf(&widths, " %s", draw.Digits(u.face.Advance(id)*1000))
		if i%100 == 0 { // a block holds at most 100 lines
			if i > 0 {
				back.WriteString("endbfchar\n")
			}
			fmt.Fprintf(&back, "%d beginbfchar\n", min(100, len(u.glyphs)-i))
		}
		fmt.Fprintf(&back, "<%04X> %s\n", i+1, strings.Replace(text(string(u.runes[i])), "FEFF", "", 1))
	}
	cid := f.add(fmt.Sprintf("<< /Type /Font /Subtype /CIDFontType2 /BaseFont /%s /CIDSystemInfo << /Registry (Adobe) /Ordering (Identity) /Supplement 0 >> /FontDescriptor %d 0 R /CIDToGIDMap /Identity /W [1 [%s ]] >>",
		name, desc, widths.String()))
	cmap := f.stream("", []byte("/CIDInit /ProcSet findresource begin\n12 dict begin\nbegincmap\n"+
		"/CIDSystemInfo << /Registry (Adobe) /Ordering (UCS) /Supplement 0 >> def\n/CMapName /Adobe-Identity-UCS def\n/CMapType 2 def\n"+
		"1 begincodespacerange\n<0000> <FFFF>\nendcodespacerange\n"+back.String()+
		"endbfchar\nendcmap\nCMapName currentdict /CMap defineresource pop\nend\nend\n"))
	return f.add(fmt.Sprintf("<< /Type /Font /Subtype /Type0 /BaseFont /%s /Encoding /Identity-H /DescendantFonts [%d 0 R] /ToUnicode %d 0 R >>", name, cid, cmap))
}
