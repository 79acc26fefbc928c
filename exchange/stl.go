package exchange

import (
	"encoding/binary"
	"math"

	"dryfit/geom/r3"
	"dryfit/geom/solid"
)

// STL returns a surface as binary STL (the layout in public use since 1989: 80 bytes of
// heading, a count, then for each triangle its normal, three corners and two spare
// bytes, all little-endian float32), in mm.
//
// Corners are rounded to float32 first, and triangles that have two corners in one
// place then are left out, so that the surface stays closed.
func STL(name string, m solid.Mesh) []byte {
	head := make([]byte, 84, 84+50*len(m.T))
	copy(head[:80], "binary STL, mm: "+name)
	if len(name) > 60 {
		copy(head[:80], "binary STL, mm")
	}
	out := head
	n := uint32(0)
	for _, t := range m.T {
		var p [3][3]float32
		for i, v := range t {
			p[i] = [3]float32{float32(m.V[v].X), float32(m.V[v].Y), float32(m.V[v].Z)}
		}
		if p[0] == p[1] || p[1] == p[2] || p[2] == p[0] {
			continue
		}
		n++
		at := func(i int) r3.Vec { // as it is stored: the normal is that of the triangle that is read
			return r3.Vec{X: float64(p[i][0]), Y: float64(p[i][1]), Z: float64(p[i][2])}
		}
		u := at(1).Sub(at(0)).Cross(at(2).Sub(at(0)))
		if l := u.Len(); l > 0 {
			u = u.Scale(1 / l)
		}
		for _, v := range [12]float32{float32(u.X), float32(u.Y), float32(u.Z), p[0][0], p[0][1], p[0][2], p[1][0], p[1][1], p[1][2], p[2][0], p[2][1], p[2][2]} {
			if v == 0 {
				v = 0
			}
			out = binary.LittleEndian.AppendUint32(out, math.Float32bits(v))
		}
		out = append(out, 0, 0)
	}
	binary.LittleEndian.PutUint32(out[80:], n)
	return out
}
