package picture

import (
	"bytes"
	"image"
	"image/color"
	"image/png"
	"math"

	"dryfit/assembly"
	"dryfit/geom/r2"
	"dryfit/geom/r3"
	"dryfit/geom/solid"
)

// Shaded pictures, for covers: wood in light from the top left, on a white floor with a
// soft shadow where it stands. Every picture element is the mean of several samples; each
// sample knows the nearest wood. Colours are mixed as squares of what is stored, which is
// near enough to how light adds up, and the same on every machine.

// PNG shades a scene as a PNG file whose longer side has so many picture elements.
func (d *Drafter) PNG(s Scene, long int) ([]byte, error) {
	var b bytes.Buffer
	enc := png.Encoder{CompressionLevel: png.BestCompression}
	if err := enc.Encode(&b, d.shade(s, long)); err != nil {
		return nil, err
	}
	return b.Bytes(), nil
}

// samples is how many samples there are in an element each way.
const samples = 3

// bandRows is how many rows of elements are made at a time, to save memory.
const bandRows = 64

// white leaves so much of the longer side free around the toy.
const whiteShare = 0.05

type rgb struct{ r, g, b float32 }

func (c rgb) scale(f float32) rgb { return rgb{c.r * f, c.g * f, c.b * f} }

func (c rgb) mix(o rgb, f float32) rgb {
	return rgb{float32(c.r*(1-f)) + float32(o.r*f), float32(c.g*(1-f)) + float32(o.g*f), float32(c.b*(1-f)) + float32(o.b*f)}
}

func stored(v float32) uint8 {
	return uint8(math.Round(255 * math.Sqrt(math.Max(0, math.Min(1, float64(v))))))
}

// shade makes the picture.
func (d *Drafter) shade(s Scene, long int) *image.RGBA {
	m := s.model(d.m)
	from := s.View.sight()
	o := d.known.gather(m, s.Shown, s.offsets())
	box := from.bounds(o)
	if box.Empty() || long < 16 {
		return image.NewRGBA(image.Rect(0, 0, max(1, long), max(1, long)))
	}
	size := box.Size()
	edge := float64(long) * whiteShare
	scale := (float64(long) - 2*edge) / max(size.X, size.Y)
	w, h := int(math.Ceil(float64(size.X*scale)+2*edge)), int(math.Ceil(float64(size.Y*scale)+2*edge))
	img := image.NewRGBA(image.Rect(0, 0, w, h))
	// The lower left corner of the picture comes to the origin; y runs up.
	at := place{from, scale * samples, box.Min.Sub(r2.Vec{X: edge / scale, Y: edge / scale}), r2.Vec{}}

	var tris []tri
	off := s.offsets()
	for _, p := range s.Shown {
		tris = append(tris, d.triangles(m.Pieces[p.Piece], p, off[p.Piece], at, m)...)
	}
	strokes := from.see(o)
	ground := newGround(o, from)
	for top := h; top > 0; top -= bandRows {
		low := max(0, top-bandRows)
		b := newBand(w*samples, low*samples, top*samples)
		for i := range tris {
			b.fill(&tris[i], at)
		}
		for _, k := range strokes {
			b.line(k, at)
		}
		for y := low; y < top; y++ {
			for x := range w {
				img.SetRGBA(x, h-1-y, b.element(x, y-low, func() rgb { return ground.at(x, y, at) }))
			}
		}
	}
	return img
}

// band is some rows of samples.
type band struct {
	w, low, top int
	depth       []float32
	colour      []rgb
	ink         []float32 // how much of a line covers it
}

func newBand(w, low, top int) *band {
	n := w * (top - low)
	b := &band{w, low, top, make([]float32, n), make([]rgb, n), make([]float32, n)}
	for i := range b.depth {
		b.depth[i] = float32(math.Inf(-1))
	}
	return b
}

// lineTone is the colour of the edges, much darker than any wood.
var lineTone = rgb{0.02, 0.012, 0.008}

