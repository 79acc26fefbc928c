package picture

import "fmt"

// The words that views are called by, so that another language is another file.

var viewWords = [...]string{
	FrontRight:      "from the front, the right and above",
	FrontLeft:       "from the front, the left and above",
	BackRight:       "from behind, the right and above",
	BackLeft:        "from behind, the left and above",
	FrontRightBelow: "from the front, the right and below",
	FrontLeftBelow:  "from the front, the left and below",
	BackRightBelow:  "from behind, the right and below",
	BackLeftBelow:   "from behind, the left and below",
	FromFront:       "from the front",
	FromSide:        "from the right",
	FromTop:         "from above",
}

// SheetSays describes the sheet to those who cannot see it.
const SheetSays = "from the right, the front and above, and as an isometric"

// SectionSays describes a page of sections.
const SectionSays = "cut through the holes that end in the wood"

// Words of the pages.
const (
	wordExploded = "drawn apart, in the order of the build"
	wordStep     = "step %d of %d: %s"
	wordNotSeen  = "not seen: %s"
	wordNoScale  = "none"
	wordWheel    = "⌀ %s"
	wordSection  = "%s, cut through %s"
	wordHole     = "a hole"
	wordHoles    = "its holes"
)

// StepSays describes a step of the guide.
func StepSays(n, all int, title string) string { return fmt.Sprintf(wordStep, n, all, title) }
