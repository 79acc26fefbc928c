package web

import (
	"fmt"
	"math"
	"strings"

	"dryfit/app"
	"dryfit/app/desk"
	"dryfit/app/page"
	"dryfit/measure"
	"dryfit/measure/source"
	"dryfit/toy/file/tree"
)

// Drawing: places that are dragged. What a place is written as (a formula over sizes, most often)
// is moved along, not replaced by a number.

// ShiftArgs moves places of a toy by some way.
type ShiftArgs struct {
	File   string  `json:"file"`
	Base   string  `json:"base"`
	Shifts []Shift `json:"shifts"`
	Intent string  `json:"intent"`
	Group  string  `json:"group"`
}

// Shift moves the value at a path by so many mm.
type Shift struct {
	Path string  `json:"path"`
	By   float64 `json:"by"`
}

// TraceArgs is a drawing whose outlines are wanted.
type TraceArgs struct {
	Drawing []byte `json:"drawing"` // an SVG, or a PDF of lines
	Units   string `json:"units"`   // one unit of it: mm, inch, px; empty: as it says
	As      string `json:"as"`      // the unit of the toy file
}

// Traces are the lines of a drawing.
type Traces struct {
	Lines []app.Traced `json:"lines"` // said in brackets, as the value of outline
	Notes []string     `json:"notes"` // what was left out
}

// WordArgs are texts of lengths as somebody typed them who means Units by a number alone.
type WordArgs struct {
	File  string   `json:"file"`
	Units string   `json:"units"` // inch or mm
	Texts []string `json:"texts"`
}

// Words are those texts as the file has to have them.
type Words struct {
	Texts []string `json:"texts"`
}

var wordCall = on("word", "Says lengths as the file has to have them.", func(s *Server, a WordArgs) (Words, error) {
	l, err := s.open(a.File)
	if err != nil {
		return Words{}, err
	}
	unit, ok := measure.ParseUnit(a.Units)
	if !ok {
		return Words{}, errUnits(a.Units)
	}
	l.mu.Lock()
	opened := l.opened
	l.mu.Unlock()
	if opened == nil {
		return Words{page.InFile(nil, unit, a.Texts)}, nil
	}
	return Words{page.InFile(opened.Toy, unit, a.Texts)}, nil
})

func errUnits(units string) error {
	return fmt.Errorf("there are no units %q: expected inch or mm", units)
}

var traceCall = on("trace", "Reads the outlines of a drawing.", func(s *Server, a TraceArgs) (Traces, error) {
	lines, notes, err := app.Trace(a.Drawing, app.Outlines{Units: a.Units, As: a.As, Loose: true})
	out := Traces{Lines: []app.Traced{}, Notes: append([]string{}, notes...)}
	for _, l := range lines {
		l.Says = inBrackets(l.Says)
		out.Lines = append(out.Lines, l)
	}
	return out, err
})

// inBrackets takes the value of an outline that may be a list over several lines.
func inBrackets(says string) string {
	value := strings.TrimPrefix(says, "outline:")
	if !strings.HasPrefix(value, "\n") {
		return strings.TrimSpace(value)
	}
	var items []string
	for _, line := range strings.Split(strings.TrimSpace(value), "\n") {
		items = append(items, strings.TrimPrefix(strings.TrimSpace(line), "- "))
	}
	return "[" + strings.Join(items, ", ") + "]"
}

// wholeNM rids a way of what a browser's arithmetic left: every mark of every rule is a whole
// number of nanometres.
func wholeNM(mm float64) measure.Length {
	return measure.Length(math.Round(mm * float64(measure.Millimetre)))
}

var shiftCall = on("shift", "Moves places, keeping the formulas that they are written as.", func(s *Server, a ShiftArgs) (State, error) {
	return s.with(a.File, func(l *live) (desk.State, error) {
		now := l.toy.State()
		root, probs := tree.Parse(source.New(now.File, now.Text))
		if len(probs) > 0 {
			return now, probs
		}
		own := measure.MM
		if u := root.At("units"); u != nil {
			own, _ = measure.ParseUnit(u.Text)
		}
		var edits []tree.Edit
		for _, sh := range a.Shifts {
			n := root.At(sh.Path)
			if n == nil || n.Kind != tree.Scalar {
				return now, fmt.Errorf("there is no value at %s", sh.Path)
			}
			text, err := page.Moved(n.Text, wholeNM(sh.By), own)
			if err != nil {
				return now, err
			}
			edits = append(edits, tree.Edit{Op: "set", Path: sh.Path, Value: text, As: tree.AsText})
		}
		return l.toy.Change(desk.Wish{Base: a.Base, Edits: edits, Sound: l.sound(a.File, edits), Intent: a.Intent, Group: a.Group})
	})
})
