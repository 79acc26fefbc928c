package nest

import (
	"fmt"
	"math"

	"dryfit/geom/outline"
	"dryfit/geom/r2"
)

// Check tells what is wrong with a layout, nil if nothing is: a piece in another or nearer to
// it than the gap, off its board or nearer to its edge than the rim, lying as it must not, or
// there more often than it is wanted. It goes by the outlines alone, and forgives near: what
// rounding can leave between two pieces that touch.
func (p *Problem) Check(l Layout, near float64) error {
	left := make([]int, len(p.Items))
	for i, it := range p.Items {
		left[i] = it.Count
	}
	laid := make([][][]r2.Vec, len(l.Places))
	boxes := make([]box, len(l.Places))
	for k, at := range l.Places {
		if at.Item < 0 || at.Item >= len(p.Items) || at.Board < 0 || at.Board >= len(p.Boards) {
			return fmt.Errorf("place %d: there is no item %d or no board %d", k+1, at.Item, at.Board)
		}
		if at.Turn < 0 || at.Turn >= max(1, len(p.Items[at.Item].Turns)) {
			return fmt.Errorf("place %d: %s must not lie so", k+1, p.Items[at.Item].Name)
		}
		left[at.Item]--
		s := p.Laid(at)
		parts, err := outline.ConvexParts(s.Outer, s.Holes)
		if err != nil {
			return fmt.Errorf("%s: %w", p.Items[at.Item].Name, err)
		}
		laid[k], boxes[k] = parts, boxOf(s.Outer)
	}
	for i, it := range p.Items {
		if left[i] < 0 {
			return fmt.Errorf("%s is laid %d times, and wanted %d times", it.Name, it.Count-left[i], it.Count)
		}
		if i < len(l.Left) && left[i] != l.Left[i] {
			return fmt.Errorf("%s: %d are said to be left, but %d are", it.Name, l.Left[i], left[i])
		}
	}
	off := make([][][]r2.Vec, len(p.Boards))
	for b := range p.Boards {
		var err error
		if off[b], err = p.Boards[b].outside(); err != nil {
			return fmt.Errorf("board %s: %w", p.Boards[b].Name, err)
		}
	}
	for k, at := range l.Places {
		name, board := p.Items[at.Item].Name, p.Boards[at.Board]
		b := boxOf(board.Shape.Outer)
		rim := p.rim(at.Item) - near
		if boxes[k].x0 < b.x0+rim || boxes[k].y0 < b.y0+rim || boxes[k].x1 > b.x1-rim || boxes[k].y1 > b.y1-rim {
			return fmt.Errorf("%s (place %d) is not on the board %s, or too near its edge", name, k+1, board.Name)
		}
		if d := apart(laid[k], off[at.Board]); d < rim {
			return fmt.Errorf("%s (place %d) is %.6g from the edge of the board %s or what is spared there, expected %.6g", name, k+1, d, board.Name, p.rim(at.Item))
		}
		for j := 0; j < k; j++ {
			gap := p.gap(at.Item, l.Places[j].Item)
			if l.Places[j].Board != at.Board || !boxes[k].grow(gap).meets(boxes[j]) {
				continue
			}
			if d := apart(laid[k], laid[j]); d < gap-near {
				return fmt.Errorf("%s (place %d) and %s (place %d) are %.6g apart on the board %s, expected %.6g", name, k+1, p.Items[l.Places[j].Item].Name, j+1, d, board.Name, gap)
			}
		}
	}
	return nil
}

func boxOf(pts []r2.Vec) box {
	b := noBox()
	for _, p := range pts {
		b = b.union(box{p.X, p.Y, p.X, p.Y})
	}
	return b
}

func (b box) grow(by float64) box { return box{b.x0 - by, b.y0 - by, b.x1 + by, b.y1 + by} }

func (b box) meets(c box) bool { return b.x0 <= c.x1 && c.x0 <= b.x1 && b.y0 <= c.y1 && c.y0 <= b.y1 }

// outside returns what of the surroundings of a board is not board, as convex parts; none
// for a plain rectangle, whose box says it all.
func (b Board) outside() ([][]r2.Vec, error) {
	s := b.Shape
	var out [][]r2.Vec
	in := boxOf(s.Outer)
	if whole := area(in); math.Abs(math.Abs(outline.SignedArea(s.Outer))-whole) > rectangular*whole {
		o := in.grow(float64(surround * math.Sqrt(whole)))
		ring := []r2.Vec{{X: o.x0, Y: o.y0}, {X: o.x1, Y: o.y0}, {X: o.x1, Y: o.y1}, {X: o.x0, Y: o.y1}}
		parts, err := outline.ConvexParts(ring, [][]r2.Vec{s.Outer})
		if err != nil {
			return nil, err
		}
		out = parts
	}
	for _, h := range s.Holes {
		parts, err := outline.ConvexParts(h, nil)
		if err != nil {
			return nil, err
		}
		out = append(out, parts...)
	}
	return out, nil
}

const (
	rectangular = 1e-9 // of its area: what a board may lack of its box and still be one
	surround    = 0.1  // of its size: how far around a board its outside is laid out
)

// apart returns the least distance between two sets of convex polygons; negative, how deep
// one is in the other.
func apart(a, b [][]r2.Vec) float64 {
	least := math.Inf(1)
	for _, p := range a {
		for _, q := range b {
			least = math.Min(least, convexApart(p, q))
		}
	}
	return least
}

// convexApart is the distance of two convex counter-clockwise polygons by the separating
// axis theorem, and where an axis separates them by their corners and sides.
func convexApart(p, q []r2.Vec) float64 {
	deep := math.Inf(-1)
	for _, pair := range [2][2][]r2.Vec{{p, q}, {q, p}} {
		for i, a := range pair[0] {
			n := pair[0][(i+1)%len(pair[0])].Sub(a).Perp().Neg().Unit()
			least := math.Inf(1)
			for _, v := range pair[1] {
				least = math.Min(least, n.Dot(v.Sub(a)))
			}
			deep = math.Max(deep, least)
		}
	}
	if deep <= 0 {
		return deep
	}
	least := math.Inf(1)
	for _, pair := range [2][2][]r2.Vec{{p, q}, {q, p}} {
		for i, a := range pair[0] {
			b := pair[0][(i+1)%len(pair[0])]
			for _, v := range pair[1] {
				least = math.Min(least, toSide(v, a, b))
			}
		}
	}
	return least
}

func toSide(v, a, b r2.Vec) float64 {
	d := b.Sub(a)
	t := math.Min(1, math.Max(0, v.Sub(a).Dot(d)/d.Dot(d)))
	return v.Sub(a.Add(d.Scale(t))).Len()
}
