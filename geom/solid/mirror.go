package solid

import (
	"slices"

	"dryfit/geom/r3"
)

// Mirrored returns the mirror image of b across the plane y = 0.
func (b Body) Mirrored() Body {
	image := r3.Pose{U: r3.X, V: r3.Y.Neg(), W: r3.Z}
	out := make([]Convex, len(b.Pieces))
	for i := range b.Pieces {
		out[i] = b.Pieces[i].Transform(image)
		for k := range out[i].Faces { // seen from outside they now run the other way
			f := &out[i].Faces[k]
			f.Loop = slices.Clone(f.Loop)
			slices.Reverse(f.Loop)
		}
	}
	return NewBody(out)
}
