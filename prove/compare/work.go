package compare

import (
	"fmt"
	"math"
	"strings"

	"dryfit/assembly"
	"dryfit/geom/r2"
	"dryfit/geom/r3"
	"dryfit/geom/tol"
	"dryfit/shop"
	"dryfit/toy"
)

// What of the sawn lines of a piece is different.

// workChanges compares outlines, cuts and arrises of a piece, and of the glue-up that it is in. Old
// lines are laid over new ones as the blanks are.
func (d *differ) workChanges(a, b *assembly.Piece, align r3.Pose) (out []Change) {
	out = d.lines(a.Part.Work, b.Part.Work, a.Made, b.Made, b, align.O, grown(a, b), "")
	was, now := d.glueUpWork(d.was, a), d.glueUpWork(d.now, b)
	if was == nil || now == nil {
		return out
	}
	first := func(m *assembly.Model, p *assembly.Piece) *assembly.Piece {
		for _, g := range m.GlueUps {
			if g.ID == p.GlueUp {
				return m.Pieces[g.Pieces[0]]
			}
		}
		return p
	}
	fa, fb := first(d.was, a), first(d.now, b)
	return append(out, d.lines(was, now, fa.Made, fb.Made, fb, d.relate(fa, fb).align.O, grown(fa, fb), "once it is glued up, ")...)
}

func (d *differ) glueUpWork(m *assembly.Model, p *assembly.Piece) []toy.Work {
	for _, g := range m.GlueUps {
		if g.ID == p.GlueUp {
			return g.Spec.Work
		}
	}
	return nil
}

// drawnLine is one sawn line on its side.
type drawnLine struct {
	word  string
	side  toy.Side
	pts   []r2.Vec
	radii []float64 // of its corners, where they were said one by one
	depth float64
	n     int // of its word and side, from 1
	of    int
}

// lineKind is what lines are counted by.
type lineKind struct {
	word string
	side toy.Side
}

func linesOf(work []toy.Work) (out []drawnLine) {
	count := map[lineKind]int{}
	for _, w := range work {
		l := drawnLine{}
		var o toy.Outline
		switch w := w.(type) {
		case toy.Saw:
			l.word, l.side, o = "outline", w.Side, w.Outline
		case toy.Cut:
			l.word, l.side, l.depth, o = w.Word, w.Side, w.Depth.MM(), w.Outline
		default:
			continue
		}
		path, err := assembly.Line(o)
		if err != nil {
			continue // a derived toy has none such
		}
		l.pts = path.Polygon()
		for _, c := range o.Corners {
			l.radii = append(l.radii, c.Radius.MM())
		}
		k := lineKind{l.word, l.side}
		count[k]++
		l.n = count[k]
		out = append(out, l)
	}
	for i := range out {
		out[i].of = count[lineKind{out[i].word, out[i].side}]
	}
	return out
}

// named is how a line is spoken of: by its side, and by its number where there are several.
func (l drawnLine) named() string {
	what := l.word
	if l.of > 1 {
		what += fmt.Sprintf(" %d", l.n)
	}
	return what + " on the " + shop.SideWord(l.side)
}

func (d *differ) lines(was, now []toy.Work, ma, mb *assembly.Made, p *assembly.Piece, by, longer r3.Vec, when string) (out []Change) {
	add := func(kind string, l drawnLine, size float64, says string) {
		out = append(out, Change{Kind: kind, About: l.named(), By: page(size), Says: when + says})
	}
	old, fresh := linesOf(was), linesOf(now)
	used := make([]bool, len(old))
	pair := make([]int, len(fresh))
	place := func(l drawnLine, m *assembly.Made, by r3.Vec) []r2.Vec { // on the side of the new blank
		f, g := assembly.SideFrame(l.side, m.Size), assembly.SideFrame(l.side, mb.Size)
		pts := make([]r2.Vec, len(l.pts))
		for i, q := range l.pts {
			at := f.Point(r3.Vec{X: q.X, Y: q.Y}).Add(by).Sub(g.O)
			pts[i] = r2.Vec{X: at.Dot(g.U), Y: at.Dot(g.V)}
		}
		return pts
	}
	for k := range fresh {
		pair[k] = -1
	}
	for _, exact := range []bool{true, false} { // the same line first, then the next of its kind
		for k, l := range fresh {
			for i, o := range old {
				if pair[k] < 0 && !used[i] && o.word == l.word && o.side == l.side &&
					(!exact || apart(place(o, ma, by), l.pts) <= tol.Touch) {
					pair[k], used[i] = i, true
				}
			}
		}
	}
	for k, l := range fresh {
		if pair[k] < 0 {
			add("line new", l, 0, "a new "+l.named())
			continue
		}
		o := old[pair[k]]
		d.lineChange(add, o, l, place(o, ma, by), p, mb, longer)
	}
	for i, o := range old {
		if !used[i] {
			add("line gone", o, 0, "the "+o.named()+" is no longer there")
		}
	}
	return append(out, flushes(was, now, when)...)
}

