package pattern

import (
	"math"
	"strings"

	"dryfit/assembly"
	"dryfit/geom/r2"
	"dryfit/geom/r3"
	"dryfit/geom/tol"
	"dryfit/measure"
	"dryfit/paper/draw"
	"dryfit/shop"
	"dryfit/toy"
)

// A pattern that goes on a side of the toy, or of a part that does not lie as it was
// sawn, says which side that is and which way up it goes: by arrows, as it lies then.

// way is a direction of the toy as it is seen on a side.
type way struct {
	dir  r2.Vec // in the side's coordinates, of length 1
	says string
}

// waysOn returns the two directions of the toy that lie best in a side of a piece.
func waysOn(p *assembly.Piece, side toy.Side) (out []way) {
	f := assembly.SideFrame(side, p.Made.Size).Then(p.Pose)
	for _, w := range []struct {
		dir  r3.Vec
		says string
	}{{r3.X, toy.Forward.String()}, {r3.Z, toy.Up.String()}, {r3.Y, toy.ToLeft.String()}} {
		d := r2.Vec{X: w.dir.Dot(f.U), Y: w.dir.Dot(f.V)}
		if d.Len() > wayLeast && len(out) < 2 {
			out = append(out, way{d.Unit(), w.says})
		}
	}
	return out
}

// wayLeast is how long a direction of length 1 has to look on a side to be shown there.
const wayLeast = 0.7

// allLook returns which way a side looks on all of some pieces; false if they differ.
func allLook(pieces []*assembly.Piece, s toy.Side) (out toy.Dir, ok bool) {
	for i, p := range pieces {
		d, ok := shop.Looks(p, s)
		if !ok || i > 0 && d != out {
			return 0, false
		}
		out = d
	}
	return out, len(pieces) > 0
}

// asSawn tells whether pieces lie in the toy as their blank lies on the bench, face up and
// length forward; then its sides are called as in the toy.
func asSawn(pieces []*assembly.Piece) bool {
	for _, s := range []toy.Side{toy.Top, toy.Front} {
		if d, ok := allLook(pieces, s); len(pieces) > 0 && (!ok || d != [...]toy.Dir{toy.Top: toy.Up, toy.Front: toy.Forward}[s]) {
			return false
		}
	}
	return true
}

// partSide says what a side of a part is called, and how it looks in the toy where that is
// not as its name says.
func partSide(pieces []*assembly.Piece) func(toy.Side) []line {
	if asSawn(pieces) {
		return nil
	}
	return func(s toy.Side) []line {
		says := []line{{says: strings.ToUpper(shop.SideWord(s)), bold: true}}
		if d, ok := allLook(pieces, s); ok {
			says = append(says, line{says: looksWord + d.String() + inToy})
		}
		return says
	}
}

// glueUpSide says which side of a glue-up a side of its first piece is.
func glueUpSide(name string, first *assembly.Piece) func(toy.Side) []line {
	return func(s toy.Side) []line {
		if d, ok := shop.Looks(first, s); ok {
			return []line{{says: strings.ToUpper(shop.DirSide(d) + ofThe + strings.ReplaceAll(name, "-", " ")), bold: true}}
		}
		return []line{{says: strings.ToUpper(shop.SideWord(s)), bold: true}}
	}
}

// namedFlat is a straight side of an outline that the file gives a name to: steps and notes
// place pieces by it.
type namedFlat struct {
	mid  r2.Vec
	says string
}

// flatsOf returns the named flats of an outline.
func flatsOf(o toy.Outline) (out []namedFlat) {
	at := func(i int) r2.Vec {
		c := o.Corners[i%len(o.Corners)]
		return r2.Vec{X: c.X.MM(), Y: c.Y.MM()}
	}
	for _, f := range o.Flats {
		out = append(out, namedFlat{at(f.Index).Add(at(f.Index + 1)).Scale(0.5), strings.ReplaceAll(f.Name, "-", " ")})
	}
	return out
}

// flatNear is how far from the middle of a flat its name may begin, mm.
const flatNear = 8.0

// flatWords names the flats of a view at their edges.
func (sh *sheet) flatWords(v *view) {
	for _, f := range v.flats {
		says := []line{{says: f.says, bold: true, pencil: true}}
		size := sizeOf(says)
		mid := v.move.Apply(f.mid)
		wood := v.move.Run(v.blank).Bounds()
		near := r2.Box{Min: mid, Max: mid}
		near = grown(near, size.X/2+flatNear)
		near = r2.Box{Min: r2.Vec{X: max(near.Min.X, wood.Min.X), Y: max(near.Min.Y, wood.Min.Y)}, Max: r2.Vec{X: min(near.Max.X, wood.Max.X), Y: min(near.Max.Y, wood.Max.Y)}}
		if at, ok := sh.room.over(near, size, mid, false); ok { // on the wood that it ends
			sh.marks = append(sh.marks, words(says, at, draw.Left))
			sh.room.boxes = append(sh.room.boxes, at)
			continue
		}
		sh.marks = append(sh.marks, sh.room.draw(sh.room.beside(mid, 0, [][]line{says})))
	}
}

