package app

// CompareFormats are what a comparison can be drawn as.
var CompareFormats = []string{"pdf", "svg"}

// CheckComparePaper x.
func CheckComparePaper(on Print) error { return nil }

// Draw x.
func (c *Comparison) Draw(format string, on Print) ([]byte, error) { return nil, nil }
