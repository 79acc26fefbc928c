// Package solid has the bodies that saws and drills leave: sets of convex
// polyhedra whose insides do not meet.
//
// The tour:
//
//   - convex.go, clip.go: Convex, one convex polyhedron, and the cut by a plane;
//     round.go makes those that stand for round things within tol.Chord.
//   - body.go: Body, a set of them. Box and Prism are the blanks, Intersect
//     keeps what an outline keeps, Carve takes a hole or a notch out.
//   - moments.go: volume, centre and inertia, exact for the polyhedra.
//   - distance.go, gjk.go: how far two bodies are apart, with a certificate.
//   - overlap.go, sieve.go, separation.go: what they share, and how deep they are
//     in each other.
//   - motion.go, sweep.go: the first angle or way at which a moving body enters
//     a fixed one.
//   - mesh.go: the surface as triangles, closed.
//   - edges.go, hidden.go: the true edges of a body and what hides them, for
//     drawings.
//
// Lengths are millimetres, angles radians. Everything is exact up to tol.Clip;
// results do not depend on map order, on the clock, or on the processor.
package solid