// lineChange says what is different of a line. pts is the old one, laid over the new.
func (d *differ) lineChange(add func(string, drawnLine, float64, string), o, l drawnLine, pts []r2.Vec, p *assembly.Piece, m *assembly.Made, longer r3.Vec) {
	if by := l.depth - o.depth; math.Abs(by) > tol.Touch {
		switch {
		case l.depth == 0:
			add("line depth", l, 0, "the "+l.named()+" now goes right through")
		case o.depth == 0:
			add("line depth", l, 0, "the "+l.named()+" is now "+d.len(l.depth)+" deep")
		case by > 0:
			add("line depth", l, by, "the "+l.named()+" "+d.len(by)+" deeper")
		default:
			add("line depth", l, by, "the "+l.named()+" "+d.len(-by)+" less deep")
		}
	}
	far := apart(pts, l.pts)
	if far <= tol.Touch {
		return
	}
	a, b := r2.Around(pts...), r2.Around(l.pts...)
	f := assembly.SideFrame(l.side, m.Size)
	if l.word == "outline" {
		if stretched(pts, l.pts, r2.Vec{X: math.Abs(f.U.Dot(longer)), Y: math.Abs(f.V.Dot(longer))}) {
			return // said already: it is longer
		}
		add("outline", l, far, "the "+l.named()+" differs by up to "+d.len(far)+rounder(o.radii, l.radii, d.len))
		return
	}
	mid := b.Min.Add(b.Max).Sub(a.Min).Sub(a.Max).Scale(0.5)
	size := b.Size().Sub(a.Size())
	moved := make([]r2.Vec, len(pts))
	for i, q := range pts {
		moved[i] = q.Add(mid)
	}
	if mid.Len() > tol.Touch && apart(moved, l.pts) <= tol.Touch {
		add("line moved", l, mid.Len(), "the "+l.named()+" moves "+d.way(p, f.Dir(r3.Vec{X: mid.X, Y: mid.Y})))
		return
	}
	var says []string
	for _, x := range []struct {
		by   float64
		word [2]string
	}{{size.X, [2]string{"longer", "shorter"}}, {size.Y, [2]string{"wider", "narrower"}}} {
		if x.by > tol.Touch {
			says = append(says, d.len(x.by)+" "+x.word[0])
		} else if x.by < -tol.Touch {
			says = append(says, d.len(-x.by)+" "+x.word[1])
		}
	}
	if len(says) == 0 {
		says = []string{"differs by up to " + d.len(far)}
	}
	add("line size", l, far, "the "+l.named()+" "+strings.Join(says, " and "))
}

// rounder says which corners are rounded by another radius, if that is all there is to an outline.
func rounder(was, now []float64, length func(float64) string) string {
	if len(was) != len(now) {
		return ""
	}
	var says []string
	for i := range now {
		if math.Abs(now[i]-was[i]) > tol.Touch {
			says = append(says, fmt.Sprintf("corner %d rounded by %s, was %s", i+1, length(now[i]), length(was[i])))
		}
	}
	if len(says) == 0 || len(says) > 2 {
		return ""
	}
	return " (" + strings.Join(says, ", ") + ")"
}

// stretched tells whether an outline is another only in that what is beyond some place is farther
// off, by as much as the piece is longer or wider.
func stretched(was, now []r2.Vec, by r2.Vec) bool {
	if len(was) != len(now) {
		return false
	}
	ok := func(x, by float64) bool { return x <= tol.Touch || math.Abs(x-by) <= tol.Touch }
	for i, p := range was {
		v := now[i].Sub(p)
		if !ok(math.Abs(v.X), by.X) || !ok(math.Abs(v.Y), by.Y) {
			return false
		}
	}
	return true
}

// apart is how far two closed lines are from each other where they are farthest (by corners).
func apart(a, b []r2.Vec) (far float64) {
	one := func(pts, line []r2.Vec) {
		for _, p := range pts {
			near := math.Inf(1)
			for i, q := range line {
				r := line[(i+1)%len(line)].Sub(q)
				t := 0.0
				if n := r.Dot(r); n > 0 {
					t = math.Max(0, math.Min(1, p.Sub(q).Dot(r)/n))
				}
				near = math.Min(near, p.Sub(q.Add(r.Scale(t))).Len())
			}
			far = math.Max(far, near)
		}
	}
	one(a, b)
	one(b, a)
	return far
}

// flushes says what is sanded flush otherwise.
func flushes(was, now []toy.Work, when string) (out []Change) {
	list := func(work []toy.Work) (out []fact) {
		for _, w := range work {
			if f, ok := w.(toy.Flush); ok {
				side := shop.SideWord(f.Side)
				out = append(out, fact{key: side, what: when + "sanded flush on the " + side})
			}
		}
		return out
	}
	return factChanges("flush", list(was), list(now), "%s%s", "no longer %s%s", "%s: %s, was: %s")
}
