package photo

import (
	"bytes"
	"encoding/binary"
)

// Markers of ISO/IEC 10918-1, annex B.
const (
	markEnd   = 0xd9
	markScan  = 0xda
	markApp0  = 0xe0 // JFIF: how the samples are to be taken
	markApp1  = 0xe1 // Exif
	markApp2  = 0xe2 // a colour profile, or further pictures
	markApp14 = 0xee // whether the colours are turned into brightness and two differences
	markApp15 = 0xef
	markNote  = 0xfe
)

// part is a stretch of a JPEG file: a marker with its body, and after the start of a
// scan the data of the scan.
type part struct {
	mark  byte
	bytes []byte // from the marker on
	body  []byte // after the length
}

// parts splits a file behind its first marker; nil where it is not well formed. What
// comes after the end marker is left out.
func parts(data []byte) (out []part) {
	at := 2
	for {
		for at < len(data) && data[at] == 0xff && at+1 < len(data) && data[at+1] == 0xff { // fill
			at++
		}
		if at+2 > len(data) || data[at] != 0xff {
			return nil
		}
		start, mark := at, data[at+1]
		if mark == markEnd {
			return append(out, part{mark: mark, bytes: data[start : at+2]})
		}
		if at+4 > len(data) {
			return nil
		}
		end := at + 2 + int(binary.BigEndian.Uint16(data[at+2:]))
		if end < at+4 || end > len(data) {
			return nil
		}
		body := data[at+4 : end]
		if mark == markScan { // up to the next marker that is neither a stuffed zero nor a restart
			for end+1 < len(data) && (data[end] != 0xff || data[end+1] == 0 || data[end+1] >= 0xd0 && data[end+1] <= 0xd7) {
				end++
			}
		}
		out = append(out, part{mark: mark, bytes: data[start:end], body: body})
		at = end
	}
}

// bare returns the file without what is not needed to show it: no place, no name of a
// camera, no second picture. nil where the file is not well formed.
func bare(data []byte) []byte {
	all := parts(data)
	if all == nil {
		return nil
	}
	out := append([]byte(nil), data[:2]...)
	for _, p := range all {
		private := p.mark == markNote || p.mark >= markApp1 && p.mark <= markApp15
		if p.mark == markApp14 || p.profile() {
			private = false
		}
		if p.mark == markApp0 && !bytes.HasPrefix(p.body, []byte("JFIF\x00")) { // a small copy of the picture
			private = true
		}
		if p.mark == markApp0 && !private {
			if p = p.noThumbnail(); p.bytes == nil {
				continue
			}
		}
		if !private {
			out = append(out, p.bytes...)
		}
	}
	return out
}

// noThumbnail returns the JFIF header without the small copy of the picture that it may
// end with (ISO/IEC 10918-5, from memory): its first 14 bytes, the last two of which, the
// size of that copy, are 0. Nothing where it is shorter than that.
func (p part) noThumbnail() part {
	const whole = 14
	if len(p.body) < whole {
		return part{}
	}
	out := append([]byte{0xff, markApp0, 0, whole + 2}, p.body[:whole]...)
	out[len(out)-2], out[len(out)-1] = 0, 0
	return part{mark: markApp0, bytes: out, body: out[4:]}
}

// profile tells whether this says what the colours mean (ICC.1, annex B.4, from memory).
func (p part) profile() bool {
	return p.mark == markApp2 && bytes.HasPrefix(p.body, []byte("ICC_PROFILE\x00"))
}

// withProfile gives a picture that was packed again the colour profile of its original.
func withProfile(packed, original []byte) []byte {
	out := bytes.Clone(packed[:2])
	for _, p := range parts(original) {
		if p.profile() {
			out = append(out, p.bytes...)
		}
	}
	return append(out, packed[2:]...)
}

// orientation reads which way the camera was held, 1 to 8; 1 where nothing sound is
// said.
func orientation(data []byte) int {
	for _, p := range parts(data) {
		if p.mark != markApp1 || !bytes.HasPrefix(p.body, []byte("Exif\x00\x00")) {
			continue
		}
		t := p.body[6:] // a TIFF file
		if len(t) < 8 {
			return 1
		}
		var order binary.ByteOrder = binary.BigEndian
		if bytes.HasPrefix(t, []byte("II")) {
			order = binary.LittleEndian
		}
		at := uint64(order.Uint32(t[4:]))
		if at+2 > uint64(len(t)) {
			return 1
		}
		for n := uint64(order.Uint16(t[at:])); n > 0; n-- {
			e := at + 2 + (n-1)*12
			if e+12 <= uint64(len(t)) && order.Uint16(t[e:]) == 274 && order.Uint16(t[e+2:]) == 3 {
				if way := int(order.Uint16(t[e+8:])); way >= 1 && way <= 8 {
					return way
				}
			}
		}
		return 1
	}
	return 1
}
