package compare

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"dryfit/assembly"
	"dryfit/geom/r3"
	"dryfit/geom/tol"
	"dryfit/shop"
	"dryfit/toy"
)

// Arrises that are rounded or chamfered are said in the file and are no part of the solids, so they
// are compared by what is said.

// arris is one that is taken off, on the blank of the new piece.
type arris struct {
	round bool
	by    float64
	sides []string // pairs of sides, none: every one
	says  string
}

// arrises compares those of a piece and of the glue-up that it is in. further tells that the old ones
// can be worked into the new.
func (d *differ) arrises(a, b *assembly.Piece, r *relation) (out []Change, further bool) {
	further = true
	for _, x := range []struct {
		was, now []toy.Work
		when     string
	}{{a.Part.Work, b.Part.Work, ""}, {d.glueUpWork(d.was, a), d.glueUpWork(d.now, b), "once it is glued up, "}} {
		turns := r.turns
		if len(turns) == 0 || x.when != "" {
			turns = []r3.Pose{r3.Identity}
		}
		now := d.arrisesOf(x.now, r3.Identity)
		if slices.ContainsFunc(turns, func(g r3.Pose) bool { return said(d.arrisesOf(x.was, g)) == said(now) }) {
			continue
		}
		was := d.arrisesOf(x.was, turns[0])
		for _, o := range was {
			further = further && slices.ContainsFunc(now, func(n arris) bool {
				return n.round == o.round && n.by >= o.by-tol.Touch && (len(n.sides) == 0 || len(o.sides) > 0 && !slices.ContainsFunc(o.sides, func(s string) bool { return !slices.Contains(n.sides, s) }))
			})
		}
		c := Change{Kind: "arris", Says: x.when + said(now) + ", was: " + said(was)}
		switch {
		case len(was) == 0:
			c.Says = x.when + said(now)
		case len(now) == 0:
			c.Says = x.when + "no longer " + said(was)
		}
		out = append(out, c)
	}
	return out, further
}

func said(list []arris) string {
	var says []string
	for _, a := range list {
		says = append(says, a.says)
	}
	return strings.Join(says, ", ")
}

// arrisesOf lists the arrises of work on a blank that is then turned.
func (d *differ) arrisesOf(work []toy.Work, g r3.Pose) (out []arris) {
	for _, w := range work {
		w, ok := w.(toy.Arris)
		if !ok {
			continue
		}
		a := arris{round: w.Round, by: w.By.MM()}
		for _, s := range w.Sides {
			p, q := turnedSide(s[0], g), turnedSide(s[1], g)
			if q < p {
				p, q = q, p
			}
			a.sides = append(a.sides, shop.SideWord(p)+" and "+shop.SideWord(q))
		}
		slices.Sort(a.sides)
		which, verb := "every arris", "chamfered"
		if len(a.sides) > 0 {
			which = "the arris of " + strings.Join(a.sides, ", of ")
		}
		if w.Round {
			verb = "rounded"
		}
		a.says = fmt.Sprintf("%s %s by %s", which, verb, d.len(a.by))
		out = append(out, a)
	}
	slices.SortStableFunc(out, func(a, b arris) int { return strings.Compare(a.says, b.says) })
	return out
}

// turnedSide is the side of a blank that a side comes to be when the blank is turned.
func turnedSide(s toy.Side, g r3.Pose) toy.Side {
	to := g.Dir(assembly.SideFrame(s, r3.Vec{}).W)
	best, most := s, math.Inf(-1)
	for _, t := range []toy.Side{toy.Top, toy.Bottom, toy.Right, toy.Left, toy.Front, toy.Back} {
		if x := to.Dot(assembly.SideFrame(t, r3.Vec{}).W); x > most {
			best, most = t, x
		}
	}
	return best
}
