// Package font holds the two faces that every page is lettered in, DejaVu Sans
// 2.37 regular and bold, and measures text with them. They are embedded so that
// a page has the same bytes and the same text boxes on every machine, and so
// that a PDF file carries the letters it uses.
//
// Start with [Regular], [Bold] and [Face.Width]. Widths are in ems: multiply by
// the font size. [Face.Subset] cuts a face down to the glyphs of one document.
// Kerning is left out on purpose: no writer applies it, so measured and printed
// widths agree.
package font

import (
	_ "embed"
	"encoding/binary"
	"fmt"
	"sync"
)

// Family is the family name to ask for where the font is not embedded.
const Family = "DejaVu Sans"

//go:embed DejaVuSans.ttf
var regularTTF []byte

//go:embed DejaVuSans-Bold.ttf
var boldTTF []byte

// Face is one font file, parsed. It is safe for concurrent use.
type Face struct {
	Name    string  // PostScript name, such as DejaVuSans-Bold
	Cap     float64 // height of the capitals, em
	Ascent  float64 // height of the tallest letters above the baseline, em
	Descent float64 // depth of the lowest letters below the baseline, em, positive
	Box     [4]int  // bounds of all glyphs, thousandths of an em: left, bottom, right, top

	data    []byte
	tables  map[string][]byte
	perEm   int
	long    bool // loca has 32-bit offsets
	metrics int  // glyphs that have an advance of their own
	glyphs  map[rune]uint16
}

// Regular returns the face for all plain lettering.
var Regular = sync.OnceValue(func() *Face { return must(parse("DejaVuSans", regularTTF)) })

// Bold returns the face for titles.
var Bold = sync.OnceValue(func() *Face { return must(parse("DejaVuSans-Bold", boldTTF)) })

// must stops the program: a font that was embedded and can't be read is our bug.
func must(f *Face, err error) *Face {
	if err != nil {
		panic("font: " + err.Error())
	}
	return f
}

var be = binary.BigEndian

// parse reads the tables that measuring and subsetting need.
// Source of the formats: ISO/IEC 14496-22, Open Font Format.
func parse(name string, data []byte) (f *Face, err error) {
	defer func() {
		if r := recover(); r != nil {
			err = fmt.Errorf("%s: not a readable font: %v", name, r)
		}
	}()
	f = &Face{Name: name, data: data, tables: map[string][]byte{}}
	for i := range int(be.Uint16(data[4:])) {
		rec := data[12+16*i:]
		off, n := be.Uint32(rec[8:]), be.Uint32(rec[12:])
		f.tables[string(rec[:4])] = data[off : off+n]
	}
	head, hhea, os2 := f.tables["head"], f.tables["hhea"], f.tables["OS/2"]
	f.perEm = int(be.Uint16(head[18:]))
	f.long = be.Uint16(head[50:]) == 1
	f.metrics = int(be.Uint16(hhea[34:]))
	em := func(b []byte) float64 { return float64(int16(be.Uint16(b))) / float64(f.perEm) }
	f.Ascent, f.Descent = em(hhea[4:]), -em(hhea[6:])
	for i := range f.Box {
		f.Box[i] = int(int16(be.Uint16(head[36+2*i:]))) * 1000 / f.perEm
	}
	if f.glyphs, err = characterMap(f.tables["cmap"]); err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	if be.Uint16(os2) >= 2 {
		f.Cap = em(os2[88:])
	}
	if f.Cap == 0 { // an older OS/2 table does not say: measure the letter H
		f.Cap = em(f.outline(f.glyphs['H'])[8:])
	}
	return f, nil
}

// characterMap reads the 32-bit Unicode map (format 12), which DejaVu has beside
// the 16-bit one and which holds everything.
func characterMap(cmap []byte) (map[rune]uint16, error) {
	for i := range int(be.Uint16(cmap[2:])) {
		t := cmap[be.Uint32(cmap[4+8*i+4:]):]
		if be.Uint16(t) != 12 {
			continue
		}
		m := map[rune]uint16{}
		for g := range be.Uint32(t[12:]) {
			rec := t[16+12*g:]
			first, last, id := be.Uint32(rec), be.Uint32(rec[4:]), be.Uint32(rec[8:])
			for c := first; c <= last; c++ {
				m[rune(c)] = uint16(id + c - first)
			}
		}
		return m, nil
	}
	return nil, fmt.Errorf("no 32-bit character map")
}

// Glyph returns the glyph of r; ok is false where the face has none, and then
// the glyph is the empty box that stands for a missing letter.
func (f *Face) Glyph(r rune) (id uint16, ok bool) {
	id, ok = f.glyphs[r]
	return id, ok
}

// advance returns the width of a glyph in font units.
func (f *Face) advance(id uint16) int {
	return int(be.Uint16(f.tables["hmtx"][4*min(int(id), f.metrics-1):]))
}

// Advance returns the width of a glyph, em.
func (f *Face) Advance(id uint16) float64 { return float64(f.advance(id)) / float64(f.perEm) }

// Width returns the width of a line of text, em.
func (f *Face) Width(s string) float64 {
	sum := 0
	for _, r := range s {
		sum += f.advance(f.glyphs[r])
	}
	return float64(sum) / float64(f.perEm)
}
