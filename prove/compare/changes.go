package compare

import (
	"fmt"
	"math"
	"strings"

	"dryfit/assembly"
	"dryfit/geom/r3"
	"dryfit/geom/tol"
	"dryfit/geom/trig"
	"dryfit/toy"
)

// What of a piece is different, in the words of a shop.

// changes lists how a new solid differs from an old one that is laid over it.
func (d *differ) changes(a, b *assembly.Piece, r *relation) (out []Change, holes []Hole) {
	out = append(out, d.extents(a, b)...)
	was, now := boresOf(a), boresOf(b)
	for i := range was {
		was[i].Bore = was[i].Moved(r.align)
	}
	gone, fresh := matchBores(was, now)
	for i := range now {
		if w := now[i].from; w != nil {
			var says []string
			for _, c := range d.boreChange(b, *w, now[i]) {
				out, says = append(out, c), append(says, c.Says)
			}
			if len(says) > 0 {
				holes = append(holes, Hole{&w.Bore, &now[i].Bore, strings.Join(says, ", ")})
			}
		}
	}
	for i, h := range fresh {
		c := Change{Kind: "hole new", About: h.Name, Says: fmt.Sprintf("a new hole%s, %s", quoted(h), d.len(2*h.R))}
		out, holes = append(out, c), append(holes, Hole{nil, &fresh[i].Bore, c.Says})
	}
	for i, h := range gone {
		c := Change{Kind: "hole gone", About: h.Name, Says: fmt.Sprintf("the hole%s of %s is no longer there", quoted(h), d.len(2*h.R))}
		out, holes = append(out, c), append(holes, Hole{&gone[i].Bore, nil, c.Says})
	}
	out = append(out, d.workChanges(a, b, r.align)...)
	if len(out) == 0 {
		out = append(out, Change{Kind: "shape", Says: fmt.Sprintf("its shape: %s less wood in places, %s more in others", d.volume(r.less), d.volume(r.more))})
	}
	return out, holes
}

// extents says what is longer, wider or thicker of the finished piece.
func (d *differ) extents(a, b *assembly.Piece) (out []Change) {
	was, now := a.Made.Filled.Bounds().Size(), b.Made.Filled.Bounds().Size()
	words := [3][2]string{{"longer", "shorter"}, {"wider", "narrower"}, {"thicker", "thinner"}}
	kinds := [3]string{"length", "width", "thickness"}
	axes := []int{0, 1, 2}
	switch b.Part.Shape {
	case toy.Disc:
		axes, words[0], kinds[0] = []int{0, 2}, [2]string{"larger across", "smaller across"}, "diameter"
	case toy.Rod:
		axes, kinds[2] = []int{0, 2}, "diameter"
	case toy.Sphere:
		axes, words[0], kinds[0] = []int{0}, [2]string{"larger across", "smaller across"}, "diameter"
	}
	if b.Part.Shape != toy.Block { // by the true round, not by its chords
		for _, axis := range axes {
			if axis == 0 && b.Part.Shape != toy.Rod || axis == 2 && b.Part.Shape == toy.Rod {
				was, now = was.With(axis, a.Made.Size.At(axis)), now.With(axis, b.Made.Size.At(axis))
			}
		}
	}
	for _, axis := range axes {
		by := now.At(axis) - was.At(axis)
		if math.Abs(by) <= tol.Touch {
			continue
		}
		word := words[axis][0]
		if by < 0 {
			word = words[axis][1]
		}
		out = append(out, Change{Kind: kinds[axis], By: page(by), Says: d.len(math.Abs(by)) + " " + word})
	}
	return out
}

// hole is a hole of a piece, in the frame of the new blank.
type hole struct {
	assembly.Bore
	index int
	from  *hole // of a new one: the old one that it was
}

// boresOf lists the holes that meet the wood: work on a glue-up may miss a piece of it.
func boresOf(p *assembly.Piece) (out []hole) {
	for i, b := range p.Made.Bores {
		if lo, hi, ok := assembly.Span(p.Made.Filled, b.Point, b.Dir); ok && hi > b.Lo && lo < b.Hi {
			b.Lo, b.Hi = math.Max(b.Lo, lo), math.Min(b.Hi, hi)
			out = append(out, hole{Bore: b, index: i})
		}
	}
	return out
}