// compass draws the ways of a view: over the side where there is room, else beside it.
func (sh *sheet) compass(v *view, box r2.Box) {
	o := v.move.Apply(r2.Vec{})
	for _, w := range v.ways {
		dir := v.move.Apply(w.dir).Sub(o)
		long := draw.TextWidth(w.says, wordHeight, false) + wayMore
		size := r2.Vec{X: math.Max(3, math.Abs(dir.X)*long), Y: math.Max(3, math.Abs(dir.Y)*long)}
		mid := box.Min.Add(box.Max).Scale(0.5)
		at, ok := sh.room.over(box, size, mid, false)
		for out := 4.0; !ok; out += 4 {
			at, ok = sh.room.over(grown(box, out), size, mid, true)
		}
		sh.mark(wayArrow(at, dir, w.says))
	}
}

// wayMore is how much longer an arrow is than its word, mm.
const wayMore = 12.0

// wayArrow draws an arrow in the middle of a box, with its word in it.
func wayArrow(box r2.Box, dir r2.Vec, says string) draw.Group {
	mid := box.Min.Add(box.Max).Scale(0.5)
	word := draw.TextWidth(says, wordHeight, true)
	half := dir.Scale((word + wayMore) / 2)
	gap := dir.Scale(word/2 + 1)
	turn := math.Atan2(dir.Y, dir.X)
	if dir.X < -1e-9 || math.Abs(dir.X) <= 1e-9 && dir.Y < 0 { // never upside down
		turn = math.Atan2(-dir.Y, -dir.X)
	}
	return draw.Group{Items: []draw.Item{
		paperUnder(box),
		draw.Path{Line: draw.Outline, Runs: []draw.Run{draw.Polyline(mid.Sub(half), mid.Sub(gap)), draw.Polyline(mid.Add(gap), mid.Add(half))}},
		draw.Arrow(mid.Add(half), dir),
		draw.Text{At: mid, Says: says, Height: wordHeight, Bold: true, Turn: turn, Across: draw.Middle, Up: draw.Half},
	}}
}

// corner returns the corner of the outlines that are seen which a pattern is laid by, and
// which way the wood is from there: a sharp square one that stands out, the lowest to the
// left; false if there is none.
func corner(runs []draw.Run) (at, into r2.Vec, found bool) {
	for _, r := range runs {
		pts, round := []r2.Vec{r.From}, []bool{}
		for _, s := range r.Segs {
			pts, round = append(pts, s.To), append(round, s.Sweep != 0)
		}
		n := len(pts)
		if pts[n-1].Sub(pts[0]).Len() < tol.Touch {
			n--
		} else {
			round = append(round, false)
		}
		line := coarse(r)
		for i := range n {
			if round[i] || round[(i+n-1)%n] {
				continue
			}
			back, on := pts[(i+n-1)%n].Sub(pts[i]), pts[(i+1)%n].Sub(pts[i])
			if min(back.Len(), on.Len()) < cornerLeast || math.Abs(back.Unit().Dot(on.Unit())) > tol.Clip {
				continue
			}
			d := back.Unit().Add(on.Unit()).Unit()
			if !inside(line, pts[i].Add(d)) || found && pts[i].X+pts[i].Y > at.X+at.Y-tol.Touch {
				continue
			}
			at, into, found = pts[i], d, true
		}
	}
	return at, into, found
}

// cornerLeast is how long both edges of a corner are at least that a pattern is laid by, mm.
const cornerLeast = 5.0

// sideName names a side of a blank: with its name of the toy only where that is true.
func (of thing) sideName(s toy.Side) string {
	if of.turned {
		return shop.SideWord(s)
	}
	return shop.SideName(s)
}

// byHand is shop.ByHand in words that are true of a blank that does not lie in the toy as
// it was sawn, too.
func byHand(work []toy.Work, u measure.Unit, asSawn bool) []string {
	says := shop.ByHand(work, u)
	if !asSawn {
		for i := range says {
			says[i] = renamed(says[i], shop.SideWord)
		}
	}
	return says
}

// byHandTogether is shop.ByHand with the sides of a glue-up called as in the toy.
func byHandTogether(work []toy.Work, u measure.Unit, first *assembly.Piece) []string {
	says := shop.ByHand(work, u)
	for i := range says {
		says[i] = renamed(says[i], func(s toy.Side) string {
			if d, ok := shop.Looks(first, s); ok {
				return shop.DirSide(d)
			}
			return shop.SideWord(s)
		})
	}
	return says
}

// renamed calls the sides in a sentence otherwise, the longer names first.
func renamed(says string, to func(toy.Side) string) string {
	for _, s := range []toy.Side{toy.Bottom, toy.Left, toy.Back, toy.Top, toy.Right, toy.Front} {
		says = strings.ReplaceAll(says, shop.SideName(s), to(s))
	}
	return says
}

// covered tells whether the blank of a view, which is behind what is seen, has its outline
// there too: then there is nothing to say of it.
func (v *view) covered() bool {
	b := r2.EmptyBox()
	for _, r := range v.seen {
		b = b.Union(r.Bounds())
	}
	own := v.blank.Bounds()
	return b.Min.Sub(own.Min).Len() < tol.Touch && b.Max.Sub(own.Max).Len() < tol.Touch
}

// shown is the box of what the maker sees on a side: the blank, or what lies before it.
func (v *view) shown() r2.Box {
	b := r2.Box{Max: v.size}
	if v.hidden {
		b = r2.EmptyBox()
		for _, r := range v.seen {
			b = b.Union(r.Bounds())
		}
	}
	return r2.Around(v.move.Apply(b.Min), v.move.Apply(b.Max))
}
