package drawing

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"dryfit/geom/outline"
	"dryfit/geom/r2"
	"dryfit/geom/tol"
	"dryfit/geom/trig"
)

// Say writes a line as the outline of a toy file whose unit is that many mm (1 or 25.4),
// measured from origin: "outline: ..." on one line or several, every number rounded to 0.001
// mm or 0.0001 in, or exact with six places. What it writes is read again and lies within tol.Chord of the line.
func Say(p outline.Path, origin r2.Vec, unit float64) (string, error) {
	p = p.Transform(outline.Shifted(origin.Neg()))
	places := 3
	if unit != 1 {
		places = 4
	}
	for ; places <= 7; places++ {
		for _, rounded := range []bool{true, false} {
			w := &writer{unit: unit, places: places, rounded: rounded}
			text, corners := w.outline(p)
			if corners == nil {
				return text, nil // a circle or a rectangle, exactly what was drawn
			}
			back, err := outline.Corners(corners)
			if err == nil && back.Check() == nil && within(p, back) && within(back, p) {
				return text, nil
			}
		}
	}
	return "", fmt.Errorf("this line has steps too small to be said in numbers of %d places", places-1)
}

// within tells whether the corners of the polygon of one line lie near another.
func within(a, b outline.Path) bool {
	for _, v := range a.Polygon() {
		if b.DistanceTo(v) > tol.Chord {
			return false
		}
	}
	return true
}

type writer struct {
	unit    float64
	places  int
	rounded bool // arcs that touch both their neighbours are said as rounded corners
}

// number prints to so many places, without zeros at its end.
func number(v float64, places int) string {
	s := strconv.FormatFloat(v, 'f', places, 64)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	if s == "-0" {
		return "0"
	}
	return s
}

// num prints a length: as it is where six places say it, as fractions of an inch are,
// else rounded.
func (w *writer) num(mm float64) string {
	v := mm / w.unit
	for k := w.places; k <= 6; k++ {
		s := number(v, k)
		if back, _ := strconv.ParseFloat(s, 64); math.Abs(back-v) <= 2e-8 {
			return s
		}
	}
	return number(v, w.places)
}

// back is what a number reads as again.
func (w *writer) back(mm float64) float64 {
	v, _ := strconv.ParseFloat(w.num(mm), 64) // of our own printing
	return float64(v * w.unit)
}

func (w *writer) pt(p r2.Vec) string { return w.num(p.X) + ", " + w.num(p.Y) }

func (w *writer) backPt(p r2.Vec) r2.Vec { return r2.Vec{X: w.back(p.X), Y: w.back(p.Y)} }

// spot is one corner as it will be said.
type spot struct {
	at     r2.Vec
	radius float64
	via    *r2.Vec
}

func (w *writer) outline(p outline.Path) (string, []outline.Corner) {
	if len(p.Segs) == 1 && p.Segs[0].Round() {
		s := p.Segs[0]
		return fmt.Sprintf("outline: {circle: [%s], dia: %s}", w.pt(s.C), w.num(2*s.R)), nil
	}
	spots := w.spots(p)
	if box, r, ok := rectangle(spots); ok {
		text := fmt.Sprintf("outline: {rect: [%s], size: [%s]", w.pt(box.Min), w.pt(box.Size()))
		if r > 0 {
			text += ", r: " + w.num(r)
		}
		return text + "}", nil
	}
	var items []string
	var corners []outline.Corner
	for _, s := range spots {
		c := outline.Corner{P: w.backPt(s.at), Radius: w.back(s.radius)}
		switch {
		case s.via != nil:
			v := w.backPt(*s.via)
			c.Via = &v
			items = append(items, fmt.Sprintf("{to: [%s], through: [%s]}", w.pt(s.at), w.pt(*s.via)))
		case s.radius > 0:
			items = append(items, fmt.Sprintf("[%s, r %s]", w.pt(s.at), w.num(s.radius)))
		default:
			items = append(items, "["+w.pt(s.at)+"]")
		}
		corners = append(corners, c)
	}
	text := "outline: [" + strings.Join(items, ", ") + "]"
	if len(text) > 100 {
		text = "outline:\n  - " + strings.Join(items, "\n  - ")
	}
	return text, corners
}

// spots returns the corners of a line, the lowest left one first.
func (w *writer) spots(p outline.Path) []spot {
	var steps []step
	at := p.Start
	for _, s := range p.Segs {
		parts := 1
		if s.Round() && (math.Abs(s.Sweep) > 3.6 || len(p.Segs) < 3) {
			parts = 2 // three places on much more than half a circle lie badly
		}
		if parts == 2 {
			mid := (step{at, s}).middle()
			steps = append(steps, step{at, outline.Seg{To: mid, C: s.C, R: s.R, Sweep: s.Sweep / 2}})
			at, s.Sweep = mid, s.Sweep/2
		}
		steps = append(steps, step{at, s})
		at = s.To
	}
	if at != p.Start {
		steps = append(steps, step{at, outline.Line(p.Start)})
	}
	n := len(steps)
	round := make([]*r2.Vec, n) // the corner that an arc rounds
	for i := range steps {
		if w.rounded && n > 2 {
			round[i] = rounds(steps[(i+n-1)%n], steps[i], steps[(i+1)%n])
		}
	}
	var out []spot
	for i, s := range steps {
		switch {
		case round[i] != nil:
			out = append(out, spot{at: *round[i], radius: s.R})
		case s.Round():
			mid := s.middle()
			out = append(out, spot{at: s.To, via: &mid})
		case round[(i+1)%n] == nil:
			out = append(out, spot{at: s.To})
		}
	}
	first := 0
	for i, s := range out {
		if a, b := s.at.X+s.at.Y, out[first].at.X+out[first].at.Y; a < b-tol.Page {
			first = i
		}
	}
	return append(out[first:len(out):len(out)], out[:first]...)
}

// rounds returns the corner that an arc rounds between two straight steps; nil if it does
// not touch both, or takes one of them whole.
func rounds(a, arc, b step) *r2.Vec {
	if a.Round() || b.Round() || !arc.Round() || math.Abs(arc.Sweep) > 3 || a.long() < 2*tol.Join || b.long() < 2*tol.Join {
		return nil
	}
	u, v := arc.from.Sub(arc.C), arc.To.Sub(arc.C)
	if arc.Sweep < 0 {
		u, v = u.Neg(), v.Neg()
	}
	u, v = u.Unit().Perp(), v.Unit().Perp() // the ways in and out
	if d, e := a.To.Sub(a.from).Unit(), b.To.Sub(b.from).Unit(); d.Sub(u).Len() > tol.Smooth || e.Sub(v).Len() > tol.Smooth {
		return nil
	}
	p := arc.from.Add(u.Scale(float64(arc.R * trig.Tan(math.Abs(arc.Sweep)/2))))
	return &p
}

// rectangle tells whether four corners are a rectangle along the axes, its corners rounded
// alike.
func rectangle(s []spot) (box r2.Box, r float64, ok bool) {
	if len(s) != 4 {
		return box, 0, false
	}
	box = r2.Around(s[0].at, s[1].at, s[2].at, s[3].at)
	for i, c := range s {
		d := s[(i+1)%4].at.Sub(c.at)
		if c.via != nil || math.Abs(c.radius-s[0].radius) > tol.Page || math.Min(math.Abs(d.X), math.Abs(d.Y)) > tol.Page {
			return box, 0, false
		}
	}
	return box, s[0].radius, true
}
