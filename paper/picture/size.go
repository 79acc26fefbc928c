package picture

import "dryfit/geom/r2"

// High returns how high the drawing of a scene is where it fills a width, mm, with the
// room for its numbers: more height than that is lost on it.
func (d *Drafter) High(s Scene, width float64) float64 {
	box := d.Extent(s)
	edge := 1.0
	if s.numbered() {
		edge += 1.5 * ringRoom // seldom on all sides
	}
	if box.X <= 0 {
		return edge
	}
	scale := s.largest((width - edge) / box.X)
	return float64(box.Y*scale) + edge
}

// Extent returns the width and the height of what a scene shows at full size, mm, numbers
// and arrows apart.
func (d *Drafter) Extent(s Scene) r2.Vec {
	box := s.View.sight().bounds(d.known.gather(s.model(d.m), s.Shown, s.offsets()))
	if box.Empty() {
		return r2.Vec{}
	}
	return box.Size()
}
