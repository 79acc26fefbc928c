package prove

import (
	"fmt"

	"dryfit/assembly"
	"dryfit/geom/r3"
	"dryfit/geom/solid"
	"dryfit/measure/source"
	"dryfit/toy"
)

// bench is one thing on the bench with the work that is done on it: the blank of a part,
// or a glue-up.
type bench struct {
	name   string
	part   *toy.Part // nil for a glue-up
	again  bool      // the same part was on the bench before, and differs in what was done after
	pieces []int     // of one such thing
	work   []toy.Work
	frame  r3.Pose // of the blank that the work is drawn on, in the world
	size   r3.Vec  // of that blank
	reach  r3.Box  // all the wood before the work, in the frame
	wood   solid.Body
	holes  []drilled
}

// drilled is one hole that the work on the bench makes.
type drilled struct {
	work    int // index of the work; -1: the bore of a disc
	spec    *toy.Drill
	counter bool
	name    string
	bore    assembly.Bore   // in the world
	in      []assembly.Hole // the same hole in each piece
	rods    []int           // pieces in it
}

// benches lists what comes on the bench: each part once for every way in which it was
// worked on, each glue-up once, in the order of the pieces.
func (c *cutting) benches() []*bench {
	var out []*bench
	parts := map[*toy.Part]bool{}
	made := map[*assembly.Made]bool{}
	for i, p := range c.m.Pieces {
		if made[p.Made] && parts[p.Part] {
			continue
		}
		b := &bench{name: p.Part.Name, part: p.Part, again: parts[p.Part], pieces: []int{i}, work: p.Part.Work, frame: p.Pose, size: p.Made.Size, reach: r3.Box{Max: p.Made.Size}}
		made[p.Made], parts[p.Part] = true, true
		c.fill(b)
		out = append(out, b)
	}
	specs := map[*toy.GlueUp]bool{}
	for _, g := range c.m.GlueUps {
		if specs[g.Spec] || len(g.Spec.Work) == 0 {
			continue
		}
		specs[g.Spec] = true
		first := c.m.Pieces[g.Pieces[0]]
		b := &bench{name: g.Spec.Name, pieces: g.Pieces, work: g.Spec.Work, frame: first.Pose, size: first.Made.Size, reach: c.m.Reach(g)}
		c.fill(b)
		out = append(out, b)
	}
	return out
}

// ownHoles is how many holes the work on a part itself makes.
func ownHoles(p *toy.Part) int {
	n := 0
	if p.Bore > 0 {
		n++
	}
	return n + drillCount(p.Work)
}

func drillCount(work []toy.Work) (n int) {
	for _, w := range work {
		if d, ok := w.(toy.Drill); ok {
			n += len(d.Holes)
			if d.CounterDia > 0 {
				n += len(d.Holes)
			}
		}
	}
	return n
}

// fill finds the wood of a bench and its holes.
func (c *cutting) fill(b *bench) {
	b.wood = c.m.Pieces[b.pieces[0]].Body
	for _, i := range b.pieces[1:] {
		b.wood = b.wood.Union(c.m.Pieces[i].Body)
	}
	rods := map[assembly.Hole][]int{}
	for _, f := range c.m.Fits {
		h := assembly.Hole{Piece: f.Piece, Bore: f.Bore}
		rods[h] = append(rods[h], f.Rod)
	}
	n := 0 // of the holes of this work
	hole := func(work int, spec *toy.Drill, counter bool) {
		h := drilled{work: work, spec: spec, counter: counter}
		for _, i := range b.pieces {
			k := n
			if b.part == nil {
				k += ownHoles(c.m.Pieces[i].Part)
			}
			at := assembly.Hole{Piece: i, Bore: k}
			h.in, h.rods = append(h.in, at), append(h.rods, rods[at]...)
		}
		p := c.m.Pieces[h.in[0].Piece]
		h.bore = p.Bore(h.in[0].Bore)
		h.name = b.name + "/" + h.bore.Name
		n++
		b.holes = append(b.holes, h)
	}
	if b.part != nil && b.part.Bore > 0 {
		hole(-1, nil, false)
	}
	for k, w := range b.work {
		if d, ok := w.(toy.Drill); ok {
			for range d.Holes {
				hole(k, &d, false)
				if d.CounterDia > 0 {
					hole(k, &d, true)
				}
			}
		}
	}
}

// place says where something on the bench is.
func (c *cutting) at(b *bench, feature string, at r3.Vec, from source.Range) Place {
	p := c.place(b.pieces[0], feature, at, from)
	if b.part == nil {
		p.Piece = c.m.Pieces[b.pieces[0]].GlueUp
	}
	return p
}

// about names work on the bench: "frame/work.2".
func (b *bench) about(work int) string { return fmt.Sprintf("%s/work.%d", b.name, work+1) }

// through returns how much wood, uncut, lies under a side.
func (b *bench) through(s toy.Side) float64 {
	return assembly.SideFrame(s, b.size).Inverse().Box(b.reach).Size().Z
}
