package booklet

// HTML returns the guide as one web page.
func (b *Book) HTML() []byte { return nil }
