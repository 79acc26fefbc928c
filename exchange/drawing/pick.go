package drawing

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"dryfit/geom/outline"
	"dryfit/geom/r2"
	"dryfit/geom/tol"
)

// Picked is a line and the one about it that it is measured from.
type Picked struct {
	Line
	Holder string // name of the line among those picked that holds it; empty: itself
	Origin r2.Vec // lower left corner of that line
}

// Pick returns the lines that have one of the names or lie on a layer of such a name, in
// the drawing's order; with no names all lines, if one line holds all others. A line is
// measured from the lower left corner of the largest of them that holds it, as work is
// from that of its side.
func (d *Drawing) Pick(names ...string) ([]Picked, error) {
	var of []Line
	found := map[string]bool{}
	for _, l := range d.Lines {
		picked := false
		for _, n := range names {
			if l.Name == n || l.Layer == n {
				found[n], picked = true, true
			}
		}
		if picked {
			of = append(of, l)
		}
	}
	for _, n := range names {
		if !found[n] {
			return nil, &Problem{Says: fmt.Sprintf("no line or layer is called %s", n), Expected: "one of" + d.list()}
		}
	}
	if len(names) == 0 {
		of = d.Lines
	}
	out, outer := measured(of)
	if len(names) == 0 && outer > 1 {
		return nil, &Problem{Says: fmt.Sprintf("there are %d closed lines in this drawing, and no one of them holds all others", len(of)), Expected: "--pick with names or a layer of" + d.list()}
	}
	return out, nil
}

// All returns all lines, each measured from the largest that holds it.
func (d *Drawing) All() []Picked {
	out, _ := measured(d.Lines)
	return out
}

// measured finds what holds each line, and how many nothing holds.
func measured(of []Line) (out []Picked, outer int) {
	for i, h := range holders(of) {
		p := Picked{Line: of[i], Origin: of[h].Path.Bounds().Min}
		if h != i {
			p.Holder = of[h].Name
		} else {
			outer++
		}
		out = append(out, p)
	}
	return out, outer
}

// list shows what there is to pick, the largest first.
func (d *Drawing) list() string {
	var b strings.Builder
	lines := slices.Clone(d.Lines)
	slices.SortStableFunc(lines, func(a, b Line) int { return cmp.Compare(b.Path.Area(), a.Path.Area()) })
	for i, l := range lines {
		if i == 40 {
			fmt.Fprintf(&b, "\n  and %d smaller", len(lines)-i)
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
func holders(lines []Line) []int {
	n := len(lines)
	out := make([]int, n)
	box, area := make([]r2.Box, n), make([]float64, n)
	for i, l := range lines {
		box[i], area[i] = l.Path.Bounds(), l.Path.Area()
	}
	for i := range lines {
		out[i] = i
		for j := range lines {
			if area[j] > area[out[i]] && covers(box[j], box[i]) && holds(lines[j].Path, lines[i].Path) {
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
