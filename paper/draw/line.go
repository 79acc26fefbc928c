package draw

import (
	"strconv"
	"strings"
)

// Line is a line style: what a line says on a drawing.
type Line uint8

// The line styles. Types and their meaning follow ISO 128-2 (from memory):
// continuous wide for what is seen or cut, dashed for what is hidden, long-dash
// dot for centre lines and symmetry; fold lines dashed wide are our own use.
const (
	NoLine       Line = iota // nothing is drawn
	Cut                      // saw along this line
	Outline                  // an edge that is seen and not cut here
	Fold                     // fold the paper here
	Hidden                   // an edge behind the face
	Centre                   // axes of holes, lines of symmetry
	Thin                     // dimensions, leaders, frames
	Construction             // helping lines, in pencil grey
	HatchLine                // hatching, in light grey
	Trim                     // cut the paper here, in pencil grey
	Later                    // saw along this line, but not yet
	Faint                    // an edge that is there but not spoken of, in pencil grey
)

// Style is how a line style is drawn.
type Style struct {
	Name  string
	Width float64   // mm, of the series 0.18, 0.25, 0.35, 0.5 of ISO 128-2
	Dash  []float64 // mm: on, off, on, off; empty: continuous
	Tone  Tone
}

// Dashes are multiples of the line width d as in ISO 128-2 (from memory): dash
// 12 d, long dash 24 d, gap 3 d, dot 0.5 d.
var styles = [...]Style{
	NoLine:       {Name: "none"},
	Cut:          {"cut", 0.5, nil, Ink},
	Outline:      {"outline", 0.35, nil, Ink},
	Fold:         {"fold", 0.35, []float64{4.2, 1.05}, Ink},
	Hidden:       {"hidden", 0.25, []float64{3, 0.75}, Ink},
	Centre:       {"centre", 0.25, []float64{6, 0.75, 0.125, 0.75}, Ink},
	Thin:         {"thin", 0.25, nil, Ink},
	Construction: {"construction", 0.18, nil, Pencil},
	HatchLine:    {"hatch", 0.18, nil, Mid},
	Trim:         {"trim", 0.25, []float64{6, 0.75, 0.125, 0.75, 0.125, 0.75}, Pencil},
	Later:        {"later", 0.35, []float64{2.1, 2.1}, Ink},
	Faint:        {"faint", 0.25, nil, Pencil},
}

// Style returns how l is drawn. Its dash pattern must not be changed.
func (l Line) Style() Style { return styles[l] }

// String returns the style's name.
func (l Line) String() string { return styles[l].Name }

// Tone is a grey. The tones lie far enough apart to be told from each other on
// a black-and-white printer.
type Tone uint8

const (
	NoTone Tone = iota // nothing is filled; text is in ink
	Ink                // black
	Pencil             // dark grey, for notes and helping lines
	Mid                // for hatching
	Light              // for fills under text
	White              // covers what lies below
)

var greys = [...]float64{Ink: 0, Pencil: 0.35, Mid: 0.6, Light: 0.86, White: 1}

// Grey returns the lightness from 0, black, to 1, white.
func (t Tone) Grey() float64 { return greys[t] }

// Digits writes a length for a drawing file: rounded to tol.Page, four decimals,
// without trailing zeros and without a negative zero.
func Digits(mm float64) string {
	s := strconv.FormatFloat(mm, 'f', 4, 64)
	s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	if s == "-0" || s == "" {
		return "0"
	}
	return s
}
