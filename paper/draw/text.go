package draw

import (
	"math"
	"strings"
	"unicode"

	"dryfit/geom/r2"
	"dryfit/paper/font"
)

// Text is one line of lettering.
type Text struct {
	At     r2.Vec // the anchor point
	Says   string
	Height float64 // of the capitals, mm, as lettering is measured in ISO 3098-1
	Bold   bool
	Tone   Tone    // the zero value is ink
	Turn   float64 // radians, counter-clockwise
	Across Across  // which point of the text's box lies at At
	Up     Up
	Link   string // the web address that a click on it opens; empty: none
}

// Across says where along a text its anchor is.
type Across uint8

// The anchors along a text. A mirror swaps Left and Right.
const (
	Left Across = iota
	Middle
	Right
)

// Up says where in the height of a text its anchor is.
type Up uint8

// The anchors in the height of a text. A mirror swaps Base and Top.
const (
	Base Up = iota // the line it stands on
	Half           // half of the capitals' height
	Top            // the top of the capitals
)

// Face returns the font face the text is lettered in.
func (x Text) Face() *font.Face { return face(x.Bold) }

func face(bold bool) *font.Face {
	if bold {
		return font.Bold()
	}
	return font.Regular()
}

// Size returns the font size in mm, the em that font widths are shares of.
func (x Text) Size() float64 { return x.Height / x.Face().Cap }

// Width returns the length of the text in mm.
func (x Text) Width() float64 { return TextWidth(x.Says, x.Height, x.Bold) }

// TextWidth returns the length in mm of s lettered with capitals of the given
// height.
func TextWidth(s string, height float64, bold bool) float64 {
	f := face(bold)
	return f.Width(s) * (height / f.Cap)
}

// Descent returns how far letters such as g reach below the line.
func Descent(height float64, bold bool) float64 {
	return face(bold).Descent * (height / face(bold).Cap)
}

// LineStep returns a comfortable distance between lines of text.
func LineStep(height float64) float64 { return height * 1.75 }

// Start returns the point where the text's first letter stands, on its line.
func (x Text) Start() r2.Vec {
	return x.corner(-float64(x.Width()*[...]float64{0, 0.5, 1}[x.Across]), -float64(x.Height*[...]float64{0, 0.5, 1}[x.Up]))
}

func (x Text) corner(along, up float64) r2.Vec {
	sin, cos := sincos(x.Turn)
	return x.At.Add(r2.Vec{X: float64(along*cos) - float64(up*sin), Y: float64(along*sin) + float64(up*cos)})
}

// Corners returns the corners of the text's box, from the descent to the top of
// the capitals, counter-clockwise from the first letter's foot.
func (x Text) Corners() [4]r2.Vec {
	y := x
	y.At, y.Across, y.Up = x.Start(), Left, Base
	w, d := x.Width(), -Descent(x.Height, x.Bold)
	return [4]r2.Vec{y.corner(0, d), y.corner(w, d), y.corner(w, x.Height), y.corner(0, x.Height)}
}

// Wrap breaks s into lines of at most width mm at its spaces, but for those that are written
// as no-break spaces. A single word that is longer stays whole.
func Wrap(s string, height float64, bold bool, width float64) []string {
	var lines []string
	space := func(r rune) bool { return unicode.IsSpace(r) && r != noBreak }
	for _, w := range phrases(strings.FieldsFunc(s, space)) {
		w = strings.ReplaceAll(w, string(noBreak), " ")
		if n := len(lines); n > 0 && TextWidth(lines[n-1]+" "+w, height, bold) <= width {
			lines[n-1] += " " + w
			continue
		}
		lines = append(lines, w)
	}
	return lines
}

// noBreak is the no-break space.
const noBreak = '\u00a0'

// phrases joins the words of a size, which is never broken: 5 1/4 × 1 1/4 in, read as
// 5 on one line and 1/4 on the next, spoils a board.
func phrases(words []string) (out []string) {
	for i, w := range words {
		if i > 0 && oneSize(words[i-1], w) {
			out[len(out)-1] += " " + w
			continue
		}
		out = append(out, w)
	}
	return out
}

// oneSize tells whether two words belong to one size: a number and its fraction, its
// unit, or a sign of multiplication.
func oneSize(a, b string) bool {
	digit := func(c byte) bool { return c >= '0' && c <= '9' }
	switch {
	case a == "×" || a == "⌀":
		return true
	case !digit(a[len(a)-1]):
		return false
	case b == "×":
		return true
	}
	end := strings.TrimRight(b, ".,;:)")
	return end == "in" || end == "mm" || end == "°" || strings.Contains(end, "/") && digit(end[0])
}

// Shorten cuts s, with an ellipsis, to at most width mm.
func Shorten(s string, height float64, bold bool, width float64) string {
	if TextWidth(s, height, bold) <= width {
		return s
	}
	letters := []rune(s)
	for len(letters) > 0 && TextWidth(string(letters)+"…", height, bold) > width {
		letters = letters[:len(letters)-1]
	}
	return strings.TrimRight(string(letters), " ") + "…"
}

// Widest returns the length of the longest line.
func Widest(lines []string, height float64, bold bool) float64 {
	w := 0.0
	for _, l := range lines {
		w = math.Max(w, TextWidth(l, height, bold))
	}
	return w
}
