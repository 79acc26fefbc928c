package picture

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
