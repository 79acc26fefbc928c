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

	// Curve is the farthest that a Bézier curve may leave the arc it stands for
	// on a page, where the format has no arcs: a hundredth of a fine pencil line.
	Curve = 0.001

	// TrueSize is the farthest that a point of a printed pattern may lie from its
	// true place, over the whole page: half of what a saw and sandpaper can hold.
	TrueSize = 0.05

	// Askew is the sine of the angle up to which a hole of a virtual build counts as square
	// to the side it is drilled in: six degrees, more than anybody is off.
	Askew = 0.1

	// Clip is the distance within which a point counts as lying on a plane when
	// a convex solid is cut. Coordinates are at most a metre, where float64
	// resolves 1e-13; 1e-9 leaves four digits for accumulated rounding and is
	// ten thousand times below Page.
	Clip = 1e-9

	// Angle is the accuracy, in radians, to which a swing is certified: 0.05
	// degree, below what a protractor in a shop can show.
	Angle = 0.05 * 3.14159265358979323846 / 180

	// Quarter is how near, in radians, the sweep of an arc must be to a number
	// of quarter turns to count as exactly that: some thousand times the
	// rounding of an angle, and a billionth of what a saw could show.
	Quarter = 1e-12

	// Cover is the share of its area by which the parts of a polygon may miss
	// the polygon: what merging points within Clip can lose, far below any
	// weight or volume that is printed.
	Cover = 1e-9

	// Gauge is the margin by which a piece may miss the small-parts cylinder
	// and still count as fitting: sanding, drying and a child's jaw take more
	// than a tenth of a millimetre, so a near miss is no proof of safety.
	Gauge = 0.1

	// GaugeSearch is how closely the clearance in the small-parts cylinder is
	// bracketed: half a thousandth of an inch, the last digit of worked
	// examples, and a fifth of Gauge at most so that the two cannot be confused.
	GaugeSearch = 0.0127

	// Sliver is the volume in mm³ below which a piece left by a cut is noise and
	// is dropped: a cube of a micrometre, which ten thousand times over is still
	// far below what any check reports.
	Sliver = 1e-9

	// Zero is the length that rounding alone can leave between two things that
	// touch: ten times what float64 resolves at a metre.
	Zero = 1e-12

	// Weld is the distance within which two planes or two lines of one body
	// count as the same when its true edges are gathered from its pieces. It is
	// a thousand times Clip, so that it covers what repeated cutting adds up,
	// and a hundredth of Page, so that no line moves on paper.
	Weld = 1e-6

	// Lift is how far a drawn edge is held off its body when asking what hides
	// it, so that the body's own faces do not; a tenth of Page.
	Lift = 1e-5

	// Drill is how far a hole on the drawing may be from a bit and still be
	// called by the bit's name: less than half of the 0.05 mm between 1/4 in and
	// its metric neighbours, so that 6.35 mm is never called 6.3 or 6.4 mm, and far
	// below what a bit in wood wanders.
	Drill = 0.02

	// Plank is how far a board's thickness may differ from the one drawn and still be
	// taken as it is: 1/64 in, what boards of one planing differ by, and no more than the
	// clearance of a close running fit, so that what slides over it still goes.
	Plank = 0.4

	// Spare is what a proof that a piece cannot get out has to have to spare at every
	// step of it: what a saw and sandpaper can hold, so that a piece that is shut in by
	// less is not called shut in.
	Spare = 0.1

	// Fit is the farthest that the arcs which stand for a curve of a drawing may lie
	// from it: as Chord, so that a curve is held as closely as every other round line.
	Fit = 0.01

	// Join is the distance within which two ends of lines in a drawing are one place:
	// drawing programs write hundredths of a mm.
	Join = 0.01

	// Smooth is the angle, in radians, within which two lines of a drawing run on into
	// each other: what ends that are off by half of Join make of a line 5 mm long.
	Smooth = 0.001

	// OtherShare is the share by which a margin has to differ between two editions of a toy to be
	// told: a tenth of the larger. Below it, it is the same toy to a maker.
	OtherShare = 0.1

	// OtherArea, OtherAngle, OtherMass and OtherPart are the least that is told of such a difference
	// in mm², radians, kg and as a share, as Spare is of a length: what a rule, a protractor and a
	// kitchen scale can show (common practice, no source).
	OtherArea  = 1.0
	OtherAngle = 0.5 * 3.14159265358979323846 / 180
	OtherMass  = 0.001
	OtherPart  = 0.01

	// SameHole is how far apart a hole of the old edition and one of the new may be, if neither has
	// a name that says it, to be called one hole that has moved. It chooses words and nothing else.
	SameHole = 15.0
)