// element mixes the samples of one element.
func (b *band) element(x, y int, floor func() rgb) color.RGBA {
	var sum rgb
	bare, ink := 0, float32(0)
	for j := range samples {
		for i := range samples {
			k := (y*samples+j)*b.w + x*samples + i
			ink += b.ink[k]
			if math.IsInf(float64(b.depth[k]), -1) {
				bare++
				continue
			}
			c := b.colour[k]
			sum.r, sum.g, sum.b = sum.r+c.r, sum.g+c.g, sum.b+c.b
		}
	}
	if bare > 0 {
		c := floor().scale(float32(bare))
		sum.r, sum.g, sum.b = sum.r+c.r, sum.g+c.g, sum.b+c.b
	}
	const all = samples * samples
	c := sum.scale(1.0/all).mix(lineTone, ink/all)
	return color.RGBA{stored(c.r), stored(c.g), stored(c.b), 255}
}

// line draws an edge over what is there.
func (b *band) line(k stroke, at place) {
	half, dark := 0.42*samples, float32(0.45)
	if k.contour {
		half, dark = 0.6*samples, 0.7
	}
	p, q := k.a.Sub(at.from).Scale(at.scale), k.b.Sub(at.from).Scale(at.scale)
	y0, y1 := min(p.Y, q.Y)-half, max(p.Y, q.Y)+half
	if y1 < float64(b.low) || y0 > float64(b.top) {
		return
	}
	d := q.Sub(p)
	l2 := d.Dot(d)
	for y := max(b.low, int(y0)); y < b.top && float64(y) <= y1; y++ {
		// Where the row is near the line: between the ends of it, widened.
		x0, x1 := min(p.X, q.X)-half, max(p.X, q.X)+half
		if math.Abs(d.Y) > half {
			wide := half * math.Sqrt(l2) / math.Abs(d.Y)
			mid := p.X + float64(d.X*((float64(y)+0.5-p.Y)/d.Y))
			x0, x1 = max(x0, mid-wide), min(x1, mid+wide)
		}
		for x := max(0, int(x0)); x < b.w && float64(x) <= x1; x++ {
			c := r2.Vec{X: float64(x) + 0.5, Y: float64(y) + 0.5}.Sub(p)
			t := 0.0
			if l2 > 0 {
				t = max(0, min(1, c.Dot(d)/l2))
			}
			if c.Sub(d.Scale(t)).Len() <= half {
				i := (y-b.low)*b.w + x
				b.ink[i] = max(b.ink[i], dark)
			}
		}
	}
}

// tri is a triangle as seen: corners in samples, depth and light at them.
type tri struct {
	p     [3]r2.Vec
	depth [3]float64
	light [3]float64
	wood  *wood
	faint bool
}

// Light comes from the top left, over the shoulder of who looks.
const (
	lightLeft, lightUp, lightNear = 0.45, 0.75, 0.65
	ambient, direct               = 0.50, 0.55
)

// triangles returns what looks this way of a piece.
func (d *Drafter) triangles(p *assembly.Piece, s Shown, off r3.Vec, at place, m *assembly.Model) (out []tri) {
	mesh := d.known.mesh(p)
	light := at.right.Scale(-lightLeft).Add(at.up.Scale(lightUp)).Add(at.toward.Scale(lightNear)).Unit()
	wood := woodOf(m, s.Piece, off)
	for i, t := range mesh.T {
		var k tri
		for c, v := range t {
			w := p.Pose.Point(mesh.V[v]).Add(off)
			k.p[c] = at.flat(w).Sub(at.from).Scale(at.scale)
			k.depth[c] = w.Dot(at.toward)
			k.light[c] = ambient + float64(direct*max(0, p.Pose.Dir(mesh.normals[i][c]).Dot(light)))
		}
		if k.p[1].Sub(k.p[0]).Cross(k.p[2].Sub(k.p[0])) <= 0 {
			continue
		}
		k.wood, k.faint = wood, s.Look == Quiet
		out = append(out, k)
	}
	return out
}