// matchBores finds the old hole of each new one: the same hole, the same name, then the nearest of
// the same way that is not farther than tol.SameHole.
func matchBores(was, now []hole) (gone, fresh []hole) {
	used := make([]bool, len(was))
	across := func(a, b hole) float64 { // how far the axes are apart, +Inf if they are not parallel
		if a.Dir.Cross(b.Dir).Len() > tol.Angle {
			return math.Inf(1)
		}
		off := b.Point.Sub(a.Point)
		return off.Sub(a.Dir.Scale(off.Dot(a.Dir))).Len()
	}
	for _, cost := range []func(a, b hole) float64{
		func(a, b hole) float64 {
			if across(a, b) <= tol.Touch && math.Abs(a.R-b.R) <= tol.Touch/2 {
				return 0
			}
			return math.Inf(1)
		},
		func(a, b hole) float64 {
			if a.Named && b.Named && a.Name == b.Name {
				return 0
			}
			return math.Inf(1)
		},
		func(a, b hole) float64 {
			if x := across(a, b); x <= tol.SameHole {
				return x
			}
			return math.Inf(1)
		},
	} {
		for {
			best, at, on := math.Inf(1), -1, -1
			for k := range now {
				if now[k].from != nil {
					continue
				}
				for i := range was {
					if used[i] {
						continue
					}
					if c := cost(was[i], now[k]); c < best {
						best, at, on = c, i, k
					}
				}
			}
			if at < 0 {
				break
			}
			used[at], now[on].from = true, &was[at]
		}
	}
	for i := range was {
		if !used[i] {
			gone = append(gone, was[i])
		}
	}
	for i := range now {
		if now[i].from == nil {
			fresh = append(fresh, now[i])
		}
	}
	return gone, fresh
}

func quoted(h hole) string {
	if !h.Named {
		return ""
	}
	return " " + plainName(h.Name)
}

// spoken is how a hole is spoken of.
func (d *differ) spoken(h hole) string {
	name := plainName(h.Name)
	base, counter := strings.CutSuffix(name, " counterbore")
	switch {
	case counter && h.Named:
		return "the " + base + " counterbore"
	case h.Name == "bore":
		return "the hole"
	case !h.Named:
		return "a hole of " + d.len(2*h.from.R)
	case strings.HasSuffix(name, "hole"):
		return "the " + name
	}
	return "the " + name + " hole"
}

// boreChange says what is different of a hole.
func (d *differ) boreChange(p *assembly.Piece, was, now hole) (out []Change) {
	name := d.spoken(now)
	add := func(kind string, by float64, says string) {
		out = append(out, Change{Kind: kind, About: now.Name, By: page(by), Says: says})
	}
	if by := 2 * (now.R - was.R); math.Abs(by) > tol.Touch {
		word := "larger"
		if by < 0 {
			word = "smaller"
		}
		add("hole size", by, strings.TrimPrefix(name, "the ")+" "+d.len(math.Abs(by))+" "+word)
	}
	if was.Dir.Cross(now.Dir).Len() > tol.Angle {
		angle := trig.Asin(math.Min(1, was.Dir.Cross(now.Dir).Len()))
		add("hole lean", 0, fmt.Sprintf("%s leans %.1f° another way", name, angle*180/math.Pi))
		return out
	}
	if off := mouth(now.Point.Sub(was.Point), now.Dir); off.Len() > tol.Touch {
		add("hole moved", off.Len(), name+" moves "+d.way(p, off))
	}
	if was.Blind != now.Blind {
		word := " now goes right through"
		if now.Blind {
			word = " no longer goes right through"
		}
		add("hole through", 0, name+word)
	} else if by := (now.Hi - now.Lo) - (was.Hi - was.Lo); now.Blind && math.Abs(by) > tol.Touch {
		word := " deeper"
		if by < 0 {
			word = " less deep"
		}
		add("hole depth", by, name+" "+d.len(math.Abs(by))+word)
	}
	return out
}

// mouth is how far the mouth of a hole moves on its side, which is square to the axis of the blank
// that the hole runs along most.
func mouth(off, dir r3.Vec) r3.Vec {
	k := 0
	for axis := range 3 {
		if math.Abs(dir.At(axis)) > math.Abs(dir.At(k)) {
			k = axis
		}
	}
	return off.Sub(dir.Scale(off.At(k) / dir.At(k)))
}

// way says a shift in the frame of a blank in words of the toy, of a round only how far.
func (d *differ) way(p *assembly.Piece, v r3.Vec) string {
	if p.Part.Shape == toy.Disc || p.Part.Shape == toy.Sphere {
		return d.len(v.Len())
	}
	return d.inToy(p.Pose.Dir(v))
}

func (d *differ) inToy(v r3.Vec) string {
	words := [3][2]string{{"back", "forward"}, {"right", "left"}, {"down", "up"}}
	var says []string
	for axis := range 3 {
		c := v.At(axis)
		if math.Abs(c) <= tol.Touch/2 {
			continue
		}
		w := words[axis][0]
		if c > 0 {
			w = words[axis][1]
		}
		says = append(says, d.len(math.Abs(c))+" "+w)
	}
	return strings.Join(says, " and ")
}

func plainName(name string) string { return strings.ReplaceAll(name, "-", " ") }
