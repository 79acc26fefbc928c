package shop

// Wrapped breaks a text to lines as wide as those of the lists, the first of them and the rest
// indented.
func Wrapped(first, rest, s string) string {
	var p setter
	p.wrap(first, rest, s)
	return p.b.String()
}
