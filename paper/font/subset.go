package font

import (
	"bytes"
	"slices"
)

// outline returns the bytes of one glyph, empty for a space.
func (f *Face) outline(id uint16) []byte {
	loca, glyf := f.tables["loca"], f.tables["glyf"]
	if f.long {
		return glyf[be.Uint32(loca[4*int(id):]):be.Uint32(loca[4*int(id)+4:])]
	}
	return glyf[2*int(be.Uint16(loca[2*int(id):])) : 2*int(be.Uint16(loca[2*int(id)+2:]))]
}

// Flags of a composite glyph's components, ISO/IEC 14496-22, table glyf.
const (
	argsAreWords = 1 << 0
	hasScale     = 1 << 3
	moreFollow   = 1 << 5
	hasTwoScales = 1 << 6
	hasMatrix    = 1 << 7
)

// components calls visit with the place of each component's glyph number in a
// composite glyph; a plain glyph has none.
func components(glyph []byte, visit func(at int)) {
	if len(glyph) == 0 || int16(be.Uint16(glyph)) >= 0 {
		return
	}
	for at := 10; ; {
		flags := be.Uint16(glyph[at:])
		visit(at + 2)
		at += 6
		if flags&argsAreWords != 0 {
			at += 2
		}
		switch {
		case flags&hasScale != 0:
			at += 2
		case flags&hasTwoScales != 0:
			at += 4
		case flags&hasMatrix != 0:
			at += 8
		}
		if flags&moreFollow == 0 {
			return
		}
	}
}

// Subset returns a TrueType file with the given glyphs only, numbered anew in
// the order given: the glyph at index i of the argument gets the number i + 1,
// and 0 stays the box for a missing letter. Glyphs that only serve as parts of
// others follow after. The same argument gives the same bytes.
func (f *Face) Subset(ids []uint16) []byte {
	order := append([]uint16{0}, ids...)
	number := map[uint16]int{}
	for i, id := range order {
		if _, seen := number[id]; !seen {
			number[id] = i
		}
	}
	var glyf, loca, hmtx []byte
	for i := 0; i < len(order); i++ { // order grows while parts are found
		g := slices.Clone(f.outline(order[i]))
		components(g, func(at int) {
			part := be.Uint16(g[at:])
			if _, seen := number[part]; !seen {
				number[part] = len(order)
				order = append(order, part)
			}
			be.PutUint16(g[at:], uint16(number[part]))
		})
		loca = be.AppendUint32(loca, uint32(len(glyf)))
		glyf = append(glyf, g...)
		for len(glyf)%4 != 0 {
			glyf = append(glyf, 0)
		}
		hmtx = be.AppendUint16(hmtx, uint16(f.advance(order[i])))
		hmtx = be.AppendUint16(hmtx, f.bearing(order[i]))
	}
	loca = be.AppendUint32(loca, uint32(len(glyf)))

	head, hhea, maxp := slices.Clone(f.tables["head"]), slices.Clone(f.tables["hhea"]), slices.Clone(f.tables["maxp"])
	be.PutUint32(head[8:], 0) // checksum of the whole file, set below
	be.PutUint16(head[50:], 1)
	be.PutUint16(hhea[34:], uint16(len(order)))
	be.PutUint16(maxp[4:], uint16(len(order)))
	return assemble([]table{ // in alphabetical order, as the format asks
		{"cvt ", f.tables["cvt "]}, {"fpgm", f.tables["fpgm"]}, {"glyf", glyf}, {"head", head}, {"hhea", hhea},
		{"hmtx", hmtx}, {"loca", loca}, {"maxp", maxp}, {"prep", f.tables["prep"]},
	})
}

// bearing returns the left side bearing of a glyph, as stored.
func (f *Face) bearing(id uint16) uint16 {
	hmtx := f.tables["hmtx"]
	if int(id) < f.metrics {
		return be.Uint16(hmtx[4*int(id)+2:])
	}
	return be.Uint16(hmtx[4*f.metrics+2*(int(id)-f.metrics):])
}

type table struct {
	tag  string
	data []byte
}

// assemble writes the table directory, the tables and their checksums.
func assemble(tables []table) []byte {
	n := len(tables)
	log := 0
	for 2<<log <= n {
		log++
	}
	out := be.AppendUint32(nil, 0x00010000)
	for _, v := range []int{n, 16 << log, log, 16*n - 16<<log} {
		out = be.AppendUint16(out, uint16(v))
	}
	var body bytes.Buffer
	headAt := 0
	for _, t := range tables {
		at := 12 + 16*n + body.Len()
		if t.tag == "head" {
			headAt = at
		}
		out = append(out, t.tag...)
		out = be.AppendUint32(out, checksum(t.data))
		out = be.AppendUint32(out, uint32(at))
		out = be.AppendUint32(out, uint32(len(t.data)))
		body.Write(t.data)
		for body.Len()%4 != 0 {
			body.WriteByte(0)
		}
	}
	out = append(out, body.Bytes()...)
	be.PutUint32(out[headAt+8:], 0xB1B0AFBA-checksum(out))
	return out
}

// checksum is the sum of the data's 32-bit words.
func checksum(b []byte) uint32 {
	var sum uint32
	for ; len(b) >= 4; b = b[4:] {
		sum += be.Uint32(b)
	}
	if len(b) > 0 {
		var last [4]byte
		copy(last[:], b)
		sum += be.Uint32(last[:])
	}
	return sum
}
