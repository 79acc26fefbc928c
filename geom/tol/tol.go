// Package tol names every tolerance of the engine once, each with its reason.
// Lengths are in millimetres. No other package may write such a number down.
package tol

const (
	// Touch is the depth to which two pieces may enter each other and still
	// count as touching. It is twice Chord, so that the facets of two round
	// surfaces that meet exactly can never be reported as an overlap, and it is
	// far below what a saw and sandpaper can hold (0.1 mm).
	Touch = 0.02

	// Chord is the largest distance between a true arc and the chord that
	// stands for it wherever a round surface has to become a polygon.
	Chord = 0.01

	// Page is the step to which numbers are brought before they order or print
	// anything: a tenth of what the finest printer can place, so that rounding
	// differences between processors cannot change an output.
	Page = 0.0001

	// Clip is the distance within which a point counts as lying on a plane when
	// a convex solid is cut. Coordinates are at most a metre, where float64
	// resolves 1e-13; 1e-9 leaves four digits for accumulated rounding and is
	// ten thousand times below Page.
	Clip = 1e-9

	// Angle is the accuracy, in radians, to which a swing is certified: 0.05
	// degree, below what a protractor in a shop can show.
	Angle = 0.05 * 3.14159265358979323846 / 180
)
