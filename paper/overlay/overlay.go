// Package overlay draws the parts of a toy that changed from one edition to another: the old
// outline dashed, the new one solid over it, and the holes that changed in rings with numbers.
// Full size where a part fits the paper, else at a scale that is said. [Pages] is the whole of it.
package overlay

import (
	"fmt"
	"math"
	"strings"

	"dryfit/assembly"
	"dryfit/geom/r2"
	"dryfit/geom/r3"
	"dryfit/geom/tol"
	"dryfit/paper/draw"
	"dryfit/paper/layout"
	"dryfit/paper/pdf"
	"dryfit/prove/compare"
	"dryfit/shop"
	"dryfit/toy"
)

// Layers of the pages, beside those of paper/layout.
const (
	LayerOld   = "Old"
	LayerNew   = "New"
	LayerWords = "Words"
)

// Sizes on paper, mm.
const (
	between = 9.0 // two views
	ring    = 1.6 // that a ring stands off its hole
	digit   = 2.2 // capitals of its number
)

// scales are the reductions that a part is drawn at.
var scales = []float64{1, 2, 3, 4, 5, 6, 8, 10, 12, 15, 20}

// Title names the pages.
func Title(r *compare.Result) string { return r.Now + ": what changed" }

// drawing is one part that changed, with all pieces that did alike.
type drawing struct {
	p        *compare.Piece
	was, now *assembly.Piece
	count    int
}

// Pages draws the pieces of a comparison that changed. says tells of a piece, without its name,
// what has to be done.
func Pages(r *compare.Result, was, now *assembly.Model, says func(*compare.Piece) string, paper layout.Paper) ([]draw.Page, []pdf.Entry, error) {
	job := layout.Job{Title: Title(r)}
	list := drawings(r, was, now)
	blocks := []layout.Block{legend(len(list) > 0)}
	for _, d := range list {
		b, err := d.block(says(d.p), paper, job)
		if err != nil {
			return nil, nil, err
		}
		blocks = append(blocks, b)
	}
	res, err := layout.Pages(blocks, paper, job)
	if err != nil {
		return nil, nil, err
	}
	var entries []pdf.Entry
	for _, p := range res.Places {
		entries = append(entries, pdf.Entry{Title: blocks[p.Block].Title, Page: p.Page, Top: p.Cell.Max.Y})
	}
	return res.Pages, entries, nil
}

// drawings lists what is drawn: each solid that became another once.
func drawings(r *compare.Result, was, now *assembly.Model) (out []drawing) {
	seen := map[[2]*assembly.Made]int{}
	for i := range r.Pieces {
		p := &r.Pieces[i]
		if p.State != compare.Remake && p.State != compare.Cut || p.More+p.Less == 0 {
			continue
		}
		d := drawing{p, was.Pieces[p.PieceWas], now.Pieces[p.PieceNow], len(p.Now)}
		key := [2]*assembly.Made{d.was.Made, d.now.Made}
		if k, ok := seen[key]; ok {
			out[k].count += d.count
			continue
		}
		seen[key] = len(out)
		out = append(out, d)
	}
	return out
}

// block draws a part at the largest scale at which the paper has room for it.
func (d drawing) block(says string, paper layout.Paper, job layout.Job) (layout.Block, error) {
	var err error
	for _, scale := range scales {
		items, marks := d.draw(scale)
		box := draw.Bounds(items...)
		title := d.p.PartNow
		if d.count > 1 {
			title += fmt.Sprintf(" (%d)", d.count)
		}
		size := "Full size. "
		if scale > 1 {
			size = fmt.Sprintf("Scale 1:%g, not to cut by. ", scale)
		}
		b := layout.Block{ID: d.now.ID, Title: title, Note: says, Where: strings.TrimSpace(size + marks), Size: box.Size(), Turn: box.Size().X > turnFrom,
			Items: []draw.Item{draw.Group{Move: draw.Translate(box.Min.Neg()), Items: items}}}
		if _, err = layout.Pages([]layout.Block{b}, paper, job); err == nil {
			return b, nil
		}
	}
	return layout.Block{}, err
}

