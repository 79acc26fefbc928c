package assembly

// Fits of round wood in round holes: hole less rod, in diameter, mm. The table
// of fits in package facts has the sources; these are its borders.
const (
	// PressMost is how much larger than its hole a dowel may be and still be
	// driven in (common practice, no source: press fit to 0.1 mm over).
	PressMost = 0.1
	// GlueMost is the largest slack that glue fills at full strength (common
	// practice, no source: glue fit 0 to 0.2 mm).
	GlueMost = 0.2
	// RunningLeast is the least slack that turns freely: 1/64 in (common
	// practice, no source: close running +1/64 in).
	RunningLeast = 25.4 / 64
	// ClearLeast is the slack from which a hole is no fit for the rod that goes through
	// it, but room: four times a free running fit (common practice, no source).
	ClearLeast = 25.4 / 8
)
