package font

import (
	"bytes"
	"math"
	"testing"
)

// Every letter that the tool prints beside plain ASCII.
const needed = "¼½¾⅛⅜⅝⅞⌀Ø×′″☐✓→≤≥°≈±–…·éü"

func TestEveryNeededLetterIsThere(t *testing.T) {
	for _, f := range []*Face{Regular(), Bold()} {
		for _, r := range needed {
			if id, ok := f.Glyph(r); !ok || id == 0 {
				t.Errorf("%s has no %c", f.Name, r)
			}
		}
		if _, ok := f.Glyph('\U0010FFFF'); ok {
			t.Errorf("%s claims a letter that is none", f.Name)
		}
	}
}

// The expected advances, in units of 1/2048 em, are what another reader of font
// files (npm opentype.js 1.3.4) finds in the same files.
func TestWidths(t *testing.T) {
	for _, c := range []struct {
		face *Face
		text string
		want float64
	}{
		{Regular(), "A", 1401}, {Regular(), "i", 569}, {Regular(), "0", 1303}, {Regular(), " ", 651},
		{Regular(), "¼", 1985}, {Regular(), "é", 1260}, {Regular(), "⌀", 1233}, {Bold(), "Q", 1741}, {Bold(), "m", 2134},
		{Regular(), "A0 i", 1401 + 1303 + 651 + 569}, {Regular(), "", 0},
	} {
		if got := c.face.Width(c.text) * 2048; math.Abs(got-c.want) > 1e-9 {
			t.Errorf("%s %q is %g units wide, want %g", c.face.Name, c.text, got, c.want)
		}
	}
	if c := Regular().Cap * 2048; c != 1493 {
		t.Errorf("capitals are %g units high, want 1493", c)
	}
}

// A subset must hold the same outlines under its own numbers, parts included.
func TestSubset(t *testing.T) {
	f := Regular()
	var ids []uint16
	for _, r := range "Aé⅜⌀ " {
		id, _ := f.Glyph(r)
		ids = append(ids, id)
	}
	data := f.Subset(ids)
	if !bytes.Equal(data, f.Subset(ids)) {
		t.Fatal("two subsets differ")
	}
	if sum := checksum(data); sum != 0xB1B0AFBA {
		t.Errorf("file checksum is %X", sum)
	}
	s := &Face{tables: map[string][]byte{}, long: true}
	for i := range int(be.Uint16(data[4:])) {
		rec := data[12+16*i:]
		body := data[be.Uint32(rec[8:]):][:be.Uint32(rec[12:])]
		s.tables[string(rec[:4])] = body
		if string(rec[:4]) != "head" && checksum(body) != be.Uint32(rec[4:]) {
			t.Errorf("table %s: wrong checksum", rec[:4])
		}
	}
	s.metrics = int(be.Uint16(s.tables["hhea"][34:]))
	composite := 0
	var same func(mine, theirs uint16)
	same = func(mine, theirs uint16) {
		a, b := s.outline(mine), f.outline(theirs)
		a = a[:min(len(a), len(b))] // without the filling
		if s.advance(mine) != f.advance(theirs) {
			t.Errorf("glyph %d: width %d, want %d", theirs, s.advance(mine), f.advance(theirs))
		}
		var parts [][2]uint16
		b = bytes.Clone(b)
		components(b, func(at int) {
			parts = append(parts, [2]uint16{be.Uint16(a[at:]), be.Uint16(b[at:])})
			copy(b[at:at+2], a[at:at+2])
		})
		composite += len(parts)
		if !bytes.Equal(a, b) {
			t.Errorf("glyph %d: another outline", theirs)
		}
		for _, p := range parts {
			same(p[0], p[1])
		}
	}
	for i, id := range ids {
		same(uint16(i+1), id)
	}
	if composite == 0 {
		t.Error("no glyph of the sample has parts: the test sees nothing")
	}
}