// fill puts a triangle into the samples that it covers, where it is nearest.
func (b *band) fill(t *tri, at place) {
	y0 := min(t.p[0].Y, t.p[1].Y, t.p[2].Y)
	y1 := max(t.p[0].Y, t.p[1].Y, t.p[2].Y)
	if y1 < float64(b.low) || y0 > float64(b.top) {
		return
	}
	area := t.p[1].Sub(t.p[0]).Cross(t.p[2].Sub(t.p[0]))
	for y := max(b.low, int(math.Ceil(y0-0.5))); y < b.top && float64(y)+0.5 <= y1; y++ {
		row := float64(y) + 0.5
		left, right := math.Inf(1), math.Inf(-1)
		for i, p := range t.p {
			q := t.p[(i+1)%3]
			if (p.Y <= row) == (q.Y <= row) {
				continue
			}
			x := p.X + float64((q.X-p.X)*((row-p.Y)/(q.Y-p.Y)))
			left, right = min(left, x), max(right, x)
		}
		for x := max(0, int(math.Ceil(left-0.5))); x < b.w && float64(x)+0.5 <= right; x++ {
			q := r2.Vec{X: float64(x) + 0.5, Y: row}
			u := t.p[2].Sub(t.p[1]).Cross(q.Sub(t.p[1])) / area
			v := t.p[0].Sub(t.p[2]).Cross(q.Sub(t.p[2])) / area
			w := 1 - u - v
			depth := float64(u*t.depth[0]) + float64(v*t.depth[1]) + float64(w*t.depth[2])
			i := (y-b.low)*b.w + x
			if float32(depth) <= b.depth[i] {
				continue
			}
			b.depth[i] = float32(depth)
			light := float64(u*t.light[0]) + float64(v*t.light[1]) + float64(w*t.light[2])
			flat := q.Scale(1 / at.scale).Add(at.from)
			c := t.wood.at(at.right.Scale(flat.X).Add(at.up.Scale(flat.Y)).Add(at.toward.Scale(depth))).scale(float32(light))
			if t.faint {
				c = c.mix(rgb{1, 1, 1}, 0.5)
			}
			b.colour[i] = c
		}
	}
}

// shaped is the surface of a piece with the direction of the surface at each corner of
// each triangle, smooth across the facets of round things.
type shaped struct {
	solid.Mesh
	normals [][3]r3.Vec
}

func (k *known) mesh(p *assembly.Piece) *shaped {
	k.lock.Lock()
	defer k.lock.Unlock()
	s, ok := k.meshes[p.Made]
	if !ok {
		if k.meshes == nil {
			k.meshes = map[*assembly.Made]*shaped{}
		}
		s = smoothed(solid.Surface(p.Made.Bored()))
		k.meshes[p.Made] = s
	}
	return s
}

// smoothTo is the cosine of the most that facets of one surface turn: 46 degrees.
const smoothTo = 0.69

// smoothed finds the directions: the mean over the facets of the same surface that meet
// in a corner, each by its area.
func smoothed(m solid.Mesh) *shaped {
	flat := make([]r3.Vec, len(m.T)) // twice the area long
	around := make([][]int32, len(m.V))
	for i, t := range m.T {
		flat[i] = m.V[t[1]].Sub(m.V[t[0]]).Cross(m.V[t[2]].Sub(m.V[t[0]]))
		for _, v := range t {
			around[v] = append(around[v], int32(i))
		}
	}
	s := &shaped{m, make([][3]r3.Vec, len(m.T))}
	for i, t := range m.T {
		own := flat[i].Unit()
		for c, v := range t {
			sum := flat[i]
			for _, j := range around[v] {
				if int(j) != i && m.Tag[j] == m.Tag[i] && m.Tag[i] != solid.Seam && flat[j].Unit().Dot(own) > smoothTo {
					sum = sum.Add(flat[j])
				}
			}
			s.normals[i][c] = sum.Unit()
		}
	}
	return s
}