// turnFrom is the width, mm, from which a drawing may be turned, as of patterns.
const turnFrom = 130.0

// draw draws the views of a part in which something differs, one below the other, and says what
// the numbers of its holes mean.
func (d drawing) draw(scale float64) (items []draw.Item, says string) {
	low := 0.0
	numbers := make([]bool, len(d.p.Holes))
	views := d.views()
	for _, v := range views {
		own, box := d.view(v, scale, numbers)
		if len(items) > 0 {
			low -= box.Size().Y + between
		}
		items = append(items, draw.Group{Move: draw.Translate(r2.Vec{X: -box.Min.X, Y: low - box.Min.Y}), Items: own})
	}
	var lines []string
	for i, h := range d.p.Holes {
		if numbers[i] {
			lines = append(lines, fmt.Sprintf("%d: %s", i+1, h.Says))
		}
	}
	return items, strings.Join(lines, "; ")
}

// seenSide is a side with what is seen there of both.
type seenSide struct {
	side     toy.Side
	was, now []draw.Run
}

// views are the sides that show what differs: of the face, the edge and the end, and what is across
// where a hole that changed is drilled from there. If none does, the face.
func (d drawing) views() (out []seenSide) {
	sides := []toy.Side{toy.Top, toy.Right, toy.Front}
	if d.now.Part.Shape == toy.Rod || d.now.Part.Shape == toy.Sphere {
		sides = sides[:1]
	}
	for _, s := range sides {
		near, far := d.drilled(s)
		if v := d.seen(s); near || differ(v.was, v.now) {
			out = append(out, v)
		}
		if far {
			out = append(out, d.seen(s.Opposite()))
		}
	}
	if len(out) == 0 {
		out = append(out, d.seen(toy.Top))
	}
	return out
}

// drilled tells whether a hole that changed is drilled from a side, right through or from either, and
// whether one is that only shows on the side across.
func (d drawing) drilled(s toy.Side) (near, far bool) {
	f := assembly.SideFrame(s, d.now.Made.Size)
	for _, h := range d.p.Holes {
		for _, b := range []*assembly.Bore{h.Was, h.Now} {
			if b == nil || !along(b, f) {
				continue
			}
			if b.Blind && b.Dir.Dot(f.W) > 0 {
				far = true
			} else {
				near = true
			}
		}
	}
	return near, far
}

// along tells whether a hole runs more to a side than to any other.
func along(b *assembly.Bore, f r3.Pose) bool {
	most := math.Abs(b.Dir.Dot(f.W))
	return most > math.Abs(b.Dir.Dot(f.U)) && most >= math.Abs(b.Dir.Dot(f.V))
}

// differ tells whether two drawings differ, by the corners of their lines.
func differ(a, b []draw.Run) bool {
	return farther(a, b) || farther(b, a)
}

func farther(a, b []draw.Run) bool {
	var lines [][2]r2.Vec
	for _, r := range b {
		pts := r.Points()
		for i := range pts {
			if i+1 < len(pts) || r.Closed {
				lines = append(lines, [2]r2.Vec{pts[i], pts[(i+1)%len(pts)]})
			}
		}
	}
	for _, r := range a {
		pts := r.Points()
		for i, p := range pts {
			mid := p
			if i+1 < len(pts) {
				mid = p.Add(pts[i+1]).Scale(0.5)
			}
			if offLines(p, lines) > 2*tol.Touch || offLines(mid, lines) > 2*tol.Touch {
				return true
			}
		}
	}
	return false
}

func offLines(p r2.Vec, lines [][2]r2.Vec) float64 {
	near := math.Inf(1)
	for _, l := range lines {
		r := l[1].Sub(l[0])
		t := 0.0
		if n := r.Dot(r); n > 0 {
			t = math.Max(0, math.Min(1, p.Sub(l[0]).Dot(r)/n))
		}
		near = math.Min(near, p.Sub(l[0].Add(r.Scale(t))).Len())
	}
	return near
}

// sideWords is how a view is called.
func sideWords(p *assembly.Piece, s toy.Side) string {
	if p.Part.Shape != toy.Block {
		return ""
	}
	return strings.ToUpper(shop.SideWord(s))
}
