package file

// Published limits of a toy file (docs/toy-file.md). They are far beyond any
// toy of wood and keep a hostile or mistaken file from taking the machine down.
const (
	maxSize     = 2000.0 // mm: the largest length
	minSize     = 0.001  // mm: the smallest size that counts as more than nothing
	maxPieces   = 400    // pieces in the build, those of glue-ups and wheels included
	maxWork     = 200    // operations on one part
	maxHoles    = 200    // holes of one operation
	maxCorners  = 1000   // corners of one outline
	maxPathData = 64 << 10
	maxStock    = 6000.0 // mm: the longest board or dowel, more than most doors let in
	maxPrice    = 1e6
)
