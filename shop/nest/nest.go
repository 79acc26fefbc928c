// Package nest lays flat pieces of any outline on boards of any outline: with the gap that
// a saw needs between them, turned only as the grain allows, clear of knots, inside each
// other's hollows. It is pure geometry: it knows neither wood nor toys nor paper.
//
// Whether a layout is allowed is asked in one place, Problem.Check, from the outlines
// alone. What finds layouts (Strip, Boards) never judges itself.
package nest

import (
	"context"
	"errors"
	"fmt"
	"math"
	"sync"

	"dryfit/geom/outline"
	"dryfit/geom/r2"
)

// A Shape is a simple polygon with holes. Either may run any way round.
type Shape struct {
	Outer []r2.Vec
	Holes [][]r2.Vec
}

// A Turn is one way in which a piece may lie: first mirrored left to right if Over, then
// turned by Angle, counter-clockwise, in radians.
type Turn struct {
	Angle float64
	Over  bool
}

// An Item is a kind of piece.
type Item struct {
	Name  string
	Shape Shape
	Turns []Turn // the ways in which it may lie; none: as it is drawn
	Count int
	Room  float64 // to keep around it beyond gap and rim: see Problem.gap
}

// A Board is what pieces are laid on.
type Board struct {
	Name  string
	Shape Shape
	Cost  float64 // what using it costs; the fewest costs are looked for
}

// A Problem is what is to be laid on what.
type Problem struct {
	Items  []Item
	Boards []Board
	Gap    float64 // between pieces: the kerf
	Rim    float64 // from the boards' edges
}

// gap is how far two items have to be apart: they share the room that each of them needs.
func (p *Problem) gap(a, b int) float64 {
	return p.Gap + (p.Items[a].Room+p.Items[b].Room)/2
}

// rim is how far an item has to be from the edge of a board.
func (p *Problem) rim(item int) float64 { return p.Rim + p.Items[item].Room }

// A Place is where one piece lies: its shape turned, then shifted by At.
type Place struct {
	Item, Board, Turn int
	At                r2.Vec
}

// A Layout is where pieces lie. Left counts the pieces of each item without a place.
type Layout struct {
	Places []Place
	Left   []int
}

// Effort is how long to search and with what luck: the same effort finds the same layout,
// on any machine, unless the context ends it.
type Effort struct {
	Seed   uint64
	Rounds int                   // 0: until the context ends
	Lines  int                   // of search along which a place was sought, at most, for Boards; 0: any number
	Hands  int                   // so many search side by side, each with its own luck; 0: one
	Found  func(Layout, float64) // called with each better layout and its value; may be nil
}

// found is what one hand has to show: less is better, what is left before what it costs.
type found struct {
	layout Layout
	left   int
	value  float64
}

func (f found) better(g found) bool {
	return f.left < g.left || f.left == g.left && f.value < g.value
}

// search lets all hands search, and returns the best that any has found, the first of equals.
// What is not allowed is dropped.
func (e Effort) search(check func(Layout, float64) error, hand func(seed uint64, tell func(found)) found) (found, error) {
	n := max(1, e.Hands)
	out, faults := make([]found, n), make([]error, n)
	told := found{left: -1}
	var one sync.Mutex
	var wait sync.WaitGroup
	for i := range n {
		out[i].left = -1
		keep := func(f found) bool {
			if err := check(f.layout, f.value); err != nil {
				faults[i] = err
				return false
			}
			if out[i].left < 0 || !out[i].better(f) {
				out[i] = f
			}
			return true
		}
		wait.Go(func() {
			keep(hand(e.Seed*handSeeds+uint64(i), func(f found) {
				if !keep(f) {
					return
				}
				one.Lock()
				defer one.Unlock()
				if told.left < 0 || f.better(told) {
					if told = f; e.Found != nil {
						e.Found(f.layout, f.value)
					}
				}
			}))
		})
	}
	wait.Wait()
	best := found{left: -1}
	for _, f := range out {
		if f.left >= 0 && (best.left < 0 || f.better(best)) {
			best = f
		}
	}
	if best.left < 0 {
		return best, fmt.Errorf("no layout that was found is allowed: %w", errors.Join(faults...))
	}
	return best, nil
}

// handSeeds keeps the seeds of hands apart.
const handSeeds = 1 << 16

// ends tells whether a search has to stop.
func (e Effort) ends(ctx context.Context, round int) bool {
	return ctx.Err() != nil || e.Rounds > 0 && round >= e.Rounds
}

// laid returns a shape as a turn lays it, before it is shifted.
func (s Shape) laid(t Turn) Shape {
	out := Shape{Outer: t.each(s.Outer)}
	for _, h := range s.Holes {
		out.Holes = append(out.Holes, t.each(h))
	}
	return out
}

func (t Turn) each(pts []r2.Vec) []r2.Vec {
	c, s := cosSin(t.Angle)
	out := make([]r2.Vec, len(pts))
	for i, p := range pts {
		if t.Over {
			p.X = -p.X
		}
		out[i] = r2.Vec{X: float64(c*p.X) - float64(s*p.Y), Y: float64(s*p.X) + float64(c*p.Y)}
	}
	return out
}

// Laid returns the outline of a piece in its place.
func (p *Problem) Laid(at Place) Shape {
	it := p.Items[at.Item]
	s := it.Shape
	if len(it.Turns) > 0 {
		s = s.laid(it.Turns[at.Turn])
	}
	return s.shifted(at.At)
}

func (s Shape) shifted(by r2.Vec) Shape {
	move := func(pts []r2.Vec) []r2.Vec {
		out := make([]r2.Vec, len(pts))
		for i, q := range pts {
			out[i] = q.Add(by)
		}
		return out
	}
	out := Shape{Outer: move(s.Outer)}
	for _, h := range s.Holes {
		out.Holes = append(out.Holes, move(h))
	}
	return out
}

// usable says what is wrong with a problem before any search.
func (p *Problem) usable() error {
	if len(p.Items) == 0 {
		return fmt.Errorf("there is nothing to lay")
	}
	for _, it := range p.Items {
		if it.Count < 0 {
			return fmt.Errorf("%s is wanted %d times", it.Name, it.Count)
		}
		if !(it.Room >= 0) {
			return fmt.Errorf("%s needs room of %g", it.Name, it.Room)
		}
	}
	if !(p.Gap >= 0) || !(p.Rim >= 0) {
		return fmt.Errorf("gap %g and rim %g are not both 0 or more", p.Gap, p.Rim)
	}
	return nil
}

// Area returns the area of a shape.
func (s Shape) Area() float64 {
	sum := math.Abs(outline.SignedArea(s.Outer))
	for _, h := range s.Holes {
		sum -= math.Abs(outline.SignedArea(h))
	}
	return sum
}
