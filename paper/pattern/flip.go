package pattern

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"dryfit/geom/r2"
	"dryfit/paper/draw"
	"dryfit/shop"
)

// A part and its mirror image share a pattern where the sawn piece turned over is
// the other one: cut two, flip one.

// flipped leads from a face of a mirror image to the same face of the part that it
// mirrors: what is left of the width.
func flipped(size r2.Vec) draw.Transform {
	return draw.Transform{Shift: r2.Vec{Y: size.Y}, Mirror: true, Turn: math.Pi}
}

// shareWith letters the pattern of a thing for it and for those that are it turned over.
func (t *thing) shareWith() {
	own := *t
	names, backs := []string{own.name}, []string{}
	n, spare := 0, 0
	for _, o := range own.flips {
		names, backs = append(names, o.name), append(backs, o.whole())
		n, spare = n+o.n, spare+o.spare
		t.numbers = append(t.numbers, o.numbers...)
	}
	t.numbers = slices.Clone(t.numbers)
	slices.Sort(t.numbers)
	t.n, t.spare = own.n+n, own.spare+spare
	t.title = numbered(t.numbers) + strings.Join(names, ", ") + ": " + howMany(own.verb, t.n, t.spare) + flip(n, spare)
	t.note += fmt.Sprintf(asDrawn, own.whole(), strings.Join(backs, ", "))
	var where []string
	for _, o := range append([]thing{own}, own.flips...) {
		if o.where != "" {
			where = append(where, o.name+": "+o.where)
		}
	}
	t.where = strings.Join(where, " ")
}

// whole names the pieces of a part: left-side (1, 3).
func (t *thing) whole() string {
	var of []string
	if len(t.numbers) > 0 {
		of = append(of, shop.Numbers(t.numbers))
	}
	if t.spare > 0 {
		of = append(of, fmt.Sprintf("%d spare", t.spare))
	}
	return t.name + " (" + strings.Join(of, " + ") + ")"
}
