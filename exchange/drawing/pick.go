package drawing

import (
	"fmt"
	"math"
	"strings"

	"dryfit/geom/outline"
	"dryfit/geom/r2"
	"dryfit/geom/tol"
)

// Picked is a line and the one about it that it is measured from.
type Picked struct {
	Line
	Holder string // name of the outermost line that holds it; empty: itself
	Origin r2.Vec // lower left corner of that line
}

// Pick returns the line or the layer of that name, in the drawing's order; with no name
// every line, if one line holds all others. Lines are measured from the lower left corner
// of the outermost line about them, as work is from that of its side.
func (d *Drawing) Pick(name string) ([]Picked, error) {
	holder := d.holders()
	var out []Picked
	outer := 0
	for i, l := range d.Lines {
		if holder[i] == i {
			outer++
		}
		if name != "" && l.Name != name && l.Layer != name {
			continue
		}
		p := Picked{Line: l, Origin: d.Lines[holder[i]].Path.Bounds().Min}
		if holder[i] != i {
			p.Holder = d.Lines[holder[i]].Name
		}
		out = append(out, p)
	}
	switch {
	case len(out) == 0:
		return nil, &Problem{Says: fmt.Sprintf("no line or layer is called %s", name), Expected: "one of" + d.list()}
	case name == "" && outer > 1:
		return nil, &Problem{Says: fmt.Sprintf("there are %d outlines in this drawing", outer), Expected: "--pick with a name or layer of" + d.list()}
	}
	return out, nil
}

// list shows what there is to pick.
func (d *Drawing) list() string {
	var b strings.Builder
	for i, l := range d.Lines {
		if i == 40 {
			fmt.Fprintf(&b, "\n  and %d more", len(d.Lines)-i)
			break
		}
		size := l.Path.Bounds().Size()
		fmt.Fprintf(&b, "\n  %s: %s x %s mm, %s", l.Name, number(size.X, 1), number(size.Y, 1), l.Where)
		if l.Layer != "" {
			fmt.Fprintf(&b, ", layer %s", l.Layer)
		}
	}
	return b.String()
}

// holders returns, for each line, the largest line that holds it, itself if none does.
func (d *Drawing) holders() []int {
	n := len(d.Lines)
	out := make([]int, n)
	box, area := make([]r2.Box, n), make([]float64, n)
	for i, l := range d.Lines {
		box[i], area[i] = l.Path.Bounds(), l.Path.Area()
	}
	for i := range d.Lines {
		out[i] = i
		for j := range d.Lines {
			if area[j] <= area[out[i]] || !covers(box[j], box[i]) {
				continue
			}
			if holds(d.Lines[j].Path, d.Lines[i].Path) {
				out[i] = j
			}
		}
	}
	return out
}

func covers(a, b r2.Box) bool {
	return a.Min.X <= b.Min.X+tol.Join && a.Min.Y <= b.Min.Y+tol.Join && a.Max.X >= b.Max.X-tol.Join && a.Max.Y >= b.Max.Y-tol.Join
}

// holds tells whether q lies within p, or on its line, by places all along q.
func holds(p, q outline.Path) bool {
	at := q.Start
	for _, s := range q.Segs {
		st := step{at, s}
		for _, v := range []r2.Vec{s.To, st.middle()} {
			if !p.Contains(v) && p.DistanceTo(v) > math.Max(tol.Join, tol.Chord) {
				return false
			}
		}
		at = s.To
	}
	return true
}
